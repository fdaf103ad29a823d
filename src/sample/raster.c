#include "sample/raster.h"

#include <stdlib.h>
#include <string.h>

#include <gdal.h>
#include <ogr_srs_api.h>

#include "read/gdal_log.h"
#include "sample/mask.h"

struct raster {
    const char *path;       /* borrowed */
    GDALDatasetH dataset;   /* owned */
    GDALRasterBandH band;   /* the dataset's, as the next */
    GDALRasterBandH masked; /* band of 0 and 255 that says what is known; NULL */
    OGRCoordinateTransformationH from_lonlat; /* owned */
    double to_pixel[6];                       /* inverse of the geotransform */
    int width, height;
    double nodata; /* NAN for none */
    double scale, offset;
    struct gdal_log log;
};

/* ---- Opening ------------------------------------------------------------------- */

static enum outlay_status refuse(const struct raster *raster, const char *what,
                                 const char *todo, struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_INPUT, "%s", what);
    outlay_fail_where(err, "%s", raster->path);
    outlay_fail_todo(err, "%s", todo);
    return OUTLAY_E_INPUT;
}

static enum outlay_status find_place(struct raster *raster, struct outlay_error *err)
{
    double to_ground[6];
    OGRSpatialReferenceH crs = GDALGetSpatialRef(raster->dataset);
    OGRSpatialReferenceH wgs84 = NULL;

    if (!crs)
        return refuse(raster, "the raster says no coordinate reference system",
                      "write it into the file: gdal_edit.py -a_srs EPSG:CODE FILE", err);
    if (GDALGetGeoTransform(raster->dataset, to_ground) != CE_None ||
        !GDALInvGeoTransform(to_ground, raster->to_pixel))
        return refuse(raster, "the raster doesn't say where its pixels are",
                      "write it into the file: gdal_edit.py -a_ullr W N E S FILE", err);
    wgs84 = OSRNewSpatialReference(NULL);
    if (!wgs84 || OSRSetWellKnownGeogCS(wgs84, "WGS84") != OGRERR_NONE) {
        OSRDestroySpatialReference(wgs84);
        return outlay_fail(err, OUTLAY_E_MEMORY, "setting up WGS 84");
    }
    crs = OSRClone(crs);
    OSRSetAxisMappingStrategy(wgs84, OAMS_TRADITIONAL_GIS_ORDER);
    OSRSetAxisMappingStrategy(crs, OAMS_TRADITIONAL_GIS_ORDER);
    raster->from_lonlat = OCTNewCoordinateTransformation(wgs84, crs);
    OSRDestroySpatialReference(wgs84);
    OSRDestroySpatialReference(crs);
    return raster->from_lonlat
               ? OUTLAY_OK
               : refuse(raster, gdal_log_text(&raster->log, "its CRS can't be used"),
                        "give the raster in a CRS that PROJ knows: gdalwarp -t_srs", err);
}

static void find_band(struct raster *raster)
{
    int found = 0;

    raster->band = GDALGetRasterBand(raster->dataset, 1);
    raster->width = GDALGetRasterXSize(raster->dataset);
    raster->height = GDALGetRasterYSize(raster->dataset);
    raster->nodata = GDALGetRasterNoDataValue(raster->band, &found);
    raster->nodata = found ? raster->nodata : (double)NAN;
    raster->scale = GDALGetRasterScale(raster->band, &found);
    raster->scale = found ? raster->scale : 1;
    raster->offset = GDALGetRasterOffset(raster->band, &found);
    raster->offset = found ? raster->offset : 0;
    if (GDALGetMaskFlags(raster->band) & (GMF_PER_DATASET | GMF_ALPHA))
        raster->masked = GDALGetMaskBand(raster->band);
}

