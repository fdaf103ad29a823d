/* One table of columns says what each cell may hold; what several cells of a row must
 * agree on is in assemblies_check.c. */

#include "catalog/assemblies.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/ascii.h"
#include "base/number.h"
#include "base/print.h"
#include "base/units.h"
#include "catalog/assemblies_private.h"

#define SEAM (1u << METHOD_SEAM_FASTENED)
#define BOARDS (1u << METHOD_INDUCTION_WELDED | 1u << METHOD_ADHERED_FASTENED)
#define ADHERED (1u << METHOD_ADHERED)
#define ALL (SEAM | BOARDS | ADHERED)

enum cell_kind {
    CELL_TEXT,
    CELL_NOTE, /* a text that may be empty */
    CELL_METHOD,
    CELL_DECKS,
    CELL_BASIS,
    CELL_NUMBER,
    CELL_COUNT,
    CELL_NUMBERS, /* separated by | */
    CELL_COUNTS
};

struct column {
    const char *name; /* ends in the unit of its cells */
    enum cell_kind kind;
    unsigned methods;    /* bits of those that need it; others leave it empty */
    size_t offset;       /* in struct assembly */
    size_t count_offset; /* of a list's length */
    int room;            /* of a list */
    double least, most;  /* in the column's unit; wide of all that is sold, narrow
                             enough to catch inches in a column of feet (ours) */
    double factor;       /* SI value of the unit */
};

#define AT(field) offsetof(struct assembly, field)
#define TEXT(name, kind, field)                   \
    {                                             \
        name, kind, ALL, AT(field), 0, 0, 0, 0, 1 \
    }
#define ONE(name, kind, methods, field, least, most, factor)      \
    {                                                             \
        name, kind, methods, AT(field), 0, 0, least, most, factor \
    }
#define LIST(name, kind, methods, field, count, room, least, most, factor)   \
    {                                                                        \
        name, kind, methods, AT(field), AT(count), room, least, most, factor \
    }

/* Method comes before all that depends on it. */
static const struct column columns[] = {
    TEXT("name", CELL_TEXT, name),
    TEXT("method", CELL_METHOD, method),
    TEXT("decks", CELL_DECKS, decks),
    TEXT("membrane", CELL_TEXT, membrane),
    ONE("sheet_width_ft", CELL_NUMBER, ALL, sheet_width, 2, 50, M_PER_FT),
    ONE("lap_in", CELL_NUMBER, ALL, lap, 1, 12, M_PER_IN),
    ONE("rating_psf", CELL_NUMBER, ALL, rating, 5, 1000, PA_PER_PSF),
    TEXT("rating_basis", CELL_BASIS, rating_basis),
    ONE("tested_row_spacing_ft", CELL_NUMBER, SEAM, tested_row_spacing, 1, 20, M_PER_FT),
    ONE("tested_fastener_spacing_in", CELL_NUMBER, SEAM, tested_fastener_spacing, 2, 36,
        M_PER_IN),
    LIST("spacings_in", CELL_NUMBERS, SEAM, spacings, spacing_count, SPACINGS_MAX, 2, 36,
         M_PER_IN),
    ONE("board_length_ft", CELL_NUMBER, ALL, board_length, 1, 16, M_PER_FT),
    ONE("board_width_ft", CELL_NUMBER, ALL, board_width, 1, 8, M_PER_FT),
    ONE("tested_per_board", CELL_COUNT, BOARDS, tested_per_board, 1, 128, 1),
    LIST("patterns", CELL_COUNTS, BOARDS, patterns, pattern_count, PATTERNS_MAX, 1, 128,
         1),
    ONE("tested_ribbon_in", CELL_NUMBER, ADHERED, tested_ribbon, 0, 24, M_PER_IN),
    LIST("ribbons_in", CELL_NUMBERS, ADHERED, ribbons, ribbon_count, PATTERNS_MAX, 0, 24,
         M_PER_IN),
    ONE("extrapolation", CELL_NUMBER, ALL, extrapolation, 0, 10, 1),
    ONE("board_fasteners", CELL_COUNT, ALL, board_fasteners, 0, 64, 1),
    ONE("board_edge_in", CELL_NUMBER, SEAM | BOARDS, board_edge, 0, 24, M_PER_IN),
    TEXT("note", CELL_NOTE, note),
};

