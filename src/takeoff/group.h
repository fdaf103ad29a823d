#ifndef OUTLAY_TAKEOFF_GROUP_H
#define OUTLAY_TAKEOFF_GROUP_H

/**
 * @file takeoff/group.h
 * Sections that run on into one another (roof/sections.h), laid out as one roof and
 * shared out again. Private to takeoff/.
 *
 * Threads: any, one building each.
 */

#include "takeoff/takeoff.h"

struct group {
    struct building *building;
    size_t *sections; /**< indices in the building, by id */
    size_t count;
    struct region outline; /**< of all, gaps of up to 0.3 m between them closed */
    struct field *field;   /**< of the group; NULL as roof.field */
    struct region covered; /**< what is laid out: the field's outline, else
                                 the group's */
    struct region *parts;  /**< of what is covered, one a section: sections without what
                                 overlaps an earlier one, with the gaps beside them */
    struct region zones[ZONE_ROLES]; /**< of the outline, by role */
    struct edge *edges;              /**< of the outline, as roof.edges */
    size_t edge_count;
    struct fixture *fixtures; /**< of all */
    size_t fixture_count;
    bool is_level; /**< no other section is on their level */
};

/**
 * Puts the group of a roof together.
 * @param[out] out  in the building's arena
 * @return OUTLAY_E_MEMORY; OUTLAY_E_GEOMETRY when outlines can't be joined
 */
enum outlay_status group_make(struct building *building, const struct roof *roof,
                              struct geo_ctx *ctx, struct group *out,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The group as a roof to lay out. @param other  as for sections_as_one() */
void group_roof(const struct group *group, size_t other, struct roof *out);

/**
 * Shares out what is laid on the group: rows, sheets and boards are cut where sections
 * meet, and a screw counts for the section in which it stands. Of a sheet or board across
 * both, each has its share by area, and the section with most of it cuts it from a roll
 * or board (the first id of equals). What has no place in a layout is shared out so:
 *  - welds of sheets that no row holds by what they lie double,
 *  - end laps, T-joints, and strips too narrow for a board by the area of the sheets.
 * @param roofs     the sections as roofs, for their zones
 * @param laid      on the group, its plates placed
 * @param placed    plates are wanted
 * @param[out] out  group->count layouts
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY
 */
enum outlay_status layout_share_out(const struct group *group, struct roof *const *roofs,
                                    const struct layout *laid, bool placed,
                                    struct geo_ctx *ctx, struct layout *out,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
