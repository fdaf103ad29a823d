/* The lengths of edges: along a dimension line where there is room for one, else beside
 * the edge, outside before inside, else left out and counted. Long edges choose first. */

#include <math.h>
#include <stdlib.h>

#include "draw/plan_page.h"

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

static struct point beside(const struct edge *edge, const struct heading *h, double away)
{
    return (struct point){(edge->from.x + edge->to.x) / 2 + h->away.x * away,
                          (edge->from.y + edge->to.y) / 2 + h->away.y * away};
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
        if (!place_is_free(page, quad))
            continue;
        if (distances[i] < 0)
            place_clear(page, quad);
        canvas_turned(page->canvas, PLAIN, middle, h->angle, text);
        return true;
    }
    return false;
}

static bool draw_length(struct plan_page *page, const struct edge *edge)
{
    struct text *text = plan_scratch(page);
    if (edge->alike > 1)
        text_printf(text, "%zu \xC3\x97 ", edge->alike);
    figure_length(text, edge->length, page->set);
    struct point size = canvas_measure(page->canvas, PLAIN, plan_text(page));
    struct heading h = heading_of(edge->from, edge->to);
    if (h.length < 1)
        return false;
    if (edge->alike > 1)
        return draw_beside(page, edge, &h, size, plan_text(page));
    /* A text behind an end would seem to be the next edge's. */
    if (h.length > size.x + 4 * AIR + 8 &&
        (dimension_draw(page, edge->from, edge->to, NEAR_LINE, plan_text(page)) ||
         dimension_draw(page, edge->from, edge->to, FAR_LINE, plan_text(page))))
        return true;
    return draw_beside(page, edge, &h, size, plan_text(page));
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
