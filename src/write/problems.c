#include "write/tables.h"

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
        grid_words(grid, p->what);
        grid_words(grid, p->done);
    }
}
