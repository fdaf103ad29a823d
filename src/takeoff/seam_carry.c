/* What a row carries: half the way to the next row or base securement on either side, all
 * the way to a joint with another section before it, since nothing holds the joint; each
 * part by the zone it lies in. A row that ends on another one carries what is nearer to
 * it than to that one.
 *
 * Seen from a piece of row, s along it and v square to it, all that lies beside it are
 * straight lines: rows, and edges of zones. Where one of them begins or ends the load may
 * leap; between two such places it is linear in s but where the way's end changes from
 * one row to another or crosses the edge of a zone. So the most is found at these places
 * alone, and nothing is missed between them. */

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "takeoff/seam_private.h"

/* Sine of 20 degrees: rows that slant more towards a joint end there and hold it
 * (ours). */
static const double slant = 0.34;
/* Sine of 45 degrees: rows that slant more don't run along each other (ours). */
static const double steep = 0.7071;
/* What is nearer to the row's own line lies on it, m. */
static const double on_row = 1e-3;
/* Shorter stretches of row are rounding, m. */
static const double stretch_min = 1e-6;

/* From the lesser s to the greater. */
struct line {
    double s[2], v[2];
    int role; /* of the zone whose edge it is */
};

struct lines {
    struct line *items;
    size_t count, capacity;
};

/* A line over a stretch of row: v at both ends, to one side. */
struct course {
    double v[2];
    double pressure; /* beyond it, Pa */
    int role;
};

/* What lies to one side of a stretch. */
struct side {
    struct course *ways;  /* to the next rows */
    struct course *edges; /* of zones, outward; the first is the row itself */
    size_t way_count, edge_count;
    int role; /* of the zone beside the row, -1 outside */
    bool joint;
    struct course to_joint;
};

struct beside {
    struct seam_work *w;
    struct row_bins *bins;
    double reach; /* no next row is further, slanting as it may, m */
    struct point from, along;
    double length;
    struct lines rows, edges;
    bool touched;   /* the zones beside the piece may change along it */
    double *places; /* where something begins or ends, m along the row */
    size_t place_count, place_capacity;
    struct side sides[2]; /* left, right */
    size_t course_capacity;
    double width, pull; /* greatest so far */
};

struct beside *beside_make(struct seam_work *w)
{
    struct beside *b = arena_alloc(w->arena, sizeof *b);

    if (!b)
        return NULL;
    *b = (struct beside){.w = w, .reach = w->full / steep + ROW_APART};
    b->bins = row_bins_make(w);
    return b->bins ? b : NULL;
}

static double lerp(const double v[2], double t)
{
    return v[0] + t * (v[1] - v[0]);
}

/* ---- Lines beside a piece ---- */

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

static bool touches_row(const struct line *line)
{
    return !(line->v[0] > 2 * on_row && line->v[1] > 2 * on_row) &&
           !(line->v[0] < -2 * on_row && line->v[1] < -2 * on_row);
}

/* Adds what of a line lies beside the piece and within reach. */
static bool line_put(struct beside *b, struct lines *lines, struct line line)
{
    if (line.s[0] > line.s[1])
        line = (struct line){{line.s[1], line.s[0]}, {line.v[1], line.v[0]}, line.role};
    if (line.s[1] <= stretch_min || line.s[0] >= b->length - stretch_min ||
        (line.v[0] >= b->reach && line.v[1] >= b->reach) ||
        (line.v[0] <= -b->reach && line.v[1] <= -b->reach) ||
        !line_clip(line.s, line.v, 0, b->length) ||
        !line_clip(line.v, line.s, -b->reach, b->reach))
        return true;
    b->touched = b->touched || touches_row(&line);
    return line_add(b->w->arena, lines, &line) && place_add(b, line.s[0]) &&
           place_add(b, line.s[1]);
}

/* A point as the piece sees it: x along it, y square to it. */
static struct point point_seen(const struct beside *b, struct point p)
{
    struct point d = {p.x - b->from.x, p.y - b->from.y};

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
            point_distance(end, forward ? rows[i].from : rows[i].to) > on_row ||
            fabs(point_distance(forward ? first->from : first->to, far) - length -
                 point_distance(end, far)) > on_row)
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

        if (!line_put(b, &b->rows, line))
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
        return line_put(b, &b->rows, line);
    if (line.s[near] <= -b->reach || line.s[near] >= b->length + b->reach)
        return true;
    return end_put(b, line.s[near], e_s, e_v, straight_length(b->w, k, near == 0));
}

static bool edges_put(struct beside *b)
{
    for (size_t i = 0; i < b->w->ring_count; i++) {
        const struct zone_ring *r = &b->w->rings[i];
        struct point p = point_seen(b, r->ring.points[r->ring.count - 1]);

        for (size_t k = 0; k < r->ring.count; k++) {
            struct point q = point_seen(b, r->ring.points[k]);
            struct line line = {{p.x, q.x}, {p.y, q.y}, r->role};

            if (!line_put(b, &b->edges, line))
                return false;
            p = q;
        }
    }
    return true;
}

