/* Whether a workbook holds the rows that were put into it. The library collects each
 * sheet in a temporary file and doesn't notice when the disk is full then: the sheet
 * lacks rows in the middle, and nothing says so. */

#include <stdlib.h>
#include <string.h>

#include <cpl_vsi.h>
#include <xxhash.h>

#include "write/workbook_private.h"

enum { CHUNK = 1 << 16 };

/* ---- Before ---------------------------------------------------------------------- */

static bool digest_file(FILE *file, char *chunk, struct book_rows *rows)
{
    XXH3_state_t *state = XXH3_createState();
    size_t count = 0;

    *rows = (struct book_rows){0};
    if (!state || fflush(file) != 0 || fseek(file, 0, SEEK_SET) != 0) {
        XXH3_freeState(state);
        return false;
    }
    XXH3_64bits_reset(state);
    while ((count = fread(chunk, 1, CHUNK, file)) > 0) {
        XXH3_64bits_update(state, chunk, count);
        rows->length += count;
    }
    rows->digest = XXH3_64bits_digest(state);
    XXH3_freeState(state);
    return !ferror(file) && fseek(file, 0, SEEK_END) == 0;
}

bool book_remember(struct book *book)
{
    lxw_worksheet *sheet = NULL;
    char *chunk = malloc(CHUNK);
    bool fine = chunk != NULL;
    size_t i = 0;

    STAILQ_FOREACH(sheet, book->file->worksheets, list_pointers)
    {
        fine = fine && i < BOOK_SHEETS && sheet->optimize_tmpfile &&
               digest_file(sheet->optimize_tmpfile, chunk, &book->rows[i++]);
    }
    book->sheets = i;
    free(chunk);
    return fine;
}

/* ---- Afterwards ------------------------------------------------------------------ */

/* Goes to where the rows start. */
static bool find_rows(VSILFILE *file, char *chunk)
{
    static const char mark[] = "<sheetData>";
    size_t count = VSIFReadL(chunk, 1, CHUNK - 1, file);
    const char *at = NULL;

    chunk[count] = '\0';
    at = strstr(chunk, mark);
    return at &&
           VSIFSeekL(file, (vsi_l_offset)(at - chunk) + sizeof mark - 1, SEEK_SET) == 0;
}

static bool same_rows(VSILFILE *file, char *chunk, const struct book_rows *rows)
{
    XXH3_state_t *state = XXH3_createState();
    size_t left = rows->length;
    size_t count = 0;
    bool same = false;

    if (!state)
        return false;
    XXH3_64bits_reset(state);
    while (left > 0 &&
           (count = VSIFReadL(chunk, 1, left < CHUNK ? left : CHUNK, file)) > 0) {
        XXH3_64bits_update(state, chunk, count);
        left -= count;
    }
    same = left == 0 && XXH3_64bits_digest(state) == rows->digest;
    XXH3_freeState(state);
    return same;
}

/* The last row, which the library had kept back, and the end. */
static bool has_end(VSILFILE *file, char *chunk)
{
    static const char row[] = "<row r=";
    static const char end[] = "</worksheet>";
    const size_t most = sizeof end - 1;
    size_t kept = 0; /* of what was read last, at the start of the chunk */
    size_t count = VSIFReadL(chunk, 1, sizeof row - 1, file);
    bool found = count == sizeof row - 1 && memcmp(chunk, row, count) == 0;

    while (found && (count = VSIFReadL(chunk + kept, 1, CHUNK - kept, file)) > 0) {
        size_t all = kept + count;

        kept = all < most ? all : most;
        memmove(chunk, chunk + all - kept, kept);
    }
    return found && kept == most && memcmp(chunk, end, most) == 0;
}

static bool sheet_is_whole(const char *path, char *chunk, const struct book_rows *rows)
{
    VSILFILE *file = VSIFOpenL(path, "rb");
    bool whole = false;

    if (!file)
        return false;
    whole =
        find_rows(file, chunk) && same_rows(file, chunk, rows) && has_end(file, chunk);
    VSIFCloseL(file);
    return whole;
}

bool book_is_whole(const struct book *book)
{
    char *chunk = malloc(CHUNK);
    bool whole = chunk != NULL;

    for (size_t i = 0; whole && i < book->sheets; i++) {
        struct text path = TEXT_INIT;

        text_printf(&path, "/vsizip/{%s}/xl/worksheets/sheet%zu.xml", book->path, i + 1);
        whole = !path.failed && sheet_is_whole(path.data, chunk, &book->rows[i]);
        text_release(&path);
    }
    free(chunk);
    return whole;
}
