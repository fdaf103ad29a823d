#include "flow/checks.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "flow/duplicates.h"
#include "flow/shares.h"
#include "options/selection.h"

/* Pairs of boxes that are looked at closely, at most. */
#define PAIRS_MAX 500000

/* A shared area that is reported, m2 and share of the smaller roof (ours). */
#define SHARED_AREA 1.0
#define SHARED_PART 0.01

/* Two roofs of a pair, brought back from the spool. */
struct closer_look {
    const struct layer_checks *checks;
    struct arena *arenas[2]; /* owned: roof a, roof b */
    struct roof a, b;
    uint32_t position_a; /* of the roof in a, or INDEX_NONE */
    struct duplicate_finder finder;
};

static enum outlay_status recall(const struct layer_checks *checks, uint32_t position,
                                 struct arena *arena, struct roof *roof,
                                 struct outlay_error *err)
{
    arena_reset(arena);
    memset(roof, 0, sizeof *roof);
    return spool_read(checks->spool, checks->index->entries[position].offset, arena, roof,
                      err);
}

/* Adds the row of the one problem that a recalled roof got here. */
static enum outlay_status report(const struct layer_checks *checks, struct arena *arena,
                                 struct roof *roof, enum problem_code code,
                                 const char *done, const char *what, struct grid *rows,
                                 struct outlay_error *err)
{
    if (!selection_has(checks->settings, roof))
        return OUTLAY_OK;
    roof->problems = NULL;
    roof->problems_end = NULL;
    const struct problem *problem = roof_problem(arena, roof, code, done, "%s", what);
    if (!problem)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    problems_of_roof(rows, roof);
    checks->totals->problems[problem_severity(code)]++;
    checks->totals->problem_codes[code]++;
    return tally_problem(checks->tally, roof, problem, err);
}

static enum outlay_status report_duplicates(const struct layer_checks *checks,
                                            struct closer_look *look, struct grid *rows,
                                            struct outlay_error *err)
{
    struct duplicate *duplicates;
    size_t count;
    enum outlay_status status = index_duplicates(checks->index, &duplicates, &count, err);
    for (size_t i = 0; status == OUTLAY_OK && i < count; i++) {
        char what[120];
        status = recall(checks, duplicates[i].position, look->arenas[0], &look->a, err);
        if (status != OUTLAY_OK)
            break;
        snprintf(what, sizeof what, "feature %lu is one of %lu with this id",
                 duplicates[i].position + 1ul, duplicates[i].uses + 0ul);
        status = report(checks, look->arenas[0], &look->a, PROBLEM_DUPLICATE_ID,
                        "kept; results can't be told apart by id", what, rows, err);
    }
    free(duplicates);
    return status;
}

static enum outlay_status report_overlap(struct closer_look *look,
                                         const struct pair_share *share,
                                         struct grid *rows, struct outlay_error *err)
{
    const struct unit *unit = &settings_units(look->checks->settings)->area;
    struct text what = TEXT_INIT;
    text_printf(&what, "shares ");
    text_number(&what, share->shared / unit->factor, 1);
    text_printf(&what, " %s with roof %.80s", unit->suffix, look->b.id);
    if (share->smaller > 0) {
        text_puts(&what, ", ");
        text_number(&what, fmin(100 * share->shared / share->smaller, 100), 0);
        text_puts(&what, " % of the smaller");
    }
    enum outlay_status status =
        what.failed
            ? outlay_fail(err, OUTLAY_E_MEMORY, "out of memory")
            : report(look->checks, look->arenas[0], &look->a, PROBLEM_OVERLAP,
                     "both kept; the shared area counts twice", what.data, rows, err);
    text_release(&what);
    return status;
}

