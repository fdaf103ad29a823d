#include "write/cells.h"

#include <math.h>
#include <string.h>

#include "roof/edges.h"
#include "roof/layout.h"
#include "roof/taper.h"

/* ---- Any row ---- */

const char *cell_roof_id(const struct row *row)
{
    return row->roof->id;
}

const char *cell_name(const struct row *row)
{
    return row->roof->name;
}

const char *cell_building(const struct row *row)
{
    return row->roof->building;
}

const char *cell_standard(const struct row *row)
{
    return row->set->standard->name;
}

const char *cell_method(const struct row *row)
{
    return method_name(row->roof->method);
}

uint64_t cell_estimated(const struct row *row)
{
    return row->roof->estimated;
}

uint64_t cell_assumed(const struct row *row)
{
    return row->roof->assumed;
}

uint64_t cell_open(const struct row *row)
{
    return roof_open(row->roof);
}

uint64_t cell_verified(const struct row *row)
{
    return row->roof->verified;
}

/* ---- Of a zone ---- */

/* The record starts out zeroed, and none of these can be 0 where it is known. */
static double if_positive(double value)
{
    return value > 0 ? value : NAN;
}

const char *cell_zone(const struct row *row)
{
    return row->zone ? zone_role_name(row->zone->role) : NULL;
}

const char *cell_label(const struct row *row)
{
    return row->zone ? row->zone->label : NULL;
}

const char *cell_basis(const struct row *row)
{
    if (!row->zone || !row->zone->uplift.known)
        return NULL;
    return coefficient_basis_name(row->zone->uplift.basis);
}

double cell_zone_area(const struct row *row)
{
    return row->zone ? row->zone->area : NAN;
}

double cell_share(const struct row *row)
{
    return row->zone ? row->zone->area / if_positive(row->roof->area) : NAN;
}

double cell_uplift(const struct row *row)
{
    return row->zone && row->zone->uplift.known ? row->zone->uplift.uplift : NAN;
}

double cell_allowable(const struct row *row)
{
    return row->zone && row->zone->uplift.known ? row->zone->uplift.allowable : NAN;
}

double cell_required(const struct row *row)
{
    return row->zone && row->zone->uplift.known ? row->zone->uplift.required : NAN;
}

const char *cell_assembly(const struct row *row)
{
    return row->zone ? row->zone->attachment.assembly : NULL;
}

const char *cell_state(const struct row *row)
{
    return row->zone ? zone_state_name(row->zone->attachment.state) : NULL;
}

/* Why the roof was left out: the first of its errors. */
static const char *why_left_out(const struct roof *roof)
{
    for (const struct problem *p = roof->problems; p; p = p->next)
        if (problem_severity(p->code) == SEVERITY_ERROR)
            return p->what;
    return NULL;
}

const char *cell_reason(const struct row *row)
{
    return row->zone ? row->zone->attachment.reason : why_left_out(row->roof);
}

const char *cell_edge_rule(const struct row *row)
{
    return row->zone ? edge_rule_name(row->zone->attachment.rule) : NULL;
}

const char *cell_quantity_basis(const struct row *row)
{
    if (!row->zone || !isfinite(zone_fasteners(row->zone)))
        return NULL;
    return roof_laid_out(row->roof) ? "layout" : "by area";
}

double zone_fasteners(const struct zone *zone)
{
    return zone->attachment.assembly ? zone->attachment.fasteners : NAN;
}

double zone_board_fasteners(const struct zone *zone)
{
    return zone->attachment.assembly ? zone->attachment.board_fasteners : NAN;
}

double cell_fasteners(const struct row *row)
{
    return row->zone ? fasteners_whole(zone_fasteners(row->zone)) : NAN;
}

double cell_board_fasteners(const struct row *row)
{
    return row->zone ? fasteners_whole(zone_board_fasteners(row->zone)) : NAN;
}

double cell_row_spacing(const struct row *row)
{
    return row->zone ? if_positive(row->zone->attachment.row_spacing) : NAN;
}

double cell_fastener_spacing(const struct row *row)
{
    return row->zone ? if_positive(row->zone->attachment.fastener_spacing) : NAN;
}

double cell_per_board(const struct row *row)
{
    return row->zone ? if_positive(row->zone->attachment.per_board) : NAN;
}

double cell_ribbon_spacing(const struct row *row)
{
    if (!row->zone || !row->zone->attachment.assembly)
        return NAN;
    return row->zone->attachment.ribbon_spacing; /* 0 is full cover */
}

double cell_capacity(const struct row *row)
{
    return row->zone ? if_positive(row->zone->attachment.capacity) : NAN;
}

/* ---- Of the whole roof ---- */

double cell_height(const struct row *row)
{
    return if_positive(row->roof->height);
}

double cell_storeys(const struct row *row)
{
    return if_positive(row->roof->storeys);
}

double cell_roof_area(const struct row *row)
{
    return row->roof->whole ? if_positive(row->roof->area) : NAN;
}

double cell_role_area(const struct row *row)
{
    if (row->zone)
        return row->zone->area;
    return row->roof->zoned ? 0 : NAN;
}

