/* The form of a site sheet: a row for each value to be read, some for places of one's
 * own, notes, and the lines to sign. */

#include <math.h>
#include <string.h>

#include "draw/site_sheet.h"

/* A field that is written into with a pencil, pt. */
#define FIELD (7.2 * SITE_MM)

/* Above and below the text of a row, before a note, pt. */
#define PAD 2.0
#define GAP 4.0

/* Rows for places of one's own. */
enum { OWN_ROWS = 3 };

enum note { NOTE_DAY, NOTE_WORDS, NOTE_WHY, NOTE_SIGN, NOTES };

enum { AT_PLACE, AT_TASK, AT_WHAT, AT_UNIT, AT_VALUE, AT_WHO, AT_WHEN, COLUMNS };

/* Widths add up to SITE_WIDTH. */
static const struct {
    const char *name;
    double part; /* of the sheet's width */
} columns[COLUMNS] = {{"place", 0.075}, {"task", 0.165},  {"what to write", 0.315},
                      {"unit", 0.095},  {"value", 0.165}, {"who", 0.09},
                      {"when", 0.095}};

static double column_left(const struct site_sheet *sheet, int column)
{
    double x = sheet->page.frame.x;
    for (int i = 0; i < column; i++)
        x += columns[i].part * sheet->page.frame.width;
    return x;
}

static double column_width(const struct site_sheet *sheet, int column)
{
    return columns[column].part * sheet->page.frame.width;
}

static bool is_si(const struct site_sheet *sheet)
{
    return columns_units(sheet->page.set) == UNITS_SI;
}

/* ---- Rows ---- */

static const struct survey_place *place_of(const struct site_sheet *sheet, size_t row)
{
    return &sheet->survey->places[sheet->survey->entries[row].place];
}

static void text_of(const struct site_sheet *sheet, size_t row, int column,
                    struct text *out)
{
    const struct survey_entry *entry = &sheet->survey->entries[row];
    const struct survey_place *place = place_of(sheet, row);
    switch (column) {
    case AT_TASK:
        text_puts(out, survey_task_name((int)place->task));
        text_puts(out, !place->placed        ? ", whole roof"
                       : site_at_edge(place) ? ", fall protection"
                                             : "");
        break;
    case AT_WHAT:
        if (entry->open)
            text_printf(out, "%s ", state_sign(STATE_MET_ASSUMED));
        text_puts(out, finding_what(entry->kind));
        break;
    case AT_UNIT:
        text_puts(out, site_entry_unit(entry->kind, is_si(sheet)));
        break;
    default:
        break;
    }
}

static double cell_height(struct site_sheet *sheet, size_t row, int column)
{
    text_of(sheet, row, column, plan_scratch(&sheet->page));
    return canvas_paragraph_height(sheet->page.canvas, PLAIN,
                                   column_width(sheet, column) - 2 * PAD,
                                   plan_text(&sheet->page)) +
           0.5;
}

static double row_height(struct site_sheet *sheet, size_t row)
{
    double height = FIELD;
    if (row >= sheet->survey->entry_count)
        return height;
    for (int column = AT_TASK; column <= AT_UNIT; column++)
        height = fmax(height, cell_height(sheet, row, column) + 2 * PAD);
    return height;
}

/* The field to fill in is the widest frame; the others are ruled lightly. */
static void rule_row(struct site_sheet *sheet, double height)
{
    struct canvas *canvas = sheet->page.canvas;
    double bottom = sheet->y + height;
    for (int column = 0; column < COLUMNS; column++)
        canvas_rectangle(canvas,
                         (struct area){column_left(sheet, column), sheet->y,
                                       column_width(sheet, column), bottom - sheet->y});
    canvas_stroke(canvas, INK_MIDDLE, 0.5, DASH_NONE);
    canvas_rectangle(canvas, (struct area){column_left(sheet, AT_VALUE), sheet->y,
                                           column_width(sheet, AT_VALUE), height});
    canvas_stroke(canvas, INK_DARK, 1, DASH_NONE);
}

