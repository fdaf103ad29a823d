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

static enum outlay_status open_draws(struct outcome *outcome, struct outlay_error *err)
{
    const struct spread_settings *spread = &outcome->settings->spread;

    if (spread->draws == 0)
        return OUTLAY_OK;
    outcome->sums = spread_sums_new((size_t)spread->draws);
    if (!outcome->sums)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (!(outcome->needs & NEEDS_RANKING))
        return OUTLAY_OK;
    return rank_draws_new((size_t)spread->draws, (uint32_t)spread->first, &outcome->drawn,
                          err);
}

enum outlay_status outcome_init(struct outcome *outcome, const struct settings *settings,
                                const struct extent *extent, unsigned parts,
                                struct outlay_error *err)
{
    static const struct grid_sheet *const sheets[SHOWN_TABLES] = {
        [SHOWN_COMPARISON] = &comparison_sheet, [SHOWN_PROBLEMS] = &problems_sheet};
    unsigned needs = settings_need(settings, parts);
    bool whole = true;
    *outcome = (struct outcome){.settings = settings, .extent = extent, .needs = needs};
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
    if (needs & NEEDS_SURVEY) {
        outcome->surveyed = surveyed_new(&settings->write);
        whole = whole && outcome->surveyed;
    }
    if (!whole)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    enum outlay_status status = open_groups(outcome, (parts & 1u << PART_PAGE) != 0, err);
    if (status == OUTLAY_OK)
        status = open_draws(outcome, err);
    if (status == OUTLAY_OK && settings->order.order_by == ORDER_BY_PORTFOLIO)
        status = order_total_new(&outcome->total, err);
    if (status == OUTLAY_OK && needs & NEEDS_PLAN && needs & FOLLOWS_PLAN &&
        settings->order.order_by == ORDER_BY_VISIT)
        status = order_book_new(&outcome->book, err);
    return status;
}

enum outlay_status outcome_add(struct outcome *outcome, const struct building *building,
                               struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    comparison_add(&outcome->compared, building);
    if (outcome->surveyed && !surveyed_add(outcome->surveyed, building))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (outcome->portfolio)
        status = portfolio_add(outcome->portfolio, building, err);
    if (status == OUTLAY_OK && outcome->groups)
        status = groups_add(outcome->groups, building, err);
    if (status == OUTLAY_OK && outcome->fitted)
        status = groups_add(outcome->fitted, building, err);
    if (status == OUTLAY_OK && outcome->total)
        status = order_total_add(outcome->total, building, err);
    if (status == OUTLAY_OK && outcome->book)
        status = order_book_add(outcome->book, building, err);
    if (status == OUTLAY_OK && outcome->drawn)
        status = rank_draws_add(outcome->drawn, building, err);
    return status;
}

void outcome_add_draws(struct outcome *outcome, const struct spread_sums *sums)
{
    if (sums && outcome->sums)
        spread_sums_add(outcome->sums, sums);
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
    if (outcome->total)
        order_total_close(outcome->total);
    for (int i = 0; outcome->total && i < METHOD_KINDS; i++) {
        enum method method = (enum method)i;
        money goods = order_material(order_total_methods(outcome->total), method);
        money paid = outcome->compared.methods[i].parts[COST_MATERIAL];
        struct cost cost = price_material(goods - paid, &settings->price);
        comparison_of_packs(comparison, method, &cost);
        comparison_add_packs(&outcome->compared, method, &cost);
    }
    comparison_of_totals(comparison, &outcome->compared);
}

/* ---- Orders ---- */

size_t outcome_order_count(const struct outcome *outcome)
{
    return outcome->book ? outcome->plan->visit_count : outcome->total ? 1 : 0;
}

/* "hall 2027"; a roof that is a building of its own goes by its id. */
static const char *visit_id(const struct plan *plan, const struct plan_visit *visit,
                            struct arena *arena)
{
    const char *name =
        *visit->building ? visit->building : portfolio_id(plan->roofs[visit->first].roof);
    struct text text = TEXT_INIT;
    const char *id = NULL;
    text_printf(&text, "%s %d", name, visit->year);
    if (!text.failed)
        id = arena_text(arena, text.data, text.length);
    text_release(&text);
    return id;
}

/* Goods of what is built up from a bill; other actions are bought all in. */
static bool order_of_visit(const struct outcome *outcome, const struct plan_visit *visit,
                           struct arena *arena, struct order *out)
{
    const struct plan *plan = outcome->plan;
    const struct portfolio_roof *first = portfolio_roof(outcome->portfolio, 0);
    bool added = true;
    *out = (struct order){.id = visit_id(plan, visit, arena),
                          .building = visit->building,
                          .year = visit->year};
    for (size_t i = visit->first; added && i < visit->first + visit->roofs; i++) {
        const struct plan_roof *roof = &plan->roofs[i];
        if (roof->action->built_up)
            added =
                order_book_put(outcome->book, (size_t)(roof->roof - first), arena, out);
    }
    order_close(out);
    return added && out->id;
}

bool outcome_orders(const struct outcome *outcome, size_t from, size_t to,
                    struct grid *grid)
{
    const struct write_settings *set = &outcome->settings->write;
    struct arena *arena = arena_new();
    bool made = arena != NULL;
    if (outcome->total && from < to)
        orders_of(grid, order_total_own(outcome->total), 1, set);
    for (size_t i = from; made && outcome->book && i < to; i++) {
        struct order order;
        made = order_of_visit(outcome, &outcome->plan->visits[i], arena, &order);
        if (made)
            orders_of(grid, &order, 1, set);
        arena_reset(arena);
    }
    arena_free(arena);
    return made;
}

/* ---- Decisions ---- */

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
    if (outcome->sums)
        spread_sums_settle(outcome->sums);
    if (status == OUTLAY_OK && outcome->drawn)
        status = rank_draws_settle(outcome->drawn, outcome->ranking, err);
    outcome->made.drawn = outcome->drawn;
    if (status == OUTLAY_OK && outcome->needs & NEEDS_PLAN)
        status = make_plan(outcome, messages, err);
    return status;
}

void outcome_release(struct outcome *outcome)
{
    surveyed_free(outcome->surveyed);
    outcome->surveyed = NULL;
    plan_free(outcome->plan);
    spread_sums_free(outcome->sums);
    rank_draws_free(outcome->drawn);
    ranking_release(&outcome->made);
    groups_free(outcome->groups);
    groups_free(outcome->fitted);
    portfolio_free(outcome->portfolio);
    order_total_free(outcome->total);
    order_book_free(outcome->book);
    for (int i = 0; i < SHOWN_TABLES; i++)
        grid_free(outcome->rest[i]);
    *outcome = (struct outcome){0};
}
