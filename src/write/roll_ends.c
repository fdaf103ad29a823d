#include "write/roll_ends.h"

#include <math.h>
#include <stdlib.h>

#include "roof/sections.h"

/* A run is as long as a sheet's when it differs by no more, m. */
static const double alike = 0.01;

/* ---- A sheet, which may lie in several sections ---- */

/* What one section has of a numbered sheet. */
struct part {
    const struct sheet *sheet;
    bool here; /* the section is the roof whose ends are looked for */
};

/* All parts of a sheet, where it begins and its direction. */
struct run {
    const struct part *parts;
    size_t count;
    struct point origin, along; /* along: unit vector */
};

static double along_of(const struct run *run, struct point p)
{
    return (p.x - run->origin.x) * run->along.x + (p.y - run->origin.y) * run->along.y;
}

/* How far the parts reach along the run, from the origin. */
static void reach(const struct run *run, double *least, double *most)
{
    *least = INFINITY;
    *most = -INFINITY;
    for (size_t i = 0; i < run->count; i++) {
        const struct region *region = &run->parts[i].sheet->region;

        for (size_t j = 0; j < region->polygon_count; j++)
            for (size_t k = 0; k < region->polygons[j].rings[0].count; k++) {
                double here = along_of(run, region->polygons[j].rings[0].points[k]);

                *least = fmin(*least, here);
                *most = fmax(*most, here);
            }
    }
}

static bool fits(struct run *run, struct point along)
{
    const struct sheet *sheet = run->parts[0].sheet;
    struct run across = {run->parts, run->count, run->origin, {-along.y, along.x}};
    double least, most, low, high;

    run->along = along;
    reach(run, &least, &most);
    reach(&across, &low, &high);
    if (fabs(most - least - sheet->length) > alike || high - low > sheet->width + alike)
        return false;
    run->origin.x += along.x * least;
    run->origin.y += along.y * least;
    return true;
}

/* Sheets run as the layout does, half sheets in frames along edges of their own. */
static bool find_run(struct run *run, double bearing)
{
    struct point main = {cos(bearing), sin(bearing)};
    struct ring shell = run->parts[0].sheet->region.polygons[0].rings[0];

    run->origin = shell.points[0];
    if (fits(run, main))
        return true;
    for (size_t k = 0; k < shell.count; k++) {
        struct point a = shell.points[k], b = shell.points[(k + 1) % shell.count];
        double length = point_distance(a, b);
        double sign = (b.x - a.x) * main.x + (b.y - a.y) * main.y < 0 ? -1 : 1;
        struct point along = {sign * (b.x - a.x) / length, sign * (b.y - a.y) / length};

        if (length > alike && fits(run, along))
            return true;
    }
    return false;
}

/* Widens an end by where a line across the run meets a ring.
 * @param[in,out] least, most  how far across the end reaches */
static void cross_ring(const struct run *run, struct ring ring, double at,
                       struct roll_end *end, double *least, double *most)
{
    struct point n = {-run->along.y, run->along.x};

    for (size_t k = 0; k < ring.count; k++) {
        struct point a = ring.points[k], b = ring.points[(k + 1) % ring.count];
        double x = along_of(run, a) - at, y = along_of(run, b) - at;

        if ((x > 0) == (y > 0))
            continue;
        struct point p = {a.x + x / (x - y) * (b.x - a.x),
                          a.y + x / (x - y) * (b.y - a.y)};
        double across = (p.x - run->origin.x) * n.x + (p.y - run->origin.y) * n.y;
        if (across < *least)
            end->from = p;
        if (across > *most)
            end->to = p;
        *least = fmin(*least, across);
        *most = fmax(*most, across);
    }
}

/* The line across what lies here. @return false where it meets nothing */
static bool cross(const struct run *run, struct roll_end *end)
{
    double least = INFINITY, most = -INFINITY;

    for (size_t i = 0; i < run->count; i++) {
        const struct region *region = &run->parts[i].sheet->region;

        for (size_t j = 0; run->parts[i].here && j < region->polygon_count; j++)
            cross_ring(run, region->polygons[j].rings[0], end->at, end, &least, &most);
    }
    return least < most;
}

/* ---- The list ---- */

struct walk {
    const struct roof *roof;
    const struct layout *layout;
    const struct roof *cutter; /* whose rolls are walked */
    struct part *parts;        /* owned; by number */
    size_t part_count;
    bool (*put)(void *self, const struct roll_end *end);
    void *self;
};

static int by_number(const void *a, const void *b)
{
    const struct part *x = a, *y = b;

    return (x->sheet->number > y->sheet->number) - (x->sheet->number < y->sheet->number);
}

static int by_sheet(const void *a, const void *b)
{
    const struct roll_piece *x = *(const struct roll_piece *const *)a;
    const struct roll_piece *y = *(const struct roll_piece *const *)b;

    if (x->sheet != y->sheet)
        return x->sheet < y->sheet ? -1 : 1;
    return x->part - y->part;
}

