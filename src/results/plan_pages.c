#include "results/plan_pages.h"

#include <stdio.h>

#include "flow/digest.h"
#include "options/selection.h"
#include "results/parts.h"

enum outlay_status plan_pages_open(const char *path, const struct settings *settings,
                                   struct plans **out, struct outlay_error *err)
{
    struct plan_settings plan = {.write = &settings->write,
                                 .details = settings->order.details,
                                 .flashing_height = settings->order.flashing_height,
                                 .single = selection_size(settings) == 1,
                                 .overwrite = settings->overwrite};
    return plans_open(path, &plan, out, err);
}

enum outlay_status plan_pages_expect(struct plans *plans, const struct settings *settings,
                                     long long roofs, struct outlay_error *err)
{
    size_t selected = selection_size(settings);
    return plans_expect(plans, selected ? (long long)selected : roofs, err);
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

/* ---- plans.pdf -------------------------------------------------------------------- */

static enum outlay_status open_part(const struct outcome *outcome, const char *path,
                                    void **self, struct outlay_error *err)
{
    struct plans *plans = NULL;
    enum outlay_status status = plan_pages_open(path, outcome->settings, &plans, err);
    *self = plans;
    if (status == OUTLAY_OK)
        status = plan_pages_expect(plans, outcome->settings, outcome->extent->count, err);
    return status;
}

static enum outlay_status add_part(void *self, const struct outcome *outcome,
                                   const struct building *building,
                                   struct outlay_error *err)
{
    return plan_pages_add(self, outcome->settings, building, err);
}

static enum outlay_status commit_part(void *self, const struct outcome *outcome,
                                      const char *path, struct outlay_error *err)
{
    (void)path;
    enum outlay_status status =
        plan_pages_finish(self, outcome->record->input.digest, err);
    if (status == OUTLAY_OK)
        return plans_commit(self, err);
    plans_abort(self);
    return status;
}

static void drop_part(void *self)
{
    plans_abort(self);
}

const struct part_object plans_object = {
    .open = open_part, .add = add_part, .commit = commit_part, .drop = drop_part};
