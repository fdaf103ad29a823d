/* Cover strips over the rows between seams, and lengths that follow from the rows. */

#include <math.h>

#include "takeoff/seam_private.h"

/* Over a straight row, from the start of one piece to the end of another. */
static enum outlay_status strip_lay(struct seam_work *w, struct point from,
                                    struct point to)
{
    double length = point_distance(from, to);
    struct point u = {(to.x - from.x) / length, (to.y - from.y) / length};
    struct point n = {-u.y * STRIP_WIDTH / 2, u.x * STRIP_WIDTH / 2};
    const struct half_plane sides[] = {
        {from, u},
        {to, {-u.x, -u.y}},
        {{from.x - n.x, from.y - n.y}, n},
        {{from.x + n.x, from.y + n.y}, {-n.x, -n.y}},
    };
    struct sheet strip = {.kind = SHEET_COVER_STRIP,
                          .width = STRIP_WIDTH,
                          .laid_width = STRIP_WIDTH,
                          .length = length};
    enum outlay_status status = region_cut(w, &w->roof->outline, sides, 4, &strip.region);

    strip.area = region_area(&strip.region);
    if (status == OUTLAY_OK && strip.area > 0 && !sheet_add(w, &strip))
        status = outlay_fail(w->err, OUTLAY_E_MEMORY, "laying cover strips");
    return status;
}

enum outlay_status strips_lay(struct seam_work *w)
{
    const struct row_piece *first = w->out->rows;
    const struct row_piece *end = first + w->out->row_count;
    enum outlay_status status = OUTLAY_OK;

    for (const struct row_piece *row = first; row < end && status == OUTLAY_OK; row++) {
        double length = point_distance(row->from, row->to);

        if (row->row != first->row)
            first = row;

        if (row->base)
            w->out->base_length += row->held ? 0 : length;
        else if (!row->intermediate)
            w->out->side_lap += length;
        else if (row + 1 == end || row[1].row != row->row)
            status = strip_lay(w, first->from, row->to);
    }
    return status;
}
