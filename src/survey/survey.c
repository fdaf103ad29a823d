/* From rules to places, and from places to the rows of a form. */

#include "survey/survey.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "survey/counts.h"
#include "survey/entries.h"
#include "survey/places.h"

/* A roof's survey being made. */
struct maker {
    struct arena *arena;
    const struct building *building;
    const struct roof *roof;
    const struct survey_rules *rules;
    struct site_survey *out;
    size_t room; /* of places */
};

/* ---- Places ---- */

static struct survey_place *add_place(struct maker *maker, enum survey_task task,
                                      int number)
{
    struct survey_place *place = &maker->out->places[maker->out->place_count++];

    *place = (struct survey_place){.task = task};
    snprintf(place->name, sizeof place->name, "%c%d", survey_task_letter(task), number);
    return place;
}

static void put_spot(const struct maker *maker, struct survey_place *place,
                     const struct spot *spot)
{
    place->placed = true;
    place->zone = spot->zone;
    place->at_edge = spot->at_edge;
    place->at = place->lonlat = spot->at;
    frame_to_lonlat(&maker->building->frame, &place->lonlat, 1);
}

static enum outlay_status add_spots(struct maker *maker, enum survey_task task,
                                    unsigned zones, int count, int *number)
{
    size_t found = 0;
    struct spot *spots = arena_array(maker->arena, (size_t)count + 1, sizeof *spots);
    bool edge = task == TASK_EDGE || task == TASK_PHOTO;
    enum outlay_status status = OUTLAY_E_MEMORY;

    if (spots && edge)
        status =
            spots_along_edge(maker->arena, maker->roof, (size_t)count, spots, &found);
    else if (spots)
        status = spots_in_zones(maker->arena, maker->roof, zones, (size_t)count, spots,
                                &found);
    for (size_t i = 0; status == OUTLAY_OK && i < found; i++)
        put_spot(maker, add_place(maker, task, ++*number), &spots[i]);
    return status;
}

/* Corner, perimeter, and the field with the interior: some in each, by the root of their
 * weights (ours), since what is small is loaded most. */
static enum outlay_status add_pullouts(struct maker *maker, int count)
{
    static const unsigned sets[] = {1u << ZONE_CORNER, 1u << ZONE_PERIMETER,
                                    1u << ZONE_FIELD | 1u << ZONE_INTERIOR};
    enum { SETS = sizeof sets / sizeof sets[0] };
    double weights[SETS] = {0};
    int shares[SETS], number = 0;
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < maker->roof->zone_count; i++)
        for (int set = 0; set < SETS; set++)
            if (sets[set] & 1u << maker->roof->zones[i].role)
                weights[set] += maker->roof->zones[i].area;
    for (int set = 0; set < SETS; set++)
        weights[set] = sqrt(weights[set]);
    share_by_weight(count, weights, SETS, shares);
    for (int set = 0; set < SETS && status == OUTLAY_OK; set++)
        if (shares[set] > 0)
            status = add_spots(maker, TASK_PULLOUT, sets[set], shares[set], &number);
    return status;
}

static bool is_placed(enum survey_task task)
{
    return task == TASK_CORE || task == TASK_EDGE || task == TASK_PHOTO;
}

/* What is of the roof as a whole stands in its middle on maps. */
static enum outlay_status add_unplaced(struct maker *maker, enum survey_task task,
                                       int count)
{
    struct spot middle;
    size_t found = 0;
    enum outlay_status status =
        spots_in_zones(maker->arena, maker->roof, ~0u, 1, &middle, &found);

    for (int i = 0; status == OUTLAY_OK && i < count; i++) {
        struct survey_place *place = add_place(maker, task, i + 1);

        if (found > 0)
            put_spot(maker, place, &middle);
        place->placed = false;
    }
    return status;
}

static enum outlay_status add_task(struct maker *maker, const struct survey_rule *rule,
                                   int count)
{
    int number = 0;

    if (count == 0)
        return OUTLAY_OK;
    if (rule->task == TASK_PULLOUT)
        return add_pullouts(maker, count);
    if (is_placed(rule->task))
        return add_spots(maker, rule->task, ~0u, count, &number);
    return add_unplaced(maker, rule->task, count);
}

/* ---- Entries ---- */

static bool answered_at(const struct roof *roof, const struct survey_place *place,
                        enum finding_kind kind)
{
    for (size_t i = 0; i < roof->finding_count; i++)
        if (roof->findings[i]->kind == kind &&
            strcmp(roof->findings[i]->place, place->name) == 0)
            return true;
    return false;
}