static int place_compare(const void *a, const void *b)
{
    double x = *(const double *)a;
    double y = *(const double *)b;

    return (x > y) - (x < y);
}

static bool beside_see(struct beside *b, size_t k)
{
    const struct row_piece *row = &b->w->out->rows[k];
    const size_t *near;
    size_t count = row_bins_near(b->w, b->bins, k, b->reach, &near);

    b->length = point_distance(row->from, row->to);
    b->from = row->from;
    b->along = (struct point){(row->to.x - row->from.x) / b->length,
                              (row->to.y - row->from.y) / b->length};
    b->rows.count = 0;
    b->edges.count = 0;
    b->place_count = 0;
    for (size_t i = 0; i < count; i++)
        if (!row_put(b, near[i]))
            return false;
    b->touched = false;
    if (!edges_put(b))
        return false;
    if (b->place_count > 0)
        qsort(b->places, b->place_count, sizeof *b->places, place_compare);
    return true;
}

/* ---- A stretch of the piece, between two places ---- */

static bool courses_reserve(struct beside *b)
{
    size_t need = b->rows.count + b->edges.count + 2;

    if (need <= b->course_capacity)
        return true;
    b->course_capacity = 2 * need;
    for (int k = 0; k < 2; k++) {
        b->sides[k].ways =
            arena_array(b->w->arena, b->course_capacity, sizeof(struct course));
        b->sides[k].edges =
            arena_array(b->w->arena, b->course_capacity, sizeof(struct course));
        if (!b->sides[k].ways || !b->sides[k].edges)
            return false;
    }
    return true;
}

/* A line over the whole stretch, seen to one side (1 left, -1 right). False: it isn't
 * there. */
static bool course_of(const struct line *line, const double stretch[2], int side,
                      struct course *out)
{
    double length = line->s[1] - line->s[0];

    if (!(length > 0) || line->s[0] > stretch[0] + stretch_min ||
        line->s[1] < stretch[1] - stretch_min)
        return false;
    for (int k = 0; k < 2; k++)
        out->v[k] = side * lerp(line->v, (stretch[k] - line->s[0]) / length);
    out->role = line->role;
    return out->v[0] + out->v[1] > 2 * on_row;
}

/* Rows to one side, of which none is hidden behind another throughout. */
static void ways_find(struct beside *b, const double stretch[2], int side,
                      struct side *out)
{
    double least = INFINITY;
    size_t kept = 0;

    out->way_count = 0;
    for (size_t k = 0; k < b->rows.count; k++) {
        struct course *way = &out->ways[out->way_count];

        if (!course_of(&b->rows.items[k], stretch, side, way))
            continue;
        least = fmin(least, fmax(way->v[0], way->v[1]));
        out->way_count++;
    }
    for (size_t k = 0; k < out->way_count; k++)
        if (fmin(out->ways[k].v[0], out->ways[k].v[1]) <= least)
            out->ways[kept++] = out->ways[k];
    out->way_count = kept;
}

static double pressure_in(const struct seam_work *w, int role)
{
    const struct zone *zone = role >= 0 ? w->zones[role] : NULL;

    return !zone ? 0 : zone->uplift.known ? zone->uplift.allowable : NAN;
}

static double middle_of(const struct course *course)
{
    return (course->v[0] + course->v[1]) / 2;
}

/* Edges of zones to one side in order, for none crosses another. */
static void edges_find(struct beside *b, const double stretch[2], int side,
                       struct side *out)
{
    out->edge_count = 1;
    out->edges[0] = (struct course){{0, 0}, pressure_in(b->w, out->role), out->role};
    for (size_t k = 0; k < b->edges.count; k++) {
        struct course edge;
        size_t i = out->edge_count;

        if (!course_of(&b->edges.items[k], stretch, side, &edge))
            continue;
        for (; middle_of(&out->edges[i - 1]) > middle_of(&edge); i--)
            out->edges[i] = out->edges[i - 1];
        out->edges[i] = edge;
        out->edge_count++;
    }
}

/* The pressure beyond each edge; what lies outside the roof has that of the zone before
 * it. Returns the first edge beyond which is outside, 0 for none. */
static size_t pressures_find(const struct seam_work *w, struct side *side)
{
    bool in[ZONE_ROLES] = {false};
    size_t out = 0;

    in[side->edges[0].role] = true;
    for (size_t k = 1; k < side->edge_count; k++) {
        int role = 0;

        in[side->edges[k].role] ^= true;
        while (role < ZONE_ROLES && !in[role])
            role++;
        if (role < ZONE_ROLES)
            side->edges[k].pressure = pressure_in(w, role);
        else
            side->edges[k].pressure = side->edges[k - 1].pressure;
        if (role == ZONE_ROLES && out == 0 &&
            (k + 1 == side->edge_count ||
             middle_of(&side->edges[k + 1]) > middle_of(&side->edges[k]) + on_row))
            out = k;
    }
    return out;
}

