/* The roofs by district or square, for a page that can't show all of them. */

#include "page/page_private.h"
#include "write/groups.h"

/* The worst roofs of a group by each measure. */
static const struct grid_column columns[] = {
    {"group", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"by", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"rank", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"roof_id", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"name", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"score", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},
};

static const struct grid_sheet worst_sheet = {"worst", columns,
                                              sizeof columns / sizeof columns[0]};

static void put_worst(struct grid *grid, const struct groups *groups, size_t index,
                      const struct ranking *ranking)
{
    for (int by = 0; by < GROUP_MEASURES; by++) {
        const struct group_measure *measure = &groups_at(groups, index)->measures[by];

        for (size_t i = 0; i < GROUP_WORST && i < measure->count; i++) {
            const struct ranked *ranked = &ranking->rows[measure->worst[i]];

            grid_number(grid, (double)index);
            grid_text(grid, rank_group_name(by));
            grid_number(grid, ranked->rank);
            grid_text(grid, portfolio_id(ranked->roof));
            grid_text(grid, portfolio_name(ranked->roof));
            grid_number(grid, ranked->score / 1000.0);
        }
    }
}

/* Longitude and latitude by turns; [] for a group without a shape. */
static void put_shapes(struct text *out, const struct groups *groups)
{
    for (size_t i = 0; i < groups_count(groups); i++) {
        struct point corners[4];
        struct ring shape = groups_shape(groups, i, corners);

        text_puts(out, i ? ",\n[" : "\n[");
        for (size_t k = 0; k < shape.count; k++) {
            text_puts(out, k ? "," : "");
            text_number(out, shape.points[k].x, 6);
            text_putc(out, ',');
            text_number(out, shape.points[k].y, 6);
        }
        text_putc(out, ']');
    }
}

static void put_places(struct text *out, const struct page *page,
                       const struct groups *groups, const size_t shown[PAGE_GROUPS])
{
    const char *before = "";

    for (int i = 0; i < PAGE_GROUPS; i++)
        for (size_t k = 0; k < shown[i]; k++) {
            const struct page_entry *entry = page->groups[i].items[k];

            text_printf(out, "%s%zu", before, groups_of(groups, entry->index));
            before = ",";
        }
}

/* "0.5 mi", "500 m" */
static void put_side(struct text *out, double side, const struct unit_system *units)
{
    bool si = units == &unit_system_si;
    double large = si ? 1000 : 5280 * M_PER_FT;

    if (side >= 0.0999 * large) {
        text_number(out, side / large, 2);
        text_puts(out, si ? " km" : " mi");
    } else {
        text_number(out, side / units->length.factor, 1);
        text_printf(out, " %s", units->length.label);
    }
}

void page_groups_json(struct text *out, const struct page *page,
                      const struct groups *groups, const struct ranking *ranking,
                      const size_t shown[PAGE_GROUPS])
{
    struct grid *sums = grid_new(&groups_sheet, page->set);
    struct grid *worst = grid_new(&worst_sheet, page->set);

    if (sums && worst) {
        groups_fill(sums, groups, ranking, 0, groups_count(groups));
        for (size_t i = 0; i < groups_count(groups); i++)
            put_worst(worst, groups, i, ranking);
        text_puts(out, ",\n\"areas\":{\"side\":\"");
        if (groups_side(groups) > 0)
            put_side(out, groups_side(groups), page->set->units);
        text_puts(out, "\",\n\"sums\":");
        grid_json(out, sums);
        text_puts(out, ",\n\"worst\":");
        grid_json(out, worst);
        text_puts(out, ",\n\"shapes\":[");
        put_shapes(out, groups);
        text_puts(out, "],\n\"of\":[");
        put_places(out, page, groups, shown);
        text_puts(out, "]}");
    } else {
        out->failed = true;
    }
    grid_free(worst);
    grid_free(sums);
}
