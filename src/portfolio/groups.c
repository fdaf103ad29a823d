#include "portfolio/groups.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <xxhash.h>

#include "base/grow.h"
#include "geo/hull.h"

/* Points that a hull gathers beside its own before it is made again. */
#define HULL_ROOM 256

#define NO_GROUP UINT32_MAX

/* A place in 1e-7 degrees, some centimetres; NO_PLACE is no latitude. */
struct place {
    int32_t x, y;
};

#define PLACES_OF_DEGREE 1e7
#define NO_PLACE INT32_MAX

/* A group while roofs come. */
struct entry {
    struct group group;
    struct point *points; /* owned; the hull so far and points since */
    size_t room;
    uint32_t count;
    uint32_t hull; /* of them that are the hull */
    uint32_t serial;
};

struct groups {
    struct groups_settings settings;
    struct arena *arena;   /* owned; names */
    struct entry *entries; /* owned */
    size_t count, room;
    uint32_t *slots; /* owned: entries by name; open addressing, a power of two */
    size_t slot_count;
    uint32_t unnamed; /* entry without a name; NO_GROUP */
    uint32_t *of;     /* owned: entry of each roof */
    size_t roofs, of_room;
    struct place *places; /* owned: of each roof, where squares are fitted */
    size_t place_room;
    uint32_t thresholds[GROUP_MEASURES];
};

enum outlay_status groups_new(const struct groups_settings *settings, struct groups **out,
                              struct outlay_error *err)
{
    struct groups *groups = calloc(1, sizeof *groups);

    *out = groups;
    if (groups) {
        groups->settings = *settings;
        groups->unnamed = NO_GROUP;
        groups->arena = arena_new();
    }
    if (groups && groups->arena)
        return OUTLAY_OK;
    groups_free(groups);
    *out = NULL;
    return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}

static void drop_entries(struct groups *groups)
{
    for (size_t i = 0; i < groups->count; i++)
        free(groups->entries[i].points);
    groups->count = 0;
    groups->unnamed = NO_GROUP;
    if (groups->slots)
        memset(groups->slots, 0xff, groups->slot_count * sizeof *groups->slots);
}

void groups_free(struct groups *groups)
{
    if (!groups)
        return;
    drop_entries(groups);
    free(groups->entries);
    free(groups->slots);
    free(groups->of);
    free(groups->places);
    arena_free(groups->arena);
    free(groups);
}

/* ---- Groups by name --------------------------------------------------------------- */

/* The slot of a name, or the free one where it belongs. */
static uint32_t *slot_of(const struct groups *groups, const char *name)
{
    size_t mask = groups->slot_count - 1;
    size_t at = (size_t)XXH3_64bits(name, strlen(name)) & mask;

    while (groups->slots[at] != NO_GROUP &&
           strcmp(groups->entries[groups->slots[at]].group.name, name) != 0)
        at = (at + 1) & mask;
    return &groups->slots[at];
}

/* Keeps more than half of the slots free. */
static bool widen(struct groups *groups)
{
    size_t wider = groups->slot_count ? 2 * groups->slot_count : 256;
    uint32_t *slots = NULL;

    if (2 * (groups->count + 1) < groups->slot_count)
        return true;
    slots = malloc(wider * sizeof *slots);
    if (!slots)
        return false;
    memset(slots, 0xff, wider * sizeof *slots);
    free(groups->slots);
    groups->slots = slots;
    groups->slot_count = wider;
    for (size_t i = 0; i < groups->count; i++)
        if (groups->entries[i].group.name)
            *slot_of(groups, groups->entries[i].group.name) = (uint32_t)i;
    return true;
}

/* The entry of that name, a new one if need be; NO_GROUP when out of memory. */
static uint32_t entry_of(struct groups *groups, const char *name, struct square square)
{
    struct entry *entries = NULL;
    uint32_t *slot = &groups->unnamed;

    if (!widen(groups))
        return NO_GROUP;
    if (name)
        slot = slot_of(groups, name);
    if (*slot != NO_GROUP)
        return *slot;
    entries = grow(groups->entries, groups->count, 1, &groups->room, sizeof *entries);
    if (!entries)
        return NO_GROUP;
    groups->entries = entries;
    entries[groups->count] = (struct entry){.group.square = square};
    if (name) {
        name = arena_text(groups->arena, name, strlen(name));
        if (!name)
            return NO_GROUP;
        entries[groups->count].group.name = name;
    }
    *slot = (uint32_t)groups->count++;
    return *slot;
}

static uint32_t entry_at(struct groups *groups, struct place place)
{
    struct point lonlat = {place.x / PLACES_OF_DEGREE, place.y / PLACES_OF_DEGREE};
    struct square square;
    char name[32];

    if (place.y == NO_PLACE)
        return entry_of(groups, NULL, (struct square){0, 0});
    square = square_at(groups->settings.side, lonlat);
    snprintf(name, sizeof name, "%d-%d", square.row, square.column);
    return entry_of(groups, name, square);
}

