/* The standard's label of each zone, in a disc, and the number of each sheet, both at the
 * place that is farthest from the edges. */

#include <math.h>

#include "draw/plan_page.h"

#define LETTERING ((struct lettering){7.2, true, INK_DARK})

#define NUMBERS ((struct lettering){6.2, false, INK_DARK})

/* Least distance from the zone's edge to the middle of a label, pt. */
#define ROOM_LEAST 4.0

/* Labels of one zone at most, for its largest parts. */
#define LABELS_MOST 12

/* Places tried: a grid of this many each way, made finer around the best. */
#define GRID 24
#define REFINEMENTS 4

static double distance_to(struct point p, struct point a, struct point b)
{
    double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
    double t = square > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / square : 0;
    t = fmin(fmax(t, 0), 1);
    return point_distance(p, (struct point){a.x + t * dx, a.y + t * dy});
}

/* How far inside a polygon a point lies, m; negative outside. */
static double depth_of(const struct polygon *polygon, struct point p)
{
    double nearest = INFINITY;
    bool inside = false;
    for (size_t j = 0; j < polygon->ring_count; j++) {
        const struct ring *ring = &polygon->rings[j];
        for (size_t k = 0; k < ring->count; k++) {
            struct point a = ring->points[k], b = ring->points[(k + 1) % ring->count];
            nearest = fmin(nearest, distance_to(p, a, b));
            if ((a.y > p.y) != (b.y > p.y) &&
                p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x))
                inside = !inside;
        }
    }
    return inside ? nearest : -nearest;
}

/* The best of a grid over a box. */
static struct point deepest_in(const struct polygon *polygon, struct box box,
                               double *depth)
{
    struct point best = {NAN, NAN};
    for (int i = 0; i < GRID; i++)
        for (int k = 0; k < GRID; k++) {
            struct point p = {box.min_x + (box.max_x - box.min_x) * (i + 0.5) / GRID,
                              box.min_y + (box.max_y - box.min_y) * (k + 0.5) / GRID};
            double here = depth_of(polygon, p);
            /* Near ties go to the first, so that dust doesn't decide. */
            if (here > *depth + 1e-6) {
                *depth = here;
                best = p;
            }
        }
    return best;
}

static struct point deepest(const struct polygon *polygon, double *depth)
{
    struct polygon shell = {polygon->rings, 1};
    struct region region = {&shell, 1};
    struct box box = region_box(&region);
    double width = box.max_x - box.min_x, height = box.max_y - box.min_y;
    *depth = -INFINITY;
    struct point best = deepest_in(polygon, box, depth);
    for (int i = 0; i < REFINEMENTS; i++) {
        width *= 2.0 / GRID;
        height *= 2.0 / GRID;
        box = (struct box){best.x - width, best.y - height, best.x + width,
                           best.y + height};
        struct point finer = deepest_in(polygon, box, depth);
        best = isnan(finer.x) ? best : finer;
    }
    return best;
}

static void draw_label(struct plan_page *page, struct point middle, const char *label)
{
    const double radius = 6.6;
    struct point size = canvas_measure(page->canvas, LETTERING, label);
    struct quad place = quad_turned(middle, 2 * radius, 2 * radius, 0);
    if (size.x > 2 * radius || !boxes_free_at(canvas_boxes(page->canvas), place))
        return;
    canvas_circle(page->canvas, middle, radius);
    canvas_fill(page->canvas, INK_PAPER, true);
    canvas_stroke(page->canvas, INK_DARK, 0.5, DASH_NONE);
    canvas_turned(page->canvas, LETTERING, middle, 0, label);
    boxes_add_place(canvas_boxes(page->canvas), place);
}

/* ---- Numbers of sheets ---- */

/* A place for a text that is free and inside the sheet; first where it is widest. */
static bool find_place(struct plan_page *page, const struct polygon *polygon,
                       struct point size, struct quad *out)
{
    struct polygon shell = {polygon->rings, 1};
    struct region region = {&shell, 1};
    struct box box = region_box(&region);
    double depth, least = size.y / 2 / page->points;
    struct point at = deepest(polygon, &depth);

    for (int i = 0; i <= GRID && depth >= least; i++) {
        *out = quad_turned(plan_point(page, at), size.x, size.y, 0);
        if (depth_of(polygon, at) >= least &&
            boxes_free_at(canvas_boxes(page->canvas), *out))
            return true;
        double along = (i + 0.5) / GRID;
        at = (struct point){box.min_x + (box.max_x - box.min_x) * along,
                            box.min_y + (box.max_y - box.min_y) * along};
    }
    return false;
}

static void draw_number(struct plan_page *page, const struct sheet *sheet)
{
    struct text *text = plan_scratch(page);
    struct quad place;

    text_printf(text, "%d", sheet->number);
    struct point size = canvas_measure(page->canvas, NUMBERS, plan_text(page));

    if (!find_place(page, &sheet->region.polygons[0], size, &place)) {
        page->numbers_left_out++;
        return;
    }
    struct point a = place.corners[0], b = place.corners[2];

    canvas_turned(page->canvas, NUMBERS, (struct point){(a.x + b.x) / 2, (a.y + b.y) / 2},
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
            struct point at = deepest(&zone->region.polygons[k], &depth);
            if (depth * page->points >= ROOM_LEAST)
                draw_label(page, plan_point(page, at), zone->label);
        }
    }
    draw_numbers(page);
}
