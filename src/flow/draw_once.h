#ifndef OUTLAY_FLOW_DRAW_ONCE_H
#define OUTLAY_FLOW_DRAW_ONCE_H

/**
 * @file flow/draw_once.h
 * A building with other inputs: zones, uplift, attachment by area, cost and score of its
 * roofs where each input is moved by some deviate of its spread.
 *
 * Attachment is worked out anew for each, as for a roof with such inputs. Cost is that
 * of the roof's own method: what fasteners cost goes with their number by area,
 * mobilisation stays, all else goes with the area; then all of it with prices. A trace
 * that is moved in or out changes the innermost zone, by the length of the free edges
 * times the move, since strips along edges keep their area to first order; what that
 * zone can't lose, the next one outward does.
 *
 * Threads: one at a time.
 */

#include "flow/draw_zones.h"

/** Where the deviates are from. */
struct draw_source {
    uint64_t draw;  /**< number of the draw, for all inputs but one */
    int input;      /**< that one; -1: none */
    uint64_t other; /**< its own number */
    double alone;   /**< NAN; else the probability at which that input stands, while
                            all others are in the middle */
};

/** What a roof comes to. */
struct drawn {
    double height;    /**< of its level, m */
    double area;      /**< m2, as the zones' */
    double force;     /**< of the strength-level uplift, N; NAN */
    double fasteners; /**< by area */
    double cost;      /**< hundredths; NAN */
    double zone_area[ZONE_ROLES];
    double uplift[ZONE_ROLES]; /**< strength level, Pa; NAN: unknown, or no such zone */
    double zone_fasteners[ZONE_ROLES];
    enum zone_state states[ZONE_ROLES];
    uint32_t score; /**< thousandths, 1 more; 0: not ranked */
};

struct draw_building {
    const struct building *building;
    const struct settings *settings;
    double (*of)[SPREAD_INPUTS]; /**< spreads of each roof; in the arena, as the next */
    struct drawn *plain;         /**< what each comes to with its inputs as given */
    struct draw_zones *zones;
    /* the rest is of draw_once.c alone */
    struct uplift_settings uplift;
    struct attach_settings attach;
    struct arena *scratch; /**< owned; of one draw */
    struct building copy;
    uint64_t (*keys)[SPREAD_INPUTS];
    double *reach, *moved;
    struct cost_shares *shares;
};

/**
 * Makes ready. Borrows building and settings until the close.
 * @param arena  gets what is kept
 * @return OUTLAY_E_MEMORY; close also then
 */
enum outlay_status draw_building_open(struct draw_building *out,
                                      const struct building *building,
                                      const struct settings *settings,
                                      struct geo_ctx *ctx, struct arena *arena,
                                      struct outlay_error *err) OUTLAY_MUST_CHECK;

void draw_building_close(struct draw_building *drawing);

/** Works a source out. @param[out] out  of each roof; of those that aren't zoned, nothing
 *  known */
enum outlay_status draw_once(struct draw_building *drawing,
                             const struct draw_source *source, struct drawn *out,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
