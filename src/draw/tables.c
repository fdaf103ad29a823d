/* On the right: the roof in figures, and its zones. */

#include <math.h>

#include "draw/plan_page.h"
#include "roof/fixtures.h"

#define PI 3.14159265358979323846

#define ZONES(name, row, unit, out) \
    figure_put(out, zone_columns, zone_column_count, name, row, unit)
#define ROOFS(name, row, unit, out) \
    figure_put(out, roof_columns, roof_column_count, name, row, unit)

double side_heading(struct plan_page *page, double y, const char *text)
{
    double left = page->side.x + 10, width = page->side.width - 20;
    canvas_cell(page->canvas, HEADING, (struct area){left, y, width, LINE + 2},
                ALIGN_LEFT, text);
    canvas_segment(page->canvas, (struct point){left, y + LINE + 2.6},
                   (struct point){left + width, y + LINE + 2.6});
    canvas_stroke(page->canvas, INK_DARK, 0.7, DASH_NONE);
    return y + LINE + 4.6;
}

const char *state_sign(enum zone_state state)
{
    switch (state) {
    case STATE_MET:
        return "\xE2\x97\x8F"; /* full disc */
    case STATE_MET_ASSUMED:
        return "\xE2\x97\x90"; /* half disc */
    case STATE_NOT_MET:
        return "\xE2\x96\xB2"; /* triangle */
    case STATE_UNKNOWN:
        break;
    }
    return "\xE2\x97\x8B"; /* ring */
}

/* ---- The roof ---- */

/* Width of names, pt. */
enum { NAMES = 76 };

/* A pair of name and value; two pairs per line. */
static void put_fact(struct plan_page *page, double y, int place, const char *name,
                     const char *value)
{
    double width = (page->side.width - 20) / 2;
    double x = page->side.x + 10 + (place % 2) * width;
    int above = place / 2;
    double line = y + above * LINE;
    canvas_cell(page->canvas, SMALL_PRINT, (struct area){x, line, NAMES - 2, LINE},
                ALIGN_LEFT, name);
    plan_cell(page, PLAIN, x + NAMES, line, width - NAMES - 4, ALIGN_LEFT, value);
}

static void put_figure(struct plan_page *page, double y, int place, const char *name,
                       const char *column)
{
    ROOFS(column, &page->row, true, plan_scratch(page));
    put_fact(page, y, place, name, plan_text(page));
}

static void put_count(struct plan_page *page, double y, int place, const char *name,
                      int count, bool placed)
{
    struct text *text = plan_scratch(page);
    if (count == MISSING)
        text_puts(text, "not given");
    else
        text_printf(text, "%d%s", count, placed ? "" : ", not placed");
    put_fact(page, y, place, name, plan_text(page));
}

static void put_word(struct plan_page *page, double y, int place, const char *name,
                     const char *word)
{
    put_fact(page, y, place, name, word && *word ? word : "not given");
}

static void put_height(struct plan_page *page, double y, int place)
{
    struct text *text = plan_scratch(page);
    ROOFS("height_ft", &page->row, true, text);
    if (page->roof->estimated & 1u << ESTIMATE_HEIGHT)
        text_puts(text, " estimated");
    put_fact(page, y, place, "mean height", plan_text(page));
}

void deck_put(struct text *out, const struct roof *roof)
{
    enum deck deck = roof->zoned ? roof->basis.deck : roof->given.deck;
    bool assumed = roof->assumed & ASSUMPTION_BIT(ASSUME_DECK);
    text_printf(out, "%s%s", deck == DECK_NOT_GIVEN ? "not given" : deck_name((int)deck),
                assumed ? ", assumed" : "");
}

/* Which way the sheets run, as a bearing from north. */
static void put_sheets(struct plan_page *page, double y)
{
    const struct layout *layout = page->layout;
    struct text *text = plan_scratch(page);
    if (!layout || layout->sheet_count == 0) {
        text_puts(text, "nothing laid out");
    } else {
        double bearing = fmod(90 - layout->bearing * 180 / PI + 720, 180);
        text_printf(text, "run %03d\xC2\xB0 from north", (int)floor(bearing + 0.5) % 180);
        if (layout->bearing_reason)
            text_printf(text, ", %s", layout->bearing_reason);
    }
    canvas_cell(page->canvas, SMALL_PRINT,
                (struct area){page->side.x + 10, y, NAMES - 2, LINE}, ALIGN_LEFT,
                "sheets");
    plan_cell(page, PLAIN, page->side.x + 10 + NAMES, y, page->side.width - 20 - NAMES,
              ALIGN_LEFT, plan_text(page));
}

static double draw_roof(struct plan_page *page, double y)
{
    const struct attributes *given = &page->roof->given;
    y = side_heading(page, y, "Roof");
    put_figure(page, y, 0, "area", "area_ft2");
    put_height(page, y, 1);
    put_figure(page, y, 2, "free edge", "edge_length_ft");
    put_figure(page, y, 3, "corners", "corners");
    deck_put(plan_scratch(page), page->roof);
    put_fact(page, y, 4, "deck", plan_text(page));
    struct text *text = plan_scratch(page);
    if (isfinite(given->parapet)) {
        text_number(text, given->parapet / page->set->units->length.factor, 2);
        text_printf(text, " %s", page->set->units->length.suffix);
    }
    put_word(page, y, 5, "parapet", plan_text(page));
    put_count(page, y, 6, "drains", roof_drains(page->roof),
              fixtures_count(page->roof, FIXTURE_DRAIN) > 0);
    put_count(page, y, 7, "penetrations", roof_penetrations(page->roof),
              fixtures_count(page->roof, FIXTURE_PIPE) +
                      fixtures_count(page->roof, FIXTURE_SUPPORT) >
                  0);
    put_figure(page, y, 8, "wind speed", "wind_speed_mph");
    put_word(page, y, 9, "exposure", exposure_name((int)page->roof->velocity.exposure));
    put_figure(page, y, 10, "zone width", "zone_width_ft");
    put_word(page, y, 11, "existing", existing_kind_name((int)given->existing));
    put_sheets(page, y + 6 * LINE);
    return y + 7 * LINE + 6;
}

