#include "geo/outline.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define DEGREES (3.14159265358979323846 / 180)

/* A vertex that may go, and by how much the boundary would move. */
struct candidate {
    double moves;
    struct point at; /* breaks ties */
    size_t vertex;
    size_t stamp; /* of the vertex's neighbours when this was computed */
};

/* Lengths that differ by less than this share of what they are compared with are equal:
 * rounding must not choose between them, nor the scale. */
static const double same_share = 1e-6;

/* Turns that differ by less are equal, radians. */
static const double same_turn = 1e-6;

/* Longest run of equal moves that is looked through. */
enum { EQUALS_MAX = 64 };

struct thinning {
    const struct point *points;
    double *moves;
    size_t *before;
    size_t *after;
    size_t *stamp; /* grows whenever a neighbour changes */
    bool *gone;
    double same;      /* moves that differ by less are equal, m */
    bool niches_only; /* only vertices that turn outward may go */
    struct candidate *heap;
    size_t heap_count;
};

static bool goes_first(const struct candidate *a, const struct candidate *b)
{
    if (a->moves != b->moves)
        return a->moves < b->moves;
    if (a->at.x != b->at.x)
        return a->at.x < b->at.x;
    return a->at.y < b->at.y;
}

static void heap_push(struct thinning *t, struct candidate item)
{
    size_t k = t->heap_count++;

    for (; k > 0 && goes_first(&item, &t->heap[(k - 1) / 2]); k = (k - 1) / 2)
        t->heap[k] = t->heap[(k - 1) / 2];
    t->heap[k] = item;
}

static struct candidate heap_pop(struct thinning *t)
{
    struct candidate top = t->heap[0];
    struct candidate last = t->heap[--t->heap_count];
    size_t k = 0;

    for (;;) {
        size_t child = 2 * k + 1;

        if (child >= t->heap_count)
            break;
        if (child + 1 < t->heap_count && goes_first(&t->heap[child + 1], &t->heap[child]))
            child++;
        if (!goes_first(&t->heap[child], &last))
            break;
        t->heap[k] = t->heap[child];
        k = child;
    }
    t->heap[k] = last;
    return top;
}

/* Signed distance of p from the line a to b, positive on the left; from a where they
 * coincide. */
static double offset_from(struct point a, struct point b, struct point p)
{
    double dx = b.x - a.x;
    double dy = b.y - a.y;
    double length = sqrt(dx * dx + dy * dy);

    if (length == 0)
        return point_distance(a, p);
    return (dx * (p.y - a.y) - dy * (p.x - a.x)) / length;
}

/* Turn at a vertex, radians, positive to the left. */
static double turn_at(struct point before, struct point vertex, struct point after)
{
    double ax = vertex.x - before.x;
    double ay = vertex.y - before.y;
    double bx = after.x - vertex.x;
    double by = after.y - vertex.y;

    return atan2(ax * by - ay * bx, ax * bx + ay * by);
}

static void consider(struct thinning *t, size_t vertex, double tolerance)
{
    struct candidate item = {0, t->points[vertex], vertex, ++t->stamp[vertex]};
    struct point before = t->points[t->before[vertex]];
    struct point after = t->points[t->after[vertex]];

    item.moves = t->niches_only && turn_at(before, item.at, after) > -same_turn
                     ? HUGE_VAL
                     : segment_distance(item.at, before, after);
    t->moves[vertex] = item.moves;
    if (item.moves < tolerance - t->same)
        heap_push(t, item);
}

static bool thinning_start(struct thinning *t, struct arena *arena, struct ring ring,
                           double tolerance)
{
    size_t n = ring.count;

    t->points = ring.points;
    t->moves = arena_array(arena, n, sizeof *t->moves);
    t->before = arena_array(arena, n, sizeof *t->before);
    t->after = arena_array(arena, n, sizeof *t->after);
    t->stamp = arena_array(arena, n, sizeof *t->stamp);
    t->gone = arena_array(arena, n, sizeof *t->gone);
    t->heap = arena_array(arena, 4 * n, sizeof *t->heap);
    if (!t->moves || !t->before || !t->after || !t->stamp || !t->gone || !t->heap)
        return false;
    for (size_t k = 0; k < n; k++) {
        t->before[k] = k == 0 ? n - 1 : k - 1;
        t->after[k] = k + 1 == n ? 0 : k + 1;
    }
    for (size_t k = 0; k < n; k++)
        consider(t, k, tolerance);
    return true;
}

