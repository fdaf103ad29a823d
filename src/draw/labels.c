/* The standard's label of each zone, in a disc, and the number of each sheet, both at the
 * place that is farthest from the edges. */

#include <math.h>

#include "draw/plan_page.h"

/* Least distance from the zone's edge to the middle of a label, pt. */
#define ROOM_LEAST 4.0

/* Height of digits with a little air, as a part of a line. */
#define DIGITS 0.8

/* Labels of one zone at most, for its largest parts. */
#define LABELS_MOST 12

/* Places tried: a grid of this many each way, made finer around the best. */
#define GRID 24
#define REFINEMENTS 4

/* How far inside the plan a point lies, m; negative outside. */
static double depth_in_plan(const struct plan_page *page, struct point p)
{
    struct point at = plan_point(page, p);
    struct area plan = page->plan;
    double aside = fmin(at.x - plan.x, plan.x + plan.width - at.x);
    return fmin(aside, fmin(at.y - plan.y, plan.y + plan.height - at.y)) / page->points;
}

/* How far inside what is seen of a polygon a point lies, m; negative outside. What isn't
 * over `least` isn't found exactly. */
static double depth_of(const struct plan_page *page, const struct polygon *polygon,
                       struct point p, double least)
{
    double nearest = depth_in_plan(page, p);
    bool inside = false;
    for (size_t j = 0; j < polygon->ring_count; j++) {
        const struct ring *ring = &polygon->rings[j];
        for (size_t k = 0; k < ring->count; k++) {
            struct point a = ring->points[k], b = ring->points[(k + 1) % ring->count];
            if (nearest <= least)
                return nearest;
            nearest = fmin(nearest, segment_distance(p, a, b));
            if ((a.y > p.y) != (b.y > p.y) &&
                p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x))
                inside = !inside;
        }
    }
    return inside ? nearest : -nearest;
}

/* The best of a grid over a box. */
static struct point deepest_in(const struct plan_page *page,
                               const struct polygon *polygon, struct box box,
                               double *depth)
{
    struct point best = {NAN, NAN};
    for (int i = 0; i < GRID; i++)
        for (int k = 0; k < GRID; k++) {
            struct point p = {box.min_x + (box.max_x - box.min_x) * (i + 0.5) / GRID,
                              box.min_y + (box.max_y - box.min_y) * (k + 0.5) / GRID};
            double here = depth_of(page, polygon, p, fmax(*depth, 0));
            /* Near ties go to the first, so that dust doesn't decide. */
            if (here > *depth + 1e-6) {
                *depth = here;
                best = p;
            }
        }
    return best;
}

/* The box of a polygon, of what the page shows of it. */
static struct box seen_of(const struct plan_page *page, const struct polygon *polygon)
{
    struct box box = ring_box(polygon->rings[0]);
    struct quad plan = quad_of(page->plan);
    struct box seen = box_empty();
    for (int i = 0; i < 4; i++) {
        double east = (plan.corners[i].x - page->origin.x) / page->points;
        double north = (page->origin.y - plan.corners[i].y) / page->points;
        box_add(&seen, (struct point){east * page->turn.x + north * page->turn.y,
                                      north * page->turn.x - east * page->turn.y});
    }
    return (struct box){fmax(box.min_x, seen.min_x), fmax(box.min_y, seen.min_y),
                        fmin(box.max_x, seen.max_x), fmin(box.max_y, seen.max_y)};
}

static struct point deepest(const struct plan_page *page, const struct polygon *polygon,
                            double *depth)
{
    struct box box = seen_of(page, polygon);
    double width = box.max_x - box.min_x, height = box.max_y - box.min_y;
    *depth = -INFINITY;
    if (!(width > 0) || !(height > 0))
        return (struct point){NAN, NAN};
    struct point best = deepest_in(page, polygon, box, depth);
    for (int i = 0; i < REFINEMENTS; i++) {
        width *= 2.0 / GRID;
        height *= 2.0 / GRID;
        box = (struct box){best.x - width, best.y - height, best.x + width,
                           best.y + height};
        struct point finer = deepest_in(page, polygon, box, depth);
        best = isnan(finer.x) ? best : finer;
    }
    return best;
}

static void draw_label(struct plan_page *page, struct point middle, const char *label)
{
    const double radius = 7.2;
    struct point size = canvas_measure(page->canvas, STRONG, label);
    struct quad place = quad_turned(middle, 2 * radius, 2 * radius, 0);
    if (size.x > 2 * radius || !place_is_free(page, place))
        return;
    canvas_circle(page->canvas, middle, radius);
    canvas_fill(page->canvas, INK_PAPER, true);
    canvas_stroke(page->canvas, INK_DARK, 0.5, DASH_NONE);
    canvas_turned(page->canvas, STRONG, middle, 0, label);
    boxes_add_place(canvas_boxes(page->canvas), place);
}

/* ---- Numbers of sheets ---- */

/* Steps from a sheet's widest place, each way. */
enum { STEPS = 20 };

/* A place for a text that is free and in the sheet's middle: where it is widest, else
 * along or across the direction of the sheets from there. */
static bool find_place(struct plan_page *page, const struct polygon *polygon,
                       struct point size, struct quad *out)
{
    const double quarter = acos(0);
    double depth, step = 1.4 * size.x / page->points;
    struct point widest = deepest(page, polygon, &depth);
    double least = fmax(size.y / 2 / page->points, 0.8 * depth);

    for (int i = 0; i <= 4 * STEPS && depth >= least; i++) {
        double angle = page->layout->bearing + (i % 4) * quarter;
        int steps = (i + 3) / 4;
        double away = steps * step;
        struct point at = {widest.x + away * cos(angle), widest.y + away * sin(angle)};
        *out = quad_turned(plan_point(page, at), size.x, size.y, 0);
        if (depth_of(page, polygon, at, 0) >= least && place_is_free(page, *out))
            return true;
    }
    return false;
}

static void draw_number(struct plan_page *page, const struct sheet *sheet)
{
    struct text *text = plan_scratch(page);
    struct quad place;

    text_printf(text, "%d", sheet->number);
    struct point size = canvas_measure(page->canvas, PLAIN, plan_text(page));
    /* Digits fill less than a line. */
    size.y *= DIGITS;

    if (!find_place(page, &sheet->region.polygons[0], size, &place)) {
        page->numbers_left_out++;
        return;
    }
    struct point a = place.corners[0], b = place.corners[2];

    canvas_turned(page->canvas, PLAIN, (struct point){(a.x + b.x) / 2, (a.y + b.y) / 2},
                  0, plan_text(page));
}

static void draw_numbers(struct plan_page *page)
{
    const struct layout *layout = page->layout;

    for (size_t i = 0; layout && i < layout->sheet_count; i++)
        if (layout->sheets[i].number > 0 && layout->sheets[i].region.polygon_count > 0)
            draw_number(page, &layout->sheets[i]);
}

void labels_draw(struct plan_page *page)
{
    const struct roof *roof = page->roof;
    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct zone *zone = &roof->zones[i];
        for (size_t k = 0; k < zone->region.polygon_count && k < LABELS_MOST; k++) {
            double depth;
            struct point at = deepest(page, &zone->region.polygons[k], &depth);
            if (depth * page->points >= ROOM_LEAST)
                draw_label(page, plan_point(page, at), zone->label);
        }
    }
    draw_numbers(page);
}
