/* Text to settings, by the option table. */

#include "options/options.h"

#include <stdio.h>
#include <string.h>

#include "base/measure.h"
#include "base/nearest.h"
#include "base/number.h"

enum { WORD_MAX = 64 };

_Static_assert(sizeof(enum exposure) == sizeof(int), "choices are stored as int");

static void *place(const struct option *option, struct settings *settings)
{
    return (char *)settings + option->offset;
}

/* "VALUE isn't ...", and what would be: the same sentence for every kind. */
static enum outlay_status refuse(const struct option *option, const char *text,
                                 const char *why, const struct unit_system *units,
                                 struct outlay_error *err)
{
    struct text accepts = TEXT_INIT;
    option_accepts(option, units, &accepts);
    outlay_fail(err, OUTLAY_E_USAGE, "%s \"%.80s\" %s", option->name, text, why);
    if (accepts.data)
        outlay_fail_todo(err, "give %s", accepts.data);
    text_release(&accepts);
    return OUTLAY_E_USAGE;
}

/* The value of that name; -1 for none and for a blank text. */
static int name_index(const struct option *option, const char *text)
{
    int value = name_find(text, option->name_of);

    return value >= 0 && *option->name_of(value) ? value : -1;
}

static bool parse_flag(const char *text, bool *out)
{
    static const char *const words[2][4] = {{"no", "false", "off", "0"},
                                            {"yes", "true", "on", "1"}};
    for (size_t value = 0; value < 2; value++)
        for (size_t i = 0; i < 4; i++)
            if (name_same(text, words[value][i])) {
                *out = value == 1;
                return true;
            }
    return false;
}

static enum outlay_status parse_list(const struct option *option, const char *text,
                                     const struct unit_system *units, unsigned *out,
                                     struct outlay_error *err)
{
    unsigned bits = 0;
    unsigned all = 0;
    for (int i = 0; option->name_of(i); i++)
        all |= 1u << i;
    for (const char *from = text;; from++) {
        size_t length = strcspn(from, ",");
        char word[WORD_MAX];
        snprintf(word, sizeof word, "%.*s", (int)length, from);
        int index = name_index(option, word);
        if (name_same(word, "all"))
            bits |= all;
        else if (index >= 0)
            bits |= 1u << index;
        else
            return refuse(option, text, "has a part that isn't known", units, err);
        from += length;
        if (*from == '\0')
            break;
    }
    *out = bits;
    return OUTLAY_OK;
}

/* Splits "51 m/s" and turns it into SI. */
static enum outlay_status parse_number(const struct option *option, const char *text,
                                       const struct unit_system *units, double *out,
                                       struct outlay_error *err)
{
    const char *bare = units == &unit_system_si ? option->unit_si : option->unit_us;
    char unit[MEASURE_UNIT_MAX];
    double value;
    double factor = 1;
    enum measure measure = measure_parse(text, &value, unit);

    if (measure == MEASURE_WRONG)
        return refuse(option, text, "isn't a number", units, err);
    if (measure == MEASURE_AMBIGUOUS)
        return refuse(option, text, "has a comma that may be for thousands or decimals",
                      units, err);
    if (*unit && !bare)
        return refuse(option, text, "has something after the number", units, err);
    if (bare && !unit_find(*unit ? unit : bare, option->quantity, &factor))
        return refuse(option, text, "has a unit that doesn't fit", units, err);

    /* A limit given in its own unit must not fall to rounding. */
    double slack = 1e-12 * (option->most - option->least);
    value *= factor;
    if (value < option->least - slack || value > option->most + slack)
        return refuse(option, text, "is out of range", units, err);
    *out = value;
    return OUTLAY_OK;
}

static enum outlay_status parse_whole(const struct option *option, const char *text,
                                      const struct unit_system *units, int *out,
                                      struct outlay_error *err)
{
    int value;
    if (!number_parse_int(text, &value))
        return refuse(option, text, "isn't a whole number", units, err);
    if (value < option->least || value > option->most)
        return refuse(option, text, "is out of range", units, err);
    *out = value;
    return OUTLAY_OK;
}

/* Four numbers; a west greater than east is a box across the antimeridian, which no
 * driver filters by, so it is refused. */
