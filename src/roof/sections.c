#include "roof/sections.h"

#include <math.h>

#include "base/number.h"
#include "roof/edges.h"

/* ---- Alike or not ---- */

/* Within a thousandth (ours): a metre of the ground's elevation is a tenth of that. */
static bool same_pressure(double a, double b)
{
    return same_number(a, b) || fabs(a - b) <= 1e-3 * fmax(fabs(a), fabs(b));
}

static bool same_uplift(const struct zone_uplift *a, const struct zone_uplift *b)
{
    return a->known == b->known && same_pressure(a->allowable, b->allowable) &&
           same_pressure(a->required, b->required) && a->outside == b->outside;
}

static bool same_wind(const struct roof *a, const struct roof *b)
{
    if (a->velocity.known != b->velocity.known ||
        !same_pressure(a->velocity.pressure, b->velocity.pressure))
        return false;
    for (size_t i = 0; i < a->zone_count; i++)
        for (size_t k = 0; k < b->zone_count; k++)
            if (a->zones[i].role == b->zones[k].role &&
                !same_uplift(&a->zones[i].uplift, &b->zones[k].uplift))
                return false;
    return true;
}

/* In what two sections differ that keeps them apart; NULL: in nothing. */
static const char *difference(const struct roof *a, const struct roof *b)
{
    if (a->basis.deck != b->basis.deck || a->basis.rib_pitch != b->basis.rib_pitch)
        return "differ in deck";
    if (!same_number(a->given.deck_bearing, b->given.deck_bearing))
        return "differ in rib direction";
    if (a->basis.stack != b->basis.stack)
        return "differ in stack";
    if (a->scope != b->scope)
        return "differ in whether the old cover stays";
    if (a->given.method != b->given.method)
        return "differ in method";
    if (!same_number(a->basis.pullout, b->basis.pullout))
        return "differ in pull-out";
    if (!same_number(a->storeys, b->storeys))
        return "differ in storeys";
    if (!same_wind(a, b))
        return "differ in wind load";
    return a->given.fixed_year != b->given.fixed_year ? "differ in year" : NULL;
}

/* ---- Groups ---- */

/* Gives all of b's group the number of a's. */
static void join(struct building *building, struct roof *a, struct roof *b)
{
    int from = b->section_group;

    for (size_t k = 0; k < building->roof_count && from != a->section_group; k++)
        if (building->roofs[k].section_group == from)
            building->roofs[k].section_group = a->section_group;
}

/* The section behind a continuous edge or a joint, of the same level; NULL: none. */
static struct roof *section_behind(const struct building *building,
                                   const struct roof *roof, const struct edge *edge)
{
    struct roof *other = NULL;

    if ((edge->kind != EDGE_CONTINUOUS && edge->kind != EDGE_JOINT) ||
        edge->beside == NO_SECTION)
        return NULL;
    other = &building->roofs[edge->beside];
    return other != roof && other->zoned && other->level.index == roof->level.index
               ? other
               : NULL;
}

/* Whether sheets may run on there. */
static bool is_open(const struct edge *edge)
{
    return edge->kind == EDGE_CONTINUOUS && !edge->slope_change;
}

static void join_all(struct building *building, struct roof *roof)
{
    for (size_t k = 0; k < roof->edge_count; k++) {
        struct roof *other = section_behind(building, roof, &roof->edges[k]);
        const char *parted = NULL;

        if (!other || !is_open(&roof->edges[k]))
            continue;
        parted = difference(roof, other);
        if (!parted)
            join(building, roof, other);
        else if (!roof->parted)
            roof->parted = parted;
    }
}

/* Sections that climb little by little may meet again where they change slope; a joint
 * may be a part of the line between two. */
static bool meets_itself(struct building *building, const struct roof *roof)
{
    for (size_t k = 0; k < roof->edge_count; k++) {
        const struct roof *other = section_behind(building, roof, &roof->edges[k]);

        if (other && !is_open(&roof->edges[k]) &&
            other->section_group == roof->section_group)
            return true;
    }
    return false;
}

static void group_dissolve(struct building *building, int group)
{
    for (size_t k = 0; k < building->roof_count; k++)
        if (building->roofs[k].section_group == group) {
            building->roofs[k].section_group = 0;
            building->roofs[k].parted = "meet it at a step or joint elsewhere";
        }
}

static size_t group_size(const struct building *building, int group)
{
    size_t count = 0;

    for (size_t k = 0; k < building->roof_count; k++)
        count += building->roofs[k].section_group == group;
    return count;
}

/* Where sections differ, each ends at a joint. */
static enum outlay_status joints_make(struct building *building, struct roof *roof)
{
    bool made = false;

    for (size_t k = 0; k < roof->edge_count; k++) {
        struct edge *edge = &roof->edges[k];
        const struct roof *other = section_behind(building, roof, edge);

        if (!other || !is_open(edge) || sections_are_one(roof, other))
            continue;
        edge->kind = EDGE_JOINT;
        edge->source = EDGE_ASSUMED;
        made = true;
    }
    return made ? edges_sum(building->arena, roof) : OUTLAY_OK;
}

