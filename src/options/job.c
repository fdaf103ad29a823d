#include "options/job.h"

#include <stdlib.h>
#include <string.h>

struct outlay_job *outlay_job_new(void)
{
    struct outlay_job *job = calloc(1, sizeof *job);
    if (!job)
        return NULL;
    job->arena = arena_new();
    if (!job->arena) {
        free(job);
        return NULL;
    }
    job->end = &job->first;
    return job;
}

void outlay_job_free(struct outlay_job *job)
{
    if (!job)
        return;
    arena_free(job->arena);
    free(job);
}

void outlay_job_on_message(struct outlay_job *job,
                           void (*show)(void *user, const struct outlay_message *message),
                           void *user)
{
    job->messages.show = show;
    job->messages.show_user = user;
}

void outlay_job_on_progress(struct outlay_job *job,
                            int (*show)(void *user, double share, size_t roofs),
                            void *user)
{
    job->messages.progress = show;
    job->messages.progress_user = user;
}

enum outlay_status job_assign(struct outlay_job *job, const struct option *option,
                              const char *value, const char *where, bool from_file,
                              struct outlay_error *err)
{
    struct assignment *added = arena_alloc(job->arena, sizeof *added);
    char *value_copy = arena_text(job->arena, value, strlen(value));
    char *where_copy = arena_text(job->arena, where, strlen(where));
    if (!added || !value_copy || !where_copy)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    *added = (struct assignment){option, value_copy, where_copy, from_file, NULL};
    *job->end = added;
    job->end = &added->next;
    return OUTLAY_OK;
}

enum outlay_status outlay_job_set(struct outlay_job *job, const char *name,
                                  const char *value, struct outlay_error *err)
{
    const struct option *option = option_find(name, strlen(name));
    if (!option || !option->in_job) {
        const char *nearest = option_nearest(name, ~0u);
        outlay_fail(err, OUTLAY_E_USAGE, "no option is called \"%.60s\"", name);
        if (nearest)
            outlay_fail_todo(err, "did you mean %s?", nearest);
        return OUTLAY_E_USAGE;
    }
    return job_assign(job, option, value, option->name, false, err);
}

/* Reads the assignments of one origin: `units` alone, or all the others. */
static enum outlay_status apply(const struct outlay_job *job, bool from_file,
                                bool units_alone, struct settings *settings,
                                struct outlay_error *err)
{
    const struct unit_system *units = settings_units(settings);
    for (const struct assignment *a = job->first; a; a = a->next) {
        bool is_units = strcmp(a->option->name, "units") == 0;
        if (a->from_file != from_file || is_units != units_alone)
            continue;
        enum outlay_status status =
            option_parse(a->option, a->value, units, job->arena, settings, err);
        if (status != OUTLAY_OK) {
            outlay_fail_where(err, "%s", a->where);
            return status;
        }
    }
    return OUTLAY_OK;
}

enum outlay_status job_settings(const struct outlay_job *job, struct settings *settings,
                                struct outlay_error *err)
{
    settings_init(settings);
    for (int from_file = 1; from_file >= 0; from_file--)
        for (int units_alone = 1; units_alone >= 0; units_alone--) {
            enum outlay_status status =
                apply(job, from_file == 1, units_alone == 1, settings, err);
            if (status != OUTLAY_OK)
                return status;
        }
    return OUTLAY_OK;
}

const char *outlay_version(void)
{
    return OUTLAY_VERSION;
}
