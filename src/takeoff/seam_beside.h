#ifndef OUTLAY_TAKEOFF_SEAM_BESIDE_H
#define OUTLAY_TAKEOFF_SEAM_BESIDE_H

/* What lies beside a piece of row. Shared by seam_beside.c, which finds it, and
 * seam_carry.c, which tells what the row carries of it. */

#include <math.h>

#include "takeoff/seam_private.h"

#define BESIDE_ON_ROW 1e-3 /* what is nearer to the row's own line lies on it, m */
#define STRETCH_MIN 1e-6   /* shorter stretches of row are rounding, m */

/* From the lesser s to the greater. */
struct line {
    double s[2], v[2];
    int role; /* of the zone whose edge it is */
};

struct lines {
    struct line *items;
    size_t count, capacity;
};

/* A line over a stretch of row: v at both ends, to one side. */
struct course {
    double v[2];
    double pressure; /* beyond it, Pa */
    int role;
};

/* What lies to one side of a stretch. */
struct side {
    struct course *ways;  /* to the next rows */
    struct course *edges; /* of zones, outward; the first is the row itself */
    size_t way_count, edge_count;
    int role; /* of the zone beside the row, -1 outside */
    bool joint;
    struct course to_joint;
};

/* A part of the piece between two places, and the most that it carries. */
struct stretch {
    double from, to;    /* m */
    double width, pull; /* m, N/m */
};

struct beside {
    struct seam_work *w;
    struct row_bins *bins;
    double reach; /* no next row is further, slanting as it may, m */
    const struct row_piece *row;
    struct point along;
    double length;
    struct lines rows, edges;
    bool shared;    /* an edge of a zone runs along a part of the piece */
    double *places; /* where something begins or ends, m along the row */
    size_t place_count, place_capacity;
    struct side sides[2]; /* left, right */
    size_t course_capacity;
    struct stretch *stretches;
    size_t stretch_count, stretch_capacity;
};

/* Finds the lines beside a piece and the places where they begin and end. False: out of
 * memory. */
bool beside_see(struct beside *b, size_t k) OUTLAY_MUST_CHECK;

static inline double lerp(const double v[2], double t)
{
    return v[0] + t * (v[1] - v[0]);
}

#endif
