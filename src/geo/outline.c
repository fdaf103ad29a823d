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

/* Moves that differ by less are equal, m: rounding must not choose between them. */
static const double same_move = 1e-6;

/* Longest run of equal moves that is looked through. */
enum { EQUALS_MAX = 64 };

struct thinning {
    const struct point *points;
    double *moves;
    size_t *before;
    size_t *after;
    size_t *stamp; /* grows whenever a neighbour changes */
    bool *gone;
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

static double distance_to_segment(struct point a, struct point b, struct point p)
{
    double dx = b.x - a.x;
    double dy = b.y - a.y;
    double length2 = dx * dx + dy * dy;
    double t = length2 > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / length2 : 0;

    t = fmin(1, fmax(0, t));
    return point_distance(p, (struct point){a.x + t * dx, a.y + t * dy});
}

static void consider(struct thinning *t, size_t vertex, double tolerance)
{
    struct candidate item = {0, t->points[vertex], vertex, ++t->stamp[vertex]};

    item.moves = distance_to_segment(t->points[t->before[vertex]],
                                     t->points[t->after[vertex]], item.at);
    t->moves[vertex] = item.moves;
    if (item.moves < tolerance - same_move)
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

        if (before == vertex || fabs(t->moves[before] - t->moves[vertex]) > same_move)
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

static size_t thinning_run(struct thinning *t, size_t count, double tolerance)
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
    return count;
}

/* How far the vertices left out after `from` lie to the right of the edge. */
static double deviation(const struct thinning *t, size_t from, size_t count)
{
    size_t to = t->after[from];
    double most = 0;

    for (size_t k = (from + 1) % count; k != to; k = (k + 1) % count)
        most = fmax(most, -offset_from(t->points[from], t->points[to], t->points[k]));
    return most;
}

enum outlay_status ring_thin(struct arena *arena, struct ring ring, double tolerance,
                             struct thin_ring *out)
{
    struct thinning t = {.heap_count = 0};
    size_t kept = 0;

    memset(out, 0, sizeof *out);
    if (!thinning_start(&t, arena, ring, tolerance))
        return OUTLAY_E_MEMORY;
    kept = thinning_run(&t, ring.count, tolerance);
    out->ring.points = arena_array(arena, kept, sizeof *out->ring.points);
    out->source = arena_array(arena, kept, sizeof *out->source);
    out->deviation = arena_array(arena, kept, sizeof *out->deviation);
    if (!out->ring.points || !out->source || !out->deviation)
        return OUTLAY_E_MEMORY;
    for (size_t k = 0; k < ring.count; k++) {
        if (t.gone[k])
            continue;
        out->ring.points[out->ring.count] = ring.points[k];
        out->source[out->ring.count] = k;
        out->deviation[out->ring.count++] = deviation(&t, k, ring.count);
    }
    return OUTLAY_OK;
}

/* Turns that differ by less are equal, radians. */
static const double same_turn = 1e-6;

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

/* Turn at a vertex, radians, positive to the left. */
static double turn_at(struct point before, struct point vertex, struct point after)
{
    double ax = vertex.x - before.x;
    double ay = vertex.y - before.y;
    double bx = after.x - vertex.x;
    double by = after.y - vertex.y;

    return atan2(ax * by - ay * bx, ax * bx + ay * by);
}

static double ring_turn(struct ring ring, size_t k, long step)
{
    return turn_at(at(ring, k, step - 1), at(ring, k, step), at(ring, k, step + 1));
}

/* Net turn of the ring over the stretch within reach of vertex k along the boundary. */
static double turn_within(struct ring ring, size_t k, double reach)
{
    double sum = ring_turn(ring, k, 0);

    for (long way = -1; way <= 1; way += 2) {
        double walked = 0;

        for (long step = way; labs(step) < (long)ring.count / 2; step += way) {
            struct point a = at(ring, k, step - way);
            struct point b = at(ring, k, step);

            walked += point_distance(a, b);
            if (walked > reach)
                break;
            sum += ring_turn(ring, k, step);
        }
    }
    return sum;
}

/* What decides the kinds of one ring's vertices. */
struct classifier {
    struct ring ring; /* as traced */
    const struct thin_ring *thin;
    double tolerance;
    double window;    /* of rounded corners, m either way */
    double *place;    /* of each thinned vertex along the traced ring, m */
    double length;    /* of the traced ring, m */
    double *rounding; /* turn within the window at each thinned vertex */
    enum vertex_kind *kinds;
};

static bool classifier_start(struct classifier *c, struct arena *arena)
{
    size_t n = c->thin->ring.count;
    size_t next = 0;

    c->place = arena_array(arena, n, sizeof *c->place);
    c->rounding = arena_array(arena, n, sizeof *c->rounding);
    c->kinds = arena_array(arena, n, sizeof *c->kinds);
    if (!c->place || !c->rounding || !c->kinds)
        return false;
    for (size_t k = 0; k < c->ring.count; k++) {
        if (next < n && c->thin->source[next] == k)
            c->place[next++] = c->length;
        c->length += point_distance(at(c->ring, k, 0), at(c->ring, k, 1));
    }
    for (size_t k = 0; k < n; k++)
        c->rounding[k] = turn_within(c->ring, c->thin->source[k], c->window);
    return true;
}

/* Distance of two thinned vertices along the traced ring, the shorter way, m. */
static double apart(const struct classifier *c, size_t a, size_t b)
{
    double ahead = fabs(c->place[a] - c->place[b]);

    return fmin(ahead, c->length - ahead);
}

/* A vertex whose own turn says enough. */
static enum vertex_kind kind_by_turn(const struct classifier *c, size_t k)
{
    double turn = ring_turn(c->thin->ring, k, 0);

