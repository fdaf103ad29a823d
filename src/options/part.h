#ifndef OUTLAY_OPTIONS_PART_H
#define OUTLAY_OPTIONS_PART_H

/**
 * @file options/part.h
 * The files that a run may write into its folder: one table, from which help, --write,
 * the run and its results take what they need. Static data. Threads: any.
 */

#include <stddef.h>

/* What a file needs of a run; bits. */
enum {
    NEEDS_LAYOUTS = 1,     /**< roofs are laid out and counted */
    NEEDS_PLACES = 1 << 1, /**< where each sheet, row and plate lies: large and slow for
                                many roofs, so a long layer goes without unless asked */
    NEEDS_RANKING = 1 << 2,
    NEEDS_PLAN = 1 << 3,      /**< roofs in years, for which there must be a cap */
    SHOWS_PLAN = 1 << 4,      /**< plan and scenarios where there is a cap */
    NEEDS_SCENARIOS = 1 << 5, /**< other caps and lives, each a plan of its own */
    NEEDS_GROUPS = 1 << 6,    /**< a column or squares by which roofs are summed up */
    NEEDS_SURVEY = 1 << 9, /**< what to check on site; only `survey` writes it unasked */
    FOLLOWS_PLAN = 1 << 8, /**< made by the plan where there is a cap */
    NEEDS_DRAWS = 1 << 10, /**< draws of the inputs; unasked only where some are made */
    NEEDS_NAMING = 1 << 7  /**< to be asked for by name; made from roofs.geojson, which
                                   then is written too */
};

/* A new file is one row: code, name as in --write, file, what it needs, and then its
 * struct part_maker, which only results/parts.c spells out. They are listed in this order
 * everywhere. */
#define PART_MAP(X)                                                                     \
    X(ZONES, "zones", "zones.geojson", 0, .head = zones_head, .rows = geojson_zones,    \
      .joint = GEOJSON_JOINT, .tail = features_tail)                                    \
    X(ROOFS, "roofs", "roofs.geojson", NEEDS_RANKING, .head = roofs_head,               \
      .rows = geojson_roofs, .joint = GEOJSON_JOINT, .tail = features_tail,             \
      .fill = roofs_fill)                                                               \
    X(GPKG, "roofs-gpkg", "roofs.gpkg", NEEDS_RANKING | NEEDS_NAMING,                   \
      .object = &roofs_layer_object)                                                    \
    X(FGB, "roofs-fgb", "roofs.fgb", NEEDS_RANKING | NEEDS_NAMING,                      \
      .object = &roofs_layer_object)                                                    \
    X(SUMMARY, "summary", "summary.csv", 0, .head = summary_header,                     \
      .rows = summary_rows)                                                             \
    X(TOTALS, "totals", "totals.csv", 0, .tail = totals_tail)                           \
    X(MATERIALS, "materials", "materials.csv", NEEDS_LAYOUTS, .head = materials_header, \
      .rows = materials_rows)                                                           \
    X(ORDERS, "orders", "orders.csv", NEEDS_LAYOUTS | FOLLOWS_PLAN,                     \
      .head = orders_header, .rows = orders_rows, .tail = orders_tail)                  \
    X(ROLLS, "rolls", "rolls.csv", NEEDS_LAYOUTS, .head = rolls_header,                 \
      .rows = rolls_rows)                                                               \
    X(COMPARISON, "comparison", "comparison.csv", NEEDS_LAYOUTS,                        \
      .head = comparison_header, .rows = comparison_rows, .rest = SHOWN_COMPARISON)     \
    X(LAYOUT, "layout", "layout.gpkg", NEEDS_LAYOUTS | NEEDS_PLACES,                    \
      .object = &layout_object)                                                         \
    X(PLANS, "plans", "plans.pdf", NEEDS_LAYOUTS | NEEDS_PLACES,                        \
      .object = &plans_object)                                                          \
    X(RANKING, "ranking", "ranking.csv", NEEDS_RANKING, .object = &ranking_object)      \
    X(GROUPS, "groups", "groups.geojson", NEEDS_RANKING | NEEDS_GROUPS,                 \
      .object = &groups_object)                                                         \
    X(BUDGET, "budget", "budget.csv", NEEDS_LAYOUTS | NEEDS_PLAN, .tail = budget_tail)  \
    X(PLAN, "plan", "plan.csv", NEEDS_LAYOUTS | NEEDS_PLAN, .tail = plan_tail)          \
    X(VISITS, "visits", "visits.csv", NEEDS_LAYOUTS | NEEDS_PLAN, .tail = visits_tail)  \
    X(SCENARIOS, "scenarios", "scenarios.csv",                                          \
      NEEDS_LAYOUTS | NEEDS_PLAN | NEEDS_SCENARIOS, .tail = scenarios_tail)             \
    X(WORKBOOK, "workbook", "workbook.xlsx",                                            \
      NEEDS_LAYOUTS | NEEDS_RANKING | SHOWS_PLAN | FOLLOWS_PLAN,                        \
      .object = &workbook_object)                                                       \
    X(PAGE, "page", "report.html", NEEDS_RANKING | SHOWS_PLAN, .object = &page_object)  \
    X(SURVEY, "survey", "survey.csv", NEEDS_LAYOUTS | NEEDS_SURVEY,                     \
      .head = survey_header, .rows = survey_rows)                                       \
    X(SURVEY_BOOK, "survey-xlsx", "survey.xlsx", NEEDS_LAYOUTS | NEEDS_SURVEY,          \
      .object = &survey_book_object)                                                    \
    X(SURVEY_POINTS, "survey-gpkg", "survey.gpkg", NEEDS_LAYOUTS | NEEDS_SURVEY,        \
      .object = &survey_points_object)                                                  \
    X(SITE_SHEETS, "site-sheets", "survey.pdf", NEEDS_LAYOUTS | NEEDS_SURVEY,           \
      .object = &site_sheets_object)                                                    \
    X(SPREAD, "spread", "spread.csv", NEEDS_DRAWS, .head = spread_header,               \
      .rows = spread_rows, .tail = spread_tail)                                         \
    X(DRIVERS, "drivers", "drivers.csv", NEEDS_DRAWS, .head = drivers_header,           \
      .rows = drivers_rows, .tail = drivers_tail)                                       \
    X(PROBLEMS, "problems", "problems.csv", 0, .head = problems_header,                 \
      .rows = problems_rows, .rest = SHOWN_PROBLEMS)                                    \
    X(RUN, "run", "run.json", 0, .tail = run_tail)

enum part {
#define X(code, ...) PART_##code,
    PART_MAP(X)
#undef X
        PARTS
};

#define PARTS_ALL ((1u << PARTS) - 1u)

/** Name as in --write. NULL past the end. */
const char *part_name(int part);

/** File in the folder that `run` writes. */
const char *part_file(int part);

/** What any of some parts needs. @param parts  bits 1u << PART_... */
unsigned parts_need(unsigned parts);

/** All parts that need one of some things. @param needs  bits as above */
unsigned parts_needing(unsigned needs);

#endif
