#ifndef OUTLAY_WRITE_WORKBOOK_PRIVATE_H
#define OUTLAY_WRITE_WORKBOOK_PRIVATE_H

/**
 * @file write/workbook_private.h
 * A book inside, shared by workbook.c (files and cells), workbook_sheet.c (grids) and
 * overview.c (the first sheet).
 */

#include <stdbool.h>
#include <stdint.h>

#include <xlsxwriter.h>

#include "write/workbook.h"

/* How cells look. Numbers have formats of their own. */
enum book_look {
    LOOK_TITLE,
    LOOK_ABOUT,
    LOOK_CAUTION,
    LOOK_HEAD,       /**< of a column of texts */
    LOOK_HEAD_RIGHT, /**< of a column of numbers */
    LOOK_HEAD_INDENTED,
    LOOK_TEXT,
    LOOK_WRAPPED,
    LOOK_INDENTED, /**< and wrapped */
    LOOK_TOTAL,
    LOOKS
};

enum { BOOK_DECIMALS = 6, BOOK_COLUMNS = 100, BOOK_SHEETS = 16 };

/* What the cells of a sheet hold. */
struct book_cells {
    uint64_t digest;
    size_t count;
};

struct book {
    const char *path;
    const struct write_settings *set;
    lxw_workbook *file; /* owned */
    lxw_format *looks[LOOKS];
    /* decimals; thousands apart; of a row of totals */
    lxw_format *numbers[BOOK_DECIMALS][2][2];
    lxw_format *share;
    struct text scratch;

    /* the sheet that is being written */
    lxw_worksheet *sheet;
    const struct grid_sheet *of;
    uint32_t head, row; /* the header's row; the next one */
    uint32_t printed;   /* the most rows that go on paper */
    bool full;          /* rows were left out: no sheet holds more */
    uint16_t widths[BOOK_COLUMNS];
    uint8_t decimals[BOOK_COLUMNS]; /* most of a column's cells */
    double sums[BOOK_COLUMNS];      /* NAN: nothing to add up */

    struct book_cells cells[BOOK_SHEETS];
    size_t sheets;

    lxw_error error; /* the first */
    bool failed;     /* out of memory */
};

/** Starts a sheet without anything in it. */
void book_sheet(struct book *book, const char *name);

/** Puts a text; NULL and "" put nothing. Characters that no cell may hold are replaced,
 *  what is too long is cut. */
void book_text(struct book *book, uint32_t row, uint16_t column, const char *text,
               enum book_look look);

/** Puts a number; NAN puts nothing. format: NULL for none. */
void book_number(struct book *book, uint32_t row, uint16_t column, double number,
                 lxw_format *format);

/** Puts the caution in lines of at most `width` characters, from a row on.
 *  @return the row after it */
uint32_t book_caution(struct book *book, uint32_t row, const struct text *caution,
                      size_t width);

/** Puts a formula, which begins with =, and its value. */
void book_formula(struct book *book, uint32_t row, uint16_t column, const char *formula,
                  double value, lxw_format *format);

/** Notes what a cell of a sheet was given. */
void book_note_text(struct book_cells *cells, uint32_t row, uint16_t column,
                    const char *text);
void book_note_formula(struct book_cells *cells, uint32_t row, uint16_t column,
                       const char *formula);
void book_note_number(struct book_cells *cells, uint32_t row, uint16_t column,
                      double number);

/** Reads the finished file back: every part well formed and listed where it must be,
 *  every cell as noted. @return OUTLAY_E_OUTPUT when it isn't, OUTLAY_E_MEMORY */
enum outlay_status book_read_back(const struct book *book) OUTLAY_MUST_CHECK;

/** Keeps the first error. */
void book_check(struct book *book, lxw_error error);

/** Decimals as there are formats for. */
lxw_format *book_number_format(struct book *book, int decimals, bool apart, bool total);

#endif
