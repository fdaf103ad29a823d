#ifndef OUTLAY_ZONING_CONTACTS_H
#define OUTLAY_ZONING_CONTACTS_H

/**
 * @file zoning/contacts.h
 * What runs along the edges of an outline: other sections, and lines of the layer of
 * edges. Units: metres in the building's frame.
 */

#include "roof/roof.h"

/** A stretch as short goes with the one before it, m. */
#define CONTACT_CRUMB 1e-3

/** An edge of an outline with what it needs again and again. */
struct side {
    struct point a, b;
    struct point along;
    double length;
    size_t ring; /**< counted through all polygons */
};

struct sides {
    struct side *items;
    size_t count;
    struct box box;
};

/** A part of an edge along which another section or a line lies. */
struct contact {
    size_t side;            /**< which edge of the roof, counted through its rings */
    double from, to;        /**< along it, m */
    size_t beside;          /**< index of the other section in the building */
    double rise;            /**< of the other section, m; NAN: its height isn't known */
    struct edge_line *line; /**< NULL: another section */
    double apart[2];        /**< of a line at from and to, m */
};

struct contacts {
    struct contact *items;
    size_t count, room;
};

/** The edges of an outline, in the order of its rings.
 *  @return false when out of memory */
bool sides_of(struct arena *arena, const struct region *outline,
              struct sides *out) OUTLAY_MUST_CHECK;

/**
 * Adds where another section adjoins: runs the other way within 0.3 m and 30 degrees,
 * over at least 1 m in all.
 * @param section  its index in the building
 * @param rise     of it, m; NAN
 * @return false when out of memory
 */
bool contacts_with_section(struct arena *arena, const struct sides *sides,
                           const struct sides *theirs, size_t section, double rise,
                           struct contacts *out) OUTLAY_MUST_CHECK;

/**
 * Adds where the building's lines run along edges: within 1 m and 15 degrees, either way.
 * A line must run along an edge for 1 m, or be as short itself. One that ends within 1 m
 * of a corner reaches it, and a jog of up to 0.3 m (ours) goes
 * with the line that passes it.
 * @return false when out of memory
 */
bool contacts_with_lines(const struct building *building, const struct sides *sides,
                         struct contacts *out) OUTLAY_MUST_CHECK;

/** How far from the edge the line of a contact is at a place along it, m. */
double contact_apart(const struct contact *contact, double at);

#endif
