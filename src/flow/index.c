#include "flow/index.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#define XXH_INLINE_ALL
#include <xxhash.h>

/* A position with the key that it is sorted by. */
struct keyed {
    struct text_key key;
    uint32_t position;
};

static enum outlay_status out_of_memory(struct outlay_error *err)
{
    return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}

static struct text_key key_of(const char *text)
{
    if (!text)
        return (struct text_key){0, 0};
    XXH128_hash_t hash = XXH3_128bits(text, strlen(text));
    return (struct text_key){hash.high64, hash.low64};
}

/* Degrees; an outline on both sides of the antimeridian is kept in one piece. */
static struct box outline_box(const struct region *lonlat)
{
    struct box box = region_box(lonlat);
    if (box.max_x - box.min_x <= 180)
        return box;
    box.min_x = INFINITY;
    box.max_x = -INFINITY;
    for (size_t i = 0; i < lonlat->polygon_count; i++) {
        const struct ring *shell = &lonlat->polygons[i].rings[0];
        for (size_t j = 0; j < shell->count; j++) {
            double x = shell->points[j].x;
            x = x < 0 ? x + 360 : x;
            box.min_x = fmin(box.min_x, x);
            box.max_x = fmax(box.max_x, x);
        }
    }
    return box;
}

static void meet_none(struct index_entry *entry)
{
    entry->min_x = entry->min_y = 1;
    entry->max_x = entry->max_y = 0;
}

static void set_box(struct roof_index *index, struct index_entry *entry,
                    const struct region *lonlat)
{
    struct box box = outline_box(lonlat);
    if (!(box.min_x <= box.max_x && box.min_y <= box.max_y)) {
        meet_none(entry);
        return;
    }
    if (!index->has_origin) {
        index->origin = (struct point){box.min_x, box.min_y};
        index->has_origin = true;
    }
    entry->min_x = nextafterf((float)(box.min_x - index->origin.x), -INFINITY);
    entry->min_y = nextafterf((float)(box.min_y - index->origin.y), -INFINITY);
    entry->max_x = nextafterf((float)(box.max_x - index->origin.x), INFINITY);
    entry->max_y = nextafterf((float)(box.max_y - index->origin.y), INFINITY);
}

enum outlay_status index_add(struct roof_index *index, const struct roof *roof,
                             uint64_t offset, struct outlay_error *err)
{
    if (index->count >= INDEX_NONE - 1)
        return outlay_fail(err, OUTLAY_E_LIMIT, "more than 4,000,000,000 roofs");
    if (index->count == index->capacity) {
        size_t capacity = index->capacity + index->capacity / 2 + 1024;
        struct index_entry *grown =
            realloc(index->entries, capacity * sizeof *index->entries);
        if (!grown)
            return out_of_memory(err);
        index->entries = grown;
        index->capacity = capacity;
    }
    struct index_entry *entry = &index->entries[index->count++];
    entry->id = key_of(roof->id);
    entry->building = key_of(roof->building);
    entry->offset = offset;
    entry->area = NAN;
    entry->points = (uint32_t)region_points(&roof->lonlat);
    set_box(index, entry, &roof->lonlat);
    return OUTLAY_OK;
}

void index_settle(struct roof_index *index, const struct roof *roof, double area)
{
    struct index_entry *entry = &index->entries[roof->position];
    entry->area = (float)area;
    if (!roof->whole)
        meet_none(entry);
}

void index_release(struct roof_index *index)
{
    free(index->entries);
    *index = (struct roof_index){0};
}

static bool same_key(struct text_key a, struct text_key b)
{
    return a.high == b.high && a.low == b.low;
}

static int compare_keyed(const void *left, const void *right)
{
    const struct keyed *a = left;
    const struct keyed *b = right;
    if (a->key.high != b->key.high)
        return a->key.high < b->key.high ? -1 : 1;
    if (a->key.low != b->key.low)
        return a->key.low < b->key.low ? -1 : 1;
    return (a->position > b->position) - (a->position < b->position);
}

enum outlay_status index_buildings(const struct roof_index *index, uint32_t **next,
                                   bool **first, struct outlay_error *err)
{
    size_t count = index->count;
    size_t named = 0;
    struct keyed *sorted = malloc((count + 1) * sizeof *sorted);
    *next = malloc((count + 1) * sizeof **next);
    *first = malloc((count + 1) * sizeof **first);
    if (!sorted || !*next || !*first) {
        free(sorted);
        free(*next);
        free(*first);
        *next = NULL;
        *first = NULL;
        return out_of_memory(err);
    }
    for (size_t i = 0; i < count; i++) {
        (*next)[i] = INDEX_NONE;
        (*first)[i] = true;
        struct text_key key = index->entries[i].building;
        if (key.high || key.low)
            sorted[named++] = (struct keyed){key, (uint32_t)i};
    }
    qsort(sorted, named, sizeof *sorted, compare_keyed);
    for (size_t i = 1; i < named; i++)
        if (same_key(sorted[i - 1].key, sorted[i].key)) {
            (*next)[sorted[i - 1].position] = sorted[i].position;
            (*first)[sorted[i].position] = false;
        }
    free(sorted);
    return OUTLAY_OK;
}

