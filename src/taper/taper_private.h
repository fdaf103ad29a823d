#ifndef OUTLAY_TAPER_TAPER_PRIVATE_H
#define OUTLAY_TAPER_TAPER_PRIVATE_H

/* Shared by the files of taper/ only. */

#include "taper/reach.h"
#include "taper/taper.h"

/* A stretch of a line of drains within the roof, wall to wall. */
struct chord {
    double y, from_x, to_x;
    double *drains; /* x of those on it, in order; at least 1 */
    size_t drain_count;
    size_t source; /* of the line; its two ends are the next ones */
};

/* One place at work, in its own axes: x along the boards, or along the line of drains. */
struct taper_work {
    struct arena *arena;
    const struct taper_place *place;
    const struct taper_settings *settings;
    struct point origin, along; /* of the axes, in the frame */
    struct region region;
    struct slabs slabs;
    struct point *drains; /* as many as the place has */
    struct sources sources;
    struct chord *chords;
    size_t chord_count;
    struct pieces pieces;
    struct taper *out;
};

struct point taper_to_frame(const struct taper_work *w, struct point local);

/* Thickness on a piece, m. */
struct plane taper_thickness(const struct taper_work *w, const struct piece *piece);

/* lines.c: settles the model and turns the axes; then region, slabs, sources and chords
 * stand. */
enum outlay_status drains_place(struct taper_work *w) OUTLAY_MUST_CHECK;

/* crickets.c */
enum outlay_status crickets_lay(struct taper_work *w) OUTLAY_MUST_CHECK;

/* panels.c: fills the panels of w->out */
enum outlay_status panels_cut(struct taper_work *w) OUTLAY_MUST_CHECK;

/* contours.c: the same of the contours */
enum outlay_status contours_draw(struct taper_work *w) OUTLAY_MUST_CHECK;

#endif
