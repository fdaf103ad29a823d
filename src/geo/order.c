#include "geo/order.h"

#include <string.h>

/* Runs that insertion sorts before merging begins. */
enum { RUN = 12 };

static inline bool is_before(const struct order *a, const struct order *b)
{
    if (a->major != b->major)
        return a->major < b->major;
    if (a->minor != b->minor)
        return a->minor < b->minor;
    return a->index < b->index;
}

static void sort_run(struct order *items, size_t count)
{
    for (size_t k = 1; k < count; k++) {
        struct order item = items[k];
        size_t at = k;

        for (; at > 0 && is_before(&item, &items[at - 1]); at--)
            items[at] = items[at - 1];
        items[at] = item;
    }
}

/* Merges two sorted neighbours of `from` into `to`. */
static void merge(const struct order *from, size_t middle, size_t count, struct order *to)
{
    size_t left = 0;
    size_t right = middle;

    for (size_t k = 0; k < count; k++) {
        bool take_left =
            right == count || (left < middle && !is_before(&from[right], &from[left]));

        to[k] = from[take_left ? left++ : right++];
    }
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

bool order_sort(struct arena *arena, struct order *items, size_t count)
{
    struct order *from = items;
    struct order *to = NULL;

    for (size_t start = 0; start < count; start += RUN)
        sort_run(items + start, least(RUN, count - start));
    if (count <= RUN)
        return true;
    to = arena_array(arena, count, sizeof *to);
    if (!to)
        return false;
    for (size_t width = RUN; width < count; width *= 2) {
        struct order *swap = from;

        for (size_t start = 0; start < count; start += 2 * width)
            merge(from + start, least(width, count - start),
                  least(2 * width, count - start), to + start);
        from = to;
        to = swap;
    }
    if (from != items)
        memcpy(items, from, count * sizeof *items);
    return true;
}
