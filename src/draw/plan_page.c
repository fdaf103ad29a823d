#include "draw/plan_page.h"

/* Around the outline for its dimensions, pt. */
#define MARGIN 46

struct text *plan_scratch(struct plan_page *page)
{
    text_clear(&page->scratch);
    return &page->scratch;
}

const char *plan_text(const struct plan_page *page)
{
    return page->scratch.data && !page->scratch.failed ? page->scratch.data : "";
}

void plan_cell(struct plan_page *page, struct lettering lettering, double x, double y,
               double width, enum align align, const char *text)
{
    canvas_cell(page->canvas, lettering, (struct area){x, y, width, LINE}, align, text);
}

/* Where the parts of the page go. */
static void divide(struct plan_page *page)
{
    const double margin = 24, side = 446, title = 48, caution = 25, legend = 100;
    struct paper paper = page->paper;
    struct area frame = {margin, margin, paper.width - 2 * margin,
                         paper.height - 2 * margin};
    double bottom = frame.y + frame.height, right = frame.x + frame.width;
    double foot = bottom - title - caution;
    page->frame = frame;
    page->title = (struct area){frame.x, bottom - title, frame.width, title};
    page->caution = (struct area){frame.x, foot, frame.width, caution};
    page->side = (struct area){right - side, frame.y, side, foot - frame.y};
    page->legend = (struct area){frame.x, foot - legend, frame.width - side, legend};
    page->plan =
        (struct area){frame.x, frame.y, frame.width - side, foot - legend - frame.y};
}

static void draw_plan(struct plan_page *page)
{
    struct corner corner;
    plan_scale(page, MARGIN, MARGIN);
    if (page->scale) {
        plan_draw(page);
        taper_draw(page);
        /* Dimensions first: labels find another place more easily. */
        if (page->roof->zoned && corner_find(page->roof, &corner))
            page->zones_left_out = !corner_dimension(page, &corner);
        lengths_draw(page);
        labels_draw(page);
        taper_numbers_draw(page);
        legend_draw(page);
    } else {
        canvas_cell(page->canvas, HEADING, page->plan, ALIGN_MIDDLE,
                    "no usable outline: see the remarks");
    }
    remarks_draw(page, tables_draw(page, page->side.y + 6));
}

bool plan_page_draw(struct plan_page *page)
{
    const struct roof *roof = page->roof;
    page->layout = roof && roof->layout_count > 0 ? &roof->layouts[0] : NULL;
    page->bill = page->layout ? &roof->bills[0] : NULL;
    page->turn = (struct point){1, 0};
    divide(page);
    if (roof)
        page->row = row_start(page->set, roof);
    if (page->kind == PAGE_PLAN) {
        draw_plan(page);
    } else if (page->kind == PAGE_DETAILS) {
        details_draw(page);
    } else {
        enlarged_draw(page);
        order_list_draw(page);
    }
    border_draw(page);
    bool whole = !page->scratch.failed;
    text_release(&page->scratch);
    return whole;
}