enum { COLUMNS = sizeof columns / sizeof columns[0] };

void cells_of(const struct table *table, size_t row, const char *const *names,
              const size_t *place, size_t count, struct cell *out)
{
    for (size_t i = 0; i < count; i++)
        out[i] = (struct cell){
            table->name, table->rows[row].number, names[i],
            place[i] < table->columns ? table->rows[row].cells[place[i]] : ""};
}

enum outlay_status cell_refuse(const struct cell *cell, const char *accepted,
                               struct outlay_error *err)
{
    enum outlay_status status;

    if (cell->text[0])
        status = outlay_fail(err, OUTLAY_E_USAGE, "%s is \"%s\"; accepted: %s",
                             cell->column, cell->text, accepted);
    else
        status = outlay_fail(err, OUTLAY_E_USAGE, "%s is empty; accepted: %s",
                             cell->column, accepted);
    outlay_fail_where(err, "%s, row %d, column %s", cell->table, cell->row, cell->column);
    return status;
}

enum outlay_status cell_number(const struct cell *cell, double least, double most,
                               double *out, struct outlay_error *err)
{
    char accepted[80];

    if (number_parse(cell->text, out) && *out >= least && *out <= most)
        return OUTLAY_OK;
    print_into(accepted, sizeof accepted, "a number from %g to %.0f", least, most);
    return cell_refuse(cell, accepted, err);
}

/* ---- One cell ----------------------------------------------------------------- */

static void accepted_numbers(const struct column *column, char *out, size_t size)
{
    bool count = column->kind == CELL_COUNT || column->kind == CELL_COUNTS;
    bool list = column->kind == CELL_NUMBERS || column->kind == CELL_COUNTS;
    bool unit = column->factor < 1 || column->factor > 1;

    print_into(out, size, "%s from %g to %g%s%s%s", count ? "a whole number" : "a number",
               column->least, column->most, unit ? " " : "",
               unit ? strrchr(column->name, '_') + 1 : "",
               list ? ", or several different ones separated by |" : "");
}

static enum outlay_status number_refuse(const struct column *column,
                                        const struct cell *cell, struct outlay_error *err)
{
    char accepted[160];
    enum outlay_status status;

    accepted_numbers(column, accepted, sizeof accepted);
    status = cell_refuse(cell, accepted, err);
    outlay_fail_todo(err, "check the value and its unit, which ends the column's name");
    return status;
}

static bool number_fits(const struct column *column, const char *text, double *out)
{
    int count = 0;

    if (column->kind == CELL_COUNT || column->kind == CELL_COUNTS) {
        if (!number_parse_int(text, &count))
            return false;
        *out = count;
    } else if (!number_parse(text, out)) {
        return false;
    }
    return *out >= column->least && *out <= column->most;
}

static int rising(const void *a, const void *b)
{
    const double *x = a;
    const double *y = b;

    return (*x > *y) - (*x < *y);
}

/* Reads up to `room` numbers, in rising order. @return how many; -1: not a list of
 * different numbers in range, or too many */
static int list_parse(const struct column *column, const char *text, double *out)
{
    char part[32];
    int count = 0;

    for (const char *at = text;; at++) {
        size_t length = strcspn(at, "|");

        if (length >= sizeof part || count >= column->room)
            return -1;
        memcpy(part, at, length);
        part[length] = '\0';
        if (!number_fits(column, part, &out[count]))
            return -1;
        count++;
        at += length;
        if (!*at)
            break;
    }
    qsort(out, (size_t)count, sizeof *out, rising);
    for (int i = 1; i < count; i++) {
        if (!(out[i] > out[i - 1]))
            return -1;
    }
    return count;
}

/* Spacings and ribbons go widest first, patterns fewest first: both begin with the
 * sparsest. */
