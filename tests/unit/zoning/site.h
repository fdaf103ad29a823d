/* Buildings made by hand, in metres, for the tests of zoning/. */

#ifndef OUTLAY_TEST_SITE_H
#define OUTLAY_TEST_SITE_H

#include "../geo/geometry.h"

#include "base/units.h"
#include "zoning/zoning.h"

enum { SITE_ROOFS = 8 };

struct site {
    struct fixture *f;
    struct roof roofs[SITE_ROOFS];
    struct building building;
};

/* A building without roofs yet, somewhere. */
static inline struct site site_empty(struct fixture *f)
{
    struct site site = {.f = f};

    site.building.arena = f->arena;
    frame_init(&site.building.frame, f->ctx, (struct point){-87.6, 41.8});
    return site;
}

/* Adds a roof, as normalising leaves it. The outline is borrowed. */
static inline struct roof *site_add(struct site *site, struct region outline,
                                    double height)
{
    struct roof *roof = &site->roofs[site->building.roof_count++];

    assert_true(site->building.roof_count <= SITE_ROOFS);
    roof->id = "1";
    roof->properties = "";
    roof->given = attributes_missing();
    roof->outline = outline;
    roof->area = region_area(&outline);
    roof->height = height;
    roof->whole = true;
    return roof;
}

/* Adds a roof of one ring. */
static inline struct roof *site_ring(struct site *site, struct ring ring, double height)
{
    return site_add(site, region_made(site->f->arena, &ring, 1), height);
}

/* What holds for every zoned roof: zones in order, none tiny, all valid, and together
 * the outline, but for the share of `extent` squared that an overlay's rounding takes. */
static inline void assert_sound(struct fixture *f, const struct roof *roof, double extent)
{
    double sum = 0;

    assert_true(roof->zoned);
    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct zone *zone = &roof->zones[i];

        assert_true(i == 0 || zone[-1].role < zone->role);
        assert_non_null(zone->label);
        assert_true(zone->area >= 0.01);
        near_share(zone->area, region_area(&zone->region), 1e-12);
        assert_valid(f->geos, &zone->region);
        assert_valid(f->geos, &zone->lonlat);
        assert_true(zone->lonlat.polygon_count > 0);
        sum += zone->area;
    }
    near(sum, region_area(&roof->outline),
         5e-9 * fmax(region_area(&roof->outline), extent * extent));
}

/* Diagonal of the box around all outlines, m. */
static inline double site_extent(const struct site *site)
{
    struct box all = {INFINITY, INFINITY, -INFINITY, -INFINITY};

    for (size_t r = 0; r < site->building.roof_count; r++) {
        struct box box = region_box(&site->roofs[r].outline);

        all.min_x = fmin(all.min_x, box.min_x);
        all.min_y = fmin(all.min_y, box.min_y);
        all.max_x = fmax(all.max_x, box.max_x);
        all.max_y = fmax(all.max_y, box.max_y);
    }
    return hypot(all.max_x - all.min_x, all.max_y - all.min_y);
}

static inline void site_zone(struct site *site, const struct zoning_settings *settings)
{
    double extent = site_extent(site);

    site->building.roofs = site->roofs;
    assert_int_equal(zoning_run(&site->building, settings, site->f->ctx, NULL),
                     OUTLAY_OK);
    for (size_t r = 0; r < site->building.roof_count; r++)
        if (site->roofs[r].whole && isfinite(site->roofs[r].height))
            assert_sound(site->f, &site->roofs[r], extent);
}

static inline struct zoning_settings settings_of(const char *standard)
{
    struct zoning_settings settings = zoning_defaults();

    settings.standard = standard_find(standard);
    assert_non_null(settings.standard);
    return settings;
}

/* Area of a zone, 0 where the roof has none. */
static inline double zone_area(const struct roof *roof, enum zone_role role)
{
    for (size_t i = 0; i < roof->zone_count; i++)
        if (roof->zones[i].role == role)
            return roof->zones[i].area;
    return 0;
}

/* Of all roofs of the building. */
static inline double site_area(const struct site *site, enum zone_role role)
{
    double sum = 0;

    for (size_t r = 0; r < site->building.roof_count; r++)
        sum += zone_area(&site->roofs[r], role);
    return sum;
}

static inline double site_edge(const struct site *site)
{
    double sum = 0;

    for (size_t r = 0; r < site->building.roof_count; r++)
        sum += site->roofs[r].edge_length;
    return sum;
}

static inline int site_corners(const struct site *site)
{
    int sum = 0;

    for (size_t r = 0; r < site->building.roof_count; r++)
        sum += site->roofs[r].corners;
    return sum;
}

static inline bool roof_assumes(const struct roof *roof, enum assumption what)
{
    return roof->assumed >> what & 1;
}

/* Areas expected of the four zones, m2. */
struct zone_areas {
    double of[ZONE_ROLES];
};

static inline void areas_are(const struct roof *roof, struct zone_areas expected,
                             double tolerance, const char *file, int line)
{
    for (int role = 0; role < ZONE_ROLES; role++)
        near_to(zone_area(roof, (enum zone_role)role), expected.of[role], tolerance, file,
                line);
}

#define assert_areas(roof, expected, tolerance) \
    areas_are(roof, expected, tolerance, __FILE__, __LINE__)

/* Zones by height from what is left inside the strips of perimeter and field. */
static inline struct zone_areas areas_from(double whole, double corner, double inside,
                                           double core)
{
    return (struct zone_areas){{corner, whole - inside - corner, inside - core, core}};
}

#endif
