#include "write/layout_file.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_string.h>
#include <gdal.h>
#include <ogr_api.h>
#include <ogr_srs_api.h>

#include "geo/frame.h"
#include "write/layout_layers.h"
#include "write/layout_styles.h"
#include "write/output.h"

/* Files that one run may have: every UTM zone, north and south. */
enum { FILES_MAX = 120 };

/* Degrees. */
enum { ZONE_WIDTH = 6 };

struct zone_file {
    int zone;   /* 1 to 60, southern ones negative */
    char *path; /* owned */
    GDALDatasetH dataset;
    OGRCoordinateTransformationH to_utm;
    OGRLayerH layers[LAYOUT_LAYERS];
};

struct layout_file {
    const struct write_settings *set;
    char *path;
    int shared; /* zone of all roofs; 0: each has its own */
    struct zone_file files[FILES_MAX];
    size_t count;
};

static enum outlay_status fail_by_gdal(const struct layout_file *file, const char *doing,
                                       struct outlay_error *err)
{
    const char *message = CPLGetLastErrorMsg();

    if (CPLGetLastErrorNo() == CPLE_OutOfMemory)
        return outlay_fail(err, OUTLAY_E_MEMORY, "%s: out of memory", doing);
    outlay_fail(err, OUTLAY_E_OUTPUT, "%s failed: %s", doing,
                *message ? message : "the driver doesn't say why");
    outlay_fail_where(err, "%s", file->path);
    outlay_fail_todo(err, "check that there is room and that you may write there");
    return OUTLAY_E_OUTPUT;
}

/* ---- Opening ---- */

/* Longitudes go round: -182 degrees are 178. */
static int utm_zone(struct point lonlat)
{
    double round = floor((lonlat.x + 180) / 360) * 360;
    int zone = (int)floor((lonlat.x + 180 - round) / ZONE_WIDTH) % 60 + 1;

    return lonlat.y < 0 ? -zone : zone;
}

static OGRSpatialReferenceH crs_of(int epsg)
{
    OGRSpatialReferenceH crs = OSRNewSpatialReference(NULL);

    if (crs && OSRImportFromEPSG(crs, epsg) != OGRERR_NONE) {
        OSRDestroySpatialReference(crs);
        return NULL;
    }
    if (crs)
        OSRSetAxisMappingStrategy(crs, OAMS_TRADITIONAL_GIS_ORDER);
    return crs;
}

/* The first file has the path itself. Owned by the caller. */
static char *path_of(const struct layout_file *file, int zone)
{
    size_t size = strlen(file->path) + 16;
    char *path = malloc(size);
    size_t stem = strlen(file->path) - strlen(".gpkg");

    if (path && file->count == 0)
        snprintf(path, size, "%s", file->path);
    else if (path)
        snprintf(path, size, "%.*s_utm%d%c.gpkg", (int)stem, file->path, abs(zone),
                 zone < 0 ? 's' : 'n');
    return path;
}

static bool make_layers(struct zone_file *made, OGRSpatialReferenceH crs,
                        const struct write_settings *set)
{
    for (int i = 0; i < LAYOUT_LAYERS; i++) {
        made->layers[i] =
            layout_layer_make(made->dataset, (enum layout_layer)i, crs, set);
        if (!made->layers[i])
            return false;
    }
    return GDALDatasetStartTransaction(made->dataset, FALSE) == OGRERR_NONE &&
           layout_styles_add(made->dataset, made->layers);
}

static bool create(struct zone_file *made, const struct write_settings *set)
{
    GDALDriverH driver = GDALGetDriverByName("GPKG");
    OGRSpatialReferenceH from = crs_of(4326);
    OGRSpatialReferenceH to =
        crs_of(made->zone < 0 ? 32700 - made->zone : 32600 + made->zone);
    bool done = false;

    if (driver && from && to) {
        made->to_utm = OCTNewCoordinateTransformation(from, to);
        /* as in write/layers.c */
        CPLSetThreadLocalConfigOption("SPATIALITE_LOAD", "NO");
        made->dataset = GDALCreate(driver, made->path, 0, 0, 0, GDT_Unknown, NULL);
        CPLSetThreadLocalConfigOption("SPATIALITE_LOAD", NULL);
        done = made->to_utm && made->dataset && make_layers(made, to, set);
    }
    if (from)
        OSRDestroySpatialReference(from);
    if (to)
        OSRDestroySpatialReference(to);
    return done;
}

