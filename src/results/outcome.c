#include "results/outcome.h"

#include <math.h>

#include "page/page.h"

static enum outlay_status open_groups(struct outcome *outcome, bool page,
                                      struct outlay_error *err)
{
    const struct settings *settings = outcome->settings;
    bool si = settings->write.units == &unit_system_si;
    const struct groups_settings fitted = {
        .by = GROUPS_FITTED, .side = si ? 1000 : 5280 * M_PER_FT, .most = PAGE_AREAS};
    struct groups_settings by = {.by = GROUPS_BY_COLUMN};
    enum outlay_status status = OUTLAY_OK;

    if (isfinite(settings->grid))
        by = (struct groups_settings){.by = GROUPS_BY_SQUARE, .side = settings->grid};
    if (settings_group(settings) && (page || outcome->needs & NEEDS_GROUPS))
        status = groups_new(&by, &outcome->groups, err);
    if (status == OUTLAY_OK && page)
        status = groups_new(&fitted, &outcome->fitted, err);
    return status;
}

/* The page maps the groups that were asked for, unless there are too many. */
static enum outlay_status settle_groups(struct outcome *outcome, struct outlay_error *err)
{
    double step = roof_area_step(&outcome->settings->write);
    enum outlay_status status = OUTLAY_OK;

    if (outcome->groups)
        status = groups_settle(outcome->groups, outcome->ranking, step, err);
    if (status != OUTLAY_OK || !outcome->fitted ||
        portfolio_count(outcome->portfolio) <= PAGE_ROOFS)
        return status;
    outcome->map = outcome->groups;
    if (outcome->map && groups_count(outcome->map) <= PAGE_AREAS)
        return OUTLAY_OK;
    outcome->map = outcome->fitted;
    return groups_settle(outcome->fitted, outcome->ranking, step, err);
}

enum outlay_status outcome_init(struct outcome *outcome, const struct settings *settings,
                                const struct survey *survey, unsigned parts,
                                struct outlay_error *err)
{
    static const struct grid_sheet *const sheets[SHOWN_TABLES] = {
        [SHOWN_MATERIALS] = &materials_sheet,
        [SHOWN_COMPARISON] = &comparison_sheet,
        [SHOWN_PROBLEMS] = &problems_sheet};
    unsigned needs = settings_need(settings, parts);
    bool whole = true;
    *outcome = (struct outcome){.settings = settings, .survey = survey, .needs = needs};
    for (int i = 0; i < SHOWN_TABLES; i++) {
        if (!sheets[i])
            continue;
        outcome->rest[i] = grid_new(sheets[i], &settings->write);
        whole = whole && outcome->rest[i];
    }
    if (needs & (NEEDS_RANKING | NEEDS_PLAN)) {
        outcome->portfolio = portfolio_new((needs & NEEDS_PLAN) != 0);
        whole = whole && outcome->portfolio;
    }
    if (!whole)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    enum outlay_status status = open_groups(outcome, (parts & 1u << PART_PAGE) != 0, err);
    if (status == OUTLAY_OK && settings->order.order_by == ORDER_BY_PORTFOLIO)
        status = order_total_new(&outcome->total, err);
    return status;
}

enum outlay_status outcome_add(struct outcome *outcome, const struct building *building,
                               struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    comparison_add(&outcome->compared, building);
    if (outcome->portfolio)
        status = portfolio_add(outcome->portfolio, building, err);
    if (status == OUTLAY_OK && outcome->groups)
        status = groups_add(outcome->groups, building, err);
    if (status == OUTLAY_OK && outcome->fitted)
        status = groups_add(outcome->fitted, building, err);
    for (size_t i = 0; outcome->total && i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];
        for (size_t k = 0; status == OUTLAY_OK && k < roof->layout_count; k++)
            status = order_total_add(outcome->total, roof->layouts[k].method,
                                     &roof->bills[k], err);
    }
    return status;
}

enum outlay_status outcome_set_apart(struct outcome *outcome,
                                     const struct duplicate_list *list,
                                     struct outlay_error *err)
{
    if (!outcome->portfolio || outcome->settings->duplicates_path)
        return OUTLAY_OK;
    return portfolio_set_apart(outcome->portfolio, list, err);
}

/* What rounding the portfolio's goods up to packs adds, and the sums. */
static void add_last_rows(struct outcome *outcome)
{
    const struct settings *settings = outcome->settings;
    struct grid *comparison = outcome->rest[SHOWN_COMPARISON];
    for (int i = 0; outcome->total && i < METHOD_KINDS; i++) {
        enum method method = (enum method)i;
        const struct bill *packs = order_total_rounding(outcome->total, method);
        struct cost cost = price_rounding(packs, &settings->price);
        materials_of_rounding(outcome->rest[SHOWN_MATERIALS], NULL, method, packs,
                              &settings->write);
        comparison_of_packs(comparison, method, &cost);
        comparison_add_packs(&outcome->compared, method, &cost);
    }
    comparison_of_totals(comparison, &outcome->compared);
}

/* A search is asked to stop as reading is: by the caller's report of progress. */
struct watch {
    const struct messages *messages;
    size_t roofs;
};

static bool stop_asked(const void *context)
{
    const struct watch *watch = context;
    return message_progress(watch->messages, 1, watch->roofs, NULL) != OUTLAY_OK;
}

static enum outlay_status make_plan(struct outcome *outcome,
                                    const struct messages *messages,
                                    struct outlay_error *err)
{
    const struct watch watch = {messages, portfolio_count(outcome->portfolio)};
    const struct plan_stop stop = {stop_asked, &watch};
    enum outlay_status status = plan_make(outcome->portfolio, &outcome->settings->plan,
                                          &stop, &outcome->plan, err);

    if (status == OUTLAY_OK && outcome->needs & NEEDS_SCENARIOS)
        status = plan_scenarios(outcome->plan, outcome->portfolio, &stop, err);
    return status;
}

enum outlay_status outcome_decide(struct outcome *outcome,
                                  const struct messages *messages,
                                  struct outlay_error *err)
{
    const struct settings *settings = outcome->settings;
    enum outlay_status status = OUTLAY_OK;
    add_last_rows(outcome);
    if (outcome->portfolio)
        status = portfolio_set_apart(outcome->portfolio, &settings->duplicates, err);
    if (status == OUTLAY_OK && outcome->needs & NEEDS_RANKING) {
        status = ranking_make(outcome->portfolio, &settings->rank, &outcome->made, err);
        outcome->ranking = status == OUTLAY_OK ? &outcome->made : NULL;
    }
    if (status == OUTLAY_OK && outcome->ranking)
        status = settle_groups(outcome, err);
    if (status == OUTLAY_OK && outcome->needs & NEEDS_PLAN)
        status = make_plan(outcome, messages, err);
    return status;
}

void outcome_release(struct outcome *outcome)
{
    plan_free(outcome->plan);
    ranking_release(&outcome->made);
    groups_free(outcome->groups);
    groups_free(outcome->fitted);
    portfolio_free(outcome->portfolio);
    order_total_free(outcome->total);
    for (int i = 0; i < SHOWN_TABLES; i++)
        grid_free(outcome->rest[i]);
    *outcome = (struct outcome){0};
}
