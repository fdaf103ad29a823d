#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "geo/ctx_private.h"

#define DEGREES (3.14159265358979323846 / 180)

/* WGS 84 (EPSG:7030): semi-major axis, m, and eccentricity squared, f (2 - f). */
#define FLATTENING (1 / 298.257223563)
static const double semi_major = 6378137.0;
static const double eccentricity2 = FLATTENING * (2 - FLATTENING);

static void keep_message(const char *message, void *userdata)
{
    struct geo_ctx *ctx = userdata;

    snprintf(ctx->message, sizeof ctx->message, "%s", message);
    if (strstr(message, "bad_alloc"))
        ctx->out_of_memory = true;
}

static enum outlay_status start_libraries(struct geo_ctx *ctx, struct outlay_error *err)
{
    ctx->scratch = arena_new();
    if (!ctx->scratch)
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening a geometry workspace");
    ctx->geos = GEOS_init_r();
    if (!ctx->geos)
        return outlay_fail(err, OUTLAY_E_GEOMETRY, "GEOS doesn't start");
    GEOSContext_setErrorMessageHandler_r(ctx->geos, keep_message, ctx);
    ctx->proj = proj_context_create();
    if (ctx->proj)
        ctx->geocentric = proj_create(ctx->proj, "+proj=cart +ellps=WGS84");
    if (!ctx->geocentric)
        return outlay_fail(err, OUTLAY_E_GEOMETRY, "PROJ doesn't start");
    return OUTLAY_OK;
}

enum outlay_status geo_ctx_new(struct geo_ctx **out, struct outlay_error *err)
{
    struct geo_ctx *ctx = calloc(1, sizeof *ctx);
    enum outlay_status status = OUTLAY_OK;

    *out = NULL;
    if (!ctx)
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening a geometry workspace");
    status = start_libraries(ctx, err);
    if (status == OUTLAY_OK)
        *out = ctx;
    else
        geo_ctx_free(ctx);
    return status;
}

void geo_ctx_free(struct geo_ctx *ctx)
{
    if (!ctx)
        return;
    proj_destroy(ctx->geocentric);
    proj_context_destroy(ctx->proj);
    if (ctx->geos)
        GEOS_finish_r(ctx->geos);
    arena_free(ctx->scratch);
    free(ctx);
}

void frame_init(struct frame *frame, struct geo_ctx *ctx, struct point lonlat)
{
    double lon = lonlat.x * DEGREES;
    double lat = lonlat.y * DEGREES;
    double w2 = 1 - eccentricity2 * sin(lat) * sin(lat);
    PJ_COORD at = proj_trans(ctx->geocentric, PJ_FWD, proj_coord(lon, lat, 0, 0));

    memcpy(frame->origin, at.v, sizeof frame->origin);
    frame->east[0] = -sin(lon);
    frame->east[1] = cos(lon);
    frame->east[2] = 0;
    frame->north[0] = -sin(lat) * cos(lon);
    frame->north[1] = -sin(lat) * sin(lon);
    frame->north[2] = cos(lat);
    frame->up[0] = cos(lat) * cos(lon);
    frame->up[1] = cos(lat) * sin(lon);
    frame->up[2] = sin(lat);
    /* Gaussian radius of curvature: the geometric mean of those along the meridian and
     * along the prime vertical */
    frame->radius = semi_major * sqrt(1 - eccentricity2) / w2;
}

static double dot(const double *a, const double *b)
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

void frame_to_local(const struct frame *frame, struct geo_ctx *ctx, struct point *points,
                    size_t count)
{
    for (size_t k = 0; k < count; k++) {
        PJ_COORD at = proj_coord(points[k].x * DEGREES, points[k].y * DEGREES, 0, 0);
        double from_origin[3];

        at = proj_trans(ctx->geocentric, PJ_FWD, at);
        for (int i = 0; i < 3; i++)
            from_origin[i] = at.v[i] - frame->origin[i];
        points[k].x = dot(from_origin, frame->east);
        points[k].y = dot(from_origin, frame->north);
    }
}

void frame_to_lonlat(const struct frame *frame, struct point *points, size_t count)
{
    for (size_t k = 0; k < count; k++) {
        double x = points[k].x;
        double y = points[k].y;
        /* the ellipsoid falls away from the plane; a sphere is near enough, since
         * height hardly moves a point sideways */
        double z = -(x * x + y * y) / (2 * frame->radius);
        double at[3];

        for (int i = 0; i < 3; i++)
            at[i] = frame->origin[i] + x * frame->east[i] + y * frame->north[i] +
                    z * frame->up[i];
        /* on the ellipsoid itself the way back has a closed form, several times as fast
         * as a general inverse for any height */
        points[k].x = atan2(at[1], at[0]) / DEGREES;
        points[k].y =
            atan2(at[2], (1 - eccentricity2) * sqrt(at[0] * at[0] + at[1] * at[1])) /
            DEGREES;
    }
}
