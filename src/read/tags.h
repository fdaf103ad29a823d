#ifndef OUTLAY_READ_TAGS_H
#define OUTLAY_READ_TAGS_H

/**
 * @file read/tags.h
 * Tags of OpenStreetMap that had no column of their own: GDAL's OSM driver puts them into
 * a column `other_tags`, as PostgreSQL prints an hstore: `"height"=>"12","layer"=>"1"`.
 */

#include <stdbool.h>

#include "base/text.h"

/** The column that holds them. */
#define TAGS_COLUMN "other_tags"

/** The tags that are read as if they were columns, ended by NULL. */
extern const char *const tags_read[];

/**
 * Finds a tag.
 * @param tags      as above; text in another form holds no tag
 * @param[out] out  its value replaces what was there
 */
bool tags_find(const char *tags, const char *key, struct text *out);

#endif
