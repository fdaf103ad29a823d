#include "write/workbook.h"

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "write/output.h"
#include "write/workbook_private.h"

/* The tones of the project's drawings. */
enum { INK = 0x25323C, STEEL = 0x4F6F88, PALE = 0xCFDBE4, PALEST = 0xF3F6F8 };

/* What a cell may hold, UTF-16 units. */
enum { CELL_MOST = 32767 };

/* 1 January 1980, as in the entries of the file, which is a zip: no date of a run, so
 * that the same content gives the same bytes. */
#define NO_DATE ((time_t)315532800)

void book_check(struct book *book, lxw_error error)
{
    if (book->error == LXW_NO_ERROR)
        book->error = error;
}

/* ---- Looks ------------------------------------------------------------------------- */

static lxw_format *new_format(struct book *book)
{
    lxw_format *format = workbook_add_format(book->file);

    if (!format) {
        book->failed = true;
        return NULL;
    }
    format_set_font_color(format, INK);
    format_set_align(format, LXW_ALIGN_VERTICAL_TOP);
    return format;
}

/* Tells what sets a look apart. */
static void dress(lxw_format *format, enum book_look look)
{
    bool head =
        look == LOOK_HEAD || look == LOOK_HEAD_RIGHT || look == LOOK_HEAD_INDENTED;

    if (head || look == LOOK_TITLE || look == LOOK_ABOUT || look == LOOK_TOTAL)
        format_set_bold(format);
    if (look == LOOK_TITLE)
        format_set_font_size(format, 18);
    if (look == LOOK_ABOUT)
        format_set_font_size(format, 12);
    if (look == LOOK_CAUTION)
        format_set_font_size(format, 9);
    if (look == LOOK_CAUTION)
        format_set_font_color(format, STEEL);
    if (head) {
        format_set_bg_color(format, PALE);
        format_set_bottom(format, LXW_BORDER_THIN);
        format_set_bottom_color(format, STEEL);
    }
    if (look == LOOK_HEAD_RIGHT)
        format_set_align(format, LXW_ALIGN_RIGHT);
    if (look == LOOK_WRAPPED || look == LOOK_INDENTED)
        format_set_text_wrap(format);
    if (look == LOOK_INDENTED || look == LOOK_HEAD_INDENTED)
        format_set_indent(format, 1);
}

static void dress_total(lxw_format *format)
{
    format_set_bg_color(format, PALEST);
    format_set_top(format, LXW_BORDER_THIN);
    format_set_top_color(format, STEEL);
}

static void make_looks(struct book *book)
{
    for (int look = 0; look < LOOKS && !book->failed; look++) {
        book->looks[look] = new_format(book);
        if (book->looks[look])
            dress(book->looks[look], (enum book_look)look);
    }
    if (book->looks[LOOK_TOTAL])
        dress_total(book->looks[LOOK_TOTAL]);
    book->share = book->failed ? NULL : new_format(book);
    if (book->share)
        format_set_num_format(book->share, "0.0%");
}

static lxw_format *make_number(struct book *book, int decimals, bool apart, bool total)
{
    static const char *const codes[BOOK_DECIMALS][2] = {
        {"0", "#,##0"},         {"0.0", "#,##0.0"},       {"0.00", "#,##0.00"},
        {"0.000", "#,##0.000"}, {"0.0000", "#,##0.0000"}, {"0.00000", "#,##0.00000"}};
    lxw_format *format = new_format(book);

    if (!format)
        return NULL;
    format_set_num_format(format, codes[decimals][apart]);
    if (total) {
        format_set_bold(format);
        dress_total(format);
    }
    return format;
}

lxw_format *book_number_format(struct book *book, int decimals, bool apart, bool total)
{
    int kept = decimals < 0 ? 0 : decimals < BOOK_DECIMALS ? decimals : BOOK_DECIMALS - 1;
    lxw_format **format = &book->numbers[kept][apart][total];

    if (!*format && !book->failed)
        *format = make_number(book, kept, apart, total);
    return *format;
}

/* ---- Cells ------------------------------------------------------------------------- */

void book_sheet(struct book *book, const char *name)
{
    bool room = !book->failed && book->sheets < BOOK_SHEETS;

    book->sheet = room ? workbook_add_worksheet(book->file, name) : NULL;
    if (!book->sheet) {
        book->failed = true;
        return;
    }
    book->sheets++;
    worksheet_set_landscape(book->sheet);
    worksheet_set_paper(book->sheet, columns_units(book->set) == UNITS_SI ? 9 : 1);
    worksheet_set_margins(book->sheet, 0.5, 0.5, 0.6, 0.7);
    book_check(book,
               worksheet_set_footer(
                   book->sheet, "&L&8Planning figures, not a design&C&8&A&R&8&P / &N"));
}

void book_text(struct book *book, uint32_t row, uint16_t column, const char *text,
               enum book_look look)
{
    text_clear(&book->scratch);
    text_line(&book->scratch, text, CELL_MOST);
    book->failed = book->failed || book->scratch.failed;
    if (book->failed || book->scratch.length == 0)
        return;
    book_note_text(&book->cells[book->sheets - 1], row, column, book->scratch.data);
    book_check(book, worksheet_write_string(book->sheet, row, column, book->scratch.data,
                                            book->looks[look]));
}

/* The number in 15 digits, which any program writes and reads back unchanged. */
static double plain_number(struct book *book, double number)
{
    double plain = 0;

    text_clear(&book->scratch);
    text_printf(&book->scratch, "%.15g", number);
    book->failed =
        book->failed || book->scratch.failed || !number_parse(book->scratch.data, &plain);
    return plain;
}

