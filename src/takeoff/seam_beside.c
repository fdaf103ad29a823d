/* What lies beside a piece of row, as straight lines: rows, and edges of zones. */

#include "takeoff/seam_beside.h"

#include <string.h>

#include "base/number.h"

/* Sine of 45 degrees: rows that slant more don't run along each other (ours). */
static const double steep = 0.7071;

struct beside *beside_make(struct seam_work *w)
{
    struct beside *b = arena_alloc(w->arena, sizeof *b);

    if (!b)
        return NULL;
    *b = (struct beside){.w = w, .reach = w->full / steep + ROW_APART};
    b->bins = row_bins_make(w);
    return b->bins ? b : NULL;
}

static bool line_add(struct arena *arena, struct lines *lines, const struct line *line)
{
    if (lines->count == lines->capacity) {
        size_t capacity = lines->capacity ? 2 * lines->capacity : 64;
        struct line *more = arena_array(arena, capacity, sizeof *more);

        if (!more)
            return false;
        if (lines->count > 0)
            memcpy(more, lines->items, lines->count * sizeof *more);
        lines->items = more;
        lines->capacity = capacity;
    }
    lines->items[lines->count++] = *line;
    return true;
}

/* Keeps what lies between two bounds of s (or v); false: nothing is left. */
static bool line_clip(double along[2], double other[2], double low, double high)
{
    double d = along[1] - along[0];
    double from = along[0];
    double start = other[0];
    double rise = d != 0 ? (other[1] - other[0]) / d : 0;

    for (int k = 0; k < 2; k++) {
        double at = along[k] < low ? low : along[k] > high ? high : along[k];

        if (at != along[k]) {
            other[k] = start + (at - from) * rise;
            along[k] = at;
        }
    }
    return along[0] != along[1] || (along[0] > low && along[0] < high);
}

static bool place_add(struct beside *b, double s)
{
    if (!(s > 0 && s < b->length))
        return true;
    if (b->place_count == b->place_capacity) {
        size_t capacity = b->place_capacity ? 2 * b->place_capacity : 64;
        double *more = arena_array(b->w->arena, capacity, sizeof *more);

        if (!more)
            return false;
        if (b->place_count > 0)
            memcpy(more, b->places, b->place_count * sizeof *more);
        b->places = more;
        b->place_capacity = capacity;
    }
    b->places[b->place_count++] = s;
    return true;
}

static bool runs_along_row(const struct line *line)
{
    return fabs(line->v[0]) <= 2 * BESIDE_ON_ROW &&
           fabs(line->v[1]) <= 2 * BESIDE_ON_ROW && line->s[1] - line->s[0] > STRETCH_MIN;
}

/* Adds what of a line lies beside the piece and within reach. */
static bool line_put(struct beside *b, struct lines *lines, struct line line,
                     double reach)
{
    if (line.s[0] > line.s[1])
        line = (struct line){{line.s[1], line.s[0]}, {line.v[1], line.v[0]}, line.role};
    if (line.s[1] <= STRETCH_MIN || line.s[0] >= b->length - STRETCH_MIN ||
        (line.v[0] >= reach && line.v[1] >= reach) ||
        (line.v[0] <= -reach && line.v[1] <= -reach) ||
        !line_clip(line.s, line.v, 0, b->length) ||
        !line_clip(line.v, line.s, -reach, reach))
        return true;
    b->shared = b->shared || runs_along_row(&line);
    return line_add(b->w->arena, lines, &line) && place_add(b, line.s[0]) &&
           place_add(b, line.s[1]);
}

/* A point as the piece sees it: x along it, y square to it. */
static struct point point_seen(const struct beside *b, struct point p)
{
    struct point d = {p.x - b->row->from.x, p.y - b->row->from.y};

    return (struct point){dot(b->along, d), b->along.x * d.y - b->along.y * d.x};
}

