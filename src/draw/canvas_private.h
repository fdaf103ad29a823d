#ifndef OUTLAY_DRAW_CANVAS_PRIVATE_H
#define OUTLAY_DRAW_CANVAS_PRIVATE_H

/** @file draw/canvas_private.h  A canvas inside: canvas.c (paper, paths) and
 *  canvas_text.c. */

#include <pango/pangocairo.h>

#include "draw/canvas.h"

struct canvas {
    enum canvas_kind kind;
    struct paper paper;
    struct output *output; /* borrowed */
    cairo_surface_t *surface;
    cairo_t *cairo;
    PangoLayout *layout;
    PangoFontDescription *font;
    struct boxes *boxes;
    int page;                  /* from 1 */
    enum outlay_status status; /* of writing */
    struct outlay_error error;
};

/** Sets the source colour. */
void canvas_ink(struct canvas *canvas, enum ink ink);

/** Opens layout and font. @return false when out of memory */
bool canvas_text_open(struct canvas *canvas);

void canvas_text_close(struct canvas *canvas);

#endif
