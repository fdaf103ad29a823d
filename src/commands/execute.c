#include "commands/execute.h"

#include <stdio.h>
#include <string.h>

#include "base/plural.h"

enum outlay_status execute_need_output(const struct settings *settings, const char *todo,
                                       struct outlay_error *err)
{
    if (settings->output)
        return OUTLAY_OK;
    outlay_fail(err, OUTLAY_E_USAGE, "no output was given");
    outlay_fail_todo(err, "%s", todo);
    return OUTLAY_E_USAGE;
}

enum outlay_status execute_open(const struct settings *settings, struct reader **reader,
                                struct outlay_error *err)
{
    *reader = NULL;
    if (!settings->read.input) {
        outlay_fail(err, OUTLAY_E_USAGE, "no input was given");
        outlay_fail_todo(err, "name a file of outlines, or - for a stream");
        return OUTLAY_E_USAGE;
    }
    return reader_open(&settings->read, reader, err);
}

static void fill_result(const struct run_counts *counts, struct outlay_result *result)
{
    const struct totals *totals = &counts->totals;
    *result = (struct outlay_result){.roofs = totals->roofs,
                                     .zoned = totals->zoned,
                                     .left_out = totals->roofs - totals->zoned,
                                     .buildings = totals->buildings,
                                     .notes = totals->problems[SEVERITY_NOTE],
                                     .warnings = totals->problems[SEVERITY_WARNING],
                                     .errors = totals->problems[SEVERITY_ERROR]};
}

/* What the reader noticed, but for the first *given notes: its description has a line
 * "note: ..." for each, and those of reading come last. *given gets their number. */
static enum outlay_status tell_notes(const struct reader *reader,
                                     const struct messages *messages, size_t *given,
                                     struct outlay_error *err)
{
    static const char mark[] = "note: ";
    struct text lines = TEXT_INIT;
    size_t count = 0;
    reader_describe(reader, &lines);
    enum outlay_status status =
        lines.failed ? outlay_fail(err, OUTLAY_E_MEMORY, "out of memory") : OUTLAY_OK;
    char *line = status == OUTLAY_OK ? lines.data : NULL;
    while (line && *line) {
        char *end = line + strcspn(line, "\n");
        bool last = *end == '\0';
        *end = '\0';
        if (strncmp(line, mark, sizeof mark - 1) == 0 && count++ >= *given)
            message_send(messages, OUTLAY_MESSAGE_NOTE, line + sizeof mark - 1,
                         reader_name(reader), "");
        line = last ? end : end + 1;
    }
    text_release(&lines);
    *given = count;
    return status;
}

static void tell_counts(const struct settings *settings, const struct reader *reader,
                        const struct outlay_result *result,
                        const struct messages *messages)
{
    char what[120];
    if (result->left_out == 0)
        return;
    bool listed = settings->output && strcmp(settings->output, "-") != 0;
    snprintf(what, sizeof what, "left out: %zu of %zu roof%s", result->left_out,
             result->roofs, PLURAL(result->roofs));
    message_send(messages, OUTLAY_MESSAGE_WARNING, what, reader_name(reader),
                 listed ? "the list of problems has the reasons"
                        : "write to a file to get all reasons");
}

enum outlay_status execute_run(const struct settings *settings, struct reader *reader,
                               const struct messages *messages, bool whole,
                               const struct sink *sink, struct run_counts *counts,
                               struct outlay_result *result, struct outlay_error *err)
{
    size_t given = 0;
    enum outlay_status status =
        whole ? tell_notes(reader, messages, &given, err) : OUTLAY_OK;
    if (status == OUTLAY_OK)
        status = pipeline_run(settings, reader, messages, sink, counts, err);
    if (whole && status == OUTLAY_OK)
        status = tell_notes(reader, messages, &given, err);
    else if (whole && tell_notes(reader, messages, &given, NULL) != OUTLAY_OK)
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    fill_result(counts, result);
    if (status != OUTLAY_OK)
        return status;
    if (whole)
        tell_counts(settings, reader, result, messages);
    if (settings->strict && result->left_out) {
        outlay_fail(err, OUTLAY_E_LIMIT,
                    "stopped by --strict: left out: %zu of %zu roof%s", result->left_out,
                    result->roofs, PLURAL(result->roofs));
        outlay_fail_where(err, "%s", reader_name(reader));
        outlay_fail_todo(err, "mend them, or run without --strict");
        return OUTLAY_E_LIMIT;
    }
    return OUTLAY_OK;
}

enum outlay_status execute_input_status(const struct run_counts *counts,
                                        struct outlay_error *err)
{
    if (counts->input_status != OUTLAY_OK && err)
        *err = counts->input_error;
    return counts->input_status;
}
