/* The second page's drawing: a corner of the roof as it is laid out, to a larger scale
 * and turned so that its edges run along the sheet, with its first rows dimensioned. */

#include <math.h>
#include <stdlib.h>

#include "draw/plan_page.h"
#include "roof/edges.h"

/* Around the roof for dimensions, pt. */
#define MARGIN 66

/* What is shown at the least, m: some rows of field sheets (ours). */
#define SHOWN_LEAST 9.0

/* Rows dimensioned from an edge. */
enum { ROWS_MOST = 7 };

/* A row runs along an edge within 6 degrees; two rows are one within 20 mm (ours). */
#define ALONG 0.995
#define SAME 0.02

struct crossing {
    double at;      /* m from the edge */
    double spacing; /* of fasteners, m */
};

static int by_distance(const void *a, const void *b)
{
    const struct crossing *x = a, *y = b;
    return (x->at > y->at) - (x->at < y->at);
}

/* A line into the roof, square to an edge. */
struct section {
    struct point start;  /* on the edge, m */
    struct point along;  /* of the edge */
    struct point inward; /* unit vector */
    double length;       /* that is shown, m */
};

/* Where a piece of row crosses a section, m from the edge; NAN: nowhere. */
static double crosses(const struct section *section, const struct row_piece *piece)
{
    struct point a = {piece->from.x - section->start.x, piece->from.y - section->start.y};
    struct point b = {piece->to.x - section->start.x, piece->to.y - section->start.y};
    double x = a.x * section->along.x + a.y * section->along.y;
    double y = b.x * section->along.x + b.y * section->along.y;
    double span = point_distance(piece->from, piece->to);
    if (span < SAME || fabs(y - x) < ALONG * span || (x > 0) == (y > 0))
        return NAN;
    double t = x / (x - y);
    return (a.x + t * (b.x - a.x)) * section->inward.x +
           (a.y + t * (b.y - a.y)) * section->inward.y;
}

/* The first rows from an edge. @param[out] out  room for ROWS_MOST */
static size_t find_rows(struct plan_page *page, const struct section *section,
                        struct crossing *out)
{
    const struct layout *layout = page->layout;
    struct crossing *all = malloc((layout->row_count + 1) * sizeof *all);
    size_t count = 0, kept = 0;
    page->scratch.failed |= !all;
    for (size_t i = 0; all && i < layout->row_count; i++) {
        double at = crosses(section, &layout->rows[i]);
        if (at > SAME && at < section->length)
            all[count++] = (struct crossing){at, layout->rows[i].spacing};
    }
    if (all)
        qsort(all, count, sizeof *all, by_distance);
    for (size_t i = 0; i < count && kept < ROWS_MOST; i++)
        if (kept == 0 || all[i].at > out[kept - 1].at + SAME)
            out[kept++] = all[i];
    free(all);
    return kept;
}

/* How far apart a row's fasteners are, on the row where the section crosses it. */
static void put_spacing(struct plan_page *page, const struct section *section,
                        const struct crossing *row)
{
    struct text *text = plan_scratch(page);
    struct point a =
        plan_point(page, point_along(section->start, section->inward, row->at));
    struct point b = plan_point(
        page, point_along(point_along(section->start, section->inward, row->at),
                          section->along, 1));
    text_puts(text, "@ ");
    figure_length(text, row->spacing, page->set);
    place_text(page, a, heading_of(a, b).angle);
}

/* The rows that run along one edge, dimensioned beside the other.
 * @param inward  stretches of the line run away from the corner, as the outline does */
static void put_rows(struct plan_page *page, const struct section *section,
                     struct point corner, bool inward)
{
    struct crossing rows[ROWS_MOST];
    size_t count = find_rows(page, section, rows);
    double last = 0;
    for (size_t i = 0; i < count; i++) {
        struct point from =
            point_along(corner, section->inward, inward ? last : rows[i].at);
        struct point to =
            point_along(corner, section->inward, inward ? rows[i].at : last);
        figure_length(plan_scratch(page), rows[i].at - last, page->set);
        dimension_draw(page, plan_point(page, from), plan_point(page, to), NEAR_LINE,
                       plan_text(page));
        put_spacing(page, section, &rows[i]);
        last = rows[i].at;
    }
}

/* A zone's size along an edge, beyond the rows. */
static void put_zone(struct plan_page *page, struct point from, struct point to)
{
    figure_length(plan_scratch(page), point_distance(from, to), page->set);
    dimension_draw(page, plan_point(page, from), plan_point(page, to), FAR_LINE,
                   plan_text(page));
}

