#include "read/projection.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include <cpl_conv.h>

#include "read/gdal_log.h"

/* Points a side of a box that is carried into another CRS, where sides are curves. */
static const int box_density = 21;

static bool is_lonlat(OGRSpatialReferenceH crs, OGRSpatialReferenceH wgs84)
{
    const char *const options[] = {"CRITERION=EQUIVALENT_EXCEPT_AXIS_ORDER_GEOGCRS",
                                   "IGNORE_DATA_AXIS_TO_SRS_AXIS_MAPPING=YES", NULL};

    return OSRIsSameEx(crs, wgs84, options);
}

static void name_crs(struct projection *projection)
{
    const char *authority = OSRGetAuthorityName(projection->crs, NULL);
    const char *code = OSRGetAuthorityCode(projection->crs, NULL);
    const char *name = OSRGetName(projection->crs);

    if (!name || !name[0])
        name = "a CRS without a name";
    if (authority && code)
        snprintf(projection->name, sizeof projection->name, "%s:%s, %s", authority, code,
                 name);
    else
        snprintf(projection->name, sizeof projection->name, "%s", name);
}

/* Where that is the whole earth, Antarctica is left out: nobody plans roofs there, but
 * swapped coordinates of North America come down there (ours). */
static const struct box whole_earth = {-180, -60, 180, 90};

static bool area_of(OGRSpatialReferenceH crs, struct box *area)
{
    return OSRGetAreaOfUse(crs, &area->min_x, &area->min_y, &area->max_x, &area->max_y,
                           NULL);
}

/* A CRS written out, as many .prj files have it, has no area of its own: that of the
 * registered one which it plainly is stands for it. */
static bool area_of_match(OGRSpatialReferenceH crs, struct box *area)
{
    int count = 0, *confidences = NULL;
    OGRSpatialReferenceH *matches = OSRFindMatches(crs, NULL, &count, &confidences);
    bool found = count > 0 && confidences[0] >= 90 && area_of(matches[0], area);

    OSRFreeSRSArray(matches);
    CPLFree(confidences);
    return found;
}

static void find_area(struct projection *projection)
{
    struct box *area = &projection->area;

    projection->has_area =
        area_of(projection->crs, area) || area_of_match(projection->crs, area);
    if (area->max_x - area->min_x >= 360 && area->min_y <= -90)
        *area = whole_earth;
}

static enum outlay_status pick_crs(struct projection *projection, const char *given,
                                   OGRSpatialReferenceH layer, struct outlay_error *err)
{
    if (given) {
        projection->crs = OSRNewSpatialReference(NULL);
        if (!projection->crs)
            return outlay_fail(err, OUTLAY_E_MEMORY, "setting up the CRS");
        if (OSRSetFromUserInput(projection->crs, given) != OGRERR_NONE) {
            outlay_fail(err, OUTLAY_E_USAGE, "\"%.100s\" isn't a known CRS", given);
            outlay_fail_todo(err, "give --crs as EPSG:<code>, e.g. --crs EPSG:2272");
            return OUTLAY_E_USAGE;
        }
    } else if (layer) {
        projection->crs = OSRClone(layer);
        if (!projection->crs)
            return outlay_fail(err, OUTLAY_E_MEMORY, "setting up the CRS");
    }
    if (projection->crs) {
        OSRSetAxisMappingStrategy(projection->crs, OAMS_TRADITIONAL_GIS_ORDER);
        name_crs(projection);
        find_area(projection);
    } else {
        snprintf(projection->name, sizeof projection->name, "none stated");
        projection->has_area = true;
        projection->area = whole_earth;
    }
    return OUTLAY_OK;
}

enum outlay_status projection_init(struct projection *projection, const char *given,
                                   OGRSpatialReferenceH layer, struct outlay_error *err)
{
    OGRSpatialReferenceH wgs84 = NULL;
    struct gdal_log log = {0};
    enum outlay_status status;

    *projection = (struct projection){0};
    gdal_log_begin(&log);
    status = pick_crs(projection, given, layer, err);
    if (status != OUTLAY_OK || !projection->crs)
        goto done;
    wgs84 = OSRNewSpatialReference(NULL);
    if (!wgs84 || OSRSetWellKnownGeogCS(wgs84, "WGS84") != OGRERR_NONE) {
        status = outlay_fail(err, OUTLAY_E_MEMORY, "setting up WGS 84");
        goto done;
    }
    OSRSetAxisMappingStrategy(wgs84, OAMS_TRADITIONAL_GIS_ORDER);
    if (is_lonlat(projection->crs, wgs84))
        goto done;
    projection->to_lonlat = OCTNewCoordinateTransformation(projection->crs, wgs84);
    if (!projection->to_lonlat) {
        status = outlay_fail(err, given ? OUTLAY_E_USAGE : OUTLAY_E_INPUT,
                             "no way from \"%.80s\" to longitude and latitude: %.100s",
                             projection->name, gdal_log_text(&log, "GDAL doesn't say"));
        outlay_fail_todo(err, "name the CRS of the coordinates with --crs EPSG:<code>");
    }

done:
    if (wgs84)
        OSRDestroySpatialReference(wgs84);
    gdal_log_end();
    if (status != OUTLAY_OK)
        projection_release(projection);
    return status;
}