/* ---- Its zones ---- */

/* Right or left end of each column, from the left of the side column. */
enum {
    ZONE_AT = 30,
    LABEL_AT = 84,
    AREA_AT = 158,
    UPLIFT_AT = 214,
    HOLD_AT = 220,
    COUNT_AT = 366,
    STATE_AT = 372
};

static void put_head(struct plan_page *page, double y)
{
    double x = page->side.x;
    const struct unit_system *units = page->set->units;
    plan_cell(page, SMALL_PRINT, x + ZONE_AT, y, 50, ALIGN_LEFT, "zone");
    text_printf(plan_scratch(page), "area %s", figure_unit(units->area.suffix));
    plan_cell(page, SMALL_PRINT, x + AREA_AT - 58, y, 58, ALIGN_RIGHT, plan_text(page));
    text_printf(plan_scratch(page), "uplift %s", figure_unit(units->pressure.suffix));
    plan_cell(page, SMALL_PRINT, x + UPLIFT_AT - 54, y, 54, ALIGN_RIGHT, plan_text(page));
    plan_cell(page, SMALL_PRINT, x + HOLD_AT, y, 64, ALIGN_LEFT, "attachment");
    plan_cell(page, SMALL_PRINT, x + COUNT_AT - 46, y, 46, ALIGN_RIGHT, "fasteners");
    plan_cell(page, SMALL_PRINT, x + STATE_AT, y, 56, ALIGN_LEFT, "state");
}

static void put_attachment(struct plan_page *page, const struct row *row)
{
    const struct zone_attachment *attachment = &row->zone->attachment;
    struct text *text = plan_scratch(page);
    if (isfinite(attachment->row_spacing)) {
        text_puts(text, "rows ");
        ZONES("row_spacing_ft", row, true, text);
        text_puts(text, " @ ");
        ZONES("fastener_spacing_in", row, true, text);
    } else if (attachment->per_board != MISSING) {
        ZONES("per_board", row, false, text);
        text_puts(text, " a board");
    } else if (isfinite(attachment->ribbon_spacing) && attachment->ribbon_spacing > 0) {
        text_puts(text, "ribbons @ ");
        ZONES("ribbon_spacing_in", row, true, text);
    } else {
        text_puts(text, attachment->ribbon_spacing == 0 ? "full cover" : "-");
    }
}

static void put_zone(struct plan_page *page, double y, const struct row *row)
{
    const struct zone *zone = row->zone;
    double x = page->side.x;
    struct area sign = {x + 10, y + 1, 15, LINE - 2};
    canvas_rectangle(page->canvas, sign);
    legend_tone(page, zone->role);
    canvas_rectangle(page->canvas, sign);
    canvas_stroke(page->canvas, INK_ZONE_LINE, 0.5, DASH_NONE);
    plan_cell(page, PLAIN, x + ZONE_AT, y, 52, ALIGN_LEFT,
              zone_role_name((int)zone->role));
    plan_cell(page, PLAIN, x + LABEL_AT, y, 20, ALIGN_LEFT, zone->label);
    ZONES("area_ft2", row, false, plan_scratch(page));
    plan_cell(page, PLAIN, x + AREA_AT - 54, y, 54, ALIGN_RIGHT, plan_text(page));
    ZONES("uplift_psf", row, false, plan_scratch(page));
    plan_cell(page, PLAIN, x + UPLIFT_AT - 50, y, 50, ALIGN_RIGHT, plan_text(page));
    put_attachment(page, row);
    plan_cell(page, PLAIN, x + HOLD_AT, y, 108, ALIGN_LEFT, plan_text(page));
    ZONES("fasteners", row, false, plan_scratch(page));
    plan_cell(page, PLAIN, x + COUNT_AT - 36, y, 36, ALIGN_RIGHT, plan_text(page));
    text_printf(plan_scratch(page), "%s %s", state_sign(zone->attachment.state),
                zone_state_name((int)zone->attachment.state));
    plan_cell(page, zone->attachment.state == STATE_NOT_MET ? STRONG : PLAIN,
              x + STATE_AT, y, page->side.width - STATE_AT - 2, ALIGN_LEFT,
              plan_text(page));
}

static double draw_zones(struct plan_page *page, double y)
{
    struct row row = page->row;
    const struct roof *roof = page->roof;
    y = side_heading(page, y, "Zones");
    if (!roof->zoned) {
        plan_cell(page, STRONG, page->side.x + 10, y, page->side.width - 20, ALIGN_LEFT,
                  "\xE2\x9C\x95 left out: no zones could be made; see the remarks");
        return y + LINE + 6;
    }
    put_head(page, y);
    y += LINE;
    for (size_t i = 0; i < roof->zone_count; i++) {
        row.zone = &roof->zones[i];
        put_zone(page, y, &row);
        y += LINE;
    }
    return y + 6;
}

double tables_draw(struct plan_page *page, double y)
{
    y = draw_roof(page, y);
    return draw_zones(page, y);
}
