#ifndef OUTLAY_PORTFOLIO_PLAN_PRIVATE_H
#define OUTLAY_PORTFOLIO_PLAN_PRIVATE_H

/* What the files of the plan share. */

#include "portfolio/plan.h"

/** What an option of the program is. */
struct plan_option {
    const struct action *action;
    const struct quote *quote;
};

/** The program of a plan, in its arena. Roof i is plan->roofs[i] while that is in the
 *  order of plan_order(): buildings together, within them as roofs pay. */
struct plan_model {
    struct program program;
    struct plan *plan;
    struct plan_option *options; /**< of all roofs, in their order */
    size_t *first;               /**< of each roof's options */
    const struct program_roof *roofs;
    const struct program_building *buildings;
    size_t *building; /**< of each roof */
    double nominal[PLAN_YEARS_MAX], present[PLAN_YEARS_MAX];
};

/** A roof on its way through the years: what of it is there in year k. */
struct plan_state {
    double age, life; /**< in that year, years */
};

/** Years from 0 that a roof's own years allow; last before first: not within the plan. */
struct plan_window {
    int first, last;
    bool must;
};

struct plan_window plan_window_of(const struct budget_settings *settings,
                                  const struct portfolio_money *of);

/** @return OUTLAY_E_INPUT where the roof's years contradict each other */
enum outlay_status plan_check_years(const struct plan *plan, const struct plan_roof *of,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The roof in year k. @param action  done in year `done`; NULL: nothing is */
struct plan_state plan_state_at(const struct budget_settings *settings,
                                const struct plan_roof *of, const struct action *action,
                                int done, int k);

double plan_condition(const struct budget_settings *settings,
                      const struct plan_state *state);

/** All that a choice counts beside its visit. */
struct plan_sums plan_sums_of(const struct budget_settings *settings,
                              const struct plan_roof *of, const struct action *action,
                              int done);

/** Fills in the roofs, in the order of plan_order(). @return false when out of memory */
bool plan_gather(struct plan *plan, const struct portfolio *portfolio);

/* Sets plan_roof.parted by the years of the roofs. @return false: out of memory */
bool plan_part_sections(struct plan *plan);

/** Sorts priced roofs to the front, buildings together, within them as roofs pay. */
void plan_order(struct plan *plan);

/** Reads the adopted plan into the roofs. @return OUTLAY_E_USAGE, OUTLAY_E_MEMORY */
enum outlay_status plan_adopt(struct plan *plan,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Roofs by their place in the portfolio, which all plans of it share; in the plan's
 *  arena. NULL when out of memory. */
struct plan_roof **plan_places(struct plan *plan);

/** As plan_make(), with what another plan of the portfolio has read of the adopted one.
 *  @param from  NULL: there is none, so that is read */
enum outlay_status plan_make_like(const struct portfolio *portfolio,
                                  const struct budget_settings *settings,
                                  struct plan *from, const struct plan_stop *stop,
                                  struct plan **out,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** @return OUTLAY_E_LIMIT where a roof that must be done has no action,
 *          OUTLAY_E_INPUT, OUTLAY_E_MEMORY */
enum outlay_status plan_model_make(struct plan *plan, struct plan_model *out,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The visit that a building's picks of year k make. */
struct plan_trip {
    const struct plan_model *model;
    size_t building;
    const struct program_pick *picks; /**< of the building */
    int year;
};

struct visit plan_visit_of(const struct plan_trip *trip);

/** Year by year what must be done now, then the worst that still fits: the first action
 *  of the table that is allowed. @return false when out of memory */
bool plan_worst_first(const struct plan_model *model, struct program_pick *picks);

/** Nothing; and what was adopted. @return roofs that can't be done as it has them */
void plan_do_nothing(const struct plan_model *model, struct program_pick *picks);
size_t plan_keep_adopted(const struct plan_model *model, struct program_pick *picks);

/** What comes of picks. */
void plan_follow(const struct plan_model *model, const struct program_pick *picks,
                 struct plan_course *out);

#endif
