#ifndef OUTLAY_PORTFOLIO_GROUPS_H
#define OUTLAY_PORTFOLIO_GROUPS_H

/**
 * @file portfolio/groups.h
 * The roofs of a portfolio by district or square: how many, how much area, how exposed.
 *
 *     status = groups_new(&settings, &groups, err);
 *     for each building: status = groups_add(groups, building, err);
 *     status = groups_settle(groups, &ranking, step, err);
 *     ... groups_count(), groups_at() ...
 *     groups_free(groups);
 *
 * Every roof is in one group. Demand over capacity and uplift are measures that can't be
 * added up, so each number of a group is of one of them alone. The groups and their order
 * don't depend on the order of the roofs.
 *
 * Memory: by column or square 4 bytes a roof, fitted 8, and what the groups take.
 * Threads: one at a time.
 */

#include "geo/squares.h"
#include "portfolio/rank.h"

enum groups_by {
    GROUPS_BY_COLUMN, /**< roof.group */
    GROUPS_BY_SQUARE, /**< geo/squares.h */
    GROUPS_FITTED     /**< squares, the smallest of which there are at most `most` */
};

struct groups_settings {
    enum groups_by by;
    double side; /**< of squares, m; of fitted ones a tenth of it, or 1, 2, 5, 10, ...
                      times as much */
    size_t most;
};

/** Worst roofs of a group that are kept. */
enum { GROUP_WORST = 3 };

/** RANK_RATED and RANK_EXPOSED, the groups of the ranking that have scores. */
enum { GROUP_MEASURES = (int)RANK_UNKNOWN };

/** What one measure says of a group. */
struct group_measure {
    uint64_t scores;             /**< their sum, thousandths */
    uint32_t count;              /**< roofs that it ranks */
    uint32_t above;              /**< with the threshold's score or more */
    uint32_t worst[GROUP_WORST]; /**< rows of the ranking, the first ranks highest; of
                                      fewer roofs, fewer */
};

struct group {
    const char *name;     /**< "29722-22341" of a square; NULL: not given, no outline */
    struct square square; /**< in squares */
    double area;          /**< m2, a sum of areas as they are printed */
    uint32_t roofs, apart, unknown;
    struct group_measure measures[GROUP_MEASURES];
};

struct groups;

/** @param[out] out  owned @return OUTLAY_E_MEMORY */
enum outlay_status groups_new(const struct groups_settings *settings, struct groups **out,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** NULL is ignored. */
void groups_free(struct groups *groups);

/** Takes up a building's roofs, in the portfolio's order. @return OUTLAY_E_MEMORY */
enum outlay_status groups_add(struct groups *groups, const struct building *building,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Sums up, once all roofs are in and ranked.
 * @param step  m2: what areas are rounded to before they are added up, so that sums are
 *              those of a printed list
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status groups_settle(struct groups *groups, const struct ranking *ranking,
                                 double step, struct outlay_error *err) OUTLAY_MUST_CHECK;

size_t groups_count(const struct groups *groups);

/** By name; squares from the north, then from the west; last what has no name. */
const struct group *groups_at(const struct groups *groups, size_t index);

/**
 * The square, or the convex hull of the outlines, degrees; of this, longitudes may exceed
 * 180. Borrowed, from `corners` too.
 * @return without points: there is none
 */
struct ring groups_shape(const struct groups *groups, size_t index,
                         struct point corners[4]);

/** The group of a roof of the portfolio. */
size_t groups_of(const struct groups *groups, size_t roof);

/** Side of the squares, m; 0 by column. */
double groups_side(const struct groups *groups);

/**
 * The score from which on a ranked roof counts as `above`, in thousandths: the least of
 * the first fifth by that measure (ours). 0 where it ranks none.
 */
uint32_t groups_threshold(const struct groups *groups, int measure);

#endif
