#include "geo/offset.h"

#include <math.h>
#include <stdbool.h>

/* a + s u */
static struct point along(struct point a, struct point u, double s)
{
    return (struct point){a.x + s * u.x, a.y + s * u.y};
}

static struct point left_of(struct point u)
{
    return (struct point){-u.y, u.x};
}

/* Unit vector from a to b, which are `length` apart. */
static struct point direction(struct point a, struct point b, double length)
{
    return (struct point){(b.x - a.x) / length, (b.y - a.y) / length};
}

size_t mitre_points(struct point vertex, struct point unit_in, struct point unit_out,
                    double depth, struct point mitre[4])
{
    struct point normal_in = left_of(unit_in);
    struct point normal_out = left_of(unit_out);
    /* cosine and sine of half the turn, from the sum of the normals: stable up to a
     * full turn back */
    double cosine =
        point_distance(normal_in, (struct point){-normal_out.x, -normal_out.y}) / 2;
    double sine = sqrt(fmax(0, 1 - cosine * cosine));

    if (cosine >= 0.5) { /* the tip is no farther than 2 d */
        double reach = depth * sine / cosine;

        mitre[0] = along(along(vertex, normal_in, depth), unit_in, reach);
        return 1;
    }
    double reach = depth * (2 - cosine) / sine;

    mitre[0] = along(along(vertex, normal_in, depth), unit_in, reach);
    mitre[1] = along(along(vertex, normal_out, depth), unit_out, -reach);
    return 2;
}

struct corner {
    struct point vertex;
    struct point in;  /* unit vector of the edge that arrives */
    struct point out; /* and of the one that leaves */
    double in_length;
    double out_length;
};

static bool is_reentrant(const struct corner *c)
{
    return c->in.x * c->out.y - c->in.y * c->out.x < 0;
}

/* How far back along its edges the kite at a vertex reaches: it has its points at the
 * vertex, at the ends of the two offset edges and where these cross. Infinite where it
 * isn't wholly covered: where it reaches past an edge's end, and at sharp vertices. At
 * one that is only a little acute the kite sticks out of the ring by less than depth;
 * should another part of the roof lie there, then the strip of the edge between covers
 * it too. */
static double kite_reach(const struct corner *c, double depth)
{
    double turn = c->in.x * c->out.y - c->in.y * c->out.x;
    double facing = c->in.x * c->out.x + c->in.y * c->out.y;
    double reach = depth * fmax(turn, turn / (1 + facing));

    if (is_reentrant(c))
        return 0;
    return facing >= -0.5 && reach <= c->in_length && reach <= c->out_length ? reach
                                                                             : INFINITY;
}

/* Points of the raw inset at one vertex. Where the kite lies within both rectangles,
 * going to the crossing directly only leaves out a loop over the kite: a point in k
 * kites in a row is covered by k + 1 rectangles, so that what winds positively stays the
 * same. Only when the kites close up to a full circle (a convex ring, deeper than its
 * middle) is one rectangle too few; then one vertex must not take the short cut. */
static size_t inset_points(const struct corner *c, double depth, bool short_cut,
                           struct point points[4])
{
    double turn = c->in.x * c->out.y - c->in.y * c->out.x;
    double facing = c->in.x * c->out.x + c->in.y * c->out.y;

    if (is_reentrant(c))
        return mitre_points(c->vertex, c->in, c->out, depth, points);
    if (short_cut && isfinite(kite_reach(c, depth))) {
        points[0] = along(along(c->vertex, left_of(c->in), depth), c->in,
                          -depth * turn / (1 + facing));
        return 1;
    }
    points[0] = along(c->vertex, left_of(c->in), depth);
    points[1] = c->vertex;
    points[2] = along(c->vertex, left_of(c->out), depth);
    return 3;
}

static struct corner corner_at(struct ring ring, size_t k)
{
    struct point before = ring.points[k == 0 ? ring.count - 1 : k - 1];
    struct point after = ring.points[k + 1 == ring.count ? 0 : k + 1];
    struct corner c = {.vertex = ring.points[k]};

    c.in_length = point_distance(before, c.vertex);
    c.out_length = point_distance(c.vertex, after);
    c.in = direction(before, c.vertex, c.in_length);
    c.out = direction(c.vertex, after, c.out_length);
    return c;
}

/* Whether kites at both ends of some edge overlap. */
static bool kites_overlap(struct ring ring, double depth)
{
    struct corner last = corner_at(ring, ring.count - 1);
    double previous = kite_reach(&last, depth);

    for (size_t k = 0; k < ring.count; k++) {
        struct corner c = corner_at(ring, k);
        double reach = kite_reach(&c, depth);

        if (previous + reach > c.in_length)
            return true;
        previous = reach;
    }
    return false;
}

enum outlay_status ring_inset(struct arena *arena, struct ring ring, double depth,
                              struct ring *out)
{
    bool short_cut = !kites_overlap(ring, depth);

    out->count = 0;
    out->points = arena_array(arena, 4 * ring.count, sizeof *out->points);
    if (!out->points)
        return OUTLAY_E_MEMORY;
    for (size_t k = 0; k < ring.count; k++) {
        struct corner c = corner_at(ring, k);

        out->count += inset_points(&c, depth, short_cut, out->points + out->count);
        short_cut = true; /* one vertex is enough */
    }
    return OUTLAY_OK;
}

enum outlay_status ring_outset(struct arena *arena, struct ring ring, double depth,
                               struct ring *out)
{
    struct ring reversed = {arena_array(arena, ring.count, sizeof *ring.points),
                            ring.count};
    enum outlay_status status = OUTLAY_OK;

    *out = (struct ring){NULL, 0};
    if (!reversed.points)
        return OUTLAY_E_MEMORY;
    for (size_t k = 0; k < ring.count; k++)
        reversed.points[k] = ring.points[ring.count - 1 - k];
    status = ring_inset(arena, reversed, depth, out);
    if (status == OUTLAY_OK)
        ring_reverse(*out);
    return status;
}