/* ---- Roofs ------------------------------------------------------------------------ */

/* A longitude at most half a turn from another one. */
static double near_longitude(double x, double to)
{
    return x - 360 * round((x - to) / 360);
}

/* The middle of the box around the outline, which no other roof changes. */
static struct place place_of(const struct roof *roof)
{
    struct box box = box_empty();
    double first = 0;

    if (!roof->whole || roof->lonlat.polygon_count == 0)
        return (struct place){0, NO_PLACE};
    first = roof->lonlat.polygons[0].rings[0].points[0].x;
    for (size_t i = 0; i < roof->lonlat.polygon_count; i++) {
        struct ring shell = roof->lonlat.polygons[i].rings[0];

        for (size_t k = 0; k < shell.count; k++)
            box_add(&box, (struct point){near_longitude(shell.points[k].x, first),
                                         shell.points[k].y});
    }
    return (struct place){
        (int32_t)lround(near_longitude((box.min_x + box.max_x) / 2, 0) *
                        PLACES_OF_DEGREE),
        (int32_t)lround((box.min_y + box.max_y) / 2 * PLACES_OF_DEGREE)};
}

/* Leaves of the gathered points those of their hull. */
static bool close_hull(struct entry *entry)
{
    struct point *hull = NULL;

    if (entry->count == entry->hull)
        return true;
    hull = malloc(2 * entry->count * sizeof *hull);
    if (!hull)
        return false;
    entry->hull = (uint32_t)convex_hull(entry->points, entry->count, hull);
    entry->count = entry->hull;
    memcpy(entry->points, hull, entry->hull * sizeof *hull);
    free(hull);
    return true;
}

/* GeoJSON's edges are straight in degrees, and so is the hull. */
static bool widen_hull(struct entry *entry, const struct roof *roof)
{
    for (size_t i = 0; roof->whole && i < roof->lonlat.polygon_count; i++) {
        struct ring shell = roof->lonlat.polygons[i].rings[0];
        struct point *points =
            grow(entry->points, entry->count, shell.count, &entry->room, sizeof *points);

        if (!points)
            return false;
        entry->points = points;
        for (size_t k = 0; k < shell.count; k++)
            points[entry->count++] = (struct point){
                near_longitude(shell.points[k].x, points[0].x), shell.points[k].y};
        if (entry->count > 2 * entry->hull + HULL_ROOM && !close_hull(entry))
            return false;
    }
    return true;
}

static bool add_roof(struct groups *groups, const struct roof *roof)
{
    bool named = groups->settings.by == GROUPS_BY_COLUMN;
    const char *name = roof->group && *roof->group ? roof->group : NULL;
    uint32_t entry = 0;

    if (groups->settings.by == GROUPS_FITTED) {
        groups->places[groups->roofs++] = place_of(roof);
        return true;
    }
    entry = named ? entry_of(groups, name, (struct square){0, 0})
                  : entry_at(groups, place_of(roof));
    if (entry == NO_GROUP)
        return false;
    groups->of[groups->roofs++] = entry;
    return !named || widen_hull(&groups->entries[entry], roof);
}

static bool make_room(struct groups *groups, size_t more)
{
    void *room = NULL;

    if (groups->settings.by == GROUPS_FITTED) {
        room = grow(groups->places, groups->roofs, more, &groups->place_room,
                    sizeof *groups->places);
        groups->places = room ? room : groups->places;
    } else {
        room =
            grow(groups->of, groups->roofs, more, &groups->of_room, sizeof *groups->of);
        groups->of = room ? room : groups->of;
    }
    return room != NULL;
}

enum outlay_status groups_add(struct groups *groups, const struct building *building,
                              struct outlay_error *err)
{
    if (!make_room(groups, building->roof_count))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t i = 0; i < building->roof_count; i++)
        if (!add_roof(groups, &building->roofs[i]))
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    return OUTLAY_OK;
}

/* ---- Fitting squares -------------------------------------------------------------- */

/* @param[out] fits  whether there are few enough squares of that side */
static bool try_side(struct groups *groups, double side, bool *fits)
{
    groups->settings.side = side;
    drop_entries(groups);
    for (size_t i = 0; i < groups->roofs; i++) {
        groups->of[i] = entry_at(groups, groups->places[i]);
        if (groups->of[i] == NO_GROUP)
            return false;
        *fits = groups->count - (groups->unnamed != NO_GROUP) <= groups->settings.most;
        if (!*fits)
            break;
    }
    return true;
}

