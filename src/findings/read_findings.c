/* From rows of a form to findings: what is wrong with a row is said with its column. */

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/ascii.h"
#include "base/measure.h"
#include "base/text.h"
#include "findings/day.h"
#include "findings/findings.h"
#include "findings/form.h"
#include "findings/kinds.h"
#include "read/roles.h"
#include "read/value.h"

enum form_cell {
    CELL_ROOF,
    CELL_PLACE,
    CELL_KIND,
    CELL_VALUE,
    CELL_UNIT,
    CELL_WHO,
    CELL_WHEN,
    CELLS
};

static const char *const cell_names[CELLS] = {"roof_id", "place", "kind", "value",
                                              "unit",    "who",   "when"};

struct loader {
    struct findings *findings;
    struct form form;
    size_t columns[CELLS];
    size_t row;              /* at hand */
    struct finding *finding; /* at hand */
    struct problem **doubts_end;
    bool failed; /* out of memory */
};

static const char *cell(const struct loader *loader, enum form_cell which)
{
    return form_cell(&loader->form, loader->row, loader->columns[which]);
}

/* Whether the row is of a roof, by its id or by its point. */
static bool has_roof(const struct finding *finding)
{
    return *finding->roof || isfinite(finding->at.x);
}

/* Always false, for a caller that returns it. */
static bool doubt(struct loader *loader, enum form_cell column, const char *format, ...)
    OUTLAY_PRINTF(3, 4);

static bool doubt(struct loader *loader, enum form_cell column, const char *format, ...)
{
    struct arena *arena = loader->findings->arena;
    struct problem *made = arena_alloc(arena, sizeof *made);
    struct text what = TEXT_INIT;
    va_list args;

    text_printf(&what, "%s, column %s: ", loader->finding->where, cell_names[column]);
    va_start(args, format);
    text_vprintf(&what, format, args);
    va_end(args);
    if (made && !what.failed) {
        made->code = PROBLEM_FINDING_UNUSABLE;
        made->what = arena_text(arena, what.data, what.length);
        made->done = loader->finding->kind == FINDING_PULLOUT && has_roof(loader->finding)
                         ? "the pull-out of that deck is unknown until the row is right"
                         : "not used: mend the row and run again";
        *loader->doubts_end = made;
        loader->doubts_end = &made->next;
    }
    loader->failed = loader->failed || !made || what.failed || !made->what;
    text_release(&what);
    return false;
}

/* ---- Cells ---------------------------------------------------------------------- */

/* A row whose kind is misspelt is a pull-out test all the same where its place is one. */
static enum finding_kind kind_of_place(const struct loader *loader)
{
    const char *place = loader->finding->place;
    bool test =
        place[0] == finding_letter(FINDING_PULLOUT) && place[1] >= '1' && place[1] <= '9';

    return test ? FINDING_PULLOUT : FINDING_KINDS;
}

static bool read_kind(struct loader *loader)
{
    const char *text = cell(loader, CELL_KIND);
    int kind = *text ? name_find(text, finding_kind_name) : -1;

    loader->finding->kind = kind < 0 ? kind_of_place(loader) : (enum finding_kind)kind;
    return kind >= 0 ||
           doubt(loader, CELL_KIND, "\"%.40s\" isn't a kind of finding", text);
}

/* P12 of the survey, or +anything and nothing for a place of one's own. */
static bool read_place(struct loader *loader)
{
    const char *place = loader->finding->place;
    char letter = finding_letter(loader->finding->kind);
    size_t number = *place ? strspn(place + 1, "0123456789") : 0;

    if (*place == '\0' || *place == '+')
        return true;
    if (place[0] == letter && number > 0 && place[1] != '0' && !place[1 + number])
        return true;
    return doubt(
        loader, CELL_PLACE,
        "\"%.20s\" isn't a place for %s: those are %c1, %c2, ...; leave it empty "
        "for a place of your own, or put a + before it",
        place, finding_kind_name((int)loader->finding->kind), letter, letter);
}

static bool says_unit(const char *text)
{
    char unit[MEASURE_UNIT_MAX] = "";
    double number;

    return measure_parse(text, &number, unit) != MEASURE_WRONG && unit[0];
}

static bool read_unit(struct loader *loader, enum field_role role, struct field *field)
{
    const char *unit = cell(loader, CELL_UNIT);

    if (!*role_units(role) || !*unit)
        return !role_needs_unit(role) || says_unit(cell(loader, CELL_VALUE)) ||
               doubt(loader, CELL_UNIT, "the unit of \"%.40s\" is missing: %s",
                     cell(loader, CELL_VALUE), role_units(role));
    return role_unit(role, unit, field) ||
           doubt(loader, CELL_UNIT, "\"%.20s\" is no unit of %s: %s", unit,
                 field_role_name(role), role_units(role));
}

