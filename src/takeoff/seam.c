#include "takeoff/seam.h"

#include <math.h>

#include "base/units.h"
#include "geo/hull.h"
#include "takeoff/seam_private.h"

/* An interior under two sheets wide joins the field: by the smallest rectangle around
 * each of its parts. */
static enum outlay_status interior_join(struct seam_work *w)
{
    const struct zone *interior = w->zones[ZONE_INTERIOR];

    w->joined = interior != NULL;
    for (size_t i = 0; interior && i < interior->region.polygon_count; i++) {
        struct rectangle around;

        if (smallest_rectangle(w->arena, interior->region.polygons[i].rings[0],
                               &around) != OUTLAY_OK)
            return outlay_fail(w->err, OUTLAY_E_MEMORY, "measuring the interior");
        w->joined = w->joined && around.shorter < 2 * w->assembly->sheet_width;
    }
    return OUTLAY_OK;
}

static enum outlay_status seam_prepare(struct seam_work *w)
{
    w->full = w->assembly->sheet_width - w->assembly->lap;
    w->half = w->assembly->sheet_width / 2 - w->assembly->lap;
    if (!zone_rings_list(w))
        return outlay_fail(w->err, OUTLAY_E_MEMORY, "laying out a roof");
    for (size_t i = 0; i < w->roof->zone_count; i++)
        w->zones[w->roof->zones[i].role] = &w->roof->zones[i];
    return interior_join(w);
}

enum edge_style takeoff_edge_style(const struct roof *roof,
                                   const struct takeoff_settings *settings)
{
    if (settings->style != EDGES_AUTO)
        return settings->style;
    return roof->basis.deck == DECK_STEEL ? EDGES_LINES : EDGES_FRAMES;
}

static enum edge_style style_for(const struct seam_work *w, int half_sheets)
{
    return half_sheets == 0 ? EDGES_LINES : takeoff_edge_style(w->roof, w->settings);
}

enum outlay_status base_securement(struct building *building, struct roof *roof,
                                   const struct takeoff_settings *settings,
                                   struct geo_ctx *ctx, struct layout *out,
                                   struct outlay_error *err)
{
    struct takeoff_settings counted = *settings;
    struct seam_work w = {.arena = building->arena,
                          .ctx = ctx,
                          .roof = roof,
                          .assembly = roof->assembly,
                          .settings = &counted,
                          .out = out,
                          .err = err};
    enum outlay_status status = OUTLAY_OK;

    counted.place_plates = false;
    if (!zone_rings_list(&w))
        return outlay_fail(err, OUTLAY_E_MEMORY, "laying base securement");
    status = base_lay(&w);
    rows_drop_held(&w);
    for (size_t k = 0; k < out->row_count; k++)
        out->base_length += point_distance(out->rows[k].from, out->rows[k].to);
    if (status == OUTLAY_OK)
        status = curbs_lay(&w);
    if (status == OUTLAY_OK && !rows_count(&w))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "laying base securement");
    return status;
}

enum outlay_status seam_layout(struct building *building, struct roof *roof,
                               const struct takeoff_settings *settings,
                               struct geo_ctx *ctx, struct layout *out,
                               struct outlay_error *err)
{
    struct seam_work w = {.arena = building->arena,
                          .ctx = ctx,
                          .roof = roof,
                          .assembly = roof->assembly,
                          .settings = settings,
                          .out = out,
                          .err = err};
    int half_sheets = roof->half_sheets > 0 ? roof->half_sheets : 0;
    enum outlay_status status = OUTLAY_OK;

    if (roof->zone_count == 0)
        return OUTLAY_OK;
    out->half_sheets = half_sheets;
    out->style = style_for(&w, half_sheets);
    status = seam_prepare(&w);
    if (status == OUTLAY_OK)
        status = base_lay(&w);
    if (status == OUTLAY_OK && out->style == EDGES_FRAMES)
        status = frames_lay(&w, half_sheets);
    else if (status == OUTLAY_OK)
        status = lines_lay(&w, NULL, NULL, half_sheets);
    if (status == OUTLAY_OK)
        status = strips_lay(&w);
    if (status == OUTLAY_OK && !loads_settle(&w))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "measuring loads");
    if (status == OUTLAY_OK)
        status = curbs_lay(&w);
    if (status == OUTLAY_OK && !rows_count(&w))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "counting screws");
    rows_drop_held(&w);
    return status;
}
