#include "flow/tally.h"

#include <stdlib.h>
#include <string.h>

#include "write/tables.h"

struct kind {
    enum problem_code code;
    const char *field; /* NULL: of no role */
    const char *what;  /* of the first roof, as the next two */
    const char *done;
    const char *roof;
    size_t roofs, zoned; /* that have it */
    size_t last;         /* position of the last roof that has it */
    bool alike;          /* in the same words */
    struct kind *next;
};

struct tally {
    struct arena *arena; /* owned; kinds and their texts */
    struct kind *kinds;
    size_t roofs, zoned;
};

struct tally *tally_new(void)
{
    struct tally *tally = calloc(1, sizeof *tally);
    if (!tally)
        return NULL;
    tally->arena = arena_new();
    if (tally->arena)
        return tally;
    free(tally);
    return NULL;
}

void tally_free(struct tally *tally)
{
    if (!tally)
        return;
    arena_free(tally->arena);
    free(tally);
}

/* The kind of a problem, or where a new one belongs: by code, then as they came. */
static struct kind **find(struct tally *tally, const struct problem *problem, bool *found)
{
    struct kind **at = &tally->kinds;
    *found = false;
    for (; *at && (*at)->code <= problem->code; at = &(*at)->next)
        if ((*at)->code == problem->code && (*at)->field == problem->field) {
            *found = true;
            break;
        }
    return at;
}

static struct kind *new_kind(struct tally *tally, const struct roof *roof,
                             const struct problem *problem)
{
    struct kind *kind = arena_alloc(tally->arena, sizeof *kind);
    if (!kind)
        return NULL;
    *kind = (struct kind){
        .code = problem->code,
        .field = problem->field,
        .what = arena_text(tally->arena, problem->what, strlen(problem->what)),
        .done = problem->done,
        .roof = arena_text(tally->arena, roof->id, strlen(roof->id)),
        .alike = true};
    return kind->what && kind->roof ? kind : NULL;
}

enum outlay_status tally_problem(struct tally *tally, const struct roof *roof,
                                 const struct problem *problem, struct outlay_error *err)
{
    bool found;
    struct kind **at = find(tally, problem, &found);
    struct kind *kind = found ? *at : new_kind(tally, roof, problem);
    if (!kind)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (!found) {
        kind->next = *at;
        *at = kind;
    }
    kind->alike = kind->alike && strcmp(kind->what, problem->what) == 0 &&
                  strcmp(kind->done, problem->done) == 0;
    if (kind->roofs > 0 && kind->last == roof->position)
        return OUTLAY_OK;
    kind->last = roof->position;
    kind->roofs++;
    kind->zoned += roof->zoned;
    return OUTLAY_OK;
}

enum outlay_status tally_roof(struct tally *tally, const struct roof *roof,
                              struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    tally->roofs++;
    tally->zoned += roof->zoned;
    for (const struct problem *p = roof->problems; p && status == OUTLAY_OK; p = p->next)
        status = tally_problem(tally, roof, p, err);
    return status;
}

/* ---- What all share -------------------------------------------------------------- */

/* "41 roofs", or "40 zoned roofs" where those left out don't come so far; NULL when a
 * roof differs. */
static const char *all_of(const struct tally *tally, const struct kind *kind, char *out,
                          size_t size)
{
    bool all = kind->roofs == tally->roofs;
    bool zoned = kind->roofs == kind->zoned && kind->zoned == tally->zoned;
    if (kind->roofs < 2 || !kind->alike || !(all || zoned))
        return NULL;
    snprintf(out, size, "%zu %sroofs", kind->roofs, all ? "" : "zoned ");
    return out;
}

static void add_row(struct grid *grid, enum problem_code code, const char *what,
                    const char *done)
{
    struct problem problem = {.code = code, .what = what, .done = done};
    struct roof nobody = {.id = "", .problems = &problem};
    problems_of_roof(grid, &nobody);
}

static enum outlay_status share(const struct kind *kind, const char *all,
                                const struct sink *sink, const struct write_settings *set,
                                struct grid *rows, struct outlay_error *err)
{
    struct text what = TEXT_INIT;
    struct grid *single = grid_new(&problems_sheet, set);
    enum outlay_status status = OUTLAY_OK;
    text_printf(&what, "each of the %s: %s", all, kind->what);
    if (!single || what.failed) {
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    } else {
        add_row(single, kind->code, kind->what, kind->done);
        add_row(rows, kind->code, what.data, kind->done);
        status = sink->withdraw(sink->self, single, err);
    }
    text_release(&what);
    grid_free(single);
    return status;
}

enum outlay_status tally_share(const struct tally *tally, const struct sink *sink,
                               const struct write_settings *set, struct grid *rows,
                               struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    char words[48];
    for (const struct kind *kind = tally->kinds; kind && status == OUTLAY_OK;
         kind = kind->next) {
        const char *all = all_of(tally, kind, words, sizeof words);
        if (all)
            status = share(kind, all, sink, set, rows, err);
    }
    return status;
}

/* ---- Messages -------------------------------------------------------------------- */

static void send_kind(const struct tally *tally, const struct kind *kind,
                      const char *source, enum outlay_message_kind message,
                      const struct messages *messages)
{
    char words[48];
    struct text what = TEXT_INIT;
    struct text where = TEXT_INIT;
    const char *all = all_of(tally, kind, words, sizeof words);
    text_printf(&what, "%s: %s", problem_code_name(kind->code), kind->what);
    if (all)
        text_printf(&where, "%s, all %s", source, all);
    else if (*kind->roof)
        text_printf(&where, "%s, roof %s", source, kind->roof);
    else if (kind->roofs > 1)
        text_printf(&where, "the first of %zu of its kind; the list of problems has all",
                    kind->roofs);
    else
        text_puts(&where, "a file beside the outlines");
    if (!all && *kind->roof && kind->roofs > 1)
        text_printf(&where, " and %zu more%s", kind->roofs - 1,
                    kind->alike ? "" : " like it");
    if (!what.failed && !where.failed)
        message_send(messages, message, what.data, where.data, kind->done);
    text_release(&what);
    text_release(&where);
}

static void send_notes(const struct tally *tally, const char *source,
                       const struct messages *messages)
{
    struct text what = TEXT_INIT;
    for (const struct kind *kind = tally->kinds; kind; kind = kind->next)
        if (problem_severity(kind->code) == SEVERITY_NOTE)
            text_printf(&what, "%s%s (%zu)", what.length ? ", " : "notes on roofs: ",
                        problem_code_name(kind->code), kind->roofs);
    if (what.data && !what.failed)
        message_send(messages, OUTLAY_MESSAGE_NOTE, what.data, source, "");
    text_release(&what);
}

void tally_send(const struct tally *tally, const char *source,
                const struct messages *messages)
{
    static const struct {
        enum severity severity;
        enum outlay_message_kind message;
    } passes[] = {{SEVERITY_ERROR, OUTLAY_MESSAGE_ERROR},
                  {SEVERITY_WARNING, OUTLAY_MESSAGE_WARNING}};
    for (size_t i = 0; i < sizeof passes / sizeof passes[0]; i++)
        for (const struct kind *kind = tally->kinds; kind; kind = kind->next)
            if (problem_severity(kind->code) == passes[i].severity)
                send_kind(tally, kind, source, passes[i].message, messages);
    send_notes(tally, source, messages);
}
