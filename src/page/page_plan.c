/* The plan on the page: years, and what becomes of each roof that is shown. */

#include <math.h>
#include <stdlib.h>

#include "page/page_private.h"
#include "write/budget.h"

static const struct grid_column columns[] = {
    {"year", GRID_NUMBER, MEASURE_NONE, {0, 0}, false},
    {"nominal_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
    {"waiting_cost", GRID_MONEY, MEASURE_NONE, {0, 0}, false},
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

static void put_row(struct grid *grid, const struct plan_roof *of)
{
    bool priced = of && of->money->priced;
    bool done = of && of->year != MISSING;

    grid_number(grid, done ? (double)of->year : NAN);
    grid_number(grid, done ? (double)of->nominal : NAN);
    grid_number(grid, priced ? (double)of->sums.waiting : NAN);
    grid_text(grid, of ? plan_reason_words((int)of->reason) : NULL);
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

void page_plan_json(struct text *out, const struct page *page, const struct plan *plan,
                    const size_t shown[PAGE_GROUPS])
{
    size_t count = shown[PAGE_RATED] + shown[PAGE_OTHERS];
    struct planned *planned = calloc(count + 1, sizeof *planned);
    struct grid *rows = grid_new(&page_plan_sheet, page->set);
    struct grid *budget = grid_new(&budget_sheet, page->set);
    struct text caution = TEXT_INIT;

    if (planned && rows && budget) {
        fill(rows, page, plan, shown, planned);
        budget_fill(budget, plan);
        budget_caution(&caution, plan, page->set);
        text_puts(out, ",\n\"plan\":");
        grid_json(out, rows);
        text_puts(out, ",\n\"budget\":");
        grid_json(out, budget);
        text_puts(out, ",\n\"plan_caution\":");
        text_json(out, caution.data);
    }
    out->failed = out->failed || !planned || !rows || !budget || caution.failed;
    text_release(&caution);
    grid_free(budget);
    grid_free(rows);
    free(planned);
}