static double way_at(const struct side *side, double t)
{
    double least = INFINITY;

    for (size_t k = 0; k < side->way_count; k++) {
        double way = lerp(side->ways[k].v, t);

        least = way < least ? way : least;
    }
    return least;
}

/* A point beside the row. */
static struct point point_beside(const struct beside *b, double s, double v)
{
    return (struct point){b->from.x + s * b->along.x - v * b->along.y,
                          b->from.y + s * b->along.y + v * b->along.x};
}

/* Whether an edge before the next row, square to the way within 20 degrees, is shared
 * with another section of the level. */
static bool is_joint(const struct beside *b, const double stretch[2], int side,
                     const struct side *beside, size_t edge)
{
    const struct region *level = b->w->roof->level.outline;
    const struct course *course = &beside->edges[edge];
    double rise = course->v[1] - course->v[0];
    double run = stretch[1] - stretch[0];
    double middle = middle_of(course);

    return level && edge > 0 && middle <= way_at(beside, 0.5) - on_row &&
           fabs(rise) <= slant * sqrt(rise * rise + run * run) &&
           region_holds(level, point_beside(b, (stretch[0] + stretch[1]) / 2,
                                            side * (middle + JOINT_BEYOND)));
}

/* Outside there is nothing: nothing to carry. */
static void side_find(struct beside *b, const double stretch[2], int side,
                      struct side *out)
{
    double s = (stretch[0] + stretch[1]) / 2;
    size_t edge;

    if (b->touched || stretch[0] == 0)
        out->role = role_at(b->w, point_beside(b, s, side * on_row));
    out->way_count = 0;
    out->edge_count = 0;
    out->joint = false;
    if (out->role < 0)
        return;
    ways_find(b, stretch, side, out);
    edges_find(b, stretch, side, out);
    edge = pressures_find(b->w, out);
    out->joint = is_joint(b, stretch, side, out, edge);
    if (out->joint)
        out->to_joint = out->edges[edge];
    if (out->way_count == 0) /* rows that end at a joint hold it */
        out->ways[out->way_count++] = (struct course){{b->w->full, b->w->full}, 0, -1};
}

/* ---- The most that is carried ---- */

/* Width and pull of one side at t, from 0 to 1 along the stretch. */
static void side_carries(const struct side *side, double t, double *width, double *pull)
{
    double half = way_at(side, t) / 2;

    if (side->way_count == 0)
        return;
    if (side->joint)
        half = fmax(half, lerp(side->to_joint.v, t));
    *width += half;
    for (size_t k = 0; k < side->edge_count; k++) {
        double from = fmax(0, lerp(side->edges[k].v, t));
        double to = k + 1 < side->edge_count ? lerp(side->edges[k + 1].v, t) : half;

        if (fmin(to, half) > from)
            *pull += (fmin(to, half) - from) * side->edges[k].pressure;
    }
}

static void measure_at(struct beside *b, double t)
{
    double width = 0;
    double pull = 0;

    if (!(t >= 0 && t <= 1))
        return;
    for (int k = 0; k < 2; k++)
        side_carries(&b->sides[k], t, &width, &pull);
    /* a row that slants carries more across, but no more than a sheet */
    if (!b->sides[0].joint && !b->sides[1].joint)
        width = fmin(width, b->w->full + ROW_APART);
    b->width = fmax(b->width, width);
    if (!isnan(b->pull) && !(pull <= b->pull))
        b->pull = pull;
}

/* Where a part of one course meets another course; NAN or beyond for nowhere. */
static double meeting(const struct course *a, double part, const struct course *b)
{
    double from = part * a->v[0] - b->v[0];
    double to = part * a->v[1] - b->v[1];

    return from / (from - to);
}

static void side_measure(struct beside *b, const struct side *side)
{
    for (size_t i = 0; i < side->way_count; i++) {
        for (size_t k = 0; k < i; k++)
            measure_at(b, meeting(&side->ways[i], 1, &side->ways[k]));
        for (size_t k = 1; k < side->edge_count; k++)
            measure_at(b, meeting(&side->ways[i], 0.5, &side->edges[k]));
    }
}

static void stretch_measure(struct beside *b, const double stretch[2])
{
    for (int k = 0; k < 2; k++)
        side_find(b, stretch, k == 0 ? 1 : -1, &b->sides[k]);
    measure_at(b, 0);
    measure_at(b, 1);
    for (int k = 0; k < 2; k++)
        side_measure(b, &b->sides[k]);
}

bool piece_carries(struct beside *b, size_t k, double *width, double *pull)
{
    double from = 0;

    if (!beside_see(b, k) || !courses_reserve(b))
        return false;
    b->width = 0;
    b->pull = 0;
    for (size_t i = 0; i <= b->place_count; i++) {
        double to = i < b->place_count ? b->places[i] : b->length;

        if (to - from < stretch_min)
            continue;
        stretch_measure(b, (double[2]){from, to});
        from = to;
    }
    *width = b->width;
    *pull = b->pull;
    return true;
}
