#include <math.h>

#include "flow/stages.h"
#include "roof/storeys.h"

static void set_height(struct arena *arena, struct roof *roof)
{
    roof->height = roof->given.height;
    if (isfinite(roof->height))
        return;
    if (isfinite(roof->given.storeys)) {
        roof->height = height_of_storeys(roof->given.storeys);
        roof->estimated |= 1u << ESTIMATE_HEIGHT;
        return;
    }
    /* Without an outline the roof is left out for that. */
    if (roof->lonlat.polygon_count == 0)
        return;
    roof_problem(arena, roof, PROBLEM_HEIGHT_MISSING,
                 "left out: no zones; give a height or storeys",
                 "no usable height and no storeys");
}

static void set_storeys(struct roof *roof, bool needed)
{
    roof->storeys = roof->given.storeys;
    if (isfinite(roof->storeys) || !needed || !isfinite(roof->height))
        return;
    roof->storeys = storeys_of_height(roof->height);
    roof->estimated |= 1u << ESTIMATE_STOREYS;
}

enum outlay_status heights_run(struct building *building, const struct settings *settings,
                               struct geo_ctx *ctx, struct outlay_error *err)
{
    (void)ctx;
    (void)err;
    for (size_t i = 0; i < building->roof_count; i++) {
        set_height(building->arena, &building->roofs[i]);
        set_storeys(&building->roofs[i], settings->attach.edge_rule == RULE_STOREY);
    }
    return OUTLAY_OK;
}
