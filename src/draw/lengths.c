/* The lengths of edges: along a dimension line where there is room for one, else beside
 * the edge, outside before inside, else left out and counted. Long edges choose first. */

#include <math.h>
#include <stdlib.h>

#include "draw/plan_page.h"

#define LETTERING ((struct lettering){7.2, false, INK_DARK})

/* From the edge to the near side of the text, and around a text, pt. */
#define GAP 4.0
#define AIR 1.5

/* No more than these are tried: a round roof isn't a rosary. */
#define LENGTHS_MOST 60

/* Shortest edge that bears a text wider than itself: as a part of the text's width. */
#define SHORTEST_PART 0.45

/* Edges are alike up to this difference, m, and are a run from so many on. */
#define ALIKE 0.015
#define RUN_LEAST 5

struct edge {
    struct point from,
        to;        /* on paper; the roof lies on the left of it, seen on the roof */
    double length; /* m */
    size_t index;
    size_t
        alike; /* edges of this length in a run from here on; 0: written with the first */
};

static int compare_edges(const void *a, const void *b)
{
    const struct edge *x = a, *y = b;
    /* Equal to a millimetre: in the order of the outline. */
    double dx = round(x->length * 1000), dy = round(y->length * 1000);
    if (dx != dy)
        return dx > dy ? -1 : 1;
    return x->index < y->index ? -1 : 1;
}

/* A run of edges of one length, as a round roof has, is written once. */
static void join_alike(struct edge *edges, size_t count)
{
    for (size_t i = 0, j; i < count; i = j) {
        for (j = i + 1; j < count; j++)
            if (fabs(edges[j].length - edges[i].length) > ALIKE)
                break;
        if (j - i < RUN_LEAST)
            continue;
        edges[i].alike = j - i;
        for (size_t k = i + 1; k < j; k++)
            edges[k].alike = 0;
    }
}

static size_t gather(const struct plan_page *page, struct edge *edges)
{
    const struct region *outline = &page->roof->outline;
    size_t count = 0;
    for (size_t i = 0; i < outline->polygon_count; i++)
        for (size_t j = 0; j < outline->polygons[i].ring_count; j++) {
            const struct ring *ring = &outline->polygons[i].rings[j];
            for (size_t k = 0; k < ring->count; k++) {
                struct point a = ring->points[k];
                struct point b = ring->points[(k + 1) % ring->count];
                edges[count] = (struct edge){plan_point(page, a), plan_point(page, b),
                                             point_distance(a, b), count, 1};
                count++;
            }
            join_alike(edges + count - ring->count, ring->count);
        }
    return count;
}

/* Directions of an edge on paper: along it, and away from the roof. */
struct heading {
    struct point along, away;
    double length; /* pt */
    double angle;  /* of a text that is read from below or from the right */
};

static struct heading heading_of(const struct edge *edge)
{
    const double quarter = acos(0);
    struct heading h;
    double dx = edge->to.x - edge->from.x, dy = edge->to.y - edge->from.y;
    h.length = sqrt(dx * dx + dy * dy);
    h.along = (struct point){dx / h.length, dy / h.length};
    /* On paper y runs down: the right of the edge, seen on the roof. */
    h.away = (struct point){-h.along.y, h.along.x};
    h.angle = atan2(dy, dx);
    if (h.angle > quarter - 1e-6)
        h.angle -= 2 * quarter;
    if (h.angle < -quarter - 1e-6)
        h.angle += 2 * quarter;
    return h;
}

static struct point beside(const struct edge *edge, const struct heading *h, double away)
{
    return (struct point){(edge->from.x + edge->to.x) / 2 + h->away.x * away,
                          (edge->from.y + edge->to.y) / 2 + h->away.y * away};
}

static bool is_free(struct plan_page *page, struct quad quad)
{
    return area_holds(page->plan, quad) &&
           boxes_free_at(canvas_boxes(page->canvas), quad);
}

static void stroke_from(struct plan_page *page, struct point from, struct point step,
                        double length)
{
    canvas_move(page->canvas, from);
    canvas_line(page->canvas,
                (struct point){from.x + step.x * length, from.y + step.y * length});
}