static enum outlay_status list_read(const struct column *column, const struct cell *cell,
                                    char *base, struct outlay_error *err)
{
    double values[SPACINGS_MAX > PATTERNS_MAX ? SPACINGS_MAX : PATTERNS_MAX];
    int count = list_parse(column, cell->text, values);

    if (count < 0)
        return number_refuse(column, cell, err);
    for (int i = 0; i < count; i++) {
        if (column->kind == CELL_COUNTS)
            ((int *)(void *)(base + column->offset))[i] = (int)values[i];
        else
            ((double *)(void *)(base + column->offset))[i] =
                values[count - 1 - i] * column->factor;
    }
    *(size_t *)(void *)(base + column->count_offset) = (size_t)count;
    return OUTLAY_OK;
}

static enum outlay_status name_refuse(const struct cell *cell,
                                      const char *(*name_of)(int), const char *more,
                                      struct outlay_error *err)
{
    char accepted[160] = "";
    size_t used = 0;

    for (int i = 1; name_of(i) && used < sizeof accepted; i++)
        used += (size_t)snprintf(accepted + used, sizeof accepted - used, "%s%s",
                                 i > 1 ? ", " : "", name_of(i));
    if (used < sizeof accepted)
        snprintf(accepted + used, sizeof accepted - used, "%s", more);
    return cell_refuse(cell, accepted, err);
}

static enum outlay_status decks_read(const struct cell *cell, unsigned *out,
                                     struct outlay_error *err)
{
    char part[40];

    *out = 0;
    for (const char *at = cell->text;; at++) {
        size_t length = strcspn(at, "|");
        int deck = 0;

        if (length < sizeof part) {
            memcpy(part, at, length);
            part[length] = '\0';
            deck = name_find(part, deck_name);
        }
        if (deck <= DECK_NOT_GIVEN)
            return name_refuse(cell, deck_name, ", several separated by |", err);
        *out |= 1u << deck;
        at += length;
        if (!*at)
            return OUTLAY_OK;
    }
}

static enum outlay_status number_read(const struct column *column,
                                      const struct cell *cell, char *base,
                                      struct outlay_error *err)
{
    double value = 0;

    if (!number_fits(column, cell->text, &value))
        return number_refuse(column, cell, err);
    if (column->kind == CELL_COUNT)
        *(int *)(void *)(base + column->offset) = (int)value;
    else
        *(double *)(void *)(base + column->offset) = value * column->factor;
    return OUTLAY_OK;
}

/* A value that the method doesn't have is a mistake worth stopping for: most often the
 * cells of the row have moved by a column. */
static enum outlay_status unused_check(const struct cell *cell, enum method method,
                                       struct outlay_error *err)
{
    char accepted[80];

    if (!cell->text[0])
        return OUTLAY_OK;
    snprintf(accepted, sizeof accepted, "nothing, since %s has no such value",
             method_name((int)method));
    return cell_refuse(cell, accepted, err);
}

static enum outlay_status cell_read(const struct column *column, const struct cell *cell,
                                    struct assembly *out, struct outlay_error *err)
{
    char *base = (char *)out;
    int value = 0;

    if (column->kind > CELL_METHOD && !(column->methods & 1u << out->method))
        return unused_check(cell, out->method, err);
    switch (column->kind) {
    case CELL_TEXT:
        if (!cell->text[0])
            return cell_refuse(cell, "a text", err);
        *(const char **)(void *)(base + column->offset) = cell->text;
        return OUTLAY_OK;
    case CELL_NOTE:
        *(const char **)(void *)(base + column->offset) = cell->text;
        return OUTLAY_OK;
    case CELL_METHOD:
        value = name_find(cell->text, method_name);
        if (value <= METHOD_NOT_GIVEN)
            return name_refuse(cell, method_name, "", err);
        out->method = (enum method)value;
        return OUTLAY_OK;
    case CELL_BASIS:
        value = name_find(cell->text, rating_basis_name);
        if (value <= RATING_NOT_GIVEN)
            return name_refuse(cell, rating_basis_name,
                               " (already divided by its safety factor)", err);
        out->rating_basis = (enum rating_basis)value;
        return OUTLAY_OK;
    case CELL_DECKS:
        return decks_read(cell, &out->decks, err);
    case CELL_NUMBER:
    case CELL_COUNT:
        return number_read(column, cell, base, err);
    case CELL_NUMBERS:
    case CELL_COUNTS:
        return list_read(column, cell, base, err);
    }
    return OUTLAY_OK;
}

