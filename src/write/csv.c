#include "write/csv.h"

#include "write/columns.h"
#include "write/tables.h"
#include "write/write.h"

void csv_end_header(struct text *out, bool ratings_invented)
{
    struct text caution = TEXT_INIT;

    caution_print(&caution, ratings_invented);
    text_putc(out, ',');
    if (caution.failed)
        out->failed = true;
    else
        text_csv(out, caution.data);
    text_putc(out, '\n');
    text_release(&caution);
}

/* The last column's cell, empty, and the end of the row. */
static void end_row(struct text *out)
{
    text_append(out, ",\n", 2);
}

void summary_header(struct text *out, const struct write_settings *set)
{
    for (size_t i = 0; i < roof_column_count; i++) {
        if (i > 0)
            text_putc(out, ',');
        column_name(out, &roof_columns[i], columns_units(set));
    }
    csv_end_header(out, set->catalog_built_in);
}

static void put_value(struct text *out, const struct column *column,
                      const struct row *row, int units)
{
    const char *word = NULL;

    switch (column->kind) {
    case COLUMN_TEXT:
        text_csv(out, column_text(column, row));
        break;
    case COLUMN_WORD:
        word = column_text(column, row);
        if (word)
            text_puts(out, word);
        break;
    case COLUMN_NAMES:
        column_names(out, column, row);
        break;
    case COLUMN_NUMBER: /* text_fixed() appends nothing for NAN */
        text_fixed(out, column_number(column, row), column->decimals[units]);
        break;
    }
}

void summary_rows(struct text *out, const struct building *building,
                  const struct write_settings *set)
{
    int units = columns_units(set);

    for (size_t i = 0; i < building->roof_count; i++) {
        struct row row = row_start(set, &building->roofs[i]);

        for (size_t c = 0; c < roof_column_count; c++) {
            if (c > 0)
                text_putc(out, ',');
            put_value(out, &roof_columns[c], &row, units);
        }
        end_row(out);
    }
}

static void put_header(struct text *out, const struct grid_sheet *sheet,
                       const struct write_settings *set, struct text *caution)
{
    struct grid *grid = grid_new(sheet, set);

    if (grid && !caution->failed)
        grid_csv_header(out, grid, caution->data);
    else
        out->failed = true;
    grid_free(grid);
    text_release(caution);
}

/* Prints and frees a grid; NULL is one that there was no memory for. */
static void put_rows(struct text *out, struct grid *grid)
{
    if (grid)
        grid_csv_rows(out, grid);
    else
        out->failed = true;
    grid_free(grid);
}

void materials_header(struct text *out, const struct write_settings *set)
{
    struct text caution = TEXT_INIT;

    grid_caution(&caution, set, false);
    put_header(out, &materials_sheet, set, &caution);
}

void materials_rows(struct text *out, const struct building *building,
                    const struct write_settings *set)
{
    struct grid *grid = grid_new(&materials_sheet, set);

    for (size_t i = 0; grid && i < building->roof_count; i++)
        materials_of_roof(grid, &building->roofs[i], set);
    put_rows(out, grid);
}

void orders_header(struct text *out, const struct write_settings *set)
{
    struct text caution = TEXT_INIT;

    grid_caution(&caution, set, true);
    put_header(out, &orders_sheet, set, &caution);
}

void orders_rows(struct text *out, const struct building *building,
                 const struct write_settings *set)
{
    struct grid *grid = grid_new(&orders_sheet, set);

    if (grid)
        orders_of(grid, building->orders, building->order_count, set);
    put_rows(out, grid);
}

void rolls_header(struct text *out, const struct write_settings *set)
{
    struct text caution = TEXT_INIT;

    grid_caution(&caution, set, false);
    put_header(out, &rolls_sheet, set, &caution);
}

void rolls_rows(struct text *out, const struct building *building,
                const struct write_settings *set)
{
    struct grid *grid = grid_new(&rolls_sheet, set);

    for (size_t i = 0; grid && i < building->roof_count; i++)
        rolls_of_roof(grid, &building->roofs[i]);
    put_rows(out, grid);
}

void problems_header(struct text *out, const struct write_settings *set)
{
    struct text caution = TEXT_INIT;

    caution_print(&caution, false);
    put_header(out, &problems_sheet, set, &caution);
}

void problems_rows(struct text *out, const struct building *building,
                   const struct write_settings *set)
{
    struct grid *grid = grid_new(&problems_sheet, set);

    for (size_t i = 0; grid && i < building->roof_count; i++)
        problems_of_roof(grid, &building->roofs[i]);
    put_rows(out, grid);
}

void totals_csv(struct text *out, const struct totals *totals,
                const struct write_settings *set)
{
    struct text caution = TEXT_INIT;
    struct grid *grid = grid_new(&totals_sheet, set);

    caution_print(&caution, set->catalog_built_in);
    put_header(out, &totals_sheet, set, &caution);
    if (grid)
        totals_fill(grid, totals, set);
    put_rows(out, grid);
}