/* A slanted tick at each end of a dimension line, and a stub towards the roof. */
static void draw_end(struct plan_page *page, const struct heading *h, struct point end)
{
    const double reach = 2.4;
    struct point slant = {(h->along.x - h->away.x) / sqrt(2.0),
                          (h->along.y - h->away.y) / sqrt(2.0)};
    struct point start = {end.x - slant.x * reach, end.y - slant.y * reach};
    stroke_from(page, start, slant, 2 * reach);
    start = (struct point){end.x - h->away.x * 6, end.y - h->away.y * 6};
    stroke_from(page, start, h->away, 8);
}

/* @return false without room */
static bool draw_dimension(struct plan_page *page, const struct edge *edge,
                           const struct heading *h, struct point size, const char *text)
{
    const double away = GAP + 5 + size.y / 2;
    struct point middle = beside(edge, h, away);
    double half = h->length / 2, part = half - size.x / 2 - 2 * AIR;
    struct quad place = quad_turned(middle, h->length - 0.5, size.y + 2, h->angle);
    if (part < 4 || !is_free(page, place))
        return false;
    struct point from = {middle.x - h->along.x * half, middle.y - h->along.y * half};
    struct point to = {middle.x + h->along.x * half, middle.y + h->along.y * half};
    stroke_from(page, from, h->along, part);
    stroke_from(page, to, h->along, -part);
    draw_end(page, h, from);
    draw_end(page, h, to);
    canvas_stroke(page->canvas, INK_MIDDLE, 0.35, DASH_NONE);
    canvas_turned(page->canvas, LETTERING, middle, h->angle, text);
    boxes_add_place(canvas_boxes(page->canvas), place);
    return true;
}

/* Paper below a text that lies on lines. */
static void clear(struct plan_page *page, struct quad quad)
{
    canvas_move(page->canvas, quad.corners[0]);
    for (int i = 1; i < 4; i++)
        canvas_line(page->canvas, quad.corners[i]);
    canvas_close(page->canvas);
    canvas_fill(page->canvas, INK_PAPER, false);
}

static bool draw_beside(struct plan_page *page, const struct edge *edge,
                        const struct heading *h, struct point size, const char *text)
{
    const double near = 1.2 + GAP / 2 + size.y / 2;
    const double distances[] = {near, near + size.y, -near};
    if (h->length < SHORTEST_PART * size.x)
        return false;
    for (size_t i = 0; i < sizeof distances / sizeof distances[0]; i++) {
        struct point middle = beside(edge, h, distances[i]);
        struct quad quad = quad_turned(middle, size.x + 4 * AIR, size.y, h->angle);
        if (!is_free(page, quad))
            continue;
        if (distances[i] < 0)
            clear(page, quad);
        canvas_turned(page->canvas, LETTERING, middle, h->angle, text);
        return true;
    }
    return false;
}

static bool draw_length(struct plan_page *page, const struct edge *edge)
{
    struct text *text = plan_scratch(page);
    if (edge->alike > 1)
        text_printf(text, "%zu \xC3\x97 ", edge->alike);
    text_grouped(text, edge->length / page->set->units->length.factor,
                 columns_units(page->set) == UNITS_SI ? 2 : 1);
    struct point size = canvas_measure(page->canvas, LETTERING, plan_text(page));
    struct heading h = heading_of(edge);
    if (h.length < 1)
        return false;
    if (edge->alike > 1)
        return draw_beside(page, edge, &h, size, plan_text(page));
    return draw_dimension(page, edge, &h, size, plan_text(page)) ||
           draw_beside(page, edge, &h, size, plan_text(page));
}

void lengths_draw(struct plan_page *page)
{
    size_t points = region_points(&page->roof->outline);
    struct edge *edges = malloc(points * sizeof *edges);
    page->lengths_left_out = points;
    if (!edges) {
        page->scratch.failed = true;
        return;
    }
    size_t count = gather(page, edges);
    for (size_t i = 0; i < count; i++)
        boxes_add_line(canvas_boxes(page->canvas), edges[i].from, edges[i].to);
    qsort(edges, count, sizeof *edges, compare_edges);
    for (size_t i = 0, tried = 0; i < count && tried < LENGTHS_MOST; i++) {
        if (edges[i].alike == 0)
            continue;
        tried++;
        if (draw_length(page, &edges[i]))
            page->lengths_left_out -= edges[i].alike;
    }
    free(edges);
}
