/* Outlines in feet and drains on them, for the tests of taper/. */

#ifndef OUTLAY_TEST_TAPER_PLACE_H
#define OUTLAY_TEST_TAPER_PLACE_H

#include "base/units.h"
#include "taper/taper.h"

#define FT M_PER_FT
#define IN M_PER_IN

enum { DRAINS_MAX = 8, POINTS_MAX = 24, RINGS_MAX = 4 };

struct place {
    struct arena *arena;
    struct panel_list panels;
    struct taper_settings settings;
    struct point points[RINGS_MAX][POINTS_MAX];
    struct ring rings[RINGS_MAX];
    struct polygon polygon;
    struct region outline;
    struct point drains[DRAINS_MAX];
    size_t drain_count;
    double bearing;
    double slope;
    double turn; /* by which all is turned, radians */
    struct taper taper;
};

/* All is turned and moved, so that nothing is easy. */
static inline struct point place_point(const struct place *place, double x, double y)
{
    double c = cos(place->turn);
    double s = sin(place->turn);

    return (struct point){(x * c - y * s) * FT + 20, (x * s + y * c) * FT - 30};
}

/* @param feet  x and y of `count` points, the inside on their left */
static inline void place_ring(struct place *place, const double *feet, size_t count)
{
    size_t r = place->polygon.ring_count++;

    for (size_t i = 0; i < count; i++)
        place->points[r][i] = place_point(place, feet[2 * i], feet[2 * i + 1]);
    place->rings[r] = (struct ring){place->points[r], count};
    place->polygon.rings = place->rings;
    place->outline = (struct region){&place->polygon, 1};
}

static inline void place_rectangle(struct place *place, double length, double width)
{
    const double feet[] = {0, 0, length, 0, length, width, 0, width};

    place_ring(place, feet, 4);
}

static inline void place_drain(struct place *place, double x, double y)
{
    place->drains[place->drain_count++] = place_point(place, x, y);
}

static inline bool place_open(struct place *place, double turn)
{
    struct outlay_error err = {0};

    *place = (struct place){.arena = arena_new(),
                            .settings = taper_defaults(),
                            .slope = 0.25 / 12,
                            .turn = turn,
                            .bearing = turn};
    if (!place->arena ||
        panels_load(place->arena, NULL, &place->panels, &err) != OUTLAY_OK)
        return false;
    place->settings.panels = &place->panels;
    return true;
}

static inline bool place_find(struct place *place)
{
    struct taper_place at = {&place->outline, place->bearing, place->slope, place->drains,
                             place->drain_count};

    return taper_find(place->arena, &at, &place->settings, &place->taper) == OUTLAY_OK;
}

static inline double place_at(const struct place *place, double x, double y)
{
    return taper_at(&place->taper, place_point(place, x, y));
}

#endif
