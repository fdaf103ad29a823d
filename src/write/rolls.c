#include <math.h>

#include "roof/bill.h"
#include "roof/layout.h"
#include "write/columns.h"
#include "write/tables.h"

static const struct grid_column columns[] = {
    {"roof_id", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"name", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"building", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"method", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"use", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"roll", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"width", GRID_NUMBER, MEASURE_LENGTH, {2, 3}, false},
    {"sheet", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"beside", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"beside_length", GRID_NUMBER, MEASURE_LENGTH, {2, 3}, false},
    {"part", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"parts", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"length", GRID_NUMBER, MEASURE_LENGTH, {2, 3}, false},
    {"rest", GRID_NUMBER, MEASURE_LENGTH, {2, 3}, false},
};

const struct grid_sheet rolls_sheet = {"rolls", columns,
                                       sizeof columns / sizeof columns[0]};

static void put_piece(struct grid *grid, const struct roof *roof, enum method method,
                      const struct roll_piece *piece)
{
    grid_text(grid, roof->id);
    grid_text(grid, roof->name);
    grid_text(grid, roof->building);
    grid_text(grid, method_name((int)method));
    grid_text(grid, item_use_name((int)piece->use));
    grid_number(grid, piece->roll);
    grid_number(grid, piece->width);
    grid_number(grid, piece->sheet);
    grid_number(grid, piece->beside > 0 ? (double)piece->beside : NAN);
    grid_number(grid, piece->beside_length);
    grid_number(grid, piece->part);
    grid_number(grid, piece->parts);
    grid_number(grid, piece->length);
    grid_number(grid, piece->rest);
}

void rolls_of_roof(struct grid *grid, const struct roof *roof)
{
    for (size_t k = 0; k < roof->layout_count; k++)
        for (size_t i = 0; i < roof->bills[k].piece_count; i++)
            put_piece(grid, roof, roof->layouts[k].method, &roof->bills[k].pieces[i]);
}
