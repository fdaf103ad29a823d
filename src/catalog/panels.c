#include "catalog/panels.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "catalog/assemblies_private.h"

const char catalog_panels_csv[] = {
#include "catalog/panels_csv.inc"
    0,
};

enum panel_column {
    COLUMN_PANEL,
    COLUMN_THIN,
    COLUMN_THICK,
    COLUMN_LENGTH,
    COLUMN_WIDTH,
    COLUMN_NOTE,
    COLUMNS
};

static const char *const names[COLUMNS] = {"panel",     "thin_in",  "thick_in",
                                           "length_ft", "width_ft", "note"};

/* Edges that differ by less meet, m. */
static const double meets = 1e-5;

double panel_slope(const struct panel *panel)
{
    return (panel->thick - panel->thin) / panel->length;
}

static bool same_slope(double a, double b)
{
    return fabs(a - b) <= 1e-3 * b;
}

struct panel_sequence panels_of_slope(const struct panel_list *list, double slope)
{
    struct panel_sequence found = {NULL, 0};

    for (size_t i = 0; i < list->count; i++) {
        if (!same_slope(panel_slope(&list->panels[i]), slope))
            continue;
        if (found.count == 0)
            found.panels = &list->panels[i];
        found.count++;
    }
    return found;
}

static enum outlay_status numbers_read(const struct cell cells[COLUMNS],
                                       struct panel *out, struct outlay_error *err)
{
    enum outlay_status status =
        cell_number(&cells[COLUMN_THIN], 0.1, 12, &out->thin, err);

    if (status == OUTLAY_OK)
        status = cell_number(&cells[COLUMN_THICK], 0.1, 24, &out->thick, err);
    if (status == OUTLAY_OK)
        status = cell_number(&cells[COLUMN_LENGTH], 1, 20, &out->length, err);
    if (status == OUTLAY_OK)
        status = cell_number(&cells[COLUMN_WIDTH], 1, 20, &out->width, err);
    out->thin *= M_PER_IN;
    out->thick *= M_PER_IN;
    out->length *= M_PER_FT;
    out->width *= M_PER_FT;
    if (status == OUTLAY_OK && out->thick <= out->thin)
        return cell_refuse(&cells[COLUMN_THICK], "more than thin_in", err);
    return status;
}

/* A panel goes on from the last one of its slope, which stands right before it. */
static enum outlay_status order_check(const struct cell cells[COLUMNS],
                                      const struct panel_list *before,
                                      const struct panel *panel, struct outlay_error *err)
{
    double slope = panel_slope(panel);
    struct panel_sequence alike = panels_of_slope(before, slope);
    const struct panel *last =
        alike.count > 0 ? &before->panels[before->count - 1] : NULL;

    for (size_t i = 0; i < before->count; i++)
        if (strcmp(before->panels[i].name, panel->name) == 0)
            return cell_refuse(&cells[COLUMN_PANEL], "a name that no other row has", err);
    if (!last)
        return OUTLAY_OK;
    if (!same_slope(panel_slope(last), slope) || fabs(last->thick - panel->thin) > meets)
        return cell_refuse(&cells[COLUMN_THIN],
                           "the thick edge of the panel in the row before, which has the "
                           "same slope",
                           err);
    if (fabs(last->length - panel->length) > meets)
        return cell_refuse(&cells[COLUMN_LENGTH], "one length for all of a slope", err);
    if (fabs(last->width - panel->width) > meets)
        return cell_refuse(&cells[COLUMN_WIDTH], "one width for all of a slope", err);
    return OUTLAY_OK;
}

static enum outlay_status row_read(const struct cell cells[COLUMNS],
                                   struct panel_list *list, struct outlay_error *err)
{
    struct panel panel = {.name = cells[COLUMN_PANEL].text,
                          .note = cells[COLUMN_NOTE].text};
    enum outlay_status status = OUTLAY_OK;

    if (!panel.name[0])
        return cell_refuse(&cells[COLUMN_PANEL], "a letter or name", err);
    status = numbers_read(cells, &panel, err);
    if (status == OUTLAY_OK)
        status = order_check(cells, list, &panel, err);
    if (status == OUTLAY_OK)
        list->panels[list->count++] = panel;
    return status;
}

static enum outlay_status panels_read(struct arena *arena, const struct table *table,
                                      struct panel_list *out, struct outlay_error *err)
{
    size_t place[COLUMNS] = {0};
    enum outlay_status status = table_header(table, names, COLUMNS, COLUMNS, place, err);

    if (status != OUTLAY_OK)
        return status;
    out->panels = arena_array(arena, table->row_count, sizeof *out->panels);
    if (!out->panels)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading the table of panels");
    for (size_t row = 1; row < table->row_count && status == OUTLAY_OK; row++) {
        struct cell cells[COLUMNS];

        cells_of(table, row, names, place, COLUMNS, cells);
        status = row_read(cells, out, err);
    }
    return status;
}

enum outlay_status panels_load(struct arena *arena, const char *path,
                               struct panel_list *out, struct outlay_error *err)
{
    struct table table;
    enum outlay_status status;

    *out = (struct panel_list){NULL, 0};
    if (path)
        status = table_read(arena, path, &table, err);
    else
        status = table_parse(arena, "panels.csv", catalog_panels_csv, &table, err);
    if (status != OUTLAY_OK)
        return status;
    return panels_read(arena, &table, out, err);
}
