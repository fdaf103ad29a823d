/* Roofs by chance, and what the second computation of row loads looks at: the zones'
 * edges and the plates of a layout. No code is shared with takeoff/. */

#ifndef OUTLAY_TEST_ROW_SCENE_H
#define OUTLAY_TEST_ROW_SCENE_H

#include "../zoning/outlines.h"

#include <stdlib.h>

#include "catalog/catalog.h"
#include "flow/stages.h"
#include "roof/field.h"
#include "roof/layout.h"

enum { COLUMNS_MAX = 6, CROSSINGS_MAX = 256 };

/* ---- Roofs by chance ------------------------------------------------------------ */

/* Columns side by side on one line, each higher or lower than the last: a box, L, T, U,
 * comb or stairs. */
static inline struct region columns(struct fixture *f, struct chance *chance, double size)
{
    size_t count = 1 + chance_below(chance, COLUMNS_MAX);
    struct ring ring = ring_new(f->arena, 2 + 2 * count);
    double x = 0;
    double height = 0;

    for (size_t k = 0; k < count; k++) {
        bool higher = chance_below(chance, 2) != 0;

        height += higher || height < 0.3 * size
                      ? size * chance_between(chance, 0.2, 0.6)
                      : -height * chance_between(chance, 0.2, 0.7);
        ring.points[2 * k] = (struct point){x, height};
        x += size * chance_between(chance, 0.1, 1.5 / (double)count);
        ring.points[2 * k + 1] = (struct point){x, height};
    }
    ring.points[2 * count] = (struct point){x, 0};
    ring.points[2 * count + 1] = (struct point){0, 0};
    ring_reverse(ring);
    return region_made(f->arena, &ring, 1);
}

/* Every vertex somewhere near. */
static inline void slant(struct region *region, struct chance *chance, double by)
{
    double sheared = chance_between(chance, -0.4, 0.4);
    struct ring ring = region->polygons[0].rings[0];

    for (size_t k = 0; k < ring.count; k++) {
        ring.points[k].x += sheared * ring.points[k].y + chance_between(chance, -by, by);
        ring.points[k].y += chance_between(chance, -by, by);
    }
}

static inline struct region outline_by_chance(struct fixture *f, struct chance *chance)
{
    double size = exp(chance_between(chance, log(9), log(55)));
    size_t kind = chance_below(chance, 10);
    struct region region;

    if (kind == 0)
        return star(f, chance, size);
    if (kind < 3)
        return boxes_joined(f, chance, size, 0.5);
    region = columns(f, chance, size);
    if (kind < 6)
        slant(&region, chance, fmin(1, 0.03 * size));
    return region;
}

static inline void give_attributes(struct roof *roof, struct chance *chance)
{
    struct attributes *given = &roof->given;

    given->height = exp(chance_between(chance, log(10), log(300))) * M_PER_FT;
    given->wind_speed = chance_between(chance, 90, 200) * MPS_PER_MPH;
    given->exposure = (enum exposure)(1 + chance_below(chance, 3));
    given->deck = (enum deck)(1 + chance_below(chance, 3));
    given->deck_bearing = chance_below(chance, 2) ? chance_between(chance, 0, 180) : NAN;
    given->pullout = chance_below(chance, 2) ? 3000 : NAN;
    given->parapet = 0;
    given->stack = 0; /* no boards */
}

static inline void settings_make(struct settings *settings, struct chance *chance,
                                 int style)
{
    static const enum edge_rule rules[] = {RULE_CALCULATED, RULE_CALCULATED,
                                           RULE_PERCENTAGE, RULE_ROW_FRACTION,
                                           RULE_STOREY};
    struct outlay_error err = {0};

    settings_init(settings);
    settings->standard = (int)chance_below(chance, 3);
    settings->attach.edge_rule = rules[chance_below(chance, LENGTH(rules))];
    settings->zoning.reentrant_corners = chance_below(chance, 2) != 0;
    settings->takeoff.style = (enum edge_style)style;
    settings->takeoff.place_plates = true;
    if (settings_resolve(settings, &err) != OUTLAY_OK)
        fail_msg("%s", err.what);
}

/* ---- What is looked at ----------------------------------------------------------- */

struct zone_edge {
    struct point a, b;
    double pressure; /* of the zone to its left, Pa */
};

struct scene {
    struct arena *arena;
    const struct roof *roof; /* inside its walls */
    const struct layout *layout;
    double allowable; /* of one fastener, N */
    struct zone_edge *edges;
    size_t edge_count;
    size_t plate_count;
    double *loads;  /* of each plate, N */
    double *shares; /* length of row that each plate holds, m */
};

