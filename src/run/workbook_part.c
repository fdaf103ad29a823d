#include "run/workbook_part.h"

#include "write/overview.h"

/* The first sheet. @return false when out of memory */
static bool put_overview(struct book *book, const struct shown *shown,
                         const struct run_record *record)
{
    struct grid *summary = shown_grid(shown, SHOWN_SUMMARY);
    if (!summary)
        return false;
    const struct overview overview = {.record = record,
                                      .summary = summary,
                                      .whole = shown_whole(shown),
                                      .prices = true};
    overview_add(book, &overview);
    grid_free(summary);
    return true;
}

/* @return false when out of memory */
static bool put_totals(struct book *book, const struct run_record *record)
{
    struct grid *totals = grid_new(&totals_sheet, record->set);
    if (!totals)
        return false;
    totals_fill(totals, record->totals, record->set);
    book_add(book, totals, "Sums over all roofs.");
    grid_free(totals);
    return true;
}

enum outlay_status workbook_part_write(const char *path, const struct shown *shown,
                                       const struct run_record *record,
                                       struct outlay_error *err)
{
    struct book *book = NULL;
    enum outlay_status status = book_open(path, record->set, &book, err);
    if (status != OUTLAY_OK)
        return status;
    bool made = !shown_failed(shown) && put_overview(book, shown, record);
    if (made)
        shown_sheet(shown, SHOWN_SUMMARY, book);
    made = made && put_totals(book, record);
    if (made) {
        shown_sheet(shown, SHOWN_MATERIALS, book);
        shown_sheet(shown, SHOWN_COMPARISON, book);
        shown_sheet(shown, SHOWN_PROBLEMS, book);
        return book_commit(book, err);
    }
    book_abort(book);
    return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}
