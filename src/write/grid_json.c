#include <math.h>

#include "write/grid.h"

static bool is_text(const struct grid *grid, size_t column)
{
    return grid_sheet(grid)->columns[column].kind == GRID_TEXT;
}

static void put_cell(struct text *out, const struct grid *grid, size_t row, size_t column)
{
    const char *text = grid_cell_text(grid, row, column);
    double number = grid_cell_number(grid, row, column);

    if (text)
        text_json(out, text);
    else if (isfinite(number))
        text_fixed(out, number, grid_cell_decimals(grid, row, column));
    else
        text_puts(out, "null");
}

void grid_json_rows(struct text *out, const struct grid *grid)
{
    size_t columns = grid_sheet(grid)->column_count;

    if (grid_failed(grid))
        out->failed = true;
    for (size_t row = 0; row < grid_rows(grid) && !out->failed; row++) {
        text_puts(out, row ? ",\n[" : "[");
        for (size_t i = 0; i < columns; i++) {
            if (i)
                text_putc(out, ',');
            put_cell(out, grid, row, i);
        }
        text_putc(out, ']');
    }
}

void grid_json_members(struct text *out, const struct grid *grid, size_t row)
{
    struct text name = TEXT_INIT;

    for (size_t i = 0; i < grid_sheet(grid)->column_count; i++) {
        text_clear(&name);
        grid_column_name(&name, grid, i);
        text_puts(out, i ? "," : "");
        text_json(out, name.data);
        text_putc(out, ':');
        put_cell(out, grid, row, i);
    }
    out->failed = out->failed || name.failed || grid_failed(grid);
    text_release(&name);
}

void grid_json_names(struct text *out, const struct grid *grid)
{
    struct text name = TEXT_INIT;

    text_putc(out, '[');
    for (size_t i = 0; i < grid_sheet(grid)->column_count; i++) {
        text_clear(&name);
        grid_column_name(&name, grid, i);
        text_puts(out, i ? "," : "");
        text_json(out, name.data);
        out->failed = out->failed || name.failed;
    }
    text_putc(out, ']');
    text_release(&name);
}

static void put_decimals(struct text *out, const struct grid *grid)
{
    text_putc(out, '[');
    for (size_t i = 0; i < grid_sheet(grid)->column_count; i++) {
        text_puts(out, i ? "," : "");
        if (is_text(grid, i))
            text_puts(out, "null");
        else
            text_printf(out, "%d", grid_decimals(grid, i));
    }
    text_putc(out, ']');
}

void grid_json(struct text *out, const struct grid *grid)
{
    text_puts(out, "{\"name\":");
    text_json(out, grid_sheet(grid)->name);
    text_puts(out, ",\"columns\":");
    grid_json_names(out, grid);
    text_puts(out, ",\"decimals\":");
    put_decimals(out, grid);
    text_puts(out, ",\"rows\":[\n");
    grid_json_rows(out, grid);
    text_puts(out, "\n]}");
}