static bool parse_box(const char *text, struct box *out)
{
    double values[4];
    for (int i = 0; i < 4; i++) {
        char number[64];
        size_t length = strcspn(text, ",");
        if (length >= sizeof number || (text[length] == ',') != (i < 3))
            return false;
        memcpy(number, text, length);
        number[length] = '\0';
        if (!number_parse(number, &values[i]))
            return false;
        text += length + (i < 3);
    }
    *out = (struct box){values[0], values[1], values[2], values[3]};
    return out->min_x < out->max_x && out->min_y < out->max_y && out->min_x >= -180 &&
           out->max_x <= 180 && out->min_y >= -90 && out->max_y <= 90;
}

static enum outlay_status refuse_role(const struct option *option, const char *text,
                                      const char *role, struct outlay_error *err)
{
    struct nearest nearest = nearest_start(role);

    for (int i = 0; i < FIELD_ROLES; i++)
        nearest_try(&nearest, field_role_name(i));
    for (int i = 0; option->kind == OPTION_FIELD && i < MARK_ROLES; i++)
        nearest_try(&nearest, mark_role_name(i));
    outlay_fail(err, OUTLAY_E_USAGE, "%s \"%.80s\" names no role", option->name, text);
    if (nearest.best)
        outlay_fail_todo(err, "did you mean %s? `outlay help roles` lists all",
                         nearest.best);
    else
        outlay_fail_todo(err, "`outlay help roles` lists them");
    return OUTLAY_E_USAGE;
}

/* Where the text of a role goes; NULL for no role. */
static const char **place_of_role(const struct option *option, const char *name,
                                  struct settings *settings)
{
    const char **fields = place(option, settings);

    for (int role = 0; role < FIELD_ROLES; role++)
        if (name_same(name, field_role_name(role)))
            return &fields[role];
    for (int role = 0; option->kind == OPTION_FIELD && role < MARK_ROLES; role++)
        if (name_same(name, mark_role_name(role)))
            return &settings->read.marks[role];
    return NULL;
}

static enum outlay_status parse_field(const struct option *option, const char *text,
                                      const struct unit_system *units,
                                      struct arena *arena, struct settings *settings,
                                      struct outlay_error *err)
{
    const char *equals = strchr(text, '=');
    const char **at;
    char name[WORD_MAX];
    if (!equals)
        return refuse(option, text, "has no =", units, err);
    snprintf(name, sizeof name, "%.*s", (int)(equals - text), text);
    at = place_of_role(option, name, settings);
    if (!at)
        return refuse_role(option, text, name, err);
    *at = arena_text(arena, equals + 1, strlen(equals + 1));
    return *at ? OUTLAY_OK : outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}

static enum outlay_status parse_text(const struct option *option, const char *text,
                                     const struct unit_system *units, struct arena *arena,
                                     const char **out, struct outlay_error *err)
{
    if (!*text)
        return refuse(option, text, "is empty", units, err);
    const char *copy = arena_text(arena, text, strlen(text));
    if (!copy)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    *out = copy;
    return OUTLAY_OK;
}

enum outlay_status option_parse(const struct option *option, const char *text,
                                const struct unit_system *units, struct arena *arena,
                                struct settings *settings, struct outlay_error *err)
{
    void *at = place(option, settings);
    int index;
    switch (option->kind) {
    case OPTION_FLAG:
        if (!parse_flag(text, at))
            return refuse(option, text, "is neither yes nor no", units, err);
        return OUTLAY_OK;
    case OPTION_TEXT:
        return parse_text(option, text, units, arena, at, err);
    case OPTION_CHOICE:
        index = name_index(option, text);
        if (index < 0)
            return refuse(option, text, "isn't known", units, err);
        memcpy(at, &index, sizeof index);
        return OUTLAY_OK;
    case OPTION_LIST:
        return parse_list(option, text, units, at, err);
    case OPTION_NUMBER:
        return parse_number(option, text, units, at, err);
    case OPTION_WHOLE:
        return parse_whole(option, text, units, at, err);
    case OPTION_BOX:
        if (!parse_box(text, at))
            return refuse(option, text, "isn't a box", units, err);
        settings->read.has_bbox = true;
        return OUTLAY_OK;
    case OPTION_FIELD:
    case OPTION_SOURCE:
        return parse_field(option, text, units, arena, settings, err);
    }
    return outlay_fail(err, OUTLAY_E_ARGUMENT, "option %s has no kind", option->name);
}
