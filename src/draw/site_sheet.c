/* The head of a site sheet's pages, and where its parts go. */

#include "draw/site_sheet.h"

#include <math.h>

#include "roof/caution.h"

#define TITLE ((struct lettering){13, true, INK_DARK})
#define TITLE_HEIGHT 18.0

/* Of facts of the roof, pt. */
#define NAMES 52.0

/* The page's number along the foot, pt. */
#define FOOT 13.0

/* Between parts, pt. */
#define GAP 4.0

/* Runs of places at the edge that the head names. */
enum { RUNS_MOST = 24 };

/* A rest of a page that is better the plan's than the form's, pt. */
#define REST 70.0

bool site_at_edge(const struct survey_place *place)
{
    return place->placed && place->at_edge;
}

unsigned site_sheet_tasks(const struct site_sheet *sheet)
{
    unsigned tasks = 0;
    for (size_t i = 0; i < sheet->survey->place_count; i++)
        tasks |= 1u << sheet->survey->places[i].task;
    for (size_t i = 0; sheet->rules && i < sheet->rules->count; i++)
        if (sheet->rules->rows[i].by == BY_DAY)
            tasks |= 1u << sheet->rules->rows[i].task;
    return tasks;
}

double site_bottom(const struct site_sheet *sheet)
{
    return sheet->page.frame.y + sheet->page.frame.height - FOOT;
}

void site_paragraph(struct site_sheet *sheet, struct lettering lettering,
                    const char *text)
{
    struct canvas *canvas = sheet->page.canvas;
    double width = sheet->page.frame.width;
    double height = canvas_paragraph_height(canvas, lettering, width, text);
    canvas_paragraph(canvas, lettering,
                     (struct area){sheet->page.frame.x, sheet->y, width, height + 0.5},
                     text);
    sheet->y += height + 0.5;
}

/* ---- Head ---- */

/* The last of the places from first on that follow each other in number, all at the edge:
 * "P3 to P7". */
static size_t run_end(const struct site_survey *survey, size_t first)
{
    const struct survey_place *places = survey->places;
    size_t last = first;
    while (last + 1 < survey->place_count && site_at_edge(&places[last + 1]) &&
           places[last + 1].task == places[first].task)
        last++;
    return last;
}

/* @return how many runs there are */
static int put_runs(const struct site_survey *survey, struct text *text)
{
    int runs = 0;
    for (size_t i = 0; i < survey->place_count; i++) {
        if (!site_at_edge(&survey->places[i]))
            continue;
        size_t last = run_end(survey, i);
        text_printf(text, "%s%s", runs++ ? ", " : "", survey->places[i].name);
        if (last > i)
            text_printf(text, "%s%s", last > i + 1 ? " to " : ", ",
                        survey->places[last].name);
        i = last;
    }
    return runs;
}

/* Names the places that are nearer to an edge than one may work without. */
static void put_fall_protection(struct site_sheet *sheet)
{
    struct plan_page *page = &sheet->page;
    struct text *text = plan_scratch(page);
    text_puts(text, "At the edge, only with fall protection: ");
    int runs = put_runs(sheet->survey, text);
    if (runs == 0)
        return;
    if (runs > RUNS_MOST) {
        text_clear(text);
        text_puts(text, "At the edge, only with fall protection: all places whose names "
                        "are white on black");
    }
    text_puts(text, ".");
    site_paragraph(sheet, STRONG, plan_text(page));
}

static void put_title(struct site_sheet *sheet)
{
    struct plan_page *page = &sheet->page;
    const struct roof *roof = page->roof;
    struct text *text = plan_scratch(page);
    const double right = 120;
    text_puts(text, roof->id);
    if (roof->name)
        text_printf(text, "  %s", roof->name);
    sheet->y += GAP;
    canvas_cell(
        page->canvas, TITLE,
        (struct area){page->frame.x, sheet->y, page->frame.width - right, TITLE_HEIGHT},
        ALIGN_LEFT, plan_text(page));
    canvas_cell(page->canvas, HEADING,
                (struct area){page->frame.x + page->frame.width - right, sheet->y, right,
                              TITLE_HEIGHT},
                ALIGN_RIGHT, sheet->number > 1 ? "Site sheet, continued" : "Site sheet");
    sheet->y += TITLE_HEIGHT;
    canvas_segment(page->canvas, (struct point){page->frame.x, sheet->y},
                   (struct point){page->frame.x + page->frame.width, sheet->y});
    canvas_stroke(page->canvas, INK_DARK, 1, DASH_NONE);
    sheet->y += 2;
}

/* ---- What the roof is ---- */

/* The page's scratch as a fact. @param place  0, 1: side by side in a line */
static void put_fact(struct site_sheet *sheet, int place, const char *name)
{
    struct plan_page *page = &sheet->page;
    double width = page->frame.width / 2;
    double x = page->frame.x + place * width;
    plan_cell(page, SMALL_PRINT, x, sheet->y, NAMES - 2, ALIGN_LEFT, name);
    plan_cell(page, PLAIN, x + NAMES, sheet->y, width - NAMES - 4, ALIGN_LEFT,
              plan_text(page));
    if (place == 1)
        sheet->y += LINE;
}

