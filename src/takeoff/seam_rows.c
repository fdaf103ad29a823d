/* Rows: cut by zones, counted in one walk. */

#include <math.h>
#include <string.h>

#include "base/grow.h"
#include "takeoff/seam_private.h"

/* Takes the noise off a ceiling, relative. */
static const double rounding = 1e-9;
/* Steps along a row that are nearly whole are whole: rings come from a grid. */
static const double step_rounding = 1e-5;
/* Ends closer than this are joined, m. */
static const double joint = 1e-4;
/* Plates are up to 3 in wide: screws of a row keep this apart, m. */
static const double plate_width = 0.0762;
/* Most rows between two seams. */
enum { BETWEEN_MAX = 3 };

static const struct zone *zone_for(const struct seam_work *w, int role)
{
    if (role == ZONE_INTERIOR && w->joined && w->zones[ZONE_FIELD])
        return w->zones[ZONE_FIELD];
    for (int k = role; k >= 0; k--)
        if (w->zones[k])
            return w->zones[k];
    return &w->roof->zones[0];
}

double spacing_in(const struct seam_work *w, int role)
{
    double spacing = zone_for(w, role)->attachment.fastener_spacing;

    /* nothing allowed falls on the ribs: counted as dense as may be */
    if (!(spacing > 0))
        spacing = w->assembly->spacings[w->assembly->spacing_count - 1];
    return spacing;
}

int rows_between(const struct seam_work *w, int role, double advance)
{
    const struct zone *zone = zone_for(w, role);
    double row = zone->attachment.row_spacing;
    double load =
        zone->uplift.known ? advance * spacing_in(w, role) * zone->uplift.allowable : 0;
    /* 2.5 spaces, as of 0.4 times the field's, are 3 wherever the sheet lies */
    double spaces = row > 0 ? floor(advance / row + 0.5 + step_rounding) : 0;
    int count = (int)fmin(BETWEEN_MAX, spaces - 1);

    if (!(row > 0) || row > advance * (1 - 1e-6))
        return 0; /* strength was found with the seams alone */
    count = count < 1 ? 1 : count;
    while (count < BETWEEN_MAX &&
           load / (count + 1) > w->roof->fastener_load * (1 + rounding))
        count++;
    return advance / 2 < ROW_APART * 2 ? 0 : count;
}

static bool piece_add(struct seam_work *w, const struct row_piece *piece)
{
    struct layout *out = w->out;
    struct row_piece *rows = NULL;

    rows =
        grow_in(w->arena, out->rows, out->row_count, 1, &w->row_capacity, sizeof *rows);
    if (!rows)
        return false;
    out->rows = rows;
    out->rows[out->row_count++] = *piece;
    return true;
}

static bool plate_add(struct seam_work *w, const struct row_piece *piece, struct point at)
{
    struct layout *out = w->out;
    struct plate *plates = NULL;

    if (!w->settings->place_plates)
        return true;
    plates = grow_in(w->arena, out->plates, out->plate_count, 1, &w->plate_capacity,
                     sizeof *plates);
    if (!plates)
        return false;
    out->plates = plates;
    out->plates[out->plate_count++] = (struct plate){at, piece->zone, piece->row};
    return true;
}

/* A row being walked: its pieces, and where along it each begins. */
struct walk {
    struct row_piece *pieces;
    double *starts; /* count + 1 */
    size_t count;
    size_t at; /* piece of the last screw */
};

static bool screw_put(struct seam_work *w, struct walk *walk, double s)
{
    size_t k = walk->at;
    double length;
    double t;

    while (k + 1 < walk->count && s > walk->starts[k + 1] + joint)
        k++;
    walk->at = k;
    /* on a zone line: the severer zone's */
    if (k + 1 < walk->count && fabs(s - walk->starts[k + 1]) <= joint &&
        walk->pieces[k + 1].zone < walk->pieces[k].zone)
        k++;
    walk->pieces[k].fasteners++;
    length = walk->starts[k + 1] - walk->starts[k];
    t = fmin(1, fmax(0, (s - walk->starts[k]) / length));
    return plate_add(w, &walk->pieces[k],
                     point_between(walk->pieces[k].from, walk->pieces[k].to, t));
}

