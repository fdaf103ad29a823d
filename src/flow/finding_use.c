#include "flow/finding_use.h"

#include <stdlib.h>

#include "base/text.h"
#include "roof/finding.h"

enum outlay_status finding_use_init(struct finding_use *use,
                                    const struct settings *settings,
                                    struct outlay_error *err)
{
    size_t findings = settings->findings ? settings->findings->item_count : 0;

    *use = (struct finding_use){.findings = settings->findings,
                                .closings = &settings->closings};
    use->roofs = calloc(findings + 1, sizeof *use->roofs);
    use->concerned = calloc(settings->closings.count + 1, sizeof *use->concerned);
    return use->roofs && use->concerned
               ? OUTLAY_OK
               : outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}

void finding_use_release(struct finding_use *use)
{
    free(use->roofs);
    free(use->concerned);
    use->roofs = NULL;
    use->concerned = NULL;
}

void finding_use_building(struct finding_use *use, const struct building *building)
{
    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];

        for (size_t k = 0; k < roof->finding_count; k++)
            use->roofs[roof->findings[k] - use->findings->items]++;
        for (size_t k = 0; k < use->closings->count; k++)
            use->concerned[k] =
                use->concerned[k] || closing_concerns(&use->closings->rows[k], roof);
    }
}

/* @param what  released */
static enum outlay_status report(struct loose_problems *loose, enum problem_code code,
                                 struct text *what, const char *done)
{
    struct problem problem = {.code = code, .what = what->data, .done = done};
    enum outlay_status status =
        what->failed ? outlay_fail(loose->err, OUTLAY_E_MEMORY, "out of memory")
                     : loose_problem(loose, &problem);

    text_release(what);
    return status;
}

static enum outlay_status report_lost(const struct finding *finding,
                                      struct loose_problems *loose)
{
    struct text what = TEXT_INIT;

    if (*finding->roof)
        text_printf(&what, "%s, column roof_id: no roof has the id \"%.60s\"",
                    finding->where, finding->roof);
    else
        text_printf(&what, "%s, column roof_id: empty, and its point lies on no roof",
                    finding->where);
    return report(loose, PROBLEM_FINDING_NO_ROOF, &what,
                  "not used: mend the row and run again");
}

/* Only one of them can have been looked at. */
static enum outlay_status report_several(const struct finding *finding, size_t roofs,
                                         struct loose_problems *loose)
{
    struct text what = TEXT_INIT;

    text_printf(&what, "%s, column roof_id: ", finding->where);
    if (*finding->roof)
        text_printf(&what, "%zu roofs have the id \"%.60s\"", roofs, finding->roof);
    else
        text_printf(&what, "empty, and its point lies on %zu roofs", roofs);
    return report(loose, PROBLEM_FINDING_ROOFS, &what,
                  "put on all of them, which can't be right: give each roof an id of its "
                  "own, the row that id, and run again");
}

static enum outlay_status report_idle(const struct closing_row *row,
                                      struct loose_problems *loose)
{
    struct text what = TEXT_INIT;

    text_printf(&what, "%s: no roof has the ", row->where);
    if (*row->roof)
        text_printf(&what, "id \"%.60s\"%s", row->roof, *row->building ? " in the " : "");
    if (*row->building)
        text_printf(&what, "building \"%.60s\"", row->building);
    return report(loose, PROBLEM_CLOSING_NO_ROOF, &what,
                  "closes nothing: mend the row and run again");
}

static enum outlay_status report_findings(const struct finding_use *use, bool part,
                                          struct loose_problems *loose)
{
    const struct findings *findings = use->findings;
    enum outlay_status status = OUTLAY_OK;

    for (const struct problem *doubt = findings->doubts; doubt && status == OUTLAY_OK;
         doubt = doubt->next)
        status = loose_problem(loose, doubt);
    for (size_t i = 0; i < findings->count && status == OUTLAY_OK; i++) {
        const struct finding *finding = findings->by_roof[i];
        size_t roofs = use->roofs[finding - findings->items];

        if (roofs > 1)
            status = report_several(finding, roofs, loose);
        else if (roofs == 0 && !part)
            status = report_lost(finding, loose);
    }
    return status;
}

enum outlay_status finding_use_report(const struct finding_use *use,
                                      const struct settings *settings,
                                      struct loose_problems *loose)
{
    bool part = settings->read.where || settings->read.has_bbox;
    enum outlay_status status =
        use->findings ? report_findings(use, part, loose) : OUTLAY_OK;

    for (size_t i = 0; !part && i < use->closings->count && status == OUTLAY_OK; i++)
        if (!use->concerned[i])
            status = report_idle(&use->closings->rows[i], loose);
    return status;
}