bool edge_runs_on(const struct building *building, const struct roof *roof,
                  const struct edge *edge)
{
    return edge->kind == EDGE_CONTINUOUS && edge->beside != NO_SECTION &&
           building->roofs[edge->beside].section_group == roof->section_group &&
           roof->section_group > 0;
}

/* ---- Corners where two sections meet ---- */

/* The edge after one of the same ring, or before it. */
static const struct edge *edge_next(const struct roof *roof, size_t k, bool after)
{
    size_t first = k;
    size_t last = k;

    while (first > 0 && roof->edges[first - 1].ring == roof->edges[k].ring)
        first--;
    while (last + 1 < roof->edge_count &&
           roof->edges[last + 1].ring == roof->edges[k].ring)
        last++;
    if (after)
        return &roof->edges[k == last ? first : k + 1];
    return &roof->edges[k == first ? last : k - 1];
}

/* The edge of another section of the group that goes on where one ends; NULL: none.
 * @param[out] owner  that section */
static const struct edge *goes_on_with(const struct building *building,
                                       const struct roof *roof, const struct edge *edge,
                                       struct roof **owner)
{
    const struct edge *nearest = NULL;
    double least = SECTION_GAP;

    for (size_t i = 0; i < building->roof_count; i++) {
        struct roof *other = &building->roofs[i];

        for (size_t k = 0; k < other->edge_count && other != roof &&
                           other->section_group == roof->section_group;
             k++) {
            double distance = point_distance(edge->to, other->edges[k].from);

            if (distance > least || edge_runs_on(building, other, &other->edges[k]) ||
                !edge_runs_on(building, other, edge_next(other, k, false)))
                continue;
            nearest = &other->edges[k];
            *owner = other;
            least = distance;
        }
    }
    return nearest;
}

/* One ring sees no corner where the next edge is another section's. */
static void corners_add(const struct building *building, struct roof *roof)
{
    for (size_t k = 0; k < roof->edge_count && roof->section_group > 0; k++) {
        const struct edge *edge = &roof->edges[k];
        const struct edge *next = NULL;
        struct roof *owner = NULL;

        if (edge_runs_on(building, roof, edge) ||
            !edge_runs_on(building, roof, edge_next(roof, k, true)))
            continue;
        next = goes_on_with(building, roof, edge, &owner);
        if (next)
            edges_corner_add(roof, edge, owner, next);
    }
}

/* ---- All of it ---- */

enum outlay_status sections_run(struct building *building)
{
    size_t n = building->roof_count;
    enum outlay_status status = OUTLAY_OK;

    for (size_t k = 0; k < n; k++) {
        building->roofs[k].section_group = (int)k + 1;
        building->roofs[k].parted = NULL;
    }
    for (size_t k = 0; k < n; k++)
        join_all(building, &building->roofs[k]);
    for (size_t k = 0; k < n; k++) {
        struct roof *roof = &building->roofs[k];

        if (group_size(building, roof->section_group) == 1)
            roof->section_group = 0;
        else if (roof->section_group > 0 && meets_itself(building, roof))
            group_dissolve(building, roof->section_group);
    }
    for (size_t k = 0; k < n && status == OUTLAY_OK; k++)
        status = joints_make(building, &building->roofs[k]);
    for (size_t k = 0; k < n && status == OUTLAY_OK; k++)
        corners_add(building, &building->roofs[k]);
    return status;
}

bool sections_are_one(const struct roof *a, const struct roof *b)
{
    return a == b || (a->section_group > 0 && a->section_group == b->section_group);
}

/* ---- As one ---- */

static struct zone *zone_of(struct roof *roof, enum zone_role role)
{
    for (size_t i = 0; i < roof->zone_count; i++)
        if (roof->zones[i].role == role)
            return &roof->zones[i];
    return NULL;
}

/* In order of precedence. */
static void zone_insert(struct roof *roof, const struct zone *zone)
{
    size_t at = roof->zone_count++;

    for (; at > 0 && roof->zones[at - 1].role > zone->role; at--)
        roof->zones[at] = roof->zones[at - 1];
    roof->zones[at] = *zone;
}

static void section_add(const struct roof *section, struct roof *out)
{
    out->area += section->area;
    out->estimated |= section->estimated;
    out->assumed |= section->assumed;
    for (size_t i = 0; i < section->zone_count; i++) {
        const struct zone *zone = &section->zones[i];
        struct zone *sum = zone_of(out, zone->role);

        if (!sum) {
            zone_insert(out, zone);
            continue;
        }
        sum->area += zone->area;
        if (zone->uplift.allowable > sum->uplift.allowable)
            sum->uplift = zone->uplift;
        sum->attachment.state =
            zone_state_worse(sum->attachment.state, zone->attachment.state);
        if (!sum->attachment.reason)
            sum->attachment.reason = zone->attachment.reason;
    }
}

void sections_as_one(const struct building *building, const struct roof *roof,
                     size_t other, struct roof *out)
{
    bool first = true;

    *out = other == SIZE_MAX ? *roof : roof->others[other];
    for (size_t k = 0; roof->section_group > 0 && k < building->roof_count; k++) {
        const struct roof *section = &building->roofs[k];

        if (section->section_group != roof->section_group)
            continue;
        section = other == SIZE_MAX ? section : &section->others[other];
        if (first)
            *out = *section;
        else
            section_add(section, out);
        first = false;
    }
}
