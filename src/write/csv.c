#include "write/csv.h"

#include "write/columns.h"
#include "write/write.h"

void csv_end_header(struct text *out, bool ratings_invented)
{
    struct text caution = TEXT_INIT;

    caution_print(&caution, ratings_invented);
    text_putc(out, ',');
    if (caution.failed)
        out->failed = true;
    else
        text_csv(out, caution.data);
    text_putc(out, '\n');
    text_release(&caution);
}

/* The last column's cell, empty, and the end of the row. */
static void end_row(struct text *out)
{
    text_append(out, ",\n", 2);
}

void summary_header(struct text *out, const struct write_settings *set)
{
    for (size_t i = 0; i < roof_column_count; i++) {
        if (i > 0)
            text_putc(out, ',');
        column_name(out, &roof_columns[i], columns_units(set));
    }
    csv_end_header(out, set->catalog_built_in);
}

static void put_value(struct text *out, const struct column *column,
                      const struct row *row, int units)
{
    const char *word = NULL;

    switch (column->kind) {
    case COLUMN_TEXT:
        text_csv(out, column_text(column, row));
        break;
    case COLUMN_WORD:
        word = column_text(column, row);
        if (word)
            text_puts(out, word);
        break;
    case COLUMN_NAMES:
        column_names(out, column, row, "; ");
        break;
    case COLUMN_NUMBER: /* text_fixed() appends nothing for NAN */
        text_fixed(out, column_number(column, row), column->decimals[units]);
        break;
    }
}

void summary_rows(struct text *out, const struct building *building,
                  const struct write_settings *set)
{
    int units = columns_units(set);

    for (size_t i = 0; i < building->roof_count; i++) {
        struct row row = row_start(set, &building->roofs[i]);

        for (size_t c = 0; c < roof_column_count; c++) {
            if (c > 0)
                text_putc(out, ',');
            put_value(out, &roof_columns[c], &row, units);
        }
        end_row(out);
    }
}

void problems_header(struct text *out)
{
    text_puts(out, "roof_id,severity,code,message,done");
    csv_end_header(out, false);
}

void problems_rows(struct text *out, const struct building *building)
{
    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];

        for (const struct problem *p = roof->problems; p; p = p->next) {
            text_csv(out, roof->id);
            text_putc(out, ',');
            text_puts(out, severity_name(problem_severity(p->code)));
            text_putc(out, ',');
            text_puts(out, problem_code_name(p->code));
            text_putc(out, ',');
            text_csv(out, p->what);
            text_putc(out, ',');
            text_csv(out, p->done);
            end_row(out);
        }
    }
}
