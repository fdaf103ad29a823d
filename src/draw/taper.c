/* Contours of tapered insulation, with their thickness where there is room. */

#include <math.h>

#include "draw/plan_page.h"
#include "roof/taper.h"

/* Least distance between contours on paper, pt: where they are denser, every second one
 * is left out, then again. */
#define CONTOUR_LEAST 5.0

/* Contours shorter than this have no number, pt. */
#define NUMBERED_LEAST 30.0

/* Of the contours that are drawn every such one has a number. */
#define NUMBERED_EVERY 4

/* Every how many steps a contour is drawn. */
static long step_of(const struct plan_page *page, const struct taper *taper)
{
    long every = 1;
    while ((double)every * taper->contour_step / taper->slope * page->points <
           CONTOUR_LEAST)
        every *= 2;
    return every;
}

static bool is_nth(const struct taper *taper, const struct taper_contour *contour, long n)
{
    return lround(contour->thickness / taper->contour_step) % n == 0;
}

static void put_number(struct plan_page *page, const struct taper_contour *contour)
{
    const struct unit *unit = &page->set->units->small;
    struct point from = plan_point(page, contour->from);
    struct point to = plan_point(page, contour->to);
    struct point middle = {(from.x + to.x) / 2, (from.y + to.y) / 2};
    if (point_distance(from, to) < NUMBERED_LEAST)
        return;
    struct text *text = plan_scratch(page);
    text_number(text, contour->thickness / unit->factor, 1);
    text_printf(text, " %s", unit->label);
    place_text(page, middle, 0);
}

void taper_draw(struct plan_page *page)
{
    const struct taper *taper = page->roof->taper;
    if (!taper || taper->contour_count == 0)
        return;
    struct look look = layer_look(LAYER_CONTOURS);
    long every = step_of(page, taper);
    for (size_t i = 0; i < taper->contour_count; i++) {
        if (!is_nth(taper, &taper->contours[i], every))
            continue;
        canvas_segment(page->canvas, plan_point(page, taper->contours[i].from),
                       plan_point(page, taper->contours[i].to));
    }
    canvas_stroke(page->canvas, look.ink, look.width, look.dash);
    page->drawn |= 1u << LAYER_CONTOURS;
}

void taper_numbers_draw(struct plan_page *page)
{
    const struct taper *taper = page->roof->taper;
    if (!taper || taper->contour_count == 0)
        return;
    long every = NUMBERED_EVERY * step_of(page, taper);
    for (size_t i = 0; i < taper->contour_count; i++)
        if (is_nth(taper, &taper->contours[i], every))
            put_number(page, &taper->contours[i]);
}
