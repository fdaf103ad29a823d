#ifndef OUTLAY_RESULTS_DECISIONS_H
#define OUTLAY_RESULTS_DECISIONS_H

/**
 * @file results/decisions.h
 * What is decided over all roofs at once: the ranking and the plan. Roofs are added in
 * output order by the thread that puts batches down, the rest follows when all are there.
 *
 * Threads: one at a time.
 */

#include "options/settings.h"
#include "outlay/status.h"
#include "portfolio/plan.h"
#include "portfolio/rank.h"
#include "write/output.h"
#include "write/shown.h"

/* The parts that are made here. */
#define PARTS_PLANNED (1u << PART_BUDGET | 1u << PART_PLAN)
#define PARTS_DECIDED (1u << PART_RANKING | PARTS_PLANNED)

/* Those, and what shows them. */
#define PARTS_RANKED (1u << PART_RANKING | 1u << PART_PAGE | 1u << PART_WORKBOOK)
#define PARTS_DECIDING (PARTS_DECIDED | PARTS_RANKED)

struct decisions;

/**
 * @param parts     bits 1u << PART_... that are wanted; others than ours are ignored
 * @param settings  borrowed
 * @param[out] out  owned; NULL when neither our parts nor what shows them are wanted
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status decisions_new(const struct settings *settings, unsigned parts,
                                 struct decisions **out,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** NULL is ignored. */
void decisions_free(struct decisions *decisions);

/** Takes what is needed of a building. @return OUTLAY_E_MEMORY */
enum outlay_status decisions_add(struct decisions *decisions,
                                 const struct building *building,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** How the i-th of the roofs that were added ranks. */
struct shown_merit decisions_merit(const struct decisions *decisions, size_t i);

/** Number of roofs that were added. */
size_t decisions_count(const struct decisions *decisions);

/** Decides, once all roofs were added. @return as plan_make() */
enum outlay_status decisions_make(struct decisions *decisions,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Writes the whole table of one of our parts, header included. */
enum outlay_status decisions_write(const struct decisions *decisions, int part,
                                   struct output *output,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The roofs added so far. Borrowed. */
const struct portfolio *decisions_portfolio(const struct decisions *decisions);

/** NULL while not made or not wanted; decisions too may be NULL. Borrowed. */
const struct ranking *decisions_ranking(const struct decisions *decisions);
const struct plan *decisions_plan(const struct decisions *decisions);

#endif
