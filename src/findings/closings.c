#include "findings/closings.h"

#include <string.h>

#include "base/text.h"
#include "findings/day.h"
#include "findings/form.h"

enum closing_cell {
    CELL_WHAT,
    CELL_TEXT, /* decision or source */
    CELL_WHO,
    CELL_WHEN,
    NEEDED_CELLS,
    CELL_ROOF = NEEDED_CELLS,
    CELL_BUILDING,
    CELL_NAME,
    CELL_VALUE,
    CELL_UNIT,
    CELLS
};

static const char *const names[][CELLS] = {
    [CLOSING_DECISION] = {"assumption", "decision", "who", "when", "roof_id", "building",
                          "name", "value", "unit"},
    [CLOSING_CONFIRMATION] = {"assumption", "source", "who", "when", "roof_id",
                              "building", "name", "value", "unit"},
};

struct loader {
    struct arena *arena;
    enum closing_kind kind;
    struct form form;
    size_t columns[CELLS];
    size_t row;
    struct outlay_error *err;
};

static const char *cell(const struct loader *loader, enum closing_cell which)
{
    return form_cell(&loader->form, loader->row, loader->columns[which]);
}

static enum outlay_status refuse(const struct loader *loader, enum closing_cell which,
                                 const char *what, const char *todo)
{
    outlay_fail(loader->err, OUTLAY_E_USAGE, "%s: \"%.60s\"", what, cell(loader, which));
    outlay_fail_where(loader->err, "%s, row %d, column %s", loader->form.table.name,
                      loader->form.table.rows[loader->row].number,
                      names[loader->kind][which]);
    outlay_fail_todo(loader->err, "%s", todo);
    return OUTLAY_E_USAGE;
}

/* What doesn't belong into this file, and what does close it. */
static enum outlay_status check_sort(const struct loader *loader, enum assumption what)
{
    enum assumption_sort sort = assumption_sort(what);

    if (what == ASSUME_LAYOUT)
        return refuse(loader, CELL_WHAT, "nobody can vouch for this one",
                      "lay the roofs out: `outlay run` and `outlay takeoff` do");
    if (sort == SORT_SITE)
        return refuse(loader, CELL_WHAT, "this one is for a site visit",
                      "`outlay survey` asks for it, --findings reads it back");
    if (sort == SORT_READING && loader->kind == CLOSING_CONFIRMATION)
        return refuse(loader, CELL_WHAT, "this one takes a decision, not a source",
                      "put it into the file of --decisions");
    if (sort == SORT_SOURCE && loader->kind == CLOSING_DECISION)
        return refuse(loader, CELL_WHAT, "this one takes a source, not a decision",
                      "put it into the file of --confirmed");
    return OUTLAY_OK;
}

static enum outlay_status read_what(const struct loader *loader, struct closing_row *row)
{
    int what = name_find(cell(loader, CELL_WHAT), assumption_name);

    if (what < 0 || !*cell(loader, CELL_WHAT))
        return refuse(loader, CELL_WHAT, "no assumption has this name",
                      "names are those in the columns assumed and open of summary.csv");
    row->what = (enum assumption)what;
    return check_sort(loader, row->what);
}

static enum outlay_status read_witness(const struct loader *loader,
                                       struct closing_row *row)
{
    char day[DAY_LENGTH];

    if (!*cell(loader, CELL_TEXT))
        return refuse(loader, CELL_TEXT, "empty",
                      loader->kind == CLOSING_DECISION ? "say what was decided"
                                                       : "name document and date");
    if (!*cell(loader, CELL_WHO))
        return refuse(loader, CELL_WHO, "empty", "name who answers for it");
    if (!day_parse(cell(loader, CELL_WHEN), day))
        return refuse(loader, CELL_WHEN, "not a day from 2000 to 2100",
                      "write it as 2026-11-20");
    row->when = arena_text(loader->arena, day, strlen(day));
    return row->when ? OUTLAY_OK
                     : outlay_fail(loader->err, OUTLAY_E_MEMORY, "reading a table");
}

