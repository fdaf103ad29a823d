#include "write/table.h"

#include <string.h>

#include "base/plural.h"
#include "write/columns.h"

enum { WIDTH = 100, LABEL = 13 };

/* Starts a line of the form `label        rest`. */
static void put_label(struct text *out, const char *label)
{
    text_printf(out, "%-*s", LABEL, label);
}

/* Appends words with line breaks so that no line is longer than WIDTH; the first one
 * begins at column `at`, later ones at column `indent`. Ends the last line. */
static void put_wrapped(struct text *out, const char *words, size_t at, size_t indent)
{
    bool first = true;

    while (*words) {
        size_t length = strcspn(words, " ");

        if (!first && at + 1 + length > WIDTH) {
            text_printf(out, "\n%*s", (int)indent, "");
            at = indent;
        } else if (!first) {
            text_putc(out, ' ');
            at++;
        }
        text_append(out, words, length);
        at += length;
        words += length;
        words += strspn(words, " ");
        first = false;
    }
    text_putc(out, '\n');
}

/* A labelled line, wrapped; frees the words. */
static void put_line(struct text *out, const char *label, struct text *words)
{
    put_label(out, label);
    if (words->failed)
        out->failed = true;
    else
        put_wrapped(out, words->data ? words->data : "", LABEL, LABEL);
    text_release(words);
}

static void put_roofs(struct text *out, const struct totals *totals)
{
    static const enum zone_state weakest_first[] = {STATE_NOT_MET, STATE_UNKNOWN,
                                                    STATE_MET_ASSUMED, STATE_MET};
    struct text words = TEXT_INIT;

    text_printf(&words, "%zu on %zu building%s: %zu zoned, %zu left out", totals->roofs,
                totals->buildings, PLURAL(totals->buildings), totals->zoned,
                totals->roofs - totals->zoned);
    put_line(out, "roofs", &words);
    for (size_t i = 0; i < sizeof weakest_first / sizeof weakest_first[0]; i++)
        text_printf(&words, "%s%zu %s", i > 0 ? ", " : "",
                    totals->states[weakest_first[i]], zone_state_name(weakest_first[i]));
    put_line(out, "attachment", &words);
}

static void put_zones(struct text *out, const struct totals *totals,
                      const struct write_settings *set)
{
    double factor = measure_factor(MEASURE_AREA, set->units);
    double zoned = 0;

    for (int role = 0; role < ZONE_ROLES; role++)
        zoned += totals->zone_area[role];
    put_label(out, "area");
    text_printf(out, "%14.0f %s\n", totals->area / factor, set->units->area.suffix);
    for (int role = 0; role < ZONE_ROLES && zoned > 0; role++) {
        put_label(out, zone_role_name(role));
        text_printf(out, "%14.0f %s %6.1f %%\n", totals->zone_area[role] / factor,
                    set->units->area.suffix, 100 * totals->zone_area[role] / zoned);
    }
}

static void put_fasteners(struct text *out, const struct totals *totals)
{
    struct text words = TEXT_INIT;
    const char *comma = "";

    for (int method = METHOD_NOT_GIVEN + 1; method < METHOD_KINDS; method++) {
        if (totals->fasteners[method] <= 0)
            continue;
        text_printf(&words, "%s%.0f %s", comma,
                    fasteners_whole(totals->fasteners[method]), method_name(method));
        comma = ", ";
    }
    if (*comma)
        text_puts(&words, totals->laid_out > 0 ? " (from layouts)"
                                               : " (by area, not from a layout)");
    else
        text_puts(&words, "none counted");
    if (totals->uncounted > 0)
        text_printf(&words, "; %zu zoned roof%s without a count", totals->uncounted,
                    PLURAL(totals->uncounted));
    put_line(out, "fasteners", &words);
}

/* Appends those of one sort that some roof has, and of how many.
 * @return whether there is one */
static bool put_sort(struct text *words, const struct totals *totals,
                     enum assumption_sort sort, const char *heading)
{
    const char *before = heading;

    for (int i = 0; i < ASSUMPTIONS; i++) {
        if (totals->assumptions[i] == 0 || assumption_sort((enum assumption)i) != sort)
            continue;
        text_printf(words, "%s%s (%zu)", before, assumption_name(i),
                    totals->assumptions[i]);
        before = ", ";
    }
    return before != heading;
}

/* By what closes them, a line each. */
static void put_assumptions(struct text *out, const struct totals *totals)
{
    static const char *const headings[] = {
        "to find on site: ", "to decide: ", "without a source: "};
    const char *label = "assumed";

    for (int sort = SORT_SITE; sort <= SORT_SOURCE; sort++) {
        struct text words = TEXT_INIT;

        if (put_sort(&words, totals, (enum assumption_sort)sort, headings[sort])) {
            put_line(out, label, &words);
            label = "";
        }
        text_release(&words);
    }
}

/* `height 3, storeys 5`, of those that some roof has. */
static void put_names(struct text *out, const char *label, const size_t *counts,
                      int count, const char *(*name_of)(int))
{
    struct text words = TEXT_INIT;
    const char *comma = "";

    for (int i = 0; i < count; i++) {
        if (counts[i] == 0)
            continue;
        text_printf(&words, "%s%s (%zu)", comma, name_of(i), counts[i]);
        comma = ", ";
    }
    if (*comma)
        put_line(out, label, &words);
    text_release(&words);
}

static void put_problems(struct text *out, const struct totals *totals)
{
    struct text words = TEXT_INIT;
    const char *comma = "";

    for (int i = SEVERITY_ERROR; i >= SEVERITY_NOTE; i--) {
        if (totals->problems[i] == 0)
            continue;
        text_printf(&words, "%s%zu %s%s", comma, totals->problems[i],
                    severity_name((enum severity)i), PLURAL(totals->problems[i]));
        comma = ", ";
    }
    if (*comma)
        put_line(out, "problems", &words);
    text_release(&words);
}

void table_print(struct text *out, const struct totals *totals,
                 const struct write_settings *set)
{
    struct text caution = TEXT_INIT;

    put_roofs(out, totals);
    put_zones(out, totals, set);
    put_fasteners(out, totals);
    put_names(out, "estimated", totals->estimates, ESTIMATES, estimate_name);
    put_assumptions(out, totals);
    put_problems(out, totals);
    caution_print(&caution, set->catalog_built_in);
    if (caution.failed)
        out->failed = true;
    else
        put_wrapped(out, caution.data, 0, 0);
    text_release(&caution);
}