/* "380/420" is two loads, and 4 1/2 one length: rulers have halves to sixty-fourths. */
static bool says_two(const char *text)
{
    static const char *const parts[] = {"2", "4", "8", "16", "32", "64"};
    const char *slash = strchr(text, '/');
    size_t length = slash ? strspn(slash + 1, "0123456789") : 0;

    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        if (strlen(parts[i]) == length && strncmp(slash + 1, parts[i], length) == 0)
            return false;
    return length > 0;
}

/* By the rules for columns of outlines, on a roof that only holds the value. */
static bool read_number(struct loader *loader, enum field_role role)
{
    struct roof held = {.given = attributes_missing()};
    struct field field = {.column = 0, .unit = "", .factor = 1};
    struct value value = {.kind = VALUE_TEXT, .text = cell(loader, CELL_VALUE)};

    if (says_two(value.text))
        return doubt(loader, CELL_VALUE, "\"%.40s\" looks like two values: a row each",
                     value.text);
    if (!read_unit(loader, role, &field))
        return false;
    if (!value_store(loader->findings->arena, &held, role, &field, "value", &value) ||
        held.problems)
        return doubt(loader, CELL_VALUE, "%s",
                     held.problems ? held.problems->what : "it can't be read");
    loader->finding->value = value_plain(&held, role);
    return true;
}

static bool read_yes_no(struct loader *loader)
{
    static const char *const words[] = {"no",  "n", "dry", "0", "false",
                                        "yes", "y", "wet", "1", "true"};
    const char *text = cell(loader, CELL_VALUE);

    for (int i = 0; i < 10; i++)
        if (ascii_same(text, words[i])) {
            loader->finding->value = i < 5 ? 0 : 1;
            return true;
        }
    return doubt(loader, CELL_VALUE, "\"%.40s\" is neither yes nor no", text);
}

static bool read_value(struct loader *loader)
{
    enum finding_kind kind = loader->finding->kind;
    int role = finding_role(kind);

    if (role >= 0)
        return read_number(loader, (enum field_role)role);
    return finding_merge(kind) == MERGE_SHARE ? read_yes_no(loader) : true;
}

static bool read_witness(struct loader *loader)
{
    struct arena *arena = loader->findings->arena;
    const char *when = cell(loader, CELL_WHEN);
    char day[DAY_LENGTH];

    if (!*loader->finding->who)
        return doubt(loader, CELL_WHO, "empty: a finding needs the name of who found it");
    if (!*when)
        return doubt(loader, CELL_WHEN, "empty: a finding needs its day: 2026-11-20");
    if (!day_parse(when, day))
        return doubt(loader, CELL_WHEN,
                     "\"%.30s\" isn't a day from 2000 to 2100, written 2026-11-20", when);
    loader->finding->when = arena_text(arena, day, strlen(day));
    loader->failed = loader->failed || !loader->finding->when;
    return true;
}

static bool read_roof(struct loader *loader)
{
    return has_roof(loader->finding) ||
           doubt(loader, CELL_ROOF, "empty, and the %s has no point",
                 loader->form.row_word);
}

/* ---- Rows ------------------------------------------------------------------------ */

/* "412" and "lbf" as "412 lbf", for people. */
static const char *shown_value(struct loader *loader)
{
    struct arena *arena = loader->findings->arena;
    const char *value = cell(loader, CELL_VALUE);
    const char *unit = cell(loader, CELL_UNIT);
    struct text shown = TEXT_INIT;
    const char *kept = NULL;
    int role = finding_role(loader->finding->kind);

    text_line(&shown, value, 60);
    if (*unit && role >= 0 && *role_units((enum field_role)role) && !says_unit(value))
        text_printf(&shown, " %s", unit);
    if (!shown.failed)
        kept = arena_text(arena, shown.data, shown.length);
    text_release(&shown);
    loader->failed = loader->failed || !kept;
    return kept;
}

/* A test that can't be read stays, without a value, where its roof is known. */
static bool keep(struct loader *loader, bool usable)
{
    struct finding *finding = loader->finding;

    if (!usable)
        finding->value = NAN;
    return usable || (finding->kind == FINDING_PULLOUT && has_roof(finding));
}

static void read_row(struct loader *loader, size_t row)
{
    struct findings *findings = loader->findings;
    struct finding *finding = &findings->items[findings->item_count];
    bool usable;

    loader->row = row;
    loader->finding = finding;
    if (!*cell(loader, CELL_VALUE))
        return;
    *finding = (struct finding){.roof = cell(loader, CELL_ROOF),
                                .at = loader->form.points ? loader->form.points[row]
                                                          : (struct point){NAN, NAN},
                                .place = cell(loader, CELL_PLACE),
                                .who = cell(loader, CELL_WHO),
                                .when = "",
                                .value = NAN,
                                .where = form_where(findings->arena, &loader->form, row)};
    loader->failed = loader->failed || !finding->where;
    usable = !loader->failed && read_kind(loader);
    if (usable)
        finding->text = shown_value(loader);
    usable = usable && read_roof(loader) && read_place(loader) && read_value(loader) &&
             read_witness(loader);
    if (keep(loader, usable))
        findings->item_count++;
}

