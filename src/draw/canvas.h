#ifndef OUTLAY_DRAW_CANVAS_H
#define OUTLAY_DRAW_CANVAS_H

/**
 * @file draw/canvas.h
 * A sheet of paper to draw on: cairo and pango behind a small face, so that no other
 * file knows them. Private to the room.
 *
 *  - Units: points of the canvas; x to the right, y down, from the upper left. The sheet
 *    itself is paper.full times as large each way: those of plan sheets are points (1/72
 *    in) of the half-size print, as sets of plans are mostly read.
 *  - Paths: canvas_move(), canvas_line() ... then canvas_fill() or canvas_stroke(),
 *    which use the path up unless they say otherwise.
 *  - Texts: every text that is put down leaves its box in the canvas, so that whoever
 *    places the next one can ask, and a test can tell that none covers another.
 *  - Failure: the first one sticks and canvas_finish() reports it; drawing goes on.
 *  - Threads: one canvas a thread.
 */

#include <stdbool.h>
#include <stddef.h>

#include "draw/boxes.h"
#include "outlay/status.h"
#include "write/output.h"

/** Of plan sheets. */
#define CANVAS_FULL 2.0

struct paper {
    double width, height; /**< pt */
    double full;          /**< points of the sheet for a point of the canvas */
    bool grey;            /**< inks as greys, for photocopies */
};

enum canvas_kind { CANVAS_PDF, CANVAS_SVG, CANVAS_PNG };

/* One hue in three tones: name, red, green, blue of 255. (ours) */
#define INK_MAP(X)              \
    X(PAPER, 255, 255, 255)     \
    X(INTERIOR, 250, 251, 252)  \
    X(FIELD, 229, 236, 241)     \
    X(PERIMETER, 189, 206, 218) \
    X(CORNER, 148, 173, 192)    \
    X(HATCH, 40, 66, 86)        \
    X(ZONE_LINE, 88, 118, 140)  \
    X(LIGHT, 176, 184, 190)     \
    X(MIDDLE, 110, 122, 132)    \
    X(DARK, 28, 38, 46)

enum ink {
#define X(name, red, green, blue) INK_##name,
    INK_MAP(X)
#undef X
        INKS
};

enum dash { DASH_NONE, DASH_SHORT, DASH_LONG, DASH_DOT };

enum align { ALIGN_LEFT, ALIGN_MIDDLE, ALIGN_RIGHT };

/** How a text looks. */
struct lettering {
    double size; /**< pt */
    bool bold;
    enum ink ink;
};

struct canvas;

/**
 * A canvas whose bytes go to output (borrowed). PDF takes any number of pages, the others
 * one. PNG has 150 dots for an inch of the canvas.
 * @param[out] out  owned; canvas_free()
 */
enum outlay_status canvas_new(enum canvas_kind kind, const struct paper *paper,
                              struct output *output, struct canvas **out,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Ends the page and forgets its boxes. */
void canvas_next_page(struct canvas *canvas);

/** Adds a bookmark to the page that is being drawn; PDF only.
 *  @param parent 0, or what an earlier call gave back
 *  @return its number, 0 without PDF */
int canvas_bookmark(struct canvas *canvas, int parent, const char *title);

/** Title and subject in the properties of a PDF; no date, so that bytes repeat. */
void canvas_describe(struct canvas *canvas, const char *title, const char *subject);

/** Writes what is left. @return the first failure of all that was drawn */
enum outlay_status canvas_finish(struct canvas *canvas,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Frees. NULL is ignored. */
void canvas_free(struct canvas *canvas);

/** Where texts and what else should stay free stand on this page. */
struct boxes *canvas_boxes(struct canvas *canvas);

/* ---- Lines and areas ---- */

void canvas_move(struct canvas *canvas, struct point to);
void canvas_line(struct canvas *canvas, struct point to);
void canvas_segment(struct canvas *canvas, struct point from, struct point to);
void canvas_close(struct canvas *canvas);
void canvas_rectangle(struct canvas *canvas, struct area area);
void canvas_circle(struct canvas *canvas, struct point middle, double radius);

/** Fills the path, holes even-odd. @param keep  the path stays for another call */
void canvas_fill(struct canvas *canvas, enum ink ink, bool keep);

/** @param width  of the line, pt; round joins; a line of no length is a dot */
void canvas_stroke(struct canvas *canvas, enum ink ink, double width, enum dash dash);

/** Rules slanted lines over the inside of the path, within its box. */
void canvas_hatch(struct canvas *canvas, enum ink ink, double width, double distance);

/** Keeps all that follows inside area, until canvas_unclip(). */
void canvas_clip(struct canvas *canvas, struct area area);
void canvas_unclip(struct canvas *canvas);

/* ---- Texts: UTF-8; bytes that aren't become U+FFFD, line ends blanks ---- */

/** Width and height of a text on one line, pt. */
struct point canvas_measure(struct canvas *canvas, struct lettering lettering,
                            const char *text);

/** One line inside an area, cut with an ellipsis where it is too long; nothing of it is
 *  seen outside. @return false when it was cut */
bool canvas_cell(struct canvas *canvas, struct lettering lettering, struct area area,
                 enum align align, const char *text);

/** As many lines as the text needs at this width. @return height, pt */
double canvas_paragraph_height(struct canvas *canvas, struct lettering lettering,
                               double width, const char *text);

/** Puts a paragraph into an area; what doesn't fit is cut with an ellipsis. */
void canvas_paragraph(struct canvas *canvas, struct lettering lettering, struct area area,
                      const char *text);

/** One line around a middle, turned by angle (radians, clockwise on paper). */
void canvas_turned(struct canvas *canvas, struct lettering lettering, struct point middle,
                   double angle, const char *text);

#endif
