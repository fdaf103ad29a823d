#ifndef OUTLAY_TESTS_WRITE_SAMPLE_H
#define OUTLAY_TESTS_WRITE_SAMPLE_H

/* Records made by hand for the tests of this room: a zoned warehouse with four zones
 * and a roof without height. All numbers are invented. */

#include <math.h>
#include <string.h>

#include "roof/edges.h"
#include "standard/standard.h"
#include "write/write.h"

enum { SAMPLE_ROOFS = 2 };

struct sample {
    struct write_settings set;
    struct building building;
    struct roof roofs[SAMPLE_ROOFS];
    struct problem problem;
    struct edge_sum edges[3];
    struct point outline[5];
    struct point squares[ZONE_ROLES][4];
    struct ring rings[ZONE_ROLES + 1];
    struct polygon polygons[ZONE_ROLES + 1];
};

/* A clockwise square, which writers have to turn. */
static inline void sample_square(struct point *points, double west, double south,
                                 double size)
{
    points[0] = (struct point){west, south};
    points[1] = (struct point){west, south + size};
    points[2] = (struct point){west + size, south + size};
    points[3] = (struct point){west + size, south};
}

static inline struct region sample_region(struct sample *sample, size_t i,
                                          struct point *points, size_t count)
{
    sample->rings[i] = (struct ring){points, count};
    sample->polygons[i] = (struct polygon){&sample->rings[i], 1};
    return (struct region){&sample->polygons[i], 1};
}

static inline void sample_zone(struct sample *sample, enum zone_role role,
                               const char *label, double area, double uplift)
{
    struct roof *roof = &sample->roofs[0];
    struct zone *zone = &roof->zones[roof->zone_count++];

    zone->role = role;
    zone->label = label;
    zone->area = area;
    sample_square(sample->squares[role], -77 + 0.001 * (int)role, 38.5, 0.0005);
    zone->lonlat = sample_region(sample, role, sample->squares[role], 4);
    zone->uplift = (struct zone_uplift){.known = true,
                                        .uplift = uplift,
                                        .allowable = 0.6 * uplift,
                                        .required = 1.2 * uplift,
                                        .basis = BASIS_MEMORY};
    zone->attachment = (struct zone_attachment){.state = STATE_MET,
                                                .assembly = "Seam-fastened, 10 ft \"A\"",
                                                .row_spacing = 9.5 * 0.3048,
                                                .fastener_spacing = 6 * 0.0254,
                                                .per_board = MISSING,
                                                .ribbon_spacing = NAN,
                                                .capacity = 1500,
                                                .fasteners = area / 10,
                                                .board_fasteners = area / 40};
}

static inline void sample_warehouse(struct sample *sample)
{
    struct roof *roof = &sample->roofs[0];

    roof->id = "W-1";
    roof->name = "North \"big\", warehouse";
    roof->building = "W";
    roof->properties = "\"height_ft\":30,\"NAME\":\"x\",\"outlay_area_ft2\":1,"
                       "\"area_ft2\":{\"name\":[\"state\",\",\"]},\"a\\\"b\":\"state\"";
    roof->whole = roof->zoned = true;
    roof->area = 1000;
    roof->edge_length = 130;
    for (size_t k = 0; k < 3; k++)
        sample->edges[k] =
            (struct edge_sum){.kind = k == 1 ? EDGE_WALL : EDGE_METAL, .length = 50};
    roof->edge_sums = sample->edges;
    roof->edge_sum_count = 3;
    roof->corners = 4;
    roof->height = 9.144;
    roof->storeys = 2;
    roof->method = METHOD_SEAM_FASTENED;
    roof->estimated = 1u << ESTIMATE_STOREYS;
    roof->assumed = ASSUMPTION_BIT(ASSUME_EXPOSURE) | ASSUMPTION_BIT(ASSUME_PULLOUT);
    roof->level.perimeter_depth = 5.4864;
    roof->half_sheets = 2;
    roof->velocity.known = true;
    roof->velocity.speed = 115 * 0.44704;
    roof->velocity.exposure = EXPOSURE_C;
    roof->state = STATE_NOT_MET;
    sample_square(sample->outline, -77, 38, 0.001);
    roof->lonlat = sample_region(sample, ZONE_ROLES, sample->outline, 4);
    sample_zone(sample, ZONE_CORNER, "3", 100, 4000);
    sample_zone(sample, ZONE_PERIMETER, "2", 250.04, 3000);
    sample_zone(sample, ZONE_FIELD, "1", 300, 2000);
    sample_zone(sample, ZONE_INTERIOR, "1'", 349.96, 1000);
    roof->zones[0].attachment.state = STATE_NOT_MET;
    roof->zones[0].attachment.reason = "12 psf short";
    roof->zones[3].lonlat = (struct region){NULL, 0};
}

static inline void sample_shed(struct sample *sample)
{
    struct roof *roof = &sample->roofs[1];

    sample->problem = (struct problem){.code = PROBLEM_HEIGHT_MISSING,
                                       .what = "no height, no storeys",
                                       .done = "left out"};
    roof->position = 1;
    roof->id = "=S,2";
    roof->properties = "";
    roof->whole = true;
    roof->area = 20;
    roof->height = NAN;
    roof->storeys = NAN;
    roof->half_sheets = MISSING;
    roof->problems = &sample->problem;
}

static inline void sample_fill(struct sample *sample, const struct unit_system *units)
{
    memset(sample, 0, sizeof *sample);
    sample->set = (struct write_settings){
        units, &standard_asce7_22, true, true, true, true, "usd", "2026-07", "Sample"};
    sample_warehouse(sample);
    sample_shed(sample);
    sample->building = (struct building){
        .name = "W", .roofs = sample->roofs, .roof_count = SAMPLE_ROOFS};
}

#endif
