#include "options/roles_text.h"

#include "read/roles.h"
#include "read/value.h"

enum { HELP_INDENT = 20, STARTER_INDENT = 5 };

static const char *const about =
    "Roles: what columns of the layer may say about a roof.\n\n"
    "A column has a role when its name is one of those listed here; letters may be of\n"
    "either case. What is measured needs its unit behind the name too: height_ft,\n"
    "wind_speed_mph, stack_in. Any other column is named by an option or in a job file:\n"
    "    --field height=HGT:ft --field building=BLDG\n"
    "and one that must not be read is taken away by --field height=\n"
    "`outlay inspect LAYER` shows what was found and how many roofs have it. What no\n"
    "column says can be read off rasters and other layers: `outlay help sampling`.\n\n"
    "Values: 12.5, 12,5 and 1,234.5 are numbers; 1,500 could be two of them and is\n"
    "reported instead. A unit in the value wins over the column's: 40 ft, 12 m, 39'4\",\n"
    "39' 4 1/2\". 3-5 storeys count as 4, with a warning. Years may be dates. Words are\n"
    "the same as those of the options, such as \"partially enclosed\" or \"plywood\".\n";

static void put_line(struct text *words, struct text *out)
{
    if (words->length) {
        text_printf(out, "%*s", HELP_INDENT, "");
        text_wrap(out, words->data, HELP_INDENT, HELP_INDENT, "");
        text_putc(out, '\n');
    }
    out->failed |= words->failed;
    text_clear(words);
}

/* @param words  scratch */
static void put_role(enum field_role role, struct text *words, struct text *out)
{
    const char *const *names = role_common_names(role);
    const char *units = role_units(role);

    text_printf(out, "\n%-*s", HELP_INDENT, field_role_name(role));
    text_wrap(out, role_effect(role), HELP_INDENT, HELP_INDENT, "");
    text_putc(out, '\n');
    value_accepts(role, words);
    if (*units)
        text_printf(words, "; units %s", units);
    put_line(words, out);
    if (names[0])
        text_puts(words, "columns:");
    for (size_t i = 0; i < ROLE_NAMES_MAX && names[i]; i++)
        text_printf(words, "%s %s", i ? "," : "", names[i]);
    put_line(words, out);
}

void roles_help(struct text *out)
{
    struct text words = TEXT_INIT;

    text_puts(out, about);
    for (int role = 0; role < FIELD_ROLES; role++)
        put_role((enum field_role)role, &words, out);
    text_puts(out, "\nRoles of the layers beside the outlines (`outlay help input`):\n");
    for (int role = 0; role < MARK_ROLES; role++)
        text_printf(out, "\n%-*s%s\n", HELP_INDENT, mark_role_name(role),
                    mark_role_effect(role));
    text_release(&words);
}

void roles_starter(struct text *out)
{
    text_puts(out, ":\n");
    for (int i = 0; i < FIELD_ROLES; i++) {
        enum field_role role = (enum field_role)i;
        const char *units = role_units(role);

        text_puts(out, "#  # ");
        text_wrap(out, role_effect(role), STARTER_INDENT, STARTER_INDENT, "#  # ");
        text_printf(out, "\n#  %s: COLUMN%s%s\n", field_role_name(role),
                    *units ? ":" : "", units);
    }
    for (int role = 0; role < MARK_ROLES; role++)
        text_printf(out, "#  # %s\n#  %s: COLUMN%s\n", mark_role_effect(role),
                    mark_role_name(role),
                    mark_role_is_length(role) ? ":ft|in|m|cm|mm" : "");
}
