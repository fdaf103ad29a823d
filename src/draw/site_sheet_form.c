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

/* Between notes of a group, pt. */
#define NOTE_GAP 1.0

/* Rows for places of one's own. */
enum { OWN_ROWS = 2 };

enum { AT_PLACE, AT_TASK, AT_WHAT, AT_UNIT, AT_VALUE, AT_WHO, AT_WHEN, COLUMNS };

/* Widths add up to SITE_WIDTH. */
static const struct {
    const char *name;
    double part; /* of the sheet's width */
} columns[COLUMNS] = {{"place", 0.07}, {"task", 0.15},  {"what to write", 0.37},
                      {"unit", 0.085}, {"value", 0.15}, {"who", 0.085},
                      {"when", 0.09}};

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

/* The field of the value is marked by darker sides. */
static void rule_row(struct site_sheet *sheet, double height)
{
    struct canvas *canvas = sheet->page.canvas;
    double top = sheet->y, bottom = sheet->y + height;
    for (int column = 0; column < COLUMNS; column++)
        canvas_rectangle(canvas, (struct area){column_left(sheet, column), top,
                                               column_width(sheet, column), height});
    canvas_stroke(canvas, INK_MIDDLE, 0.6, DASH_NONE);
    for (int column = AT_VALUE; column <= AT_VALUE + 1; column++) {
        double x = column_left(sheet, column);
        canvas_segment(canvas, (struct point){x, top}, (struct point){x, bottom});
    }
    canvas_stroke(canvas, INK_DARK, 1.2, DASH_NONE);
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

/* In the order of the sheet: those of a group have one heading. Each is of a kind, a task
 * or of the whole. */
enum note_group { NOTE_OPEN, NOTE_DAY, NOTE_WORDS, NOTE_SIGN, NOTE_WHY, NOTE_GROUPS };

struct note {
    enum note_group group;
    int index; /* task or kind */
};

static size_t group_size(enum note_group group)
{
    static const size_t sizes[NOTE_GROUPS] = {[NOTE_DAY] = SURVEY_TASKS,
                                              [NOTE_OPEN] = 1,
                                              [NOTE_WORDS] = FINDING_KINDS,
                                              [NOTE_WHY] = SURVEY_TASKS,
                                              [NOTE_SIGN] = 1};
    return sizes[group];
}

static size_t notes_all(void)
{
    size_t count = 0;
    for (int group = 0; group < NOTE_GROUPS; group++)
        count += group_size((enum note_group)group);
    return count;
}

static struct note note_at(size_t index)
{
    int group = 0;
    while (index >= group_size((enum note_group)group))
        index -= group_size((enum note_group)group++);
    return (struct note){(enum note_group)group, (int)index};
}

static void put_day(const struct site_sheet *sheet, int task, struct text *out)
{
    for (size_t i = 0; sheet->rules && i < sheet->rules->count; i++) {
        const struct survey_rule *rule = &sheet->rules->rows[i];
        if (rule->by == BY_DAY && (int)rule->task == task)
            text_printf(out, "%s: %s", survey_task_name(task), rule->note);
    }
}

static void put_open(const struct site_sheet *sheet, int index, struct text *out)
{
    (void)index;
    for (size_t i = 0; i < sheet->survey->entry_count; i++)
        if (sheet->survey->entries[i].open) {
            text_printf(out,
                        "%s  what is planned rests on an assumption until this is "
                        "known",
                        state_sign(STATE_MET_ASSUMED));
            return;
        }
}

static bool asks_for(const struct site_sheet *sheet, int kind)
{
    for (size_t i = 0; i < sheet->survey->entry_count; i++)
        if ((int)sheet->survey->entries[i].kind == kind)
            return true;
    return false;
}

static void put_words(const struct site_sheet *sheet, int kind, struct text *out)
{
    const char *(*words)(int value) = finding_words((enum finding_kind)kind);
    if (!words || !asks_for(sheet, kind))
        return;
    text_printf(out, "%s: ", finding_what((enum finding_kind)kind));
    for (int value = 1; words(value); value++)
        text_printf(out, "%s%s", value > 1 ? ", " : "", words(value));
}

/* Whether an entry of the same task before has told the same. */
static bool is_told(const struct site_sheet *sheet, size_t row)
{
    const struct survey_entry *entries = sheet->survey->entries;
    for (size_t i = 0; i < row; i++)
        if (place_of(sheet, i)->task == place_of(sheet, row)->task &&
            strcmp(entries[i].why, entries[row].why) == 0)
            return true;
    return false;
}

static void put_why(const struct site_sheet *sheet, int task, struct text *out)
{
    for (size_t i = 0; i < sheet->survey->entry_count; i++)
        if ((int)place_of(sheet, i)->task == task && !is_told(sheet, i)) {
            text_printf(out, "%s%s", out->length ? "; " : survey_task_name(task),
                        out->length ? "" : ": ");
            text_puts(out, sheet->survey->entries[i].why);
        }
}

/* Into the page's scratch; "" where there is nothing to say. */
static const char *note_text(struct site_sheet *sheet, struct note note)
{
    static void (*const put[NOTE_GROUPS])(const struct site_sheet *, int,
                                          struct text *) = {[NOTE_DAY] = put_day,
                                                            [NOTE_OPEN] = put_open,
                                                            [NOTE_WORDS] = put_words,
                                                            [NOTE_WHY] = put_why};
    struct text *text = plan_scratch(&sheet->page);
    if (put[note.group])
        put[note.group](sheet, note.index, text);
    return plan_text(&sheet->page);
}

/* The heading above the first of a group that says something, and on top of a page;
 * NULL. */
static const char *note_heading(struct site_sheet *sheet, struct note note)
{
    static const char *const headings[NOTE_GROUPS] = {[NOTE_DAY] =
                                                          "While the work goes on",
                                                      [NOTE_WORDS] = "Words to write",
                                                      [NOTE_WHY] = "Why"};
    for (int i = 0; !sheet->fresh && i < note.index; i++)
        if (*note_text(sheet, (struct note){note.group, i}))
            return NULL;
    return headings[note.group];
}

static double note_height(struct site_sheet *sheet, struct note note)
{
    double height = note_heading(sheet, note) ? GAP + LINE + 1 : 0;
    const char *text = note_text(sheet, note);
    if (!*text)
        return 0;
    return height + NOTE_GAP +
           canvas_paragraph_height(sheet->page.canvas, PLAIN, sheet->page.frame.width,
                                   text);
}

static void put_note(struct site_sheet *sheet, struct note note)
{
    const char *heading = note_heading(sheet, note);
    const char *text = note_text(sheet, note);
    if (!*text)
        return;
    if (heading) {
        plan_cell(&sheet->page, STRONG, sheet->page.frame.x, sheet->y + GAP,
                  sheet->page.frame.width, ALIGN_LEFT, heading);
        sheet->y += GAP + LINE + 1;
    }
    site_paragraph(sheet, PLAIN, text);
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
    return rows_of(sheet) + notes_all();
}

static double item_height(struct site_sheet *sheet, size_t item)
{
    size_t rows = rows_of(sheet);
    if (item < rows)
        return row_height(sheet, item);
    struct note note = note_at(item - rows);
    return note.group == NOTE_SIGN ? GAP + SIGN_LINES * FIELD + 1
                                   : note_height(sheet, note);
}

static void put_item(struct site_sheet *sheet, size_t item, double height)
{
    double end = sheet->y + height;
    size_t rows = rows_of(sheet);
    struct note note = {NOTE_SIGN, 0};
    if (item >= rows)
        note = note_at(item - rows);
    if (item < rows)
        put_row(sheet, item, height);
    else if (note.group == NOTE_SIGN)
        put_sign(sheet);
    else
        put_note(sheet, note);
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
    bool rows = sheet->next < rows_of(sheet);
    double head = rows ? LINE + 1 : 0, bottom = site_bottom(sheet);
    sheet->fresh = sheet->number > 1;
    while (sheet->next < site_form_items(sheet)) {
        double height = item_height(sheet, sheet->next);
        if (!sheet->fresh && sheet->y + head + height > bottom)
            return;
        if (head > 0)
            put_head(sheet);
        put_item(sheet, sheet->next++, height);
        head = 0;
        sheet->fresh &= height == 0;
    }
}
