#ifndef OUTLAY_READ_SOURCE_H
#define OUTLAY_READ_SOURCE_H

/**
 * @file read/source.h
 * The two kinds of source behind reader.c, and what they share. Each turns one feature
 * into a roof whose lonlat is still in the input's CRS; reader.c does the rest.
 */

#include <stdbool.h>
#include <stdio.h>

#include "base/arena.h"
#include "base/text.h"
#include "read/fields.h"
#include "read/outline.h"
#include "read/projection.h"
#include "read/read.h"
#include "roof/roof.h"

/** What both kinds of source fill. Owned by the reader. */
struct intake {
    struct fields fields;
    struct projection projection;
    struct text members; /**< scratch for one feature's properties */
    struct text notes;   /**< for people, one line each */
    const char *name;    /**< of the input, for messages; borrowed from the reader */
    char layer[128];     /**< the layer's name */
    char driver[64];     /**< "GeoJSON", for people */
    struct outline_others others;
    bool crs_stated; /**< by the user, the layer or the format */
};

/** Empties a roof. Called once there is a feature for it. */
void source_begin_roof(struct roof *roof);

/* ---- Layers that GDAL opens ---------------------------------------------------- */

struct vector;

/** @return OUTLAY_E_INPUT, OUTLAY_E_USAGE, OUTLAY_E_MEMORY */
enum outlay_status vector_open(const struct read_settings *settings,
                               struct intake *intake, struct vector **out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Sets *end instead when the layer is read to its end, whole as far as GDAL and the
 *  layer's count can tell. @return OUTLAY_E_INPUT, OUTLAY_E_MEMORY */
enum outlay_status vector_next(struct vector *vector, struct arena *arena,
                               struct roof *roof, bool *end,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Features; -1 when that isn't known without reading all. */
long long vector_count(const struct vector *vector);

/** See reader_extent(). */
enum outlay_status vector_extent(struct vector *vector, long long most,
                                 struct extent *out,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

void vector_close(struct vector *vector);

/* ---- GeoJSON text sequences ---------------------------------------------------- */

struct sequence;

/** @param stream  borrowed. @return OUTLAY_E_USAGE, OUTLAY_E_MEMORY */
enum outlay_status sequence_open(const struct read_settings *settings, FILE *stream,
                                 struct intake *intake, struct sequence **out,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** As vector_next(). Also OUTLAY_E_USAGE: a field role can't be read as given, which
 *  shows only when its column comes up; OUTLAY_E_INTERRUPTED. */
enum outlay_status sequence_next(struct sequence *sequence, struct arena *arena,
                                 struct roof *roof, bool *end,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

void sequence_close(struct sequence *sequence);

#endif
