#ifndef OUTLAY_PORTFOLIO_PLAN_H
#define OUTLAY_PORTFOLIO_PLAN_H

/**
 * @file portfolio/plan.h
 * What is done to which roof, in which year, under a cap each year, at least present
 * cost.
 *
 * Work on a building in a year is a visit (price/visit.h): it pays in full what a visit
 * costs once. Year k counts from the first year of the plan, which prices and conditions
 * are of; T is the number of years. With g = (1 + escalation) / (1 + discount) and C what
 * the roof's own work (replace or recover) costs alone, without what a visit costs once:
 *
 *     a visit in year k    its cost x g^k; x (1 + escalation)^k out of that year's cap
 *     waiting              C g^j x rate x consequence, summed over all years j < T;
 *                          rate = waiting x ((100 - condition in year j) / 100)^2
 *     consequence          1 + weight x (category - 2), at least 0: the risk category or
 *                          what the use counts like, whichever is more; not given: 2
 *     expected wind loss   weight x C g^j x max(0, demand / capacity - 1), over the years
 *                          in which the present roof is there; 0 where no rating is known
 *     residual value       - C g^T x (years left at the horizon) / (service life)
 *     a change             a share of C where year or action aren't the adopted ones
 *
 * Years left: service life less age on the curve, 0 when past it. An action that gives a
 * condition puts the roof at the age that has it, one that gives years takes them off its
 * age (not below 0); its service life is the action's, else the setting. Life is counted
 * in the longer of that and the setting. All weights, the form of waiting and the values
 * of life are ours; 0 turns each off.
 *
 * Offered are the actions whose limits hold (catalog/actions.h): the state is that of the
 * new attachment for replace and recover, that of the present roof's rating for the rest.
 *
 * The facility condition index is the published one: cost of what is due and not done,
 * over replacement value, both at prices of the same year (National Research Council,
 * "Committing to the Cost of Ownership" (1990); $100,000 on $1,000,000 is 0.10). Due is
 * a roof whose condition is 40 or less (ours).
 *
 * Results depend neither on input order nor, but for PROGRAM_TIME, on the machine.
 * Threads: any.
 */

#include "base/text.h"
#include "catalog/actions.h"
#include "portfolio/condition.h"
#include "portfolio/portfolio.h"
#include "portfolio/program.h"
#include "price/visit.h"

#define PLAN_YEARS_MAX PROGRAM_YEARS_MAX

struct budget_settings {
    int start;                   /**< first year; MISSING */
    int years;                   /**< 1 to PLAN_YEARS_MAX */
    const char *cap;             /**< money, or a list, as given; NULL: no plan */
    double waiting;              /**< percent of C a year at condition 0 */
    double consequence;          /**< share more for each risk category above II */
    double wind;                 /**< weight of the expected wind loss */
    double escalation, discount; /**< percent a year */
    struct condition_curve curve;
    double life_spread;    /**< percent that lives may be shorter or longer; scenarios */
    bool together;         /**< at most one visit a building */
    const char *adopted;   /**< path of an earlier plan.csv; NULL */
    double change;         /**< percent of C that a change of it costs */
    double target_index;   /**< facility condition index to reach; NAN: none */
    double target_backlog; /**< money; NAN: none */
    int target_year;       /**< by its end; MISSING: the last */
    double gap;            /**< percent of present cost */
    int steps;             /**< of the search, millions */
    double seconds;        /**< of processor time for one search */
    struct action_list actions; /**< borrowed */
    struct visit_prices prices; /**< of what isn't the roofs' own */
    money caps[PLAN_YEARS_MAX]; /**< by budget_settings_read() */
};

/** 5 years, 3 % and 3 %, life 20 years, shape 2.5, waiting 12 %, consequence 0.25, no
 *  wind loss, change 2 %, spread 20 %. */
struct budget_settings budget_defaults(void);

/** Reads cap. @return OUTLAY_E_USAGE, also where start is missing */
enum outlay_status budget_settings_read(struct budget_settings *settings,
                                        struct outlay_error *err) OUTLAY_MUST_CHECK;

/* Why a roof stands where it does: code, words. */
#define PLAN_REASON_MAP(X)                                                          \
    X(CHOSEN, "least present cost within the caps")                                 \
    X(FIXED, "fixed year")                                                          \
    X(LATEST, "no later year is allowed")                                           \
    X(LATER, "not in the plan: the caps hold what gains more")                      \
    X(GAP, "not in the plan: what it gains is within the gap of the search")        \
    X(DEAR, "not in the plan: dearer than the cap of every year it may be in")      \
    X(IDLE, "not in the plan: doing it costs more than waiting")                    \
    X(APART, "not in the plan: the year of its building's visit doesn't suit it")   \
    X(OUTSIDE, "not in the plan: its earliest or fixed year")                       \
    X(UNHELD, "not in the plan: no action whose attachment holds is known for it")  \
    X(UNFIT, "not in the plan: no action is for its condition, covers or moisture") \
    X(UNPRICED, "not in the plan: no layout, so no cost")

enum plan_reason {
#define X(code, words) PLAN_##code,
    PLAN_REASON_MAP(X)
#undef X
        PLAN_REASONS
};

/** NULL past the end. */
const char *plan_reason_words(int reason);

/** What is to be said of a roof that is parted; static storage. */
const char *plan_parted_words(void);