/* How far a row goes straight on from one end of its piece k, m. */
static double straight_length(const struct seam_work *w, size_t k, bool forward)
{
    const struct row_piece *rows = w->out->rows;
    const struct row_piece *first = &rows[k];
    struct point end = forward ? first->to : first->from;
    double length = point_distance(first->from, first->to);

    for (size_t i = k; length < w->full; end = forward ? rows[i].to : rows[i].from) {
        struct point far;

        if (forward ? i + 1 == w->out->row_count : i == 0)
            break;
        i = forward ? i + 1 : i - 1;
        far = forward ? rows[i].to : rows[i].from;
        if (rows[i].row != first->row ||
            point_distance(end, forward ? rows[i].from : rows[i].to) > BESIDE_ON_ROW ||
            fabs(point_distance(forward ? first->from : first->to, far) - length -
                 point_distance(end, far)) > BESIDE_ON_ROW)
            break;
        length += point_distance(end, far);
    }
    return length;
}

/* A row that ends on this one at s, its direction away from here given, holds what is
 * nearer to it: half the way to either of two lines that part at s. A point x beside s is
 * as far from both rows at the depth c x, c = e.v / (1 + e.s) on the side to which the
 * row leans. */
static bool end_put(struct beside *b, double s, double e_s, double e_v, double length)
{
    double side = e_v > 0 ? 1 : -1;

    for (int k = -1; k <= 1; k += 2) {
        double c = fabs(e_v) / (1 + k * e_s);
        struct line line = {{s, s + k * length}, {0, 2 * side * c * length}, -1};

        if (!line_put(b, &b->rows, line, b->reach))
            return false;
    }
    return true;
}

/* Adds another piece of row. */
static bool row_put(struct beside *b, size_t k)
{
    const struct row_piece *row = &b->w->out->rows[k];
    struct point p = point_seen(b, row->from);
    struct point q = point_seen(b, row->to);
    struct line line = {{p.x, q.x}, {p.y, q.y}, -1};
    double length = point_distance(row->from, row->to);
    int near = fabs(line.v[0]) <= fabs(line.v[1]) ? 0 : 1;
    double e_s = (line.s[!near] - line.s[near]) / length;
    double e_v = (line.v[!near] - line.v[near]) / length;

    if (fabs(line.v[near]) > ROW_APART || fabs(e_v) < steep)
        return line_put(b, &b->rows, line, b->reach);
    if (line.s[near] <= -b->reach || line.s[near] >= b->length + b->reach)
        return true;
    return end_put(b, line.s[near], e_s, e_v, straight_length(b->w, k, near == 0));
}

/* Edges of zones, half as far as rows unless one may be a joint. */
static bool edges_put(struct beside *b)
{
    double reach = b->w->roof->level.outline ? b->reach : b->reach / 2;
    struct box around = box_empty();

    box_add(&around, b->row->from);
    box_add(&around, b->row->to);
    for (size_t i = 0; i < b->w->ring_count; i++) {
        const struct zone_ring *r = &b->w->rings[i];
        struct point p = point_seen(b, r->ring.points[r->ring.count - 1]);

        if (!boxes_near(&r->box, &around, reach))
            continue;
        for (size_t k = 0; k < r->ring.count; k++) {
            struct point q = point_seen(b, r->ring.points[k]);
            struct line line = {{p.x, q.x}, {p.y, q.y}, r->role};

            if (!line_put(b, &b->edges, line, reach))
                return false;
            p = q;
        }
    }
    return true;
}

bool beside_see(struct beside *b, size_t k)
{
    const struct row_piece *row = &b->w->out->rows[k];
    const size_t *near;
    size_t count = row_bins_near(b->w, b->bins, k, b->reach, &near);

    b->length = point_distance(row->from, row->to);
    b->row = row;
    b->along = (struct point){(row->to.x - row->from.x) / b->length,
                              (row->to.y - row->from.y) / b->length};
    b->rows.count = 0;
    b->edges.count = 0;
    b->place_count = 0;
    for (size_t i = 0; i < count; i++)
        if (!row_put(b, near[i]))
            return false;
    b->shared = false;
    if (!edges_put(b))
        return false;
    numbers_sort(b->places, b->place_count);
    return true;
}
