#ifndef OUTLAY_DRAW_BOOKMARKS_H
#define OUTLAY_DRAW_BOOKMARKS_H

/**
 * @file draw/bookmarks.h
 * A bookmark per roof of a PDF, those of a building with several below the building's.
 * Private to the room.
 */

#include "draw/canvas.h"
#include "outlay/status.h"
#include "roof/roof.h"

/** Starts as all zeros. */
struct bookmarks {
    char *building; /**< owned; whose bookmark stands open; NULL for none */
    int number;     /**< its own */
};

/** Of the page that is being drawn. @return OUTLAY_E_MEMORY */
enum outlay_status bookmarks_add(struct bookmarks *bookmarks, struct canvas *canvas,
                                 const struct building *building, const struct roof *roof,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

void bookmarks_release(struct bookmarks *bookmarks);

#endif