/* The parts of a sheet. @return none where nothing of it lies here */
static struct run run_of(const struct walk *walk, int number)
{
    const struct sheet wanted = {.number = number};
    const struct part key = {&wanted, false};
    const struct part *first =
        bsearch(&key, walk->parts, walk->part_count, sizeof key, by_number);
    const struct part *end = walk->parts + walk->part_count;
    struct run run = {.parts = first};
    bool here = false;

    if (!first)
        return run;
    while (run.parts > walk->parts && by_number(run.parts - 1, &key) == 0)
        run.parts--;
    for (first = run.parts; first < end && by_number(first, &key) == 0; first++) {
        here = here || first->here;
        run.count++;
    }
    run.count = here ? run.count : 0;
    return run;
}

/* The ends of a sheet's pieces.
 * @param pieces  in turn, of the sheet itself or of the one that it is ripped beside
 * @param length  of the sheet that the pieces are of, m */
static bool walk_sheet(const struct walk *walk, int number,
                       const struct roll_piece *const *pieces, double length)
{
    struct run run = run_of(walk, number);
    int count = pieces[0]->parts;
    double sum = 0, at = 0;

    if (run.count == 0 || count < 2 || !find_run(&run, walk->layout->bearing))
        return true;
    for (int i = 0; i < count; i++)
        sum += pieces[i]->length;
    double lap = (sum - length) / (count - 1);
    for (int i = 0; i + 1 < count; i++) {
        struct roll_end end = {.method = walk->layout->method,
                               .cut_by = walk->cutter->id,
                               .sheet = number,
                               .part = i + 1,
                               .roll = pieces[i]->roll,
                               .next_roll = pieces[i + 1]->roll,
                               .lap = lap};
        at += pieces[i]->length - (i > 0 ? lap : 0);
        end.at = at - lap / 2;
        if (end.at + lap / 2 < run.parts[0].sheet->length && cross(&run, &end) &&
            !walk->put(walk->self, &end))
            return false;
    }
    return true;
}

static bool walk_bill(const struct walk *walk, const struct bill *bill)
{
    const struct roll_piece **pieces = malloc((bill->piece_count + 1) * sizeof *pieces);
    bool done = pieces != NULL;

    for (size_t i = 0; done && i < bill->piece_count; i++)
        pieces[i] = &bill->pieces[i];
    if (done)
        qsort(pieces, bill->piece_count, sizeof *pieces, by_sheet);
    for (size_t i = 0; done && i < bill->piece_count; i += (size_t)pieces[i]->parts) {
        struct run run = run_of(walk, pieces[i]->sheet);

        if (run.count == 0)
            continue;
        double length = run.parts[0].sheet->length;
        done = walk_sheet(walk, pieces[i]->sheet, &pieces[i], length) &&
               (pieces[i]->beside == 0 ||
                walk_sheet(walk, pieces[i]->beside, &pieces[i], length));
    }
    free(pieces);
    return done;
}

/* Of another section only sheets that run on into others are looked at. */
static void add_parts(struct walk *walk, const struct roof *roof,
                      const struct layout *layout)
{
    for (size_t i = 0; i < layout->sheet_count; i++) {
        const struct sheet *sheet = &layout->sheets[i];
        bool here = roof == walk->roof;

        if (sheet->number > 0 && (here || sheet->elsewhere > 0))
            walk->parts[walk->part_count++] = (struct part){sheet, here};
    }
}

/* A section's layout for the method; NULL where it isn't one with the roof. */
static const struct layout *layout_beside(const struct walk *walk,
                                          const struct roof *section)
{
    for (size_t k = 0; k < section->layout_count; k++)
        if (section->layouts[k].method == walk->layout->method &&
            sections_are_one(walk->roof, section))
            return &section->layouts[k];
    return NULL;
}

bool roll_ends_walk(const struct building *building, const struct roof *roof,
                    const struct layout *layout,
                    bool (*put)(void *self, const struct roll_end *end), void *self)
{
    struct walk walk = {.roof = roof, .layout = layout, .put = put, .self = self};
    size_t count = 1;
    bool done = false;

    for (size_t i = 0; i < building->roof_count; i++) {
        const struct layout *beside = layout_beside(&walk, &building->roofs[i]);

        count += beside ? beside->sheet_count : 0;
    }
    walk.parts = malloc(count * sizeof *walk.parts);
    done = walk.parts != NULL;
    for (size_t i = 0; done && i < building->roof_count; i++) {
        const struct layout *beside = layout_beside(&walk, &building->roofs[i]);

        if (beside)
            add_parts(&walk, &building->roofs[i], beside);
    }
    if (done)
        qsort(walk.parts, walk.part_count, sizeof *walk.parts, by_number);
    for (size_t i = 0; done && i < building->roof_count; i++) {
        const struct layout *beside = layout_beside(&walk, &building->roofs[i]);

        walk.cutter = &building->roofs[i];
        if (beside)
            done = walk_bill(&walk, &walk.cutter->bills[beside - walk.cutter->layouts]);
    }
    free(walk.parts);
    return done;
}
