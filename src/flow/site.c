#include <limits.h>

#include "base/number.h"
#include "flow/stages.h"
#include "roof/finding.h"
#include "roof/pullout.h"
#include "survey/survey.h"

static bool is_test(const struct finding *finding)
{
    return finding->kind == FINDING_PULLOUT;
}

/* All tests of one deck in the building; kept where there is room for them. */
static size_t collect(const struct building *building, enum deck deck,
                      const struct finding **tests)
{
    size_t count = 0;

    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];

        if (!roof->zoned || roof->basis.deck != deck)
            continue;
        for (size_t k = 0; k < roof->finding_count; k++)
            if (is_test(roof->findings[k]) && ++count && tests)
                tests[count - 1] = roof->findings[k];
    }
    return count;
}

/* Tests beat what a column or an option says, also where they tell no value. */
static void take(struct arena *arena, struct roof *roof, const struct pullout *pullout)
{
    roof->pullout = pullout;
    roof->basis.pullout = pullout->design;
    roof->basis.pullout_unknown = pullout->unknown;
    roof->basis.pullout_few = !pullout->unknown && (int)pullout->count < pullout->needed;
    if (!pullout->unknown)
        roof->verified |= 1u << FINDING_PULLOUT;
    else
        roof_problem(arena, roof, PROBLEM_PULLOUT_TESTS,
                     "its fastened zones are unknown at best", "%s", pullout->unknown);
}

static enum outlay_status work_out(struct building *building, enum deck deck,
                                   const struct settings *settings)
{
    size_t count = collect(building, deck, NULL);
    const struct finding **tests = NULL;
    struct pullout *pullout = NULL;

    if (count == 0)
        return OUTLAY_OK;
    tests = arena_array(building->arena, count, sizeof *tests);
    if (tests)
        collect(building, deck, tests);
    pullout =
        tests ? pullout_of(building->arena, tests, count, settings->pullout_by) : NULL;
    if (!pullout)
        return OUTLAY_E_MEMORY;
    pullout->deck = deck;
    pullout->needed = survey_pullouts(building, deck, &settings->rules);
    for (size_t i = 0; i < building->roof_count; i++)
        if (building->roofs[i].zoned && building->roofs[i].basis.deck == deck)
            take(building->arena, &building->roofs[i], pullout);
    return OUTLAY_OK;
}

enum outlay_status pullouts_run(struct building *building,
                                const struct settings *settings, struct geo_ctx *ctx,
                                struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    (void)ctx;
    for (int deck = 1; deck < DECK_KINDS && settings->findings && status == OUTLAY_OK;
         deck++)
        status = work_out(building, (enum deck)deck, settings);
    return status == OUTLAY_OK ? status : outlay_fail(err, status, "out of memory");
}

static int readings_of(const struct roof *roof, enum finding_kind kind)
{
    int count = 0;

    for (size_t i = 0; i < roof->finding_count; i++)
        count += roof->findings[i]->kind == kind;
    return count;
}

/* Whether a kind was read at fewer places of the edge than it takes. */
static bool too_few(const struct roof *roof, enum finding_kind kind,
                    const struct survey_rule *rule)
{
    return roof->changed & 1u << kind &&
           readings_of(roof, kind) < survey_rule_count(rule, roof->edge_length);
}

enum outlay_status edge_readings_run(struct building *building,
                                     const struct settings *settings, struct geo_ctx *ctx,
                                     struct outlay_error *err)
{
    const struct survey_rule *rule = survey_rule_of(&settings->rules, TASK_EDGE);

    (void)ctx;
    (void)err;
    for (size_t i = 0; rule && i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];

        if (!too_few(roof, FINDING_EDGE, rule) && !too_few(roof, FINDING_PARAPET, rule))
            continue;
        for (size_t k = 0; k < building->roof_count; k++)
            if (building->roofs[k].level.index == roof->level.index)
                building->roofs[k].level.parapet_around = false;
    }
    return OUTLAY_OK;
}

/* The number of a place of the survey; 0: a place of somebody's own. */
static int number_of(const struct finding *finding)
{
    int number = 0;

    if (*finding->place && *finding->place != '+' &&
        !number_parse_int(finding->place + 1, &number))
        number = INT_MAX;
    return number;
}

/* A place that the survey doesn't have may be another roof's. */
static void check_place(struct arena *arena, struct roof *roof,
                        const struct finding *finding, const int *counts)
{
    enum survey_task task = survey_task_of(finding->place[0]);
    int most = task < SURVEY_TASKS ? counts[task] : 0;

    if (number_of(finding) > most)
        roof_problem(arena, roof, PROBLEM_FINDING_PLACE,
                     "used as it is: check that it is of this roof",
                     "%s, column place: the survey has no %.12s on this roof, whose "
                     "places of that kind are %d",
                     finding->where, finding->place, most);
}

static enum outlay_status check_places(struct building *building,
                                       const struct settings *settings)
{
    int(*counts)[SURVEY_TASKS] =
        arena_array(building->arena, building->roof_count, sizeof *counts);
    enum outlay_status status = OUTLAY_E_MEMORY;

    if (counts)
        status = survey_counts(building->arena, building, &settings->rules, counts);
    for (size_t i = 0; status == OUTLAY_OK && i < building->roof_count; i++)
        for (size_t k = 0; k < building->roofs[i].finding_count; k++)
            check_place(building->arena, &building->roofs[i],
                        building->roofs[i].findings[k], counts[i]);
    return status;
}

enum outlay_status survey_run(struct building *building, const struct settings *settings,
                              struct geo_ctx *ctx, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    (void)ctx;
    if (settings->findings)
        status = check_places(building, settings);
    if (settings->surveys && status == OUTLAY_OK)
        status = survey_building(building->arena, building, &settings->rules,
                                 &building->surveys);
    return status == OUTLAY_OK ? status : outlay_fail(err, status, "out of memory");
}