static enum outlay_status open_all(struct raster *raster, struct outlay_error *err)
{
    GDALAllRegister();
    raster->dataset = GDALOpenEx(
        raster->path, GDAL_OF_RASTER | GDAL_OF_READONLY | GDAL_OF_VERBOSE_ERROR, NULL,
        NULL, NULL);
    if (!raster->dataset || GDALGetRasterCount(raster->dataset) == 0)
        return refuse(raster, "it can't be read as a raster",
                      "check the path; for a layer, name its column: LAYERS:COLUMN", err);
    find_band(raster);
    /* without its scale, say, all values would be others */
    if (raster->log.failures || raster->log.unread)
        return refuse(raster, gdal_log_text(&raster->log, "a part can't be read"),
                      "the raster is damaged or cut off: get it again", err);
    return find_place(raster, err);
}

enum outlay_status raster_open(const char *path, struct raster **out,
                               struct outlay_error *err)
{
    struct raster *raster = calloc(1, sizeof *raster);
    enum outlay_status status = OUTLAY_OK;

    *out = NULL;
    if (!raster)
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening a raster");
    raster->path = path;
    gdal_log_begin(&raster->log);
    status = open_all(raster, err);
    gdal_log_end();
    if (status == OUTLAY_OK)
        *out = raster;
    else
        raster_close(raster);
    return status;
}

void raster_close(struct raster *raster)
{
    if (!raster)
        return;
    gdal_log_begin(&raster->log);
    if (raster->from_lonlat)
        OCTDestroyCoordinateTransformation(raster->from_lonlat);
    if (raster->dataset)
        GDALClose(raster->dataset);
    gdal_log_end();
    free(raster);
}

const char *raster_unit(const struct raster *raster)
{
    return GDALGetRasterUnitType(raster->band);
}

/* ---- From the ground to pixels ------------------------------------------------- */

/* Degrees to pixels of the raster. @return false where a point has none */
static bool to_pixels(struct raster *raster, double *xs, double *ys, int *good,
                      size_t count)
{
    const double *t = raster->to_pixel;

    OCTTransformEx(raster->from_lonlat, (int)count, xs, ys, NULL, good);
    for (size_t i = 0; i < count; i++) {
        double x = xs[i], y = ys[i];

        xs[i] = t[0] + t[1] * x + t[2] * y;
        ys[i] = t[3] + t[4] * x + t[5] * y;
        if (!good[i] || !isfinite(xs[i]) || !isfinite(ys[i]))
            return false;
    }
    return true;
}

/* Points of the ground that tell scale and direction of pixels, m from the origin. */
enum { TELLING = 3 };
static const struct point telling[TELLING] = {{0, 0}, {10, 0}, {0, 10}};

static void take_points(const struct region *region, double *xs, double *ys)
{
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            for (size_t k = 0; k < region->polygons[i].rings[j].count; k++) {
                *xs++ = region->polygons[i].rings[j].points[k].x;
                *ys++ = region->polygons[i].rings[j].points[k].y;
            }
}

static void give_points(struct region *region, const double *xs, const double *ys)
{
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            for (size_t k = 0; k < region->polygons[i].rings[j].count; k++)
                region->polygons[i].rings[j].points[k] = (struct point){*xs++, *ys++};
}

/* Scale and direction from the three points that tell them. */
static void set_scale(struct spot *spot, const double *xs, const double *ys)
{
    spot->middle = (struct point){xs[0], ys[0]};
    spot->pixels[0] = (xs[1] - xs[0]) / telling[1].x;
    spot->pixels[1] = (xs[2] - xs[0]) / telling[2].y;
    spot->pixels[2] = (ys[1] - ys[0]) / telling[1].x;
    spot->pixels[3] = (ys[2] - ys[0]) / telling[2].y;
}

/* Finds the frame's origin; turns a region of degrees into pixels. */
static enum outlay_status place(struct raster *raster, const struct frame *frame,
                                struct region *region, struct arena *arena,
                                struct spot *spot, struct outlay_error *err)
{
    size_t count = region_points(region) + TELLING;
    double *xs = arena_array(arena, count, sizeof *xs);
    double *ys = arena_array(arena, count, sizeof *ys);
    int *good = arena_array(arena, count, sizeof *good);
    struct point ground[TELLING];