void projection_release(struct projection *projection)
{
    if (projection->to_lonlat)
        OCTDestroyCoordinateTransformation(projection->to_lonlat);
    if (projection->crs)
        OSRDestroySpatialReference(projection->crs);
    free(projection->x);
    free(projection->y);
    free(projection->good);
    *projection = (struct projection){0};
}

static bool reserve(struct projection *projection, size_t count)
{
    size_t wanted = count < 256 ? 256 : count + count / 2;

    if (count <= projection->capacity)
        return true;
    free(projection->x);
    free(projection->y);
    free(projection->good);
    projection->x = calloc(wanted, sizeof *projection->x);
    projection->y = calloc(wanted, sizeof *projection->y);
    projection->good = calloc(wanted, sizeof *projection->good);
    projection->capacity = 0;
    if (!projection->x || !projection->y || !projection->good)
        return false;
    projection->capacity = wanted;
    return true;
}

/* Copies the points out of the region, or back into it. */
static size_t exchange(struct projection *projection, struct region *region, bool back)
{
    size_t n = 0;

    for (size_t i = 0; i < region->polygon_count; i++) {
        for (size_t j = 0; j < region->polygons[i].ring_count; j++) {
            struct ring ring = region->polygons[i].rings[j];

            for (size_t k = 0; k < ring.count; k++, n++) {
                if (back) {
                    bool good = projection->good[n];

                    ring.points[k].x = good ? projection->x[n] : (double)NAN;
                    ring.points[k].y = good ? projection->y[n] : (double)NAN;
                } else {
                    projection->x[n] = ring.points[k].x;
                    projection->y[n] = ring.points[k].y;
                }
            }
        }
    }
    return n;
}

enum outlay_status projection_apply(struct projection *projection, struct region *region,
                                    size_t *lost, struct outlay_error *err)
{
    size_t count = region_points(region);
    struct gdal_log log = {0};

    *lost = 0;
    if (!projection->to_lonlat || count == 0)
        return OUTLAY_OK;
    if (count > (size_t)1 << 30 || !reserve(projection, count))
        return outlay_fail(err, OUTLAY_E_MEMORY, "an outline of %zu points", count);
    exchange(projection, region, false);
    gdal_log_begin(&log); /* GDAL reports each point that it can't place */
    OCTTransformEx(projection->to_lonlat, (int)count, projection->x, projection->y, NULL,
                   projection->good);
    gdal_log_end();
    for (size_t i = 0; i < count; i++) {
        if (!projection->good[i] || !isfinite(projection->x[i]) ||
            !isfinite(projection->y[i])) {
            projection->good[i] = 0;
            ++*lost;
        }
    }
    exchange(projection, region, true);
    return OUTLAY_OK;
}

enum outlay_status projection_box(struct projection *projection, struct box lonlat,
                                  struct box *out, struct outlay_error *err)
{
    OGRCoordinateTransformationH back = NULL;
    struct gdal_log log = {0};
    int done = 1;

    *out = lonlat;
    if (!projection->to_lonlat)
        return OUTLAY_OK;
    gdal_log_begin(&log);
    back = OCTGetInverse(projection->to_lonlat);
    done = back && OCTTransformBounds(back, lonlat.min_x, lonlat.min_y, lonlat.max_x,
                                      lonlat.max_y, &out->min_x, &out->min_y, &out->max_x,
                                      &out->max_y, box_density);
    if (back)
        OCTDestroyCoordinateTransformation(back);
    gdal_log_end();
    if (!done || !isfinite(out->min_x) || !isfinite(out->max_x) ||
        !isfinite(out->min_y) || !isfinite(out->max_y)) {
        outlay_fail(err, OUTLAY_E_USAGE, "the box can't be carried into \"%s\"",
                    projection->name);
        outlay_fail_todo(err, "give --bbox in degrees as west,south,east,north near the "
                              "data");
        return OUTLAY_E_USAGE;
    }
    return OUTLAY_OK;
}

/* How far roofs may lie outside of the area of use, degrees (ours): some 100 km, for
 * those who keep to one zone a bit beyond its border. Coordinates in another CRS or unit
 * lie several degrees off. */
static const double area_slack = 1;

bool projection_outside(const struct projection *projection, struct point place)
{
    struct box area = projection->area;
    double east = area.max_x + (area.max_x < area.min_x ? 360 : 0);
    double turn = 360 * ceil((area.min_x - area_slack - place.x) / 360);

    return projection->has_area &&
           (place.y < area.min_y - area_slack || place.y > area.max_y + area_slack ||
            place.x + turn > east + area_slack);
}
