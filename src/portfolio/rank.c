#include "portfolio/rank.h"

#include <math.h>
#include <stdlib.h>

#include "base/units.h"

/* So many Pa or N are a load of 1 (ours). */
#define LOAD_OF_ONE 1000.0

/* What a score and a force are rounded to. */
#define SCORES_OF_ONE 1000.0
#define FORCE_STEP 10.0

/* A limit that is reached stays reached after conversions, to float among them. */
static const double noise = 1e-6;

static const double degree = 0.017453292519943295; /* rad */

const char *rank_part_name(int part)
{
    static const char *const names[] = {
#define X(code, name) name,
        RANK_PART_MAP(X)
#undef X
    };

    return part >= 0 && part < RANK_PARTS ? names[part] : NULL;
}

const char *rank_group_name(int group)
{
    static const char *const names[] = {"rating", "exposure", "unknown", "apart"};

    return group >= 0 && group < RANK_GROUPS ? names[group] : NULL;
}

const char *rank_by_name(int by)
{
    static const char *const names[] = {"worst", "mean", "force"};

    return by >= 0 && by <= RANK_BY_FORCE ? names[by] : NULL;
}

struct rank_settings rank_defaults(void)
{
    return (struct rank_settings){.slope_max = 7,
                                  .area_min = 20,
                                  .weights = {[RANK_EDGE] = 0.6,
                                              [RANK_CONDITION] = 0.4,
                                              [RANK_AGE] = 0.3,
                                              [RANK_CONSEQUENCE] = 0.6},
                                  .service_life = 20,
                                  .year = MISSING};
}

double rank_age(const struct portfolio_roof *roof, const struct rank_settings *settings)
{
    if (roof->installed == MISSING || settings->year == MISSING ||
        roof->installed > settings->year)
        return NAN;
    return settings->year - roof->installed;
}

static double clamped(double value)
{
    return isnan(value) ? NAN : fmin(fmax(value, 0), 1);
}

static void find_parts(const struct portfolio_roof *roof,
                       const struct rank_settings *settings, double parts[RANK_PARTS])
{
    parts[RANK_EDGE] = clamped(1 - (double)roof->edge_condition / 100);
    parts[RANK_CONDITION] = clamped(1 - (double)roof->condition / 100);
    parts[RANK_AGE] = clamped(rank_age(roof, settings) / settings->service_life);
    parts[RANK_CONSEQUENCE] =
        roof->risk == MISSING ? NAN : clamped((roof->risk - 1) / 3.0);
}

/* ---- What is apart ---- */

double rank_steepest(const struct rank_settings *settings)
{
    return tan(settings->slope_max * degree);
}

static bool too_steep(const struct rank_settings *settings, double slope)
{
    return slope > rank_steepest(settings) * (1 + noise);
}

static bool too_small(const struct rank_settings *settings, double area)
{
    return !(area >= settings->area_min * (1 - noise));
}

bool rank_allows(const struct rank_settings *settings, double slope, double area)
{
    return !too_steep(settings, slope) && !too_small(settings, area);
}

enum rank_apart rank_apart(const struct portfolio_roof *roof,
                           const struct rank_settings *settings)
{
    if (!roof->whole)
        return APART_OUTLINE;
    if (too_steep(settings, roof->slope))
        return APART_STEEP;
    if (too_small(settings, roof->area))
        return APART_SMALL;
    return roof->duplicate ? APART_DUPLICATE : APART_NOT;
}

/* ---- The score ---- */

double rank_mean(const struct portfolio_roof *roof)
{
    double zoned = 0;

    for (int role = 0; role < ZONE_ROLES; role++)
        zoned += (double)roof->share[role] * roof->area;
    return portfolio_force_in_all(roof) / zoned;
}

double rank_degrees(const struct portfolio_roof *roof)
{
    return atan((double)roof->slope) / degree;
}

static double load_of(const struct portfolio_roof *roof,
                      const struct rank_settings *settings)
{
    switch (settings->by) {
    case RANK_BY_MEAN:
        return rank_mean(roof) / LOAD_OF_ONE;
    case RANK_BY_FORCE:
        return portfolio_force_in_all(roof) / LOAD_OF_ONE;
    case RANK_BY_WORST:
        break;
    }
    return (double)roof->uplift[roof->worst] / LOAD_OF_ONE;
}

/* A score beyond what 32 bits hold is none that a roof has. */
static double rounded(double value)
{
    return fmin(round(value), UINT32_MAX);
}

