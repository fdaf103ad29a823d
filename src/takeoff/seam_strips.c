/* Cover strips over the rows between seams, and lengths that follow from the rows. */

#include <math.h>

#include "takeoff/seam_private.h"

static enum outlay_status strip_lay(struct seam_work *w, const struct row_piece *row)
{
    double length = point_distance(row->from, row->to);
    struct point u = {(row->to.x - row->from.x) / length,
                      (row->to.y - row->from.y) / length};
    struct point n = {-u.y * STRIP_WIDTH / 2, u.x * STRIP_WIDTH / 2};
    const struct half_plane sides[] = {
        {row->from, u},
        {row->to, {-u.x, -u.y}},
        {{row->from.x - n.x, row->from.y - n.y}, n},
        {{row->from.x + n.x, row->from.y + n.y}, {-n.x, -n.y}},
    };
    struct sheet strip = {
        .kind = SHEET_COVER_STRIP, .width = STRIP_WIDTH, .length = length};
    enum outlay_status status = region_cut(w, &w->roof->outline, sides, 4, &strip.region);

    strip.area = region_area(&strip.region);
    if (status == OUTLAY_OK && strip.area > 0 && !sheet_add(w, &strip))
        status = outlay_fail(w->err, OUTLAY_E_MEMORY, "laying cover strips");
    return status;
}

enum outlay_status strips_lay(struct seam_work *w)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t k = 0; k < w->out->row_count && status == OUTLAY_OK; k++) {
        const struct row_piece *row = &w->out->rows[k];
        double length = point_distance(row->from, row->to);

        if (row->base)
            w->out->base_length += length;
        else if (row->intermediate)
            status = strip_lay(w, row);
        else
            w->out->side_lap += length;
    }
    return status;
}
