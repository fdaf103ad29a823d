#ifndef OUTLAY_TAKEOFF_SEAM_H
#define OUTLAY_TAKEOFF_SEAM_H

/** @file takeoff/seam.h  Seam-fastened sheets, row by row. Private to takeoff/. */

#include "takeoff/takeoff.h"

/**
 * Lays the sheets and rows; boards are left to insulation_boards().
 * @param assembly  of the roof's zones, seam-fastened
 * @param[out] out  method and assembly are set already
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY
 */
enum outlay_status seam_layout(struct building *building, struct roof *roof,
                               const struct assembly *assembly,
                               const struct takeoff_settings *settings,
                               struct geo_ctx *ctx, struct layout *out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