static inline struct point minus(struct point a, struct point b)
{
    return (struct point){a.x - b.x, a.y - b.y};
}

static inline double cross(struct point a, struct point b)
{
    return a.x * b.y - a.y * b.x;
}

static inline double inner(struct point a, struct point b)
{
    return a.x * b.x + a.y * b.y;
}

static inline double fastener_may_carry(const struct roof *roof,
                                        const struct layout *layout,
                                        const struct catalog *catalog)
{
    for (size_t i = 0; i < catalog->assembly_count; i++) {
        const struct assembly *a = &catalog->assemblies[i];
        double held = a->rating * a->tested_row_spacing * a->tested_fastener_spacing;

        if (strcmp(a->name, layout->assembly) != 0)
            continue;
        held /= a->rating_basis == RATING_ULTIMATE ? 2 : 1;
        return isnan(roof->given.pullout) ? held : fmin(held, roof->given.pullout / 2);
    }
    fail_msg("no assembly");
    return NAN;
}

static inline void edges_list(struct scene *s)
{
    size_t count = 0;

    for (size_t z = 0; z < s->roof->zone_count; z++)
        count += region_points(&s->roof->zones[z].region);
    s->edges = arena_array(s->arena, count, sizeof *s->edges);
    assert_non_null(s->edges);
    for (size_t z = 0; z < s->roof->zone_count; z++) {
        const struct zone *zone = &s->roof->zones[z];

        for (size_t i = 0; i < zone->region.polygon_count; i++)
            for (size_t j = 0; j < zone->region.polygons[i].ring_count; j++) {
                struct ring ring = zone->region.polygons[i].rings[j];

                for (size_t k = 0; k < ring.count; k++)
                    s->edges[s->edge_count++] = (struct zone_edge){
                        ring.points[k], ring.points[(k + 1) % ring.count],
                        zone->uplift.allowable};
            }
    }
}

static inline struct scene scene_of(struct arena *arena, const struct roof *roof,
                                    const struct settings *settings)
{
    struct roof *inside = arena_alloc(arena, sizeof *inside);
    struct scene s = {.arena = arena, .roof = inside, .layout = &roof->layouts[0]};

    assert_non_null(inside);
    *inside = roof_inside(roof);
    s.allowable = fastener_may_carry(roof, s.layout, &settings->catalog);
    s.plate_count = s.layout->plate_count;
    s.loads = arena_array(arena, s.plate_count + 1, sizeof *s.loads);
    s.shares = arena_array(arena, s.plate_count + 1, sizeof *s.shares);
    assert_non_null(s.loads);
    assert_non_null(s.shares);
    edges_list(&s);
    return s;
}

/* ---- Pull along a line: where zones begin and end on it ---------------------------- */

struct crossing {
    double t;
    double step; /* of the pressure, Pa */
};

struct line {
    struct crossing at[CROSSINGS_MAX];
    size_t count;
};

static inline int crossing_compare(const void *a, const void *b)
{
    double x = ((const struct crossing *)a)->t;
    double y = ((const struct crossing *)b)->t;

    return (x > y) - (x < y);
}

/* From p along d (of unit length). A zone's edges come with the zone at their left, so
 * pressure rises or falls by its own at each. */
static inline void line_cut(const struct scene *s, struct point p, struct point d,
                            struct line *line)
{
    line->count = 0;
    for (size_t k = 0; k < s->edge_count; k++) {
        const struct zone_edge *e = &s->edges[k];
        double from = cross(d, minus(e->a, p));
        double to = cross(d, minus(e->b, p));
        double t;

        if ((from > 0) == (to > 0))
            continue;
        t = inner(d, minus(e->a, p)) + from / (from - to) * inner(d, minus(e->b, e->a));
        assert_true(line->count < CROSSINGS_MAX);
        line->at[line->count++] =
            (struct crossing){t, from > 0 ? e->pressure : -e->pressure};
    }
    qsort(line->at, line->count, sizeof *line->at, crossing_compare);
}

/* Integral of pressure from 0 to `length` along a line, N/m. */
static inline double line_pull(const struct line *line, double length)
{
    double pressure = 0;
    double at = 0;
    double sum = 0;

    for (size_t k = 0; k < line->count && line->at[k].t < length; k++) {
        if (line->at[k].t > at) {
            sum += pressure * (line->at[k].t - at);
            at = line->at[k].t;
        }
        pressure += line->at[k].step;
    }
    return sum + pressure * (length - at);
}

#endif
