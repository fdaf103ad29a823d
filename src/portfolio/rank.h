#ifndef OUTLAY_PORTFOLIO_RANK_H
#define OUTLAY_PORTFOLIO_RANK_H

/**
 * @file portfolio/rank.h
 * Roofs in the order of their exposure to wind, in two groups that are never mixed:
 * those whose present rating is given, by demand over capacity of the worst zone, and
 * the others by exposure pressure, the strength-level uplift on the worst zone. Roofs
 * without uplift come last, in a group of their own.
 *
 *     score = load x (1 + w1 (p1 - 1/2)) x ... x (1 + w5 (p5 - 1/2))
 *
 * load is demand / capacity, or the exposure pressure in kPa; p is a part from 0 (good)
 * to 1 (bad). A part that isn't known counts as 1/2: it changes nothing. So where only
 * outline, height, exposure and wind speed are known, area shares and uplift decide.
 *
 * That these parts raise a risk is published (edge securement, condition, age, occupancy:
 * surveys of wind damage); how much each weighs is ours, not published, and a setting.
 * Age never changes capacity.
 */

#include "base/text.h"
#include "outlay/status.h"
#include "portfolio/portfolio.h"

/* The parts: code, name in columns and options. */
#define RANK_PART_MAP(X)      \
    X(SHARE, "share")         \
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

enum rank_group { RANK_RATED, RANK_EXPOSED, RANK_UNKNOWN, RANK_GROUPS };

/** "rating", "exposure", "unknown". */
const char *rank_group_name(int group);

struct rank_settings {
    double weights[RANK_PARTS]; /**< 0 to 2 */
    double service_life;        /**< years */
    int year;                   /**< that ages are counted to; MISSING: none is known */
};

/** Our weights: share 0.2, edge 0.6, condition 0.4, age 0.3, consequence 0.6. */
struct rank_settings rank_defaults(void);

/** How one roof's score comes about. */
struct rank_score {
    enum rank_group group;
    double load;                /**< demand / capacity, or kPa; NAN while unknown */
    double parts[RANK_PARTS];   /**< 0 to 1; NAN while unknown */
    double factors[RANK_PARTS]; /**< 1 + w (p - 1/2); NAN while unknown */
    double score;               /**< NAN while unknown */
};

/**
 * The parts: share of corner and perimeter in the area; 1 - edge condition / 100;
 * 1 - condition / 100; age / service life, at most 1; risk category 1 to 4 as 0 to 1.
 */
struct rank_score rank_score(const struct portfolio_roof *roof,
                             const struct rank_settings *settings);

/** Years since the roof was laid; NAN while unknown or in the future. */
double rank_age(const struct portfolio_roof *roof, const struct rank_settings *settings);

struct ranked {
    const struct portfolio_roof *roof;
    float score;
    uint8_t group; /**< enum rank_group */
};

/** One roof's place among others. Borrows the roof. */
struct ranked ranked_of(const struct portfolio_roof *roof,
                        const struct rank_settings *settings);

/** Negative: a ranks before b. 0 only for roofs that nothing tells apart. */
int ranked_compare(const struct ranked *a, const struct ranked *b);

struct ranking {
    const struct rank_settings *settings; /**< borrowed */
    struct ranked *rows; /**< owned: group by group, highest score first */
    size_t count;
    size_t starts[RANK_GROUPS]; /**< first row of each group */
};

/**
 * Ranks all roofs; ties by portfolio_compare(). Borrows the portfolio and the settings.
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status ranking_make(const struct portfolio *portfolio,
                                const struct rank_settings *settings, struct ranking *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Frees the rows. Twice is fine. */
void ranking_release(struct ranking *ranking);

/** Appends formula and weights in one sentence, and that the weights are ours. */
void rank_formula(struct text *out, const struct rank_settings *settings);

#endif
