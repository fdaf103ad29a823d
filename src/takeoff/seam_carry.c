/* What a row carries: half the way to the next row or base securement on either side, all
 * the way to a joint with another section before it, since nothing holds the joint; each
 * part by the zone it lies in. A row that ends on another one carries what is nearer to
 * it than to that one.
 *
 * Seen from a piece of row, s along it and v square to it, all that lies beside it are
 * straight lines: rows, and edges of zones. Where one of them begins or ends the load may
 * leap; between two such places it is linear in s but where the way's end changes from
 * one row to another or crosses the edge of a zone. So the most is found at these places
 * alone, and nothing is missed between them. A fastener carries the mean over its share
 * of the row, so a leap of a hand's breadth counts for no more than it is. */

#include "takeoff/seam_beside.h"

/* Sine of 20 degrees: rows that slant more towards a joint end there and hold it
 * (ours). */
static const double slant = 0.34;

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

    if (!(length > 0) || line->s[0] > stretch[0] + STRETCH_MIN ||
        line->s[1] < stretch[1] - STRETCH_MIN)
        return false;
    for (int k = 0; k < 2; k++)
        out->v[k] = side * lerp(line->v, (stretch[k] - line->s[0]) / length);
    out->role = line->role;
    return out->v[0] + out->v[1] > 2 * BESIDE_ON_ROW;
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
             middle_of(&side->edges[k + 1]) > middle_of(&side->edges[k]) + BESIDE_ON_ROW))
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
    return (struct point){b->row->from.x + s * b->along.x - v * b->along.y,
                          b->row->from.y + s * b->along.y + v * b->along.x};
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

    return level && edge > 0 && middle <= way_at(beside, 0.5) - BESIDE_ON_ROW &&
           fabs(rise) <= slant * sqrt(rise * rise + run * run) &&
           region_holds(level, point_beside(b, (stretch[0] + stretch[1]) / 2,
                                            side * (middle + JOINT_BEYOND)));
}

/* Whether an edge of a zone comes to within a hair of the row at s. */
static bool edge_passes(const struct beside *b, double s)
{
    for (size_t k = 0; k < b->edges.count; k++) {
        const struct line *edge = &b->edges.items[k];
        double length = edge->s[1] - edge->s[0];

        if (edge->s[0] <= s && s <= edge->s[1] && length > 0 &&
            fabs(lerp(edge->v, (s - edge->s[0]) / length)) <= 2 * BESIDE_ON_ROW)
            return true;
    }
    return false;
}

/* Zones to both sides are the row's own, where no edge of one runs along it. Outside
 * there is nothing: nothing to carry. */
static void side_find(struct beside *b, const double stretch[2], int side,
                      struct side *out)
{
    double s = (stretch[0] + stretch[1]) / 2;
    size_t edge;

    out->role = (int)b->row->zone;
    if (b->row->base && side < 0) /* outlines run with the roof to their left */
        out->role = -1;
    else if (!b->row->base && (b->shared || edge_passes(b, s)))
        out->role = role_at(b->w, point_beside(b, s, side * BESIDE_ON_ROW));
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

static void measure_at(const struct beside *b, double t, struct stretch *most)
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
    most->width = fmax(most->width, width);
    if (!isnan(most->pull) && !(pull <= most->pull))
        most->pull = pull;
}

/* Where a part of one course meets another course; NAN or beyond for nowhere. */
static double meeting(const struct course *a, double part, const struct course *b)
{
    double from = part * a->v[0] - b->v[0];
    double to = part * a->v[1] - b->v[1];

    return from / (from - to);
}

static void side_measure(const struct beside *b, const struct side *side,
                         struct stretch *most)
{
    for (size_t i = 0; i < side->way_count; i++) {
        for (size_t k = 0; k < i; k++)
            measure_at(b, meeting(&side->ways[i], 1, &side->ways[k]), most);
        for (size_t k = 1; k < side->edge_count; k++)
            measure_at(b, meeting(&side->ways[i], 0.5, &side->edges[k]), most);
    }
}

static struct stretch stretch_measure(struct beside *b, double from, double to)
{
    struct stretch most = {from, to, 0, 0};

    for (int k = 0; k < 2; k++)
        side_find(b, (double[2]){from, to}, k == 0 ? 1 : -1, &b->sides[k]);
    measure_at(b, 0, &most);
    measure_at(b, 1, &most);
    for (int k = 0; k < 2; k++)
        side_measure(b, &b->sides[k], &most);
    return most;
}

bool piece_see(struct beside *b, size_t k)
{
    double from = 0;

    if (!beside_see(b, k) || !courses_reserve(b))
        return false;
    b->stretch_count = 0;
    if (b->place_count + 1 > b->stretch_capacity) {
        b->stretch_capacity = 2 * b->place_count + 64;
        b->stretches =
            arena_array(b->w->arena, b->stretch_capacity, sizeof *b->stretches);
        if (!b->stretches)
            return false;
    }
    for (size_t i = 0; i <= b->place_count; i++) {
        double to = i < b->place_count ? b->places[i] : b->length;

        if (to - from < STRETCH_MIN)
            continue;
        b->stretches[b->stretch_count++] = stretch_measure(b, from, to);
        from = to;
    }
    return true;
}

/* Means over a part of the piece. */
static struct stretch mean_over(const struct beside *b, double from, double to)
{
    struct stretch mean = {from, to, 0, 0};

    for (size_t i = 0; i < b->stretch_count && b->stretches[i].from < to; i++) {
        const struct stretch *stretch = &b->stretches[i];
        double length = fmin(to, stretch->to) - fmax(from, stretch->from);

        if (!(length > 0))
            continue;
        mean.width += stretch->width * length / (to - from);
        mean.pull += stretch->pull * length / (to - from);
    }
    return mean;
}

void piece_carries(const struct beside *b, double length, double *width, double *pull)
{
    *width = 0;
    *pull = 0;
    length = fmin(length, b->length);
    for (size_t i = 0; i < 2 * b->stretch_count; i++) {
        const struct stretch *stretch = &b->stretches[i / 2];
        double from = i % 2 ? stretch->to - length : stretch->from;
        struct stretch mean;

        from = fmax(0, fmin(from, b->length - length));
        mean = mean_over(b, from, from + length);
        *width = fmax(*width, mean.width);
        if (!isnan(*pull) && !(mean.pull <= *pull))
            *pull = mean.pull;
    }
}