/* ---- Header and rows ----------------------------------------------------------- */

static int column_find(const char *name)
{
    for (int i = 0; i < COLUMNS; i++) {
        if (ascii_same(name, columns[i].name))
            return i;
    }
    return -1;
}

static enum outlay_status header_refuse(const struct table *table, const char *what,
                                        const char *name, struct outlay_error *err)
{
    enum outlay_status status =
        outlay_fail(err, OUTLAY_E_USAGE, "column \"%s\" %s", name, what);

    outlay_fail_where(err, "%s, row %d", table->name, table->rows[0].number);
    outlay_fail_todo(err, "start from the table that `outlay catalog` writes");
    return status;
}

static bool column_blank(const struct table *table, size_t at)
{
    for (size_t row = 0; row < table->row_count; row++) {
        if (table->rows[row].cells[at][0])
            return false;
    }
    return true;
}

/* Where each column stands in the table. */
static enum outlay_status header_read(const struct table *table, size_t place[COLUMNS],
                                      struct outlay_error *err)
{
    bool seen[COLUMNS] = {false};

    for (size_t i = 0; i < table->columns; i++) {
        const char *name = table->rows[0].cells[i];
        int column = column_find(name);

        if (column < 0 && column_blank(table, i))
            continue;
        if (column < 0)
            return header_refuse(table, "isn't known", name, err);
        if (seen[column])
            return header_refuse(table, "stands twice", name, err);
        seen[column] = true;
        place[column] = i;
    }
    for (int i = 0; i < COLUMNS; i++) {
        if (!seen[i])
            return header_refuse(table, "is missing", columns[i].name, err);
    }
    return OUTLAY_OK;
}

static struct assembly assembly_blank(void)
{
    struct assembly blank = {
        .tested_row_spacing = NAN,
        .tested_fastener_spacing = NAN,
        .tested_per_board = MISSING,
        .tested_ribbon = NAN,
        .board_edge = NAN,
    };

    return blank;
}

static enum outlay_status row_read(const struct table *table, const struct table_row *row,
                                   const size_t place[COLUMNS], struct assembly *out,
                                   struct outlay_error *err)
{
    struct cell cell = {table->name, row->number, NULL, NULL};
    enum outlay_status status = OUTLAY_OK;

    *out = assembly_blank();
    for (int i = 0; i < COLUMNS && status == OUTLAY_OK; i++) {
        cell.column = columns[i].name;
        cell.text = row->cells[place[i]];
        status = cell_read(&columns[i], &cell, out, err);
    }
    if (status != OUTLAY_OK)
        return status;
    return assembly_check(table->name, row->number, out, err);
}

static enum outlay_status name_check(const struct catalog *catalog,
                                     const struct table *table, int row,
                                     struct outlay_error *err)
{
    const struct assembly *last = &catalog->assemblies[catalog->assembly_count - 1];
    const struct cell cell = {table->name, row, "name", last->name};

    for (const struct assembly *one = catalog->assemblies; one < last; one++) {
        if (ascii_same(one->name, last->name))
            return cell_refuse(&cell, "a name that no other row has", err);
    }
    return OUTLAY_OK;
}

enum outlay_status assemblies_read(const struct table *table, struct catalog *out,
                                   struct outlay_error *err)
{
    size_t place[COLUMNS] = {0};
    enum outlay_status status = header_read(table, place, err);

    if (status != OUTLAY_OK)
        return status;
    if (table->row_count < 2) {
        status = outlay_fail(err, OUTLAY_E_USAGE, "the table has no rows");
        outlay_fail_where(err, "%s", table->name);
        return status;
    }
    out->assembly_count = 0;
    out->assemblies =
        arena_array(out->arena, table->row_count - 1, sizeof *out->assemblies);
    if (!out->assemblies)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading the catalogue");
    for (size_t i = 1; i < table->row_count && status == OUTLAY_OK; i++) {
        status = row_read(table, &table->rows[i], place, &out->assemblies[i - 1], err);
        out->assembly_count = i;
        if (status == OUTLAY_OK)
            status = name_check(out, table, table->rows[i].number, err);
    }
    return status;
}
