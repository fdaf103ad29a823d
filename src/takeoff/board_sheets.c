/* Sheets over boards: full rolls edge to edge, independent of what holds the boards. */

#include "takeoff/board_grid.h"

/* Narrower remains are no sheet, m (ours). */
static const double joint = 0.002;

/* Length of a line v = y inside the rings, m. */
static double line_length(const struct layer_rings *rings, double y)
{
    double length = 0;

    /* Signed: each crossing counts its place, up as plus, down as minus. */
    for (size_t i = 0; i < rings->count; i++) {
        struct ring ring = rings->items[i].ring;

        for (size_t k = 0; k < ring.count; k++) {
            struct point a = ring.points[k];
            struct point b = ring.points[(k + 1) % ring.count];

            if ((a.y > y) != (b.y > y)) {
                double x = a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x);

                length += b.y > a.y ? x : -x;
            }
        }
    }
    return length;
}

static enum outlay_status region_to_frame(struct arena *arena, const struct axes *axes,
                                          struct polygon *polygon, struct region *out)
{
    struct region one = {polygon, 1};

    if (region_copy(arena, &one, out) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    for (size_t r = 0; r < polygon->ring_count; r++) {
        for (size_t k = 0; k < polygon->rings[r].count; k++)
            out->polygons[0].rings[r].points[k] =
                axes_to_frame(axes, polygon->rings[r].points[k]);
    }
    return OUTLAY_OK;
}

/* Sheets of one band: a piece of roof each. */
static enum outlay_status band_lay(struct arena *arena, const struct axes *axes,
                                   struct region *pieces, const struct assembly *assembly,
                                   struct layout *out)
{
    struct sheet *sheets =
        arena_array(arena, out->sheet_count + pieces->polygon_count, sizeof *sheets);

    if (!sheets)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < out->sheet_count; i++)
        sheets[i] = out->sheets[i];
    out->sheets = sheets;
    for (size_t i = 0; i < pieces->polygon_count; i++) {
        struct region local = {&pieces->polygons[i], 1};
        struct box box = region_box(&local);
        struct sheet *sheet = &sheets[out->sheet_count];
        double run = box.max_x - box.min_x;

        if (run < joint || box.max_y - box.min_y < joint)
            continue;
        if (region_to_frame(arena, axes, local.polygons, &sheet->region) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
        sheet->kind = SHEET_FULL;
        sheet->width = assembly->sheet_width;
        sheet->length = run;
        sheet->area = region_area(&local);
        out->sheet_count++;
    }
    return OUTLAY_OK;
}

enum outlay_status board_sheets(struct arena *arena, struct geo_ctx *ctx,
                                const struct roof *roof, const struct axes *axes,
                                const struct assembly *assembly, struct layout *out,
                                struct outlay_error *err)
{
    double pitch = assembly->sheet_width - assembly->lap;
    struct layer_rings rings = {NULL, 0, 0};
    struct layer_rings band;
    struct region local;
    struct region pieces;
    struct box box;
    enum outlay_status status = OUTLAY_OK;

    if (axes_region(arena, axes, &roof->outline, &local) != OUTLAY_OK ||
        !layer_rings_add_region(arena, &rings, &local, 0))
        return outlay_fail(err, OUTLAY_E_MEMORY, "laying sheets");
    box = rings_box(&rings);
    out->bearing = atan2(axes->along.y, axes->along.x);
    for (double y = box.min_y; y < box.max_y - assembly->lap - joint || y == box.min_y;
         y += pitch) {
        if (rings_clip(arena, &rings, 1, y, y + assembly->sheet_width, &band) !=
            OUTLAY_OK)
            return outlay_fail(err, OUTLAY_E_MEMORY, "laying sheets");
        if (y > box.min_y)
            out->side_lap += line_length(&rings, y + assembly->lap / 2);
        if (band.count == 0)
            continue;
        status = rings_region(ctx, arena, &band, &pieces, err);
        if (status != OUTLAY_OK)
            return status;
        if (band_lay(arena, axes, &pieces, assembly, out) != OUTLAY_OK)
            return outlay_fail(err, OUTLAY_E_MEMORY, "laying sheets");
    }
    return OUTLAY_OK;
}
