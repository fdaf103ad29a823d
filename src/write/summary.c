#include <math.h>
#include <string.h>

#include "write/tables.h"

/* The column's name without "_ft2", or NULL when out of memory. */
static const char *name_of(struct arena *arena, const struct column *column)
{
    struct text name = TEXT_INIT;
    size_t suffix = strlen(measure_suffix(column->measure, &unit_system_us));
    const char *copy = NULL;

    column_name(&name, column, UNITS_US);
    if (!name.failed)
        copy = arena_text(arena, name.data, name.length - (suffix ? suffix + 1 : 0));
    text_release(&name);
    return copy;
}

static bool fill(struct arena *arena, struct grid_column *columns)
{
    for (size_t i = 0; i < roof_column_count; i++) {
        const struct column *of = &roof_columns[i];

        columns[i] = (struct grid_column){
            .name = name_of(arena, of),
            .kind = of->kind == COLUMN_NUMBER ? GRID_NUMBER : GRID_TEXT,
            .measure = of->measure,
            .decimals = {of->decimals[UNITS_US], of->decimals[UNITS_SI]},
            .summed = of->summed};
        if (!columns[i].name)
            return false;
    }
    return true;
}

const struct grid_sheet *summary_sheet(struct arena *arena)
{
    struct grid_sheet *sheet = arena_alloc(arena, sizeof *sheet);
    struct grid_column *columns = arena_array(arena, roof_column_count, sizeof *columns);

    if (!sheet || !columns || !fill(arena, columns))
        return NULL;
    *sheet = (struct grid_sheet){"summary", columns, roof_column_count};
    return sheet;
}

static void put(struct grid *grid, const struct column *column, const struct row *row)
{
    struct text names = TEXT_INIT;
    int units = columns_units(row->set);

    switch (column->kind) {
    case COLUMN_TEXT:
    case COLUMN_WORD:
        grid_text(grid, column_text(column, row));
        break;
    case COLUMN_NAMES:
        column_names(&names, column, row);
        grid_made(grid, &names);
        text_release(&names);
        break;
    case COLUMN_NUMBER:
        grid_quantity(grid, column_number(column, row), column->decimals[units]);
        break;
    }
}

void summary_of_roof(struct grid *grid, const struct roof *roof,
                     const struct write_settings *set)
{
    struct row row = row_start(set, roof);

    for (size_t i = 0; i < roof_column_count; i++)
        put(grid, &roof_columns[i], &row);
}
