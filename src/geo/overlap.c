#include "geo/overlap.h"

#include <stdlib.h>

#include "base/grow.h"
#include "geo/geos_private.h"

/* Points of a piece, and halvings after which a piece stays as it is (ours). */
enum { PIECE_POINTS = 256, HALVINGS_MAX = 24 };

struct piece {
    struct box box;      /* inverted for nothing */
    GEOSGeometry *shape; /* owned; NULL: in two halves */
    size_t halves[2];
};

struct overlap_shape {
    struct piece *pieces; /* owned; the first is the whole */
    size_t count, capacity;
    double area;
    size_t work;
};

/* The region in a frame, made valid. NULL: geos_failed() tells. */
static GEOSGeometry *valid_in_frame(struct geo_ctx *ctx, struct arena *scratch,
                                    const struct frame *frame,
                                    const struct region *lonlat)
{
    struct region local = {NULL, 0};
    GEOSGeometry *raw = NULL;
    GEOSGeometry *valid = NULL;

    if (region_copy(scratch, lonlat, &local) != OUTLAY_OK) {
        ctx->out_of_memory = true;
        return NULL;
    }
    for (size_t i = 0; i < local.polygon_count; i++)
        for (size_t j = 0; j < local.polygons[i].ring_count; j++)
            frame_to_local(frame, ctx, local.polygons[i].rings[j].points,
                           local.polygons[i].rings[j].count);
    raw = geos_from_region(ctx, &local);
    if (!raw || GEOSisValid_r(ctx->geos, raw) == 1)
        return raw;
    valid = GEOSMakeValid_r(ctx->geos, raw);
    GEOSGeom_destroy_r(ctx->geos, raw);
    return valid;
}

/* ---- Pieces ---- */

static bool find_box(struct geo_ctx *ctx, const GEOSGeometry *shape, struct box *out)
{
    *out = box_empty();
    if (GEOSisEmpty_r(ctx->geos, shape))
        return true;
    return GEOSGeom_getXMin_r(ctx->geos, shape, &out->min_x) &&
           GEOSGeom_getYMin_r(ctx->geos, shape, &out->min_y) &&
           GEOSGeom_getXMax_r(ctx->geos, shape, &out->max_x) &&
           GEOSGeom_getYMax_r(ctx->geos, shape, &out->max_y);
}

/* What lies in one half of the box: the western or southern one, or the other. */
static GEOSGeometry *cut_half(struct geo_ctx *ctx, const GEOSGeometry *shape,
                              struct box box, bool other)
{
    bool wide = box.max_x - box.min_x > box.max_y - box.min_y;
    double *side =
        wide ? other ? &box.min_x : &box.max_x : (other ? &box.min_y : &box.max_y);
    GEOSGeometry *half = NULL, *out = NULL;

    *side = wide ? (box.min_x + box.max_x) / 2 : (box.min_y + box.max_y) / 2;
    half =
        GEOSGeom_createRectangle_r(ctx->geos, box.min_x, box.min_y, box.max_x, box.max_y);
    if (half)
        out = GEOSIntersection_r(ctx->geos, shape, half);
    GEOSGeom_destroy_r(ctx->geos, half);
    return out;
}

/* Adds a shape, halved until its pieces are small. Takes the shape.
 * @return false when it fails; *at is its piece */
static bool add_piece(struct geo_ctx *ctx, struct overlap_shape *of, GEOSGeometry *shape,
                      int halvings, size_t *at)
{
    struct piece piece = {.shape = shape};
    struct piece *pieces = grow(of->pieces, of->count, 1, &of->capacity, sizeof *pieces);
    int points = 0;

    if (!pieces || !shape || !find_box(ctx, shape, &piece.box)) {
        ctx->out_of_memory = ctx->out_of_memory || !pieces;
        GEOSGeom_destroy_r(ctx->geos, shape);
        of->pieces = pieces ? pieces : of->pieces;
        return false;
    }
    of->pieces = pieces;
    of->pieces[ *at = of->count++] = piece;
    points = GEOSGetNumCoordinates_r(ctx->geos, shape);
    if (points <= PIECE_POINTS || halvings == HALVINGS_MAX)
        return true;
    for (int i = 0; i < 2; i++) {
        of->work += (size_t)points;
        if (!add_piece(ctx, of, cut_half(ctx, shape, piece.box, i == 1), halvings + 1,
                       &piece.halves[i]))
            return false;
    }
    GEOSGeom_destroy_r(ctx->geos, shape);
    piece.shape = NULL;
    of->pieces[*at] = piece;
    return true;
}

enum outlay_status overlap_shape_new(struct geo_ctx *ctx, struct arena *scratch,
                                     const struct frame *frame,
                                     const struct region *lonlat,
                                     struct overlap_shape **out, struct outlay_error *err)
{
    struct overlap_shape *shape = calloc(1, sizeof *shape);
    GEOSGeometry *valid = NULL;
    size_t whole = 0;

