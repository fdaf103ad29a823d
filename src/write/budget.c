#include "write/budget.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/plural.h"

/* ---- budget.csv ---- */

static const struct grid_column budget_columns[] = {
    {"plan", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"year", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"visits", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"roofs", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"cost", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"cap", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"unspent", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"area", GRID_NUMBER, MEASURE_AREA, {0, 1}, false},
    {"condition_weighted_area", GRID_NUMBER, MEASURE_AREA, {0, 1}, false},
    {"mean_condition", GRID_NUMBER, MEASURE_NONE, {1, 1}, false},
    {"facility_condition_index", GRID_NUMBER, MEASURE_NONE, {4, 4}, false},
    {"backlog", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"exposure_retired", GRID_NUMBER, MEASURE_FORCE, {0, 0}, false},
    {"present_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"waiting_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"wind_loss", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"residual_value", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"change_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"total_present_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"saved", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"gap", GRID_NUMBER, MEASURE_NONE, {5, 5}, false},
    {"state", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
};

const struct grid_sheet budget_sheet = {"budget", budget_columns,
                                        sizeof budget_columns / sizeof budget_columns[0]};
const struct grid_sheet scenarios_sheet = {
    "scenarios", budget_columns, sizeof budget_columns / sizeof budget_columns[0]};

static void put_year(struct grid *grid, const struct plan_year *year)
{
    grid_number(grid, (double)year->visits);
    grid_number(grid, (double)year->roofs);
    grid_number(grid, (double)year->cost);
    grid_number(grid, (double)year->cap);
    grid_number(grid, (double)(year->cap - year->cost));
    grid_number(grid, year->area);
    grid_number(grid, year->condition_area);
    grid_number(grid, year->condition);
    grid_number(grid, year->index);
    grid_number(grid, (double)year->backlog);
    grid_number(grid, year->retired);
    for (int i = 0; i < 8; i++)
        grid_number(grid, NAN);
    grid_text(grid, NULL);
}

static void put_lack(struct text *out, size_t count, const char *one, const char *many)
{
    if (count > 0)
        text_printf(out, "%s%zu %s", out->length ? ", " : "", count,
                    count == 1 ? one : many);
}

void course_state(struct text *out, const struct plan_course *course)
{
    if (!isnan(course->gap))
        text_puts(out, program_state_name((int)course->state));
    put_lack(out, course->late, "roof misses the year it must be done in",
             "roofs miss the year they must be done in");
    put_lack(out, course->over, "year over its cap", "years over their caps");
    put_lack(out, course->unkept, "roof can't be done as adopted",
             "roofs can't be done as adopted");
    if (!course->possible && out->length == 0)
        text_puts(out, "more than one visit to a building");
}

static void put_state(struct grid *grid, const struct plan_course *course)
{
    struct text text = TEXT_INIT;

    course_state(&text, course);
    grid_made(grid, &text);
    text_release(&text);
}

/* Sums over all years, and the state that the last year leaves. @param best  beside which
 * it is saved; NULL */
static void put_course(struct grid *grid, const struct plan *plan,
                       const struct plan_course *course, const struct plan_course *over)
{
    const struct plan_year *last = &course->years[plan->settings.years - 1];
    double area = 0, retired = 0;

    for (int k = 0; k < plan->settings.years; k++) {
        area += course->years[k].area;
        retired += course->years[k].retired;
    }
    grid_text(grid, "all years");
    grid_number(grid, (double)course->visits);
    grid_number(grid, (double)course->roofs);
    grid_number(grid, (double)course->cost);
    grid_number(grid, (double)course->cap);
    grid_number(grid, (double)(course->cap - course->cost));
    grid_number(grid, area);
    grid_number(grid, last->condition_area);
    grid_number(grid, last->condition);
    grid_number(grid, last->index);
    grid_number(grid, (double)last->backlog);
    grid_number(grid, retired);
    grid_number(grid, (double)course->present);
    grid_number(grid, (double)course->sums.waiting);
    grid_number(grid, (double)course->sums.wind);
    grid_number(grid, (double)course->sums.residual);
    grid_number(grid, (double)course->sums.change);
    grid_number(grid, (double)plan_total(course));
    grid_number(grid, over ? (double)(plan_total(over) - plan_total(course)) : NAN);
    grid_number(grid, course->gap);
    put_state(grid, course);
}

static void put_years(struct grid *grid, const struct plan *plan, const char *name,
                      const struct plan_course *course, const struct plan_course *over)
{
    for (int k = 0; k < plan->settings.years; k++) {
        grid_text(grid, name);
        grid_number(grid, plan->settings.start + k);
        put_year(grid, &course->years[k]);
    }
    grid_text(grid, name);
    put_course(grid, plan, course, over);
}

/* What can't be done isn't saved against. */
static const struct plan_course *possible(const struct plan_course *course)
{
    return course->possible ? course : NULL;
}

void budget_fill(struct grid *grid, const struct plan *plan)
{
    put_years(grid, plan, "this plan", &plan->best, possible(&plan->worst_first));
    put_years(grid, plan, "worst first", &plan->worst_first, NULL);
    if (plan->settings.adopted)
        put_years(grid, plan, "adopted", &plan->adopted, NULL);
    put_years(grid, plan, "nothing", &plan->nothing, NULL);
}

/* ---- scenarios.csv ---- */

/* A row without numbers: no plan that keeps these caps was found. */
static void put_none(struct grid *grid, const char *name)
{
    grid_text(grid, name);
    grid_text(grid, "all years");
    for (size_t i = 2; i + 1 < sizeof budget_columns / sizeof budget_columns[0]; i++)
        grid_number(grid, NAN);
    grid_text(grid, "no plan was found");
}

void scenarios_fill(struct grid *grid, const struct plan *plan)
{
    put_years(grid, plan, "this plan", &plan->best, NULL);
    put_years(grid, plan, "nothing", &plan->nothing, &plan->best);
    for (size_t i = 0; i < plan->scenario_count; i++) {
        const struct plan_scenario *of = &plan->scenarios[i];

        if (of->solved)
            put_years(grid, plan, of->name, &of->course, &plan->best);
        else
            put_none(grid, of->name);
    }
}

/* ---- visits.csv ---- */

static const struct grid_column visits_columns[] = {
    {"building", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"year", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"roofs", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"work", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"fixed", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"total", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"roof_ids", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
};

const struct grid_sheet visits_sheet = {"visits", visits_columns,
                                        sizeof visits_columns / sizeof visits_columns[0]};

static void put_visit(struct grid *grid, const struct plan *plan,
                      const struct plan_visit *visit)
{
    struct text ids = TEXT_INIT;

    for (size_t i = 0; i < visit->roofs; i++)
        text_printf(&ids, "%s%s", i ? "; " : "",
                    portfolio_id(plan->roofs[visit->first + i].roof));
    grid_text(grid, visit->building);
    grid_number(grid, visit->year);
    grid_number(grid, (double)visit->roofs);
    grid_number(grid, (double)visit->work);
    grid_number(grid, (double)visit->fixed);
    grid_number(grid, (double)(visit->work + visit->fixed));
    grid_made(grid, &ids);
    text_release(&ids);
}

void visits_fill(struct grid *grid, const struct plan *plan)
{
    for (size_t i = 0; i < plan->visit_count; i++)
        put_visit(grid, plan, &plan->visits[i]);
}

/* ---- plan.csv ---- */

static const struct grid_column plan_columns[] = {
    {"year", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"roof_id", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"name", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"building", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"area", GRID_NUMBER, MEASURE_AREA, {1, 1}, true},
    {"action", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"method", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"state", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"scope", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"price", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"condition", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"condition_basis", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"own_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"cost", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"nominal_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"present_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"waiting_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"wind_loss", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"residual_value", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"change_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, true},
    {"adopted_year", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"soonest_year", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"last_year", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"earliest", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"latest", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"fixed_year", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"visit", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"why", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
};

const struct grid_sheet plan_sheet = {"plan", plan_columns,
                                      sizeof plan_columns / sizeof plan_columns[0]};

static void put_known_year(struct grid *grid, int year)
{
    grid_number(grid, year == MISSING ? NAN : (double)year);
}

static void put_why(struct grid *grid, const struct plan *plan,
                    const struct plan_roof *of)
{
    struct text why = TEXT_INIT;

    text_puts(&why, plan_reason_words((int)of->reason));
    if (of->money->priced) {
        text_printf(&why, "; condition %.0f: a year of waiting costs ", of->condition);
        text_number(&why,
                    100 * plan_rate(&plan->settings, of->condition) *
                        plan_consequence(&plan->settings, of->roof),
                    2);
        text_puts(&why, " %");
    }
    if (of->parted)
        text_printf(&why, "; %s", plan_parted_words());
    grid_made(grid, &why);
    text_release(&why);
}

/* A visit is known by its building and year; a roof alone is its own building. */
static void put_visit_name(struct grid *grid, const struct plan_roof *of)
{
    const char *building = portfolio_building(of->roof);
    struct text name = TEXT_INIT;

    if (of->action)
        text_printf(&name, "%s %d", *building ? building : portfolio_id(of->roof),
                    of->year);
    grid_made(grid, &name);
    text_release(&name);
}

static void put_planned(struct grid *grid, const struct plan *plan,
                        const struct plan_roof *of)
{
    const struct portfolio_money *money_of = of->money;
    bool priced = money_of->priced;

    put_known_year(grid, of->year);
    grid_text(grid, portfolio_id(of->roof));
    grid_text(grid, portfolio_name(of->roof));
    grid_text(grid, portfolio_building(of->roof));
    grid_number(grid, of->roof->area > 0 ? of->roof->area : NAN);
    grid_text(grid, of->action ? of->action->name : NULL);
    grid_text(grid, priced ? method_name(money_of->method) : NULL);
    grid_text(grid, priced ? zone_state_name(money_of->state) : NULL);
    grid_text(grid, scope_name(money_of->scope));
    grid_text(grid, money_of->priced ? price_basis_name(money_of->price) : NULL);
    grid_number(grid, of->condition);
    grid_text(grid, plan_age_name((int)of->basis));
    grid_number(grid, priced ? (double)of->own : NAN);
    grid_number(grid, of->action ? (double)of->cost : NAN);
    grid_number(grid, of->action ? (double)of->nominal : NAN);
    grid_number(grid, of->action ? (double)of->present : NAN);
    grid_number(grid, priced ? (double)of->sums.waiting : NAN);
    grid_number(grid, priced ? (double)of->sums.wind : NAN);
    grid_number(grid, priced ? (double)of->sums.residual : NAN);
    grid_number(grid, priced ? (double)of->sums.change : NAN);
    put_known_year(grid, of->adopted);
    put_known_year(grid, of->soonest);
    put_known_year(grid, of->last);
    put_known_year(grid, money_of->earliest);
    put_known_year(grid, money_of->latest);
    put_known_year(grid, money_of->fixed);
    put_visit_name(grid, of);
    put_why(grid, plan, of);
}

void plan_fill(struct grid *grid, const struct plan *plan)
{
    for (size_t i = 0; i < plan->count; i++)
        put_planned(grid, plan, &plan->roofs[i]);
}

/* ---- Both ---- */

/* What the use of a building makes of waiting. */
static void put_uses(struct text *out, const struct budget_settings *settings)
{
    text_puts(out, ", or by the building's use, where that is more (ours:");
    for (int use = BUILDING_USE_NOT_GIVEN + 1; use < BUILDING_USES; use++) {
        struct portfolio_roof of = {.risk = MISSING, .use = (uint8_t)use};

        text_printf(out, "%s %s x ", use > 1 ? "," : "", building_use_name(use));
        text_number(out, plan_consequence(settings, &of), 2);
    }
    text_putc(out, ')');
}

void budget_caution(struct text *out, const struct plan *plan,
                    const struct write_settings *set)
{
    const struct budget_settings *settings = &plan->settings;

    grid_caution(out, set, true);
    text_puts(out, " Waiting costs, service life and curve are planning choices, not "
                   "measured: a year of waiting costs ");
    text_number(out, settings->waiting, 2);
    text_puts(out,
              " % of the roof's cost at condition 0, falling with the square of what "
              "is worn, ");
    text_number(out, settings->consequence, 2);
    text_puts(out, " more for each risk category above II");
    put_uses(out, settings);
    text_puts(out, "; expected wind loss weighs ");
    text_number(out, settings->wind, 2);
    if (settings->adopted) {
        text_puts(out, "; a change of the adopted plan costs ");
        text_number(out, settings->change, 2);
        text_puts(out, " % of the roof's cost");
    }
    text_puts(out, " (invented unless set); service life ");
    text_number(out, settings->curve.life, 1);
    text_puts(out, " years, escalation ");
    text_number(out, settings->escalation, 2);
    text_puts(out, " %, discount ");
    text_number(out, settings->discount, 2);
    text_printf(out, " %%. Prices and conditions are taken as those of %d.",
                settings->start);
    text_printf(out,
                " The facility condition index covers the %zu roof%s with a "
                "replacement value.",
                plan->valued, PLURAL(plan->valued));
    if (plan->unpriced > 0)
        text_printf(out, " Without a cost, and in no sum: %zu roof%s.", plan->unpriced,
                    PLURAL(plan->unpriced));
    if (plan->assumed > 0)
        text_printf(out, " Condition 50 is assumed for %zu roof%s.", plan->assumed,
                    PLURAL(plan->assumed));
    if (plan->gone > 0)
        text_printf(out, " %zu roof%s of the adopted plan %s in the input.", plan->gone,
                    PLURAL(plan->gone), plan->gone == 1 ? "isn't" : "aren't");
    if (set->actions_built_in)
        text_puts(out, " What can be done to a roof, and what it gives, is invented.");
}

void plan_csv(struct text *out, const struct grid_sheet *sheet,
              void (*fill)(struct grid *, const struct plan *), const struct plan *plan,
              const struct write_settings *set)
{
    struct grid *grid = grid_new(sheet, set);
    struct text caution = TEXT_INIT;

    if (grid) {
        fill(grid, plan);
        budget_caution(&caution, plan, set);
        grid_csv_header(out, grid, caution.data);
        grid_csv_rows(out, grid);
    }
    out->failed = out->failed || !grid || caution.failed;
    text_release(&caution);
    grid_free(grid);
}

/* ---- The terminal ---- */

/* Whole units with a comma at each thousand; cents are rounded. */
static void print_amount(struct text *out, money value, int width)
{
    struct text text = TEXT_INIT;

    text_grouped(&text, (double)value / 100, 0);
    text_printf(out, "%*s", width, text.data ? text.data : "");
    out->failed = out->failed || text.failed;
    text_release(&text);
}

/* What is unknown, as where no roof has a cost, is a dash. */
static void print_known(struct text *out, double number, int width, int decimals)
{
    if (isnan(number))
        text_printf(out, "%*s", width, "-");
    else
        text_printf(out, "%*.*f", width, decimals, number);
}

static void print_years(struct text *out, const struct plan *plan)
{
    text_printf(out, "%-10s%6s%13s%13s%12s%10s%8s%13s\n", "year", "roofs", "cost", "cap",
                "unspent", "condition", "FCI", "backlog");
    for (int k = 0; k < plan->settings.years; k++) {
        const struct plan_year *year = &plan->best.years[k];

        text_printf(out, "%-10d%6zu", plan->settings.start + k, year->roofs);
        print_amount(out, year->cost, 13);
        print_amount(out, year->cap, 13);
        print_amount(out, year->cap - year->cost, 12);
        print_known(out, year->condition, 10, 1);
        print_known(out, year->index, 8, 3);
        print_amount(out, year->backlog, 13);
        text_putc(out, '\n');
    }
}

/* How a search ended, and the end of the line. */
static void print_state(struct text *out, const struct plan_course *course)
{
    struct text state = TEXT_INIT;

    course_state(&state, course);
    if (state.length)
        text_printf(out, "  %s", state.data);
    if (!isnan(course->gap))
        text_printf(out, " (%.3f %%)", 100 * course->gap);
    text_putc(out, '\n');
    out->failed = out->failed || state.failed;
    text_release(&state);
}

static void print_total(struct text *out, const char *name,
                        const struct plan_course *course)
{
    text_printf(out, "%-12s%6zu%6zu", name, course->visits, course->roofs);
    print_amount(out, course->cost, 13);
    print_amount(out, course->sums.waiting, 13);
    print_amount(out, course->sums.residual, 14);
    print_amount(out, plan_total(course), 13);
    print_state(out, course);
}

static void print_scenarios(struct text *out, const struct plan *plan)
{
    if (plan->scenario_count > 0)
        text_printf(out, "\n%-35s%6s%6s%13s%14s\n", "scenario", "visits", "roofs", "cost",
                    "present, all");
    for (size_t i = 0; i < plan->scenario_count; i++) {
        const struct plan_course *course = &plan->scenarios[i].course;

        if (!plan->scenarios[i].solved) {
            text_printf(out, "%-35s  no plan was found\n", plan->scenarios[i].name);
            continue;
        }
        text_printf(out, "%-35s%6zu%6zu", plan->scenarios[i].name, course->visits,
                    course->roofs);
        print_amount(out, course->cost, 13);
        print_amount(out, plan_total(course), 14);
        print_state(out, course);
    }
}

void budget_print(struct text *out, const struct plan *plan,
                  const struct write_settings *set)
{
    print_years(out, plan);
    text_printf(out, "\n%-12s%6s%6s%13s%13s%14s%13s\n", "plan", "visits", "roofs", "cost",
                "waiting", "worth left", "present, all");
    print_total(out, "this plan", &plan->best);
    print_total(out, "worst first", &plan->worst_first);
    if (plan->settings.adopted)
        print_total(out, "adopted", &plan->adopted);
    print_total(out, "nothing", &plan->nothing);
    print_scenarios(out, plan);
    text_printf(out,
                "\nMoney in %s. Condition and facility condition index (FCI: cost due "
                "and not done over\nreplacement value) at the end of each year.%s\n",
                set->currency, set->prices_built_in ? " Prices are invented." : "");
    text_printf(out,
                "What waiting costs and how long roofs last are planning choices, not "
                "measured.%s\n",
                set->actions_built_in ? "\nWhat can be done, and what it gives, is "
                                        "invented: the built-in actions."
                                      : "");
    if (plan->unpriced > 0)
        text_printf(out, "Without a cost, and in no sum: %zu roof%s.\n", plan->unpriced,
                    PLURAL(plan->unpriced));
}
