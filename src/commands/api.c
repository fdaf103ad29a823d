/* outlay_job_run(): the library's way in. */

#include "base/print.h"
#include "commands/commands.h"
#include "options/job.h"
#include "results/sinks.h"

static enum outlay_status run(struct outlay_job *job, struct outlay_result *counts,
                              struct outlay_error *err)
{
    struct settings settings;
    struct text report = TEXT_INIT;
    enum outlay_status status = job_settings(job, &settings, err);
    if (status == OUTLAY_OK)
        status = settings_resolve(&settings, err);
    if (status == OUTLAY_OK && settings.output &&
        zones_format_of(settings.output) != ZONES_NOT_GIVEN)
        status = command_zones(&settings, &job->messages, counts, &report, err);
    else if (status == OUTLAY_OK)
        status = command_run(&settings, &job->messages, counts, &report, err);
    text_release(&report);
    settings_release(&settings);
    return status;
}

enum outlay_status outlay_job_run(struct outlay_job *job, struct outlay_result *result,
                                  struct outlay_error *err)
{
    struct outlay_result counts = {0};
    struct plain_locale *locale = plain_locale_start();
    enum outlay_status status = locale
                                    ? run(job, &counts, err)
                                    : outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    plain_locale_end(locale);
    if (result)
        *result = counts;
    return status;
}
