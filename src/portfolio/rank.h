#ifndef OUTLAY_PORTFOLIO_RANK_H
#define OUTLAY_PORTFOLIO_RANK_H

/**
 * @file portfolio/rank.h
 * Roofs in the order of their exposure to wind, in groups that are never mixed: those
 * whose present rating is given, by demand over capacity of the worst zone; the others by
 * a measure of their strength-level uplift; roofs without uplift; and apart, with its
 * reason, what isn't a low-slope roof of its own.
 *
 *     score = load x (1 + w1 (p1 - 1/2)) x ... x (1 + w4 (p4 - 1/2))
 *
 * load is demand / capacity or the measure, in kPa or kN; p is a part from 0 (good) to 1
 * (bad). A part that isn't known counts as 1/2: it changes nothing.
 *
 * That these parts raise a risk is published (edge securement, condition, age, occupancy:
 * surveys of wind damage); how much each weighs is ours, not published, and a setting.
 * Age never changes capacity.
 *
 * Nothing in a score depends on other roofs, and what decides the order is rounded to
 * what the table prints: tables of the parts of a layer merge by sorting them.
 */

#include "base/text.h"
#include "outlay/status.h"
#include "portfolio/portfolio.h"

/* The parts: code, name in columns and options. */
#define RANK_PART_MAP(X)      \
    X(EDGE, "edge")           \
    X(CONDITION, "condition") \
    X(AGE, "age")             \
    X(CONSEQUENCE, "consequence")

enum rank_part {
#define X(code, name) RANK_##code,
    RANK_PART_MAP(X)
#undef X
        RANK_PARTS
};

/** NULL past the end. */
const char *rank_part_name(int part);

enum rank_group { RANK_RATED, RANK_EXPOSED, RANK_UNKNOWN, RANK_APART, RANK_GROUPS };

/** "rating", "exposure", "unknown", "apart". */
const char *rank_group_name(int group);

/** What roofs without a rating are ranked by: uplift of the worst zone, the mean over the
 *  roof's area, the force on all of it. */
enum rank_by { RANK_BY_WORST, RANK_BY_MEAN, RANK_BY_FORCE };

/** "worst", "mean", "force"; NULL past the end. */
const char *rank_by_name(int by);

/** Why a roof isn't ranked; in the order in which they are looked for. */
enum rank_apart {
    APART_NOT,
    APART_OUTLINE,  /**< no usable outline */
    APART_STEEP,    /**< its slope is above slope_max */
    APART_SMALL,    /**< its area is under area_min */
    APART_DUPLICATE /**< portfolio_roof.duplicate says of which */
};

struct rank_settings {
    enum rank_by by;
    double slope_max;           /**< degrees */
    double area_min;            /**< m2 */
    double weights[RANK_PARTS]; /**< 0 to 2 */
    double service_life;        /**< years */
    int year;                   /**< that ages are counted to; MISSING: none is known */
};

/** By the worst zone; slopes up to 7 degrees, the limit of the coefficients; areas from
 *  20 m2 (ours). Our weights: edge 0.6, condition 0.4, age 0.3, consequence 0.6. */
struct rank_settings rank_defaults(void);

/** The slope above which roofs are apart, rise over run. */
double rank_steepest(const struct rank_settings *settings);

/** How one roof's score comes about. */
struct rank_score {
    enum rank_group group;
    enum rank_apart apart;      /**< why it is in that group */
    double load;                /**< demand / capacity, kPa or kN; NAN while unknown */
    double parts[RANK_PARTS];   /**< 0 to 1; NAN while unknown */
    double factors[RANK_PARTS]; /**< 1 + w (p - 1/2); NAN while unknown */
    double score;               /**< in whole thousandths; NAN while unknown */
    double force;               /**< of the uplift on the whole roof, in whole tens of N:
                                     tells equal scores apart; NAN while unknown */
};

/**
 * The parts: 1 - edge condition / 100; 1 - condition / 100; age / service life, at most
 * 1; risk category 1 to 4 as 0 to 1.
 */
struct rank_score rank_score(const struct portfolio_roof *roof,
                             const struct rank_settings *settings);

/** Why the roof is apart, whatever else is known of it. */
enum rank_apart rank_apart(const struct portfolio_roof *roof,
                           const struct rank_settings *settings);

/** Whether the slope, rise over run or NAN, and the area, m2, let a roof be ranked. */
bool rank_allows(const struct rank_settings *settings, double slope, double area);

/** Uplift over the zoned area of the roof, Pa; NAN while unknown. */
double rank_mean(const struct portfolio_roof *roof);

/** The slope as an angle; NAN while unknown. */
double rank_degrees(const struct portfolio_roof *roof);

/** Years since the roof was laid; NAN while unknown or in the future. */
double rank_age(const struct portfolio_roof *roof, const struct rank_settings *settings);

struct ranked {
    const struct portfolio_roof *roof;
    uint32_t score; /**< thousandths */
    uint32_t force; /**< tens of N */
    uint32_t rank;  /**< from 1; equal scores share it; 0: none, or not known yet */
    uint8_t group;  /**< enum rank_group */
};

/** What a roof's place among others goes by. Borrows the roof. */
struct ranked ranked_of(const struct portfolio_roof *roof,
                        const struct rank_settings *settings);

/** Negative: a stands before b by group, score and force; 0: it takes more to tell. */
int ranked_order(const struct ranked *a, const struct ranked *b);

/** Negative: a stands before b: by ranked_order(), then portfolio_compare(). 0 only for
 *  roofs that nothing tells apart. */
int ranked_compare(const struct ranked *a, const struct ranked *b);

struct rank_draws; /* portfolio/rank_draws.h */

struct ranking {
    const struct rank_settings *settings; /**< borrowed */
    const struct portfolio_roof *first;   /**< the portfolio's roofs */
    struct ranked *rows; /**< owned: group by group, highest score first */
    uint32_t *places;    /**< owned: the row of each of the portfolio's roofs */
    size_t count;
    size_t counts[RANK_GROUPS];     /**< rows of each group */
    const struct rank_draws *drawn; /**< of the same portfolio, settled; NULL: none */
};

/**
 * Ranks all roofs. Borrows the portfolio and the settings.
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status ranking_make(const struct portfolio *portfolio,
                                const struct rank_settings *settings, struct ranking *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Frees the rows. Twice is fine. */
void ranking_release(struct ranking *ranking);

/** Appends formula and weights, that the weights are ours, and what is apart; quantities
 *  in both units ("60 ft (18.3 m)"). */
void rank_formula(struct text *out, const struct rank_settings *settings);

#endif