/* The first, in the ring's direction, of the vertices in a row that move the boundary as
 * little as this one. So equal steps of an arc go the same way at every corner and at any
 * rotation of the roof. A longer run has no corner that would matter, nor a first. */
static size_t first_of_equals(const struct thinning *t, size_t vertex)
{
    size_t first = vertex;

    for (int steps = 0; steps < EQUALS_MAX; steps++) {
        size_t before = t->before[first];

        if (before == vertex || fabs(t->moves[before] - t->moves[vertex]) > t->same)
            return before == vertex ? vertex : first;
        first = before;
    }
    return vertex;
}

static void thinning_remove(struct thinning *t, size_t vertex, double tolerance)
{
    size_t before = t->before[vertex];
    size_t after = t->after[vertex];

    t->gone[vertex] = true;
    t->after[before] = after;
    t->before[after] = before;
    consider(t, before, tolerance);
    consider(t, after, tolerance);
}

static void thinning_run(struct thinning *t, size_t count, double tolerance)
{
    while (t->heap_count > 0 && count > 3) {
        struct candidate next = heap_pop(t);
        size_t first = 0;

        if (t->gone[next.vertex] || next.stamp != t->stamp[next.vertex])
            continue;
        first = first_of_equals(t, next.vertex);
        thinning_remove(t, first, tolerance);
        count--;
        if (first != next.vertex && next.stamp == t->stamp[next.vertex])
            heap_push(t, next); /* its turn comes again */
    }
}

/* How far the vertices between two others lie to the right of the edge joining these. */
static double deviation(struct ring ring, size_t from, size_t to)
{
    double most = 0;

    for (size_t k = from; k != to; k = k + 1 == ring.count ? 0 : k + 1)
        most =
            fmax(most, -offset_from(ring.points[from], ring.points[to], ring.points[k]));
    return most;
}

/* The ring of the vertices that aren't gone. */
static enum outlay_status keep(struct arena *arena, struct ring ring, const bool *gone,
                               struct thin_ring *out)
{
    size_t kept = 0;

    for (size_t k = 0; k < ring.count; k++)
        kept += !gone[k];
    out->ring.points = arena_array(arena, kept, sizeof *out->ring.points);
    out->source = arena_array(arena, kept, sizeof *out->source);
    out->deviation = arena_array(arena, kept, sizeof *out->deviation);
    if (!out->ring.points || !out->source || !out->deviation)
        return OUTLAY_E_MEMORY;
    out->ring.count = 0;
    for (size_t k = 0; k < ring.count; k++) {
        if (gone[k])
            continue;
        out->source[out->ring.count] = k;
        out->ring.points[out->ring.count++] = ring.points[k];
    }
    for (size_t i = 0; i < kept; i++)
        out->deviation[i] =
            deviation(ring, out->source[i], out->source[i + 1 == kept ? 0 : i + 1]);
    return OUTLAY_OK;
}

static enum outlay_status thinned(struct arena *arena, struct ring ring, double tolerance,
                                  bool niches_only, struct thin_ring *out)
{
    struct thinning t = {.same = same_share * tolerance, .niches_only = niches_only};

    memset(out, 0, sizeof *out);
    if (!thinning_start(&t, arena, ring, tolerance))
        return OUTLAY_E_MEMORY;
    thinning_run(&t, ring.count, tolerance);
    return keep(arena, ring, t.gone, out);
}

enum outlay_status ring_thin(struct arena *arena, struct ring ring, double tolerance,
                             struct thin_ring *out)
{
    return thinned(arena, ring, tolerance, false, out);
}

/* ---- Corners ------------------------------------------------------------------ */

/* The point `step` points after k; not more than once round. */
static struct point at(struct ring ring, size_t k, long step)
{
    long count = (long)ring.count;
    long index = (long)k + step;

    if (index < 0)
        index += count;
    else if (index >= count)
        index -= count;
    return ring.points[index];
}

static double ring_turn(struct ring ring, size_t k, long step)
{
    return turn_at(at(ring, k, step - 1), at(ring, k, step), at(ring, k, step + 1));
}

