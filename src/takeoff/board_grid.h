#ifndef OUTLAY_TAKEOFF_BOARD_GRID_H
#define OUTLAY_TAKEOFF_BOARD_GRID_H

/**
 * @file takeoff/board_grid.h
 * A running bond of rectangles over an outline. Private to the board*.c files.
 *
 * All is cut in the grid's own axes: u along the rows, v across them to the left.
 */

#include <stdbool.h>

#include "base/units.h"
#include "catalog/catalog.h"
#include "geo/arrange.h"
#include "roof/layout.h"
#include "takeoff/takeoff.h"

/* Boards are tightly butted: joints are 3/8 in at most (a county's application standard
 * for insulation, RAS 117, seen), and those over 1/4 in are filled (published
 * specifications, seen). What follows is ours, m: a board that lacks no more than the
 * first is whole; what is left at an edge narrower than the second is filled there, no
 * board is cut for it. */
#define BOARD_JOINT 0.002
#define BOARD_FILLED 0.025
#define JOINT_MOST (0.375 * M_PER_IN)

/* Plates are 3 in wide (common practice, no source): none lie nearer together, m. */
#define PLATE_APART (3 * M_PER_IN)

/** The grid's axes in the building's frame. */
struct axes {
    struct point origin; /**< m */
    struct point along;  /**< unit vector of u */
};

/** Where boards lie: row i holds v in [shift_v + i width, + width], board j of it u in
 *  [shift_u + j length (+ length / 2 in odd rows), + length]. */
struct board_grid {
    struct axes axes;
    double length, width; /**< of a board, m; > 0 */
    double shift_u, shift_v;
};

struct point axes_to_local(const struct axes *axes, struct point p);
struct point axes_to_frame(const struct axes *axes, struct point p);

/** A deep copy of a region in the axes. @return OUTLAY_E_MEMORY */
enum outlay_status axes_region(struct arena *arena, const struct axes *axes,
                               const struct region *region,
                               struct region *out) OUTLAY_MUST_CHECK;

/**
 * The axes along the longest straight edge of a region: bends under 10 mm don't end an
 * edge. Of edges equally long, the one whose following edges are longer. The inside is
 * on the left, u starts at the edge's start.
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status axes_along_edge(struct arena *arena, const struct region *region,
                                   struct axes *out) OUTLAY_MUST_CHECK;

/** Axes in a direction, their origin at the least u and v of the region.
 *  @param bearing  radians counter-clockwise from east */
struct axes axes_along_bearing(const struct region *region, double bearing);

/**
 * Shifts the grid so that the edges of the outline which run along or across it leave as
 * little length of slivers (pieces of 25 to 150 mm) as any of 16 shifts each way does;
 * the smallest such shift. Edges at another slant always leave points.
 * @param local  the outline in the grid's axes
 */
void grid_shift(struct board_grid *grid, const struct region *local);

/** Rings clipped to low <= u <= high (axis 0) or v (axis 1), degenerate bridges along
 *  the bounds included, so that signed areas are right. Empty ones are left out.
 *  @return OUTLAY_E_MEMORY */
enum outlay_status rings_clip(struct arena *arena, const struct layer_rings *rings,
                              int axis, double low, double high,
                              struct layer_rings *out) OUTLAY_MUST_CHECK;

/** Area of all rings, signed, m2. */
double rings_area(const struct layer_rings *rings);