static int compare_duplicates(const void *left, const void *right)
{
    const struct duplicate *a = left;
    const struct duplicate *b = right;
    return (a->position > b->position) - (a->position < b->position);
}

/* Turns the sorted keys into the duplicates, at most as many. */
static size_t gather_duplicates(const struct keyed *sorted, size_t count,
                                struct duplicate *out)
{
    size_t found = 0;
    for (size_t from = 0, to; from < count; from = to) {
        for (to = from + 1; to < count && same_key(sorted[from].key, sorted[to].key);)
            to++;
        for (size_t i = from; to - from > 1 && i < to; i++)
            out[found++] = (struct duplicate){sorted[i].position, (uint32_t)(to - from)};
    }
    qsort(out, found, sizeof *out, compare_duplicates);
    return found;
}

enum outlay_status index_duplicates(const struct roof_index *index,
                                    struct duplicate **out, size_t *count,
                                    struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    size_t shared = 0;
    *out = NULL;
    *count = 0;
    struct keyed *sorted = malloc((index->count + 1) * sizeof *sorted);
    if (!sorted)
        return out_of_memory(err);
    for (size_t i = 0; i < index->count; i++)
        sorted[i] = (struct keyed){index->entries[i].id, (uint32_t)i};
    qsort(sorted, index->count, sizeof *sorted, compare_keyed);
    for (size_t i = 1; i < index->count; i++)
        shared += same_key(sorted[i - 1].key, sorted[i].key);
    if (shared) {
        *out = malloc(2 * shared * sizeof **out);
        if (*out)
            *count = gather_duplicates(sorted, index->count, *out);
        else
            status = out_of_memory(err);
    }
    free(sorted);
    return status;
}

/* ---- Order of place -------------------------------------------------------------- */

/* Cells a side of the curve's square. */
#define CURVE_SIDE 65536u

/* How far along the Hilbert curve a cell is: at each scale the quarter that it lies in
 * counts, and that quarter is turned to the first one's direction. */
static uint32_t along_curve(uint32_t x, uint32_t y)
{
    uint32_t along = 0;
    for (uint32_t side = CURVE_SIDE / 2; side > 0; side /= 2) {
        uint32_t right = (x & side) != 0, up = (y & side) != 0;
        along += side * side * ((3 * right) ^ up);
        if (!up) {
            uint32_t kept = right ? CURVE_SIDE - 1 - x : x;
            x = right ? CURVE_SIDE - 1 - y : y;
            y = kept;
        }
    }
    return along;
}

static struct point entry_middle(const struct index_entry *entry)
{
    return (struct point){((double)entry->min_x + (double)entry->max_x) / 2,
                          ((double)entry->min_y + (double)entry->max_y) / 2};
}

static uint64_t curve_key(const struct index_entry *entry, const struct box *box)
{
    struct point middle = entry_middle(entry);
    double scale = (CURVE_SIDE - 1) /
                   fmax(fmax(box->max_x - box->min_x, box->max_y - box->min_y), 1e-9);
    return along_curve((uint32_t)((middle.x - box->min_x) * scale),
                       (uint32_t)((middle.y - box->min_y) * scale));
}

enum outlay_status index_by_place(const struct roof_index *index, uint32_t **order,
                                  struct outlay_error *err)
{
    struct box box = box_empty();
    struct keyed *sorted = malloc((index->count + 1) * sizeof *sorted);
    *order = malloc((index->count + 1) * sizeof **order);
    if (!sorted || !*order) {
        free(sorted);
        free(*order);
        *order = NULL;
        return out_of_memory(err);
    }
    for (size_t i = 0; i < index->count; i++)
        box_add(&box, entry_middle(&index->entries[i]));
    for (size_t i = 0; i < index->count; i++) {
        struct text_key key = {curve_key(&index->entries[i], &box), 0};
        sorted[i] = (struct keyed){key, (uint32_t)i};
    }
    qsort(sorted, index->count, sizeof *sorted, compare_keyed);
    for (size_t i = 0; i < index->count; i++)
        (*order)[i] = sorted[i].position;
    free(sorted);
    return OUTLAY_OK;
}
