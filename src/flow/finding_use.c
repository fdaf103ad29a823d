#include "flow/finding_use.h"

#include <stdlib.h>

#include "base/text.h"
#include "roof/finding.h"

enum outlay_status finding_use_init(struct finding_use *use,
                                    const struct settings *settings,
                                    struct outlay_error *err)
{
    *use = (struct finding_use){.findings = settings->findings};
    if (!use->findings)
        return OUTLAY_OK;
    use->used = calloc(use->findings->item_count + 1, sizeof *use->used);
    return use->used ? OUTLAY_OK : outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}

void finding_use_release(struct finding_use *use)
{
    free(use->used);
    use->used = NULL;
}

void finding_use_building(struct finding_use *use, const struct building *building)
{
    for (size_t i = 0; i < building->roof_count; i++)
        for (size_t k = 0; k < building->roofs[i].finding_count; k++)
            use->used[building->roofs[i].findings[k] - use->findings->items] = true;
}

static enum outlay_status report_lost(const struct finding *finding,
                                      struct loose_problems *loose)
{
    struct text what = TEXT_INIT;
    struct problem problem = {.code = PROBLEM_FINDING_NO_ROOF,
                              .done = "not used: mend the row and run again"};
    enum outlay_status status = OUTLAY_OK;

    if (*finding->roof)
        text_printf(&what, "%s, column roof_id: no roof has the id \"%.60s\"",
                    finding->where, finding->roof);
    else
        text_printf(&what, "%s, column roof_id: empty, and its point lies on no roof",
                    finding->where);
    problem.what = what.data;
    status = what.failed ? outlay_fail(loose->err, OUTLAY_E_MEMORY, "out of memory")
                         : loose_problem(loose, &problem);
    text_release(&what);
    return status;
}

enum outlay_status finding_use_report(const struct finding_use *use,
                                      const struct settings *settings,
                                      struct loose_problems *loose)
{
    const struct findings *findings = use->findings;
    bool part = settings->read.where || settings->read.has_bbox;
    enum outlay_status status = OUTLAY_OK;

    for (const struct problem *doubt = findings ? findings->doubts : NULL;
         doubt && status == OUTLAY_OK; doubt = doubt->next)
        status = loose_problem(loose, doubt);
    for (size_t i = 0; findings && !part && i < findings->count && status == OUTLAY_OK;
         i++)
        if (!use->used[findings->by_roof[i] - findings->items])
            status = report_lost(findings->by_roof[i], loose);
    return status;
}
