/* The option table as text: values, help, starter job file, README. */

#include <math.h>
#include <string.h>

#include "base/secret.h"
#include "options/options.h"
#include "options/roles_text.h"

static const void *place(const struct option *option, const struct settings *settings)
{
    return (const char *)settings + option->offset;
}

static const char *bare_unit(const struct option *option, const struct unit_system *units)
{
    return units == &unit_system_si ? option->unit_si : option->unit_us;
}

static double in_unit(const struct option *option, const char *unit, double value)
{
    double factor = 1;
    if (unit && !unit_find(unit, option->quantity, &factor))
        return NAN;
    return value / factor;
}

static void print_number(const struct option *option, double value, int decimals,
                         const struct unit_system *units, struct text *out)
{
    const char *unit = bare_unit(option, units);
    text_number(out, in_unit(option, unit, value), decimals);
    if (unit)
        text_printf(out, " %s", unit);
}

/* In the unit that needs fewer digits, that of the settings when both do: a default of
 * 1 m isn't shown as 3.280839895 ft. */
static void print_shortest(const struct option *option, double value,
                           const struct unit_system *units, struct text *out)
{
    const struct unit_system *others =
        units == &unit_system_si ? &unit_system_us : &unit_system_si;
    struct text own = TEXT_INIT;
    struct text other = TEXT_INIT;
    print_number(option, value, 9, units, &own);
    print_number(option, value, 9, others, &other);
    const struct text *shorter = other.length + 3 < own.length ? &other : &own;
    text_append(out, shorter->data, shorter->length);
    out->failed |= own.failed || other.failed;
    text_release(&own);
    text_release(&other);
}

static void print_names(const struct option *option, unsigned bits, const char *separator,
                        struct text *out)
{
    const char *name;
    const char *comma = "";
    for (int i = 0; (name = option->name_of(i)) != NULL; i++)
        if (*name && (bits & 1u << i)) {
            text_printf(out, "%s%s", comma, name);
            comma = separator;
        }
}

/* @param start  of the text in out, so that only what follows gets a blank before it */
static void print_field(const char *role, const char *field, size_t start,
                        struct text *out)
{
    if (!field)
        return;
    text_printf(out, "%s%s=", out->length > start ? " " : "", role);
    secret_hide(out, field);
}

static void print_fields(const struct option *option, const struct settings *settings,
                         struct text *out)
{
    const char *const *fields = place(option, settings);
    size_t start = out->length;

    for (int role = 0; role < FIELD_ROLES; role++)
        print_field(field_role_name(role), fields[role], start, out);
    for (int role = 0; option->kind == OPTION_FIELD && role < MARK_ROLES; role++)
        print_field(mark_role_name(role), settings->read.marks[role], start, out);
}

static void print_box(const struct box *box, struct text *out)
{
    const double sides[] = {box->min_x, box->min_y, box->max_x, box->max_y};
    for (int i = 0; i < 4; i++) {
        text_puts(out, i ? "," : "");
        text_number(out, sides[i], 9);
    }
}

void option_print(const struct option *option, const struct settings *settings,
                  struct text *out)
{
    const void *at = place(option, settings);
    const char *string;
    int value;
    switch (option->kind) {
    case OPTION_FLAG:
        text_puts(out, *(const bool *)at ? "yes" : "no");
        break;
    case OPTION_TEXT:
        string = *(const char *const *)at;
        text_puts(out, string ? string : "");
        break;
    case OPTION_CHOICE:
        memcpy(&value, at, sizeof value);
        text_puts(out, option->name_of(value));
        break;
    case OPTION_LIST:
        print_names(option, *(const unsigned *)at, ",", out);
        break;
    case OPTION_NUMBER:
        if (isfinite(*(const double *)at))
            print_shortest(option, *(const double *)at, settings_units(settings), out);
        break;
    case OPTION_WHOLE:
        if (*(const int *)at != MISSING)
            text_printf(out, "%d", *(const int *)at);
        break;
    case OPTION_BOX:
        if (settings->read.has_bbox)
            print_box(at, out);
        break;
    case OPTION_FIELD:
    case OPTION_SOURCE:
        print_fields(option, settings, out);
        break;
    }
}

