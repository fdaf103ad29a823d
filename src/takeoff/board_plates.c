/* Where the plates of a board go. The rule is our own: like cells, like loads. */

#include <string.h>

#include "base/units.h"
#include "geo/offset.h"
#include "takeoff/board_grid.h"

/* Cells longer than this for their width are given up for unequal rows (ours). */
static const double square_enough = 2.0;

/* How often the edge distance is halved before a piece goes without. */
enum { HALVINGS = 5 };

/* Places looked at on each edge of a border. */
enum { BORDER = 4 };

/* Takes the noise off areas, relative: coordinates are exact to 0.1 micrometre, pieces
 * 25 mm wide or more. */
static const double full = 1e-5;

/* How plates fall into rows. */
struct rows {
    int rows;
    int least; /* plates in every row */
    int extra; /* rows with one more, spread alike from both ends */
};

/* Whether row i of `rows` has an extra plate. Extras stand in the middle when they are
 * one, else in pairs from the outer rows inward, an odd one in the middle. */
static bool is_extra(const struct rows *r, int i)
{
    int from_end = i < r->rows - 1 - i ? i : r->rows - 1 - i;

    if (r->extra % 2 == 1 && 2 * i == r->rows - 1)
        return true;
    return from_end < r->extra / 2;
}

static double cell_ratio(double length, double width, const struct rows *r)
{
    double across = width / r->rows;
    double along = length / (r->least + (r->extra > 0 ? 1 : 0));

    return across > along ? across / along : along / across;
}

static struct rows rows_choose(double length, double width, int count)
{
    struct rows best = {1, count, 0};
    double best_ratio = INFINITY;
    bool best_equal = false;

    for (int n = 1; n <= count; n++) {
        struct rows r = {n, count / n, count % n};
        double ratio = cell_ratio(length, width, &r);
        bool equal = r.extra == 0 && (ratio <= square_enough * (1 + 1e-9));

        if (r.extra % 2 == 1 && n % 2 == 0)
            continue; /* not the same from both ends */
        if (count >= 4 && n < 2 && width > length / 4)
            continue; /* one line doesn't hold down the edges of a board */
        if (equal < best_equal)
            continue;
        if (equal > best_equal || ratio <= best_ratio * (1 + 1e-9)) {
            best = r;
            best_ratio = ratio;
            best_equal = equal;
        }
    }
    return best;
}

/* Middle of cell i of n between low and high; where that of the first is nearer to the
 * end than edge, all are moved inward, as far as there is room, and stay as far apart
 * as one another. */
static double cell_middle(double low, double high, int i, int n, double edge)
{
    double keep = fmin(edge, (high - low) / 2);
    double first = (high - low) / (2 * n);

    if (first >= keep || n == 1)
        return low + (2 * i + 1) * first;
    return low + keep + (high - low - 2 * keep) * i / (n - 1);
}

void plates_on_rectangle(struct box box, int count, double edge, struct point *points)
{
    struct rows r = rows_choose(box.max_x - box.min_x, box.max_y - box.min_y, count);
    int placed = 0;

    for (int i = 0; i < r.rows; i++) {
        int in_row = r.least + (is_extra(&r, i) ? 1 : 0);
        double y = cell_middle(box.min_y, box.max_y, i, r.rows, edge);

        for (int k = 0; k < in_row; k++)
            points[placed++] =
                (struct point){cell_middle(box.min_x, box.max_x, k, in_row, edge), y};
    }
}

/* ---- Pieces of any shape ---------------------------------------------------------- */

/* Keeps what lies at least depth to the left of the line from a to b. out has room for
 * one point more. */
static size_t clip_beside(const struct point *in, size_t count, struct point a,
                          struct point b, double depth, struct point *out)
{
    double length = point_distance(a, b);
    size_t kept = 0;

    for (size_t k = 0; k < count; k++) {
        struct point p = in[k];
        struct point q = in[k + 1 == count ? 0 : k + 1];
        double before =
            ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / length - depth;
        double after =
            ((b.x - a.x) * (q.y - a.y) - (b.y - a.y) * (q.x - a.x)) / length - depth;
        double t = before / (before - after);

        if (before >= 0)
            out[kept++] = p;
        if ((before > 0 && after < 0) || (before < 0 && after > 0))
            out[kept++] = (struct point){p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)};
    }
    return kept;
}

