#include "roof/normalise.h"

#include <math.h>

#include "base/units.h"
#include "geo/repair.h"
#include "geo/round.h"

/* Outlines with less area hold nothing to plan, m2 (ours). */
static const double area_min = 0.5;

/* The middle of the box around all roofs. Longitudes are taken next to the first one,
 * so that a building across the antimeridian has a middle. @return false: no points */
static bool building_middle(const struct building *building, struct point *out)
{
    struct box box = box_empty();
    double near = NAN;

    for (size_t r = 0; r < building->roof_count; r++) {
        const struct region *region = &building->roofs[r].lonlat;

        for (size_t i = 0; i < region->polygon_count; i++)
            for (size_t k = 0; k < region->polygons[i].rings[0].count; k++) {
                struct point p = region->polygons[i].rings[0].points[k];

                if (isnan(near))
                    near = p.x;
                /* untouched where it can be, or the frame would depend on which point
                 * comes first */
                p.x += p.x - near > 180 ? -360 : (p.x - near < -180 ? 360 : 0);
                box_add(&box, p);
            }
    }
    *out = (struct point){(box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2};
    return !isnan(near);
}

static void refuse_reach(struct building *building, struct roof *roof, double reach,
                         double half_size)
{
    if (half_size > OUTLINE_REACH_MAX)
        roof_problem(building->arena, roof, PROBLEM_TOO_LARGE,
                     "left out; perhaps its coordinates are in another CRS: --crs names "
                     "it",
                     "the outline is %.0f km across", 2 * half_size / 1000);
    else
        roof_problem(building->arena, roof, PROBLEM_TOO_LARGE,
                     "left out; perhaps other buildings bear the same name: --field "
                     "building= reads none",
                     "the outline reaches %.0f km from the middle of its building",
                     reach / 1000);
}

static double reach_of(const struct region *region)
{
    struct box box = region_box(region);

    return hypot(fmax(-box.min_x, box.max_x), fmax(-box.min_y, box.max_y));
}

static void project(const struct building *building, struct geo_ctx *ctx,
                    struct region *region)
{
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            frame_to_local(&building->frame, ctx, region->polygons[i].rings[j].points,
                           region->polygons[i].rings[j].count);
}

/* A repair that changes the area by more than this share may have got it wrong (ours). */
static const double repair_doubt = 0.01;

static void report_repair(struct building *building, struct roof *roof,
                          const struct repair *repair)
{
    static const char done[] = "repaired outline used";
    double before = repair->area_before;
    double after = repair->area_after;

    if (!repair->changed)
        return;
    if (fabs(after - before) > repair_doubt * after)
        roof_assume(roof, ASSUME_OUTLINE);
    if (after > 2 * before) /* parts that run the other way round count as negative */
        roof_problem(building->arena, roof, PROBLEM_REPAIRED, done,
                     "%s; area %.1f ft2 (%.2f m2) after repair; before, parts of it "
                     "cancelled out: look at the outline",
                     repair->reason, after / M2_PER_FT2, after);
    else
        roof_problem(building->arena, roof, PROBLEM_REPAIRED, done,
                     "%s; area %.1f ft2 (%.2f m2) before, %.1f ft2 (%.2f m2) after "
                     "repair (%+.2f %%)",
                     repair->reason, before / M2_PER_FT2, before, after / M2_PER_FT2,
                     after, 100 * (after / before - 1));
}

static const char *const left_out = "roof left out";

/* Checks the size; what passes is the outline that all later stages trust. */
static enum outlay_status accept(struct building *building, struct roof *roof,
                                 struct geo_ctx *ctx, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    roof->area = region_area(&roof->outline);
    if (roof->area < area_min) {
        roof_problem(building->arena, roof, PROBLEM_ZERO_AREA, left_out,
                     "the outline holds %.3f ft2 (%.4f m2), less than %.1f ft2 (%.1f m2)",
                     roof->area / M2_PER_FT2, roof->area, area_min / M2_PER_FT2,
                     area_min);
        roof->area = NAN;
        return OUTLAY_OK;
    }
    status = regions_to_lonlat(ctx, building->arena, &building->frame, &roof->outline, 1,
                               false, &roof->lonlat, err);
    roof->whole = status == OUTLAY_OK;
    return status;
}

static enum outlay_status normalise(struct building *building, struct roof *roof,
                                    struct geo_ctx *ctx, struct outlay_error *err)
{
    struct region local = {NULL, 0};
    struct repair repair;
    enum outlay_status status = region_copy(building->arena, &roof->lonlat, &local);

    if (status != OUTLAY_OK)
        return outlay_fail(err, status, "normalising an outline");
    project(building, ctx, &local);
    if (reach_of(&local) > OUTLINE_REACH_MAX) {
        struct box box = region_box(&local);

        refuse_reach(building, roof, reach_of(&local),
                     hypot(box.max_x - box.min_x, box.max_y - box.min_y) / 2);
        return OUTLAY_OK;
    }
    status = outline_repair(ctx, building->arena, &local, &roof->outline, &repair, err);
    if (status != OUTLAY_OK)
        return status;
    report_repair(building, roof, &repair);
    return accept(building, roof, ctx, err);
}

enum outlay_status normalise_building(struct building *building, struct geo_ctx *ctx,
                                      struct outlay_error *err)
{
    struct point middle = {0, 0};

    if (!building_middle(building, &middle))
        return OUTLAY_OK;
    frame_init(&building->frame, ctx, middle);
    for (size_t r = 0; r < building->roof_count; r++) {
        struct roof *roof = &building->roofs[r];
        struct outlay_error failure = {.status = OUTLAY_OK};
        enum outlay_status status = OUTLAY_OK;

        roof->area = NAN;
        if (roof->lonlat.polygon_count > 0)
            status = normalise(building, roof, ctx, &failure);
        if (status == OUTLAY_E_MEMORY)
            return outlay_fail(err, status, "%s", failure.what);
        if (status != OUTLAY_OK)
            roof_problem(building->arena, roof, PROBLEM_REPAIR_FAILED, left_out, "%s",
                         failure.what);
    }
    return OUTLAY_OK;
}