/* Net turn of the ring over the stretch within reach of vertex k along the boundary; of
 * what is farther by a share `fade` of the reach, less counts. */
static double turn_within(struct ring ring, size_t k, double reach, double fade)
{
    double sum = ring_turn(ring, k, 0);

    for (long way = -1; way <= 1; way += 2) {
        double walked = 0;

        for (long step = way; labs(step) < (long)ring.count / 2; step += way) {
            walked += point_distance(at(ring, k, step - way), at(ring, k, step));
            if (walked > reach)
                break;
            sum += (1 - fade * walked / reach) * ring_turn(ring, k, step);
        }
    }
    return sum;
}

/* What decides the kinds of one ring's vertices; arrays are of the ring as traced. */
struct classifier {
    struct ring ring;
    struct thin_ring filled; /* the ring without niches: jogs gone, curves kept */
    double tolerance;
    double window;    /* of rounded corners, m either way */
    double length;    /* of the filled ring, m */
    double *place;    /* of each vertex along the filled ring, m */
    double *sharp;    /* turn within the tolerance, where measured */
    double *rounding; /* turn within the window; 0 near a corner */
    double *peak;     /* the same, what is near counting more */
    bool *gone;       /* isn't in the thinned ring */
    enum vertex_kind *kinds;
};

static void find_places(struct classifier *c)
{
    size_t n = c->ring.count;

    for (size_t i = 0; i < c->filled.ring.count; i++) {
        size_t to = c->filled.source[i + 1 == c->filled.ring.count ? 0 : i + 1];
        struct point from = c->filled.ring.points[i];

        for (size_t k = c->filled.source[i]; k != to; k = k + 1 == n ? 0 : k + 1)
            c->place[k] = c->length + point_distance(from, c->ring.points[k]);
        c->length += point_distance(from, c->ring.points[to]);
    }
}

/* How a ring turns at its vertex k, the traced ring's vertex `traced`. */
static void measure(struct classifier *c, struct ring ring, size_t k, size_t traced)
{
    double *sharp = &c->sharp[traced];
    double *rounding = &c->rounding[traced];
    double *peak = &c->peak[traced];

    *sharp = fmax(*sharp, turn_within(ring, k, c->tolerance, 0));
    *rounding = fmax(*rounding, turn_within(ring, k, c->window, 0));
    *peak = fmax(*peak, turn_within(ring, k, c->window, 1));
}

static bool classifier_start(struct classifier *c, struct arena *arena,
                             const struct thin_ring *thin)
{
    size_t n = c->ring.count;

    c->place = arena_array(arena, n, sizeof *c->place);
    c->sharp = arena_array(arena, n, sizeof *c->sharp);
    c->rounding = arena_array(arena, n, sizeof *c->rounding);
    c->peak = arena_array(arena, n, sizeof *c->peak);
    c->gone = arena_array(arena, n, sizeof *c->gone);
    c->kinds = arena_array(arena, n, sizeof *c->kinds);
    if (!c->place || !c->sharp || !c->rounding || !c->peak || !c->gone || !c->kinds ||
        thinned(arena, c->ring, c->tolerance, true, &c->filled) != OUTLAY_OK)
        return false;
    find_places(c);
    memset(c->gone, true, n * sizeof *c->gone);
    for (size_t k = 0; k < thin->ring.count; k++) {
        c->gone[thin->source[k]] = false;
        measure(c, c->ring, thin->source[k], thin->source[k]);
    }
    for (size_t i = 0; i < c->filled.ring.count; i++)
        measure(c, c->filled.ring, i, c->filled.source[i]);
    return true;
}

/* Whether two vertices are within the window of each other along the filled ring. */
static bool are_near(const struct classifier *c, size_t a, size_t b)
{
    double ahead = fabs(c->place[a] - c->place[b]);

    return fmin(ahead, c->length - ahead) <= c->window;
}

/* What turns near a corner is no corner of its own. */
static void set_corner(struct classifier *c, size_t corner)
{
    c->kinds[corner] = VERTEX_CORNER;
    c->gone[corner] = false;
    for (size_t k = 0; k < c->ring.count; k++)
        if (are_near(c, k, corner))
            c->rounding[k] = 0;
}