static bool fit_squares(struct groups *groups)
{
    static const double steps[] = {1, 2, 5};
    bool fits = groups->roofs == 0, whole = true;
    double power = groups->settings.side / 10;

    groups->of = calloc(groups->roofs + 1, sizeof *groups->of);
    if (!groups->of)
        return false;
    for (int i = 0; whole && !fits; i++) {
        whole = try_side(groups, power * steps[i % 3], &fits);
        power *= i % 3 == 2 ? 10 : 1;
    }
    return whole;
}

/* ---- Sums ------------------------------------------------------------------------- */

static void add_ranked(struct groups *groups, const struct ranking *ranking, size_t row,
                       struct group *group)
{
    const struct ranked *ranked = &ranking->rows[row];
    struct group_measure *measure = &group->measures[ranked->group];

    if (measure->count < GROUP_WORST)
        measure->worst[measure->count] = (uint32_t)row;
    measure->count++;
    measure->scores += ranked->score;
    measure->above += ranked->score >= groups->thresholds[ranked->group];
}

/* Areas are counted in whole steps, so their order doesn't matter. */
static void add_rows(struct groups *groups, const struct ranking *ranking, double step)
{
    for (size_t row = 0; row < ranking->count; row++) {
        const struct ranked *ranked = &ranking->rows[row];
        struct group *group =
            &groups->entries[groups->of[ranked->roof - ranking->first]].group;

        group->roofs++;
        group->apart += ranked->group == RANK_APART;
        group->unknown += ranked->group == RANK_UNKNOWN;
        if (ranked->roof->whole && isfinite(ranked->roof->area))
            group->area += round(ranked->roof->area / step);
        if (ranked->group < GROUP_MEASURES)
            add_ranked(groups, ranking, row, group);
    }
    for (size_t i = 0; i < groups->count; i++)
        groups->entries[i].group.area *= step;
}

static void find_thresholds(struct groups *groups, const struct ranking *ranking)
{
    size_t start = 0;

    for (int i = 0; i < GROUP_MEASURES; i++) {
        size_t count = ranking->counts[i];

        groups->thresholds[i] = count ? ranking->rows[start + (count - 1) / 5].score : 0;
        start += count;
    }
}

static int by_name(const void *left, const void *right)
{
    const struct group *a = &((const struct entry *)left)->group;
    const struct group *b = &((const struct entry *)right)->group;

    if (!a->name || !b->name)
        return !a->name - !b->name;
    if (a->square.row != b->square.row)
        return a->square.row > b->square.row ? -1 : 1;
    if (a->square.column != b->square.column)
        return a->square.column < b->square.column ? -1 : 1;
    return strcmp(a->name, b->name);
}

/* Sorts the groups; the roofs go on finding theirs. */
static bool sort_groups(struct groups *groups)
{
    uint32_t *place = calloc(groups->count + 1, sizeof *place);

    if (!place)
        return false;
    for (size_t i = 0; i < groups->count; i++)
        groups->entries[i].serial = (uint32_t)i;
    if (groups->count)
        qsort(groups->entries, groups->count, sizeof *groups->entries, by_name);
    for (size_t i = 0; i < groups->count; i++)
        place[groups->entries[i].serial] = (uint32_t)i;
    for (size_t i = 0; i < groups->roofs; i++)
        groups->of[i] = place[groups->of[i]];
    free(place);
    return true;
}

enum outlay_status groups_settle(struct groups *groups, const struct ranking *ranking,
                                 double step, struct outlay_error *err)
{
    bool whole = groups->settings.by != GROUPS_FITTED || fit_squares(groups);

    whole = whole && sort_groups(groups);
    for (size_t i = 0; whole && i < groups->count; i++)
        whole = close_hull(&groups->entries[i]);
    if (!whole)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    find_thresholds(groups, ranking);
    add_rows(groups, ranking, step);
    return OUTLAY_OK;
}

size_t groups_count(const struct groups *groups)
{
    return groups->count;
}

const struct group *groups_at(const struct groups *groups, size_t index)
{
    return &groups->entries[index].group;
}

struct ring groups_shape(const struct groups *groups, size_t index,
                         struct point corners[4])
{
    const struct entry *entry = &groups->entries[index];
    struct box box;

    if (groups->settings.by == GROUPS_BY_COLUMN)
        return (struct ring){entry->points, entry->hull};
    box = square_box(groups->settings.side, entry->group.square);
    corners[0] = (struct point){box.min_x, box.min_y};
    corners[1] = (struct point){box.max_x, box.min_y};
    corners[2] = (struct point){box.max_x, box.max_y};
    corners[3] = (struct point){box.min_x, box.max_y};
    return (struct ring){corners, entry->group.name ? 4 : 0};
}

size_t groups_of(const struct groups *groups, size_t roof)
{
    return groups->of[roof];
}

double groups_side(const struct groups *groups)
{
    return groups->settings.by == GROUPS_BY_COLUMN ? 0 : groups->settings.side;
}

uint32_t groups_threshold(const struct groups *groups, int measure)
{
    return groups->thresholds[measure];
}
