#include <math.h>

#include "page/page_private.h"
#include "write/tables.h"

double roof_exposure(const struct roof *roof)
{
    double most = NAN;

    for (size_t i = 0; i < roof->zone_count; i++)
        if (roof->zones[i].uplift.known)
            most = fmax(most, roof->zones[i].uplift.uplift);
    return most;
}

static const struct grid_column facts[] = {
    {"exposure_pressure", GRID_NUMBER, MEASURE_PRESSURE, {1, 0}, false},
    {"installed", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"condition", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"edge_condition", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"covers", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"existing", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"deck", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"scope", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"total", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"cost", GRID_RATE, MEASURE_NONE, {0, 0}, false},
};

const struct grid_sheet page_facts_sheet = {"facts", facts,
                                            sizeof facts / sizeof facts[0]};

static double if_told(int value)
{
    return value == MISSING ? (double)NAN : value;
}

static void add_facts(struct grid *grid, const struct roof *roof)
{
    bool priced = roof->costs && roof->costs[0].known;
    double total = priced ? (double)roof->costs[0].total : NAN;

    grid_number(grid, roof_exposure(roof));
    grid_number(grid, if_told(roof->given.installed));
    grid_number(grid, roof->given.condition);
    grid_number(grid, roof->given.edge_condition);
    grid_number(grid, if_told(roof->given.covers));
    grid_text(grid, existing_kind_name(roof->given.existing));
    grid_text(grid, deck_name(roof->given.deck));
    grid_text(grid, scope_name(roof->scope));
    grid_number(grid, total);
    grid_number(grid, total / roof->area);
}

static double centimetres(double metres)
{
    return round(100 * metres);
}

static void put_ring(struct text *out, const struct ring *ring)
{
    double x = 0, y = 0;

    for (size_t i = 0; i < ring->count; i++) {
        double to_x = centimetres(ring->points[i].x);
        double to_y = centimetres(ring->points[i].y);

        text_putc(out, i ? ',' : '[');
        text_fixed(out, to_x - x, 0);
        text_putc(out, ',');
        text_fixed(out, to_y - y, 0);
        x = to_x;
        y = to_y;
    }
    text_putc(out, ']');
}

static void put_region(struct text *out, const struct region *region)
{
    text_putc(out, '[');
    for (size_t i = 0; i < region->polygon_count; i++) {
        const struct polygon *polygon = &region->polygons[i];

        text_puts(out, i ? ",[" : "[");
        for (size_t k = 0; k < polygon->ring_count; k++) {
            text_puts(out, k ? "," : "");
            put_ring(out, &polygon->rings[k]);
        }
        text_putc(out, ']');
    }
    text_putc(out, ']');
}

static void put_shapes(struct text *out, const struct building *building,
                       const struct roof *roof)
{
    struct point origin = {0, 0};

    frame_to_lonlat(&building->frame, &origin, 1);
    text_puts(out, ",\"o\":[");
    text_number(out, origin.x, 7);
    text_putc(out, ',');
    text_number(out, origin.y, 7);
    text_puts(out, "],\"p\":");
    put_region(out, &roof->outline);
    text_puts(out, ",\"z\":[");
    for (size_t i = 0; i < roof->zone_count; i++) {
        text_printf(out, "%s[\"%s\",", i ? "," : "", zone_role_name(roof->zones[i].role));
        put_region(out, &roof->zones[i].region);
        text_putc(out, ']');
    }
    text_putc(out, ']');
}

void page_roof_json(struct text *out, struct page *page, const struct building *building,
                    const struct roof *roof)
{
    grid_clear(page->summary);
    grid_clear(page->facts);
    summary_of_roof(page->summary, roof, page->set);
    add_facts(page->facts, roof);
    text_puts(out, "{\"s\":");
    grid_json_rows(out, page->summary);
    text_puts(out, ",\"f\":");
    grid_json_rows(out, page->facts);
    if (roof->whole)
        put_shapes(out, building, roof);
    text_putc(out, '}');
}
