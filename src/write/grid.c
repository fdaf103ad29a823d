#include "write/grid.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/grow.h"

struct cell {
    const char *text;
    double number;
    int decimals;
};

/* What stands before a packed cell. */
enum { PACKED_EMPTY = ' ', PACKED_TEXT = 't', PACKED_NUMBER = 'n' };

struct grid {
    const struct grid_sheet *sheet;
    const struct write_settings *set;
    struct arena *arena; /* owned; texts */
    struct cell *cells;  /* owned; row after row */
    size_t count, room;
    bool failed;
};

struct grid *grid_new(const struct grid_sheet *sheet, const struct write_settings *set)
{
    struct grid *grid = calloc(1, sizeof *grid);

    if (!grid)
        return NULL;
    *grid = (struct grid){.sheet = sheet, .set = set, .arena = arena_new()};
    if (grid->arena)
        return grid;
    grid_free(grid);
    return NULL;
}

void grid_free(struct grid *grid)
{
    if (!grid)
        return;
    arena_free(grid->arena);
    free(grid->cells);
    free(grid);
}

void grid_clear(struct grid *grid)
{
    arena_reset(grid->arena);
    grid->count = 0;
}

static void add(struct grid *grid, struct cell cell)
{
    struct cell *cells =
        grow(grid->cells, grid->count, 1, &grid->room, sizeof *grid->cells);

    if (!cells) {
        grid->failed = true;
        return;
    }
    grid->cells = cells;
    grid->cells[grid->count++] = cell;
}

void grid_text(struct grid *grid, const char *text)
{
    struct cell cell = {NULL, NAN, 0};

    if (text && *text) {
        cell.text = arena_text(grid->arena, text, strlen(text));
        grid->failed = grid->failed || !cell.text;
    }
    add(grid, cell);
}

void grid_made(struct grid *grid, const struct text *text)
{
    grid->failed = grid->failed || (text && text->failed);
    grid_text(grid, text ? text->data : NULL);
}

void grid_words(struct grid *grid, const char *text)
{
    struct text chosen = TEXT_INIT;

    units_choose(&chosen, text ? text : "", grid->set->units);
    grid->failed = grid->failed || chosen.failed;
    grid_text(grid, chosen.data);
    text_release(&chosen);
}

static const struct cell *cell_at(const struct grid *grid, size_t row, size_t column)
{
    return &grid->cells[row * grid->sheet->column_count + column];
}

/* What one printed unit of the column is worth in the unit that goes in. */
static double factor_of(const struct grid *grid, const struct grid_column *column)
{
    switch (column->kind) {
    case GRID_MONEY:
        return 100;
    case GRID_RATE:
        return 100 / grid->set->units->area.factor;
    case GRID_NUMBER:
    case GRID_QUANTITY:
    case GRID_TEXT:
        break;
    }
    return measure_factor(column->measure, grid->set->units);
}

int grid_decimals(const struct grid *grid, size_t column)
{
    const struct grid_column *of = &grid->sheet->columns[column];

    return of->kind == GRID_NUMBER ? of->decimals[columns_units(grid->set)] : 2;
}

int grid_cell_decimals(const struct grid *grid, size_t row, size_t column)
{
    return grid->sheet->columns[column].kind == GRID_QUANTITY
               ? cell_at(grid, row, column)->decimals
               : grid_decimals(grid, column);
}

static double round_to(double number, int decimals)
{
    double scale = pow(10, decimals);

    return isfinite(number) ? round(number * scale) / scale : NAN;
}

void grid_quantity(struct grid *grid, double printed, int decimals)
{
    add(grid, (struct cell){NULL, round_to(printed, decimals), decimals});
}

void grid_exact(struct grid *grid, double value, int decimals)
{
    size_t column = grid->count % grid->sheet->column_count;
    double printed = value / factor_of(grid, &grid->sheet->columns[column]);

    add(grid, (struct cell){NULL, round_to(printed, GRID_EXACT), decimals});
}

void grid_number(struct grid *grid, double value)
{
    size_t column = grid->count % grid->sheet->column_count;

    grid_quantity(grid, value / factor_of(grid, &grid->sheet->columns[column]),
                  grid_decimals(grid, column));
}

