/* A grid as a sheet. */

#include <math.h>
#include <string.h>

#include "write/workbook_private.h"

/* Widths in characters of the standard font. */
enum { WIDTH_LEAST = 6, WIDTH_MOST = 60, WIDTH_FILTER = 3, CAUTION_WIDTH = 150 };

/* What is printed (ours): as many columns as a page across shows in letters of some 7 pt,
 * and of long sheets a first page of rows. */
enum { WIDTH_OF_PAGE = 220, ROWS_OF_PAGE = 45 };

/* The last row is for totals, the one before for saying that rows are missing. */
enum { ROWS_MOST = LXW_ROW_MAX - 2 };

/* Years and numbers of floors aren't divided into thousands, quantities are. */
static bool is_apart(const struct grid_column *column)
{
    return column->kind != GRID_NUMBER || column->measure != MEASURE_NONE ||
           column->summed;
}

static void widen(struct book *book, size_t column, size_t characters)
{
    if (characters > WIDTH_MOST)
        characters = WIDTH_MOST;
    if (characters > book->widths[column])
        book->widths[column] = (uint16_t)characters;
}

static size_t count_characters(const char *s)
{
    size_t count = 0;

    for (; *s; s++)
        count += ((unsigned char)*s & 0xC0) != 0x80;
    return count;
}

static size_t number_width(double number, int decimals, bool apart)
{
    size_t digits = fabs(number) < 1 ? 1 : (size_t)log10(fabs(number)) + 1;

    return digits + (number < 0) + (apart ? (digits - 1) / 3 : 0) +
           (decimals > 0 ? 1 + (size_t)decimals : 0) + 1;
}

static void put_head(struct book *book, const struct grid *grid)
{
    const struct grid_sheet *sheet = book->of;

    for (size_t i = 0; i < sheet->column_count; i++) {
        bool text = sheet->columns[i].kind == GRID_TEXT;
        struct text name = TEXT_INIT;

        grid_column_name(&name, grid, i);
        book->failed = book->failed || name.failed;
        if (!name.failed) {
            widen(book, i, WIDTH_LEAST);
            widen(book, i, count_characters(name.data) + WIDTH_FILTER);
        }
        book_text(book, book->head, (uint16_t)i, name.data,
                  text ? LOOK_HEAD : LOOK_HEAD_RIGHT);
        text_release(&name);
    }
}

void book_begin(struct book *book, const struct grid *grid, const struct text *about,
                const struct text *caution)
{
    book->of = grid_sheet(grid);
    book->full = false;
    book->printed = ROWS_OF_PAGE;
    memset(book->widths, 0, sizeof book->widths);
    memset(book->decimals, 0, sizeof book->decimals);
    for (size_t i = 0; i < BOOK_COLUMNS; i++)
        book->sums[i] = NAN;
    book_sheet(book, book->of->name);
    book->failed = book->failed || about->failed;
    if (book->failed)
        return;
    book_text(book, 0, 0, about->data, LOOK_ABOUT);
    book->head = book_caution(book, 1, caution, CAUTION_WIDTH);
    book->row = book->head + 1;
    put_head(book, grid);
    worksheet_freeze_panes(book->sheet, book->row, 1);
    book_check(book, worksheet_repeat_rows(book->sheet, book->head, book->head));
    /* Ids of digits are texts on purpose. */
    book_check(book, worksheet_ignore_errors(
                         book->sheet, LXW_IGNORE_NUMBER_STORED_AS_TEXT, "A1:XFD1048576"));
}

static void put_cell(struct book *book, const struct grid *grid, size_t row, size_t i)
{
    const struct grid_column *column = &book->of->columns[i];
    const char *text = grid_cell_text(grid, row, i);
    double number = grid_cell_number(grid, row, i);
    int decimals = grid_cell_decimals(grid, row, i);

    if (text) {
        book_text(book, book->row, (uint16_t)i, text, LOOK_TEXT);
        widen(book, i, count_characters(text) + 1);
    } else if (isfinite(number)) {
        book_number(book, book->row, (uint16_t)i, number,
                    book_number_format(book, decimals, is_apart(column), false));
        widen(book, i, number_width(number, decimals, is_apart(column)));
        book->decimals[i] = (uint8_t)decimals;
        if (column->summed)
            book->sums[i] = (isnan(book->sums[i]) ? 0 : book->sums[i]) + number;
    }
}

