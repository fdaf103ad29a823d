#include "run/record.h"

#include <string.h>

#include "outlay/outlay.h"
#include "run/options.h"

/* Where in the source things are; not what is done with them. */
static bool is_setting(const struct option *option)
{
    return option->in_job && option->kind != OPTION_FIELD &&
           strcmp(option->name, "input") != 0;
}

static void print_settings(struct text *out, const struct settings *settings)
{
    struct text value = TEXT_INIT;
    const char *comma = "";
    text_puts(out, "  \"settings\": {");
    for (size_t i = 0; i < option_count; i++) {
        const struct option *option = &option_table[i];
        if (!is_setting(option))
            continue;
        text_clear(&value);
        option_print(option, settings, &value);
        text_printf(out, "%s\n    \"%s\": ", comma, option->name);
        if (value.length)
            text_json(out, value.data);
        else
            text_puts(out, "null");
        comma = ",";
    }
    text_puts(out, "\n  },\n");
    out->failed |= value.failed;
    text_release(&value);
}

static void print_fields(struct text *out, const struct reader *reader)
{
    const struct field_use *fields;
    size_t count = reader_fields(reader, &fields);
    text_puts(out, "    \"fields\": [");
    for (size_t i = 0; i < count; i++) {
        text_printf(out, "%s\n      {\"role\": \"%s\", \"column\": ", i ? "," : "",
                    field_role_name(fields[i].role));
        text_json(out, fields[i].column);
        text_puts(out, ", \"unit\": ");
        text_json(out, fields[i].unit);
        text_printf(out, ", \"told\": %s, \"filled\": %zu}",
                    fields[i].told ? "true" : "false", fields[i].filled);
    }
    text_puts(out, count ? "\n    ]\n" : "]\n");
}

/* A connection string may hold a password, which is nobody's business here. */
static void print_source(struct text *out, const char *source)
{
    struct text shown = TEXT_INIT;
    const char *secret = strstr(source, "password=");
    size_t open =
        secret ? (size_t)(secret - source) + strlen("password=") : strlen(source);
    text_append(&shown, source, open);
    if (secret)
        text_printf(&shown, "***%s", source + open + strcspn(source + open, " &"));
    text_json(out, shown.data ? shown.data : "");
    out->failed |= shown.failed;
    text_release(&shown);
}

static void print_input(struct text *out, const struct settings *settings,
                        const struct reader *reader, const struct run_counts *counts)
{
    text_puts(out, "  \"input\": {\n    \"source\": ");
    print_source(out, settings->read.input);
    text_puts(out, ",\n    \"layer\": ");
    text_json(out, reader_layer(reader));
    text_puts(out, ",\n    \"digest\": ");
    text_json(out, *counts->digest ? counts->digest : NULL);
    text_puts(
        out,
        ",\n    \"digest_of\": \"XXH3-128 of ids, fields and outlines as read, in input order\",\n");
    print_fields(out, reader);
    text_puts(out, "  },\n");
}

static void print_counts(struct text *out, const struct run_counts *counts)
{
    const struct totals *totals = &counts->totals;
    text_printf(out,
                "  \"counts\": {\n"
                "    \"roofs\": %zu,\n    \"zoned\": %zu,\n    \"left_out\": %zu,\n"
                "    \"buildings\": %zu,\n    \"with_wind_speed\": %zu,\n"
                "    \"notes\": %zu,\n    \"warnings\": %zu,\n    \"errors\": %zu,\n"
                "    \"problems\": {",
                totals->roofs, totals->zoned, totals->roofs - totals->zoned,
                totals->buildings, counts->rated, totals->problems[SEVERITY_NOTE],
                totals->problems[SEVERITY_WARNING], totals->problems[SEVERITY_ERROR]);
    const char *comma = "";
    for (int code = 0; code < PROBLEM_CODES; code++)
        if (totals->problem_codes[code]) {
            text_printf(out, "%s\n      \"%s\": %zu", comma,
                        problem_code_name((enum problem_code)code),
                        totals->problem_codes[code]);
            comma = ",";
        }
    text_puts(out, *comma ? "\n    }\n  },\n" : "}\n  },\n");
}

void record_print(struct text *out, const struct settings *settings,
                  const struct reader *reader, const struct run_counts *counts,
                  double seconds)
{
    struct text caution = TEXT_INIT;
    caution_print(&caution, settings->write.catalog_built_in);
    text_puts(out, "{\n  \"outlay\": ");
    text_json(out, outlay_version());
    text_puts(out, ",\n  \"standard\": ");
    text_json(out, settings->write.standard->title);
    text_puts(out, ",\n");
    print_input(out, settings, reader, counts);
    print_settings(out, settings);
    print_counts(out, counts);
    text_printf(out, "  \"whole_layer_checks\": %s,\n",
                counts->streamed ? "false" : "true");
    text_puts(out, "  \"seconds\": ");
    text_number(out, seconds, 3);
    text_puts(out, ",\n  \"caution\": ");
    text_json(out, caution.data);
    text_puts(out, "\n}\n");
    out->failed |= caution.failed;
    text_release(&caution);
}
