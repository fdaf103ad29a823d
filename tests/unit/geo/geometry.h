/* Shapes made by hand, chance that can be repeated, and GEOS as a second opinion, for
 * the tests of geo/ and of the rooms that build on it. */

#ifndef OUTLAY_TEST_GEOMETRY_H
#define OUTLAY_TEST_GEOMETRY_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <geos_c.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "geo/arrange.h"
#include "geo/frame.h"
#include "geo/shape.h"

#define PI 3.14159265358979323846
#define LENGTH(array) (sizeof(array) / sizeof((array)[0]))

/* ---- A workspace for each test ------------------------------------- */

struct fixture {
    struct geo_ctx *ctx;
    struct arena *arena;
    GEOSContextHandle_t geos; /* apart from the one under test */
};

static inline int fixture_open(void **state)
{
    struct fixture *f = test_calloc(1, sizeof *f);

    if (geo_ctx_new(&f->ctx, NULL) != OUTLAY_OK)
        return -1;
    f->arena = arena_new();
    f->geos = GEOS_init_r();
    *state = f;
    return f->arena && f->geos ? 0 : -1;
}

static inline int fixture_close(void **state)
{
    struct fixture *f = *state;

    GEOS_finish_r(f->geos);
    arena_free(f->arena);
    geo_ctx_free(f->ctx);
    test_free(f);
    return 0;
}

#define geometry_test(name) \
    cmocka_unit_test_setup_teardown(name, fixture_open, fixture_close)

/* ---- Numbers ------------------------------------- */

static inline void near_to(double value, double expected, double tolerance,
                           const char *file, int line)
{
    if (!(fabs(value - expected) <= tolerance)) {
        print_error("%.15g isn't %.15g +- %g: off by %g\n", value, expected, tolerance,
                    value - expected);
        _fail(file, line);
    }
}

/* Off by no more than tolerance, in the unit of the value. */
#define near(value, expected, tolerance) \
    near_to(value, expected, tolerance, __FILE__, __LINE__)

/* Off by no more than share of the expected value. */
#define near_share(value, expected, share) \
    near_to(value, expected, (share)*fabs(expected), __FILE__, __LINE__)

/* Chance with a seed: splitmix64 (Steele, Lea, Flood 2014). */
struct chance {
    uint64_t state;
};

static inline uint64_t chance_next(struct chance *chance)
{
    uint64_t z = chance->state += 0x9E3779B97F4A7C15u;

    z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9u;
    z = (z ^ z >> 27) * 0x94D049BB133111EBu;
    return z ^ z >> 31;
}

/* In [low, high). */
static inline double chance_between(struct chance *chance, double low, double high)
{
    return low + (high - low) * (double)(chance_next(chance) >> 11) * 0x1p-53;
}

/* 0 to count - 1. */
static inline size_t chance_below(struct chance *chance, size_t count)
{
    return (size_t)(chance_next(chance) % count);
}

/* In a box; x is drawn before y, while the order of an initializer's parts is open. */
static inline struct point chance_point(struct chance *chance, struct box box)
{
    double x = chance_between(chance, box.min_x, box.max_x);
    double y = chance_between(chance, box.min_y, box.max_y);

    return (struct point){x, y};
}

/* ---- Rings ------------------------------------- */

static inline struct ring ring_new(struct arena *arena, size_t count)
{
    struct ring ring = {arena_array(arena, count, sizeof *ring.points), count};

    assert_non_null(ring.points);
    return ring;
}

static inline struct ring ring_of_points(struct arena *arena, const double (*xy)[2],
                                         size_t count)
{
    struct ring ring = ring_new(arena, count);

    for (size_t k = 0; k < count; k++)
        ring.points[k] = (struct point){xy[k][0], xy[k][1]};
    return ring;
}

/* A ring from an array of x, y pairs. */
#define ring_made(arena, xy) ring_of_points(arena, xy, LENGTH(xy))

/* Counter-clockwise rectangle from its lower left corner. */
static inline struct ring box_ring(struct arena *arena, double x, double y, double width,
                                   double height)
{
    const double xy[][2] = {
        {x, y}, {x + width, y}, {x + width, y + height}, {x, y + height}};

    return ring_made(arena, xy);
}

/* A regular n-gon around the origin. */
static inline struct ring ring_regular(struct arena *arena, size_t n, double radius,
                                       double start)
{
    struct ring ring = ring_new(arena, n);

    for (size_t k = 0; k < n; k++) {
        double angle = start + 2 * PI * (double)k / (double)n;

        ring.points[k] = (struct point){radius * cos(angle), radius * sin(angle)};
    }
    return ring;
}

static inline struct ring ring_copied(struct arena *arena, struct ring from)
{
    struct ring ring = ring_new(arena, from.count);

    memcpy(ring.points, from.points, from.count * sizeof *from.points);
    return ring;
}

