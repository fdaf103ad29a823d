/* Below the plan: what its signs mean, what isn't shown and why, scale bar, north. */

#include <math.h>

#include "base/plural.h"
#include "draw/plan_page.h"

/* Width of an entry, pt. */
#define ENTRY 102.0

void legend_tone(struct plan_page *page, enum zone_role role)
{
    static const enum ink tones[ZONE_ROLES] = {[ZONE_CORNER] = INK_CORNER,
                                               [ZONE_PERIMETER] = INK_PERIMETER,
                                               [ZONE_FIELD] = INK_FIELD,
                                               [ZONE_INTERIOR] = INK_INTERIOR};
    canvas_fill(page->canvas, tones[role], role == ZONE_CORNER);
    if (role == ZONE_CORNER)
        canvas_hatch(page->canvas, INK_HATCH, 0.35, 3.6);
}

static void advance(struct legend_cursor *cursor)
{
    cursor->x += cursor->entry;
    if (cursor->x + cursor->entry > cursor->right) {
        cursor->x = cursor->left;
        cursor->y += LINE + 1.4;
    }
}

void legend_name(struct plan_page *page, struct legend_cursor *cursor, const char *name)
{
    plan_cell(page, PLAIN, cursor->x + LEGEND_SIGN + 4, cursor->y,
              cursor->entry - LEGEND_SIGN - 6, ALIGN_LEFT, name);
    advance(cursor);
}

static void put_zone(struct plan_page *page, struct legend_cursor *cursor,
                     const struct zone *zone)
{
    struct area sign = {cursor->x, cursor->y + 0.8, LEGEND_SIGN, LINE - 1.6};
    canvas_rectangle(page->canvas, sign);
    legend_tone(page, zone->role);
    canvas_rectangle(page->canvas, sign);
    canvas_stroke(page->canvas, INK_ZONE_LINE, 0.7, DASH_NONE);
    text_printf(plan_scratch(page), "%s (%s)", zone_role_name((int)zone->role),
                zone->label);
    legend_name(page, cursor, plan_text(page));
}

static void put_layer(struct plan_page *page, struct legend_cursor *cursor,
                      enum layer layer)
{
    struct look look = layer_look(layer);
    static const char *const names[LAYERS] = {
#define X(code, name) name,
        LAYER_MAP(X)
#undef X
    };
    double y = cursor->y + LINE / 2;
    struct point from = {cursor->x, y}, to = {cursor->x + LEGEND_SIGN, y};
    if (layer == LAYER_BOARD_PLATES || layer == LAYER_CROWDED) {
        canvas_circle(page->canvas, (struct point){cursor->x + LEGEND_SIGN / 2, y},
                      layer == LAYER_CROWDED ? 4.4 : 2.4);
        canvas_stroke(page->canvas, look.ink, look.width, look.dash);
        legend_name(page, cursor, names[layer]);
        return;
    }
    if (layer == LAYER_PLATES)
        from = to = (struct point){cursor->x + LEGEND_SIGN / 2, y};
    if (layer == LAYER_BOARDS || layer == LAYER_COVER_STRIPS) {
        canvas_rectangle(page->canvas, (struct area){cursor->x, y - 3, LEGEND_SIGN,
                                                     layer == LAYER_BOARDS ? 6 : 2});
    } else {
        canvas_segment(page->canvas, from, to);
    }
    canvas_stroke(page->canvas, look.ink, look.width, look.dash);
    legend_name(page, cursor, names[layer]);
}

static void put_fixture(struct plan_page *page, struct legend_cursor *cursor,
                        enum fixture_kind kind)
{
    struct point middle = {cursor->x + LEGEND_SIGN / 2, cursor->y + LINE / 2};
    fixture_sign(page, kind, middle, NULL);
    legend_name(page, cursor, fixture_kind_name((int)kind));
}

void legend_signs(struct plan_page *page, struct legend_cursor *cursor)
{
    for (size_t i = 0; i < page->roof->zone_count; i++)
        put_zone(page, cursor, &page->roof->zones[i]);
    for (int layer = 0; layer < LAYERS; layer++)
        if (page->drawn & 1u << layer)
            put_layer(page, cursor, (enum layer)layer);
    for (int kind = FIXTURE_NOT_GIVEN + 1; kind < FIXTURE_KINDS; kind++)
        if (page->fixtures & 1u << kind)
            put_fixture(page, cursor, (enum fixture_kind)kind);
}

/* ---- Scale bar and north ---- */

/* Into the page's scratch. @return its width, pt */
static double bar_label(struct plan_page *page, double value, const char *unit)
{
    struct text *text = plan_scratch(page);
    text_number(text, value, 2);
    if (*unit)
        text_printf(text, " %s", unit);
    return canvas_measure(page->canvas, PLAIN, plan_text(page)).x;
}

static void put_bar_label(struct plan_page *page, double x, double y, double value,
                          const char *unit)
{
    bar_label(page, value, unit);
    canvas_cell(page->canvas, PLAIN, (struct area){x - 24, y, 48, LINE}, ALIGN_MIDDLE,
                plan_text(page));
}

/* Least distance of numbers below a scale bar, pt. */
#define BAR_GAP 3.0

