/* Which drains stand in a line, and where light goes out from. */

#include <stdlib.h>

#include "base/number.h"
#include "base/units.h"
#include "taper/taper_private.h"

/* Drains within one board of a line stand in it, m. */
static const double board = 4 * M_PER_FT;

/* How far past the end of a chord a drain of its line may stand, m (ours). */
static const double past_end = 0.05;

/* ---- Axes ---- */

static struct point to_local(const struct taper_work *w, struct point p)
{
    double x = p.x - w->origin.x;
    double y = p.y - w->origin.y;

    return (struct point){x * w->along.x + y * w->along.y,
                          y * w->along.x - x * w->along.y};
}

struct point taper_to_frame(const struct taper_work *w, struct point local)
{
    return (struct point){w->origin.x + local.x * w->along.x - local.y * w->along.y,
                          w->origin.y + local.x * w->along.y + local.y * w->along.x};
}

/* The place of a segment that is nearest to a point. */
static struct point nearest_on(struct point a, struct point b, struct point p)
{
    double x = b.x - a.x;
    double y = b.y - a.y;
    double length = x * x + y * y;
    double share = length > 0 ? ((p.x - a.x) * x + (p.y - a.y) * y) / length : 0;

    share = fmin(fmax(share, 0), 1);
    return (struct point){a.x + share * x, a.y + share * y};
}

/* A drain that isn't in the roof is moved to the nearest place of its boundary. */
static struct point moved_in(const struct region *region, struct point p)
{
    struct point best = p;
    double least = INFINITY;
    bool inside = false;

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t r = 0; r < region->polygons[i].ring_count; r++) {
            struct ring ring = region->polygons[i].rings[r];

            for (size_t k = 0; k < ring.count; k++) {
                struct point a = ring.points[k];
                struct point b = ring.points[(k + 1) % ring.count];
                struct point near = nearest_on(a, b, p);

                if ((a.y > p.y) != (b.y > p.y) &&
                    p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x))
                    inside = !inside;
                if (point_distance(near, p) < least) {
                    least = point_distance(near, p);
                    best = near;
                }
            }
        }
    return inside ? p : best;
}

static enum outlay_status into_axes(struct taper_work *w, struct point along)
{
    w->along = along;
    if (region_copy(w->arena, w->place->outline, &w->region) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < w->region.polygon_count; i++)
        for (size_t r = 0; r < w->region.polygons[i].ring_count; r++) {
            struct ring ring = w->region.polygons[i].rings[r];

            for (size_t k = 0; k < ring.count; k++)
                ring.points[k] = to_local(w, ring.points[k]);
        }
    for (size_t i = 0; i < w->place->drain_count; i++)
        w->drains[i] = moved_in(&w->region, to_local(w, w->place->drains[i]));
    return OUTLAY_OK;
}

/* ---- Lines ---- */

static int by_y(const void *a, const void *b)
{
    const struct point *p = a;
    const struct point *q = b;

    if (p->y != q->y)
        return p->y < q->y ? -1 : 1;
    return (p->x > q->x) - (p->x < q->x);
}

/* How many of the drains from `begin` on, sorted by y, stand within one board. */
static size_t line_length(const struct point *drains, size_t begin, size_t count)
{
    size_t end = begin;

    while (end < count && drains[end].y - drains[begin].y <= board)
        end++;
    return end - begin;
}

static size_t count_lines(struct point *drains, size_t count)
{
    size_t lines = 0;

    qsort(drains, count, sizeof *drains, by_y);
    for (size_t i = 0; i < count; i += line_length(drains, i, count))
        lines++;
    return lines;
}

/* Settles the model; two-way turns the axes along the lines. Leaves the drains sorted. */
static enum outlay_status settle_model(struct taper_work *w)
{
    size_t count = w->place->drain_count;
    struct point along = w->along;
    struct point across = {-along.y, along.x};
    size_t lines = 0;
    size_t turned = 0;

