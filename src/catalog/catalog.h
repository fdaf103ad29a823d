#ifndef OUTLAY_CATALOG_CATALOG_H
#define OUTLAY_CATALOG_CATALOG_H

/**
 * @file catalog/catalog.h
 * The catalogue of generic assemblies: CSV built in, written by `outlay catalog`,
 * replaceable by the user's CSV or XLSX. An assembly is one row; which zones it may
 * serve is worked out in attach/.
 *
 * Columns, in any order, all of them there; units end the names. Several values of one
 * cell are separated by |. A value that the method doesn't have is left empty.
 *
 *   name, method, decks, membrane, note     texts; only the note may be empty
 *   sheet_width_ft, lap_in                  field sheet and its side lap
 *   rating_psf, rating_basis                tested; ultimate, or allowable where it is
 *                                           already divided by a safety factor
 *   tested_row_spacing_ft, tested_fastener_spacing_in, spacings_in    seam-fastened
 *   board_length_ft, board_width_ft, board_fasteners
 *   tested_per_board, patterns              induction-welded, adhered-fastened
 *   tested_ribbon_in, ribbons_in            adhered; 0 is full cover
 *   extrapolation                           denser than tested up to this factor; 0: none
 *   board_edge_in                           all but adhered
 *
 * The loader guarantees what attach/ relies on: values in range, lists sorted without
 * repeats, at least one allowed pattern between the tested density and the extrapolation
 * limit, full cover never mixed with ribbons, adhered never on steel deck.
 *
 * Owned: a catalog owns all its texts; read-only after loading and then safe from any
 * thread.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "outlay/status.h"
#include "roof/roof.h"

#define SPACINGS_MAX 8
#define PATTERNS_MAX 12

struct assembly {
    const char *name; /**< plain words, unique; never an approval number */
    enum method method;
    unsigned decks;                 /**< bits 1u << DECK_... */
    const char *membrane;           /**< generic: "TPO 60 mil" */
    double sheet_width;             /**< field sheet, m */
    double lap;                     /**< side lap, m */
    double rating;                  /**< tested, Pa */
    enum rating_basis rating_basis; /**< never NOT_GIVEN */
    double tested_row_spacing;      /**< m; seam-fastened, else NAN */
    double tested_fastener_spacing; /**< m; seam-fastened, else NAN */
    double spacings[SPACINGS_MAX];  /**< allowed along a row, m, widest first */
    size_t spacing_count;
    double board_length, board_width; /**< m */
    int tested_per_board;             /**< board methods with fasteners, else MISSING */
    int patterns[PATTERNS_MAX];       /**< allowed fasteners a board, fewest first */
    size_t pattern_count;
    double tested_ribbon;         /**< adhesive ribbon spacing, m; 0: full cover; NAN */
    double ribbons[PATTERNS_MAX]; /**< allowed, widest first; 0 is full cover */
    size_t ribbon_count;
    double extrapolation; /**< denser than tested up to this factor; 0: not at all */
    int board_fasteners;  /**< preliminary, a board, not counted for uplift */
    double board_edge;    /**< least distance of a fastener to the board's edge, m */
    const char *note;     /**< "" */
};

struct catalog {
    struct arena *arena; /**< owned; holds all below */
    struct assembly *assemblies;
    size_t assembly_count;
    bool built_in; /**< values are invented; outputs say so */
};

/** The built-in table as CSV text, static storage. */
extern const char catalog_assemblies_csv[];

/** Loads the built-in catalogue. @return OUTLAY_E_MEMORY */
enum outlay_status catalog_builtin(struct catalog *out,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Loads a user's table, CSV or XLSX by name (through GDAL).
 * @return OUTLAY_E_USAGE with table, row and column in err->where.
 */
enum outlay_status catalog_load(const char *path, struct catalog *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Frees what the catalogue owns. Twice is fine. */
void catalog_release(struct catalog *catalog);

#endif
