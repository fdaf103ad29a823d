/* Files for the user to edit: the built-in tables and a job file. */

#include <errno.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

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

static const struct {
    const char *name, *content;
} tables[] = {
    {"assemblies.csv", catalog_assemblies_csv}, {"items.csv", catalog_items_csv},
    {"details.csv", catalog_details_csv},       {"panels.csv", catalog_panels_csv},
    {"prices.csv", catalog_prices_csv},         {"actions.csv", catalog_actions_csv},
    {"survey-rules.csv", survey_rules_csv}};
enum { TABLES = sizeof tables / sizeof tables[0] };

/* Beside its place and on the disk, so that committing only renames. */
static enum outlay_status prepare_table(const char *path, size_t i, bool overwrite,
                                        struct output **out, struct outlay_error *err)
{
    struct text content = TEXT_INIT;
    enum outlay_status status = output_check(path, overwrite, err);

    if (status != OUTLAY_OK)
        return status;
    text_puts(&content, tables[i].content);
    status = output_open(path, out, err);
    if (status == OUTLAY_OK)
        status = output_text(*out, &content, err);
    if (status == OUTLAY_OK)
        status = output_finish(*out, err);
    text_release(&content);
    return status;
}

/* All tables or none. */
static enum outlay_status fill_folder(const struct text *paths, bool overwrite,
                                      struct outlay_error *err)
{
    struct output *outputs[TABLES] = {NULL};
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; status == OUTLAY_OK && i < TABLES; i++)
        status = prepare_table(paths[i].data, i, overwrite, &outputs[i], err);
    for (size_t i = 0; i < TABLES; i++)
        if (status == OUTLAY_OK)
            status = output_commit(outputs[i], err);
        else
            output_abort(outputs[i]);
    return status;
}

static enum outlay_status write_tables(const struct settings *settings,
                                       struct outlay_error *err)
{
    const char *folder = settings->output;
    struct text paths[TABLES] = {TEXT_INIT};
    enum outlay_status status = OUTLAY_OK;
    bool made = false;

    for (size_t i = 0; i < TABLES; i++) {
        text_printf(&paths[i], "%s/%s", folder, tables[i].name);
        if (paths[i].failed)
            status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    if (status == OUTLAY_OK) {
        made = mkdir(folder, 0777) == 0;
        if (!made && errno != EEXIST)
            status = output_fail(err, errno, "making the folder", folder);
    }
    if (status == OUTLAY_OK)
        status = fill_folder(paths, settings->overwrite, err);
    for (size_t i = 0; i < TABLES; i++) {
        if (status != OUTLAY_OK && made)
            unlink(paths[i].data); /* a folder of our own: nothing else is in it */
        text_release(&paths[i]);
    }
    if (status != OUTLAY_OK && made)
        rmdir(folder);
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