    *out = NULL;
    if (!shape)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    valid = valid_in_frame(ctx, scratch, frame, lonlat);
    if (valid && GEOSArea_r(ctx->geos, valid, &shape->area) &&
        add_piece(ctx, shape, valid, 0, &whole)) {
        *out = shape;
        return OUTLAY_OK;
    }
    overlap_shape_free(ctx, shape);
    return geos_failed(ctx, "comparing two outlines", err);
}

void overlap_shape_free(struct geo_ctx *ctx, struct overlap_shape *shape)
{
    if (!shape)
        return;
    for (size_t i = 0; i < shape->count; i++)
        GEOSGeom_destroy_r(ctx->geos, shape->pieces[i].shape);
    free(shape->pieces);
    free(shape);
}

double overlap_shape_area(const struct overlap_shape *shape)
{
    return shape->area;
}

size_t overlap_shape_work(const struct overlap_shape *shape)
{
    return shape->work;
}

/* ---- What two share ---- */

static bool add_shared(struct geo_ctx *ctx, struct overlap_shape *a,
                       const GEOSGeometry *of_a, const GEOSGeometry *of_b, double *sum)
{
    GEOSGeometry *shared = GEOSIntersection_r(ctx->geos, of_a, of_b);
    double area = 0;
    bool known = shared && GEOSArea_r(ctx->geos, shared, &area);

    a->work += (size_t)GEOSGetNumCoordinates_r(ctx->geos, of_a) +
               (size_t)GEOSGetNumCoordinates_r(ctx->geos, of_b);
    *sum += area;
    GEOSGeom_destroy_r(ctx->geos, shared);
    return known;
}

/* Goes down into the halves of both where their boxes meet. */
static bool add_pieces(struct geo_ctx *ctx, struct overlap_shape *a, size_t at_a,
                       const struct overlap_shape *b, size_t at_b, double *sum)
{
    const struct piece *of_a = &a->pieces[at_a];
    const struct piece *of_b = &b->pieces[at_b];

    if (!boxes_near(&of_a->box, &of_b->box, 0))
        return true;
    if (!of_a->shape)
        return add_pieces(ctx, a, of_a->halves[0], b, at_b, sum) &&
               add_pieces(ctx, a, of_a->halves[1], b, at_b, sum);
    if (!of_b->shape)
        return add_pieces(ctx, a, at_a, b, of_b->halves[0], sum) &&
               add_pieces(ctx, a, at_a, b, of_b->halves[1], sum);
    return add_shared(ctx, a, of_a->shape, of_b->shape, sum);
}

enum outlay_status overlap_shared(struct geo_ctx *ctx, struct overlap_shape *a,
                                  const struct overlap_shape *b, double *out,
                                  struct outlay_error *err)
{
    *out = 0;
    if (add_pieces(ctx, a, 0, b, 0, out))
        return OUTLAY_OK;
    return geos_failed(ctx, "comparing two outlines", err);
}

enum outlay_status shared_length(struct geo_ctx *ctx, const struct region *a,
                                 const struct region *b, double reach, double *out,
                                 struct outlay_error *err)
{
    GEOSGeometry *first = geos_from_region(ctx, a);
    GEOSGeometry *second = geos_from_region(ctx, b);
    GEOSGeometry *border = first ? GEOSBoundary_r(ctx->geos, first) : NULL;
    GEOSGeometry *near = second ? GEOSBuffer_r(ctx->geos, second, reach, 8) : NULL;
    GEOSGeometry *shared =
        border && near ? GEOSIntersection_r(ctx->geos, border, near) : NULL;
    enum outlay_status status = OUTLAY_OK;

    *out = 0;
    if (!shared || !GEOSLength_r(ctx->geos, shared, out))
        status = geos_failed(ctx, "comparing two roofs of a building", err);
    GEOSGeom_destroy_r(ctx->geos, shared);
    GEOSGeom_destroy_r(ctx->geos, near);
    GEOSGeom_destroy_r(ctx->geos, border);
    GEOSGeom_destroy_r(ctx->geos, second);
    GEOSGeom_destroy_r(ctx->geos, first);
    return status;
}

enum outlay_status regions_near(struct geo_ctx *ctx, const struct region *a,
                                const struct region *b, double reach, bool *out,
                                struct outlay_error *err)
{
    GEOSGeometry *first = geos_from_region(ctx, a);
    GEOSGeometry *second = geos_from_region(ctx, b);
    double distance = INFINITY;
    enum outlay_status status = OUTLAY_OK;

    if (!first || !second || !GEOSDistance_r(ctx->geos, first, second, &distance))
        status = geos_failed(ctx, "comparing two roofs of a building", err);
    *out = distance <= reach;
    GEOSGeom_destroy_r(ctx->geos, second);
    GEOSGeom_destroy_r(ctx->geos, first);
    return status;
}