/* Roofs that may both rank may be the same one twice. */
static enum outlay_status compare_ranked(struct closer_look *look, struct roof_pair pair,
                                         double shared, struct outlay_error *err)
{
    const struct index_entry *entries = look->checks->index->entries;
    const struct overlapping a = {pair.a, look->a.id, (double)entries[pair.a].area};
    const struct overlapping b = {pair.b, look->b.id, (double)entries[pair.b].area};
    if (isnan(a.area) || isnan(b.area))
        return OUTLAY_OK;
    return duplicates_add(&look->finder, &a, &b, shared, err);
}

static enum outlay_status report_pair(struct closer_look *look, struct roof_pair pair,
                                      const struct pair_share *share, struct grid *rows,
                                      struct outlay_error *err)
{
    const struct layer_checks *checks = look->checks;
    enum outlay_status status = OUTLAY_OK;
    char what[160];
    if (!isnan(share->shared) && share->shared <= SHARED_AREA &&
        share->shared <= SHARED_PART * share->smaller)
        return OUTLAY_OK;
    if (look->position_a != pair.a)
        status = recall(checks, pair.a, look->arenas[0], &look->a, err);
    look->position_a = pair.a;
    if (status == OUTLAY_OK)
        status = recall(checks, pair.b, look->arenas[1], &look->b, err);
    if (status != OUTLAY_OK)
        return status;
    if (isnan(share->shared)) {
        snprintf(what, sizeof what, "may overlap roof %.100s", look->b.id);
        return report(checks, look->arenas[0], &look->a, PROBLEM_OVERLAP_UNCHECKED,
                      "kept; the shared area could not be measured", what, rows, err);
    }
    status = report_overlap(look, share, rows, err);
    return status == OUTLAY_OK ? compare_ranked(look, pair, share->shared, err) : status;
}

static void tell_incomplete(const struct layer_checks *checks)
{
    message_send(checks->messages, OUTLAY_MESSAGE_WARNING,
                 "too many roofs lie close together to look for all overlaps",
                 checks->settings->read.input,
                 "check a part of the layer by --bbox or --where");
}

static enum outlay_status report_overlaps(const struct layer_checks *checks,
                                          struct closer_look *look, struct grid *rows,
                                          struct outlay_error *err)
{
    struct roof_pair *pairs;
    struct pair_share *shares = NULL;
    size_t count;
    bool complete;
    enum outlay_status status =
        index_box_pairs(checks->index, PAIRS_MAX, &pairs, &count, &complete, err);
    if (status == OUTLAY_OK)
        status = pairs_measure(checks, pairs, count, &shares, &complete, err);
    for (size_t i = 0; status == OUTLAY_OK && i < count; i++)
        status = report_pair(look, pairs[i], &shares[i], rows, err);
    free(shares);
    free(pairs);
    if (status == OUTLAY_OK && !complete)
        tell_incomplete(checks);
    return status;
}

static enum outlay_status open_look(struct closer_look *look, struct arena *arena,
                                    struct outlay_error *err)
{
    look->finder.arena = arena;
    for (size_t i = 0; i < 2; i++) {
        look->arenas[i] = arena_new();
        if (!look->arenas[i])
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    return OUTLAY_OK;
}

enum outlay_status layer_checks_run(const struct layer_checks *checks, struct grid *rows,
                                    struct arena *arena, struct duplicate_list *out,
                                    struct outlay_error *err)
{
    struct closer_look look = {.checks = checks, .position_a = INDEX_NONE};
    enum outlay_status status = open_look(&look, arena, err);
    if (status == OUTLAY_OK)
        status = report_duplicates(checks, &look, rows, err);
    if (status == OUTLAY_OK)
        status = report_overlaps(checks, &look, rows, err);
    bool lost = grid_failed(rows);
    for (size_t i = 0; i < 2; i++)
        lost = lost || !look.arenas[i] || arena_failed(look.arenas[i]);
    if (status == OUTLAY_OK && lost)
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t i = 0; i < 2; i++)
        arena_free(look.arenas[i]);
    return status == OUTLAY_OK
               ? duplicates_decide(&look.finder, checks->index->count, out, err)
               : status;
}
