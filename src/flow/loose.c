#include "flow/loose.h"

#include <stdint.h>

#include "write/tables.h"

enum outlay_status loose_problem(struct loose_problems *loose,
                                 const struct problem *problem)
{
    struct problem alone = *problem;
    /* each counts as one of its own */
    struct roof nobody = {
        .id = "", .position = SIZE_MAX - loose->count++, .problems = &alone};

    alone.next = NULL;
    problems_of_roof(loose->rows, &nobody);
    loose->totals->problems[problem_severity(alone.code)]++;
    loose->totals->problem_codes[alone.code]++;
    return tally_problem(loose->tally, &nobody, &alone, loose->err);
}
