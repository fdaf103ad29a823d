#ifndef OUTLAY_WRITE_CELLS_H
#define OUTLAY_WRITE_CELLS_H

/**
 * @file write/cells.h
 * The values of the columns, each taken from one row; private to the table in columns.c
 * and to sums that must agree with it. SI; NAN or NULL when unknown.
 */

#include "write/columns.h"

/* Any row. */
const char *cell_roof_id(const struct row *row);
const char *cell_name(const struct row *row);
const char *cell_building(const struct row *row);
const char *cell_standard(const struct row *row);
const char *cell_method(const struct row *row);
uint64_t cell_estimated(const struct row *row);
uint64_t cell_assumed(const struct row *row);
uint64_t cell_open(const struct row *row);
uint64_t cell_verified(const struct row *row);

/* Of row->zone, unknown without one. */
const char *cell_zone(const struct row *row);
const char *cell_label(const struct row *row);
const char *cell_basis(const struct row *row);
double cell_zone_area(const struct row *row);
double cell_share(const struct row *row);
double cell_uplift(const struct row *row);
double cell_allowable(const struct row *row);
double cell_required(const struct row *row);
const char *cell_assembly(const struct row *row);
const char *cell_state(const struct row *row);
const char *cell_reason(const struct row *row);
const char *cell_edge_rule(const struct row *row);
const char *cell_quantity_basis(const struct row *row);
double cell_fasteners(const struct row *row);
double cell_board_fasteners(const struct row *row);
double cell_row_spacing(const struct row *row);
double cell_fastener_spacing(const struct row *row);
double cell_per_board(const struct row *row);
double cell_ribbon_spacing(const struct row *row);
double cell_capacity(const struct row *row);

/* Of the whole roof. */
double cell_height(const struct row *row);
double cell_storeys(const struct row *row);
double cell_roof_area(const struct row *row);
/** 0 for a zone that a zoned roof doesn't have. */
double cell_role_area(const struct row *row);
double cell_edge_length(const struct row *row);
double cell_metal_edge(const struct row *row); /**< this and the next: by kind, m */
double cell_gutter_edge(const struct row *row);
double cell_parapet_edge(const struct row *row);
double cell_wall_edge(const struct row *row);
double cell_curb_edge(const struct row *row);
double cell_joint_edge(const struct row *row);
double cell_continuous_edge(const struct row *row);
/** This and the next: of tapered insulation; NAN where none is counted. */
double cell_taper_mean(const struct row *row);
double cell_taper_volume(const struct row *row);
/** R-values with the flat boards below, m2 K/W; NAN where these aren't counted. */
double cell_insulation_mean(const struct row *row);
double cell_insulation_effective(const struct row *row);
double cell_corners(const struct row *row);
double cell_zone_width(const struct row *row);
double cell_wind_speed(const struct row *row);
const char *cell_exposure(const struct row *row);
/** The weakest of its zones. */
const char *cell_roof_basis(const struct row *row);
/** That of all its zones, or "differs by zone". */
const char *cell_roof_assembly(const struct row *row);
const char *cell_roof_state(const struct row *row);
/** That of the zone with the worst state, or why the roof has no zones. */
const char *cell_roof_reason(const struct row *row);
const char *cell_roof_edge_rule(const struct row *row);
const char *cell_roof_quantity_basis(const struct row *row);
/** Sums over its zones; unknown as soon as one zone's count is. */
double cell_roof_fasteners(const struct row *row);
double cell_roof_board_fasteners(const struct row *row);
double cell_half_sheets(const struct row *row);
double cell_problems(const struct row *row);

/** A zone's count by area, not rounded; NAN unless an assembly was found. */
double zone_fasteners(const struct zone *zone);
double zone_board_fasteners(const struct zone *zone);

/** A roof's, summed over its zones. */
double roof_fasteners(const struct roof *roof);
double roof_board_fasteners(const struct roof *roof);

#endif
