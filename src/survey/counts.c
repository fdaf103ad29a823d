#include "survey/counts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "survey/survey.h"

/* The method is known from attachment on, and before that from the roof. */
bool is_fastened(const struct roof *roof)
{
    enum method method =
        roof->method == METHOD_NOT_GIVEN ? roof->given.method : roof->method;

    return roof->zoned && method != METHOD_ADHERED;
}

static double deck_area(const struct building *building, enum deck deck)
{
    double area = 0;

    for (size_t i = 0; i < building->roof_count; i++)
        if (is_fastened(&building->roofs[i]) && building->roofs[i].basis.deck == deck)
            area += building->roofs[i].area;
    return area;
}

int survey_pullouts(const struct building *building, enum deck deck,
                    const struct survey_rules *rules)
{
    const struct survey_rule *rule = survey_rule_of(rules, TASK_PULLOUT);
    double area = deck_area(building, deck);

    return rule && area > 0 ? survey_rule_count(rule, area) : 0;
}

/* Who gets the next one: who has none yet, then whose quota lacks most; of equal ones the
 * first. */
static size_t next_share(double each, const double *weights, const int *shares,
                         size_t count)
{
    size_t best = 0;
    double most = -INFINITY;

    for (size_t i = 0; i < count; i++) {
        double lacks = weights[i] * each - shares[i] + (shares[i] == 0 ? 1e9 : 0);

        if (weights[i] > 0 && lacks > most + 1e-9) {
            most = lacks;
            best = i;
        }
    }
    return best;
}

void share_by_weight(int total, const double *weights, size_t count, int *out)
{
    double sum = 0;

    for (size_t i = 0; i < count; i++) {
        sum += weights[i];
        out[i] = 0;
    }
    for (int left = sum > 0 ? total : 0; left > 0; left--)
        out[next_share(total / sum, weights, out, count)]++;
}

static int by_id(const void *of_a, const void *of_b)
{
    const struct roof *a = *(const struct roof *const *)of_a;
    const struct roof *b = *(const struct roof *const *)of_b;

    return strcmp(a->id, b->id);
}

/* The roofs of one deck, in the order of their ids. */
static size_t of_deck(const struct building *building, enum deck deck,
                      const struct roof **out)
{
    size_t count = 0;

    for (size_t i = 0; i < building->roof_count; i++)
        if (is_fastened(&building->roofs[i]) && building->roofs[i].basis.deck == deck)
            out[count++] = &building->roofs[i];
    qsort(out, count, sizeof *out, by_id);
    return count;
}

enum outlay_status pullouts_by_roof(struct arena *arena, const struct building *building,
                                    const struct survey_rule *rule, int *out)
{
    size_t most = building->roof_count;
    const struct roof **roofs = arena_array(arena, most, sizeof *roofs);
    double *areas = arena_array(arena, most, sizeof *areas);
    int *shares = arena_array(arena, most, sizeof *shares);

    if (!roofs || !areas || !shares)
        return OUTLAY_E_MEMORY;
    for (int deck = 1; deck < DECK_KINDS; deck++) {
        size_t count = of_deck(building, (enum deck)deck, roofs);

        for (size_t i = 0; i < count; i++)
            areas[i] = roofs[i]->area;
        if (count > 0)
            share_by_weight(survey_rule_count(rule, deck_area(building, (enum deck)deck)),
                            areas, count, shares);
        for (size_t i = 0; i < count; i++)
            out[roofs[i] - building->roofs] = shares[i];
    }
    return OUTLAY_OK;
}

static bool has_openings(const struct roof *roof)
{
    for (size_t i = 0; i < roof->outline.polygon_count; i++)
        if (roof->outline.polygons[i].ring_count > 1)
            return true;
    return false;
}

int tests_of_roof(const struct roof *roof, const struct survey_rule *rule)
{
    switch (rule->by) {
    case BY_ROOF:
        return rule->task == TASK_OPENINGS && !has_openings(roof) ? 0 : rule->least;
    case BY_AREA:
        return survey_rule_count(rule, roof->area);
    case BY_EDGE:
        return survey_rule_count(rule, roof->edge_length);
    case BY_DECK_AREA:
    case BY_DAY:
        break;
    }
    return 0;
}

enum survey_task survey_task_of(char letter)
{
    int task = 0;

    while (task < SURVEY_TASKS && survey_task_letter((enum survey_task)task) != letter)
        task++;
    return (enum survey_task)task;
}

enum outlay_status survey_counts(struct arena *arena, const struct building *building,
                                 const struct survey_rules *rules,
                                 int (*out)[SURVEY_TASKS])
{
    const struct survey_rule *pullout = survey_rule_of(rules, TASK_PULLOUT);
    int *pullouts = arena_array(arena, building->roof_count, sizeof *pullouts);
    enum outlay_status status = pullouts ? OUTLAY_OK : OUTLAY_E_MEMORY;

    if (status == OUTLAY_OK && pullout)
        status = pullouts_by_roof(arena, building, pullout, pullouts);
    for (size_t i = 0; i < building->roof_count && status == OUTLAY_OK; i++) {
        const struct roof *roof = &building->roofs[i];

        memset(out[i], 0, sizeof out[i]);
        for (size_t k = 0; k < rules->count && roof->zoned; k++)
            out[i][rules->rows[k].task] = tests_of_roof(roof, &rules->rows[k]);
        if (pullout)
            out[i][TASK_PULLOUT] = pullouts[i];
    }
    return status;
}
