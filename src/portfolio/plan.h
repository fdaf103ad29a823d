#ifndef OUTLAY_PORTFOLIO_PLAN_H
#define OUTLAY_PORTFOLIO_PLAN_H

/**
 * @file portfolio/plan.h
 * Which roof is done in which year, under a cap each year, at least present cost.
 *
 * Year k counts from the first year of the plan, which prices and conditions are of.
 * With g = (1 + escalation) / (1 + discount) and C the cost today:
 *
 *     work in year k     C g^k, and C (1 + escalation)^k out of the cap of that year
 *     waiting until k    C g^j rate(condition in year j), summed over the years j < k
 *     not in the plan    as if done in the first year after it
 *
 * A roof in good condition isn't done: it may be from the first year on in which its
 * condition is below a limit, 60 (ours: between the bands of a trade journal, maintenance
 * from 70 up and replacement from 30 down), or by a fixed or latest year of its own.
 * Roofs kept together go with the first of them; those that are good all through the
 * plan stay.
 *
 * rate is a share of C a year by band of condition (portfolio/condition.h): repairs, and
 * wet insulation that spreads. It grows as the condition falls. The default rates are
 * invented.
 *
 * The facility condition index is the published one: cost of what is due and not done,
 * over replacement value, both at prices of the same year (National Research Council,
 * "Committing to the Cost of Ownership" (1990); $100,000 on $1,000,000 is 0.10). Due is
 * a roof whose condition is 40 or less (ours).
 *
 * Results depend neither on input order nor, but for CHOICE_TIME, on the machine.
 * Threads: any.
 */

#include "base/text.h"
#include "portfolio/choice.h"
#include "portfolio/condition.h"
#include "portfolio/portfolio.h"

#define PLAN_YEARS_MAX 50

struct budget_settings {
    int start;                   /**< first year; MISSING */
    int years;                   /**< 1 to PLAN_YEARS_MAX */
    const char *cap;             /**< money, or a list, as given; NULL: no plan */
    const char *waiting;         /**< percent of cost a year, a list by band */
    double escalation, discount; /**< percent a year */
    struct condition_curve curve;
    bool together;                 /**< a building's roofs in one year */
    double good;                   /**< condition from which on a roof stays as it is */
    double gap;                    /**< percent of present cost */
    int nodes;                     /**< of the search */
    double seconds;                /**< of processor time for one search */
    money caps[PLAN_YEARS_MAX];    /**< by budget_settings_read(), as the next */
    double rates[CONDITION_BANDS]; /**< shares a year */
};

/** 5 years, 3 % and 3 %, life 20 years, shape 2.5, good from 60 on, waiting 0.5, 2, 5 and
 *  10 %. */
struct budget_settings budget_defaults(void);

/** Reads cap and waiting. @return OUTLAY_E_USAGE, also where start is missing */
enum outlay_status budget_settings_read(struct budget_settings *settings,
                                        struct outlay_error *err) OUTLAY_MUST_CHECK;

/* Why a roof stands where it does: code, words. */
#define PLAN_REASON_MAP(X)                                                    \
    X(CHOSEN, "least present cost within the caps")                           \
    X(FIXED, "fixed year")                                                    \
    X(LATEST, "no later year is allowed")                                     \
    X(LATER, "after the plan: the caps hold what gains more")                 \
    X(DEAR, "after the plan: dearer than the cap of every year it may be in") \
    X(IDLE, "after the plan: waiting costs less")                             \
    X(OUTSIDE, "after the plan: its earliest or fixed year")                  \
    X(GOOD, "after the plan: its condition stays good")                       \
    X(UNPRICED, "not in the plan: no layout, so no cost")

enum plan_reason {
#define X(code, words) PLAN_##code,
    PLAN_REASON_MAP(X)
#undef X
        PLAN_REASONS
};

/** NULL past the end. */
const char *plan_reason_words(int reason);

enum plan_age { AGE_FROM_CONDITION, AGE_FROM_YEAR, AGE_ASSUMED };

/** "given", "from age", "assumed": where the condition comes from. */
const char *plan_age_name(int age);

struct plan_roof {
    const struct portfolio_roof *roof;
    const struct portfolio_money *money;
    int year;         /**< of the calendar; MISSING: not within the plan */
    money nominal;    /**< in that year's money; 0 without a year */
    money present;    /**< of the work, also of that after the plan */
    money waiting;    /**< present cost of waiting */
    double condition; /**< at the start */
    double age;       /**< that the curve gives this condition, years */
    enum plan_age basis;
    enum plan_reason reason;
    int worn;    /**< first year, from 0, that finds it below the limit */
    bool stays;  /**< good all through, and no year of its own: isn't done */
    size_t unit; /**< of the program; only of priced roofs */
};

/** What one year leaves behind. */
struct plan_year {
    size_t roofs;
    money cost, cap;
    double area;           /**< of roofs done, m2 */
    double condition_area; /**< area x condition / 100 of all roofs at its end, m2 */
    double condition;      /**< their mean by area; NAN */
    money backlog;         /**< of roofs due and not done, in that year's money */
    double index;   /**< facility condition index; NAN without replacement values */
    double retired; /**< strength-level uplift force on roofs done, N */
};

/** One way through the years. */
struct plan_course {
    struct plan_year years[PLAN_YEARS_MAX];
    size_t roofs;
    money cost, cap;         /**< nominal */
    money present, waiting;  /**< of all priced roofs, those after the plan included */
    enum choice_state state; /**< of the search */
    double gap;              /**< share that it may be above the least; NAN: no search */
    size_t late;             /**< roofs past the year they had to be done in */
};

enum { PLAN_EXTRAS = 3 };

struct plan {
    struct budget_settings settings;
    struct plan_roof *roofs; /**< by year, then portfolio_compare() */
    size_t count;
    size_t unpriced; /**< roofs without a cost */
    size_t assumed;  /**< priced roofs whose condition is assumed */
    size_t valued;   /**< priced roofs with a replacement value */
    struct plan_course best;
    struct plan_course worst_first;
    struct plan_course extra[PLAN_EXTRAS]; /**< caps 10, 20, 30 % higher */
    struct arena *arena;                   /**< owned */
};

/**
 * @param[out] out  owned, plan_free(); borrows the portfolio, which needs money
 * @return OUTLAY_E_INPUT where a roof's or building's years contradict each other,
 *         OUTLAY_E_LIMIT where what must be done doesn't fit the caps: which year, by how
 *         much; OUTLAY_E_MEMORY
 */
enum outlay_status plan_make(const struct portfolio *portfolio,
                             const struct budget_settings *settings, struct plan **out,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/** NULL is ignored. */
void plan_free(struct plan *plan);

/** What a cost becomes in year k, in that year's money. */
money plan_nominal(const struct budget_settings *settings, money cost, int k);

/** The present cost of work in year k. */
money plan_present(const struct budget_settings *settings, money cost, int k);

/** The present cost of waiting until year k for a roof of that age at the start. */
money plan_waiting(const struct budget_settings *settings, money cost, double age, int k);

#endif
