#ifndef OUTLAY_SURVEY_PLACES_H
#define OUTLAY_SURVEY_PLACES_H

/**
 * @file survey/places.h
 * Where on a roof to test: spread out over zones or along its edge, each next place as
 * far from all before it as can be. Of n such places in an area A the least distance is
 * at least 0.56 sqrt(A / n) but for the grid, since discs of that radius around them
 * cover all of it.
 *
 * Candidates stand on a grid of the building's frame, so that no place depends on where a
 * ring starts or on the order of the input.
 */

#include "outlay/status.h"
#include "roof/roof.h"

/** What places keep from edges, drains and units where there is room, m: 3 ft. */
#define PLACE_CLEAR (3 * M_PER_FT)

struct spot {
    struct point at;     /**< m, in the building's frame */
    enum zone_role zone; /**< in which it lies */
    bool at_edge;        /**< nearer than PLACE_CLEAR to an edge of the roof */
};

/**
 * Places in zones, clear of edges and fixtures where the zones are wide enough, else on
 * their middle line. In the order of a walk around the roof.
 * @param zones       bits 1u << ZONE_...
 * @param[out] out    room for count
 * @param[out] found  count, or fewer where the zones are no larger than a few points
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status spots_in_zones(struct arena *arena, const struct roof *roof,
                                  unsigned zones, size_t count, struct spot *out,
                                  size_t *found) OUTLAY_MUST_CHECK;

/** Places along the roof's own edge, or along all its edges where it has none; half a
 *  metre inside. Needs roof.edges. Otherwise as spots_in_zones(). */
enum outlay_status spots_along_edge(struct arena *arena, const struct roof *roof,
                                    size_t count, struct spot *out,
                                    size_t *found) OUTLAY_MUST_CHECK;

#endif