void legend_bar(struct plan_page *page, double x, double y, double most)
{
    const struct unit *unit = &page->set->units->length;
    double length = scale_bar(page->points, unit->factor, most);
    double quarter = length * unit->factor * page->points / 4;
    for (int i = 0; i < 4; i++) {
        struct area part = {x + i * quarter, y, quarter, 4};
        canvas_rectangle(page->canvas, part);
        canvas_fill(page->canvas, i % 2 ? INK_PAPER : INK_DARK, true);
        canvas_stroke(page->canvas, INK_DARK, 0.5, DASH_NONE);
    }
    double middle = bar_label(page, length / 2, "");
    double last = bar_label(page, length, unit->suffix);
    put_bar_label(page, x, y + 5, 0, "");
    if (2 * quarter > (middle + last) / 2 + BAR_GAP)
        put_bar_label(page, x + 2 * quarter, y + 5, length / 2, "");
    put_bar_label(page, x + 4 * quarter, y + 5, length, unit->suffix);
    canvas_cell(page->canvas, STRONG, (struct area){x, y - LINE - 2, most, LINE},
                ALIGN_LEFT, page->scale->text);
}

/* An arrow from the tail's notch to where the frame's north goes, half of it filled. */
void legend_north(struct plan_page *page, struct point middle)
{
    struct canvas *canvas = page->canvas;
    struct point north = {-page->turn.y, -page->turn.x};
    struct point head = {middle.x + 14 * north.x, middle.y + 14 * north.y};
    struct point notch = {middle.x - 8 * north.x, middle.y - 8 * north.y};
    for (int side = -1; side <= 1; side += 2) {
        canvas_move(canvas, head);
        canvas_line(canvas, (struct point){middle.x - 13 * north.x - 5 * side * north.y,
                                           middle.y - 13 * north.y + 5 * side * north.x});
        canvas_line(canvas, notch);
        canvas_close(canvas);
        if (side > 0)
            canvas_fill(canvas, INK_DARK, false);
        else
            canvas_stroke(canvas, INK_DARK, 0.6, DASH_NONE);
    }
    canvas_turned(canvas, HEADING,
                  (struct point){middle.x - 21 * north.x, middle.y - 21 * north.y}, 0,
                  "N");
}

/* ---- What isn't shown ---- */

static void list_dropped(const struct plan_page *page, struct text *out)
{
    static const char *const names[LAYERS] = {[LAYER_SHEETS] = "sheet edges, end laps",
                                              [LAYER_HALF_SHEETS] = "half-sheet edges",
                                              [LAYER_COVER_STRIPS] = "cover strips",
                                              [LAYER_ROWS] = "rows",
                                              [LAYER_BASE] = "base securement",
                                              [LAYER_BOARDS] = "board joints",
                                              [LAYER_PLATES] = "plates and fasteners",
                                              [LAYER_NEIGHBOURS] = "other roofs"};
    bool any = false;
    for (int layer = 0; layer < LAYERS; layer++)
        if (page->dropped & 1u << layer) {
            text_printf(out, "%s%s",
                        any ? ", " : "Too dense to draw at this scale: ", names[layer]);
            any = true;
        }
    if (any)
        text_puts(out, ". ");
}

/* What feet and inches, or millimetres, say. */
static const char *length_words(const struct plan_page *page)
{
    return columns_units(page->set) == UNITS_US ? "feet and inches, to 1/2 in"
                                                : "millimetres";
}

static void put_wall_note(const struct plan_page *page, struct text *text)
{
    if (page->layout && page->roof->field)
        text_puts(text,
                  "Sheets and boards end at the inner face of parapets, lengths are "
                  "from their outside. ");
}

static void put_corner_notes(const struct plan_page *page, struct text *text)
{
    text_printf(
        text,
        "A corner of this roof, enlarged from its plan and turned; dimensions in %s: "
        "rows one after another from the edge, beyond them the corner zone. ",
        length_words(page));
    if (page->layout && page->layout->half_sheets > 0)
        text_printf(text, "%d half sheet%s along %s. ", page->layout->half_sheets,
                    PLURAL(page->layout->half_sheets),
                    page->layout->style == EDGES_FRAMES
                        ? "each edge"
                        : "edges that run with the sheets");
    text_puts(text, "@: fasteners in the row, from each other. ");
    put_wall_note(page, text);
    list_dropped(page, text);
}

static void put_plan_notes(const struct plan_page *page, struct text *text)
{
    if (page->roof->fixture_count == 0)
        text_puts(text, "Drains and penetrations are counted, not placed: the input has "
                        "no positions of them. ");
    text_printf(text, "Lengths in %s, as traced", length_words(page));
    if (page->zones_left_out)
        text_puts(text, "; not all widths of zones shown");
    if (page->lengths_left_out)
        text_printf(text, "; %zu edge length%s not shown", page->lengths_left_out,
                    PLURAL(page->lengths_left_out));
    text_puts(text, ". ");
    if (page->layout)
        text_puts(text, "Numbers are those of the sheets, as in rolls.csv");
    if (page->numbers_left_out)
        text_printf(text, "; %zu not shown", page->numbers_left_out);
    text_puts(text, page->layout ? ". North is up. " : "North is up. ");
    put_wall_note(page, text);
    list_dropped(page, text);
}

static void put_notes(struct plan_page *page, struct area area)
{
    struct text *text = plan_scratch(page);
    if (page->kind == PAGE_PLAN)
        put_plan_notes(page, text);
    else
        put_corner_notes(page, text);
    canvas_paragraph(page->canvas, SMALL_PRINT, area, plan_text(page));
}

void legend_draw(struct plan_page *page)
{
    struct area legend = page->legend;
    const double bar = 140, north = 46;
    struct legend_cursor cursor = {legend.x + 10, legend.x + 10, legend.y + 6,
                                   legend.x + legend.width - bar - north - 20, ENTRY};
    legend_signs(page, &cursor);
    double notes = legend.y + legend.height - 31;
    put_notes(page, (struct area){cursor.left, notes, cursor.right - cursor.left, 29});
    legend_bar(page, cursor.right + 16, legend.y + 24, bar - 10);
    legend_north(page, (struct point){legend.x + legend.width - 38, legend.y + 34});
}
