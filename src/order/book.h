#ifndef OUTLAY_ORDER_BOOK_H
#define OUTLAY_ORDER_BOOK_H

/**
 * @file order/book.h
 * The goods of every roof by its own method, kept until a plan says which of them are
 * done in one visit and so bought together. Some 40 bytes for each of a roof's goods.
 *
 * Roofs are numbered from 0 in the order in which they were added. Threads: one a book.
 */

#include "order/order.h"

struct order_book;

/** @param[out] out  owned; ends with order_book_free() @return OUTLAY_E_MEMORY */
enum outlay_status order_book_new(struct order_book **out,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** NULL is ignored. */
void order_book_free(struct order_book *book);

/** Adds all roofs of a building. @return OUTLAY_E_MEMORY */
enum outlay_status order_book_add(struct order_book *book,
                                  const struct building *building,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Adds a roof of the book to an order, as order_add_roof() does.
 *  @param number  of the roof @return false when out of memory */
bool order_book_put(const struct order_book *book, size_t number, struct arena *arena,
                    struct order *order);

#endif