static void put_row(struct site_sheet *sheet, size_t row, double height)
{
    struct canvas *canvas = sheet->page.canvas;
    rule_row(sheet, height);
    if (row >= sheet->survey->entry_count)
        return;
    site_name_draw(
        sheet, place_of(sheet, row),
        (struct point){column_left(sheet, AT_PLACE) + column_width(sheet, AT_PLACE) / 2,
                       sheet->y + height / 2});
    for (int column = AT_TASK; column <= AT_UNIT; column++) {
        double own = cell_height(sheet, row, column);
        canvas_paragraph(canvas, PLAIN,
                         (struct area){column_left(sheet, column) + PAD,
                                       sheet->y + (height - own) / 2,
                                       column_width(sheet, column) - 2 * PAD, own},
                         plan_text(&sheet->page));
    }
}

static void put_head(struct site_sheet *sheet)
{
    for (int column = 0; column < COLUMNS; column++)
        plan_cell(&sheet->page, STRONG, column_left(sheet, column) + PAD, sheet->y,
                  column_width(sheet, column) - PAD, ALIGN_LEFT, columns[column].name);
    sheet->y += LINE + 1;
}

/* ---- Notes ---- */

static void put_day(const struct site_sheet *sheet, struct text *out)
{
    for (size_t i = 0; sheet->rules && i < sheet->rules->count; i++) {
        const struct survey_rule *rule = &sheet->rules->rows[i];
        if (rule->by == BY_DAY)
            text_printf(out, "%s%s: %s. ", out->length ? "" : "While the work goes on, ",
                        survey_task_name((int)rule->task), rule->note);
    }
}

/* The first entry of its kind, so that each kind is told of once. */
static bool is_first(const struct site_sheet *sheet, size_t row)
{
    const struct survey_entry *entries = sheet->survey->entries;
    for (size_t i = 0; i < row; i++)
        if (entries[i].kind == entries[row].kind)
            return false;
    return true;
}

static void put_words(const struct site_sheet *sheet, struct text *out)
{
    for (size_t i = 0; i < sheet->survey->entry_count; i++) {
        enum finding_kind kind = sheet->survey->entries[i].kind;
        const char *(*words)(int value) = site_entry_words(kind);
        if (!words || !is_first(sheet, i))
            continue;
        text_printf(out, "%s%s: ", out->length ? "" : "Words to write. ",
                    finding_what(kind));
        for (int value = 1; words(value); value++)
            text_printf(out, "%s%s", value > 1 ? ", " : "", words(value));
        text_puts(out, ". ");
    }
}

/* Whether another entry of the same task has told the same. */
static bool is_told(const struct site_sheet *sheet, size_t row)
{
    const struct survey_entry *entries = sheet->survey->entries;
    for (size_t i = 0; i < row; i++)
        if (place_of(sheet, i)->task == place_of(sheet, row)->task &&
            strcmp(entries[i].why, entries[row].why) == 0)
            return true;
    return false;
}

static void put_why(const struct site_sheet *sheet, struct text *out)
{
    const struct site_survey *survey = sheet->survey;
    for (size_t i = 0; i < survey->entry_count; i++)
        if (survey->entries[i].why && !is_told(sheet, i))
            text_printf(out, "%s%s: %s. ", out->length ? "" : "Why. ",
                        survey_task_name((int)place_of(sheet, i)->task),
                        survey->entries[i].why);
    for (size_t i = 0; i < survey->entry_count; i++)
        if (survey->entries[i].open) {
            text_printf(out, "%s: the plan rests on an assumption until this is known.",
                        state_sign(STATE_MET_ASSUMED));
            break;
        }
}

/* Into the page's scratch. */
static const char *note_text(struct site_sheet *sheet, enum note note)
{
    static void (*const put[NOTES])(const struct site_sheet *, struct text *) = {
        [NOTE_DAY] = put_day, [NOTE_WORDS] = put_words, [NOTE_WHY] = put_why};
    struct text *text = plan_scratch(&sheet->page);
    if (put[note])
        put[note](sheet, text);
    return plan_text(&sheet->page);
}

