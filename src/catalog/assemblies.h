#ifndef OUTLAY_CATALOG_ASSEMBLIES_H
#define OUTLAY_CATALOG_ASSEMBLIES_H

/**
 * @file catalog/assemblies.h
 * From the cells of a table to checked assemblies, in SI.
 */

#include "catalog/catalog.h"
#include "catalog/table.h"

/**
 * Reads all rows, strictly: every column known, none missing, each value in its range,
 * empty exactly where the method has no such value.
 * @param[out] out  out->arena must be set and receives the texts.
 * @return OUTLAY_E_USAGE with table, row and column in err->where; OUTLAY_E_MEMORY
 */
enum outlay_status assemblies_read(const struct table *table, struct catalog *out,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
