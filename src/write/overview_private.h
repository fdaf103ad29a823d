#ifndef OUTLAY_WRITE_OVERVIEW_PRIVATE_H
#define OUTLAY_WRITE_OVERVIEW_PRIVATE_H

/**
 * @file write/overview_private.h
 * The overview inside: lines of four columns, and the parts about money.
 */

#include "write/overview.h"
#include "write/workbook_private.h"

/* Columns of the sheet. */
enum { COL_WHAT, COL_COUNT, COL_SHARE, COL_WORDS };

/** Appends "1 roof", "1,200 roofs". */
void overview_roofs(struct text *out, size_t count);

/** "USD". */
void overview_currency(char code[4], const struct write_settings *set);

/** part / all; NAN where all is 0. */
double overview_share(double part, double all);

/** Puts a blank line and the titles of the four columns, NULL for none.
 *  @return the row after them */
uint32_t overview_heading(struct book *book, uint32_t row, const char *heading,
                          const char *count, const char *share, const char *words);

/** Puts a row; NAN and NULL leave cells empty. @return the row after it */
uint32_t overview_row(struct book *book, uint32_t row, const char *what, double count,
                      double share, const char *words);

/** Appends what new covers cost in all, a sentence. */
void overview_price(struct text *words, const struct book *book,
                    const struct comparison_sums *own);

/** Puts costs by method; nothing where nothing was laid out. */
uint32_t overview_costs(struct book *book, uint32_t row,
                        const struct comparison_totals *compared);

/** Puts the plan's years; nothing for NULL. */
uint32_t overview_plan(struct book *book, uint32_t row, const struct plan *plan);

#endif