void option_accepts(const struct option *option, const struct unit_system *units,
                    struct text *out)
{
    switch (option->kind) {
    case OPTION_FLAG:
        text_puts(out, "yes or no");
        break;
    case OPTION_TEXT:
        text_puts(out, "a text");
        break;
    case OPTION_LIST:
        text_puts(out, "all, or some of ");
        print_names(option, ~0u, ", ", out);
        break;
    case OPTION_CHOICE:
        print_names(option, ~0u, ", ", out);
        break;
    case OPTION_NUMBER:
        text_number(out, in_unit(option, bare_unit(option, units), option->least), 2);
        text_puts(out, " to ");
        print_number(option, option->most, 1, units, out);
        if (option->unit_us)
            text_printf(out, ", or with another unit named, such as %s",
                        units == &unit_system_si ? option->unit_us : option->unit_si);
        break;
    case OPTION_WHOLE:
        text_printf(out, "%.0f to %.0f", option->least, option->most);
        break;
    case OPTION_BOX:
        text_puts(out, "west,south,east,north in degrees, west < east");
        break;
    case OPTION_FIELD:
        text_puts(out, "ROLE=COLUMN or ROLE=COLUMN:UNIT, such as height=HGT:ft");
        break;
    case OPTION_SOURCE:
        text_puts(out, "ROLE=SOURCE, such as height=surface.tif-terrain.tif:m");
        break;
    }
}

/* What stands in brackets after the help line: choices, units of a bare number,
 * default. */
static void print_details(const struct option *option, struct text *out)
{
    const char *open = " [";
    if (option->kind == OPTION_CHOICE || option->kind == OPTION_LIST) {
        text_puts(out, open);
        print_names(option, ~0u, ", ", out);
        open = "; ";
    }
    if (option->unit_us) {
        text_printf(out, "%sbare number: %s, or %s with units si", open, option->unit_us,
                    option->unit_si);
        open = "; ";
    }
    if (*option->initial && option->kind != OPTION_FLAG) {
        text_printf(out, "%sdefault %s", open, option->initial);
        open = "; ";
    } else if (option->kind == OPTION_FLAG && option->in_job &&
               strcmp(option->initial, "yes") == 0) {
        text_printf(out, "%sdefault yes, --no-%s", open, option->name);
        open = "; ";
    }
    if (open[0] == ';')
        text_putc(out, ']');
}

static void print_option_help(const struct option *option, struct text *out)
{
    const size_t indent = 30;
    size_t start = out->length;
    if (option->letter)
        text_printf(out, "  -%c, ", option->letter);
    else
        text_puts(out, "      ");
    text_printf(out, "--%s", option->name);
    if (option->value)
        text_printf(out, " %s", option->value);
    size_t column = out->length - start;
    if (column + 2 > indent)
        text_printf(out, "\n%*s", (int)indent, "");
    else
        text_printf(out, "%*s", (int)(indent - column), "");

    struct text help = TEXT_INIT;
    text_puts(&help, option->help);
    print_details(option, &help);
    if (help.data)
        text_wrap(out, help.data, indent, indent, "");
    out->failed |= help.failed;
    text_release(&help);
    text_putc(out, '\n');
}

void options_help(unsigned command, struct text *out)
{
    for (int group = 0; group < OPTION_GROUPS; group++) {
        bool titled = false;
        for (size_t i = 0; i < option_count(); i++) {
            const struct option *option = option_at(i);
            if ((int)option->group != group || !(option->commands & command))
                continue;
            if (!titled)
                text_printf(out, "\n%s\n", option_group_title(group));
            titled = true;
            print_option_help(option, out);
        }
    }
}

/* Job keys have underscores, as most YAML has. */
static void print_key(const struct option *option, struct text *out)
{
    for (const char *c = option->name; *c; c++)
        text_putc(out, *c == '-' ? '_' : *c);
}

static void print_starter_key(const struct option *option, struct text *out)
{
    struct text help = TEXT_INIT;
    text_puts(&help, option->help);
    print_details(option, &help);
    if (help.data) {
        text_puts(out, "\n# ");
        text_wrap(out, help.data, 2, 2, "# ");
        text_putc(out, '\n');
    }
    out->failed |= help.failed;
    text_release(&help);

    text_putc(out, '#');
    print_key(option, out);
    if (option->kind == OPTION_FIELD)
        roles_starter(out);
    else if (option->kind == OPTION_SOURCE)
        text_puts(out, ":\n#  ROLE: SOURCE\n");
    else
        text_printf(out, ": %s\n", *option->initial ? option->initial : option->value);
}

void options_starter(struct text *out)
{
    text_puts(
        out,
        "# Job file of outlay: settings as `key: value`.\n"
        "# Take the # off a line to set it; the value shown is the default, or in\n"
        "# capitals what belongs there. Numbers may carry a unit: 115 mph, 51 m/s.\n"
        "# Bare numbers are in this file's own `units`. Options given on the command\n"
        "# line override this file: outlay run --job job.yaml -o out\n");
    for (int group = 0; group < OPTION_GROUPS; group++) {
        bool titled = false;
        for (size_t i = 0; i < option_count(); i++) {
            const struct option *option = option_at(i);
            if ((int)option->group != group || !option->in_job)
                continue;
            if (!titled)
                text_printf(out, "\n# ---- %s ----\n", option_group_title(group));
            titled = true;
            print_starter_key(option, out);
        }
    }
}