/* What of a convex ring lies at least depth inside: cut along a line beside each edge. */
static enum outlay_status inset_convex(struct arena *scratch, struct ring ring,
                                       double depth, struct region *out)
{
    struct point *from = arena_array(scratch, 2 * ring.count, sizeof *from);
    struct point *to = arena_array(scratch, 2 * ring.count, sizeof *to);
    size_t count = ring.count;

    *out = (struct region){arena_array(scratch, 1, sizeof *out->polygons), 0};
    if (!from || !to || !out->polygons)
        return OUTLAY_E_MEMORY;
    memcpy(from, ring.points, count * sizeof *from);
    for (size_t k = 0; k < ring.count && count > 0; k++) {
        struct point a = ring.points[k];
        struct point b = ring.points[(k + 1) % ring.count];
        struct point *swap = from;

        count = clip_beside(from, count, a, b, depth, to);
        from = to;
        to = swap;
    }
    if (count < 3)
        return OUTLAY_OK;
    out->polygons[0] = (struct polygon){arena_array(scratch, 1, sizeof ring), 1};
    if (!out->polygons[0].rings)
        return OUTLAY_E_MEMORY;
    out->polygons[0].rings[0] = (struct ring){from, count};
    out->polygon_count = 1;
    return OUTLAY_OK;
}

/* What lies at least depth inside the piece; may be empty. */
static enum outlay_status inset(struct geo_ctx *ctx, struct arena *scratch,
                                const struct region *piece, double depth,
                                struct region *out, struct outlay_error *err)
{
    const struct polygon *polygon = &piece->polygons[0];
    struct layer_rings rings = {NULL, 0, 0};
    struct overlay overlay = {.rings = &rings, .label = label_positive, .label_count = 1};

    *out = *piece;
    if (!(depth > 0))
        return OUTLAY_OK;
    if (polygon->ring_count == 1 && ring_is_convex(polygon->rings[0]))
        return inset_convex(scratch, polygon->rings[0], depth, out);
    for (size_t r = 0; r < polygon->ring_count; r++) {
        struct ring ring;

        if (ring_inset(scratch, polygon->rings[r], depth, &ring) != OUTLAY_OK ||
            !layer_rings_add(scratch, &rings, ring, 0))
            return outlay_fail(err, OUTLAY_E_MEMORY, "placing plates");
    }
    overlay.grid = grid_for(&rings, 0);
    return arrange(ctx, scratch, &overlay, out, err);
}

/* A line across a region, the parts of it inside. */
struct line {
    double *crossings; /* sorted, two a part */
    size_t count;
    double length; /* of all parts, m */
    double y;
};

static void crossing_insert(struct line *line, double x)
{
    size_t k = line->count++;

    for (; k > 0 && line->crossings[k - 1] > x; k--)
        line->crossings[k] = line->crossings[k - 1];
    line->crossings[k] = x;
}

static bool line_cut(struct arena *scratch, const struct region *region, double y,
                     struct line *line)
{
    *line = (struct line){arena_array(scratch, region_points(region), sizeof(double)), 0,
                          0, y};
    if (!line->crossings)
        return false;
    for (size_t i = 0; i < region->polygon_count; i++) {
        for (size_t r = 0; r < region->polygons[i].ring_count; r++) {
            struct ring ring = region->polygons[i].rings[r];

            for (size_t k = 0; k < ring.count; k++) {
                struct point a = ring.points[k];
                struct point b = ring.points[(k + 1) % ring.count];

                if ((a.y > y) != (b.y > y))
                    crossing_insert(line, a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
            }
        }
    }
    for (size_t k = 0; k + 1 < line->count; k += 2)
        line->length += line->crossings[k + 1] - line->crossings[k];
    return true;
}

/* The point at a distance along the parts of a line. */
static struct point line_point(const struct line *line, double along)
{
    for (size_t k = 0; k + 1 < line->count; k += 2) {
        double part = line->crossings[k + 1] - line->crossings[k];

        if (along <= part || k + 3 >= line->count)
            return (struct point){line->crossings[k] + fmin(along, part), line->y};
        along -= part;
    }
    return (struct point){NAN, line->y};
}

/* Cuts a region by lines of equal distance. @return false when out of memory */
static bool lines_cut(struct arena *scratch, const struct region *region,
                      struct line *lines, int line_count, double *total)
{
    struct box box = region_box(region);

    *total = 0;
    for (int i = 0; i < line_count; i++) {
        double y = cell_middle(box.min_y, box.max_y, i, line_count, 0);

        if (!line_cut(scratch, region, y, &lines[i]))
            return false;
        *total += lines[i].length;
    }
    return true;
}

/* Spreads plates over all lines laid end to end, on each at equal distances. */
static void lines_fill(const struct line *lines, int line_count, double total, int count,
                       struct point *points)
{
    double before = 0;
    int placed = 0;

