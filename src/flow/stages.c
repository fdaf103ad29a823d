#include "flow/stages.h"

#include "flow/draws.h"
#include "options/selection.h"
#include "roof/normalise.h"
#include "roof/sections.h"
#include "takeoff/walkway.h"

static enum outlay_status normalise_stage(struct building *building,
                                          const struct settings *settings,
                                          struct geo_ctx *ctx, struct outlay_error *err)
{
    (void)settings;
    return normalise_building(building, ctx, err);
}

static enum outlay_status zones_stage(struct building *building,
                                      const struct settings *settings,
                                      struct geo_ctx *ctx, struct outlay_error *err)
{
    return zoning_run(building, &settings->zoning, ctx, err);
}

static enum outlay_status uplift_stage(struct building *building,
                                       const struct settings *settings,
                                       struct geo_ctx *ctx, struct outlay_error *err)
{
    (void)ctx;
    (void)err;
    uplift_run(building, &settings->uplift);
    return OUTLAY_OK;
}

static enum outlay_status basis_stage(struct building *building,
                                      const struct settings *settings,
                                      struct geo_ctx *ctx, struct outlay_error *err)
{
    (void)ctx;
    (void)err;
    basis_run(building, &settings->basis);
    return OUTLAY_OK;
}

static enum outlay_status sections_stage(struct building *building,
                                         const struct settings *settings,
                                         struct geo_ctx *ctx, struct outlay_error *err)
{
    enum outlay_status status = sections_run(building);

    (void)settings;
    (void)ctx;
    if (status != OUTLAY_OK)
        outlay_fail(err, status, "finding sections that are one roof");
    return status;
}

static enum outlay_status attach_stage(struct building *building,
                                       const struct settings *settings,
                                       struct geo_ctx *ctx, struct outlay_error *err)
{
    (void)ctx;
    return attach_run(building, &settings->attach, err);
}

static enum outlay_status scope_stage(struct building *building,
                                      const struct settings *settings,
                                      struct geo_ctx *ctx, struct outlay_error *err)
{
    (void)ctx;
    (void)err;
    scope_run(building, &settings->scope);
    return OUTLAY_OK;
}

static enum outlay_status takeoff_stage(struct building *building,
                                        const struct settings *settings,
                                        struct geo_ctx *ctx, struct outlay_error *err)
{
    return takeoff_run(building, &settings->takeoff, ctx, err);
}

static enum outlay_status taper_stage(struct building *building,
                                      const struct settings *settings,
                                      struct geo_ctx *ctx, struct outlay_error *err)
{
    (void)ctx;
    return taper_run(building, &settings->taper, err);
}

static enum outlay_status walkways_stage(struct building *building,
                                         const struct settings *settings,
                                         struct geo_ctx *ctx, struct outlay_error *err)
{
    (void)settings;
    (void)ctx;
    return walkways_run(building, err);
}

static enum outlay_status quantities_stage(struct building *building,
                                           const struct settings *settings,
                                           struct geo_ctx *ctx, struct outlay_error *err)
{
    (void)ctx;
    return order_run(building, &settings->order, err);
}

static enum outlay_status price_stage(struct building *building,
                                      const struct settings *settings,
                                      struct geo_ctx *ctx, struct outlay_error *err)
{
    (void)ctx;
    return price_run(building, &settings->price, err);
}

static enum outlay_status orders_stage(struct building *building,
                                       const struct settings *settings,
                                       struct geo_ctx *ctx, struct outlay_error *err)
{
    (void)ctx;
    return orders_run(building, &settings->order, err);
}

const struct stage stages[] = {
    {"normalise", false, normalise_stage},
    {"fixtures", false, fixtures_run},
    {"lines", false, lines_run},
    {"given", false, given_run},
    {"heights", false, heights_run},
    {"zones", false, zones_stage},
    {"edge readings", false, edge_readings_run},
    {"uplift", false, uplift_stage},
    {"basis", false, basis_stage},
    {"pullouts", false, pullouts_run},
    {"scope", true, scope_stage},
    {"sections", false, sections_stage},
    {"attach", false, attach_stage},
    {"takeoff", true, takeoff_stage},
    {"taper", true, taper_stage},
    {"walkways", true, walkways_stage},
    {"quantities", true, quantities_stage},
    {"price", true, price_stage},
    {"orders", true, orders_stage},
    {"draws", false, draws_run},
    {"survey", false, survey_run},
    {"words", false, words_run},
};

const size_t stage_count = sizeof stages / sizeof stages[0];

enum outlay_status stages_run(struct building *building, const struct settings *settings,
                              bool layouts, struct geo_ctx *ctx, struct outlay_error *err)
{
    for (size_t i = 0; i < stage_count; i++) {
        enum outlay_status status = OUTLAY_OK;
        if (stages[i].layout && !(layouts && selection_meets(settings, building)))
            continue;
        status = stages[i].run(building, settings, ctx, err);
        if (status != OUTLAY_OK) {
            outlay_fail_where(err, "stage %s, roof %s", stages[i].name,
                              building->roofs[0].id);
            return status;
        }
    }
    /* Not every stage tells of what it had no memory for. */
    if (arena_failed(building->arena))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    return OUTLAY_OK;
}
