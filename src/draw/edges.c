/* The outline: bold where the surface ends, fine where another section of its level goes
 * on, so that no one orders edge metal between the two. */

#include <math.h>

#include "draw/plan_page.h"

/* Edges are looked at in pieces about this long, m; long ones in at most so many. */
#define PIECE 0.5
#define PIECES_MOST 2000

/* Sections of a level are at most 0.3 m apart: looked for here and half-way, m. */
#define APART 0.3

static bool ring_holds(const struct ring *ring, struct point p)
{
    bool inside = false;
    for (size_t k = 0; k < ring->count; k++) {
        struct point a = ring->points[k], b = ring->points[(k + 1) % ring->count];
        if ((a.y > p.y) != (b.y > p.y) &&
            p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x))
            inside = !inside;
    }
    return inside;
}

static bool outline_holds(const struct region *outline, struct point p)
{
    bool inside = false;
    for (size_t i = 0; i < outline->polygon_count; i++)
        for (size_t j = 0; j < outline->polygons[i].ring_count; j++)
            inside ^= ring_holds(&outline->polygons[i].rings[j], p);
    return inside;
}

/* Other sections of the roof's level that come near an edge. */
static bool goes_on(const struct plan_page *page, struct point p)
{
    const struct building *building = page->building;
    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *other = &building->roofs[i];
        if (other == page->roof || !other->zoned ||
            other->level.index != page->roof->level.index)
            continue;
        if (outline_holds(&other->outline, p))
            return true;
    }
    return false;
}

/* Whether there is any section to look for. */
static bool has_sections(const struct plan_page *page)
{
    for (size_t i = 0; page->roof->zoned && i < page->building->roof_count; i++) {
        const struct roof *other = &page->building->roofs[i];
        if (other != page->roof && other->zoned &&
            other->level.index == page->roof->level.index)
            return true;
    }
    return false;
}

/* Adds the pieces of an edge that are shared, or those that aren't, to the path.
 * @return their length, m */
static double add_pieces(struct plan_page *page, struct point a, struct point b,
                         bool shared)
{
    double length = point_distance(a, b), sum = 0;
    int count = (int)fmin(fmax(ceil(length / PIECE), 1), PIECES_MOST);
    struct point away = {(b.y - a.y) / length, (a.x - b.x) / length};
    bool drawing = false;
    if (!(length > 0))
        return 0;
    for (int i = 0; i < count; i++) {
        double start = (double)i / count, end = (i + 1.0) / count;
        double middle = (start + end) / 2;
        struct point p = {a.x + (b.x - a.x) * middle, a.y + (b.y - a.y) * middle};
        bool found =
            goes_on(page,
                    (struct point){p.x + away.x * APART / 2, p.y + away.y * APART / 2}) ||
            goes_on(page, (struct point){p.x + away.x * APART, p.y + away.y * APART});
        if (found != shared) {
            drawing = false;
            continue;
        }
        struct point from = {a.x + (b.x - a.x) * start, a.y + (b.y - a.y) * start};
        if (!drawing)
            canvas_move(page->canvas, plan_point(page, from));
        drawing = true;
        canvas_line(page->canvas,
                    plan_point(page, (struct point){a.x + (b.x - a.x) * end,
                                                    a.y + (b.y - a.y) * end}));
        sum += length / count;
    }
    return sum;
}

static void stroke_edges(struct plan_page *page, bool shared, enum layer layer)
{
    const struct region *outline = &page->roof->outline;
    struct look look = layer_look(layer);
    double sum = 0;
    for (size_t i = 0; i < outline->polygon_count; i++)
        for (size_t j = 0; j < outline->polygons[i].ring_count; j++) {
            const struct ring *ring = &outline->polygons[i].rings[j];
            for (size_t k = 0; k < ring->count; k++)
                sum += add_pieces(page, ring->points[k],
                                  ring->points[(k + 1) % ring->count], shared);
        }
    canvas_stroke(page->canvas, look.ink, look.width, look.dash);
    if (sum > 0)
        page->drawn |= 1u << layer;
    if (shared)
        page->shared = sum;
}

void edges_draw(struct plan_page *page)
{
    struct look look = layer_look(LAYER_FREE);
    if (has_sections(page)) {
        stroke_edges(page, true, LAYER_SHARED);
        stroke_edges(page, false, LAYER_FREE);
        return;
    }
    plan_path(page, &page->roof->outline);
    canvas_stroke(page->canvas, look.ink, look.width, look.dash);
    page->drawn |= 1u << LAYER_FREE;
}
