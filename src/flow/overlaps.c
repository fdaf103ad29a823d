/* The search for roofs that may overlap: boxes in order of their western side, each
 * compared with those that begin before it ends. */

#include <math.h>
#include <stdlib.h>

#include "base/grow.h"
#include "flow/index.h"

/* Comparisons at most; some two seconds. */
#define WORK_MAX 2000000000ull

/* Boxes must share more than this both ways, m: neighbours that touch don't. */
#define SEAM 0.02

#define M_PER_DEGREE 111320.0

/* A copy of what the sweep reads, in the order in which it reads it. */
struct swept {
    float min_x, max_x, min_y, max_y;
    uint32_t position;
};

struct pairs {
    struct roof_pair *items;
    size_t count, capacity, most;
};

static int compare_swept(const void *left, const void *right)
{
    const struct swept *a = left;
    const struct swept *b = right;
    if (a->min_x < b->min_x || a->min_x > b->min_x)
        return a->min_x < b->min_x ? -1 : 1;
    return (a->position > b->position) - (a->position < b->position);
}

static int compare_pairs(const void *left, const void *right)
{
    const struct roof_pair *a = left;
    const struct roof_pair *b = right;
    if (a->a != b->a)
        return a->a < b->a ? -1 : 1;
    return (a->b > b->b) - (a->b < b->b);
}

static struct swept *copy_boxes(const struct roof_index *index, size_t *count)
{
    struct swept *boxes = malloc((index->count + 1) * sizeof *boxes);
    *count = 0;
    for (size_t i = 0; boxes && i < index->count; i++) {
        const struct index_entry *entry = &index->entries[i];
        if (entry->min_x <= entry->max_x)
            boxes[(*count)++] = (struct swept){entry->min_x, entry->max_x, entry->min_y,
                                               entry->max_y, (uint32_t)i};
    }
    return boxes;
}

static bool boxes_share(const struct swept *a, const struct swept *b, double latitude0)
{
    double height = fmin(a->max_y, b->max_y) - fmax(a->min_y, b->min_y);
    if (height * M_PER_DEGREE <= SEAM)
        return false;
    double width = fmin(a->max_x, b->max_x) - fmax(a->min_x, b->min_x);
    double latitude = (latitude0 + a->min_y) * (3.14159265358979323846 / 180);
    return width * cos(latitude) * M_PER_DEGREE > SEAM;
}

static enum outlay_status add_pair(struct pairs *pairs, uint32_t a, uint32_t b,
                                   struct outlay_error *err)
{
    struct roof_pair *items =
        grow(pairs->items, pairs->count, 1, &pairs->capacity, sizeof *items);
    if (!items)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    pairs->items = items;
    pairs->items[pairs->count++] =
        a < b ? (struct roof_pair){a, b} : (struct roof_pair){b, a};
    return OUTLAY_OK;
}

static enum outlay_status sweep(const struct swept *boxes, size_t count, double latitude0,
                                struct pairs *pairs, bool *complete,
                                struct outlay_error *err)
{
    unsigned long long work = 0;
    for (size_t i = 0; i < count; i++) {
        const struct swept *a = &boxes[i];
        size_t j = i + 1;
        for (; j < count && boxes[j].min_x < a->max_x; j++) {
            const struct swept *b = &boxes[j];
            if (b->min_y >= a->max_y || b->max_y <= a->min_y ||
                !boxes_share(a, b, latitude0))
                continue;
            if (pairs->count == pairs->most) {
                *complete = false;
                return OUTLAY_OK;
            }
            enum outlay_status status = add_pair(pairs, a->position, b->position, err);
            if (status != OUTLAY_OK)
                return status;
        }
        work += j - i;
        if (work > WORK_MAX) {
            *complete = false;
            return OUTLAY_OK;
        }
    }
    return OUTLAY_OK;
}

enum outlay_status index_box_pairs(const struct roof_index *index, size_t most,
                                   struct roof_pair **out, size_t *count, bool *complete,
                                   struct outlay_error *err)
{
    struct pairs pairs = {.most = most};
    size_t box_count;
    *out = NULL;
    *count = 0;
    *complete = true;
    struct swept *boxes = copy_boxes(index, &box_count);
    if (!boxes)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    qsort(boxes, box_count, sizeof *boxes, compare_swept);
    enum outlay_status status =
        sweep(boxes, box_count, index->origin.y, &pairs, complete, err);
    free(boxes);
    if (status != OUTLAY_OK) {
        free(pairs.items);
        return status;
    }
    if (pairs.count)
        qsort(pairs.items, pairs.count, sizeof *pairs.items, compare_pairs);
    *out = pairs.items;
    *count = pairs.count;
    return OUTLAY_OK;
}
