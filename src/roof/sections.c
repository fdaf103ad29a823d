#include "roof/sections.h"

#include <math.h>

#include "roof/edges.h"

/* ---- Alike or not ---- */

static bool same_number(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static bool same_uplift(const struct zone_uplift *a, const struct zone_uplift *b)
{
    return a->known == b->known && same_number(a->allowable, b->allowable) &&
           same_number(a->required, b->required) && a->outside == b->outside;
}

static bool same_wind(const struct roof *a, const struct roof *b)
{
    if (a->velocity.known != b->velocity.known ||
        !same_number(a->velocity.pressure, b->velocity.pressure))
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
        return "deck";
    if (!same_number(a->given.deck_bearing, b->given.deck_bearing))
        return "rib direction";
    if (a->basis.stack != b->basis.stack)
        return "stack";
    if (a->scope != b->scope)
        return "whether the old cover stays";
    if (a->given.method != b->given.method)
        return "method";
    if (!same_number(a->basis.pullout, b->basis.pullout))
        return "pull-out";
    if (!same_number(a->storeys, b->storeys))
        return "storeys";
    if (!same_wind(a, b))
        return "wind load";
    return a->given.fixed_year != b->given.fixed_year ? "year" : NULL;
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

/* The section behind an edge, of the same level; NULL: none. */
static struct roof *section_behind(struct building *building, const struct roof *roof,
                                   const struct edge *edge)
{
    struct roof *other = &building->roofs[edge->beside];

    return edge->kind == EDGE_CONTINUOUS && other != roof && other->zoned &&
                   other->level.index == roof->level.index
               ? other
               : NULL;
}

static void join_all(struct building *building, struct roof *roof)
{
    for (size_t k = 0; k < roof->edge_count; k++) {
        struct roof *other = section_behind(building, roof, &roof->edges[k]);
        const char *parted = NULL;

        if (!other || roof->edges[k].slope_change)
            continue;
        parted = difference(roof, other);
        if (!parted)
            join(building, roof, other);
        else if (!roof->parted)
            roof->parted = parted;
    }
}

/* Sections that climb little by little may meet again where they change slope. */
static bool meets_itself(struct building *building, const struct roof *roof)
{
    for (size_t k = 0; k < roof->edge_count; k++) {
        const struct roof *other = section_behind(building, roof, &roof->edges[k]);

        if (other && roof->edges[k].slope_change &&
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
            building->roofs[k].parted = "height";
        }
}

static size_t group_size(const struct building *building, int group)
{
    size_t count = 0;

    for (size_t k = 0; k < building->roof_count; k++)
        count += building->roofs[k].section_group == group;
    return count;
}

void sections_run(struct building *building)
{
    size_t n = building->roof_count;

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
