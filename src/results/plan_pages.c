#include "results/plan_pages.h"

#include <stdio.h>

#include "flow/digest.h"
#include "options/selection.h"

enum outlay_status plan_pages_open(const char *path, const struct settings *settings,
                                   long long roofs, struct plans **out,
                                   struct outlay_error *err)
{
    size_t selected = selection_size(settings);
    struct plan_settings plan = {.write = &settings->write,
                                 .pages = selected ? (long long)selected : roofs,
                                 .single = selected == 1,
                                 .overwrite = settings->overwrite};
    return plans_open(path, &plan, out, err);
}

/* The fingerprint of one roof as read. */
static enum outlay_status fingerprint(const struct roof *roof, char out[33],
                                      struct outlay_error *err)
{
    struct digest *digest = digest_new();
    if (!digest)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    digest_add(digest, roof);
    digest_print(digest, out);
    digest_free(digest);
    return OUTLAY_OK;
}

enum outlay_status plan_pages_add(struct plans *plans, const struct settings *settings,
                                  const struct building *building,
                                  struct outlay_error *err)
{
    char revision[33];
    enum outlay_status status = OUTLAY_OK;
    for (size_t i = 0; status == OUTLAY_OK && i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];
        if (!selection_has(settings, roof))
            continue;
        status = fingerprint(roof, revision, err);
        if (status == OUTLAY_OK)
            status = plans_add(plans, building, roof, revision, err);
    }
    return status;
}

enum outlay_status plan_pages_finish(struct plans *plans, const char *digest,
                                     struct outlay_error *err)
{
    char about[64];
    snprintf(about, sizeof about, "input %.33s", *digest ? digest : "without digest");
    return plans_finish(plans, about, err);
}