static void put_figure(struct site_sheet *sheet, struct text *text, const char *column)
{
    figure_put(text, roof_columns, roof_column_count, column, &sheet->page.row, true);
}

/* As a tape has it. */
static void put_height(struct site_sheet *sheet, struct text *text)
{
    const struct plan_page *page = &sheet->page;
    if (columns_units(page->set) == UNITS_US && isfinite(page->roof->height))
        figure_length(text, page->roof->height, page->set);
    else
        put_figure(sheet, text, "height_ft");
}

static void put_bits(struct text *text, const char *word, uint64_t bits, int count,
                     const char *(*name)(int))
{
    const char *before = word;
    for (int bit = 0; bit < count; bit++)
        if (bits & UINT64_C(1) << bit) {
            text_printf(text, "%s%s%s", before == word && text->length ? "; " : "",
                        before, name(bit));
            before = ", ";
        }
}

static void put_open(struct site_sheet *sheet)
{
    struct plan_page *page = &sheet->page;
    struct text *text = plan_scratch(page);
    put_bits(text, "estimated ", page->roof->estimated, ESTIMATES, estimate_name);
    put_bits(text, "assumed ", page->roof->assumed, ASSUMPTIONS, assumption_name);
    if (text->length == 0)
        text_puts(text, "nothing estimated or assumed");
    double width = page->frame.width - NAMES;
    double height =
        canvas_paragraph_height(page->canvas, PLAIN, width, plan_text(page)) + 0.5;
    plan_cell(page, SMALL_PRINT, page->frame.x, sheet->y, NAMES - 2, ALIGN_LEFT, "open");
    canvas_paragraph(page->canvas, PLAIN,
                     (struct area){page->frame.x + NAMES, sheet->y + 0.7, width, height},
                     plan_text(page));
    sheet->y += height + GAP;
}

static void put_facts(struct site_sheet *sheet)
{
    struct plan_page *page = &sheet->page;
    const struct roof *roof = page->roof;
    text_puts(plan_scratch(page), roof->building ? roof->building : "not given");
    put_fact(sheet, 0, "building");
    put_figure(sheet, plan_scratch(page), "area_ft2");
    put_fact(sheet, 1, "area");
    put_height(sheet, plan_scratch(page));
    if (roof->estimated & 1u << ESTIMATE_HEIGHT)
        text_puts(&page->scratch, " estimated");
    put_fact(sheet, 0, "height");
    deck_put(plan_scratch(page), roof);
    put_fact(sheet, 1, "deck");
    text_puts(plan_scratch(page), method_name((int)roof->method));
    put_fact(sheet, 0, "method");
    text_printf(plan_scratch(page), "%s %s", state_sign(roof->state),
                zone_state_name((int)roof->state));
    put_fact(sheet, 1, "state");
    put_open(sheet);
}

/* ---- The page ---- */

/* As high as the roof's shape asks for, less where that lets the whole form stand below;
 * a rest too small for the form is the plan's. */
static double plan_height(struct site_sheet *sheet)
{
    double wanted = site_plan_wanted(sheet);
    double room =
        site_bottom(sheet) - sheet->y - site_key_height(sheet) - site_bring_height(sheet);
    double rest = room - site_form_height(sheet);
    if (rest >= SITE_PLAN_LEAST)
        return fmin(wanted, rest);
    return room - wanted < REST ? room : wanted;
}

static void draw_first(struct site_sheet *sheet)
{
    put_facts(sheet);
    site_plan_draw(sheet, plan_height(sheet));
    site_bring_draw(sheet);
}

static void put_foot(struct site_sheet *sheet, bool more)
{
    struct plan_page *page = &sheet->page;
    double y = site_bottom(sheet) + FOOT - LINE;
    struct text *text = plan_scratch(page);
    text_printf(text, "page %d of this roof, %s", sheet->number,
                more ? "continued on the next page" : "the last");
    plan_cell(page, SMALL_PRINT, page->frame.x, y, page->frame.width - 120, ALIGN_LEFT,
              plan_text(page));
    plan_cell(page, SMALL_PRINT, page->frame.x + page->frame.width - 118, y, 118,
              ALIGN_RIGHT, "outlay " OUTLAY_VERSION);
}

bool site_sheet_draw(struct site_sheet *sheet)
{
    struct plan_page *page = &sheet->page;
    sheet->number++;
    page->kind = PAGE_SITE;
    page->turn = (struct point){1, 0};
    page->row = row_start(page->set, page->roof);
    page->frame =
        (struct area){(page->paper.width - SITE_WIDTH) / 2,
                      (page->paper.height - SITE_HEIGHT) / 2, SITE_WIDTH, SITE_HEIGHT};
    sheet->y = page->frame.y;
    site_paragraph(sheet, PLAIN, caution_text());
    put_fall_protection(sheet);
    put_title(sheet);
    if (sheet->number == 1)
        draw_first(sheet);
    site_form_draw(sheet);
    bool more = sheet->next < site_form_items(sheet);
    put_foot(sheet, more);
    return more;
}

bool site_sheet_release(struct site_sheet *sheet)
{
    bool whole = !sheet->page.scratch.failed;
    text_release(&sheet->page.scratch);
    return whole;
}
