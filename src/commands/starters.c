/* Files for the user to edit: the built-in tables and a job file. */

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

#include "commands/commands.h"
#include "options/options.h"
#include "write/output.h"

static bool is_stdout(const struct settings *settings)
{
    return strcmp(settings->output, "-") == 0;
}

static enum outlay_status need_output(const struct settings *settings,
                                      const char *example, struct outlay_error *err)
{
    if (settings->output)
        return OUTLAY_OK;
    outlay_fail(err, OUTLAY_E_USAGE, "no output was given");
    outlay_fail_todo(err, "say where to: %s; - is standard output", example);
    return OUTLAY_E_USAGE;
}

/* None is written unless all can be. */
static enum outlay_status write_tables(const struct settings *settings,
                                       struct outlay_error *err)
{
    static const struct {
        const char *name, *content;
    } tables[] = {{"assemblies.csv", catalog_assemblies_csv},
                  {"items.csv", catalog_items_csv},
                  {"prices.csv", catalog_prices_csv},
                  {"actions.csv", catalog_actions_csv}};
    enum { TABLES = sizeof tables / sizeof tables[0] };
    enum outlay_status status = OUTLAY_OK;
    if (mkdir(settings->output, 0777) != 0 && errno != EEXIST)
        return output_fail(err, errno, "making the folder", settings->output);
    for (size_t i = 0; status == OUTLAY_OK && i < 2 * TABLES; i++) {
        struct text path = TEXT_INIT;
        struct text content = TEXT_INIT;
        text_printf(&path, "%s/%s", settings->output, tables[i % TABLES].name);
        text_puts(&content, tables[i % TABLES].content);
        if (path.failed)
            status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
        else if (i < TABLES)
            status = output_check(path.data, settings->overwrite, err);
        else
            status = output_whole(path.data, &content, err);
        text_release(&content);
        text_release(&path);
    }
    return status;
}

enum outlay_status command_catalog(const struct settings *settings,
                                   const struct messages *messages,
                                   struct outlay_result *result, struct text *report,
                                   struct outlay_error *err)
{
    (void)messages;
    (void)result;
    enum outlay_status status = need_output(settings, "outlay catalog -o tables", err);
    if (status != OUTLAY_OK)
        return status;
    if (is_stdout(settings)) {
        text_puts(report, catalog_assemblies_csv);
        return OUTLAY_OK;
    }
    return write_tables(settings, err);
}

enum outlay_status command_job(const struct settings *settings,
                               const struct messages *messages,
                               struct outlay_result *result, struct text *report,
                               struct outlay_error *err)
{
    (void)messages;
    (void)result;
    struct text starter = TEXT_INIT;
    enum outlay_status status = need_output(settings, "outlay job -o job.yaml", err);
    if (status != OUTLAY_OK)
        return status;
    if (is_stdout(settings)) {
        options_starter(report);
        return OUTLAY_OK;
    }
    options_starter(&starter);
    status = output_refuse(settings->output, settings->overwrite, err);
    if (status == OUTLAY_OK)
        status = output_whole(settings->output, &starter, err);
    text_release(&starter);
    return status;
}
