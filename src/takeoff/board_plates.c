/* Where the plates of a board go. The rule is our own: like cells, like loads. */

#include "geo/offset.h"
#include "takeoff/board_grid.h"

/* Cells longer than this for their width are given up for unequal rows (ours). */
static const double square_enough = 2.0;

/* How often the edge distance is halved before a narrow piece goes without. */
enum { HALVINGS = 5 };

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

/* Middle of cell i of n between low and high, no nearer to them than edge where they
 * are far enough apart. */
static double cell_middle(double low, double high, int i, int n, double edge)
{
    double keep = fmin(edge, (high - low) / 2);
    double middle = low + (high - low) * (i + 0.5) / n;

    return fmin(fmax(middle, low + keep), high - keep);
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

/* What lies at least depth inside the piece; may be empty. */
static enum outlay_status inset(struct geo_ctx *ctx, struct arena *scratch,
                                const struct region *piece, double depth,
                                struct region *out, struct outlay_error *err)
{
    struct layer_rings rings = {NULL, 0, 0};
    struct overlay overlay = {.rings = &rings, .label = label_positive, .label_count = 1};

    for (size_t r = 0; r < piece->polygons[0].ring_count; r++) {
        struct ring ring;

        if (ring_inset(scratch, piece->polygons[0].rings[r], depth, &ring) != OUTLAY_OK ||
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

enum outlay_status plates_on_piece(struct geo_ctx *ctx, struct arena *scratch,
                                   const struct region *piece, int count, double edge,
                                   struct point *points, struct outlay_error *err)
{
    struct region free = {NULL, 0};
    struct box box = region_box(piece);
    struct rows r = rows_choose(box.max_x - box.min_x, box.max_y - box.min_y, count);
    struct line *lines = arena_array(scratch, (size_t)r.rows, sizeof *lines);
    double total = 0;

    for (int i = 0; edge > 0 && i < HALVINGS && free.polygon_count == 0; i++) {
        enum outlay_status status =
            inset(ctx, scratch, piece, ldexp(edge, -i), &free, err);

        if (status != OUTLAY_OK)
            return status;
    }
    if (!lines || !lines_cut(scratch, &free, lines, r.rows, &total))
        return outlay_fail(err, OUTLAY_E_MEMORY, "placing plates");
    /* All lines may pass between parts of what is left; never so with the whole piece. */
    if (!(total > 0) && !lines_cut(scratch, piece, lines, r.rows, &total))
        return outlay_fail(err, OUTLAY_E_MEMORY, "placing plates");
    lines_fill(lines, r.rows, total, count, points);
    return OUTLAY_OK;
}