/* What the thinned vertices' own turns say: chords of a curve turn, but not as traced. */
static void find_kinds(struct classifier *c, const struct thin_ring *thin)
{
    for (size_t k = 0; k < thin->ring.count; k++) {
        size_t traced = thin->source[k];
        double turn = ring_turn(thin->ring, k, 0);
        double least = fmin(turn, c->sharp[traced]);

        if (least >= 42.5 * DEGREES)
            set_corner(c, traced);
        else if (turn <= -30 * DEGREES)
            c->kinds[traced] = VERTEX_REENTRANT;
        else if (least >= 30 * DEGREES)
            c->kinds[traced] = VERTEX_BEND;
    }
}

/* The vertex in the middle of the sharpest rounding left; of equals in a row the first in
 * the ring's direction. */
static size_t roundest(const struct classifier *c)
{
    size_t n = c->ring.count;
    size_t best = n;

    for (size_t k = 0; k < n; k++)
        if (c->rounding[k] >= 60 * DEGREES &&
            (best == n || c->peak[k] > c->peak[best] + same_turn))
            best = k;
    for (size_t steps = 0; best < n && steps < n; steps++) {
        size_t before = best == 0 ? n - 1 : best - 1;

        if (c->rounding[before] < 60 * DEGREES ||
            c->peak[before] < c->peak[best] - same_turn)
            break;
        best = before;
    }
    return best;
}

/* Rounded corners, the sharpest first: each becomes one corner, and what else bends
 * within its window belongs to it. */
static void find_rounded(struct classifier *c)
{
    for (size_t apex = roundest(c); apex < c->ring.count; apex = roundest(c)) {
        for (size_t k = 0; k < c->ring.count; k++)
            if (c->kinds[k] == VERTEX_BEND && are_near(c, k, apex))
                c->kinds[k] = VERTEX_STRAIGHT;
        set_corner(c, apex);
    }
}

enum vertex_kind *ring_classify(struct arena *arena, struct ring ring,
                                struct thin_ring *thin, double tolerance, double width)
{
    struct classifier c = {.ring = ring,
                           .tolerance = (1 - same_share) * tolerance,
                           .window = (1 + same_share) * 0.15 * width};

    if (!classifier_start(&c, arena, thin))
        return NULL;
    find_kinds(&c, thin);
    find_rounded(&c);
    if (keep(arena, ring, c.gone, thin) != OUTLAY_OK)
        return NULL;
    for (size_t k = 0; k < thin->ring.count; k++)
        c.kinds[k] = c.kinds[thin->source[k]];
    return c.kinds;
}

/* ---- The longest edge ---- */

/* Lengths that differ by less are equal, m. */
static const double same_length = 1e-6;

/* A bend of less doesn't end a straight edge, m (ours). */
static const double bend = 0.01;

static double edge_length(struct ring ring, size_t k)
{
    return point_distance(ring.points[k % ring.count], ring.points[(k + 1) % ring.count]);
}

/* Whether edge a of one ring goes before edge b of another. Only for a shape that looks
 * the same from both does the place in the frame decide. */
static bool edge_before(struct ring one, size_t a, struct ring other, size_t b)
{
    size_t steps = one.count < other.count ? one.count : other.count;

    for (size_t k = 0; k < steps; k++) {
        double difference = edge_length(one, a + k) - edge_length(other, b + k);

        if (fabs(difference) > same_length)
            return difference > 0;
    }
    if (one.points[a].x != other.points[b].x)
        return one.points[a].x < other.points[b].x;
    return one.points[a].y < other.points[b].y;
}

enum outlay_status region_longest_edge(struct arena *arena, const struct region *region,
                                       struct point *from, struct point *to)
{
    struct ring best = {NULL, 0};
    size_t edge = 0;

    for (size_t i = 0; i < region->polygon_count; i++) {
        for (size_t r = 0; r < region->polygons[i].ring_count; r++) {
            struct thin_ring thin;

            if (ring_thin(arena, region->polygons[i].rings[r], bend, &thin) != OUTLAY_OK)
                return OUTLAY_E_MEMORY;
            for (size_t k = 0; k < thin.ring.count; k++) {
                if (best.count == 0 || edge_before(thin.ring, k, best, edge)) {
                    best = thin.ring;
                    edge = k;
                }
            }
        }
    }
    if (best.count > 0) {
        *from = best.points[edge];
        *to = best.points[(edge + 1) % best.count];
    }
    return OUTLAY_OK;
}