    if (turn >= 42.5 * DEGREES &&
        turn_within(c->ring, c->thin->source[k], c->tolerance) >= 42.5 * DEGREES)
        return VERTEX_CORNER;
    if (turn <= -30 * DEGREES)
        return VERTEX_REENTRANT;
    return turn >= 30 * DEGREES ? VERTEX_BEND : VERTEX_STRAIGHT;
}

static bool corner_within(const struct classifier *c, size_t k)
{
    for (size_t i = 0; i < c->thin->ring.count; i++)
        if (c->kinds[i] == VERTEX_CORNER && apart(c, i, k) <= c->window)
            return true;
    return false;
}

/* The vertex where the boundary turns most, of those that turn by 60 degrees within the
 * window without a corner there; of equals the first in the ring's direction. */
static size_t roundest(const struct classifier *c)
{
    size_t n = c->thin->ring.count;
    size_t best = n;

    for (size_t k = 0; k < n; k++) {
        if (c->rounding[k] < 60 * DEGREES || corner_within(c, k))
            continue;
        if (best == n || c->rounding[k] > c->rounding[best] + same_turn)
            best = k;
    }
    for (size_t steps = 0; best < n && steps < n; steps++) {
        size_t before = best == 0 ? n - 1 : best - 1;

        if (c->rounding[before] < c->rounding[best] - same_turn ||
            apart(c, before, best) > c->window || corner_within(c, before))
            break;
        best = before;
    }
    return best;
}

/* Rounded corners, the sharpest first: each becomes one corner, and what else bends
 * within its window belongs to it. */
static void find_rounded(struct classifier *c)
{
    size_t n = c->thin->ring.count;

    for (size_t corner = roundest(c); corner < n; corner = roundest(c)) {
        for (size_t k = 0; k < n; k++)
            if (apart(c, k, corner) <= c->window && c->kinds[k] == VERTEX_BEND)
                c->kinds[k] = VERTEX_STRAIGHT;
        c->kinds[corner] = VERTEX_CORNER;
    }
}

enum vertex_kind *ring_classify(struct arena *arena, struct ring ring,
                                const struct thin_ring *thin, double tolerance,
                                double width)
{
    struct classifier c = {
        .ring = ring, .thin = thin, .tolerance = tolerance, .window = 0.15 * width};

    if (!classifier_start(&c, arena))
        return NULL;
    for (size_t k = 0; k < thin->ring.count; k++)
        c.kinds[k] = kind_by_turn(&c, k);
    find_rounded(&c);
    return c.kinds;
}