bool closing_words(struct arena *arena, struct closing_row *row)
{
    struct text by = TEXT_INIT;

    row->by = NULL;
    text_line(&by, row->text, 200);
    text_puts(&by, ": ");
    text_line(&by, row->who, 80);
    text_printf(&by, ", %s (%s)", row->when, row->where);
    if (!by.failed)
        row->by = arena_text(arena, by.data, by.length);
    text_release(&by);
    return row->by != NULL;
}

static enum outlay_status read_row(struct loader *loader, struct closing_row *row)
{
    enum outlay_status status;

    *row = (struct closing_row){
        .roof = cell(loader, CELL_ROOF),
        .building = cell(loader, CELL_BUILDING),
        .text = cell(loader, CELL_TEXT),
        .name = cell(loader, CELL_NAME),
        .value = cell(loader, CELL_VALUE),
        .unit = cell(loader, CELL_UNIT),
        .who = cell(loader, CELL_WHO),
        .where = form_where(loader->arena, &loader->form, loader->row)};
    if (!row->where)
        return outlay_fail(loader->err, OUTLAY_E_MEMORY, "reading a table");
    status = read_what(loader, row);
    if (status == OUTLAY_OK)
        status = read_witness(loader, row);
    if (status == OUTLAY_OK && !closing_words(loader->arena, row))
        return outlay_fail(loader->err, OUTLAY_E_MEMORY, "reading a table");
    return status;
}

static enum outlay_status find_columns(struct loader *loader)
{
    for (int i = 0; i < CELLS; i++) {
        const char *name = names[loader->kind][i];

        loader->columns[i] =
            form_column(&loader->form, name, i == CELL_ROOF ? "roof" : NULL);
        if (i >= NEEDED_CELLS || loader->columns[i] < loader->form.table.columns)
            continue;
        outlay_fail(loader->err, OUTLAY_E_USAGE, "it has no column \"%s\"", name);
        outlay_fail_where(loader->err, "%s", loader->form.table.name);
        outlay_fail_todo(loader->err, "`outlay help findings` lists its columns");
        return OUTLAY_E_USAGE;
    }
    return OUTLAY_OK;
}

static enum outlay_status read_rows(struct loader *loader, struct closing_list *list)
{
    size_t rows = loader->form.table.row_count;
    struct closing_row *all = arena_array(loader->arena, list->count + rows, sizeof *all);
    enum outlay_status status = OUTLAY_OK;

    if (!all)
        return outlay_fail(loader->err, OUTLAY_E_MEMORY, "reading a table");
    if (list->count > 0)
        memcpy(all, list->rows, list->count * sizeof *all);
    list->rows = all;
    for (size_t i = loader->form.header + 1; i < rows && status == OUTLAY_OK; i++) {
        loader->row = i;
        status = read_row(loader, &all[list->count++]);
    }
    return status;
}

enum outlay_status closings_read(struct arena *arena, enum closing_kind kind,
                                 const char *path, struct closing_list *list,
                                 struct outlay_error *err)
{
    struct loader loader = {.arena = arena, .kind = kind, .err = err};
    enum outlay_status status = form_read(arena, path, "assumption", &loader.form, err);

    if (status == OUTLAY_OK)
        status = find_columns(&loader);
    return status == OUTLAY_OK ? read_rows(&loader, list) : status;
}

bool closing_concerns(const struct closing_row *row, const struct roof *roof)
{
    if (*row->roof && strcmp(row->roof, roof->id) != 0)
        return false;
    return !*row->building ||
           (roof->building && strcmp(row->building, roof->building) == 0);
}

enum outlay_status closings_apply(struct arena *arena, struct roof *roof,
                                  const struct closing_list *list)
{
    if (list->count == 0)
        return OUTLAY_OK;
    roof->closings = arena_array(arena, list->count, sizeof *roof->closings);
    if (!roof->closings)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < list->count; i++) {
        const struct closing_row *row = &list->rows[i];
        const char *name = row->what == ASSUME_RATINGS ? row->name : NULL;

        if (row->idle || !closing_concerns(row, roof))
            continue;
        roof->closings[roof->closing_count++] =
            (struct closing){row->what, name, row->by};
        if (!name)
            roof->closed |= ASSUMPTION_BIT(row->what);
    }
    return OUTLAY_OK;
}
