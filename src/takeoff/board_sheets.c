/* Sheets over boards: full rolls edge to edge, independent of what holds the boards. */

#include "takeoff/board_grid.h"
#include "takeoff/seam_private.h"

enum outlay_status board_sheets(struct building *building, const struct roof *roof,
                                const struct axes *axes,
                                const struct takeoff_settings *settings,
                                struct geo_ctx *ctx, struct layout *out,
                                struct outlay_error *err)
{
    const struct assembly *assembly = roof->assembly;
    /* laid as seam-fastened sheets are, but without rows */
    struct seam_work w = {.arena = building->arena,
                          .ctx = ctx,
                          .roof = roof,
                          .assembly = assembly,
                          .settings = settings,
                          .full = assembly->sheet_width - assembly->lap,
                          .half = assembly->sheet_width / 2 - assembly->lap,
                          .out = out,
                          .err = err};

    if (!zone_rings_list(&w))
        return outlay_fail(err, OUTLAY_E_MEMORY, "laying sheets");
    out->bearing = atan2(axes->along.y, axes->along.x);
    return sheets_lay(&w, out->bearing);
}