    *spot = (struct spot){0};
    if (!xs || !ys || !good)
        return outlay_fail(err, OUTLAY_E_MEMORY, "an outline of %zu points", count);
    memcpy(ground, telling, sizeof ground);
    frame_to_lonlat(frame, ground, TELLING);
    for (int i = 0; i < TELLING; i++) {
        xs[i] = ground[i].x;
        ys[i] = ground[i].y;
    }
    take_points(region, xs + TELLING, ys + TELLING);
    spot->found = to_pixels(raster, xs, ys, good, count);
    if (spot->found)
        set_scale(spot, xs, ys);
    give_points(region, xs + TELLING, ys + TELLING);
    return OUTLAY_OK;
}

enum outlay_status raster_spot(struct raster *raster, const struct frame *frame,
                               struct arena *arena, struct spot *out,
                               struct outlay_error *err)
{
    struct region none = {NULL, 0};
    enum outlay_status status = OUTLAY_OK;

    gdal_log_begin(&raster->log);
    status = place(raster, frame, &none, arena, out, err);
    gdal_log_end();
    return status;
}

/* ---- The window ---------------------------------------------------------------- */

/* @return false: too large, or further off than a raster can reach */
static bool set_window(struct view *view, double reach)
{
    struct box box = region_box(&view->outline);
    double cols = reach * hypot(view->pixels[0], view->pixels[1]);
    double rows = reach * hypot(view->pixels[2], view->pixels[3]);
    double left = floor(fmin(box.min_x, view->middle.x) - cols);
    double top = floor(fmin(box.min_y, view->middle.y) - rows);
    double width = ceil(fmax(box.max_x, view->middle.x) + cols) - left + 1;
    double height = ceil(fmax(box.max_y, view->middle.y) + rows) - top + 1;

    if (!(width * height <= VIEW_PIXELS_MAX && fabs(left) < 1e9 && fabs(top) < 1e9))
        return false;
    view->col = (int)left;
    view->row = (int)top;
    view->width = (int)width;
    view->height = (int)height;
    return true;
}

/* Pixels of the raster become pixels of the window. */
static void shift(struct view *view)
{
    for (size_t i = 0; i < view->outline.polygon_count; i++)
        for (size_t j = 0; j < view->outline.polygons[i].ring_count; j++) {
            struct ring ring = view->outline.polygons[i].rings[j];

            for (size_t k = 0; k < ring.count; k++) {
                ring.points[k].x -= view->col;
                ring.points[k].y -= view->row;
            }
        }
    view->middle.x -= view->col;
    view->middle.y -= view->row;
}

/* What a window and the raster have in common, in cells that the raster fills. */
struct part {
    int col, row, width, height;
    size_t start; /* of its first cell in the window's values */
};

static struct part common_part(const struct raster *raster, const struct window *window)
{
    int left = window->col > 0 ? window->col : 0;
    int top = window->row > 0 ? window->row : 0;
    int right = window->col + window->width, bottom = window->row + window->height;
    int columns = raster->width / window->side, rows = raster->height / window->side;
    struct part part = {left, top, (right < columns ? right : columns) - left,
                        (bottom < rows ? bottom : rows) - top, 0};

    if (part.width > 0 && part.height > 0)
        part.start = (size_t)(top - window->row) * (size_t)window->width +
                     (size_t)(left - window->col);
    return part;
}

static bool read_band(GDALRasterBandH band, struct part part, const struct window *window,
                      bool mean, void *out, GDALDataType type)
{
    int size = GDALGetDataTypeSizeBytes(type), side = window->side;
    GDALRasterIOExtraArg extra;

    INIT_RASTERIO_EXTRA_ARG(extra);
    extra.eResampleAlg = mean ? GRIORA_Average : GRIORA_NearestNeighbour;
    return GDALRasterIOEx(band, GF_Read, part.col * side, part.row * side,
                          part.width * side, part.height * side, out, part.width,
                          part.height, type, size, (GSpacing)window->width * size,
                          &extra) == CE_None;
}

