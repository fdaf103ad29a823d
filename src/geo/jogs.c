#include "geo/jogs.h"

#include <math.h>
#include <string.h>

/* The least sine of the angle in which two lines meet: 15 degrees; else what moves goes
 * straight over. */
static const double meets = 0.2588;

/* How far an inner side may lie outside of the outer one's line, m: rounding. */
static const double beyond = 1e-3;

/* Lengths that differ by less are equal, m. */
static const double same_length = 1e-6;

/* A ring that may be walked either way, so that one rule serves both ends of a side. */
struct walk {
    struct point *points;
    size_t count;
    bool back;
};

static size_t ahead(const struct walk *walk, size_t from, size_t steps)
{
    steps %= walk->count;
    return (from + (walk->back ? walk->count - steps : steps)) % walk->count;
}

static struct point at(const struct walk *walk, size_t from, size_t steps)
{
    return walk->points[ahead(walk, from, steps)];
}

static struct point between(struct point a, struct point b)
{
    return (struct point){b.x - a.x, b.y - a.y};
}

static double cross(struct point a, struct point b)
{
    return a.x * b.y - a.y * b.x;
}

/* How far a point lies inside the line of a side of this length. */
static double inside(const struct walk *walk, struct point from, struct point side,
                     double length, struct point p)
{
    return (walk->back ? -1 : 1) * cross(side, between(from, p)) / length;
}

/* Whether the side from `from` to the next vertex is the outer one of a jog there. */
static bool is_jog(const struct walk *walk, size_t from, double most)
{
    struct point a = at(walk, from, 0), b = at(walk, from, 1), c = at(walk, from, 2),
                 d = at(walk, from, 3);
    struct point side = between(a, b), step = between(b, c);
    double length = point_distance(a, b), across = point_distance(b, c);
    double near = inside(walk, a, side, length, c),
           far = inside(walk, a, side, length, d);

    return length >= most && across < most && point_distance(c, d) >= most && near > 0 &&
           near < most && far > -beyond && far < most &&
           fabs(cross(side, step)) >= sqrt(0.5) * length * across;
}

/* Where the line of the outer side comes to the side beyond the inner one. */
static struct point drawn_out(const struct walk *walk, size_t from)
{
    struct point a = at(walk, from, 0), d = at(walk, from, 3), e = at(walk, from, 4);
    struct point side = between(a, at(walk, from, 1)), next = between(d, e);
    double sine = cross(side, next), share = 0;

    if (fabs(sine) > meets * sqrt((side.x * side.x + side.y * side.y) *
                                  (next.x * next.x + next.y * next.y)))
        share = cross(next, between(a, d)) / -sine;
    else
        share = ((d.x - a.x) * side.x + (d.y - a.y) * side.y) /
                (side.x * side.x + side.y * side.y);
    return (struct point){a.x + share * side.x, a.y + share * side.y};
}

/* Takes the two vertices of the jog out, and the inner side's end where that comes to lie
 * on the next vertex. */
static void join(struct walk *walk, size_t from)
{
    size_t end = ahead(walk, from, 3), kept = 0;
    struct point to = drawn_out(walk, from);
    bool whole = point_distance(to, at(walk, from, 4)) < same_length;

    walk->points[end] = to;
    for (size_t k = 0; k < walk->count; k++)
        if (k != ahead(walk, from, 1) && k != ahead(walk, from, 2) &&
            !(whole && k == end))
            walk->points[kept++] = walk->points[k];
    walk->count = kept;
}

static double length_ahead(const struct walk *walk, size_t from, size_t steps)
{
    return point_distance(at(walk, from, steps), at(walk, from, steps + 1));
}

/* Whether a jog goes first: of the longer outer side, else by what comes behind it. Only
 * for a shape that looks the same from both does the place in the frame decide. */
static bool goes_first(const struct walk *one, size_t a, const struct walk *other,
                       size_t b)
{
    struct point p = at(one, a, 0), q = at(other, b, 0);

    for (size_t k = 0; k < one->count; k++) {
        double difference = length_ahead(one, a, k) - length_ahead(other, b, k);

        if (fabs(difference) > same_length)
            return difference > 0;
    }
    return p.x != q.x ? p.x < q.x : p.y < q.y;
}

static bool join_first(struct walk *walk, double most)
{
    struct walk ways[2] = {*walk, *walk}, best = *walk;
    size_t first = walk->count;

    ways[1].back = true;
    for (int way = 0; way < 2; way++)
        for (size_t k = 0; k < walk->count && walk->count > 5; k++)
            if (is_jog(&ways[way], k, most) &&
                (first == walk->count || goes_first(&ways[way], k, &best, first))) {
                best = ways[way];
                first = k;
            }
    if (first == walk->count)
        return false;
    join(&best, first);
    walk->count = best.count;
    return true;
}

enum outlay_status ring_without_jogs(struct arena *arena, struct ring ring, double most,
                                     struct ring *out)
{
    struct walk walk = {arena_array(arena, ring.count, sizeof *walk.points), ring.count,
                        false};

    *out = ring;
    if (!walk.points)
        return OUTLAY_E_MEMORY;
    memcpy(walk.points, ring.points, ring.count * sizeof *ring.points);
    while (join_first(&walk, most))
        out->points = walk.points;
    out->count = walk.count;
    return OUTLAY_OK;
}
