#include "portfolio/rank.h"

#include <math.h>
#include <stdlib.h>

/* Exposure pressure of this many Pa is a load of 1 (ours). */
#define PRESSURE_OF_ONE 1000.0

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
    static const char *const names[] = {"rating", "exposure", "unknown"};

    return group >= 0 && group < RANK_GROUPS ? names[group] : NULL;
}

struct rank_settings rank_defaults(void)
{
    return (struct rank_settings){.weights = {[RANK_SHARE] = 0.2,
                                              [RANK_EDGE] = 0.6,
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
    double share = (double)roof->share[ZONE_CORNER] + (double)roof->share[ZONE_PERIMETER];

    parts[RANK_SHARE] = roof->zoned ? clamped(share) : NAN;
    parts[RANK_EDGE] = clamped(1 - (double)roof->edge_condition / 100);
    parts[RANK_CONDITION] = clamped(1 - (double)roof->condition / 100);
    parts[RANK_AGE] = clamped(rank_age(roof, settings) / settings->service_life);
    parts[RANK_CONSEQUENCE] =
        roof->risk == MISSING ? NAN : clamped((roof->risk - 1) / 3.0);
}

struct rank_score rank_score(const struct portfolio_roof *roof,
                             const struct rank_settings *settings)
{
    struct rank_score score = {.group = RANK_UNKNOWN, .load = NAN};

    find_parts(roof, settings, score.parts);
    if (roof->worst < ZONE_ROLES && roof->capacity > 0) {
        score.group = RANK_RATED;
        score.load = (double)roof->demand / (double)roof->capacity;
    } else if (roof->worst < ZONE_ROLES) {
        score.group = RANK_EXPOSED;
        score.load = (double)roof->uplift[roof->worst] / PRESSURE_OF_ONE;
    }
    score.score = score.load;
    for (int part = 0; part < RANK_PARTS; part++) {
        score.factors[part] = 1 + settings->weights[part] * (score.parts[part] - 0.5);
        if (isfinite(score.factors[part]))
            score.score *= score.factors[part];
    }
    return score;
}

struct ranked ranked_of(const struct portfolio_roof *roof,
                        const struct rank_settings *settings)
{
    struct rank_score score = rank_score(roof, settings);

    return (struct ranked){roof, (float)score.score, (uint8_t)score.group};
}

int ranked_compare(const struct ranked *a, const struct ranked *b)
{
    if (a->group != b->group)
        return a->group < b->group ? -1 : 1;
    if (a->group != RANK_UNKNOWN && a->score != b->score)
        return a->score > b->score ? -1 : 1;
    return portfolio_compare(a->roof, b->roof);
}

static int by_rank(const void *a, const void *b)
{
    return ranked_compare(a, b);
}

enum outlay_status ranking_make(const struct portfolio *portfolio,
                                const struct rank_settings *settings, struct ranking *out,
                                struct outlay_error *err)
{
    size_t groups[RANK_GROUPS] = {0};

    *out = (struct ranking){.settings = settings, .count = portfolio_count(portfolio)};
    out->rows = calloc(out->count + 1, sizeof *out->rows);
    if (!out->rows)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t i = 0; i < out->count; i++) {
        const struct portfolio_roof *roof = portfolio_roof(portfolio, i);

        out->rows[i] = ranked_of(roof, settings);
        groups[out->rows[i].group]++;
    }
    for (int group = 1; group < RANK_GROUPS; group++)
        out->starts[group] = out->starts[group - 1] + groups[group - 1];
    qsort(out->rows, out->count, sizeof *out->rows, by_rank);
    return OUTLAY_OK;
}

void ranking_release(struct ranking *ranking)
{
    free(ranking->rows);
    ranking->rows = NULL;
}

void rank_formula(struct text *out, const struct rank_settings *settings)
{
    text_puts(out,
              "Score = load x a factor 1 + weight x (part - 0.5) for each part; load "
              "= demand / capacity of the worst zone, or its uplift in kPa where no "
              "rating is given; parts from 0 (good) to 1 (bad), unknown ones change "
              "nothing. Weights are ours, not published:");
    for (int part = 0; part < RANK_PARTS; part++) {
        text_printf(out, "%s %s ", part ? "," : "", rank_part_name(part));
        text_number(out, settings->weights[part], 3);
    }
    text_puts(out, ". Age never changes capacity.");
}
