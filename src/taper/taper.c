#include "taper/taper.h"

#include "base/units.h"
#include "geo/outline.h"
#include "roof/edges.h"
#include "roof/field.h"
#include "roof/fixtures.h"

/* Radians in a degree. */
static const double radian = 0.017453292519943295769;

/* Corners of cells so near to an edge lie on it, m: traced edges are straightened. */
static const double on_edge = 0.05;

struct taper_settings taper_defaults(void)
{
    return (struct taper_settings){
        .model = TAPER_AUTO, .least = NAN, .contour = M_PER_IN};
}

/* The boards': along the ribs where their direction is known, else along the longest
 * straight edge, as takeoff/ lays them. */
static enum outlay_status find_bearing(struct arena *arena, const struct roof *roof,
                                       double *out)
{
    struct field field = roof_field(roof);
    struct point from = {0, 0};
    struct point to = {1, 0};

    if (isfinite(roof->given.deck_bearing)) {
        *out = (90 - roof->given.deck_bearing) * radian;
        return OUTLAY_OK;
    }
    if (region_longest_edge(arena, &field.outline, &from, &to) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    *out = atan2(to.y - from.y, to.x - from.x);
    return OUTLAY_OK;
}

/* The greatest thickness along an edge: in a corner of a cell, since it is linear between
 * these. */
static double most_along(const struct taper *taper, const struct edge *edge)
{
    double most = fmax(taper_at(taper, edge->from), taper_at(taper, edge->to));

    for (size_t i = 0; i < taper->cell_count; i++) {
        const struct taper_cell *cell = &taper->cells[i];

        for (size_t k = 0; k < cell->ring.count; k++)
            if (segment_distance(cell->ring.points[k], edge->from, edge->to) < on_edge)
                most = fmax(most, taper_thickness_in(cell, cell->ring.points[k]));
    }
    return most;
}

static enum outlay_status measure_edges(struct arena *arena, const struct roof *roof)
{
    struct taper *taper = roof->taper;
    struct field field = roof_field(roof);

    taper->edge_most = arena_array(arena, field.edge_count, sizeof *taper->edge_most);
    if (!taper->edge_most)
        return OUTLAY_E_MEMORY;
    for (size_t k = 0; k < field.edge_count; k++)
        taper->edge_most[k] = most_along(taper, &field.edges[k]);
    return OUTLAY_OK;
}

/* ---- What is said ---- */

static void say_lacking(struct arena *arena, struct roof *roof)
{
    const struct taper *taper = roof->taper;
    double slope = taper->slope;

    if (taper->lacking)
        roof_problem(arena, roof, PROBLEM_TAPER_LACKING,
                     "no tapered insulation is counted: give the drains by --fixtures",
                     "a taper of %.3g in a foot (%.3g %%) was asked for, and %s",
                     slope * 12, slope * 100, taper->lacking);
    if (taper->panels_lacking)
        roof_problem(arena, roof, PROBLEM_TAPER_LACKING,
                     "thickness and volume are right, panels aren't counted: add rows to "
                     "the table of --panels",
                     "taper of %.3g in a foot (%.3g %%), %.3g in (%.0f mm) thick at "
                     "drains: %s",
                     slope * 12, slope * 100, taper->least / M_PER_IN,
                     taper->least * 1000, taper->panels_lacking);
    if (taper->crickets_lacking)
        roof_problem(arena, roof, PROBLEM_TAPER_LACKING,
                     "crickets' panels aren't counted: add rows to the table of --panels",
                     "crickets of %.3g in a foot (%.3g %%): %s", 2 * slope * 12,
                     2 * slope * 100, taper->crickets_lacking);
}

static void say_unreached(struct arena *arena, struct roof *roof)
{
    double area = roof->taper->unreached;

    if (area > 0)
        roof_problem(arena, roof, PROBLEM_TAPER_UNREACHED,
                     "no tapered insulation is counted there: give each part its drains",
                     "%.0f ft2 (%.1f m2) from which no drain can be reached on this roof",
                     area / M2_PER_FT2, area);
}

/* ---- The stage ---- */

static struct point *find_drains(struct arena *arena, const struct roof *roof,
                                 size_t *count)
{
    struct point *drains = arena_array(arena, roof->fixture_count, sizeof *drains);

    *count = 0;
    for (size_t i = 0; drains && i < roof->fixture_count; i++)
        if (roof->fixtures[i].kind == FIXTURE_DRAIN ||
            roof->fixtures[i].kind == FIXTURE_SCUPPER)
            drains[(*count)++] = roof->fixtures[i].at;
    return drains;
}

static enum outlay_status taper_roof(struct arena *arena, struct roof *roof,
                                     const struct taper_settings *settings)
{
    struct field field = roof_field(roof);
    struct taper_place place = {.outline = &field.outline, .slope = roof->given.taper};
    enum outlay_status status = OUTLAY_OK;

    roof->taper = arena_alloc(arena, sizeof *roof->taper);
    place.drains = find_drains(arena, roof, &place.drain_count);
    if (!roof->taper || !place.drains)
        return OUTLAY_E_MEMORY;
    if (place.drain_count == 0) {
        *roof->taper = (struct taper){.lacking = "the places of its drains aren't known",
                                      .slope = place.slope};
    } else {
        status = find_bearing(arena, roof, &place.bearing);
        if (status == OUTLAY_OK)
            status = taper_find(arena, &place, settings, roof->taper);
        if (status == OUTLAY_OK)
            status = measure_edges(arena, roof);
        if (settings->model == TAPER_AUTO || isnan(settings->least))
            roof_assume(roof, ASSUME_TAPER);
    }
    say_lacking(arena, roof);
    say_unreached(arena, roof);
    return status;
}

enum outlay_status taper_run(struct building *building,
                             const struct taper_settings *settings,
                             struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < building->roof_count && status == OUTLAY_OK; i++) {
        struct roof *roof = &building->roofs[i];

        if (roof->zoned && isfinite(roof->given.taper) && !roof_all_wall(roof))
            status = taper_roof(building->arena, roof, settings);
    }
    return status == OUTLAY_OK ? status : outlay_fail(err, status, "out of memory");
}
