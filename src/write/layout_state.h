#ifndef OUTLAY_WRITE_LAYOUT_STATE_H
#define OUTLAY_WRITE_LAYOUT_STATE_H

/** @file write/layout_state.h  What a layout as a whole is worth. */

#include "roof/layout.h"

/** The worst state of the roof's zones in this layout. */
enum zone_state layout_state(const struct roof *roof, const struct layout *layout);

/** Why nothing was laid out; never NULL. */
const char *layout_why_not(const struct roof *roof, const struct layout *layout);

#endif
