/* workbook.xlsx: which sheets it has, in which order. */

#include "results/parts.h"
#include "write/budget.h"
#include "write/overview.h"
#include "write/ranking.h"

/* The sheets of a plan, in their order. */
static const struct {
    const struct grid_sheet *sheet;
    void (*fill)(struct grid *, const struct plan *);
    const char *about;
} plan_sheets[] = {
    {&budget_sheet, budget_fill,
     "What each year costs: the best plan, and what it was weighed against."},
    {&scenarios_sheet, scenarios_fill, "What other caps and other service lives do."},
    {&visits_sheet, visits_fill,
     "Work on a building in a year: a visit, which pays in full what it costs once."},
    {&plan_sheet, plan_fill, "Which roof is done in which year, and why."},
};
enum { PLAN_SHEETS = sizeof plan_sheets / sizeof plan_sheets[0] };

/* Tables that are small enough to be held, or of the roofs shown only. */
struct held {
    struct grid *summary, *totals, *ranking; /* owned */
    struct grid *plan[PLAN_SHEETS];          /* owned; NULL without a plan */
};

static void held_free(struct held *held)
{
    grid_free(held->summary);
    grid_free(held->totals);
    grid_free(held->ranking);
    for (size_t i = 0; i < PLAN_SHEETS; i++)
        grid_free(held->plan[i]);
}

static bool hold_plan(struct held *held, const struct outcome *outcome)
{
    for (size_t i = 0; i < PLAN_SHEETS; i++) {
        held->plan[i] = grid_new(plan_sheets[i].sheet, &outcome->settings->write);
        if (!held->plan[i])
            return false;
        plan_sheets[i].fill(held->plan[i], outcome->plan);
        if (grid_failed(held->plan[i]))
            return false;
    }
    return true;
}

/* @return false when out of memory; what was made is to be freed all the same */
static bool held_make(struct held *held, const struct shown *shown,
                      const struct outcome *outcome)
{
    const struct write_settings *set = &outcome->settings->write;
    *held = (struct held){.summary = shown_grid(shown, SHOWN_SUMMARY),
                          .totals = grid_new(&totals_sheet, set),
                          .ranking = grid_new(&ranking_sheet, set)};
    if (!held->summary || !held->totals || !held->ranking)
        return false;
    totals_fill(held->totals, outcome->record->totals, set);
    ranking_fill(held->ranking, outcome->ranking, 0, SHOWN_MOST, set);
    if (grid_failed(held->summary) || grid_failed(held->totals) ||
        grid_failed(held->ranking))
        return false;
    return !outcome->plan || hold_plan(held, outcome);
}

static void put_totals(struct book *book, const struct held *held,
                       const struct write_settings *set)
{
    struct text about = TEXT_INIT;
    struct text caution = TEXT_INIT;
    text_puts(&about, "Sums over all roofs.");
    grid_caution(&caution, set, false);
    book_add(book, held->totals, &about, &caution);
    text_release(&about);
    text_release(&caution);
}

static void put_ranking(struct book *book, const struct held *held,
                        const struct outcome *outcome)
{
    struct text about = TEXT_INIT;
    struct text caution = TEXT_INIT;
    text_puts(&about, "Roofs by their exposure to wind, the most exposed first.");
    if (outcome->ranking->count > SHOWN_MOST)
        text_printf(&about, " Only the first %d of %zu: ranking.csv has all.", SHOWN_MOST,
                    outcome->ranking->count);
    ranking_caution(&caution, outcome->ranking, &outcome->settings->write);
    book_add(book, held->ranking, &about, &caution);
    text_release(&about);
    text_release(&caution);
}

static void put_plan(struct book *book, const struct held *held,
                     const struct outcome *outcome)
{
    struct text caution = TEXT_INIT;
    budget_caution(&caution, outcome->plan, &outcome->settings->write);
    for (size_t i = 0; i < PLAN_SHEETS; i++) {
        struct text about = TEXT_INIT;
        text_puts(&about, plan_sheets[i].about);
        book_add(book, held->plan[i], &about, &caution);
        text_release(&about);
    }
    text_release(&caution);
}

static void put_sheets(struct book *book, const struct held *held,
                       const struct shown *shown, const struct outcome *outcome)
{
    const struct overview overview = {.record = outcome->record,
                                      .compared = &outcome->compared,
                                      .summary = held->summary,
                                      .ranking = held->ranking,
                                      .plan = outcome->plan};
    overview_add(book, &overview);
    shown_sheet(shown, SHOWN_SUMMARY, book);
    put_totals(book, held, &outcome->settings->write);
    shown_sheet(shown, SHOWN_MATERIALS, book);
    shown_sheet(shown, SHOWN_ORDERS, book);
    shown_sheet(shown, SHOWN_COMPARISON, book);
    put_ranking(book, held, outcome);
    if (outcome->plan)
        put_plan(book, held, outcome);
    shown_sheet(shown, SHOWN_PROBLEMS, book);
}

static enum outlay_status write_book(const char *path, const struct shown *shown,
                                     const struct outcome *outcome,
                                     struct outlay_error *err)
{
    struct held held;
    struct book *book = NULL;
    enum outlay_status status = OUTLAY_OK;
    if (!held_make(&held, shown, outcome) || shown_failed(shown))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (status == OUTLAY_OK)
        status = book_open(path, &outcome->settings->write, &book, err);
    if (status == OUTLAY_OK) {
        put_sheets(book, &held, shown, outcome);
        status = book_commit(book, err);
    }
    held_free(&held);
    return status;
}

/* Until all is known, the rows of the roofs to show. */
static enum outlay_status open_shown(const struct outcome *outcome, const char *path,
                                     void **self, struct outlay_error *err)
{
    (void)path;
    *self = shown_new(&outcome->settings->write);
    return *self ? OUTLAY_OK : outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}

static enum outlay_status add_shown(void *self, const struct outcome *outcome,
                                    const struct building *building,
                                    struct outlay_error *err)
{
    const struct portfolio *portfolio = outcome->portfolio;
    size_t first = portfolio_count(portfolio) - building->roof_count;
    (void)err; /* shown_failed() */
    for (size_t i = 0; i < building->roof_count; i++) {
        struct ranked merit =
            ranked_of(portfolio_roof(portfolio, first + i), &outcome->settings->rank);
        shown_add(self, building, i, &merit);
    }
    return OUTLAY_OK;
}

/* The first orders that are no building's. */
static bool add_orders(struct shown *shown, const struct outcome *outcome)
{
    struct grid *grid = grid_new(&orders_sheet, &outcome->settings->write);
    size_t count = outcome_order_count(outcome);
    bool made =
        grid && outcome_orders(outcome, 0, count < SHOWN_MOST ? count : SHOWN_MOST, grid);
    if (made)
        shown_add_rows(shown, SHOWN_ORDERS, grid);
    grid_free(grid);
    return made;
}

static enum outlay_status commit_shown(void *self, const struct outcome *outcome,
                                       const char *path, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    for (int i = 0; i < SHOWN_TABLES; i++)
        if (outcome->rest[i])
            shown_add_rows(self, (enum shown_table)i, outcome->rest[i]);
    if (!add_orders(self, outcome))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    shown_finish(self, outcome->ranking);
    if (status == OUTLAY_OK)
        status = write_book(path, self, outcome, err);
    shown_free(self);
    return status;
}

static void drop_shown(void *self)
{
    shown_free(self);
}

const struct part_object workbook_object = {
    .open = open_shown, .add = add_shown, .commit = commit_shown, .drop = drop_shown};
