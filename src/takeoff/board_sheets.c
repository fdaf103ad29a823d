/* Sheets over boards: full rolls edge to edge, independent of what holds the boards; and
 * the securement at their edges. */

#include "base/units.h"
#include "takeoff/board_grid.h"

/* Spacing of base securement, m (common practice, no source). */
static const double base_spacing = 12 * M_PER_IN;

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

/* Sheets of one band: a piece of roof each, cut from rolls with end laps. */
static enum outlay_status band_lay(struct arena *arena, const struct axes *axes,
                                   struct region *pieces, const struct assembly *assembly,
                                   double roll_length, struct layout *out)
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
        double ends = 0;

        if (run < joint || box.max_y - box.min_y < joint)
            continue;
        if (run > roll_length)
            ends = ceil((run - roll_length) / (roll_length - assembly->lap) - 1e-9);
        if (region_to_frame(arena, axes, local.polygons, &sheet->region) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
        sheet->kind = SHEET_FULL;
        sheet->width = assembly->sheet_width;
        sheet->length = run;
        sheet->area = region_area(&local);
        out->end_lap += ends * (box.max_y - box.min_y);
        out->t_joints += 2 * (size_t)ends; /* at both side laps */
        out->sheet_count++;
    }
    return OUTLAY_OK;
}

enum outlay_status board_sheets(struct arena *arena, struct geo_ctx *ctx,
                                const struct roof *roof, const struct axes *axes,
                                const struct assembly *assembly, double roll_length,
                                struct layout *out, struct outlay_error *err)
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
        if (band_lay(arena, axes, &pieces, assembly, roll_length, out) != OUTLAY_OK)
            return outlay_fail(err, OUTLAY_E_MEMORY, "laying sheets");
    }
    return OUTLAY_OK;
}

/* Base securement of one ring: a row piece an edge, screws counted by one walk around.
 * Its spacing is the same in all zones; edges lie in the perimeter or in a corner, and
 * all pieces name the perimeter. */
static double base_ring(struct ring ring, size_t row, struct layout *out)
{
    double walked = 0;
    double screws = 0;

    for (size_t k = 0; k < ring.count; k++) {
        struct row_piece *piece = &out->rows[out->row_count++];
        double upto;

        *piece = (struct row_piece){
            .row = row,
            .closed = true,
            .base = true,
            .zone = ZONE_PERIMETER,
            .from = ring.points[k],
            .to = ring.points[(k + 1) % ring.count],
            .spacing = base_spacing,
            .tributary = NAN,
            .load = NAN,
        };
        walked += point_distance(piece->from, piece->to);
        upto = ceil(walked / base_spacing - 1e-9);
        piece->fasteners = (int)(upto - screws);
        screws = upto;
    }
    return walked;
}

enum outlay_status board_base(struct arena *arena, const struct roof *roof,
                              struct layout *out)
{
    bool parapet = roof->given.edge == EDGE_PARAPET ||
                   (roof->given.edge == EDGE_UNTOLD && roof->given.parapet > 0);
    double told = isnan(roof->given.wall_length) ? 0 : roof->given.wall_length;
    double wall = parapet ? roof->edge_length : fmin(told, roof->edge_length);
    size_t row = 0;

    out->rows = arena_array(arena, region_points(&roof->outline), sizeof *out->rows);
    if (!out->rows)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < roof->outline.polygon_count; i++) {
        const struct polygon *polygon = &roof->outline.polygons[i];

        for (size_t r = 0; r < polygon->ring_count; r++)
            out->base_length += base_ring(polygon->rings[r], row++, out);
    }
    out->wall_edge = wall + roof->inner_length;
    out->metal_edge = roof->edge_length - wall;
    return OUTLAY_OK;
}
