/* Outlines by chance: of right angles, stars, traced boxes, round ones; put anywhere on
 * earth and read in as a file would be. */

#ifndef OUTLAY_TEST_OUTLINES_H
#define OUTLAY_TEST_OUTLINES_H

#include "../../unit/zoning/site.h"

#include "roof/normalise.h"

/* ---- Shapes, around the origin, m -------------------------------------------------- */

/* The largest polygon of a union of boxes: right angles, at times with courts. Sides are
 * whole numbers of steps, so that nothing is narrower than one. */
static inline struct region boxes_joined(struct fixture *f, struct chance *chance,
                                         double size, double step)
{
    struct layer_rings rings = {NULL, 0, 0};
    struct region joined;
    size_t count = 1 + chance_below(chance, 6);
    size_t largest = 0;

    for (size_t k = 0; k < count; k++) {
        double width = ceil(chance_between(chance, 0.15, 0.8) * size / step) * step;
        double height = ceil(chance_between(chance, 0.15, 0.8) * size / step) * step;
        double x = round(chance_between(chance, -0.5, 0.2) * size / step) * step;
        double y = round(chance_between(chance, -0.5, 0.2) * size / step) * step;

        assert_true(layer_rings_add(f->arena, &rings,
                                    box_ring(f->arena, x, y, width, height), 0));
    }
    arranged(f, &rings, label_positive, NULL, 1, &joined);
    for (size_t i = 1; i < joined.polygon_count; i++)
        if (ring_area(joined.polygons[i].rings[0]) >
            ring_area(joined.polygons[largest].rings[0]))
            largest = i;
    return (struct region){&joined.polygons[largest], 1};
}

/* Angles in order, distances by chance. */
static inline struct region star(struct fixture *f, struct chance *chance, double size)
{
    struct ring ring = ring_new(f->arena, 5 + chance_below(chance, 40));
    double least = chance_between(chance, 0.2, 0.9);

    for (size_t k = 0; k < ring.count; k++) {
        double angle =
            2 * PI * ((double)k + chance_between(chance, 0, 0.8)) / (double)ring.count;
        double reach = chance_between(chance, least, 1) * size / 2;

        ring.points[k] = (struct point){reach * cos(angle), reach * sin(angle)};
    }
    return region_made(f->arena, &ring, 1);
}

/* A box as traced from an image: a point here and there, none quite in place. */
static inline struct region traced_box(struct fixture *f, struct chance *chance,
                                       double size)
{
    double width = size * chance_between(chance, 0.3, 1);
    double noise = fmin(0.02 * width, chance_between(chance, 0.01, 0.4));
    const struct point corners[] = {{-size / 2, -width / 2},
                                    {size / 2, -width / 2},
                                    {size / 2, width / 2},
                                    {-size / 2, width / 2}};
    size_t per_side = 1 + chance_below(chance, 8);
    struct ring ring = ring_new(f->arena, 4 * per_side);

    for (size_t k = 0; k < ring.count; k++) {
        struct point a = corners[k / per_side];
        struct point b = corners[(k / per_side + 1) % 4];
        double t = (double)(k % per_side) / (double)per_side;

        struct point off =
            chance_point(chance, (struct box){-noise, -noise, noise, noise});

        ring.points[k].x = a.x + t * (b.x - a.x) + off.x;
        ring.points[k].y = a.y + t * (b.y - a.y) + off.y;
    }
    return region_made(f->arena, &ring, 1);
}

/* An ellipse of many points. */
static inline struct region round_roof(struct fixture *f, struct chance *chance,
                                       double size)
{
    size_t count = 12 + chance_below(chance, 100);
    double turn = chance_between(chance, 0, 1);
    struct ring ring = ring_regular(f->arena, count, size / 2, turn);
    double flat = chance_between(chance, 0.3, 1);

    for (size_t k = 0; k < ring.count; k++)
        ring.points[k].y *= flat;
    return region_made(f->arena, &ring, 1);
}

enum { SHAPE_BOXES, SHAPE_BLOCKS, SHAPE_STAR, SHAPE_TRACED, SHAPE_ROUND, SHAPES };

static inline struct region shape_of(struct fixture *f, struct chance *chance, int kind,
                                     double size)
{
    switch (kind) {
    case SHAPE_BOXES:
        return boxes_joined(f, chance, size, 1e-3);
    case SHAPE_BLOCKS:
        return boxes_joined(f, chance, size, 0.5);
    case SHAPE_STAR:
        return star(f, chance, size);
    case SHAPE_TRACED:
        return traced_box(f, chance, size);
    default:
        return round_roof(f, chance, size);
    }
}

/* ---- Anywhere on earth ------------------------------------------------------------ */

struct pose {
    struct point place; /* longitude and latitude */
    double angle;       /* radians */
    double scale;
};

static inline struct pose pose_by_chance(struct chance *chance)
{
    struct pose pose = {.scale = 1};

    pose.place.x = chance_below(chance, 10) ? chance_between(chance, -180, 180) : 180;
    pose.place.y = chance_between(chance, -80, 80);
    pose.angle = chance_between(chance, 0, 2 * PI);
    return pose;
}

/* A copy in longitudes and latitudes. */
static inline struct region put(struct fixture *f, const struct region *shape,
                                const struct pose *pose)
{
    struct region copy;
    struct frame frame;

    frame_init(&frame, f->ctx, pose->place);
    assert_int_equal(region_copy(f->arena, shape, &copy), OUTLAY_OK);
    for (size_t i = 0; i < copy.polygon_count; i++)
        for (size_t j = 0; j < copy.polygons[i].ring_count; j++) {
            struct ring *ring = &copy.polygons[i].rings[j];

            *ring = ring_moved(f->arena, *ring, pose->angle, 0, 0);
            for (size_t k = 0; k < ring->count; k++) {
                ring->points[k].x *= pose->scale;
                ring->points[k].y *= pose->scale;
            }
            frame_to_lonlat(&frame, ring->points, ring->count);
        }
    return copy;
}

/* Adds a roof as it was read, before normalising. */
static inline struct roof *site_read(struct site *site, struct region lonlat,
                                     double height)
{
    struct roof *roof = &site->roofs[site->building.roof_count++];

    assert_true(site->building.roof_count <= SITE_ROOFS);
    roof->id = "1";
    roof->properties = "";
    roof->given = attributes_missing();
    roof->lonlat = lonlat;
    roof->height = height;
    return roof;
}

static inline void site_run(struct site *site, const struct zoning_settings *settings)
{
    site->building.roofs = site->roofs;
    assert_int_equal(normalise_building(&site->building, site->f->ctx, NULL), OUTLAY_OK);
    for (size_t r = 0; r < site->building.roof_count; r++)
        assert_true(site->roofs[r].whole);
    site_zone(site, settings);
}

/* One roof of a shape, zoned. */
static inline struct roof *shape_zoned(struct site *site, const struct region *shape,
                                       const struct pose *pose, double height,
                                       const struct zoning_settings *settings)
{
    struct roof *roof = site_read(site, put(site->f, shape, pose), height);

    site_run(site, settings);
    return roof;
}

#endif
