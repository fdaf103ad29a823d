/* Dimension lines: ticks, stubs towards what is measured, and the text where it fits. */

#include <math.h>

#include "draw/plan_page.h"

/* Around a text, and from a line's end to a text behind it, pt. */
#define AIR 1.5
#define LEADER 5.0

/* Radians. */
#define UPRIGHT 0.02

struct heading heading_of(struct point from, struct point to)
{
    const double quarter = acos(0);
    struct heading h;
    double dx = to.x - from.x, dy = to.y - from.y;
    h.length = sqrt(dx * dx + dy * dy);
    h.along = (struct point){dx / h.length, dy / h.length};
    /* On paper y runs down: the right of the edge, seen on the roof. */
    h.away = (struct point){-h.along.y, h.along.x};
    h.angle = atan2(dy, dx);
    /* What is upright but for tracing is read from the right. */
    if (h.angle > quarter - UPRIGHT)
        h.angle -= 2 * quarter;
    if (h.angle < -quarter - UPRIGHT)
        h.angle += 2 * quarter;
    return h;
}

bool place_is_free(struct plan_page *page, struct quad quad)
{
    return area_holds(page->plan, quad) &&
           boxes_free_at(canvas_boxes(page->canvas), quad);
}

void place_clear(struct plan_page *page, struct quad quad)
{
    canvas_move(page->canvas, quad.corners[0]);
    for (int i = 1; i < 4; i++)
        canvas_line(page->canvas, quad.corners[i]);
    canvas_close(page->canvas);
    canvas_fill(page->canvas, INK_PAPER, false);
}

void place_text(struct plan_page *page, struct point middle, double angle)
{
    struct point size = canvas_measure(page->canvas, PLAIN, plan_text(page));
    struct quad quad = quad_turned(middle, size.x + 2 * AIR, size.y, angle);
    if (!place_is_free(page, quad))
        return;
    place_clear(page, quad);
    canvas_turned(page->canvas, PLAIN, middle, angle, plan_text(page));
}

/* A slanted tick at an end of the line, and a stub towards what is measured. */
static void add_end(struct plan_page *page, const struct heading *h, struct point end,
                    double away)
{
    const double reach = 2.4;
    struct point slant = {(h->along.x - h->away.x) / sqrt(2.0),
                          (h->along.y - h->away.y) / sqrt(2.0)};
    canvas_segment(page->canvas, point_along(end, slant, -reach),
                   point_along(end, slant, reach));
    canvas_segment(page->canvas, point_along(end, h->away, 2.5 - away),
                   point_along(end, h->away, 2));
}

/* Where a text stands: its middle along the line, from the line's start, and beside it,
 * and the stretch of the line that it takes up with it. */
struct stand {
    double middle, beside, start, end;
};

/* In the line, outside of it, behind its end, before its start. */
static size_t stands_of(double length, struct point size, struct stand out[4])
{
    double behind = LEADER + size.x / 2 + AIR, all = LEADER + size.x + 2 * AIR;
    size_t count = 0;
    if (length >= size.x + 4 * AIR + 8)
        out[count++] = (struct stand){length / 2, 0, 0, length};
    else if (length >= size.x + 1)
        out[count++] = (struct stand){length / 2, size.y / 2 + 0.5, 0, length};
    out[count++] = (struct stand){length + behind, 0, 0, length + all};
    out[count++] = (struct stand){-behind, 0, -all, length};
    return count;
}

/* The line, which runs on to a text behind it and leaves one in it free. */
static void add_lines(struct plan_page *page, const struct heading *h, struct point start,
                      const struct stand *stand, double width)
{
    double gap = width / 2 + AIR;
    struct point end = point_along(start, h->along, h->length);
    if (stand->beside > 0) {
        canvas_segment(page->canvas, start, end);
    } else if (stand->middle < 0) {
        canvas_segment(page->canvas, point_along(start, h->along, stand->middle + gap),
                       end);
    } else if (stand->middle > h->length) {
        canvas_segment(page->canvas, start,
                       point_along(start, h->along, stand->middle - gap));
    } else {
        canvas_segment(page->canvas, start,
                       point_along(start, h->along, stand->middle - gap));
        canvas_segment(page->canvas, point_along(start, h->along, stand->middle + gap),
                       end);
    }
}

bool dimension_draw(struct plan_page *page, struct point from, struct point to,
                    double away, const char *text)
{
    struct heading h = heading_of(from, to);
    struct point size = canvas_measure(page->canvas, PLAIN, text);
    struct point start = point_along(from, h.away, away);
    struct stand stands[4];
    size_t count = stands_of(h.length, size, stands);
    for (size_t i = 0; i < count; i++) {
        const struct stand *stand = &stands[i];
        struct point middle =
            point_along(point_along(start, h.along, (stand->start + stand->end) / 2),
                        h.away, stand->beside);
        struct quad place =
            quad_turned(middle, stand->end - stand->start - 0.5, size.y + 1, h.angle);
        if (!place_is_free(page, place))
            continue;
        add_lines(page, &h, start, stand, size.x);
        add_end(page, &h, start, away);
        add_end(page, &h, point_along(start, h.along, h.length), away);
        canvas_stroke(page->canvas, INK_MIDDLE, 0.35, DASH_NONE);
        canvas_turned(page->canvas, PLAIN,
                      point_along(point_along(start, h.along, stand->middle), h.away,
                                  stand->beside),
                      h.angle, text);
        boxes_add_place(canvas_boxes(page->canvas), place);
        return true;
    }
    return false;
}
