#ifndef OUTLAY_WRITE_LAYOUT_FILE_H
#define OUTLAY_WRITE_LAYOUT_FILE_H

/**
 * @file write/layout_file.h
 * Layouts as a GeoPackage to be measured in: layers outline, zones, edges, sheets,
 * boards, rows, plates, insulation_plates and roll_ends, in metres of a UTM zone (WGS
 * 84), and the table layer_styles, by which a desktop GIS draws them.
 * Roofs that lie within 6 degrees of longitude share the zone of their middle; of wider
 * portfolios, and of streams, whose width isn't known before their end, each roof goes
 * into its own zone's file. The first file has the path itself, further ones are named
 * after their zone: layout.gpkg, layout_utm17n.gpkg.
 *
 * UTM lengths are up to 0.04 % short of true ones, more outside the zone; quantities are
 * those of materials.csv, never measured here.
 *
 *     status = layout_file_open(path, &set, &file, err);
 *     while (status == OUTLAY_OK && ...)
 *         status = layout_file_add(file, building, err);
 *     if (status == OUTLAY_OK)
 *         status = layout_file_commit(file, err);
 *     else
 *         layout_file_abort(file);
 *
 * Files are written in place: the folder around them appears whole or not at all. A field
 * `caution` says in each outline that these are planning figures; each layer's
 * description holds the whole caution. GDALAllRegister() is the caller's. Threads: a file
 * is used in one thread.
 */

#include "write/write.h"

struct layout_file;

/** @param path  ends in .gpkg @param set  borrowed until the end
 *  @param place  around the portfolio, degrees, max_x beyond 180 allowed; NULL: unknown
 *  @return OUTLAY_E_MEMORY; the file itself is made with the first layout */
enum outlay_status layout_file_open(const char *path, const struct write_settings *set,
                                    const struct box *place, struct layout_file **out,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Name of a file made so far, without folders; NULL past the last. Borrowed. */
const char *layout_file_name(const struct layout_file *file, size_t index);

/** Adds all layouts of the building's roofs. @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY */
enum outlay_status layout_file_add(struct layout_file *file,
                                   const struct building *building,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Finishes and frees. @return OUTLAY_E_OUTPUT */
enum outlay_status layout_file_commit(struct layout_file *file,
                                      struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Closes and frees; what was written stays behind for the folder's end. NULL is
 *  ignored. */
void layout_file_abort(struct layout_file *file);

#endif
