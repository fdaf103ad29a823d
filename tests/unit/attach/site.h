/* A roof, a catalogue and settings made by hand, for the tests of attach/. */

#ifndef OUTLAY_TEST_ATTACH_SITE_H
#define OUTLAY_TEST_ATTACH_SITE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "attach/attach.h"
#include "attach/pattern.h"
#include "base/units.h"
#include "roof/basis.h"

#define FT2 M2_PER_FT2
#define PSF PA_PER_PSF

static inline void near_to(double value, double expected, const char *file, int line)
{
    if (!(fabs(value - expected) <= 1e-9 * fmax(1, fabs(expected)))) {
        print_error("%.12g isn't %.12g\n", value, expected);
        _fail(file, line);
    }
}

#define near(value, expected) near_to(value, expected, __FILE__, __LINE__)

/* The assembly of the vectors: 10 ft sheets, tested at 60 psf ultimate, 12 in. */
static inline struct assembly seam_assembly(void)
{
    struct assembly a = {
        .name = "rows",
        .method = METHOD_SEAM_FASTENED,
        .decks = 1u << DECK_STEEL | 1u << DECK_CONCRETE | 1u << DECK_GYPSUM,
        .sheet_width = 10 * M_PER_FT,
        .lap = 6 * M_PER_IN,
        .rating = 60 * PSF,
        .rating_basis = RATING_ULTIMATE,
        .tested_row_spacing = 9.5 * M_PER_FT,
        .tested_fastener_spacing = 12 * M_PER_IN,
        .spacings = {12 * M_PER_IN, 6 * M_PER_IN},
        .spacing_count = 2,
        .board_length = 8 * M_PER_FT,
        .board_width = 4 * M_PER_FT,
        .tested_per_board = MISSING,
        .tested_ribbon = NAN,
        .extrapolation = 4.5,
        .board_fasteners = 5,
    };

    return a;
}

/* A 4 x 8 ft board tested with 8 fasteners at 60 psf ultimate. */
static inline struct assembly board_assembly(enum method method)
{
    struct assembly a = {
        .name = "boards",
        .method = method,
        .decks = 1u << DECK_STEEL | 1u << DECK_CONCRETE | 1u << DECK_GYPSUM,
        .sheet_width = 10 * M_PER_FT,
        .lap = 3 * M_PER_IN,
        .rating = 60 * PSF,
        .rating_basis = RATING_ULTIMATE,
        .tested_row_spacing = NAN,
        .tested_fastener_spacing = NAN,
        .board_length = 8 * M_PER_FT,
        .board_width = 4 * M_PER_FT,
        .tested_per_board = 8,
        .patterns = {8, 10, 12, 14, 16, 20, 24, 32},
        .pattern_count = 8,
        .tested_ribbon = NAN,
        .extrapolation = 4,
    };

    return a;
}

/* 4 x 4 ft boards in ribbons, tested at 12 in and 60 psf ultimate. */
static inline struct assembly ribbon_assembly(void)
{
    struct assembly a = board_assembly(METHOD_ADHERED);

    a.name = "ribbons";
    a.board_length = 4 * M_PER_FT;
    a.tested_per_board = MISSING;
    a.pattern_count = 0;
    a.tested_ribbon = 12 * M_PER_IN;
    a.ribbons[0] = 12 * M_PER_IN;
    a.ribbons[1] = 6 * M_PER_IN;
    a.ribbons[2] = 4 * M_PER_IN;
    a.ribbon_count = 3;
    a.extrapolation = 3;
    return a;
}

struct bench {
    struct assembly assemblies[4];
    struct catalog catalog;
    struct basis_settings basis;
    struct attach_settings settings;
    struct roof roof;
    struct building building;
};

/* A roof with all four zones of 1000 ft2 and everything given: concrete deck, pull-out
 * 10,000 N, one storey. Nothing about it is weak but that it isn't laid out: what holds
 * is `met assumed`. Allowable pressures in psf, from the corner inward; NAN: unknown. */
static inline void bench_init(struct bench *bench, struct assembly assembly,
                              double corner, double perimeter, double field,
                              double interior)
{
    const double demands[] = {corner, perimeter, field, interior};

    memset(bench, 0, sizeof *bench);
    bench->assemblies[0] = assembly;
    bench->catalog.assemblies = bench->assemblies;
    bench->catalog.assembly_count = 1;
    bench->settings = attach_defaults();
    bench->settings.catalog = &bench->catalog;
    bench->settings.method = assembly.method;
    bench->basis = basis_defaults();
    bench->basis.deck = DECK_CONCRETE;
    bench->basis.pullout = 10000;
    bench->roof.id = "1";
    bench->roof.given = attributes_missing();
    bench->roof.zoned = true;
    bench->roof.storeys = 1;
    bench->roof.zone_count = 4;
    bench->roof.problems_end = &bench->roof.problems;
    bench->roof.level.perimeter_depth = 9 * M_PER_FT;
    bench->roof.level.leg_depth = 3 * M_PER_FT;
    bench->roof.level.long_side = 50;
    for (int i = 0; i < 4; i++) {
        struct zone *zone = &bench->roof.zones[i];

        zone->role = (enum zone_role)i;
        zone->area = 1000 * FT2;
        zone->uplift.known = !isnan(demands[i]);
        zone->uplift.allowable = demands[i] * PSF;
    }
    bench->building.roofs = &bench->roof;
    bench->building.roof_count = 1;
    bench->building.arena = arena_new();
    assert_non_null(bench->building.arena);
}

static inline void bench_run(struct bench *bench)
{
    basis_run(&bench->building, &bench->basis);
    assert_int_equal(attach_run(&bench->building, &bench->settings, NULL), OUTLAY_OK);
}

static inline void bench_release(struct bench *bench)
{
    arena_free(bench->building.arena);
}

static inline const struct zone_attachment *zone_of(const struct bench *bench,
                                                    enum zone_role role)
{
    return &bench->roof.zones[role].attachment;
}

static inline void reason_holds(const struct zone_attachment *zone, const char *part)
{
    if (!zone->reason || !strstr(zone->reason, part))
        fail_msg("\"%s\" isn't in \"%s\"", part, zone->reason ? zone->reason : "NULL");
}

#endif
