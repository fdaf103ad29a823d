#include "flow/mark_use.h"

#include <math.h>
#include <stdlib.h>

#include "base/grow.h"
#include "base/units.h"
#include "roof/edges.h"
#include "roof/fixtures.h"

/* How much of a line may find no edge without a word, m (ours): past a corner it runs on
 * as far as it may lie beside the edges. */
static const double past_corner = 1;

/* Where edges have a line's kind, m from where it begins. */
struct mark_stretch {
    size_t mark;
    double from, to;
};

enum outlay_status mark_use_init(struct mark_use *use, const struct settings *settings,
                                 struct outlay_error *err)
{
    const struct marks *fixtures = settings->fixtures;
    const struct marks *edges = settings->edges;

    *use = (struct mark_use){
        .marks = {[MARKS_FIXTURES] = fixtures, [MARKS_EDGES] = edges},
        .roofs = calloc(fixtures ? fixtures->count + 1 : 1, sizeof *use->roofs),
        .lengths = calloc(edges ? edges->count + 1 : 1, sizeof *use->lengths)};
    return use->roofs && use->lengths
               ? OUTLAY_OK
               : outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}

void mark_use_release(struct mark_use *use)
{
    free(use->roofs);
    free(use->lengths);
    free(use->used);
}

/* Stretches that go on with the last one lengthen that. */
static bool add_stretch(struct mark_use *use, size_t mark, double from, double to)
{
    struct mark_stretch *last = use->used_count ? &use->used[use->used_count - 1] : NULL;
    struct mark_stretch *used = NULL;

    if (last && last->mark == mark && from <= last->to && to >= last->from) {
        last->from = fmin(last->from, from);
        last->to = fmax(last->to, to);
        return true;
    }
    used = grow(use->used, use->used_count, 1, &use->used_room, sizeof *used);
    if (!used)
        return false;
    use->used = used;
    used[use->used_count++] = (struct mark_stretch){mark, from, to};
    return true;
}

enum outlay_status mark_use_building(struct mark_use *use,
                                     const struct building *building,
                                     struct outlay_error *err)
{
    for (size_t k = 0; k < building->roof_count; k++)
        for (size_t i = 0; i < building->roofs[k].fixture_count; i++) {
            unsigned char *roofs = &use->roofs[building->roofs[k].fixtures[i].mark];

            *roofs = *roofs ? 2 : 1;
        }
    for (size_t i = 0; i < building->line_count; i++) {
        const struct edge_line *line = &building->lines[i];
        double end = line->start + point_distance(line->from, line->to);

        use->lengths[line->mark] = fmax(use->lengths[line->mark], end);
        for (const struct line_stretch *part = line->used; part; part = part->next)
            if (!add_stretch(use, line->mark, part->from, part->to))
                return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    return OUTLAY_OK;
}

/* Where the rows go. */
struct report {
    const struct mark_use *use;
    const struct unit_system *units;
    bool part; /* not all roofs were read */
    struct loose_problems *loose;
};

static enum outlay_status add(struct report *report, const struct mark_doubt *doubt)
{
    struct problem problem = {.code = doubt->code,
                              .what = doubt->what,
                              .done = doubt->done,
                              .field = doubt->field};

    return loose_problem(report->loose, &problem);
}

/* A row about a feature that found its way to no roof, or to too many. */
static enum outlay_status add_of(struct report *report, enum mark_layer layer,
                                 size_t index, enum problem_code code, const char *what,
                                 const char *done)
{
    const struct marks *marks = report->use->marks[layer];
    const struct mark *mark = &marks->items[index];
    struct text text = TEXT_INIT;
    struct mark_doubt doubt = {.code = code, .done = done};
    enum outlay_status status = OUTLAY_OK;

    text_printf(&text, "%s, %s, %s: ", marks->name, mark->id,
                layer == MARKS_FIXTURES ? fixture_kind_name(mark->kind)
                                        : edge_kind_name(mark->kind));
    units_choose(&text, what, report->units);
    doubt.what = text.data;
    status = text.failed
                 ? outlay_fail(report->loose->err, OUTLAY_E_MEMORY, "out of memory")
                 : add(report, &doubt);
    text_release(&text);
    return status;
}

static enum outlay_status report_fixture(struct report *report, size_t index)
{
    const struct mark *mark = &report->use->marks[MARKS_FIXTURES]->items[index];
    int roofs = report->use->roofs[index];

