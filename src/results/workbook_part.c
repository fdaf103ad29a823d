#include "results/workbook_part.h"

#include "write/budget.h"
#include "write/overview.h"
#include "write/ranking.h"

/* Tables that are small enough to be held, or of the roofs shown only. */
struct held {
    struct grid *summary, *totals, *ranking; /* owned */
    struct grid *budget, *plan;              /* owned; NULL without a plan */
};

static void held_free(struct held *held)
{
    grid_free(held->summary);
    grid_free(held->totals);
    grid_free(held->ranking);
    grid_free(held->budget);
    grid_free(held->plan);
}

/* @return false when out of memory; what was made is to be freed all the same */
static bool held_make(struct held *held, const struct workbook_content *content)
{
    const struct write_settings *set = content->record->set;
    *held = (struct held){.summary = shown_grid(content->shown, SHOWN_SUMMARY),
                          .totals = grid_new(&totals_sheet, set),
                          .ranking = grid_new(&ranking_sheet, set)};
    if (!held->summary || !held->totals || !held->ranking)
        return false;
    totals_fill(held->totals, content->record->totals, set);
    ranking_fill(held->ranking, content->ranking, 0, SHOWN_MOST, set);
    if (grid_failed(held->summary) || grid_failed(held->totals) ||
        grid_failed(held->ranking))
        return false;
    if (!content->plan)
        return true;
    held->budget = grid_new(&budget_sheet, set);
    held->plan = grid_new(&plan_sheet, set);
    if (!held->budget || !held->plan)
        return false;
    budget_fill(held->budget, content->plan);
    plan_fill(held->plan, content->plan);
    return !grid_failed(held->budget) && !grid_failed(held->plan);
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
                        const struct workbook_content *content)
{
    struct text about = TEXT_INIT;
    struct text caution = TEXT_INIT;
    text_puts(&about, "Roofs by their exposure to wind, the most exposed first.");
    if (content->ranking->count > SHOWN_MOST)
        text_printf(&about, " Only the first %d of %zu: ranking.csv has all.", SHOWN_MOST,
                    content->ranking->count);
    ranking_caution(&caution, content->ranking, content->record->set);
    book_add(book, held->ranking, &about, &caution);
    text_release(&about);
    text_release(&caution);
}

static void put_plan(struct book *book, const struct held *held,
                     const struct workbook_content *content)
{
    struct text years = TEXT_INIT;
    struct text roofs = TEXT_INIT;
    struct text caution = TEXT_INIT;
    text_puts(&years, "What each year costs: the best plan, the rule that goes worst "
                      "first, and what higher caps would buy.");
    text_puts(&roofs, "Which roof is done in which year, and why.");
    budget_caution(&caution, content->plan, content->record->set);
    book_add(book, held->budget, &years, &caution);
    book_add(book, held->plan, &roofs, &caution);
    text_release(&years);
    text_release(&roofs);
    text_release(&caution);
}

static void put_sheets(struct book *book, const struct held *held,
                       const struct workbook_content *content)
{
    const struct overview overview = {.record = content->record,
                                      .compared = content->compared,
                                      .summary = held->summary,
                                      .ranking = held->ranking,
                                      .plan = content->plan};
    overview_add(book, &overview);
    shown_sheet(content->shown, SHOWN_SUMMARY, book);
    put_totals(book, held, content->record->set);
    shown_sheet(content->shown, SHOWN_MATERIALS, book);
    shown_sheet(content->shown, SHOWN_COMPARISON, book);
    put_ranking(book, held, content);
    if (content->plan)
        put_plan(book, held, content);
    shown_sheet(content->shown, SHOWN_PROBLEMS, book);
}

enum outlay_status workbook_part_write(const char *path,
                                       const struct workbook_content *content,
                                       struct outlay_error *err)
{
    struct held held;
    struct book *book = NULL;
    enum outlay_status status = OUTLAY_OK;
    if (!held_make(&held, content) || shown_failed(content->shown))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (status == OUTLAY_OK)
        status = book_open(path, content->record->set, &book, err);
    if (status == OUTLAY_OK) {
        put_sheets(book, &held, content);
        status = book_commit(book, err);
    }
    held_free(&held);
    return status;
}