void book_rows(struct book *book, const struct grid *grid)
{
    book->failed = book->failed || grid_failed(grid);
    for (size_t row = 0; row < grid_rows(grid) && !book->failed; row++) {
        if (book->row == ROWS_MOST) {
            book->full = true;
            return;
        }
        for (size_t i = 0; i < book->of->column_count; i++)
            put_cell(book, grid, row, i);
        book->row++;
    }
}

/* The sum of the rows that a filter leaves, and what it is of all. */
static void put_sum(struct book *book, size_t i)
{
    const struct grid_column *column = &book->of->columns[i];
    double scale = pow(10, book->decimals[i]);
    char range[LXW_MAX_CELL_RANGE_LENGTH];
    char formula[LXW_MAX_CELL_RANGE_LENGTH + 20];
    double sum = round(book->sums[i] * scale) / scale;

    lxw_rowcol_to_range(range, book->head + 1, (lxw_col_t)i, book->row - 1, (lxw_col_t)i);
    snprintf(formula, sizeof formula, "=SUBTOTAL(109,%s)", range);
    book_formula(book, book->row, (uint16_t)i, formula, sum,
                 book_number_format(book, book->decimals[i], is_apart(column), true));
    widen(book, i, number_width(sum, book->decimals[i], true));
}

static bool has_sums(const struct book *book)
{
    for (size_t i = 0; i < book->of->column_count; i++)
        if (isfinite(book->sums[i]))
            return true;
    return false;
}

static void put_totals(struct book *book)
{
    for (size_t i = 0; i < book->of->column_count && !book->failed; i++)
        if (isfinite(book->sums[i]))
            put_sum(book, i);
        else if (i == 0)
            book_text(book, book->row, 0, "total", LOOK_TOTAL);
        else
            book_check(book, worksheet_write_blank(book->sheet, book->row, (lxw_col_t)i,
                                                   book->looks[LOOK_TOTAL]));
}

/* How many columns, from the first on, a page shows. */
static size_t columns_printed(const struct book *book)
{
    size_t all = 0, count = 0;

    while (count < book->of->column_count && all + book->widths[count] <= WIDTH_OF_PAGE)
        all += book->widths[count++];
    return count > 0 ? count : 1;
}

/* Says above each printed page what the sheet has beside it. */
static void put_remark(struct book *book, size_t columns, uint32_t rows, uint32_t all)
{
    struct text words = TEXT_INIT;

    text_puts(&words, "&L&8&A");
    if (rows < all)
        text_printf(&words, ", the first %u of %u rows", rows, all);
    if (columns < book->of->column_count)
        text_printf(&words, ", the first %zu of %zu columns", columns,
                    book->of->column_count);
    if (rows < all || columns < book->of->column_count)
        text_puts(&words, ": the sheet has all");
    book->failed = book->failed || words.failed;
    if (!words.failed)
        book_check(book, worksheet_set_header(book->sheet, words.data));
    text_release(&words);
}

/* Widths, what is printed. @param last  row of the sheet */
static void finish(struct book *book, uint32_t last)
{
    size_t columns = columns_printed(book);
    uint32_t rows = book->row - book->head - 1;
    bool cut = rows > book->printed;

    for (size_t i = 0; i < book->of->column_count; i++)
        book_check(book, worksheet_set_column(book->sheet, (lxw_col_t)i, (lxw_col_t)i,
                                              book->widths[i], NULL));
    worksheet_fit_to_pages(book->sheet, 1, 0);
    book_check(book, worksheet_print_area(book->sheet, 0, 0,
                                          cut ? book->head + book->printed : last,
                                          (lxw_col_t)(columns - 1)));
    put_remark(book, columns, cut ? book->printed : rows, rows);
}

void book_end(struct book *book)
{
    lxw_col_t columns = (lxw_col_t)book->of->column_count;
    uint32_t last = 0;

    if (book->failed)
        return;
    book_check(book, worksheet_autofilter(book->sheet, book->head, 0, book->row - 1,
                                          (lxw_col_t)(columns - 1)));
    last = book->row - 1;
    if (has_sums(book)) {
        put_totals(book);
        last = book->row;
    }
    if (book->full)
        book_text(book, book->row + 1, 0,
                  "No sheet holds more rows. The CSV file of this name has all.",
                  LOOK_ABOUT);
    finish(book, last);
}

void book_add(struct book *book, const struct grid *grid, const struct text *about,
              const struct text *caution)
{
    book_begin(book, grid, about, caution);
    book->printed = LXW_ROW_MAX;
    book_rows(book, grid);
    book_end(book);
}
