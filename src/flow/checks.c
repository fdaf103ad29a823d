#include "flow/checks.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "geo/overlap.h"
#include "options/selection.h"

/* Pairs of boxes that are looked at closely, at most; some ten seconds. */
#define PAIRS_MAX 500000

/* A shared area that is reported, m2 and share of the smaller roof (ours). */
#define SHARED_AREA 1.0
#define SHARED_PART 0.01

#define M_PER_DEGREE 111320.0
#define RADIANS (3.14159265358979323846 / 180)

/* Two roofs of a pair, brought back from the spool. */
struct closer_look {
    const struct layer_checks *checks;
    struct geo_ctx *ctx;     /* owned */
    struct arena *arenas[3]; /* owned: roof a, roof b, the rest */
    struct roof a, b;
    uint32_t position_a; /* of the roof in a, or INDEX_NONE */
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

/* Roughly, m2: good enough for a share of it. */
static double rough_area(const struct region *lonlat)
{
    double area = 0;
    double latitude = 0;
    for (size_t i = 0; i < lonlat->polygon_count; i++) {
        const struct polygon *polygon = &lonlat->polygons[i];
        for (size_t j = 0; j < polygon->ring_count; j++) {
            double part = fabs(ring_area(polygon->rings[j]));
            area += j == 0 ? part : -part;
        }
        latitude = polygon->rings[0].points[0].y;
    }
    return fmax(area, 0) * M_PER_DEGREE * M_PER_DEGREE * cos(latitude * RADIANS);
}

static enum outlay_status report_overlap(struct closer_look *look, double shared,
                                         double smaller, struct grid *rows,
                                         struct outlay_error *err)
{
    const struct unit *unit = &settings_units(look->checks->settings)->area;
    struct text what = TEXT_INIT;
    text_printf(&what, "shares ");
    text_number(&what, shared / unit->factor, 1);
    text_printf(&what, " %s with roof %.80s", unit->suffix, look->b.id);
    if (smaller > 0) {
        text_puts(&what, ", ");
        text_number(&what, fmin(100 * shared / smaller, 100), 0);
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

static enum outlay_status look_at_pair(struct closer_look *look, struct roof_pair pair,
                                       struct grid *rows, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    double shared;
    if (look->position_a != pair.a)
        status = recall(look->checks, pair.a, look->arenas[0], &look->a, err);
    look->position_a = pair.a;
    if (status == OUTLAY_OK)
        status = recall(look->checks, pair.b, look->arenas[1], &look->b, err);
    if (status != OUTLAY_OK)
        return status;
    arena_reset(look->arenas[2]);
    status = overlap_area(look->ctx, look->arenas[2], &look->a.lonlat, &look->b.lonlat,
                          &shared, err);
    if (status == OUTLAY_E_GEOMETRY) {
        char what[160];
        snprintf(what, sizeof what, "may overlap roof %.100s", look->b.id);
        return report(look->checks, look->arenas[0], &look->a, PROBLEM_OVERLAP_UNCHECKED,
                      "kept; the shared area could not be measured", what, rows, err);
    }
    if (status != OUTLAY_OK)
        return status;
    double smaller = fmin(rough_area(&look->a.lonlat), rough_area(&look->b.lonlat));
    if (shared > SHARED_AREA || (shared > 0 && shared > SHARED_PART * smaller))
        return report_overlap(look, shared, smaller, rows, err);
    return OUTLAY_OK;
}

static enum outlay_status report_overlaps(const struct layer_checks *checks,
                                          struct closer_look *look, struct grid *rows,
                                          struct outlay_error *err)
{
    struct roof_pair *pairs;
    size_t count;
    bool complete;
    enum outlay_status status =
        index_box_pairs(checks->index, PAIRS_MAX, &pairs, &count, &complete, err);
    for (size_t i = 0; status == OUTLAY_OK && i < count; i++) {
        status = look_at_pair(look, pairs[i], rows, err);
        if (status == OUTLAY_OK && i % 1000 == 999)
            status = message_progress(checks->messages, 1, checks->index->count, err);
    }
    free(pairs);
    if (status == OUTLAY_OK && !complete)
        message_send(checks->messages, OUTLAY_MESSAGE_WARNING,
                     "too many roofs lie close together to look for all overlaps",
                     checks->settings->read.input,
                     "check a part of the layer by --bbox or --where");
    return status;
}

static enum outlay_status open_look(struct closer_look *look, struct outlay_error *err)
{
    for (size_t i = 0; i < 3; i++) {
        look->arenas[i] = arena_new();
        if (!look->arenas[i])
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    return geo_ctx_new(&look->ctx, err);
}

enum outlay_status layer_checks_run(const struct layer_checks *checks, struct grid *rows,
                                    struct outlay_error *err)
{
    struct closer_look look = {.checks = checks, .position_a = INDEX_NONE};
    enum outlay_status status = open_look(&look, err);
    if (status == OUTLAY_OK)
        status = report_duplicates(checks, &look, rows, err);
    if (status == OUTLAY_OK)
        status = report_overlaps(checks, &look, rows, err);
    bool lost = grid_failed(rows);
    for (size_t i = 0; i < 3; i++)
        lost = lost || !look.arenas[i] || arena_failed(look.arenas[i]);
    if (status == OUTLAY_OK && lost)
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    geo_ctx_free(look.ctx);
    for (size_t i = 0; i < 3; i++)
        arena_free(look.arenas[i]);
    return status;
}
