#include "read/outline.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/plural.h"

/* Longitudes up to a full turn either way pass: outlines at the antimeridian are written
 * as 179 to 181 or -181 to -179 by some, and the local frame takes any of them. */
static const double lon_limit = 360;
static const double lat_limit = 90;

/* ---- What isn't a polygon ---------------------------------------------------- */

static bool is_line(const char *type)
{
    return strstr(type, "String") || strstr(type, "Curve");
}

void outline_refuse_type(struct arena *arena, struct roof *roof, const char *type,
                         struct outline_others *others)
{
    if (others->count++ == 0)
        snprintf(others->first, sizeof others->first, "%s", type);
    roof_problem(arena, roof, PROBLEM_NOT_POLYGON,
                 is_line(type)
                     ? "left out; ogr2ogr -nlt POLYGON makes polygons of closed "
                       "lines"
                     : "roof left out",
                 "the geometry is a %.40s, not a polygon", type);
}

void outline_tell_others(struct arena *arena, struct roof *roof, size_t parts)
{
    roof_problem(arena, roof, PROBLEM_REPAIRED, "only its polygons taken",
                 parts == 1 ? "a collection with %zu part that isn't a polygon"
                            : "a collection with %zu parts that aren't polygons",
                 parts);
}

enum outlay_status outline_fail_type(const char *type, struct outlay_error *err)
{
    if (is_line(type)) {
        outlay_fail(err, OUTLAY_E_INPUT, "these are lines (%.40s), not polygons", type);
        outlay_fail_todo(err, "closed lines become polygons by: ogr2ogr -nlt POLYGON "
                              "polygons.gpkg LINES; open ones must be closed first");
    } else if (strstr(type, "Point")) {
        outlay_fail(err, OUTLAY_E_INPUT, "these are points (%.40s), not polygons", type);
        outlay_fail_todo(err, "give the layer that has the outlines of these roofs");
    } else {
        outlay_fail(err, OUTLAY_E_INPUT, "no polygons in it: its geometry is %.40s",
                    type);
        outlay_fail_todo(err, "give a layer of roof outlines (in CSV: a column \"wkt\")");
    }
    return OUTLAY_E_INPUT;
}

/* ---- Outlines ---------------------------------------------------- */

static bool same_point(struct point a, struct point b)
{
    return a.x == b.x && a.y == b.y;
}

/* Rings of fewer than three points have no inside. Drops them, and polygons whose shell
 * is one. Returns how many rings went. */
static size_t open_rings(struct region *region)
{
    size_t polygons = 0, dropped = 0;

    for (size_t i = 0; i < region->polygon_count; i++) {
        struct polygon polygon = region->polygons[i];
        size_t rings = 0;

        for (size_t j = 0; j < polygon.ring_count; j++) {
            struct ring ring = polygon.rings[j];

            if (ring.count > 1 && same_point(ring.points[0], ring.points[ring.count - 1]))
                ring.count--;
            if (ring.count >= 3) {
                polygon.rings[rings++] = ring;
                continue;
            }
            dropped++;
            if (j == 0)
                break; /* holes without a shell mean nothing */
        }
        polygon.ring_count = rings;
        if (rings)
            region->polygons[polygons++] = polygon;
    }
    region->polygon_count = polygons;
    return dropped;
}

static bool all_finite(const struct region *region)
{
    for (size_t i = 0; i < region->polygon_count; i++) {
        for (size_t j = 0; j < region->polygons[i].ring_count; j++) {
            struct ring ring = region->polygons[i].rings[j];

            for (size_t k = 0; k < ring.count; k++)
                if (!isfinite(ring.points[k].x) || !isfinite(ring.points[k].y))
                    return false;
        }
    }
    return true;
}

/* No roof reaches over a degree of latitude, 111 km: those are metres or feet. */
static const double lat_extent_limit = 1;

static bool in_range(struct box box)
{
    return box.max_y - box.min_y <= lat_extent_limit && box.min_x >= -lon_limit &&
           box.max_x <= lon_limit && box.min_y >= -lat_limit && box.max_y <= lat_limit;
}

static enum outline_state refuse(struct roof *roof, enum outline_state state)
{
    roof->lonlat = (struct region){0};
    return state;
}

/* The place in whole degrees: the same words for a whole city are said once. */
static void check_place(struct arena *arena, struct roof *roof,
                        const struct projection *projection, struct box box)
{
    struct point middle = {(box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2};

    if (projection_outside(projection, middle))
        roof_problem(arena, roof, PROBLEM_OUTSIDE_CRS,
                     "kept, but its area may be wrong; if the place is, name the CRS "
                     "with --crs, or swap x and y",
                     "near longitude %.0f, latitude %.0f it lies outside the area of use "
                     "of the CRS (%s)",
                     middle.x, middle.y, projection->name);
}

enum outlay_status outline_settle(struct arena *arena, struct roof *roof,
                                  struct projection *projection,
                                  enum outline_state *state, struct outlay_error *err)
{
    struct region *region = &roof->lonlat;
    enum outlay_status status;
    struct box box;
    size_t dropped, lost;

    *state = OUTLINE_USABLE;
    if (region->polygon_count == 0) {
        *state = OUTLINE_NONE; /* outline_from_...() said why */
        return OUTLAY_OK;
    }
    if (!all_finite(region)) {
        roof_problem(arena, roof, PROBLEM_NOT_FINITE, "roof left out",
                     "a coordinate is missing, infinite or not a number");
        *state = refuse(roof, OUTLINE_NONE);
        return OUTLAY_OK;
    }
    dropped = open_rings(region);
    if (region->polygon_count == 0) {
        roof_problem(arena, roof, PROBLEM_ZERO_AREA, "roof left out",
                     "the outline has fewer than three points");
        *state = refuse(roof, OUTLINE_NONE);
        return OUTLAY_OK;
    }
    if (dropped)
        roof_problem(arena, roof, PROBLEM_REPAIRED,
                     dropped == 1 ? "that ring left out" : "those rings left out",
                     "%zu of its rings with fewer than three points", dropped);
    status = projection_apply(projection, region, &lost, err);
    if (status != OUTLAY_OK)
        return status;
    if (lost) {
        roof_problem(arena, roof, PROBLEM_OUT_OF_RANGE,
                     "left out; name the CRS of the coordinates with --crs",
                     "%zu point%s without longitude and latitude in %s", lost,
                     PLURAL(lost), projection->name);
        *state = refuse(roof, OUTLINE_OUT_OF_RANGE);
        return OUTLAY_OK;
    }
    box = region_box(region);
    if (!in_range(box)) {
        roof_problem(arena, roof, PROBLEM_OUT_OF_RANGE,
                     "left out; name the CRS of the coordinates with --crs",
                     "x %.10g to %.10g, y %.10g to %.10g can't be a roof in degrees",
                     box.min_x, box.max_x, box.min_y, box.max_y);
        *state = refuse(roof, OUTLINE_OUT_OF_RANGE);
        return OUTLAY_OK;
    }
    check_place(arena, roof, projection, box);
    return OUTLAY_OK;
}