bool grid_failed(const struct grid *grid)
{
    return grid->failed;
}

const struct grid_sheet *grid_sheet(const struct grid *grid)
{
    return grid->sheet;
}

size_t grid_rows(const struct grid *grid)
{
    return grid->count / grid->sheet->column_count;
}

void grid_column_name(struct text *out, const struct grid *grid, size_t column)
{
    const struct grid_column *of = &grid->sheet->columns[column];
    const char *suffix = measure_suffix(of->measure, grid->set->units);

    text_puts(out, of->name);
    if (of->kind == GRID_MONEY)
        text_printf(out, "_%s", grid->set->currency);
    else if (of->kind == GRID_RATE)
        text_printf(out, "_%s_per_%s", grid->set->currency,
                    grid->set->units->area.suffix);
    else if (*suffix)
        text_printf(out, "_%s", suffix);
}

const char *grid_cell_text(const struct grid *grid, size_t row, size_t column)
{
    return cell_at(grid, row, column)->text;
}

double grid_cell_number(const struct grid *grid, size_t row, size_t column)
{
    return cell_at(grid, row, column)->number;
}

void grid_csv_header(struct text *out, const struct grid *grid, const char *caution)
{
    for (size_t i = 0; i < grid->sheet->column_count; i++) {
        grid_column_name(out, grid, i);
        text_putc(out, ',');
    }
    text_csv(out, caution);
    text_putc(out, '\n');
}

static void put_number(struct text *out, double number, int decimals)
{
    if (fabs(round_to(number, decimals) - number) > 0)
        text_number(out, number, GRID_EXACT);
    else
        text_fixed(out, number, decimals);
}

void grid_csv_rows(struct text *out, const struct grid *grid)
{
    size_t columns = grid->sheet->column_count;

    if (grid->failed)
        out->failed = true;
    for (size_t row = 0; row < grid_rows(grid) && !out->failed; row++) {
        for (size_t i = 0; i < columns; i++) {
            const char *text = grid_cell_text(grid, row, i);

            if (text)
                text_csv(out, text);
            else
                put_number(out, grid_cell_number(grid, row, i),
                           grid_cell_decimals(grid, row, i));
            text_putc(out, ',');
        }
        text_putc(out, '\n');
    }
}

void grid_pack(struct text *out, const struct grid *grid)
{
    out->failed = out->failed || grid->failed;
    for (size_t i = 0; i < grid->count; i++) {
        const struct cell *cell = &grid->cells[i];

        if (cell->text) {
            text_putc(out, PACKED_TEXT);
            text_append(out, cell->text, strlen(cell->text) + 1);
        } else if (isfinite(cell->number)) {
            text_putc(out, PACKED_NUMBER);
            text_putc(out, (char)cell->decimals);
            text_append(out, (const char *)&cell->number, sizeof cell->number);
        } else {
            text_putc(out, PACKED_EMPTY);
        }
    }
}

void grid_unpack(struct grid *grid, const struct text *packed)
{
    const char *at = packed->data;

    grid->failed = grid->failed || packed->failed;
    /* what failed may end amid a cell */
    while (!packed->failed && at && at < packed->data + packed->length) {
        double number = NAN;

        switch (*at++) {
        case PACKED_TEXT:
            grid_text(grid, at);
            at += strlen(at) + 1;
            break;
        case PACKED_NUMBER:
            memcpy(&number, at + 1, sizeof number);
            add(grid, (struct cell){NULL, number, *at});
            at += 1 + sizeof number;
            break;
        default:
            grid_text(grid, NULL);
        }
    }
}

void grid_caution(struct text *out, const struct write_settings *set, bool prices)
{
    caution_print(out, set->catalog_built_in);
    if (set->items_built_in)
        text_puts(out, " Pack sizes and crew rates are invented: those of the built-in "
                       "catalogue.");
    if (prices && set->prices_built_in)
        text_puts(out, " Prices are invented: those of the built-in table.");
    if (prices && set->price_date && *set->price_date)
        text_printf(out, " Prices are of %s.", set->price_date);
}
