#include "write/roll_ends.h"

#include <math.h>
#include <stdlib.h>

/* A run is as long as a sheet's when it differs by no more, m. */
static const double alike = 0.01;

/* ---- A sheet's axis ---- */

/* The polygon of a sheet that is as long as the sheet is, and its direction. */
struct run {
    const struct polygon *polygon;
    struct point origin, along; /* along: unit vector */
};

static double along_of(const struct run *run, struct point p)
{
    return (p.x - run->origin.x) * run->along.x + (p.y - run->origin.y) * run->along.y;
}

/* How far a polygon reaches along the run, from the origin. */
static void reach(const struct run *run, double *least, double *most)
{
    struct ring shell = run->polygon->rings[0];

    *least = INFINITY;
    *most = -INFINITY;
    for (size_t k = 0; k < shell.count; k++) {
        double here = along_of(run, shell.points[k]);

        *least = fmin(*least, here);
        *most = fmax(*most, here);
    }
}

static bool fits(struct run *run, struct point along, double length, double width)
{
    struct run across = {run->polygon, run->origin, {-along.y, along.x}};
    double least, most, low, high;

    run->along = along;
    reach(run, &least, &most);
    reach(&across, &low, &high);
    if (fabs(most - least - length) > alike || high - low > width + alike)
        return false;
    run->origin.x += along.x * least;
    run->origin.y += along.y * least;
    return true;
}

/* Sheets run as the layout does, half sheets in frames along edges of their own. */
static bool polygon_runs(struct run *run, const struct sheet *sheet, double bearing)
{
    struct point main = {cos(bearing), sin(bearing)};
    struct ring shell = run->polygon->rings[0];

    run->origin = shell.points[0];
    if (fits(run, main, sheet->length, sheet->width))
        return true;
    for (size_t k = 0; k < shell.count; k++) {
        struct point a = shell.points[k], b = shell.points[(k + 1) % shell.count];
        double length = point_distance(a, b);
        double sign = (b.x - a.x) * main.x + (b.y - a.y) * main.y < 0 ? -1 : 1;
        struct point along = {sign * (b.x - a.x) / length, sign * (b.y - a.y) / length};

        if (length > alike && fits(run, along, sheet->length, sheet->width))
            return true;
    }
    return false;
}

static bool find_run(struct run *run, const struct sheet *sheet, double bearing)
{
    for (size_t i = 0; i < sheet->region.polygon_count; i++) {
        run->polygon = &sheet->region.polygons[i];
        if (polygon_runs(run, sheet, bearing))
            return true;
    }
    return false;
}

/* The line across the polygon. @return false where it meets nothing */
static bool cross(const struct run *run, double at, struct roll_end *end)
{
    struct ring shell = run->polygon->rings[0];
    struct point n = {-run->along.y, run->along.x};
    double least = INFINITY, most = -INFINITY;

    for (size_t k = 0; k < shell.count; k++) {
        struct point a = shell.points[k], b = shell.points[(k + 1) % shell.count];
        double x = along_of(run, a) - at, y = along_of(run, b) - at;

        if ((x > 0) == (y > 0))
            continue;
        struct point p = {a.x + x / (x - y) * (b.x - a.x),
                          a.y + x / (x - y) * (b.y - a.y)};
        double across = (p.x - run->origin.x) * n.x + (p.y - run->origin.y) * n.y;
        if (across < least)
            end->from = p;
        if (across > most)
            end->to = p;
        least = fmin(least, across);
        most = fmax(most, across);
    }
    return least < most;
}

/* ---- The list ---- */

struct walk {
    const struct layout *layout;
    const struct sheet **sheets; /* by number */
    int count;
    bool (*put)(void *self, const struct roll_end *end);
    void *self;
};

static int by_sheet(const void *a, const void *b)
{
    const struct roll_piece *x = *(const struct roll_piece *const *)a;
    const struct roll_piece *y = *(const struct roll_piece *const *)b;

    if (x->sheet != y->sheet)
        return x->sheet < y->sheet ? -1 : 1;
    return x->part - y->part;
}

/* The ends of a sheet's parts.
 * @param parts   in turn, of the sheet itself or of the one that it is ripped beside
 * @param length  of the sheet that the parts are of, m */
static bool walk_sheet(const struct walk *walk, int number,
                       const struct roll_piece *const *parts, double length)
{
    const struct sheet *sheet = walk->sheets[number];
    int count = parts[0]->parts;
    double sum = 0, at = 0;
    struct run run;

    if (!sheet || count < 2 || !find_run(&run, sheet, walk->layout->bearing))
        return true;
    for (int i = 0; i < count; i++)
        sum += parts[i]->length;
    double lap = (sum - length) / (count - 1);
    for (int i = 0; i + 1 < count; i++) {
        struct roll_end end = {.method = walk->layout->method,
                               .sheet = number,
                               .part = i + 1,
                               .roll = parts[i]->roll,
                               .next_roll = parts[i + 1]->roll,
                               .lap = lap};
        at += parts[i]->length - (i > 0 ? lap : 0);
        end.at = at - lap / 2;
        if (end.at + lap / 2 < sheet->length && cross(&run, end.at, &end) &&
            !walk->put(walk->self, &end))
            return false;
    }
    return true;
}

static bool walk_pieces(const struct walk *walk, const struct roll_piece **pieces,
                        size_t count)
{
    for (size_t i = 0; i < count; i += (size_t)pieces[i]->parts) {
        const struct sheet *sheet = walk->sheets[pieces[i]->sheet];

        if (!sheet)
            continue;
        if (!walk_sheet(walk, sheet->number, &pieces[i], sheet->length))
            return false;
        if (pieces[i]->beside > 0 &&
            !walk_sheet(walk, pieces[i]->beside, &pieces[i], sheet->length))
            return false;
    }
    return true;
}

bool roll_ends_walk(const struct layout *layout, const struct bill *bill,
                    bool (*put)(void *self, const struct roll_end *end), void *self)
{
    struct walk walk = {.layout = layout, .put = put, .self = self};
    const struct roll_piece **pieces = NULL;
    bool done = false;

    if (bill->piece_count == 0)
        return true;
    for (size_t i = 0; i < layout->sheet_count; i++)
        if (layout->sheets[i].number > walk.count)
            walk.count = layout->sheets[i].number;
    walk.sheets = calloc((size_t)walk.count + 1, sizeof *walk.sheets);
    pieces = malloc(bill->piece_count * sizeof *pieces);
    if (walk.sheets && pieces) {
        for (size_t i = 0; i < layout->sheet_count; i++)
            if (layout->sheets[i].number > 0)
                walk.sheets[layout->sheets[i].number] = &layout->sheets[i];
        for (size_t i = 0; i < bill->piece_count; i++)
            pieces[i] = &bill->pieces[i];
        qsort(pieces, bill->piece_count, sizeof *pieces, by_sheet);
        done = walk_pieces(&walk, pieces, bill->piece_count);
    }
    free(walk.sheets);
    free(pieces);
    return done;
}