static inline struct ring ring_turned_round(struct arena *arena, struct ring from)
{
    struct ring ring = ring_copied(arena, from);

    ring_reverse(ring);
    return ring;
}

/* The same ring, started `by` points later. */
static inline struct ring ring_started(struct arena *arena, struct ring from, size_t by)
{
    struct ring ring = ring_new(arena, from.count);

    for (size_t k = 0; k < from.count; k++)
        ring.points[k] = from.points[(k + by) % from.count];
    return ring;
}

/* Turned about the origin, then moved. */
static inline struct ring ring_moved(struct arena *arena, struct ring from, double angle,
                                     double x, double y)
{
    struct ring ring = ring_new(arena, from.count);

    for (size_t k = 0; k < from.count; k++) {
        struct point p = from.points[k];

        ring.points[k] = (struct point){cos(angle) * p.x - sin(angle) * p.y + x,
                                        sin(angle) * p.x + cos(angle) * p.y + y};
    }
    return ring;
}

/* A region of one polygon: the shell, then holes. Rings are borrowed. */
static inline struct region region_made(struct arena *arena, const struct ring *rings,
                                        size_t count)
{
    struct polygon *polygon = arena_alloc(arena, sizeof *polygon);

    assert_non_null(polygon);
    polygon->rings = arena_array(arena, count, sizeof *rings);
    assert_non_null(polygon->rings);
    memcpy(polygon->rings, rings, count * sizeof *rings);
    polygon->ring_count = count;
    return (struct region){polygon, 1};
}

/* A region of polygons without holes. */
static inline struct region region_parts(struct arena *arena, const struct ring *shells,
                                         size_t count)
{
    struct region region = {arena_array(arena, count, sizeof *region.polygons), count};

    assert_non_null(region.polygons);
    for (size_t i = 0; i < count; i++)
        region.polygons[i] = region_made(arena, &shells[i], 1).polygons[0];
    return region;
}

/* Whether two regions hold the same numbers in the same order. */
static inline bool region_same(const struct region *a, const struct region *b)
{
    if (a->polygon_count != b->polygon_count)
        return false;
    for (size_t i = 0; i < a->polygon_count; i++) {
        const struct polygon *p = &a->polygons[i];
        const struct polygon *q = &b->polygons[i];

        if (p->ring_count != q->ring_count)
            return false;
        for (size_t j = 0; j < p->ring_count; j++)
            if (p->rings[j].count != q->rings[j].count ||
                memcmp(p->rings[j].points, q->rings[j].points,
                       p->rings[j].count * sizeof(struct point)) != 0)
                return false;
    }
    return true;
}

/* Winding number of a ring around p: 0 outside. */
static inline int ring_winding(struct ring ring, struct point p)
{
    int winding = 0;

    for (size_t k = 0; k < ring.count; k++) {
        struct point a = ring.points[k];
        struct point b = ring.points[(k + 1) % ring.count];
        double cross = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);

        if (a.y <= p.y && b.y > p.y && cross > 0)
            winding++;
        if (a.y > p.y && b.y <= p.y && cross < 0)
            winding--;
    }
    return winding;
}

/* Whether p lies in a region whose shells run counter-clockwise, holes clockwise. */
static inline bool region_winds(const struct region *region, struct point p)
{
    int winding = 0;

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            winding += ring_winding(region->polygons[i].rings[j], p);
    return winding > 0;
}

static inline double distance_to_edge(struct point p, struct point a, struct point b)
{
    double dx = b.x - a.x;
    double dy = b.y - a.y;
    double t = ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy);

    t = fmin(1, fmax(0, t));
    return point_distance(p, (struct point){a.x + t * dx, a.y + t * dy});
}

/* Whether p lies nearer than `near_by` to an edge of the ring, but to none of its
 * vertices: a vertex that the ring doesn't share. */
static inline bool ring_lacks_vertex(struct ring ring, struct point p, double near_by)
{
    bool on_edge = false;

    for (size_t k = 0; k < ring.count; k++) {
        struct point a = ring.points[k];
        struct point b = ring.points[(k + 1) % ring.count];

        if (point_distance(a, p) < near_by)
            return false;
        on_edge = on_edge || distance_to_edge(p, a, b) < near_by;
    }
    return on_edge;
}

static inline bool region_lacks_vertex(const struct region *region, struct point p,
                                       double near_by)
{
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            if (ring_lacks_vertex(region->polygons[i].rings[j], p, near_by))
                return true;
    return false;
}

/* Every vertex of `one` on an edge of `other` is a vertex of that edge. */
static inline void vertices_shared(const struct region *one, const struct region *other,
                                   double near_by, const char *file, int line)
{
    for (size_t i = 0; i < one->polygon_count; i++)
        for (size_t j = 0; j < one->polygons[i].ring_count; j++)
            for (size_t k = 0; k < one->polygons[i].rings[j].count; k++) {
                struct point p = one->polygons[i].rings[j].points[k];

                if (region_lacks_vertex(other, p, near_by)) {
                    print_error("(%.10g, %.10g) isn't shared\n", p.x, p.y);
                    _fail(file, line);
                }
            }
}

