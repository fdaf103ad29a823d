/* From drains to the facet. */

#include "base/units.h"
#include "taper/taper_private.h"

/* Less of a roof without a drain isn't spoken of, m2. */
static const double unreached_least = 0.5 * M2_PER_FT2;

struct plane taper_thickness(const struct taper_work *w, const struct piece *piece)
{
    double slope = w->out->slope;
    struct plane sum = {piece->distance.at + piece->cricket.at,
                        piece->distance.x + piece->cricket.x,
                        piece->distance.y + piece->cricket.y};

    return (struct plane){w->out->least + slope * sum.at, slope * sum.x, slope * sum.y};
}

/* A plane of the axes in the frame. */
static void into_frame(const struct taper_work *w, struct plane plane,
                       struct taper_cell *out)
{
    out->rise.x = plane.x * w->along.x - plane.y * w->along.y;
    out->rise.y = plane.x * w->along.y + plane.y * w->along.x;
    out->base = plane.at - out->rise.x * w->origin.x - out->rise.y * w->origin.y;
}

static enum outlay_status add_cell(struct taper_work *w, const struct piece *piece,
                                   struct plane thickness)
{
    struct taper_cell *cell = &w->out->cells[w->out->cell_count++];

    *cell = (struct taper_cell){.cricket = piece->cricket.x != 0};
    into_frame(w, thickness, cell);
    cell->ring.count = piece->ring.count;
    cell->ring.points =
        arena_array(w->arena, piece->ring.count, sizeof *cell->ring.points);
    if (!cell->ring.points)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < piece->ring.count; i++)
        cell->ring.points[i] = taper_to_frame(w, piece->ring.points[i]);
    return OUTLAY_OK;
}

static enum outlay_status add_cells(struct taper_work *w)
{
    struct taper *out = w->out;
    enum outlay_status status = OUTLAY_OK;

    out->cells = arena_array(w->arena, w->pieces.count, sizeof *out->cells);
    if (!out->cells)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < w->pieces.count && status == OUTLAY_OK; i++) {
        const struct piece *piece = &w->pieces.items[i];
        struct plane thickness = taper_thickness(w, piece);
        double area = ring_area(piece->ring);

        if (!isfinite(piece->distance.at)) {
            out->unreached += area;
            continue;
        }
        out->area += area;
        out->volume += plane_integral(thickness, piece->ring);
        out->most = fmax(out->most, plane_most(thickness, piece->ring));
        status = add_cell(w, piece, thickness);
    }
    if (out->unreached < unreached_least)
        out->unreached = 0;
    return status;
}

/* As the setting says, else as the catalogue's panels begin, else 1/2 in (ours). */
static double least_of(const struct taper_settings *settings, double slope)
{
    struct panel_sequence sequence = panels_of_slope(settings->panels, slope);

    if (isfinite(settings->least))
        return settings->least;
    return sequence.count > 0 ? sequence.panels[0].thin : 0.5 * M_PER_IN;
}

enum outlay_status taper_find(struct arena *arena, const struct taper_place *place,
                              const struct taper_settings *settings, struct taper *out)
{
    struct taper_work w = {
        .arena = arena, .place = place, .settings = settings, .out = out};
    enum outlay_status status;

    *out = (struct taper){.slope = place->slope,
                          .least = least_of(settings, place->slope),
                          .drains = place->drain_count,
                          .contour_step = settings->contour};
    status = drains_place(&w);
    if (status == OUTLAY_OK)
        status = reach_find(arena, &w.region, &w.slabs, &w.sources, &w.pieces);
    if (status == OUTLAY_OK)
        status = crickets_lay(&w);
    if (status == OUTLAY_OK)
        status = add_cells(&w);
    if (status == OUTLAY_OK)
        status = contours_draw(&w);
    return status == OUTLAY_OK ? panels_cut(&w) : status;
}