    if (into_axes(w, across) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    turned = count_lines(w->drains, count);
    if (into_axes(w, along) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    lines = count_lines(w->drains, count);
    w->out->model = w->settings->model;
    if (w->out->model == TAPER_AUTO) {
        bool one = (lines == 1) != (turned == 1);

        w->out->model = one ? TAPER_TWO_WAY : TAPER_FOUR_WAY;
    }
    if (w->out->model == TAPER_FOUR_WAY || turned >= lines)
        return OUTLAY_OK;
    if (into_axes(w, across) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    qsort(w->drains, count, sizeof *w->drains, by_y);
    return OUTLAY_OK;
}

/* ---- Chords ---- */

static int by_from(const void *a, const void *b)
{
    const struct chord *p = a;
    const struct chord *q = b;

    return (p->from_x > q->from_x) - (p->from_x < q->from_x);
}

/* The stretches of a level in the roof: where cells begin or end at it.
 * @param out  room for two a cell */
static size_t find_chords(const struct slabs *slabs, double y, struct chord *out)
{
    size_t count = 0;
    size_t kept = 0;

    for (size_t i = 0; i < slabs->count; i++)
        for (int side = 0; side < SIDES; side++)
            if (slabs->cells[i].y[side] == y &&
                slabs->cells[i].right[side] > slabs->cells[i].left[side])
                out[count++] = (struct chord){.y = y,
                                              .from_x = slabs->cells[i].left[side],
                                              .to_x = slabs->cells[i].right[side]};
    qsort(out, count, sizeof *out, by_from);
    for (size_t i = 0; i < count; i++)
        if (kept > 0 && out[i].from_x <= out[kept - 1].to_x)
            out[kept - 1].to_x = fmax(out[kept - 1].to_x, out[i].to_x);
        else
            out[kept++] = out[i];
    return kept;
}

static bool is_on(const struct chord *chord, struct point drain)
{
    return drain.x >= chord->from_x - past_end && drain.x <= chord->to_x + past_end;
}

/* How many of a line's drains stand on chords of a level. */
static size_t count_on(const struct chord *chords, size_t chord_count,
                       const struct point *drains, size_t count)
{
    size_t on = 0;

    for (size_t i = 0; i < count; i++)
        for (size_t k = 0; k < chord_count; k++)
            on += is_on(&chords[k], drains[i]);
    return on;
}

/* The level of a line: midway between its outermost drains, or through one of them where
 * that leaves fewer outside, as along a wall. */
static enum outlay_status settle_level(struct taper_work *w, const struct point *drains,
                                       size_t count, double *level)
{
    const double tries[] = {(drains[0].y + drains[count - 1].y) / 2, drains[0].y,
                            drains[count - 1].y};
    size_t most = 0;

    *level = tries[0];
    for (size_t i = 0; i < 3 && most < count; i++) {
        struct chord *chords;
        struct slabs slabs;
        double y = tries[i];
        size_t on = 0;

        if (slabs_cut(w->arena, &w->region, &y, 1, &slabs) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
        chords = arena_array(w->arena, SIDES * slabs.count, sizeof *chords);
        if (!chords)
            return OUTLAY_E_MEMORY;
        on = count_on(chords, find_chords(&slabs, y, chords), drains, count);
        if (on > most) {
            most = on;
            *level = y;
        }
    }
    return OUTLAY_OK;
}

/* Takes a chord over with the drains on it, if there are any. */
static enum outlay_status keep_chord(struct taper_work *w, struct chord chord,
                                     const struct point *drains, size_t count,
                                     bool *taken)
{
    struct source line = {.at = {chord.from_x, chord.y},
                          .to_x = chord.to_x,
                          .root = w->sources.count,
                          .line = true};
    struct source end = {.at = line.at, .root = line.root};
    enum outlay_status status = OUTLAY_OK;

    chord.source = line.root;
    chord.drains = arena_array(w->arena, count, sizeof *chord.drains);
    if (!chord.drains)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < count; i++)
        if (!taken[i] && is_on(&chord, drains[i])) {
            taken[i] = true;
            chord.drains[chord.drain_count++] =
                fmin(fmax(drains[i].x, chord.from_x), chord.to_x);
        }
    if (chord.drain_count == 0)
        return OUTLAY_OK;
    numbers_sort(chord.drains, chord.drain_count);
    w->chords[w->chord_count++] = chord;
    status = sources_add(w->arena, &w->sources, line);
    if (status == OUTLAY_OK)
        status = sources_add(w->arena, &w->sources, end);
    end.at.x = chord.to_x;
    if (status == OUTLAY_OK)
        status = sources_add(w->arena, &w->sources, end);
    return status;
}

/* Levels moved the boundary a little: what stands on it, as scuppers do, goes along. */
static enum outlay_status add_point(struct taper_work *w, struct point drain)
{
    return sources_add(
        w->arena, &w->sources,
        (struct source){.at = moved_in(&w->region, drain), .root = w->sources.count});
}

/* Drains that stand on no chord of their line are drains by themselves. */
static enum outlay_status add_line(struct taper_work *w, double level,
                                   const struct point *drains, size_t count)
{
    struct chord *chords = arena_array(w->arena, SIDES * w->slabs.count, sizeof *chords);
    bool *taken = arena_array(w->arena, count, sizeof *taken);
    enum outlay_status status = OUTLAY_OK;
    size_t chord_count = 0;

    if (!chords || !taken)
        return OUTLAY_E_MEMORY;
    chord_count = find_chords(&w->slabs, level, chords);
    for (size_t k = 0; k < chord_count && status == OUTLAY_OK; k++)
        status = keep_chord(w, chords[k], drains, count, taken);
    for (size_t i = 0; i < count && status == OUTLAY_OK; i++)
        if (!taken[i])
            status = add_point(w, drains[i]);
    return status;
}

static enum outlay_status add_lines(struct taper_work *w)
{
    size_t count = w->place->drain_count;
    double *levels = arena_array(w->arena, count, sizeof *levels);
    enum outlay_status status = OUTLAY_OK;
    size_t lines = 0;

    w->chords = arena_array(w->arena, count, sizeof *w->chords);
    if (!levels || !w->chords)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0, n = 0; i < count && status == OUTLAY_OK; i += n) {
        n = line_length(w->drains, i, count);
        status = settle_level(w, &w->drains[i], n, &levels[lines++]);
    }
    if (status == OUTLAY_OK)
        status = slabs_cut(w->arena, &w->region, levels, lines, &w->slabs);
    for (size_t i = 0, n = 0, k = 0; i < count && status == OUTLAY_OK; i += n) {
        n = line_length(w->drains, i, count);
        status = add_line(w, levels[k++], &w->drains[i], n);
    }
    return status;
}

enum outlay_status drains_place(struct taper_work *w)
{
    enum outlay_status status = OUTLAY_OK;

    w->origin = w->place->drains[0];
    w->along = (struct point){cos(w->place->bearing), sin(w->place->bearing)};
    w->drains = arena_array(w->arena, w->place->drain_count, sizeof *w->drains);
    if (!w->drains || settle_model(w) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    if (w->out->model == TAPER_TWO_WAY)
        return add_lines(w);
    status = slabs_cut(w->arena, &w->region, NULL, 0, &w->slabs);
    for (size_t i = 0; i < w->place->drain_count && status == OUTLAY_OK; i++)
        status = add_point(w, w->drains[i]);
    return status;
}