/* ---- The lines to sign ---- */

enum { SIGN_LINES = 3 };

/* A name and a line to write on, from one share of the sheet's width to another. */
static void put_line(struct site_sheet *sheet, const char *name, int line, double from,
                     double to)
{
    struct plan_page *page = &sheet->page;
    struct area frame = page->frame;
    double x = frame.x + from * frame.width, end = frame.x + to * frame.width;
    double y = sheet->y + GAP + (line + 1) * FIELD;
    double width = canvas_measure(page->canvas, PLAIN, name).x + 4;
    plan_cell(page, PLAIN, x, y - LINE, width, ALIGN_LEFT, name);
    canvas_segment(page->canvas, (struct point){x + width, y}, (struct point){end, y});
    canvas_stroke(page->canvas, INK_DARK, 0.7, DASH_NONE);
}

static void put_sign(struct site_sheet *sheet)
{
    struct plan_page *page = &sheet->page;
    const double tick = 7;
    double y = sheet->y + GAP + 3 * FIELD;
    put_line(sheet, "Date", 0, 0, 0.3);
    put_line(sheet, "Weather", 0, 0.33, 1);
    put_line(sheet, "Names", 1, 0, 1);
    canvas_rectangle(page->canvas,
                     (struct area){page->frame.x + 1, y - LINE + 2, tick, tick});
    canvas_stroke(page->canvas, INK_DARK, 0.7, DASH_NONE);
    plan_cell(page, STRONG, page->frame.x + tick + 6, y - LINE, page->frame.width * 0.42,
              ALIGN_LEFT, "All core and test holes are repaired.");
    put_line(sheet, "Signature", 2, 0.47, 1);
}

/* ---- Items ---- */

static size_t rows_of(const struct site_sheet *sheet)
{
    return sheet->survey->entry_count + OWN_ROWS;
}

size_t site_form_items(const struct site_sheet *sheet)
{
    return rows_of(sheet) + NOTES;
}

static double item_height(struct site_sheet *sheet, size_t item)
{
    size_t rows = rows_of(sheet);
    if (item < rows)
        return row_height(sheet, item);
    if (item - rows == NOTE_SIGN)
        return GAP + SIGN_LINES * FIELD + 1;
    const char *text = note_text(sheet, (enum note)(item - rows));
    if (!*text)
        return 0;
    return GAP + 0.5 +
           canvas_paragraph_height(sheet->page.canvas, PLAIN, sheet->page.frame.width,
                                   text);
}

static void put_note(struct site_sheet *sheet, enum note note)
{
    const char *text = note_text(sheet, note);
    if (!*text)
        return;
    sheet->y += GAP;
    site_paragraph(sheet, PLAIN, text);
}

static void put_item(struct site_sheet *sheet, size_t item, double height)
{
    double end = sheet->y + height;
    size_t rows = rows_of(sheet);
    if (item < rows)
        put_row(sheet, item, height);
    else if (item - rows == NOTE_SIGN)
        put_sign(sheet);
    else
        put_note(sheet, (enum note)(item - rows));
    sheet->y = end;
}

double site_form_height(struct site_sheet *sheet)
{
    double height = sheet->next < rows_of(sheet) ? LINE + 1 : 0;
    for (size_t item = sheet->next; item < site_form_items(sheet); item++)
        height += item_height(sheet, item);
    return height;
}

/* A head needs a row below it; a page that has nothing else takes an item at least. */
void site_form_draw(struct site_sheet *sheet)
{
    bool empty = sheet->number > 1, rows = sheet->next < rows_of(sheet);
    double head = rows ? LINE + 1 : 0, bottom = site_bottom(sheet);
    while (sheet->next < site_form_items(sheet)) {
        double height = item_height(sheet, sheet->next);
        if (!empty && sheet->y + head + height > bottom)
            return;
        if (head > 0)
            put_head(sheet);
        put_item(sheet, sheet->next++, height);
        head = 0;
        empty = false;
    }
}