/* Turns what was read into values in SI, NAN where nothing is known. */
static void settle(const struct raster *raster, struct part part,
                   const unsigned char *known, int line, double *values)
{
    for (int row = 0; row < part.height; row++)
        for (int col = 0; col < part.width; col++) {
            size_t at = part.start + (size_t)row * (size_t)line + (size_t)col;
            double value = values[at];

            if (!isfinite(value) || value == raster->nodata || (known && !known[at]))
                values[at] = NAN;
            else
                values[at] = value * raster->scale + raster->offset;
        }
}

static enum outlay_status read_window(struct raster *raster, const struct window *window,
                                      struct arena *arena, double **out,
                                      struct outlay_error *err)
{
    size_t count = (size_t)window->width * (size_t)window->height;
    struct part part = common_part(raster, window);
    double *values = arena_array(arena, count, sizeof *values);
    unsigned char *known = NULL;
    bool read = true;

    *out = values;
    if (raster->masked)
        known = arena_array(arena, count, sizeof *known);
    if (!values || (raster->masked && !known))
        return outlay_fail(err, OUTLAY_E_MEMORY, "a window of a raster");
    for (size_t i = 0; i < count; i++)
        values[i] = NAN;
    if (part.width <= 0 || part.height <= 0)
        return OUTLAY_OK;
    read = read_band(raster->band, part, window, window->mean, values + part.start,
                     GDT_Float64);
    if (read && known)
        read =
            read_band(raster->masked, part, window, false, known + part.start, GDT_Byte);
    if (!read)
        return refuse(raster, gdal_log_text(&raster->log, "a part can't be read"),
                      "the raster is damaged or cut off: get it again", err);
    settle(raster, part, known, window->width, values);
    return OUTLAY_OK;
}

enum outlay_status raster_values(struct raster *raster, const struct window *window,
                                 struct arena *arena, double **out,
                                 struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    gdal_log_clear(&raster->log);
    gdal_log_begin(&raster->log);
    status = read_window(raster, window, arena, out, err);
    gdal_log_end();
    return status;
}

/* All but the window and its values. @param[out] found  false: not in the CRS */
static enum outlay_status place_view(struct raster *raster, const struct frame *frame,
                                     const struct region *outline, struct arena *arena,
                                     struct view *view, bool *found,
                                     struct outlay_error *err)
{
    struct spot spot = {0};
    enum outlay_status status = region_copy(arena, outline, &view->outline);

    if (status != OUTLAY_OK)
        return outlay_fail(err, OUTLAY_E_MEMORY, "an outline");
    status = place(raster, frame, &view->outline, arena, &spot, err);
    view->middle = spot.middle;
    memcpy(view->pixels, spot.pixels, sizeof view->pixels);
    *found = spot.found && scale_invert(view->pixels, view->metres);
    return status;
}

enum outlay_status raster_view(struct raster *raster, const struct frame *frame,
                               const struct region *outline, double reach,
                               struct arena *arena, struct view *out,
                               struct outlay_error *err)
{
    bool found = false;
    enum outlay_status status = OUTLAY_OK;

    *out = (struct view){0};
    gdal_log_clear(&raster->log);
    gdal_log_begin(&raster->log);
    status = place_view(raster, frame, outline, arena, out, &found, err);
    if (status == OUTLAY_OK && found && set_window(out, reach)) {
        struct window window = {1, false, out->col, out->row, out->width, out->height};

        shift(out);
        status = read_window(raster, &window, arena, &out->values, err);
    }
    gdal_log_end();
    return status;
}

double view_at(const struct view *view, double x, double y)
{
    double col = floor(view->middle.x + view->pixels[0] * x + view->pixels[1] * y);
    double row = floor(view->middle.y + view->pixels[2] * x + view->pixels[3] * y);

    if (!view->values ||
        !(col >= 0 && row >= 0 && col < view->width && row < view->height))
        return NAN;
    return view->values[(size_t)row * (size_t)view->width + (size_t)col];
}
