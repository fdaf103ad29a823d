/* What stands on the roof, where the layer of fixtures has it. The signs are ours: water
 * runs into circles with a cross, what has a curb has corners. */

#include <math.h>

#include "draw/plan_page.h"

/* Half of a sign without a size, pt. */
#define SIZE 3.4

static void add_line(struct plan_page *page, double x1, double y1, double x2, double y2)
{
    canvas_segment(page->canvas, (struct point){x1, y1}, (struct point){x2, y2});
}

static void finish(struct plan_page *page, double width)
{
    canvas_stroke(page->canvas, INK_DARK, width, DASH_NONE);
}

static void draw_round(struct plan_page *page, struct point p, double radius)
{
    canvas_circle(page->canvas, p, radius);
    canvas_fill(page->canvas, INK_PAPER, true);
    finish(page, 0.7);
}

/* Corners of a footprint on paper: its own, else those of a square. */
static void add_footprint(struct plan_page *page, struct point p, const struct ring *ring)
{
    if (!ring || ring->count == 0) {
        canvas_rectangle(page->canvas,
                         (struct area){p.x - SIZE, p.y - SIZE, 2 * SIZE, 2 * SIZE});
        return;
    }
    canvas_move(page->canvas, plan_point(page, ring->points[0]));
    for (size_t k = 1; k < ring->count; k++)
        canvas_line(page->canvas, plan_point(page, ring->points[k]));
    canvas_close(page->canvas);
}

/* From one corner to the one across, of a footprint with four. */
static void add_diagonal(struct plan_page *page, struct point p, const struct ring *ring,
                         size_t from)
{
    if (!ring || ring->count == 0) {
        double turn = from ? -SIZE : SIZE;
        add_line(page, p.x - SIZE, p.y - turn, p.x + SIZE, p.y + turn);
    } else if (ring->count == 4) {
        canvas_segment(page->canvas, plan_point(page, ring->points[from]),
                       plan_point(page, ring->points[from + 2]));
    }
}

static void draw_curbed(struct plan_page *page, enum fixture_kind kind, struct point p,
                        const struct ring *ring)
{
    add_footprint(page, p, ring);
    canvas_fill(page->canvas, kind == FIXTURE_SKYLIGHT ? INK_LIGHT : INK_PAPER, true);
    finish(page, 0.9);
    if (kind == FIXTURE_UNIT || kind == FIXTURE_HATCH)
        add_diagonal(page, p, ring, 0);
    if (kind == FIXTURE_UNIT)
        add_diagonal(page, p, ring, 1);
    finish(page, 0.5);
}

void fixture_sign(struct plan_page *page, enum fixture_kind kind, struct point p,
                  const struct ring *footprint)
{
    if (fixture_is_curbed(kind)) {
        draw_curbed(page, kind, p, footprint);
    } else if (kind == FIXTURE_DRAIN) {
        draw_round(page, p, SIZE);
        add_line(page, p.x - SIZE, p.y, p.x + SIZE, p.y);
        add_line(page, p.x, p.y - SIZE, p.x, p.y + SIZE);
        finish(page, 0.7);
    } else if (kind == FIXTURE_SCUPPER) {
        canvas_rectangle(page->canvas,
                         (struct area){p.x - SIZE, p.y - SIZE / 2, 2 * SIZE, SIZE});
        canvas_fill(page->canvas, INK_DARK, false);
    } else if (kind == FIXTURE_PIPE) {
        draw_round(page, p, SIZE * 0.6);
    } else {
        add_line(page, p.x - SIZE, p.y, p.x + SIZE, p.y);
        add_line(page, p.x, p.y - SIZE, p.x, p.y + SIZE);
        finish(page, 1.2);
    }
}

/* Texts keep off the sign. */
static void keep_free(struct plan_page *page, struct point p, const struct ring *ring)
{
    const double around = SIZE + 2;
    struct box box = {p.x - around, p.y - around, p.x + around, p.y + around};
    for (size_t k = 0; k < ring->count; k++)
        box_add(&box, plan_point(page, ring->points[k]));
    boxes_add_place(
        canvas_boxes(page->canvas),
        quad_of((struct area){box.min_x - 1, box.min_y - 1, box.max_x - box.min_x + 2,
                              box.max_y - box.min_y + 2}));
}

/* What a seam or row lies too near to is said here and among the remarks. */
static void ring_crowded(struct plan_page *page, struct point p)
{
    struct look look = layer_look(LAYER_CROWDED);
    canvas_circle(page->canvas, p, SIZE + 2);
    canvas_stroke(page->canvas, look.ink, look.width, look.dash);
    page->drawn |= 1u << LAYER_CROWDED;
}

void fixtures_draw(struct plan_page *page)
{
    const struct roof *roof = page->roof;
    for (size_t i = 0; i < roof->fixture_count; i++) {
        const struct fixture *fixture = &roof->fixtures[i];
        struct point p = plan_point(page, fixture->at);
        if (!area_holds(page->plan, (struct quad){{p, p, p, p}}))
            continue;
        fixture_sign(page, fixture->kind, p, &fixture->footprint);
        if (fixture->crowded)
            ring_crowded(page, p);
        keep_free(page, p, &fixture->footprint);
        page->fixtures |= 1u << fixture->kind;
    }
}
