#include "results/decisions.h"

#include <stdlib.h>

#include "write/budget.h"
#include "write/ranking.h"

struct decisions {
    const struct settings *settings;
    unsigned parts;
    struct portfolio *portfolio; /* owned */
    struct ranking ranking;      /* owned */
    bool ranked;
    struct plan *plan; /* owned; NULL when not wanted */
};

enum outlay_status decisions_new(const struct settings *settings, unsigned parts,
                                 struct decisions **out, struct outlay_error *err)
{
    struct decisions *decisions = NULL;

    *out = NULL;
    if (!(parts & PARTS_DECIDING))
        return OUTLAY_OK;
    if (settings->plan.cap && parts & 1u << PART_WORKBOOK)
        parts |= PARTS_PLANNED;
    decisions = calloc(1, sizeof *decisions);
    if (decisions)
        decisions->portfolio = portfolio_new((parts & PARTS_PLANNED) != 0);
    if (!decisions || !decisions->portfolio) {
        decisions_free(decisions);
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    decisions->settings = settings;
    decisions->parts = parts;
    *out = decisions;
    return OUTLAY_OK;
}

void decisions_free(struct decisions *decisions)
{
    if (!decisions)
        return;
    plan_free(decisions->plan);
    ranking_release(&decisions->ranking);
    portfolio_free(decisions->portfolio);
    free(decisions);
}

enum outlay_status decisions_add(struct decisions *decisions,
                                 const struct building *building,
                                 struct outlay_error *err)
{
    return portfolio_add(decisions->portfolio, building, err);
}

size_t decisions_count(const struct decisions *decisions)
{
    return portfolio_count(decisions->portfolio);
}

struct shown_merit decisions_merit(const struct decisions *decisions, size_t i)
{
    struct rank_score score =
        rank_score(portfolio_roof(decisions->portfolio, i), &decisions->settings->rank);

    return (struct shown_merit){(int)score.group, score.score};
}

enum outlay_status decisions_make(struct decisions *decisions, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    if (decisions->parts & PARTS_RANKED) {
        status = ranking_make(decisions->portfolio, &decisions->settings->rank,
                              &decisions->ranking, err);
        decisions->ranked = status == OUTLAY_OK;
    }
    if (status == OUTLAY_OK && decisions->parts & PARTS_PLANNED)
        status = plan_make(decisions->portfolio, &decisions->settings->plan,
                           &decisions->plan, err);
    return status;
}

enum outlay_status decisions_write(const struct decisions *decisions, int part,
                                   struct output *output, struct outlay_error *err)
{
    const struct write_settings *set = &decisions->settings->write;
    struct text out = TEXT_INIT;
    enum outlay_status status = OUTLAY_OK;

    if (part == PART_RANKING)
        return ranking_csv(output, &decisions->ranking, set, err);
    status = part == PART_BUDGET ? budget_csv(&out, decisions->plan, set, err)
                                 : plan_csv(&out, decisions->plan, set, err);
    if (status == OUTLAY_OK)
        status = output_text(output, &out, err);
    text_release(&out);
    return status;
}

const struct portfolio *decisions_portfolio(const struct decisions *decisions)
{
    return decisions->portfolio;
}

const struct ranking *decisions_ranking(const struct decisions *decisions)
{
    return decisions && decisions->ranked ? &decisions->ranking : NULL;
}

const struct plan *decisions_plan(const struct decisions *decisions)
{
    return decisions ? decisions->plan : NULL;
}