/* The file for a place, made when it is the first there. NULL on failure. */
static struct zone_file *file_for(struct layout_file *file, struct point lonlat)
{
    int zone = file->shared ? file->shared : utm_zone(lonlat);
    struct zone_file *made = NULL;

    for (size_t i = 0; i < file->count; i++)
        if (file->files[i].zone == zone)
            return &file->files[i];
    made = &file->files[file->count];
    made->zone = zone;
    made->path = path_of(file, zone);
    if (!made->path) {
        CPLError(CE_Failure, CPLE_OutOfMemory, "out of memory");
        return NULL;
    }
    file->count++;
    return create(made, file->set) ? made : NULL;
}

/* The zone of the middle where all is narrow enough for it, else 0. */
static int shared_zone(const struct box *place)
{
    struct point middle;

    if (!place || !(place->max_x - place->min_x <= ZONE_WIDTH) ||
        !(place->min_x <= place->max_x))
        return 0;
    middle = (struct point){(place->min_x + place->max_x) / 2,
                            (place->min_y + place->max_y) / 2};
    return utm_zone(middle);
}

enum outlay_status layout_file_open(const char *path, const struct write_settings *set,
                                    const struct box *place, struct layout_file **out,
                                    struct outlay_error *err)
{
    struct layout_file *file = calloc(1, sizeof *file);

    *out = NULL;
    if (file)
        file->path = path_with(path, "");
    if (!file || !file->path) {
        layout_file_abort(file);
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening %s", path);
    }
    file->set = set;
    file->shared = shared_zone(place);
    *out = file;
    return OUTLAY_OK;
}

const char *layout_file_name(const struct layout_file *file, size_t index)
{
    const char *slash = NULL;

    if (index >= file->count)
        return NULL;
    slash = strrchr(file->files[index].path, '/');
    return slash ? slash + 1 : file->files[index].path;
}

/* ---- Layouts ---- */

static bool add_roof(struct layout_file *file, const struct building *building,
                     const struct roof *roof)
{
    struct box box = region_box(&roof->outline);
    struct point middle = {(box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2};
    struct zone_file *in = NULL;

    if (roof->layout_count == 0)
        return true;
    frame_to_lonlat(&building->frame, &middle, 1);
    in = file_for(file, middle);
    if (!in)
        return false;
    struct layout_pen pen = {.set = file->set,
                             .frame = &building->frame,
                             .to_utm = in->to_utm,
                             .layers = in->layers,
                             .building = building,
                             .roof = roof};
    bool added = layout_outline_add(&pen);
    for (size_t k = 0; added && k < roof->layout_count; k++)
        added = layout_add(&pen, &roof->layouts[k]);
    free(pen.xs);
    free(pen.ys);
    return added;
}

enum outlay_status layout_file_add(struct layout_file *file,
                                   const struct building *building,
                                   struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    CPLPushErrorHandler(CPLQuietErrorHandler);
    CPLErrorReset();
    for (size_t i = 0; i < building->roof_count && status == OUTLAY_OK; i++)
        if (!add_roof(file, building, &building->roofs[i]) ||
            CPLGetLastErrorType() >=
                CE_Failure) /* texts and points are lost in silence */
            status = fail_by_gdal(file, "writing layouts", err);
    CPLPopErrorHandler();
    return status;
}

/* ---- Finishing ---- */

static bool finish(struct zone_file *file)
{
    bool committed = GDALDatasetCommitTransaction(file->dataset) == OGRERR_NONE;

    if (!committed)
        return false;
    CPLErrorReset();
    GDALClose(file->dataset);
    file->dataset = NULL;
    return CPLGetLastErrorType() < CE_Failure;
}

enum outlay_status layout_file_commit(struct layout_file *file, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    CPLPushErrorHandler(CPLQuietErrorHandler);
    for (size_t i = 0; i < file->count && status == OUTLAY_OK; i++)
        if (!finish(&file->files[i]))
            status = fail_by_gdal(file, "finishing the layouts", err);
    CPLPopErrorHandler();
    layout_file_abort(file);
    return status;
}

void layout_file_abort(struct layout_file *file)
{
    if (!file)
        return;
    CPLPushErrorHandler(CPLQuietErrorHandler);
    for (size_t i = 0; i < file->count; i++) {
        if (file->files[i].dataset)
            GDALClose(file->files[i].dataset);
        if (file->files[i].to_utm)
            OCTDestroyCoordinateTransformation(file->files[i].to_utm);
        free(file->files[i].path);
    }
    CPLPopErrorHandler();
    free(file->path);
    free(file);
}