static void put_zones(struct plan_page *page, const struct corner *corner, double shown)
{
    const struct level *level = &page->roof->level;
    double leg = level->leg_length, depth = level->leg_depth;
    if (!corner->zoned || leg > fmin(shown, fmin(corner->length, corner->back_length)))
        return;
    bool deep = corner->square && depth < leg;
    if (deep)
        put_zone(page, corner->at, point_along(corner->at, corner->on, depth));
    put_zone(page, point_along(corner->at, corner->on, deep ? depth : 0),
             point_along(corner->at, corner->on, leg));
    put_zone(page, point_along(corner->at, corner->back, leg),
             point_along(corner->at, corner->back, deep ? depth : 0));
    if (deep)
        put_zone(page, point_along(corner->at, corner->back, depth), corner->at);
}

/* Places the corner at the lower left: the edge that comes on the left, the one that goes
 * along the foot. @return how much of the edges is shown, m */
static double turn_to(struct plan_page *page, const struct corner *corner)
{
    const struct level *level = &page->roof->level;
    struct area plan = page->plan;
    double zones =
        page->roof->zoned ? fmax(level->leg_length, level->perimeter_depth) : 0;
    double want = fmax(SHOWN_LEAST, zones * 1.15);
    struct point up = {-corner->on.y, corner->on.x};
    /* How far an edge of unit length leans over to the left, and how far it rises. */
    double lean =
        fmax(0, -(corner->back.x * corner->on.x + corner->back.y * corner->on.y));
    double rise = corner->back.x * up.x + corner->back.y * up.y;
    want = fmin(want, fmax(corner->length, corner->back_length));
    page->scale = scale_fitting(columns_units(page->set) == UNITS_SI, want * (1 + lean),
                                want * rise, plan.width - MARGIN, plan.height - MARGIN,
                                page->paper.full);
    page->points = scale_points(page->scale, page->paper.full);
    page->turn = (struct point){corner->on.x, -corner->on.y};
    page->origin = (struct point){0, 0};
    struct point at = plan_point(page, corner->at);
    page->origin = (struct point){plan.x + MARGIN + lean * want * page->points - at.x,
                                  plan.y + plan.height - MARGIN - at.y};
    return (plan.height - MARGIN) / page->points;
}

static void add_outline(struct plan_page *page)
{
    for (size_t k = 0; k < page->roof->edge_count; k++)
        boxes_add_line(canvas_boxes(page->canvas),
                       plan_point(page, page->roof->edges[k].from),
                       plan_point(page, page->roof->edges[k].to));
}

/* How far along an edge rows are looked for: in the middle of the corner zone's leg, past
 * the other leg, where both of its sides have their own rows. */
static double section_place(const struct plan_page *page, const struct corner *corner,
                            double shown)
{
    const struct level *level = &page->roof->level;
    double most = fmin(shown, fmin(corner->length, corner->back_length)) / 2;
    if (!corner->zoned)
        return most;
    double depth = level->leg_depth < level->leg_length ? level->leg_depth : 0;
    return fmin(most, (depth + level->leg_length) / 2);
}

static void draw_corner(struct plan_page *page, const struct corner *corner)
{
    double shown = turn_to(page, corner);
    struct point up = {-corner->on.y, corner->on.x};
    struct point right = {corner->back.y, -corner->back.x};
    double place = section_place(page, corner, shown);
    struct section rising = {point_along(corner->at, corner->on, place), corner->on, up,
                             shown};
    struct section going = {point_along(corner->at, corner->back, place), corner->back,
                            right, shown};
    plan_draw(page);
    add_outline(page);
    if (page->roof->zoned)
        put_zones(page, corner, shown);
    if (page->layout) {
        put_rows(page, &rising, corner->at, false);
        put_rows(page, &going, corner->at, true);
    }
    labels_draw(page);
    legend_draw(page);
}

void enlarged_draw(struct plan_page *page)
{
    struct corner corner;
    if (page->roof->whole && corner_find(page->roof, &corner))
        draw_corner(page, &corner);
    else
        canvas_cell(page->canvas, HEADING, page->plan, ALIGN_MIDDLE,
                    page->roof->whole ? "no corner of 45 to 135 degrees to enlarge"
                                      : "no usable outline: see the plan");
}
