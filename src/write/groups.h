#ifndef OUTLAY_WRITE_GROUPS_H
#define OUTLAY_WRITE_GROUPS_H

/**
 * @file write/groups.h
 * Roofs summed up by district or square: groups.geojson, and tables of the page.
 *
 * Threads: one at a time.
 */

#include "portfolio/groups.h"
#include "write/grid.h"
#include "write/output.h"

/** A row a group. What a column says of scores is of one measure alone, which its name
 *  begins with. */
extern const struct grid_sheet groups_sheet;

/** Appends the groups `from` up to `from + count`, as far as there are any. */
void groups_fill(struct grid *grid, const struct groups *groups,
                 const struct ranking *ranking, size_t from, size_t count);

/** Writes groups.geojson, a feature a group: its square, or the convex hull of its roofs,
 *  cut where it goes over 180 degrees. @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY */
enum outlay_status groups_geojson(struct output *output, const struct groups *groups,
                                  const struct ranking *ranking,
                                  const struct write_settings *set,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
