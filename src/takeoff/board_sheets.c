/* Sheets over boards: full rolls edge to edge, independent of what holds the boards; and
 * the securement at their edges. Both are laid as for seam-fastened sheets. */

#include "takeoff/board_grid.h"
#include "takeoff/seam_private.h"

static void edges_sum_up(const struct roof *roof, struct layout *out)
{
    bool parapet = roof->given.edge == EDGE_PARAPET ||
                   (roof->given.edge == EDGE_UNTOLD && roof->given.parapet > 0);
    double told = isnan(roof->given.wall_length) ? 0 : roof->given.wall_length;
    double wall = parapet ? roof->edge_length : fmin(told, roof->edge_length);

    out->wall_edge = wall + roof->inner_length;
    out->metal_edge = roof->edge_length - wall;
    for (size_t k = 0; k < out->row_count; k++)
        out->base_length += point_distance(out->rows[k].from, out->rows[k].to);
}

enum outlay_status board_sheets(struct building *building, const struct roof *roof,
                                const struct assembly *assembly, const struct axes *axes,
                                const struct takeoff_settings *settings,
                                struct geo_ctx *ctx, struct layout *out,
                                struct outlay_error *err)
{
    /* plates are the boards': those of base securement are counted, not placed */
    struct takeoff_settings counted = *settings;
    struct seam_work w = {.arena = building->arena,
                          .ctx = ctx,
                          .roof = roof,
                          .assembly = assembly,
                          .settings = &counted,
                          .full = assembly->sheet_width - assembly->lap,
                          .half = assembly->sheet_width / 2 - assembly->lap,
                          .out = out,
                          .err = err};
    enum outlay_status status = OUTLAY_OK;

    counted.place_plates = false;
    for (size_t i = 0; i < roof->zone_count; i++)
        w.zones[roof->zones[i].role] = &roof->zones[i];
    if (!zone_rings_list(&w))
        return outlay_fail(err, OUTLAY_E_MEMORY, "laying sheets");
    out->bearing = atan2(axes->along.y, axes->along.x);
    status = base_lay(&w);
    if (status == OUTLAY_OK && !rows_count(&w))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "securing edges");
    if (status == OUTLAY_OK)
        status = sheets_lay(&w, out->bearing);
    edges_sum_up(roof, out);
    return status;
}
