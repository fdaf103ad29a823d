#include <math.h>

#include "write/columns.h"

#define PUT(out, literal) text_append(out, literal, sizeof literal - 1)

static void put_names(struct text *out, const struct column *column,
                      const struct row *row)
{
    if (column->bits(row) == 0) {
        PUT(out, "[]");
        return;
    }
    PUT(out, "[\"");
    column_names(out, column, row, "\",\"");
    PUT(out, "\"]");
}

static void put_word(struct text *out, const char *word)
{
    if (!word) {
        PUT(out, "null");
        return;
    }
    text_putc(out, '"');
    text_puts(out, word);
    text_putc(out, '"');
}

void column_json(struct text *out, const struct column *column, const struct row *row)
{
    double number = NAN;

    switch (column->kind) {
    case COLUMN_TEXT:
        text_json(out, column_text(column, row));
        break;
    case COLUMN_WORD:
        put_word(out, column_text(column, row));
        break;
    case COLUMN_NAMES:
        put_names(out, column, row);
        break;
    case COLUMN_NUMBER:
        number = column_number(column, row);
        if (isfinite(number))
            text_fixed(out, number, column->decimals[columns_units(row->set)]);
        else
            PUT(out, "null");
        break;
    }
}
