#include "write/tables.h"

#include <string.h>

static const struct grid_column columns[] = {
    {"roof_id", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"severity", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"code", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"message", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"done", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
};

const struct grid_sheet problems_sheet = {"problems", columns,
                                          sizeof columns / sizeof columns[0]};

void problems_of_roof(struct grid *grid, const struct roof *roof)
{
    for (const struct problem *p = roof->problems; p; p = p->next) {
        grid_text(grid, roof->id);
        grid_text(grid, severity_name(problem_severity(p->code)));
        grid_text(grid, problem_code_name(p->code));
        grid_text(grid, p->what);
        grid_text(grid, p->done);
    }
}

bool problems_same(const struct grid *grid, size_t row, const struct grid *single)
{
    for (size_t c = 1; c < problems_sheet.column_count; c++) {
        const char *a = grid_cell_text(grid, row, c);
        const char *b = grid_cell_text(single, 0, c);

        if (strcmp(a ? a : "", b ? b : "") != 0)
            return false;
    }
    return true;
}

/* A row without a roof is how all of its kind end. */
enum outlay_status problems_withdraw(struct output *output, const struct grid *single,
                                     struct outlay_error *err)
{
    struct text ending = TEXT_INIT;
    enum outlay_status status = OUTLAY_OK;

    grid_csv_rows(&ending, single);
    status = output_drop_rows(output, &ending, err);
    text_release(&ending);
    return status;
}
