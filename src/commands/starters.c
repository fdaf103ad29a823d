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

static enum outlay_status write_file(const struct settings *settings, const char *path,
                                     const struct text *text, struct outlay_error *err)
{
    struct stat info;
    struct output *output;
    if (!settings->overwrite && stat(path, &info) == 0 && S_ISREG(info.st_mode)) {
        outlay_fail(err, OUTLAY_E_OUTPUT, "the file exists");
        outlay_fail_where(err, "%s", path);
        outlay_fail_todo(err, "choose another name, or replace it by --overwrite");
        return OUTLAY_E_OUTPUT;
    }
    enum outlay_status status = output_open(path, &output, err);
    if (status != OUTLAY_OK)
        return status;
    status = output_text(output, text, err);
    if (status == OUTLAY_OK)
        return output_commit(output, err);
    output_abort(output);
    return status;
}

/* Writes the catalogue into a folder that is made where it isn't there. */
static enum outlay_status write_into(const struct settings *settings, const char *name,
                                     const struct text *text, struct outlay_error *err)
{
    struct text path = TEXT_INIT;
    enum outlay_status status;
    if (mkdir(settings->output, 0777) != 0 && errno != EEXIST)
        return output_fail(err, errno, "making the folder", settings->output);
    text_printf(&path, "%s/%s", settings->output, name);
    if (path.failed)
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    else
        status = write_file(settings, path.data, text, err);
    text_release(&path);
    return status;
}

enum outlay_status command_catalog(const struct settings *settings, struct text *report,
                                   struct outlay_error *err)
{
    struct text table = TEXT_INIT;
    enum outlay_status status = need_output(settings, "outlay catalog -o tables", err);
    if (status != OUTLAY_OK)
        return status;
    if (is_stdout(settings)) {
        text_puts(report, catalog_assemblies_csv);
        return OUTLAY_OK;
    }
    text_puts(&table, catalog_assemblies_csv);
    status = write_into(settings, "assemblies.csv", &table, err);
    text_clear(&table);
    text_puts(&table, catalog_items_csv);
    if (status == OUTLAY_OK)
        status = write_into(settings, "items.csv", &table, err);
    text_clear(&table);
    text_puts(&table, catalog_prices_csv);
    if (status == OUTLAY_OK)
        status = write_into(settings, "prices.csv", &table, err);
    text_release(&table);
    return status;
}

enum outlay_status command_job(const struct settings *settings, struct text *report,
                               struct outlay_error *err)
{
    struct text starter = TEXT_INIT;
    enum outlay_status status = need_output(settings, "outlay job -o job.yaml", err);
    if (status != OUTLAY_OK)
        return status;
    if (is_stdout(settings)) {
        options_starter(report);
        return OUTLAY_OK;
    }
    options_starter(&starter);
    status = write_file(settings, settings->output, &starter, err);
    text_release(&starter);
    return status;
}
