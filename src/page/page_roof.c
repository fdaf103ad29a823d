#include <math.h>

#include "page/page_private.h"
#include "roof/edges.h"
#include "roof/layout.h"
#include "write/comparison.h"
#include "write/layout_state.h"
#include "write/tables.h"
#include "write/vouched.h"

static const struct grid_column facts[] = {
    {"installed", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"covers", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"existing", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"deck", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"scope", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"total", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"total", GRID_RATE, MEASURE_NONE, {0, 0}, false},
    {"vouched", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
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
    struct text vouched = TEXT_INIT;

    grid_number(grid, if_told(roof->given.installed));
    grid_number(grid, if_told(roof->given.covers));
    grid_text(grid, existing_kind_name(roof->given.existing));
    grid_text(grid, deck_name(roof->given.deck));
    grid_text(grid, scope_name(roof->scope));
    grid_number(grid, total);
    grid_number(grid, total / roof->area);
    vouched_print(&vouched, roof);
    grid_made(grid, &vouched);
    text_release(&vouched);
}

static const struct grid_column methods[] = {
    {"method", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"state", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"cheapest", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"total", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"total", GRID_RATE, MEASURE_NONE, {0, 0}, false},
    {"hours", GRID_NUMBER, MEASURE_NONE, {1, 1}, false},
};

const struct grid_sheet page_methods_sheet = {"methods", methods,
                                              sizeof methods / sizeof methods[0]};

static void add_methods(struct grid *grid, const struct roof *roof)
{
    int cheapest = comparison_cheapest(roof);

    for (size_t i = 0; i < roof->layout_count; i++) {
        const struct layout *layout = &roof->layouts[i];
        bool priced = roof->costs && roof->costs[i].known;
        double total = priced ? (double)roof->costs[i].total : NAN;

        grid_text(grid, method_name((int)layout->method));
        grid_text(grid, zone_state_name((int)layout_state(roof, layout)));
        grid_text(grid, cheapest == (int)i ? "cheapest" : NULL);
        grid_number(grid, total);
        grid_number(grid, total / roof->area);
        grid_number(grid, priced ? roof->costs[i].hours : NAN);
    }
}

/* Length by kind and source, heights and thicknesses put together. */
static void put_edges(struct text *out, const struct roof *roof,
                      const struct unit_system *units)
{
    double lengths[EDGE_KINDS][EDGE_ASSUMED + 1] = {{0}};
    const char *before = "";

    text_puts(out, ",\"e\":[");
    for (size_t i = 0; i < roof->edge_sum_count; i++)
        lengths[roof->edge_sums[i].kind][roof->edge_sums[i].source] +=
            roof->edge_sums[i].length;
    for (int kind = 0; kind < EDGE_KINDS; kind++)
        for (int source = 0; source <= EDGE_ASSUMED; source++) {
            if (!(lengths[kind][source] > 0))
                continue;
            text_printf(out, "%s[\"%s\",\"%s\",", before, edge_kind_name(kind),
                        edge_source_name(source));
            text_number(out, lengths[kind][source] / units->length.factor, 1);
            text_putc(out, ']');
            before = ",";
        }
    text_putc(out, ']');
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
    put_edges(out, roof, page->set->units);
    if (roof->layout_count) {
        grid_clear(page->methods);
        add_methods(page->methods, roof);
        text_puts(out, ",\"m\":[");
        grid_json_rows(out, page->methods);
        text_putc(out, ']');
    }
    if (roof->whole)
        put_shapes(out, building, roof);
    text_putc(out, '}');
}
