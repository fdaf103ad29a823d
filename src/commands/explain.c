#include <string.h>

#include "commands/commands.h"
#include "commands/execute.h"
#include "explain/derivation.h"

/* Collects the derivations of the roofs with the wanted id. */
struct explained {
    const struct settings *settings;
    struct text *report;
    size_t found;
};

static void explain_roof(struct explained *explained, const struct roof *roof)
{
    const struct settings *settings = explained->settings;
    if (explained->found++)
        text_puts(explained->report, "\n\n");
    derivation_print(explained->report, roof, &settings->write,
                     takeoff_edge_style(roof, &settings->takeoff));
}

static enum outlay_status look_for_roof(void *self, const struct batch *batch,
                                        struct outlay_error *err)
{
    struct explained *explained = self;
    (void)err;
    for (size_t i = 0; i < batch->building_count; i++) {
        const struct building *building = &batch->buildings[i];
        for (size_t j = 0; j < building->roof_count; j++)
            if (strcmp(building->roofs[j].id, explained->settings->roof) == 0)
                explain_roof(explained, &building->roofs[j]);
    }
    return OUTLAY_OK;
}

static enum outlay_status not_found(const struct settings *settings,
                                    struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_USAGE, "no roof has the id \"%.80s\"", settings->roof);
    outlay_fail_where(err, "%s", settings->read.input);
    outlay_fail_todo(err, "ids come from the column of --field id=COLUMN, else they "
                          "count from 1; `outlay inspect` shows which");
    return OUTLAY_E_USAGE;
}

enum outlay_status command_explain(const struct settings *settings,
                                   const struct messages *messages,
                                   struct outlay_result *result, struct text *report,
                                   struct outlay_error *err)
{
    struct explained explained = {.settings = settings, .report = report};
    struct sink calls = {.layouts = true, .self = &explained, .commit = look_for_roof};
    struct run_counts counts = {0};
    struct reader *reader = NULL;
    if (!settings->roof) {
        outlay_fail(err, OUTLAY_E_USAGE, "no roof was named");
        outlay_fail_todo(err, "name its id: outlay explain INPUT ID");
        return OUTLAY_E_USAGE;
    }
    enum outlay_status status = execute_open(settings, &reader, err);
    if (status == OUTLAY_OK)
        status =
            execute_run(settings, reader, messages, false, &calls, &counts, result, err);
    if (status == OUTLAY_OK)
        status = execute_input_status(&counts, err);
    if (status == OUTLAY_OK && explained.found == 0)
        status = not_found(settings, err);
    /* Only the roof that was asked for decides the exit status. */
    result->left_out = 0;
    reader_close(reader);
    return status;
}