void book_number(struct book *book, uint32_t row, uint16_t column, double number,
                 lxw_format *format)
{
    double plain = isfinite(number) ? plain_number(book, number) : NAN;

    if (book->failed || isnan(plain))
        return;
    book_note_number(&book->cells[book->sheets - 1], row, column, plain);
    book_check(book, worksheet_write_number(book->sheet, row, column, plain, format));
}

void book_formula(struct book *book, uint32_t row, uint16_t column, const char *formula,
                  double value, lxw_format *format)
{
    double plain = plain_number(book, value);

    if (book->failed)
        return;
    book_note_formula(&book->cells[book->sheets - 1], row, column, formula + 1);
    book_note_number(&book->cells[book->sheets - 1], row, column, plain);
    book_check(book, worksheet_write_formula_num(book->sheet, row, column, formula,
                                                 format, plain));
}

/* Length of the words of s that fit into width, or of the first one. */
static size_t line_length(const char *s, size_t width)
{
    size_t length = strlen(s);
    size_t last = 0;

    if (length <= width)
        return length;
    for (size_t i = 0; i < length && (i <= width || last == 0); i++)
        if (s[i] == ' ')
            last = i;
    return last > 0 ? last : length;
}

uint32_t book_caution(struct book *book, uint32_t row, const struct text *caution,
                      size_t width)
{
    const char *rest = NULL;

    book->failed = book->failed || caution->failed;
    rest = book->failed ? "" : caution->data;
    while (*rest) {
        struct text line = TEXT_INIT;
        size_t length = line_length(rest, width);

        text_append(&line, rest, length);
        book->failed = book->failed || line.failed;
        book_text(book, row, 0, line.data, LOOK_CAUTION);
        text_release(&line);
        if (!book->failed)
            book_check(book, worksheet_set_row(book->sheet, row, 12, NULL));
        row++;
        rest += length;
        rest += strspn(rest, " ");
    }
    return row;
}

/* ---- The file ---------------------------------------------------------------------- */

static void set_properties(struct book *book)
{
    char title[] = "Roof portfolio";
    char comments[] = "Planning figures, not a design.";
    lxw_doc_properties properties = {
        .title = title, .comments = comments, .created = NO_DATE};

    book_check(book, workbook_set_properties(book->file, &properties));
}

enum outlay_status book_open(const char *path, const struct write_settings *set,
                             struct book **out, struct outlay_error *err)
{
    lxw_workbook_options options = {.constant_memory = LXW_TRUE, .use_zip64 = LXW_FALSE};
    struct book *book = calloc(1, sizeof *book);

    *out = NULL;
    if (!book)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    *book = (struct book){.path = path, .set = set, .scratch = TEXT_INIT};
    book->file = workbook_new_opt(path, &options);
    if (!book->file) {
        book_abort(book);
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    set_properties(book);
    make_looks(book);
    *out = book;
    return OUTLAY_OK;
}

static enum outlay_status tell(const struct book *book, struct outlay_error *err)
{
    if (book->error == LXW_ERROR_MEMORY_MALLOC_FAILED)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (book->error == LXW_ERROR_CREATING_TMPFILE ||
        book->error == LXW_ERROR_READING_TMPFILE)
        outlay_fail(err, OUTLAY_E_OUTPUT,
                    "the workbook's temporary files couldn't be kept");
    else
        outlay_fail(err, OUTLAY_E_OUTPUT, "writing the workbook: %s",
                    lxw_strerror(book->error));
    outlay_fail_where(err, "%s", book->path);
    outlay_fail_todo(err, "make room there and for temporary files, or set TMPDIR to a "
                          "folder with more");
    return OUTLAY_E_OUTPUT;
}

/* Whether the file can be made there; the library would print its own words. */
static enum outlay_status try_place(const struct book *book, struct outlay_error *err)
{
    FILE *file = fopen(book->path, "w");

    if (!file || fclose(file) != 0)
        return output_fail(err, errno, "making the workbook", book->path);
    return OUTLAY_OK;
}

static enum outlay_status write_all(struct book *book, struct outlay_error *err)
{
    if (book->failed)
        book_check(book, LXW_ERROR_MEMORY_MALLOC_FAILED);
    if (book->error == LXW_NO_ERROR) {
        book_check(book, workbook_close(book->file));
        book->file = NULL; /* freed whatever came of it */
    }
    if (book->error == LXW_NO_ERROR) {
        enum outlay_status status = book_read_back(book);

        if (status != OUTLAY_OK)
            book_check(book, status == OUTLAY_E_MEMORY ? LXW_ERROR_MEMORY_MALLOC_FAILED
                                                       : LXW_ERROR_READING_TMPFILE);
    }
    return book->error == LXW_NO_ERROR ? OUTLAY_OK : tell(book, err);
}

enum outlay_status book_commit(struct book *book, struct outlay_error *err)
{
    enum outlay_status status = try_place(book, err);

    if (status == OUTLAY_OK)
        status = write_all(book, err);
    book_abort(book);
    return status;
}

/* The library closes these when it writes the file only. */
static void close_rows(struct book *book)
{
    lxw_worksheet *sheet = NULL;

    STAILQ_FOREACH(sheet, book->file->worksheets, list_pointers)
    {
        if (sheet->optimize_tmpfile)
            fclose(sheet->optimize_tmpfile);
    }
}

void book_abort(struct book *book)
{
    if (!book)
        return;
    if (book->file)
        close_rows(book);
    lxw_workbook_free(book->file);
    text_release(&book->scratch);
    free(book);
}
