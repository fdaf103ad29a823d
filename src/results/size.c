#include "results/size.h"

#include "page/page.h"
#include "write/shown.h"

/* Measured on 300 outlines of tests/bench/outlines.c at 115 mph, with one layout a roof;
 * each further one adds `layout`. Those of the plan with three roofs a building, in five
 * years; orders on 20,000 outlines, an order each; groups are squares of 500 m.
 * Spread and drivers with four inputs that have one.
 * Rolls grow with the area: between these outlines and small roofs. */
static const struct {
    double base, roof, layout;
    long long most; /* roofs that it holds; 0: all */
} sizes[PARTS] = {
    [PART_ZONES] = {0, 5790, 0, 0},
    [PART_ROOFS] = {0, 2230, 0, 0},
    [PART_GPKG] = {100000, 870, 0, 0},
    [PART_FGB] = {2000, 1010, 0, 0},
    [PART_SUMMARY] = {0, 709, 0, 0},
    [PART_TOTALS] = {1600, 0, 0, 0},
    [PART_MATERIALS] = {0, 4970, 3350, 0},
    [PART_ORDERS] = {0, 5120, 0, 0},
    [PART_ROLLS] = {0, 1100, 700, 0},
    [PART_COMPARISON] = {0, 381, 319, 0},
    [PART_LAYOUT] = {0, 555000, 555000, 0},
    [PART_PLANS] = {48000, 49000, 0, 0},
    [PART_RANKING] = {0, 339, 0, 0},
    [PART_GROUPS] = {800, 40, 0, 0},
    [PART_BUDGET] = {3500, 0, 0, 0},
    [PART_PLAN] = {1600, 244, 0, 0},
    [PART_VISITS] = {1300, 15, 0, 0},
    [PART_SCENARIOS] = {9700, 0, 0, 0},
    [PART_WORKBOOK] = {18000, 2460, 1250, SHOWN_MOST},
    [PART_PAGE] = {77400, 1920, 57, PAGE_ROOFS},
    [PART_SURVEY] = {0, 5610, 0, 0},
    [PART_SURVEY_BOOK] = {12000, 1540, 0, 0},
    [PART_SURVEY_POINTS] = {110000, 10800, 0, 0},
    [PART_SITE_SHEETS] = {60000, 19400, 0, 0},
    [PART_SPREAD] = {2500, 423, 0, 0},
    [PART_DRIVERS] = {2200, 478, 0, 0},
    [PART_PROBLEMS] = {0, 34, 0, 0},
    [PART_RUN] = {4300, 0, 0, 0},
};

/* Layouts beside a roof's own; the own method is one of those named. */
static int further_layouts(const struct settings *settings)
{
    int named = 0;
    for (int method = METHOD_NOT_GIVEN + 1; method < METHOD_KINDS; method++)
        named += (settings->attach.methods >> method & 1u) != 0;
    return named > 1 ? named - 1 : 0;
}

double results_size(const struct settings *settings, unsigned parts, long long roofs)
{
    int further = further_layouts(settings);
    double sum = 0;
    for (int part = 0; part < PARTS; part++) {
        long long most = sizes[part].most;
        double held = (double)(most && roofs > most ? most : roofs);
        if (parts & 1u << part)
            sum += sizes[part].base +
                   held * (sizes[part].roof + further * sizes[part].layout);
    }
    return sum;
}