double cell_edge_length(const struct row *row)
{
    return row->roof->zoned ? row->roof->edge_length : NAN;
}

static double edge_of(const struct row *row, enum edge_kind kind)
{
    return row->roof->zoned ? edges_length(row->roof, kind) : NAN;
}

double cell_metal_edge(const struct row *row)
{
    return edge_of(row, EDGE_METAL);
}

double cell_gutter_edge(const struct row *row)
{
    return edge_of(row, EDGE_GUTTER);
}

double cell_parapet_edge(const struct row *row)
{
    return edge_of(row, EDGE_PARAPET);
}

double cell_wall_edge(const struct row *row)
{
    return edge_of(row, EDGE_WALL);
}

double cell_curb_edge(const struct row *row)
{
    return edge_of(row, EDGE_CURB);
}

double cell_joint_edge(const struct row *row)
{
    return edge_of(row, EDGE_JOINT);
}

double cell_continuous_edge(const struct row *row)
{
    return edge_of(row, EDGE_CONTINUOUS);
}

double cell_corners(const struct row *row)
{
    return row->roof->zoned ? (double)row->roof->corners : NAN;
}

double cell_zone_width(const struct row *row)
{
    return row->roof->zoned ? row->roof->level.perimeter_depth : NAN;
}

double cell_wind_speed(const struct row *row)
{
    return row->roof->velocity.known ? row->roof->velocity.speed : NAN;
}

const char *cell_exposure(const struct row *row)
{
    return row->roof->velocity.known ? exposure_name(row->roof->velocity.exposure) : NULL;
}

const char *cell_roof_basis(const struct row *row)
{
    enum coefficient_basis weakest = BASIS_NOT_GIVEN;

    for (size_t i = 0; i < row->roof->zone_count; i++) {
        const struct zone_uplift *uplift = &row->roof->zones[i].uplift;

        if (uplift->known && uplift->basis > weakest)
            weakest = uplift->basis;
    }
    return coefficient_basis_name(weakest);
}

const char *cell_roof_assembly(const struct row *row)
{
    const struct roof *roof = row->roof;
    const char *first = NULL;

    if (roof->zone_count == 0)
        return NULL;
    first = roof->zones[0].attachment.assembly;
    for (size_t i = 1; i < roof->zone_count; i++) {
        const char *other = roof->zones[i].attachment.assembly;

        if (other != first && (!other || !first || strcmp(other, first) != 0))
            return "differs by zone";
    }
    return first;
}

const char *cell_roof_state(const struct row *row)
{
    return zone_state_name(row->roof->state);
}

const char *cell_roof_reason(const struct row *row)
{
    const struct roof *roof = row->roof;

    for (size_t i = 0; i < roof->zone_count; i++)
        if (roof->zones[i].attachment.state == roof->state)
            return roof->zones[i].attachment.reason;
    return why_left_out(roof);
}

const char *cell_roof_edge_rule(const struct row *row)
{
    if (row->roof->zone_count == 0)
        return NULL;
    return edge_rule_name(row->roof->zones[0].attachment.rule);
}

const char *cell_roof_quantity_basis(const struct row *row)
{
    if (!isfinite(roof_fasteners(row->roof)))
        return NULL;
    return roof_laid_out(row->roof) ? "layout" : "by area";
}

double roof_fasteners(const struct roof *roof)
{
    double sum = 0;

    for (size_t i = 0; i < roof->zone_count; i++)
        sum += zone_fasteners(&roof->zones[i]);
    return roof->zone_count > 0 ? sum : NAN;
}

double roof_board_fasteners(const struct roof *roof)
{
    double sum = 0;

    for (size_t i = 0; i < roof->zone_count; i++)
        sum += zone_board_fasteners(&roof->zones[i]);
    return roof->zone_count > 0 ? sum : NAN;
}

double cell_roof_fasteners(const struct row *row)
{
    return fasteners_whole(roof_fasteners(row->roof));
}

double cell_roof_board_fasteners(const struct row *row)
{
    return fasteners_whole(roof_board_fasteners(row->roof));
}

double cell_half_sheets(const struct row *row)
{
    const struct roof *roof = row->roof;

    return roof->zoned && roof->half_sheets >= 0 ? (double)roof->half_sheets : NAN;
}

double cell_problems(const struct row *row)
{
    double count = 0;

    for (const struct problem *p = row->roof->problems; p; p = p->next)
        count++;
    return count;
}

/* ---- Tapered insulation ---- */

/* NULL where none is counted. */
static const struct taper *taper_of(const struct row *row)
{
    const struct taper *taper = row->roof->taper;

    return taper && !taper->lacking ? taper : NULL;
}

double cell_taper_mean(const struct row *row)
{
    return taper_of(row) ? taper_mean(row->roof->taper) : NAN;
}

double cell_taper_volume(const struct row *row)
{
    return taper_of(row) ? row->roof->taper->volume : NAN;
}

double cell_insulation_mean(const struct row *row)
{
    return taper_of(row) ? if_positive(row->roof->taper->r_mean) : NAN;
}

double cell_insulation_effective(const struct row *row)
{
    return taper_of(row) ? if_positive(row->roof->taper->r_effective) : NAN;
}