/* Screws after `from` and up to `to`, `last` included when wanted. One whose plate would
 * lie on the last one's goes halfway between its neighbours. */
static bool run_walk(struct seam_work *w, struct walk *walk, double from, double to,
                     double spacing, bool last)
{
    long steps = to > from ? lround(ceil((to - from) / spacing - step_rounding)) : 0;

    for (long k = 1; k < steps; k++) {
        double s = from + (double)k * spacing;

        if (k + 1 == steps && to - s < plate_width)
            s = (s - spacing + to) / 2;
        if (!screw_put(w, walk, s))
            return false;
    }
    return !last || steps < 1 || screw_put(w, walk, to);
}

/* Where the first screw stands: at most ROW_END from the row's end, nearer where plates
 * would lie on each other. */
static double first_screw(const struct walk *walk)
{
    double total = walk->starts[walk->count];
    double end = fmin(ROW_END, total / 2);
    size_t k = 1;

    if (walk->pieces[0].closed)
        return 0;
    if (total > 2 * ROW_END)
        end = fmin(end, (total - plate_width) / 2);
    while (k < walk->count && walk->pieces[k].spacing == walk->pieces[0].spacing)
        k++;
    if (k < walk->count && walk->starts[k] > end && walk->starts[k] < total - end)
        end = fmin(end, walk->starts[k] - plate_width);
    return end;
}

/* Where the last screw stands, likewise; that of a ring is its first. */
static double last_screw(const struct walk *walk)
{
    double total = walk->starts[walk->count];
    double end = total - fmin(ROW_END, total / 2);
    size_t k = walk->count - 1;

    if (walk->pieces[0].closed)
        return total;
    if (total > 2 * ROW_END)
        end = fmax(end, (total + plate_width) / 2);
    while (k > 0 && walk->pieces[k - 1].spacing == walk->pieces[walk->count - 1].spacing)
        k--;
    if (k > 0 && walk->starts[k] < end && walk->starts[k] > total - end)
        end = fmax(end, walk->starts[k] + plate_width);
    return end;
}

/* Counts `count` pieces from `first` on as one row. */
static bool row_count(struct seam_work *w, size_t first, size_t count)
{
    struct walk walk = {w->out->rows + first, NULL, count, 0};
    bool closed = walk.pieces[0].closed;
    double first_at;
    double last_at;
    size_t k = 0;

    walk.starts = arena_array(w->arena, walk.count + 1, sizeof *walk.starts);
    if (!walk.starts)
        return false;
    for (size_t i = 0; i < walk.count; i++)
        walk.starts[i + 1] =
            walk.starts[i] + point_distance(walk.pieces[i].from, walk.pieces[i].to);
    first_at = first_screw(&walk);
    last_at = last_screw(&walk);
    if (!screw_put(w, &walk, first_at))
        return false;
    while (k < walk.count) {
        double from = fmax(walk.starts[k], first_at);
        double spacing = walk.pieces[k].spacing;

        while (k < walk.count && walk.pieces[k].spacing == spacing)
            k++;
        if (!run_walk(w, &walk, from, fmin(walk.starts[k], last_at), spacing,
                      !closed || k < walk.count))
            return false;
    }
    return true;
}

bool rows_count(struct seam_work *w)
{
    size_t end = 0;

    for (size_t first = 0; first < w->out->row_count; first = end) {
        for (end = first; end < w->out->row_count; end++)
            if (w->out->rows[end].row != w->out->rows[first].row)
                break;
        if (!w->out->rows[first].held && !row_count(w, first, end - first))
            return false;
    }
    return true;
}

void rows_drop_held(struct seam_work *w)
{
    size_t kept = 0;

    for (size_t k = 0; k < w->out->row_count; k++)
        if (!w->out->rows[k].held)
            w->out->rows[kept++] = w->out->rows[k];
    w->out->row_count = kept;
}

