#ifndef OUTLAY_ROOF_LAYOUT_H
#define OUTLAY_ROOF_LAYOUT_H

/**
 * @file roof/layout.h
 * The facet that takeoff/ gives: sheets, rows, boards and plates laid on one roof for one
 * method; on a section that is laid out as one with others, what of them lies there.
 * order/ counts it into a bill, write/ draws it into layout.gpkg.
 *
 * Units: metres in the building's frame. Owned: all in the building's arena.
 */

#include "geo/shape.h"
#include "roof/roof.h"

enum sheet_kind {
    SHEET_FULL,       /**< field width */
    SHEET_HALF,       /**< half of it, along edges */
    SHEET_COVER_STRIP /**< welded over an intermediate row */
};

/** A sheet as laid: a run of one roll width, cut by the outline. */
struct sheet {
    enum sheet_kind kind;
    int number; /**< on drawings and in cutting lists, from 1: full sheets in the order in
                     which they are laid, then half sheets; 0: a strip */
    struct region region; /**< what it covers inside the roof, laps included */
    double width;         /**< of the roll that it is cut from, m */
    double laid_width;  /**< widest inside the roof, square to its run, laps included; on
                               all sections, m */
    double length;      /**< longest run along the sheet, m: what is cut from rolls */
    double area;        /**< laid on the roof, laps counted in each sheet, m2 */
    double elsewhere;   /**< share of the sheet that lies on other sections; 0: none */
    bool cut_elsewhere; /**< the roll is another section's, on which most of it lies */
};

/** A piece of a row within one zone. */
struct row_piece {
    size_t row;        /**< which row, from 0; pieces of a row stand together, in the
                                order of the walk */
    bool closed;       /**< the row is a ring */
    bool base;         /**< base securement at a parapet, a wall or a curb */
    bool held;         /**< no row: edge metal holds the sheet there; only while takeoff/
                                measures loads */
    bool intermediate; /**< crosses a sheet, under a cover strip */
    enum zone_role zone;
    struct point from, to;
    double spacing;   /**< of fasteners, m */
    int fasteners;    /**< counted in this piece by one walk along its row */
    double tributary; /**< widest load width it carries anywhere along it, m; NAN for base
                                rows of methods without others */
    double load;      /**< greatest load a fastener carries, allowable level, N; NAN
                                while uplift is unknown, and as tributary */
};

/** A fastener, plate or target: what is screwed at one point. */
struct plate {
    struct point at;
    enum zone_role zone;
    size_t of; /**< row (seam plates) or board (others) */
};

/** A board, whole or cut by the outline. */
struct board {
    struct region region; /**< inside the roof; empty where it wasn't asked for */
    double area;          /**< m2 */
    bool whole;
    enum zone_role zone;          /**< whose pattern it has */
    int plates;                   /**< fasteners or induction-welded plates in it */
    double cut_length, cut_width; /**< box of a cut piece in board directions, m */
    double elsewhere;   /**< share of it that lies on other sections; whole and box are of
                             all of it; 0: none */
    bool cut_elsewhere; /**< it is another section's board, on which most of it lies */
};

enum edge_style { EDGES_AUTO, EDGES_FRAMES, EDGES_LINES };

struct layout {
    enum method method;
    const char *assembly;           /**< its name */
    const struct assembly *made_of; /**< the same, of the catalogue, borrowed */
    enum edge_style style;
    double bearing;             /**< of the sheets, radians counter-clockwise from east */
    const char *bearing_reason; /**< "across the ribs", "least cost of ..." */
    int half_sheets;            /**< laid along each edge */
    struct sheet *sheets;
    size_t sheet_count;
    struct row_piece *rows;
    size_t row_count;
    struct plate *plates;
    size_t plate_count;
    struct plate *board_plates; /**< that hold boards under seam-fastened sheets; of other
                                     methods, `plates` do */
    size_t board_plate_count;
    struct board *boards;
    size_t board_count;
    enum zone_state states[ZONE_ROLES]; /**< computed again from the layout */
    const char *reasons[ZONE_ROLES];
    /* lengths and counts that follow from the geometry */
    double side_lap;      /**< welded along rows, m */
    double end_lap;       /**< welded where sheets end on others: mitres, m; what
                                   end to end from rolls brings is counted by order/ */
    size_t t_joints;      /**< where mitres and seams end on other seams */
    double base_length;   /**< base securement, m */
    double ribbon_length; /**< m */
    double full_cover;    /**< m2 of boards glued without ribbons */
    double glued_area;    /**< m2 of one face */
    bool met_in_middle;   /**< half sheets from both sides would meet: fewer are laid, or
                             none in the parts that are too narrow */
    double narrow_area;   /**< of these parts, m2 */
    double unboarded;     /**< of strips at edges wider than a joint but too narrow for a
                             board: to be filled, m2 a layer */
};

/** Whether the roof is laid out for its own method: its counts and states are the
 *  layout's, else they are by area. */
static inline bool roof_laid_out(const struct roof *roof)
{
    return roof->layout_count > 0 && roof->layouts[0].sheet_count > 0;
}

#endif
