/* What a program that uses the installed library looks like.
 * consumer INPUT OUTPUT: zones the one roof of INPUT. */

#include <stdio.h>

#include <outlay/outlay.h>

static enum outlay_status run(struct outlay_job *job, char **paths,
                              struct outlay_result *result, struct outlay_error *err)
{
    const char *const settings[][2] = {
        {"input", paths[1]},
        {"output", paths[2]},
        {"field", "height=HGT:ft"},
        {"wind-speed", "115 mph"},
    };

    for (size_t i = 0; i < sizeof settings / sizeof settings[0]; i++) {
        enum outlay_status status =
            outlay_job_set(job, settings[i][0], settings[i][1], err);

        if (status != OUTLAY_OK)
            return status;
    }
    return outlay_job_run(job, result, err);
}

int main(int argc, char **argv)
{
    struct outlay_error err = {OUTLAY_OK, "", "", ""};
    struct outlay_result result = {0};
    struct outlay_job *job = argc == 3 ? outlay_job_new() : NULL;
    enum outlay_status status = OUTLAY_E_MEMORY;

    if (!job)
        return 1;
    status = run(job, argv, &result, &err);
    outlay_job_free(job);
    printf("outlay %s: %s, %zu of %zu roofs zoned\n", outlay_version(),
           outlay_status_text(status), result.zoned, result.roofs);
    if (status != OUTLAY_OK)
        printf("%s: %s: %s\n", err.what, err.where, err.todo);
    return status == OUTLAY_OK && result.roofs == 1 && result.zoned == 1 ? 0 : 1;
}