static int by_roof(const void *of_a, const void *of_b)
{
    const struct finding *a = *(const struct finding *const *)of_a;
    const struct finding *b = *(const struct finding *const *)of_b;
    int order = strcmp(a->roof, b->roof);

    return order ? order : (a > b) - (a < b);
}

/* Of pictures and notes there may be several. */
static bool same_place(const struct finding *a, const struct finding *b)
{
    bool notes = finding_merge(a->kind) == MERGE_ALL && a->kind != FINDING_PULLOUT;

    return a->kind == b->kind && !notes && *a->place && strcmp(a->place, b->place) == 0;
}

/* Two rows of one place: one finding where they say the same, else none. */
static void settle_pair(struct loader *loader, struct finding *first,
                        struct finding *second)
{
    if (first->value == second->value) { /* the same row twice */
        second->kind = FINDING_KINDS;
        return;
    }
    loader->finding = second;
    doubt(loader, CELL_VALUE, "%s at %s, but %s says %s: one place has one value",
          second->text, second->place, first->where, first->text);
    if (first->kind == FINDING_PULLOUT)
        first->value = NAN;
    else
        first->kind = FINDING_KINDS;
    second->kind = FINDING_KINDS;
}

static void settle_places(struct loader *loader)
{
    const struct findings *findings = loader->findings;

    for (size_t i = 0; i < findings->count; i++) {
        struct finding *a = (struct finding *)findings->by_roof[i];

        for (size_t k = i + 1; k < findings->count; k++) {
            struct finding *b = (struct finding *)findings->by_roof[k];

            if (strcmp(a->roof, b->roof) != 0 || !*a->roof)
                break;
            if (a->kind != FINDING_KINDS && same_place(a, b))
                settle_pair(loader, a, b);
        }
    }
}

/* Leaves out what was settled away. */
static void drop_dead(struct findings *findings)
{
    size_t kept = 0;

    for (size_t i = 0; i < findings->count; i++)
        if (findings->by_roof[i]->kind != FINDING_KINDS)
            findings->by_roof[kept++] = findings->by_roof[i];
    findings->count = kept;
}

static enum outlay_status find_columns(struct loader *loader, struct outlay_error *err)
{
    for (int i = 0; i < CELLS; i++) {
        loader->columns[i] =
            form_column(&loader->form, cell_names[i], i == CELL_ROOF ? "roof" : NULL);
        if (loader->columns[i] < loader->form.table.columns)
            continue;
        outlay_fail(err, OUTLAY_E_USAGE, "it has no column \"%s\"", cell_names[i]);
        outlay_fail_where(err, "%s", loader->form.table.name);
        outlay_fail_todo(err, "start from what `outlay survey` writes");
        return OUTLAY_E_USAGE;
    }
    return OUTLAY_OK;
}

static enum outlay_status read_rows(struct loader *loader, struct outlay_error *err)
{
    struct findings *findings = loader->findings;
    size_t rows = loader->form.table.row_count;

    findings->name = loader->form.table.name;
    findings->items = arena_array(findings->arena, rows, sizeof *findings->items);
    findings->by_roof = arena_array(findings->arena, rows, sizeof *findings->by_roof);
    if (!findings->items || !findings->by_roof)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading findings");
    for (size_t i = loader->form.header + 1; i < rows && !loader->failed; i++)
        read_row(loader, i);
    findings->count = loader->failed ? 0 : findings->item_count;
    for (size_t i = 0; i < findings->count; i++)
        findings->by_roof[i] = &findings->items[i];
    qsort(findings->by_roof, findings->count, sizeof *findings->by_roof, by_roof);
    settle_places(loader);
    drop_dead(findings);
    return loader->failed ? outlay_fail(err, OUTLAY_E_MEMORY, "reading findings")
                          : OUTLAY_OK;
}

enum outlay_status findings_open(const char *path, struct findings **out,
                                 struct outlay_error *err)
{
    struct arena *arena = arena_new();
    struct findings *findings = arena ? arena_alloc(arena, sizeof *findings) : NULL;
    struct loader loader = {.findings = findings};
    enum outlay_status status = OUTLAY_OK;

    *out = findings;
    if (!findings) {
        arena_free(arena);
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading findings");
    }
    findings->arena = arena;
    loader.doubts_end = &findings->doubts;
    status = form_read(arena, path, "kind", &loader.form, err);
    if (status == OUTLAY_OK)
        status = find_columns(&loader, err);
    return status == OUTLAY_OK ? read_rows(&loader, err) : status;
}

void findings_close(struct findings *findings)
{
    if (findings)
        arena_free(findings->arena);
}