#define assert_vertices_shared(one, other, near_by) \
    vertices_shared(one, other, near_by, __FILE__, __LINE__)

/* ---- GEOS ------------------------------------- */

static inline GEOSGeometry *geos_ring(GEOSContextHandle_t geos, struct ring ring)
{
    unsigned n = (unsigned)ring.count;
    GEOSCoordSequence *points = GEOSCoordSeq_create_r(geos, n + 1, 2);

    for (unsigned k = 0; k <= n; k++)
        GEOSCoordSeq_setXY_r(geos, points, k, ring.points[k % n].x, ring.points[k % n].y);
    return GEOSGeom_createLinearRing_r(geos, points);
}

static inline GEOSGeometry *geos_polygon(GEOSContextHandle_t geos,
                                         const struct polygon *polygon)
{
    size_t count = polygon->ring_count;
    GEOSGeometry **holes = test_calloc(count, sizeof(GEOSGeometry *));
    GEOSGeometry *out = NULL;

    for (size_t j = 1; j < count; j++)
        holes[j - 1] = geos_ring(geos, polygon->rings[j]);
    out = GEOSGeom_createPolygon_r(geos, geos_ring(geos, polygon->rings[0]), holes,
                                   (unsigned)count - 1);
    test_free(holes);
    return out;
}

/* A multipolygon, the caller's. */
static inline GEOSGeometry *geos_of(GEOSContextHandle_t geos, const struct region *region)
{
    size_t count = region->polygon_count;
    GEOSGeometry **parts = test_calloc(count + 1, sizeof(GEOSGeometry *));
    GEOSGeometry *out = NULL;

    for (size_t i = 0; i < count; i++)
        parts[i] = geos_polygon(geos, &region->polygons[i]);
    out = GEOSGeom_createCollection_r(geos, GEOS_MULTIPOLYGON, parts, (unsigned)count);
    test_free(parts);
    assert_non_null(out);
    return out;
}

/* Why GEOS doesn't call the region valid; "" if it does. reason has 200 bytes. */
static inline bool geos_calls_valid(GEOSContextHandle_t geos, const struct region *region,
                                    char *reason)
{
    GEOSGeometry *geometry = geos_of(geos, region);
    char *why = GEOSisValidReason_r(geos, geometry);
    bool valid = GEOSisValid_r(geos, geometry) == 1;

    snprintf(reason, 200, "%s", why ? why : "no reason");
    GEOSFree_r(geos, why);
    GEOSGeom_destroy_r(geos, geometry);
    return valid;
}

/* Valid by GEOS; shells counter-clockwise, holes clockwise; no repeated points. */
static inline void valid_region(GEOSContextHandle_t geos, const struct region *region,
                                const char *file, int line)
{
    char reason[200];

    if (!geos_calls_valid(geos, region, reason)) {
        print_error("%s\n", reason);
        _fail(file, line);
    }
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            if ((ring_area(region->polygons[i].rings[j]) > 0) != (j == 0)) {
                print_error("polygon %zu ring %zu runs the wrong way\n", i, j);
                _fail(file, line);
            }
}

#define assert_valid(geos, region) valid_region(geos, region, __FILE__, __LINE__)

enum set_operation { AREA_SHARED, AREA_DIFFERENT, AREA_JOINED };

/* Area that two valid regions share, that only one of them has, or of both. */
static inline double geos_area(GEOSContextHandle_t geos, const struct region *a,
                               const struct region *b, enum set_operation operation)
{
    GEOSGeometry *first = geos_of(geos, a);
    GEOSGeometry *second = geos_of(geos, b);
    GEOSGeometry *made =
        operation == AREA_SHARED      ? GEOSIntersection_r(geos, first, second)
        : operation == AREA_DIFFERENT ? GEOSSymDifference_r(geos, first, second)
                                      : GEOSUnion_r(geos, first, second);
    double area = NAN;

    if (made)
        GEOSArea_r(geos, made, &area);
    GEOSGeom_destroy_r(geos, made);
    GEOSGeom_destroy_r(geos, second);
    GEOSGeom_destroy_r(geos, first);
    return area;
}

/* ---- Overlays ------------------------------------- */

/* arrange() that must succeed, on the finest grid. */
static inline void arranged(struct fixture *f, const struct layer_rings *rings,
                            face_label *label, const void *user, size_t count,
                            struct region *out)
{
    struct overlay overlay = {
        .rings = rings,
        .grid = grid_for(rings, 0),
        .label = label,
        .user = user,
        .label_count = count,
    };
    struct outlay_error error = {.what = ""};

    if (arrange(f->ctx, f->arena, &overlay, out, &error) != OUTLAY_OK) {
        print_error("%s\n", error.what);
        fail();
    }
}

#endif