static struct row_piece piece_of(const struct seam_work *w, struct point a,
                                 struct point b, const struct span *span, bool base)
{
    return (struct row_piece){
        .base = base,
        .zone = (enum zone_role)span->role,
        .from = point_between(a, b, span->from),
        .to = point_between(a, b, span->to),
        .spacing = base ? BASE_SPACING : spacing_in(w, span->role),
        .tributary = NAN,
        .load = NAN,
    };
}

/* Whether one row ends between two pieces. */
static bool is_break(const struct row_piece *before, const struct row_piece *after)
{
    return before->held != after->held || point_distance(before->to, after->from) > joint;
}

/* Makes rows of pieces that stand in order; a gap ends a row. What is shorter than
 * ROW_APART needs no row. */
static bool pieces_to_rows(struct seam_work *w, const struct row_piece *pieces,
                           size_t count, bool closed)
{
    size_t k = 0;

    while (k < count) {
        size_t first = w->out->row_count;
        double length = 0;

        do {
            if (!piece_add(w, &pieces[k]))
                return false;
            w->out->rows[w->out->row_count - 1].row = w->next_row;
            w->out->rows[w->out->row_count - 1].closed = closed;
            length += point_distance(pieces[k].from, pieces[k].to);
            k++;
        } while (k < count && !is_break(&pieces[k - 1], &pieces[k]));
        if (length < ROW_APART && !pieces[k - 1].base) {
            w->out->row_count = first;
            continue;
        }
        w->next_row++;
    }
    return true;
}

/* A straight row that is being cut; parameters from 0 at a to 1 at b. */
struct cutting {
    struct point a, b;
    bool base;
    int wanted;       /* only in zones that need so many rows between seams; 0: in all */
    double apart;     /* a row between seams runs so far on into milder zones */
    const int *needs; /* rows between seams in each span */
    size_t spans;
    struct row_piece *pieces;
    size_t count;
};

static void part_put(const struct seam_work *w, struct cutting *c, size_t k, double from,
                     double to)
{
    struct span part = {from, to, w->spans[k].role};

    if (!(to > from))
        return;
    c->pieces[c->count] = piece_of(w, c->a, c->b, &part, c->base);
    c->pieces[c->count++].intermediate = c->wanted > 0;
}

/* How far a row runs into span k from a zone before it that needs it. */
static double entered_from_before(const struct seam_work *w, const struct cutting *c,
                                  size_t k)
{
    const struct span *spans = w->spans;

    for (size_t i = k; i > 0 && spans[i - 1].to == spans[i].from; i--)
        if (c->needs[i - 1] >= c->wanted)
            return c->needs[i - 1] > c->wanted
                       ? spans[k].from
                       : fmin(spans[k].to, fmax(spans[k].from, spans[i].from + c->apart));
    return spans[k].from;
}

/* The same from a zone behind it. */
static double entered_from_behind(const struct seam_work *w, const struct cutting *c,
                                  size_t k)
{
    const struct span *spans = w->spans;

    for (size_t i = k; i + 1 < c->spans && spans[i + 1].from == spans[i].to; i++)
        if (c->needs[i + 1] >= c->wanted)
            return c->needs[i + 1] > c->wanted
                       ? spans[k].to
                       : fmax(spans[k].from, fmin(spans[k].to, spans[i].to - c->apart));
    return spans[k].to;
}

/* The sheet past a row's end hangs on its last screw, so rows between seams don't end
 * with the zone that needs them. */
static void span_cut(const struct seam_work *w, struct cutting *c, size_t k)
{
    const struct span *span = &w->spans[k];
    double until = span->to;
    double since = span->to;

    if (c->wanted > 0 && c->needs[k] != c->wanted) {
        if (c->needs[k] > c->wanted)
            return;
        until = entered_from_before(w, c, k);
        since = entered_from_behind(w, c, k);
    }
    if (since < until)
        until = since;
    part_put(w, c, k, span->from, until);
    part_put(w, c, k, since, span->to);
}

/* A straight row; where `wanted` isn't 0, only in zones that need that many rows between
 * seams `advance` apart, and one row spacing beyond. */
