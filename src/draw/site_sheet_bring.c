/* What to bring onto the roof, each with a box to tick. */

#include "draw/site_sheet.h"

enum { COLUMNS = 3 };

/* Of a box to tick, pt. */
#define TICK 7.0

/* Distance of lines, pt. */
#define STEP (LINE + 1.4)

static bool needs_fall_protection(const struct site_sheet *sheet)
{
    for (size_t i = 0; i < sheet->survey->place_count; i++)
        if (site_at_edge(&sheet->survey->places[i]))
            return true;
    return false;
}

/* Fall protection first, where it is needed. */
static const char *tool_at(const struct site_sheet *sheet, size_t index)
{
    if (!needs_fall_protection(sheet))
        return site_tool(site_sheet_tasks(sheet), index);
    return index == 0 ? "fall protection" : site_tool(site_sheet_tasks(sheet), index - 1);
}

static bool makes_holes(const struct site_sheet *sheet)
{
    return site_sheet_tasks(sheet) & (1u << TASK_PULLOUT | 1u << TASK_CORE);
}

double site_bring_height(const struct site_sheet *sheet)
{
    size_t count = 0;
    while (tool_at(sheet, count))
        count++;
    size_t lines = (count + COLUMNS - 1) / COLUMNS;
    return 3 + LINE + 2 + (double)lines * STEP + (makes_holes(sheet) ? LINE + 3 : 0) + 3;
}

void site_bring_draw(struct site_sheet *sheet)
{
    struct plan_page *page = &sheet->page;
    struct area frame = page->frame;
    const double width = frame.width / COLUMNS;
    double end = sheet->y + site_bring_height(sheet);
    const char *tool;
    sheet->y += 3;
    plan_cell(page, HEADING, frame.x, sheet->y, frame.width, ALIGN_LEFT, "What to bring");
    sheet->y += LINE + 2;
    for (size_t i = 0; (tool = tool_at(sheet, i)); i++) {
        double x = frame.x + (double)(i % COLUMNS) * width;
        size_t line = i / COLUMNS;
        double y = sheet->y + (double)line * STEP;
        canvas_rectangle(page->canvas,
                         (struct area){x + 1, y + (LINE - TICK) / 2, TICK, TICK});
        canvas_stroke(page->canvas, INK_DARK, 0.7, DASH_NONE);
        plan_cell(page, PLAIN, x + TICK + 6, y, width - TICK - 10, ALIGN_LEFT, tool);
    }
    if (makes_holes(sheet))
        plan_cell(page, STRONG, frame.x, end - LINE - 3, frame.width, ALIGN_LEFT,
                  "Repair every core and test hole before you leave the roof.");
    sheet->y = end;
}