/** Valid polygons of clipped rings. @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY */
enum outlay_status rings_region(struct geo_ctx *ctx, struct arena *arena,
                                const struct layer_rings *rings, struct region *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** An edge of what lies in a row. */
struct row_edge {
    double from, to; /**< its least and most u */
    int place;       /**< of its zone in the roof */
    int turn; /**< 0: it crosses the row; else it runs along the lower bound, 1 with
                          the zone above it, -1 with none */
};

/** A growing list of them, in an arena. */
struct row_edges {
    struct row_edge *items;
    size_t count, capacity;
};

enum { ROW_OUTSIDE = -1, ROW_CUT = -2 };

/** Takes up the edges of rings clipped to low <= v <= high. @return false: no memory */
bool row_edges_add(struct arena *arena, struct row_edges *edges,
                   const struct layer_rings *rings, double low, double high,
                   int place) OUTLAY_MUST_CHECK;

/** The one zone that fills the row from one u to another, as a place in roof->zones;
 *  ROW_OUTSIDE: none is there; ROW_CUT: an edge may cross it. */
int row_zone(const struct row_edges *edges, double from, double to);

/** What is laid, on which roof. */
struct board_job {
    struct arena *arena; /**< holds the result */
    struct geo_ctx *ctx;
    const struct roof *roof;
    struct board_grid grid;
    int counts[ZONE_ROLES]; /**< fasteners of a whole board by zone role; 0: none */
    double capacities[ZONE_ROLES]; /**< what a board so fastened holds, allowable, Pa;
                                        NAN: not counted for uplift */
    double edge;                   /**< least distance of a plate to a board's edge, m */
    bool place;                    /**< fill plates */
    bool shapes;                   /**< fill the boards' regions */
};

/** What a board carries and holds, allowable, Pa; NAN: unknown. */
struct board_load {
    double load, capacity;
    int plates;
    bool found;
};

/** The mean pull on a board: of each zone its share. @param areas  m2, by place in
 *  roof->zones. @return Pa; NAN where uplift is unknown */
double board_pull(const struct roof *roof, const double areas[ZONE_ROLES]);

/**
 * Which zone's pattern a board takes, as a place in roof->zones: the most severe zone
 * with 1 ft2 of it (of a small piece, the one with most), or the next severer whose
 * pattern is strong enough for what the board carries.
 */
size_t board_pattern(const struct board_job *job, const double areas[ZONE_ROLES]);

/** Keeps the board nearest to failing of each zone that lies under it.
 *  @param worst  by role */
void board_measure(const struct board_job *job, const struct board *board,
                   const double areas[ZONE_ROLES], struct board_load worst[ZONE_ROLES]);

/** A zone that was met isn't where a board in it carries too much.
 *  @return OUTLAY_E_MEMORY */
enum outlay_status board_states(struct arena *arena,
                                const struct board_load worst[ZONE_ROLES],
                                struct layout *out) OUTLAY_MUST_CHECK;

/**
 * Lays the boards into out->boards, and out->plates if asked. A piece that falls apart
 * becomes several boards. What is narrower than BOARD_FILLED isn't laid.
 * Sets out->states again where a board carries more than its fasteners hold, and
 * out->unboarded.
 * @param[out] left_out  area that isn't laid, m2; NULL allowed
 */
enum outlay_status boards_lay(const struct board_job *job, struct layout *out,
                              double *left_out,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Fasteners that a piece needs, and those that it should have. */
struct plate_need {
    int share;  /**< as dense as on a whole board, rounded up */
    int wanted; /**< the same, but at least 2 under 8 ft2, else 4 */
};

/**
 * @param count  fasteners of a whole board; 0 needs none
 * @param joint  area of a joint all around the piece, by which tracing may be out
 */
struct plate_need plate_need_of(int count, double area, double joint, double board_area);

/**
 * Places plates on a rectangle: rows of equal number if that leaves cells no more than
 * twice as long as wide, else numbers that are the same from both ends (2-1-2); of those
 * the squarest cells, then the most rows. Plates are in the middle of their cells, moved
 * to keep the edge distance where the rectangle is wide enough.
 * @param box    m
 * @param[out] points  count of them
 */
void plates_on_rectangle(struct box box, int count, double edge, struct point *points);

/**
 * Places plates on a piece of any shape: on lines across what is left of it inside the
 * edge distance. Where the plates wanted would lie nearer than PLATE_APART to one
 * another there, there are fewer, but never fewer than the share and one; where even
 * these don't fit, or nothing is left, half the edge distance is kept, and so on.
 * @param piece  one polygon, in the axes
 * @param need   share > 0
 * @param[out] points  room for need.wanted
 * @param[out] count   plates placed, need.share to need.wanted
 */
enum outlay_status plates_on_piece(struct geo_ctx *ctx, struct arena *scratch,
                                   const struct region *piece, struct plate_need need,
                                   double edge, struct point *points, int *count,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Whether a ring turns left at every vertex. */
bool ring_is_convex(struct ring ring);

/** Lays full sheets with a side lap over the roof, edge to edge, the last but one cut
 *  narrower where the last would be under 0.5 m, and their laps.
 *  @param axes  sheets run along u
 *  @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY */
enum outlay_status board_sheets(struct building *building, const struct roof *roof,
                                const struct axes *axes,
                                const struct takeoff_settings *settings,
                                struct geo_ctx *ctx, struct layout *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Adhesive of the sheet and of glued boards. */
void adhesive_lay(const struct roof *roof, struct layout *out);

#endif