enum plan_age { AGE_FROM_CONDITION, AGE_FROM_YEAR, AGE_ASSUMED };

/** "given", "from age", "assumed": where the condition comes from. */
const char *plan_age_name(int age);

/** What one choice counts beside its visit; hundredths at present cost. */
struct plan_sums {
    money waiting, wind, residual, change;
};

struct plan_roof {
    const struct portfolio_roof *roof;
    const struct portfolio_money *money;
    int year;                    /**< of the calendar; MISSING: not within the plan */
    const struct action *action; /**< NULL without a year */
    money own;                   /**< C */
    money cost;                  /**< its share of the visit at today's prices; 0 */
    money nominal, present;      /**< the same in that year's money, and at present */
    struct plan_sums sums;
    double condition; /**< at the start */
    double age;       /**< that the curve gives this condition, years */
    enum plan_age basis;
    enum plan_reason reason;
    int adopted;                         /**< year of the adopted plan; MISSING: none */
    const struct action *adopted_action; /**< NULL: none, or one that is no more */
    bool was_adopted;                    /**< the adopted plan has the roof */
    bool parted; /**< has a year, and what is laid out as one with it has another or none:
                          no joint between them is counted */
    int soonest, last; /**< years that shorter and longer lives give, MISSING: none */
};

struct plan_visit {
    const char *building; /**< "": a roof that is a building of its own */
    int year;
    size_t first, roofs; /**< of plan.roofs, which stand together */
    money work, fixed;   /**< in that year's money */
};

/** What one year leaves behind. */
struct plan_year {
    size_t roofs, visits;
    money cost, cap;
    double area;           /**< of roofs done, m2 */
    double condition_area; /**< area x condition / 100 of all roofs at its end, m2 */
    double condition;      /**< their mean by area; NAN */
    money backlog;         /**< of roofs due and not done, in that year's money */
    double index;   /**< facility condition index; NAN without replacement values */
    double retired; /**< strength-level uplift force on roofs replaced, N */
};

/** One way through the years. */
struct plan_course {
    struct plan_year years[PLAN_YEARS_MAX];
    size_t roofs, visits;
    money cost, cap;          /**< nominal */
    money present;            /**< of visits */
    struct plan_sums sums;    /**< of all priced roofs */
    enum program_state state; /**< of the search */
    double gap;               /**< share that it may be above the least; NAN: no search */
    size_t late;              /**< roofs that had to be done and aren't */
    size_t over;              /**< years over their cap */
    size_t unkept; /**< roofs of the adopted plan that can't be done as it has */
    bool possible; /**< keeps caps, windows and --together */
};

struct plan_scenario {
    const char *name; /**< in the plan's arena */
    bool solved;      /**< false: nothing keeps the caps */
    struct plan_course course;
};

enum { PLAN_SCENARIOS = 12 };

struct plan {
    struct budget_settings settings;
    struct plan_roof *roofs; /**< by year, building, then portfolio_compare() */
    size_t count;
    size_t priced, unpriced;   /**< with, without a cost */
    size_t assumed;            /**< priced roofs whose condition is assumed */
    size_t valued;             /**< priced roofs with a replacement value */
    size_t gone;               /**< roofs of the adopted plan that are no more */
    struct plan_visit *visits; /**< by year, then building */
    size_t visit_count;
    struct plan_course best, worst_first, nothing;
    struct plan_course adopted; /**< of no meaning without settings.adopted */
    struct plan_scenario scenarios[PLAN_SCENARIOS];
    size_t scenario_count; /**< 0 until plan_scenarios() */
    struct arena *arena;   /**< owned */
};

/** Asked often during a search, which ends when it says so. */
struct plan_stop {
    bool (*asked)(const void *context); /**< NULL: never */
    const void *context;
};

/**
 * @param[out] out  owned, plan_free(); borrows the portfolio, which needs money
 * @return OUTLAY_E_INPUT where a roof's or building's years contradict each other,
 *         OUTLAY_E_LIMIT where what must be done doesn't fit the caps (which year, by how
 *         much) or has no action; OUTLAY_E_USAGE for an adopted plan that can't be read,
 *         OUTLAY_E_INTERRUPTED, OUTLAY_E_MEMORY
 */
enum outlay_status plan_make(const struct portfolio *portfolio,
                             const struct budget_settings *settings,
                             const struct plan_stop *stop, struct plan **out,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Adds other caps and lives, a year's delay, and the least constant cap that reaches the
 *  target. @return as plan_make() */
enum outlay_status plan_scenarios(struct plan *plan, const struct portfolio *portfolio,
                                  const struct plan_stop *stop,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** NULL is ignored. */
void plan_free(struct plan *plan);

/** Visits and all that counts beside them. */
money plan_total(const struct plan_course *course);

/** What a cost becomes in year k, in that year's money. */
money plan_nominal(const struct budget_settings *settings, money cost, int k);

/** Factors of year k: to that year's money, and to present cost. */
double plan_escalated(const struct budget_settings *settings, int k);
double plan_discounted(const struct budget_settings *settings, int k);

/** Share of C that a year at that condition costs, before the consequence. */
double plan_rate(const struct budget_settings *settings, double condition);

/** The factor that its consequence makes of a roof's waiting cost. */
double plan_consequence(const struct budget_settings *settings,
                        const struct portfolio_roof *roof);

#endif
