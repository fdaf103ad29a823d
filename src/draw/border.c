/* Frame, caution and title block. */

#include "draw/plan_page.h"
#include "roof/caution.h"
#include "standard/standard.h"

#define TITLE ((struct lettering){15, true, INK_DARK})
#define NUMBER ((struct lettering){11, true, INK_DARK})

static void rule(struct plan_page *page, double x1, double y1, double x2, double y2)
{
    canvas_segment(page->canvas, (struct point){x1, y1}, (struct point){x2, y2});
}

static void draw_rules(struct plan_page *page)
{
    struct area frame = page->frame, side = page->side, title = page->title;
    double right = frame.x + frame.width;
    canvas_rectangle(page->canvas, frame);
    canvas_stroke(page->canvas, INK_DARK, 1.2, DASH_NONE);
    if (page->kind != PAGE_DETAILS)
        rule(page, side.x, side.y, side.x, side.y + side.height);
    rule(page, frame.x, page->caution.y, right, page->caution.y);
    rule(page, frame.x, title.y, right, title.y);
    canvas_stroke(page->canvas, INK_DARK, 0.7, DASH_NONE);
    if (page->kind != PAGE_DETAILS)
        rule(page, frame.x, page->legend.y, side.x, page->legend.y);
    canvas_stroke(page->canvas, INK_LIGHT, 0.5, DASH_NONE);
}

/* A box of the title block: a small name over lines. */
static double put_box(struct plan_page *page, double x, double width, const char *name,
                      const char *first, const char *second)
{
    struct area title = page->title;
    double inner = width - 12;
    plan_cell(page, SMALL_PRINT, x + 6, title.y + 3, inner, ALIGN_LEFT, name);
    plan_cell(page, STRONG, x + 6, title.y + 16, inner, ALIGN_LEFT, first);
    plan_cell(page, PLAIN, x + 6, title.y + 30, inner, ALIGN_LEFT, second);
    rule(page, x, title.y, x, title.y + title.height);
    canvas_stroke(page->canvas, INK_DARK, 0.7, DASH_NONE);
    return x + width;
}

/* The name goes below where a long id leaves it no room. */
static void put_name(struct plan_page *page, double width)
{
    static const char *const kinds[] = {[PAGE_PLAN] = "Roof plan",
                                        [PAGE_ORDER] = "Corner and order",
                                        [PAGE_DETAILS] = "What the edges take"};
    const struct roof *roof = page->roof;
    struct area title = page->title;
    struct text *text = plan_scratch(page);
    text_puts(text, roof ? roof->id : "Details");
    if (roof && roof->name)
        text_printf(text, "  %s", roof->name);
    bool whole = canvas_cell(page->canvas, TITLE,
                             (struct area){title.x + 10, title.y + 4, width - 16, 21},
                             ALIGN_LEFT, plan_text(page));
    text = plan_scratch(page);
    text_puts(text, kinds[page->kind]);
    if (!whole && roof && roof->name)
        text_printf(text, ", %s", roof->name);
    if (roof && roof->building)
        text_printf(text, ", building %s", roof->building);
    plan_cell(page, PLAIN, title.x + 10, title.y + 30, width - 16, ALIGN_LEFT,
              plan_text(page));
}

static void put_page_number(struct plan_page *page, double x, double width)
{
    struct text *text = plan_scratch(page);
    text_printf(text, "%lld", page->number);
    if (page->of >= page->number)
        text_printf(text, " of %lld", page->of);
    canvas_cell(page->canvas, NUMBER,
                (struct area){x + 6, page->title.y + 16, width - 12, 17}, ALIGN_LEFT,
                plan_text(page));
    plan_cell(page, SMALL_PRINT, x + 6, page->title.y + 3, width - 12, ALIGN_LEFT,
              "page");
}

static void draw_title(struct plan_page *page)
{
    const double method = 290, standard = 130, scale = 140, input = 140, number = 110;
    double name = page->title.width - method - standard - scale - input - number;
    const struct roof *roof = page->roof;
    bool us = columns_units(page->set) == UNITS_US;
    double x = page->title.x + name;
    put_name(page, name);
    if (roof)
        x = put_box(page, x, method, "method and assembly",
                    method_name((int)roof->method),
                    page->layout && page->layout->assembly ? page->layout->assembly
                                                           : "no assembly");
    else
        x = put_box(page, x, method, "method and assembly", "those of each roof", "");
    x = put_box(page, x, standard, "wind standard", page->set->standard->title,
                "planning figures");
    x = put_box(page, x, scale, "scale",
                !roof         ? "as each says"
                : page->scale ? page->scale->text
                              : "none",
                us ? "at 34 x 22 in, full size" : "at A1, full size");
    text_printf(plan_scratch(page), roof ? "%.12s" : "%s",
                roof ? page->revision : "of each roof");
    x = put_box(page, x, input, "input, digest", plan_text(page),
                "outlay " OUTLAY_VERSION);
    rule(page, x, page->title.y, x, page->title.y + page->title.height);
    canvas_stroke(page->canvas, INK_DARK, 0.7, DASH_NONE);
    put_page_number(page, x, page->title.x + page->title.width - x);
}

void border_draw(struct plan_page *page)
{
    struct area caution = page->caution;
    draw_rules(page);
    canvas_paragraph(page->canvas, PLAIN,
                     (struct area){caution.x + 10, caution.y + 1.5, caution.width - 20,
                                   caution.height - 3},
                     caution_text());
    draw_title(page);
}