static bool straight_add(struct seam_work *w, struct point a, struct point b,
                         const struct clip *clip, double advance, int wanted)
{
    struct cutting c = {.a = a, .b = b, .base = clip->edge, .wanted = wanted};
    int *needs = NULL;

    if (!clip_segment(w, a, b, clip, &c.spans))
        return false;
    c.pieces = arena_array(w->arena, 2 * c.spans + 1, sizeof *c.pieces);
    needs = arena_array(w->arena, c.spans + 1, sizeof *needs);
    if (!c.pieces || !needs)
        return false;
    c.apart = advance / (wanted + 1) / point_distance(a, b);
    for (size_t k = 0; k < c.spans && wanted > 0; k++)
        needs[k] = rows_between(w, w->spans[k].role, advance);
    c.needs = needs;
    for (size_t k = 0; k < c.spans; k++)
        span_cut(w, &c, k);
    return pieces_to_rows(w, c.pieces, c.count, false);
}

bool row_add(struct seam_work *w, struct point a, struct point b, const struct clip *clip)
{
    return straight_add(w, a, b, clip, 0, 0);
}

/* Whether some zone needs that many rows between seams. */
static bool rows_wanted(const struct seam_work *w, double advance, int wanted)
{
    for (size_t i = 0; i < w->roof->zone_count; i++)
        if (rows_between(w, (int)w->roof->zones[i].role, advance) == wanted)
            return true;
    return false;
}

bool rows_add_between(struct seam_work *w, struct point a, struct point b, double advance,
                      const struct clip *clip)
{
    for (int wanted = 1; wanted <= BETWEEN_MAX; wanted++)
        for (int k = 1; k <= wanted && rows_wanted(w, advance, wanted); k++) {
            double v = advance * k / (wanted + 1);
            struct point from = {a.x + v * w->across.x, a.y + v * w->across.y};
            struct point to = {b.x + v * w->across.x, b.y + v * w->across.y};

            if (!straight_add(w, from, to, clip, advance, wanted))
                return false;
        }
    return true;
}

/* Where a walk round begins: after a gap, else where the spacing changes, else at the
 * westernmost (then southernmost) piece. */
static size_t ring_start(const struct row_piece *pieces, size_t count, bool *closed)
{
    size_t change = count;
    size_t west = 0;

    *closed = true;
    for (size_t k = 0; k < count; k++) {
        const struct row_piece *last = &pieces[k == 0 ? count - 1 : k - 1];
        struct point p = pieces[k].from;
        struct point q = pieces[west].from;

        if (is_break(last, &pieces[k])) {
            *closed = false;
            return k;
        }
        if (last->spacing != pieces[k].spacing && change == count)
            change = k;
        if (p.x < q.x || (p.x == q.x && p.y < q.y))
            west = k;
    }
    return change < count ? change : west;
}

bool ring_row_add(struct seam_work *w, struct ring ring, const enum hold *holds,
                  const struct clip *clip)
{
    struct row_piece *pieces = NULL;
    struct row_piece *turned = NULL;
    size_t count = 0;
    size_t capacity = 0;
    size_t start;
    bool closed;

    for (size_t k = 0; k < ring.count; k++) {
        struct point a = ring.points[k];
        struct point b = ring.points[k + 1 == ring.count ? 0 : k + 1];
        size_t spans = 0;

        if (holds && holds[k] == HOLD_NOTHING)
            continue;
        if (!clip_segment(w, a, b, clip, &spans))
            return false;
        pieces = grow_in(w->arena, pieces, count, spans, &capacity, sizeof *pieces);
        if (!pieces)
            return false;
        for (size_t s = 0; s < spans; s++) {
            pieces[count] = piece_of(w, a, b, &w->spans[s], clip->edge);
            pieces[count++].held = holds && holds[k] == HOLD_METAL;
        }
    }
    if (count == 0)
        return true;
    start = ring_start(pieces, count, &closed);
    turned = arena_array(w->arena, count, sizeof *turned);
    if (!turned)
        return false;
    for (size_t k = 0; k < count; k++)
        turned[k] = pieces[(start + k) % count];
    return pieces_to_rows(w, turned, count, closed);
}