struct rank_score rank_score(const struct portfolio_roof *roof,
                             const struct rank_settings *settings)
{
    struct rank_score score = {
        .group = RANK_UNKNOWN, .load = NAN, .score = NAN, .force = NAN};

    find_parts(roof, settings, score.parts);
    score.apart = rank_apart(roof, settings);
    for (int part = 0; part < RANK_PARTS; part++)
        score.factors[part] = 1 + settings->weights[part] * (score.parts[part] - 0.5);
    if (score.apart != APART_NOT) {
        score.group = RANK_APART;
        return score;
    }
    if (roof->worst == ZONE_ROLES)
        return score;
    score.load = roof->capacity > 0 ? (double)roof->demand / (double)roof->capacity
                                    : load_of(roof, settings);
    if (isnan(score.load))
        return score;
    score.group = roof->capacity > 0 ? RANK_RATED : RANK_EXPOSED;
    score.score = score.load;
    for (int part = 0; part < RANK_PARTS; part++)
        if (isfinite(score.factors[part]))
            score.score *= score.factors[part];
    score.score = rounded(score.score * SCORES_OF_ONE) / SCORES_OF_ONE;
    score.force = rounded(portfolio_force_in_all(roof) / FORCE_STEP) * FORCE_STEP;
    return score;
}

/* ---- The order ---- */

/* NAN and what is below 0 count nothing. */
static uint32_t counted(double value)
{
    return value > 0 ? (uint32_t)fmin(round(value), UINT32_MAX) : 0;
}

struct ranked ranked_of(const struct portfolio_roof *roof,
                        const struct rank_settings *settings)
{
    struct rank_score score = rank_score(roof, settings);

    return (struct ranked){.roof = roof,
                           .score = counted(score.score * SCORES_OF_ONE),
                           .force = counted(score.force / FORCE_STEP),
                           .group = (uint8_t)score.group};
}

int ranked_order(const struct ranked *a, const struct ranked *b)
{
    if (a->group != b->group)
        return a->group < b->group ? -1 : 1;
    if (a->score != b->score)
        return a->score > b->score ? -1 : 1;
    return (a->force < b->force) - (a->force > b->force);
}

int ranked_compare(const struct ranked *a, const struct ranked *b)
{
    int order = ranked_order(a, b);

    return order ? order : portfolio_compare(a->roof, b->roof);
}

static int by_rank(const void *a, const void *b)
{
    return ranked_compare(a, b);
}

/* Equal scores share a rank, and the next one counts them all: 1, 2, 2, 4. */
static void give_ranks(struct ranking *ranking)
{
    size_t start = 0;

    for (size_t i = 0; i < ranking->count; i++) {
        struct ranked *row = &ranking->rows[i];
        bool begins = i == 0 || row[-1].group != row->group;

        ranking->places[row->roof - ranking->first] = (uint32_t)i;
        if (begins)
            start = i;
        if (row->group < RANK_UNKNOWN)
            row->rank = !begins && row[-1].score == row->score
                            ? row[-1].rank
                            : (uint32_t)(i - start + 1);
    }
}

enum outlay_status ranking_make(const struct portfolio *portfolio,
                                const struct rank_settings *settings, struct ranking *out,
                                struct outlay_error *err)
{
    *out = (struct ranking){.settings = settings,
                            .first = portfolio_roof(portfolio, 0),
                            .count = portfolio_count(portfolio)};
    out->rows = calloc(out->count + 1, sizeof *out->rows);
    out->places = calloc(out->count + 1, sizeof *out->places);
    if (!out->rows || !out->places)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t i = 0; i < out->count; i++) {
        out->rows[i] = ranked_of(portfolio_roof(portfolio, i), settings);
        out->counts[out->rows[i].group]++;
    }
    qsort(out->rows, out->count, sizeof *out->rows, by_rank);
    give_ranks(out);
    return OUTLAY_OK;
}

void ranking_release(struct ranking *ranking)
{
    free(ranking->rows);
    free(ranking->places);
    ranking->rows = NULL;
    ranking->places = NULL;
}

void rank_formula(struct text *out, const struct rank_settings *settings)
{
    static const char *const measures[] = {
        [RANK_BY_WORST] = "its uplift in kPa",
        [RANK_BY_MEAN] = "the mean uplift over the roof in kPa",
        [RANK_BY_FORCE] = "the force of the uplift on the whole roof in kN"};

    text_printf(out,
                "Score = load x a factor 1 + weight x (part - 0.5) for each part; load = "
                "demand / capacity of the worst zone, or %s where no rating is given; "
                "parts from 0 (good) to 1 (bad), unknown ones change nothing. Weights "
                "are ours, not published:",
                measures[settings->by]);
    for (int part = 0; part < RANK_PARTS; part++) {
        text_printf(out, "%s %s ", part ? "," : "", rank_part_name(part));
        text_number(out, settings->weights[part], 3);
    }
    text_puts(out, ". Age never changes capacity. Apart, without a rank: roofs steeper "
                   "than ");
    text_number(out, settings->slope_max, 2);
    text_puts(out, " degrees, smaller than ");
    text_number(out, settings->area_min / M2_PER_FT2, 0);
    text_puts(out, " ft2 (");
    text_number(out, settings->area_min, 1);
    text_puts(out, " m2), mapped twice, or without a usable outline.");
}
