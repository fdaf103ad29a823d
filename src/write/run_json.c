#include "write/run_json.h"

/* Everything is indented by hand: people read this file. */

static void put_text(struct text *out, const char *indent, const char *name,
                     const char *value)
{
    text_puts(out, indent);
    text_json(out, name);
    text_puts(out, ": ");
    text_json(out, value);
}

static void put_count(struct text *out, const char *indent, const char *name,
                      size_t count)
{
    text_puts(out, indent);
    text_json(out, name);
    text_printf(out, ": %zu", count);
}

static void put_flag(struct text *out, const char *indent, const char *name, bool value)
{
    text_puts(out, indent);
    text_json(out, name);
    text_puts(out, value ? ": true" : ": false");
}

/* Between two members or elements, the first of which has index 0. */
static void put_comma(struct text *out, size_t index)
{
    text_puts(out, index > 0 ? ",\n" : "\n");
}

static void put_head(struct text *out, const struct run_record *record)
{
    const struct write_settings *set = record->set;
    struct text caution = TEXT_INIT;

    caution_print(&caution, set->catalog_built_in);
    put_text(out, "  ", "caution", caution.data);
    out->failed = out->failed || caution.failed;
    text_release(&caution);
    put_text(out, ",\n  ", "program", "outlay");
    put_text(out, ",\n  ", "version", OUTLAY_VERSION);
    put_text(out, ",\n  ", "command", record->command);
    put_text(out, ",\n  ", "standard", set->standard->name);
    put_text(out, ",\n  ", "standard_title", set->standard->title);
    put_text(out, ",\n  ", "units", set->units->name);
    put_text(out, ",\n  ", "catalogue", record->catalog ? record->catalog : "built in");
    put_flag(out, ",\n  ", "ratings_invented", set->catalog_built_in);
    put_flag(out, ",\n  ", "packs_invented", set->items_built_in);
    put_flag(out, ",\n  ", "prices_invented", set->prices_built_in);
    put_flag(out, ",\n  ", "actions_invented", set->actions_built_in);
}

static void put_input(struct text *out, const struct run_input *input)
{
    text_puts(out, ",\n  \"input\": {");
    put_text(out, "\n    ", "path", input->path);
    put_text(out, ",\n    ", "layer", input->layer);
    put_text(out, ",\n    ", "crs", input->crs);
    put_text(out, ",\n    ", "digest", input->digest);
    put_text(out, ",\n    ", "digest_of", input->digest_of);
    put_flag(out, ",\n    ", "whole_layer_checks", !input->streamed);
    text_puts(out, "\n  }");
}

static void put_settings(struct text *out, const struct run_record *record)
{
    text_puts(out, ",\n  \"settings\": {");
    for (size_t i = 0; i < record->setting_count; i++) {
        put_comma(out, i);
        put_text(out, "    ", record->settings[i].name, record->settings[i].value);
    }
    text_puts(out, "\n  }");
}

static void put_fields(struct text *out, const struct run_record *record)
{
    text_puts(out, ",\n  \"fields\": [");
    for (size_t i = 0; i < record->field_count; i++) {
        const struct run_field *field = &record->fields[i];

        put_comma(out, i);
        put_text(out, "    {", "role", field->role);
        put_text(out, ", ", "column", field->column);
        put_text(out, ", ", "unit", *field->unit ? field->unit : NULL);
        put_text(out, ", ", "found", field->given ? "given" : "by name");
        put_count(out, ", ", "filled", field->filled);
        text_putc(out, '}');
    }
    text_puts(out, "\n  ]");
}

static void put_files(struct text *out, const struct run_record *record)
{
    text_puts(out, ",\n  \"files\": [");
    for (size_t i = 0; i < record->file_count; i++) {
        text_puts(out, i > 0 ? ", " : "");
        text_json(out, record->files[i]);
    }
    text_putc(out, ']');
}

static void put_counts(struct text *out, const struct totals *totals, size_t rated)
{
    text_puts(out, ",\n  \"counts\": {");
    put_count(out, "\n    ", "buildings", totals->buildings);
    put_count(out, ",\n    ", "roofs", totals->roofs);
    put_count(out, ",\n    ", "zoned", totals->zoned);
    put_count(out, ",\n    ", "with_wind_speed", rated);
    put_count(out, ",\n    ", "left_out", totals->roofs - totals->zoned);
    for (int i = STATE_UNKNOWN; i <= STATE_NOT_MET; i++)
        put_count(out, ",\n    ", zone_state_name(i), totals->states[i]);
    put_count(out, ",\n    ", "estimated", totals->estimated);
    put_count(out, ",\n    ", "assumed", totals->assumed);
    put_count(out, ",\n    ", "without_fastener_count", totals->uncounted);
    text_puts(out, "\n  }");
}

/* A weakness that some roof has: its name, why, and how many roofs. */
static void put_weakness(struct text *out, size_t index, const char *name,
                         const char *reason, size_t roofs,
                         const struct unit_system *units)
{
    put_comma(out, index);
    put_text(out, "    {", "name", name);
    text_puts(out, ", \"how\": ");
    units_choose_json(out, reason, units);
    put_count(out, ", ", "roofs", roofs);
    text_putc(out, '}');
}

static void put_weak(struct text *out, const struct totals *totals,
                     const struct unit_system *units)
{
    size_t index = 0;

    text_puts(out, ",\n  \"estimated\": [");
    for (int i = 0; i < ESTIMATES; i++)
        if (totals->estimates[i] > 0)
            put_weakness(out, index++, estimate_name(i), estimate_reason(i),
                         totals->estimates[i], units);
    text_puts(out, "\n  ],\n  \"assumed\": [");
    index = 0;
    for (int i = 0; i < ASSUMPTIONS; i++)
        if (totals->assumptions[i] > 0)
            put_weakness(out, index++, assumption_name(i), assumption_reason(i),
                         totals->assumptions[i], units);
    text_puts(out, "\n  ]");
}

static void put_problems(struct text *out, const struct totals *totals)
{
    size_t index = 0;

    text_puts(out, ",\n  \"problems\": [");
    for (int i = 0; i < PROBLEM_CODES; i++) {
        enum problem_code code = (enum problem_code)i;

        if (totals->problem_codes[i] == 0)
            continue;
        put_comma(out, index++);
        put_text(out, "    {", "code", problem_code_name(code));
        put_text(out, ", ", "severity", severity_name(problem_severity(code)));
        put_count(out, ", ", "count", totals->problem_codes[i]);
        text_putc(out, '}');
    }
    text_puts(out, "\n  ]");
}

static void put_timings(struct text *out, const struct run_record *record)
{
    put_count(out, ",\n  ", "threads", record->threads);
    text_puts(out, ",\n  \"seconds\": {");
    for (size_t i = 0; i < record->timing_count; i++) {
        put_comma(out, i);
        text_puts(out, "    ");
        text_json(out, record->timings[i].stage);
        text_puts(out, ": ");
        text_fixed(out, record->timings[i].seconds, 3);
    }
    text_puts(out, "\n  }");
}

void run_json(struct text *out, const struct run_record *record)
{
    text_puts(out, "{\n");
    put_head(out, record);
    put_input(out, &record->input);
    put_fields(out, record);
    put_settings(out, record);
    put_counts(out, record->totals, record->rated);
    put_weak(out, record->totals, record->set->units);
    put_problems(out, record->totals);
    put_files(out, record);
    put_timings(out, record);
    text_puts(out, "\n}\n");
}