    for (int i = 0; i < line_count; i++) {
        double upto = before + lines[i].length;
        int in_line = (int)floor(count * upto / total + 0.5) - placed;

        for (int k = 0; k < in_line; k++)
            points[placed + k] =
                line_point(&lines[i], lines[i].length * (k + 0.5) / in_line);
        placed += in_line;
        before = upto;
    }
}

/* Whether no two plates overlap. */
static bool apart(const struct point *points, int count)
{
    for (int i = 0; i < count; i++)
        for (int k = i + 1; k < count; k++)
            if (point_distance(points[i], points[k]) < PLATE_APART * (1 - 1e-9))
                return false;
    return true;
}

/* A piece, and where in it plates may go. */
struct place {
    struct region free;
    struct box box;   /* of the piece */
    bool rectangular; /* the piece fills its box */
    double depth;     /* distance kept from the edges, m */
};

/* Spreads plates over what is free, a rectangle by its own rule.
 * @param[out] placed  false where no line of the rows meets what is free */
static enum outlay_status spread(struct arena *scratch, const struct place *place,
                                 int count, struct point *points, bool *placed)
{
    struct box box = place->rectangular ? place->box : region_box(&place->free);
    struct rows r = rows_choose(box.max_x - box.min_x, box.max_y - box.min_y, count);
    struct line *lines = arena_array(scratch, (size_t)r.rows, sizeof *lines);
    double total = 0;

    *placed = place->rectangular;
    if (place->rectangular) {
        plates_on_rectangle(box, count, place->depth, points);
        return OUTLAY_OK;
    }
    if (!lines || !lines_cut(scratch, &place->free, lines, r.rows, &total))
        return OUTLAY_E_MEMORY;
    *placed = total > 0;
    if (*placed)
        lines_fill(lines, r.rows, total, count, points);
    return OUTLAY_OK;
}

/* Distance from a point to the nearest plate. */
static double nearest(const struct point *points, int count, struct point p)
{
    double least = INFINITY;

    for (int i = 0; i < count; i++)
        least = fmin(least, point_distance(points[i], p));
    return least;
}

/* The place on the border of what is free that is farthest from the plates so far. */
static struct point farthest(const struct region *free, const struct point *points,
                             int count)
{
    struct point best = free->polygons[0].rings[0].points[0];

    for (size_t i = 0; i < free->polygon_count; i++) {
        struct ring ring = free->polygons[i].rings[0];

        for (size_t k = 0; k < BORDER * ring.count; k++) {
            struct point a = ring.points[k / BORDER];
            struct point b = ring.points[(k / BORDER + 1) % ring.count];
            double t = (double)(k % BORDER) / BORDER;
            struct point p = {a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};

            if (nearest(points, count, p) > nearest(points, count, best))
                best = p;
        }
    }
    return best;
}

/* Where lines leave plates too near together, as in the tip of a triangle: each as far
 * from the others as there is room. */
static void spread_out(const struct region *free, int count, struct point *points)
{
    points[0] = free->polygons[0].rings[0].points[0];
    points[0] = farthest(free, points, 1);
    for (int i = 1; i < count; i++)
        points[i] = farthest(free, points, i);
}

/* As many plates as are wanted and fit into what is free, no fewer than the share.
 * @param[out] count  0: not even those fit */
static enum outlay_status fit(struct arena *scratch, const struct place *place,
                              struct plate_need need, struct point *points, int *count)
{
    *count = 0;
    for (int n = need.wanted; n >= need.share && *count == 0; n--) {
        bool placed = false;

        if (spread(scratch, place, n, points, &placed) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
        if (!place->rectangular && !(placed && apart(points, n))) {
            spread_out(&place->free, n, points);
            placed = true;
        }
        if (placed && apart(points, n))
            *count = n;
    }
    return OUTLAY_OK;
}

enum outlay_status plates_on_piece(struct geo_ctx *ctx, struct arena *scratch,
                                   const struct region *piece, struct plate_need need,
                                   double edge, struct point *points, int *count,
                                   struct outlay_error *err)
{
    struct place place = {.free = *piece, .box = region_box(piece)};
    double box_area =
        (place.box.max_x - place.box.min_x) * (place.box.max_y - place.box.min_y);
    enum outlay_status status = OUTLAY_OK;
    bool placed = false;

    place.rectangular = region_area(piece) >= box_area * (1 - full);
    *count = 0;
    for (int i = 0; i <= HALVINGS && *count == 0; i++) {
        place.depth = i < HALVINGS ? ldexp(edge, -i) : 0;
        if (!place.rectangular)
            status = inset(ctx, scratch, piece, place.depth, &place.free, err);
        if (status != OUTLAY_OK)
            return status;
        if (place.free.polygon_count > 0 &&
            fit(scratch, &place, need, points, count) != OUTLAY_OK)
            return outlay_fail(err, OUTLAY_E_MEMORY, "placing plates");
    }
    if (*count > 0)
        return OUTLAY_OK;
    *count = need.share; /* strength goes first */
    if (spread(scratch, &place, *count, points, &placed) != OUTLAY_OK)
        return outlay_fail(err, OUTLAY_E_MEMORY, "placing plates");
    return OUTLAY_OK;
}
