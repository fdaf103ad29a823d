#include "price/scope.h"

#include <math.h>
#include <stddef.h>

/* Of 100: deteriorated up to this. */
#define DETERIORATED 30

/* Why the old cover can't stay; NULL: it can. What is known comes before what isn't. */
static const char *against(const struct attributes *given, double wet_limit)
{
    if (given->covers >= 2)
        return "two or more covers (building code)";
    if (given->wet_share > wet_limit)
        return wet_limit > 0 ? "wet above the local limit"
                             : "wet insulation (published criteria)";
    if (given->condition <= DETERIORATED)
        return "cover too deteriorated to build on (building code; condition of 30 or "
               "less, ours)";
    if (given->existing == EXISTING_SINGLE_PLY)
        return "old single-ply is removed (published specification)";
    if (given->existing == EXISTING_BALLASTED)
        return "ballast is removed (common practice, no source)";
    if (given->covers < 0)
        return "assumed: number of covers not given";
    if (isnan(given->wet_share))
        return "assumed: moisture not given";
    return NULL;
}

static const char *in_favour(const struct attributes *given)
{
    if (given->wet_share > 0)
        return "one cover, wet below the local limit: the wet part is torn off";
    if (given->existing == EXISTING_NOT_GIVEN)
        return "one dry cover; assumed fit to build on: its kind isn't given";
    return "one dry cover";
}

void scope_run(struct building *building, const struct scope_settings *settings)
{
    for (size_t i = 0; i < building->roof_count; i++) {
        struct roof *roof = &building->roofs[i];
        const char *reason = against(&roof->given, settings->wet_limit);

        if (roof->given.covers == 0) {
            roof->scope_reason = "no old cover";
            continue;
        }
        roof->scope = reason ? SCOPE_TEAR_OFF : SCOPE_RECOVER;
        roof->scope_reason = reason ? reason : in_favour(&roof->given);
    }
}