/* What one finding answers for the roof, wherever it was read. */
static bool answered(const struct maker *maker, const struct survey_place *place,
                     enum finding_kind kind)
{
    const struct roof *roof = maker->roof;
    const struct survey_rule *rule = survey_rule_of(maker->rules, place->task);

    if (kind == FINDING_PULLOUT && entry_enough_pullouts(roof))
        return true;
    return answered_at(roof, place, kind) ||
           (rule->by == BY_ROOF && roof->verified & 1u << kind);
}

static void add_entries(struct maker *maker)
{
    struct site_survey *out = maker->out;

    for (size_t i = 0; i < out->place_count; i++)
        for (int kind = 0; kind < FINDING_KINDS; kind++) {
            const struct survey_place *place = &out->places[i];
            enum finding_kind asked = (enum finding_kind)kind;

            if (finding_letter(asked) == place->name[0] &&
                entry_applies(maker->roof, asked) && !answered(maker, place, asked))
                out->entries[out->entry_count++] = entry_of(maker->roof, i, asked);
        }
}

static int compare_entries(const void *of_a, const void *of_b)
{
    const struct survey_entry *a = of_a, *b = of_b;

    if (a->weight != b->weight)
        return a->weight > b->weight ? -1 : 1;
    if (a->share != b->share)
        return a->share > b->share ? -1 : 1;
    if (a->place != b->place)
        return a->place < b->place ? -1 : 1;
    return (a->kind > b->kind) - (a->kind < b->kind);
}

/* The values of one place stay together, as far up as the most decisive of them. */
static void sort_entries(struct site_survey *out)
{
    for (size_t i = 0; i < out->entry_count; i++)
        for (size_t k = 0; k < out->entry_count; k++) {
            struct survey_entry *entry = &out->entries[i];
            const struct survey_entry *other = &out->entries[k];

            if (other->place != entry->place)
                continue;
            entry->weight = entry->weight > other->weight ? entry->weight : other->weight;
            entry->share = fmax(entry->share, other->share);
        }
    qsort(out->entries, out->entry_count, sizeof *out->entries, compare_entries);
}

/* @param counts  of places, by task */
static enum outlay_status make(struct maker *maker, const int *counts)
{
    const struct survey_rules *rules = maker->rules;
    struct site_survey *out = maker->out;
    size_t room = 0;
    enum outlay_status status = OUTLAY_OK;

    for (int task = 0; task < SURVEY_TASKS; task++)
        room += (size_t)counts[task];
    out->places = arena_array(maker->arena, room, sizeof *out->places);
    out->entries = arena_array(maker->arena, 4 * room, sizeof *out->entries);
    if (!out->places || !out->entries)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < rules->count && status == OUTLAY_OK; i++)
        status = add_task(maker, &rules->rows[i], counts[rules->rows[i].task]);
    add_entries(maker);
    sort_entries(out);
    return status;
}

/* A roof that is left out for want of a height needs that before all else. */
static enum outlay_status ask_height(struct maker *maker)
{
    struct site_survey *out = maker->out;
    struct box box = region_box(&maker->roof->outline);
    struct survey_place *place = NULL;

    out->places = arena_array(maker->arena, 1, sizeof *out->places);
    out->entries = arena_array(maker->arena, 1, sizeof *out->entries);
    if (!out->places || !out->entries)
        return OUTLAY_E_MEMORY;
    place = add_place(maker, TASK_HEIGHT, 1);
    place->at = (struct point){(box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2};
    place->lonlat = place->at;
    frame_to_lonlat(&maker->building->frame, &place->lonlat, 1);
    out->entries[out->entry_count++] = entry_of_height();
    return OUTLAY_OK;
}

enum outlay_status survey_building(struct arena *arena, const struct building *building,
                                   const struct survey_rules *rules,
                                   struct site_survey **out)
{
    int(*counts)[SURVEY_TASKS] = arena_array(arena, building->roof_count, sizeof *counts);
    enum outlay_status status = OUTLAY_OK;

    *out = arena_array(arena, building->roof_count, sizeof **out);
    if (!*out || !counts)
        return OUTLAY_E_MEMORY;
    status = survey_counts(arena, building, rules, counts);
    for (size_t i = 0; i < building->roof_count && status == OUTLAY_OK; i++) {
        struct maker maker = {.arena = arena,
                              .building = building,
                              .roof = &building->roofs[i],
                              .rules = rules,
                              .out = &(*out)[i]};

        maker.out->roof = maker.roof;
        if (maker.roof->zoned)
            status = make(&maker, counts[i]);
        else if (maker.roof->whole && isnan(maker.roof->height))
            status = ask_height(&maker);
    }
    return status;
}
