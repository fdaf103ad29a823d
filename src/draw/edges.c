/* The outline, by what is at its edges. */

#include "roof/edges.h"
#include "draw/plan_page.h"

static enum layer layer_of(enum edge_kind kind)
{
    static const enum layer layers[EDGE_KINDS] = {
        [EDGE_NOT_GIVEN] = LAYER_OUTLINE, [EDGE_METAL] = LAYER_METAL,
        [EDGE_GUTTER] = LAYER_GUTTER,     [EDGE_PARAPET] = LAYER_PARAPET,
        [EDGE_WALL] = LAYER_WALL,         [EDGE_CURB] = LAYER_CURB,
        [EDGE_JOINT] = LAYER_JOINT,       [EDGE_CONTINUOUS] = LAYER_SHARED};
    return layers[kind];
}

static void stroke(struct plan_page *page, enum layer layer)
{
    struct look look = layer_look(layer);
    canvas_stroke(page->canvas, look.ink, look.width, look.dash);
    page->drawn |= 1u << layer;
}

/* Stretches that follow each other are one line, so that dashes run on. */
static void stroke_kind(struct plan_page *page, enum edge_kind kind)
{
    const struct roof *roof = page->roof;
    const struct edge *last = NULL;
    for (size_t k = 0; k < roof->edge_count; k++) {
        const struct edge *edge = &roof->edges[k];
        struct point from = plan_point(page, edge->from);
        struct point to = plan_point(page, edge->to);
        if (edge->kind != kind ||
            !quads_overlap(quad_of(page->plan), (struct quad){{from, to, to, from}}, 0))
            continue;
        if (!last || last + 1 != edge || last->ring != edge->ring)
            canvas_move(page->canvas, from);
        canvas_line(page->canvas, to);
        last = edge;
    }
    if (last)
        stroke(page, layer_of(kind));
}

void edges_draw(struct plan_page *page)
{
    if (page->roof->edge_count > 0) {
        for (int kind = EDGE_NOT_GIVEN + 1; kind < EDGE_KINDS; kind++)
            stroke_kind(page, (enum edge_kind)kind);
        return;
    }
    plan_path(page, &page->roof->outline);
    stroke(page, LAYER_OUTLINE);
}
