/* A roof with zones and attachment made by hand, for the tests of seam-fastened layouts:
 * 10 ft sheets with a lap of 6 in, so rows 9.5 ft or 4.5 ft apart; feet in, feet out. */

#ifndef OUTLAY_TEST_TAKEOFF_SEAM_BENCH_H
#define OUTLAY_TEST_TAKEOFF_SEAM_BENCH_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "edges_around.h"
#include "geo/offset.h"
#include "takeoff/seam_private.h"

#define FT M_PER_FT
#define FT2 M2_PER_FT2

struct seam_bench {
    struct geo_ctx *ctx;
    struct building building;
    struct roof roof;
    struct assembly assembly;
    struct takeoff_settings settings;
    struct layout layout;
    struct polygon polygon;
    struct ring rings[2];
};

static inline void seam_zone(struct seam_bench *b, enum zone_role role,
                             struct region region, double row_ft, double spacing_in)
{
    struct zone *zone = &b->roof.zones[b->roof.zone_count++];

    zone->role = role;
    zone->region = region;
    zone->area = region_area(&region);
    zone->attachment.row_spacing = row_ft * FT;
    zone->attachment.fastener_spacing = spacing_in * M_PER_IN;
    zone->attachment.state = STATE_MET;
    b->layout.states[role] = STATE_MET;
}

/* The roof without zones; shell and hole (NULL: none) in metres, borrowed. */
static inline void seam_bench_init(struct seam_bench *b, struct ring shell,
                                   const struct ring *hole)
{
    memset(b, 0, sizeof *b);
    assert_int_equal(geo_ctx_new(&b->ctx, NULL), OUTLAY_OK);
    b->building.arena = arena_new();
    assert_non_null(b->building.arena);
    b->rings[0] = shell;
    if (hole)
        b->rings[1] = *hole;
    b->polygon = (struct polygon){b->rings, hole ? 2 : 1};
    b->roof.given = attributes_missing();
    b->roof.outline = (struct region){&b->polygon, 1};
    edges_around(b->building.arena, &b->roof, EDGE_PARAPET);
    b->roof.zoned = true;
    b->roof.basis =
        (struct basis){.deck = DECK_STEEL, .rib_pitch = 6 * M_PER_IN, .pullout = NAN};
    b->roof.level.short_side = 20;
    b->assembly = (struct assembly){
        .name = "rows",
        .method = METHOD_SEAM_FASTENED,
        .sheet_width = 10 * FT,
        .lap = 6 * M_PER_IN,
        .rating = 60 * PA_PER_PSF,
        .rating_basis = RATING_ULTIMATE,
        .tested_row_spacing = 9.5 * FT,
        .tested_fastener_spacing = 12 * M_PER_IN,
        .spacings = {12 * M_PER_IN, 6 * M_PER_IN},
        .spacing_count = 2,
    };
    b->roof.assembly = &b->assembly;
    b->roof.fastener_load = 30 * PA_PER_PSF * 9.5 * FT2; /* the rating, safety 2 */
    b->settings = takeoff_defaults();
    b->settings.style = EDGES_LINES;
    b->settings.place_plates = true;
    b->layout.method = METHOD_SEAM_FASTENED;
}

static inline void seam_bench_run(struct seam_bench *b)
{
    struct outlay_error err = {0};

    if (seam_layout(&b->building, &b->roof, &b->settings, b->ctx, &b->layout, &err) !=
        OUTLAY_OK)
        fail_msg("%s", err.what);
}

static inline void seam_bench_release(struct seam_bench *b)
{
    geo_ctx_free(b->ctx);
    arena_free(b->building.arena);
}

/* Screws of rows (base: of base securement) in a zone; role -1: in all. */
static inline int screws(const struct seam_bench *b, bool base, int role)
{
    int sum = 0;

    for (size_t k = 0; k < b->layout.row_count; k++)
        if (b->layout.rows[k].base == base &&
            (role < 0 || (int)b->layout.rows[k].zone == role))
            sum += b->layout.rows[k].fasteners;
    return sum;
}

static inline int sheets_of(const struct seam_bench *b, enum sheet_kind kind)
{
    int sum = 0;

    for (size_t k = 0; k < b->layout.sheet_count; k++)
        sum += b->layout.sheets[k].kind == kind;
    return sum;
}

/* Area of the sheets, cover strips apart, m2. */
static inline double sheet_area(const struct seam_bench *b)
{
    double sum = 0;

    for (size_t k = 0; k < b->layout.sheet_count; k++)
        if (b->layout.sheets[k].kind != SHEET_COVER_STRIP)
            sum += b->layout.sheets[k].area;
    return sum;
}

/* Size of a sheet in a direction, m. */
static inline double sheet_extent(const struct sheet *sheet, struct point d)
{
    double low = INFINITY;
    double high = -INFINITY;

    for (size_t i = 0; i < sheet->region.polygons[0].rings[0].count; i++) {
        double v = dot(sheet->region.polygons[0].rings[0].points[i], d);

        low = fmin(low, v);
        high = fmax(high, v);
    }
    return high - low;
}

static inline bool sheet_fits_along(const struct sheet *sheet, struct point u)
{
    return sheet_extent(sheet, u) <= sheet->length + 1e-6 &&
           sheet_extent(sheet, (struct point){-u.y, u.x}) <= sheet->width + 1e-6;
}

/* Whether a sheet can be cut from its roll: along one of its edges or of its hull's, or
 * along the layout's direction, it is no longer than given, and across no wider than the
 * roll. */
static inline bool sheet_fits(const struct layout *layout, const struct sheet *sheet)
{
    struct ring ring = sheet->region.polygons[0].rings[0];
    bool fits = sheet_fits_along(
        sheet, (struct point){cos(layout->bearing), sin(layout->bearing)});

    for (size_t k = 0; k < ring.count; k++)
        for (size_t l = 0; l < k && !fits; l++) {
            struct point a = ring.points[l];
            struct point b = ring.points[k];
            double length = point_distance(a, b);

            fits = sheet_fits_along(
                sheet, (struct point){(b.x - a.x) / length, (b.y - a.y) / length});
        }
    return fits;
}

#endif
