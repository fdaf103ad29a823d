#ifndef OUTLAY_DRAW_BOXES_H
#define OUTLAY_DRAW_BOXES_H

/**
 * @file draw/boxes.h
 * What stands where on a page: the boxes of its texts, turned ones too, and lines that
 * texts keep off. Private to the room. Points on paper.
 *
 * Out of memory: the box isn't kept, and boxes_failed() says so.
 */

#include <stdbool.h>
#include <stddef.h>

#include "geo/shape.h"

/** An upright rectangle on paper, pt. */
struct area {
    double x, y, width, height;
};

/** A box, its corners in turn. */
struct quad {
    struct point corners[4];
};

struct boxes;

/** @return owned, NULL when out of memory */
struct boxes *boxes_new(void);

/** NULL is ignored. */
void boxes_free(struct boxes *boxes);

void boxes_clear(struct boxes *boxes);

/** Takes up the box of a text. */
void boxes_add_text(struct boxes *boxes, struct quad quad);

/** Takes up a place that isn't text and yet should stay free: a dimension line. */
void boxes_add_place(struct boxes *boxes, struct quad quad);

/** Takes up a line that texts keep off. */
void boxes_add_line(struct boxes *boxes, struct point from, struct point to);

/** Whether the quad meets no text, place or line. Touching is free. */
bool boxes_free_at(const struct boxes *boxes, struct quad quad);

/** How many texts, places and lines the quad meets. */
size_t boxes_met(const struct boxes *boxes, struct quad quad);

bool boxes_failed(const struct boxes *boxes);

/** Number of texts, and the box of one, from 0. */
size_t boxes_texts(const struct boxes *boxes);
struct quad boxes_text(const struct boxes *boxes, size_t index);

struct quad quad_of(struct area area);

/** A box of a size around a middle, turned by angle, radians clockwise on paper. */
struct quad quad_turned(struct point middle, double width, double height, double angle);

/** Whether two boxes share more than depth (pt) in every direction. */
bool quads_overlap(struct quad a, struct quad b, double depth);

bool area_holds(struct area area, struct quad quad);

#endif
