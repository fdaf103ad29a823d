/* What the overview says of money: costs today and the plan. */

#include <math.h>

#include "write/budget.h"
#include "write/overview_private.h"

/* A row of the costs: roofs, their cost, cost by area. */
static uint32_t put_cost(struct book *book, uint32_t row, const char *what,
                         const struct comparison_sums *sums)
{
    const struct unit *area = &book->set->units->area;
    struct text words = TEXT_INIT;
    char currency[4];

    if (sums->roofs == 0)
        return row;
    overview_currency(currency, book->set);
    overview_roofs(&words, sums->roofs);
    if (sums->area > 0) {
        text_puts(&words, "; ");
        text_fixed(&words, (double)sums->total / 100 / (sums->area / area->factor), 2);
        text_printf(&words, " %s per %s", currency, area->suffix);
    }
    if (sums->not_met > 0) {
        text_puts(&words, "; not met, unknown or not laid out on ");
        overview_roofs(&words, sums->not_met);
    }
    book->failed = book->failed || words.failed;
    row =
        overview_row(book, row, what, round((double)sums->total / 100), NAN, words.data);
    text_release(&words);
    return row;
}

/* Sums of methods that not all roofs were laid out for can't be compared. */
uint32_t overview_costs(struct book *book, uint32_t row,
                        const struct comparison_totals *compared)
{
    char currency[4];
    size_t laid = 0;

    for (int method = 0; method < METHOD_KINDS; method++)
        laid += compared->methods[method].roofs;
    if (laid == 0)
        return row;
    overview_currency(currency, book->set);
    row = overview_heading(book, row, "What it costs today", currency, NULL,
                           "for how many roofs");
    row = put_cost(book, row, "each roof by its own method", &compared->own);
    if (laid > compared->own.roofs)
        row = put_cost(book, row, "each roof by its cheapest method that holds",
                       &compared->cheapest);
    for (int method = METHOD_NOT_GIVEN + 1; method < METHOD_KINDS; method++)
        if (compared->methods[method].roofs >= compared->own.roofs)
            row = put_cost(book, row, method_name(method), &compared->methods[method]);
    return row;
}

void overview_price(struct text *words, const struct book *book,
                    const struct comparison_sums *own)
{
    char currency[4];

    overview_currency(currency, book->set);
    text_puts(words, "By the methods chosen, new covers on ");
    overview_roofs(words, own->roofs);
    text_printf(words, " cost %s ", currency);
    text_grouped(words, round((double)own->total / 100), 0);
    text_puts(words,
              book->set->prices_built_in ? " today, at invented prices." : " today.");
}

/* Cost of a year's roofs, what part of its cap that is, and what is left. */
static uint32_t put_year(struct book *book, uint32_t row, int year,
                         const struct plan_year *of, const char *currency)
{
    struct text name = TEXT_INIT;
    struct text words = TEXT_INIT;

    text_printf(&name, "%d", year);
    overview_roofs(&words, of->roofs);
    if (isfinite(of->condition)) {
        text_puts(&words, "; mean condition afterwards ");
        text_fixed(&words, of->condition, 0);
    }
    if (isfinite(of->index)) {
        text_puts(&words, ", facility condition index ");
        text_fixed(&words, of->index, 3);
    }
    text_printf(&words, "; due and not done: %s ", currency);
    text_grouped(&words, round((double)of->backlog / 100), 0);
    book->failed = book->failed || name.failed || words.failed;
    row = overview_row(book, row, name.data, round((double)of->cost / 100),
                       overview_share((double)of->cost, (double)of->cap), words.data);
    text_release(&name);
    text_release(&words);
    return row;
}

/* What the plan costs beside going worst first, at today's value. */
static uint32_t put_saving(struct book *book, uint32_t row, const struct plan *plan)
{
    money best = plan_total(&plan->best), worst = plan_total(&plan->worst_first);
    struct text words = TEXT_INIT;

    text_puts(&words, "less in all than going worst first, waiting and worth left "
                      "included; ");
    course_state(&words, &plan->best);
    if (!plan->worst_first.possible) {
        text_puts(&words, "; worst first can't be done: ");
        course_state(&words, &plan->worst_first);
    }
    book->failed = book->failed || words.failed;
    row = overview_row(book, row, "saved, at present cost",
                       round((double)(worst - best) / 100), NAN, words.data);
    text_release(&words);
    return row;
}

uint32_t overview_plan(struct book *book, uint32_t row, const struct plan *plan)
{
    char currency[4];

    if (!plan)
        return row;
    overview_currency(currency, book->set);
    row = overview_heading(book, row, "The plan, year by year", currency, "of the cap",
                           "what it does");
    for (int k = 0; k < plan->settings.years; k++)
        row =
            put_year(book, row, plan->settings.start + k, &plan->best.years[k], currency);
    return put_saving(book, row, plan);
}