    if (roofs > 1)
        return add_of(report, MARKS_FIXTURES, index, PROBLEM_FEATURE_TWICE,
                      "roofs of several buildings have it",
                      "counted on each: move it, or give the roofs one building");
    if (roofs == 1 || report->part)
        return OUTLAY_OK;
    return add_of(report, MARKS_FIXTURES, index, PROBLEM_FEATURE_UNUSED,
                  mark->kind == FIXTURE_SCUPPER
                      ? "no outline is within 3.3 ft (1 m) of it"
                      : "no roof contains it",
                  "left out of all roofs");
}

static int by_mark(const void *a, const void *b)
{
    const struct mark_stretch *p = a;
    const struct mark_stretch *q = b;

    if (p->mark != q->mark)
        return p->mark < q->mark ? -1 : 1;
    return (p->from > q->from) - (p->from < q->from);
}

static double more_than(double least, double length)
{
    return length > least ? length : 0;
}

/* How much of a line found no edge, m.
 * @param next  its first stretch of those sorted, then that of the next line */
static double length_lost(const struct mark_use *use, size_t index, size_t *next)
{
    double lost = 0;
    double end = 0;

    for (; *next < use->used_count && use->used[*next].mark == index; ++*next) {
        const struct mark_stretch *used = &use->used[*next];

        /* between two corners it runs past both */
        lost += more_than(end > 0 ? 2 * past_corner : past_corner, used->from - end);
        end = fmax(end, used->to);
    }
    return lost + more_than(past_corner, use->lengths[index] - end);
}

/* Why a line gave its kind to no edge. */
#define NOT_FOUND                                                                      \
    " within 3.3 ft (1 m) of it and within 15 degrees of its direction, another line " \
    "is nearer to that, or its kind doesn't suit the step there"

static enum outlay_status report_line(struct report *report, size_t index, size_t *next)
{
    const struct mark_use *use = report->use;
    size_t first = *next;
    double length = use->lengths[index];
    double lost = length_lost(use, index, next);
    struct text what = TEXT_INIT;
    enum outlay_status status = OUTLAY_OK;

    if (*next == first)
        return add_of(report, MARKS_EDGES, index, PROBLEM_FEATURE_UNUSED,
                      "no outline runs" NOT_FOUND, "left out of all roofs");
    if (!(lost > 0))
        return OUTLAY_OK;
    text_printf(
        &what, "along %.0f ft (%.1f m) of its %.0f ft (%.1f m) no outline runs" NOT_FOUND,
        lost / M_PER_FT, lost, length / M_PER_FT, length);
    status = what.failed
                 ? outlay_fail(report->loose->err, OUTLAY_E_MEMORY, "out of memory")
                 : add_of(report, MARKS_EDGES, index, PROBLEM_FEATURE_UNUSED, what.data,
                          "the rest is used");
    text_release(&what);
    return status;
}

enum outlay_status mark_use_report(struct mark_use *use, const struct settings *settings,
                                   struct loose_problems *loose)
{
    bool part = settings->read.where || settings->read.has_bbox;
    struct report report = {use, settings->write.units, part, loose};
    enum outlay_status status = OUTLAY_OK;

    if (use->used_count > 0)
        qsort(use->used, use->used_count, sizeof *use->used, by_mark);
    for (int layer = 0; layer < MARK_LAYERS; layer++) {
        const struct marks *marks = use->marks[layer];
        size_t next = 0;

        for (const struct mark_doubt *doubt = marks ? marks->doubts : NULL;
             doubt && status == OUTLAY_OK; doubt = doubt->next)
            status = add(&report, doubt);
        for (size_t i = 0; marks && status == OUTLAY_OK && i < marks->count; i++)
            if (layer == MARKS_FIXTURES)
                status = report_fixture(&report, i);
            else if (!part)
                status = report_line(&report, i, &next);
    }
    return status;
}
