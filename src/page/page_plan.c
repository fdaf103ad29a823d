/* The plan on the page: years, and what becomes of each roof that is shown. */

#include <math.h>
#include <stdlib.h>

#include "page/page_private.h"
#include "write/budget.h"

static const struct grid_column columns[] = {
    {"year", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"action", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"attachment", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"condition", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"condition_basis", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"nominal_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"waiting_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"soonest_year", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"last_year", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"why", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
};

const struct grid_sheet page_plan_sheet = {"plan", columns,
                                           sizeof columns / sizeof columns[0]};

/* A roof that is shown and its plan; texts tell it from all others. */
struct planned {
    const char *texts;
    const struct plan_roof *of;
};

static int by_texts(const void *of_a, const void *of_b)
{
    const struct planned *a = of_a, *b = of_b;

    return a->texts < b->texts ? -1 : a->texts > b->texts;
}

static const char *texts_of(const struct page *page, int group, size_t k)
{
    const struct page_entry *entry = page->groups[group].items[k];

    return entry->roof.texts;
}

static size_t gather(const struct page *page, const size_t shown[PAGE_GROUPS],
                     struct planned *out)
{
    size_t count = 0;

    for (int i = 0; i < PAGE_GROUPS; i++)
        for (size_t k = 0; k < shown[i]; k++)
            out[count++].texts = texts_of(page, i, k);
    return count;
}

static void find_all(struct planned *planned, size_t count, const struct plan *plan)
{
    for (size_t i = 0; i < plan->count; i++) {
        struct planned key = {plan->roofs[i].roof->texts, NULL};
        struct planned *found = bsearch(&key, planned, count, sizeof key, by_texts);

        if (found)
            found->of = &plan->roofs[i];
    }
}

static double year_or_none(int year)
{
    return year == MISSING ? (double)NAN : year;
}

/* What is to hold in the wind afterwards; an action that leaves the present roof there
 * has no attachment of its own. */
static const char *attachment_of(const struct plan_roof *of)
{
    bool covers = of->action && of->action->kind <= ACTION_RECOVER;

    return covers ? zone_state_name((int)of->money->state) : NULL;
}

static void put_reason(struct grid *grid, const struct plan_roof *of)
{
    struct text words = TEXT_INIT;

    text_puts(&words, plan_reason_words((int)of->reason));
    if (of->parted)
        text_printf(&words, "; %s", plan_parted_words());
    grid_made(grid, &words);
    text_release(&words);
}

static void put_row(struct grid *grid, const struct plan_roof *of)
{
    bool priced = of->money->priced;

    grid_number(grid, year_or_none(of->year));
    grid_text(grid, of->action ? of->action->name : NULL);
    grid_text(grid, attachment_of(of));
    grid_number(grid, of->condition);
    grid_text(grid, plan_age_name((int)of->basis));
    grid_number(grid, of->action ? (double)of->nominal : NAN);
    grid_number(grid, priced ? (double)of->sums.waiting : NAN);
    grid_number(grid, year_or_none(of->soonest));
    grid_number(grid, year_or_none(of->last));
    put_reason(grid, of);
}

/* Rows in the order in which the roofs are shown. */
static void fill(struct grid *grid, const struct page *page, const struct plan *plan,
                 const size_t shown[PAGE_GROUPS], struct planned *planned)
{
    size_t count = gather(page, shown, planned);

    if (count)
        qsort(planned, count, sizeof *planned, by_texts);
    find_all(planned, count, plan);
    for (int i = 0; i < PAGE_GROUPS; i++)
        for (size_t k = 0; k < shown[i]; k++) {
            struct planned key = {texts_of(page, i, k), NULL};
            struct planned *found = bsearch(&key, planned, count, sizeof key, by_texts);

            put_row(grid, found->of);
        }
}

/* Appends a table of the plan as a JSON member. */
static void put_table(struct text *out, const char *name, const struct grid_sheet *sheet,
                      void (*fill_in)(struct grid *, const struct plan *),
                      const struct page *page, const struct plan *plan)
{
    struct grid *grid = grid_new(sheet, page->set);

    if (grid) {
        fill_in(grid, plan);
        text_printf(out, ",\n\"%s\":", name);
        grid_json(out, grid);
    }
    out->failed = out->failed || !grid;
    grid_free(grid);
}

static void put_roofs(struct text *out, const struct page *page, const struct plan *plan,
                      const size_t shown[PAGE_GROUPS])
{
    size_t count = shown[PAGE_RATED] + shown[PAGE_OTHERS];
    struct planned *planned = calloc(count + 1, sizeof *planned);
    struct grid *rows = grid_new(&page_plan_sheet, page->set);

    if (planned && rows) {
        fill(rows, page, plan, shown, planned);
        text_puts(out, ",\n\"plan\":");
        grid_json(out, rows);
    }
    out->failed = out->failed || !planned || !rows;
    grid_free(rows);
    free(planned);
}

void page_plan_json(struct text *out, const struct page *page, const struct plan *plan,
                    const size_t shown[PAGE_GROUPS])
{
    struct text caution = TEXT_INIT;

    put_roofs(out, page, plan, shown);
    put_table(out, "budget", &budget_sheet, budget_fill, page, plan);
    put_table(out, "visits", &visits_sheet, visits_fill, page, plan);
    put_table(out, "scenarios", &scenarios_sheet, scenarios_fill, page, plan);
    budget_caution(&caution, plan, page->set);
    text_printf(out,
                ",\n\"planned\":{\"roofs\":%zu,\"unpriced\":%zu,\"assumed\":%zu},\n"
                "\"plan_caution\":",
                plan->count, plan->unpriced, plan->assumed);
    text_json(out, caution.data);
    out->failed = out->failed || caution.failed;
    text_release(&caution);
}
