#include "results/record.h"

#include <string.h>

#include "base/secret.h"
#include "options/options.h"

/* The settings as their options print them, the texts one behind the other in values.
 * Where the input is and how its fields are called stands elsewhere in the record. */
static size_t gather_settings(const struct settings *settings, struct text *values,
                              struct run_setting *out)
{
    size_t starts[RECORD_SETTINGS];
    size_t count = 0;
    for (size_t i = 0; i < option_count() && count < RECORD_SETTINGS; i++) {
        const struct option *option = option_at(i);
        if (!option->in_job || option->kind == OPTION_FIELD ||
            strcmp(option->name, "input") == 0)
            continue;
        starts[count] = values->length;
        out[count++].name = option->name;
        option_print(option, settings, values);
        text_putc(values, '\0');
    }
    for (size_t i = 0; i < count && !values->failed; i++) {
        const char *value = values->data + starts[i];
        out[i].value = *value ? value : NULL;
    }
    return values->failed ? 0 : count;
}

static size_t gather_fields(const struct reader *reader,
                            struct run_field out[FIELD_ROLES])
{
    const struct field_use *uses;
    size_t count = reader_fields(reader, &uses);
    for (size_t i = 0; i < count; i++)
        out[i] = (struct run_field){field_role_name(uses[i].role), uses[i].column,
                                    uses[i].unit, uses[i].given, uses[i].filled};
    return count;
}

enum outlay_status record_fill(struct record *record, const struct settings *settings,
                               const struct reader *reader,
                               const struct folder_sink *sink,
                               const struct run_counts *counts, double seconds,
                               struct outlay_error *err)
{
    *record = (struct record){
        .timings = {{"reading and stages", counts->stage_seconds},
                    {"checks over the layer", counts->check_seconds},
                    {"all until here", seconds}},
        .values = TEXT_INIT,
        .source = TEXT_INIT,
    };
    secret_hide(&record->source, settings->read.input);
    record->run = (struct run_record){
        .command = "run",
        .set = &settings->write,
        .catalog = settings->catalog_path,
        .input = {.path = record->source.data,
                  .layer = *reader_layer(reader) ? reader_layer(reader) : NULL,
                  .crs = reader_crs(reader),
                  .digest = counts->digest,
                  .digest_of = "XXH3-128 of ids, fields and outlines as read, in input "
                               "order",
                  .streamed = counts->streamed},
        .settings = record->settings,
        .setting_count = gather_settings(settings, &record->values, record->settings),
        .fields = record->fields,
        .field_count = gather_fields(reader, record->fields),
        .files = record->files,
        .file_count = folder_sink_files(sink, record->files),
        .timings = record->timings,
        .timing_count = RECORD_TIMINGS,
        .threads = counts->threads,
        .rated = counts->rated,
        .totals = &counts->totals};
    if (record->values.failed || record->source.failed)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    return OUTLAY_OK;
}

void record_release(struct record *record)
{
    text_release(&record->values);
    text_release(&record->source);
}
