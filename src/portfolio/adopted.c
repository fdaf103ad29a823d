/* An earlier plan.csv, read into the roofs of a new plan. */

#include <stdlib.h>
#include <string.h>

#include "base/number.h"
#include "catalog/table.h"
#include "portfolio/plan_private.h"

enum { COLUMN_ROOF, COLUMN_BUILDING, COLUMN_YEAR, COLUMN_ACTION, COLUMNS };

static const char *const names[COLUMNS] = {"roof_id", "building", "year", "action"};

/* ---- Errors ---- */

static enum outlay_status refuse(const struct table *table, int row, const char *column,
                                 const char *what, const char *cell,
                                 struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_USAGE, "%s \"%.60s\"", what, cell);
    outlay_fail_where(err, "%.120s, row %d, column %s", table->name, row, column);
    outlay_fail_todo(err, "give --adopted a plan.csv that outlay wrote");
    return OUTLAY_E_USAGE;
}

/* Other columns are of no interest, and there may be any. */
static enum outlay_status find_columns(const struct table *table, size_t place[COLUMNS],
                                       struct outlay_error *err)
{
    for (int i = 0; i < COLUMNS; i++) {
        place[i] = table->columns;
        for (size_t k = 0; k < table->columns; k++)
            if (strcmp(table->rows[0].cells[k], names[i]) == 0)
                place[i] = k;
        if (place[i] == table->columns)
            return refuse(table, table->rows[0].number, names[i],
                          "the adopted plan has no column", names[i], err);
    }
    return OUTLAY_OK;
}

/* ---- Rows ---- */

static int compare_ids(const struct plan_roof *of, const char *id, const char *building)
{
    int order = strcmp(portfolio_id(of->roof), id);

    return order ? order : strcmp(portfolio_building(of->roof), building);
}

static int by_id(const void *of_a, const void *of_b)
{
    const struct plan_roof *a = *(struct plan_roof *const *)of_a;
    const struct plan_roof *b = *(struct plan_roof *const *)of_b;

    return compare_ids(a, portfolio_id(b->roof), portfolio_building(b->roof));
}

/* Roofs in the order of their ids. */
struct roof_index {
    struct plan_roof **roofs;
    size_t count;
};

static struct plan_roof *find(const struct roof_index *index, const char *id,
                              const char *building)
{
    size_t low = 0, high = index->count;

    while (low < high) {
        size_t middle = low + (high - low) / 2;
        int order = compare_ids(index->roofs[middle], id, building);

        if (order == 0)
            return index->roofs[middle];
        if (order < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return NULL;
}

static const struct action *find_action(const struct action_list *list, const char *name)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->actions[i].name, name) == 0)
            return &list->actions[i];
    return NULL;
}

static enum outlay_status read_row(struct plan *plan, const struct roof_index *index,
                                   const struct table *table, size_t row,
                                   const size_t place[COLUMNS], struct outlay_error *err)
{
    int number = table->rows[row].number;
    char *const *cells = table->rows[row].cells;
    const char *year = cells[place[COLUMN_YEAR]], *action = cells[place[COLUMN_ACTION]];
    struct plan_roof *of =
        find(index, cells[place[COLUMN_ROOF]], cells[place[COLUMN_BUILDING]]);
    double value = MISSING;

    if (*year && (!number_parse(year, &value) || value < 1900 || value > 2500 ||
                  value != (int)value))
        return refuse(table, number, "year", "not a year:", year, err);
    if (!*year != !*action)
        return refuse(table, number, "action", "year and action go together:", action,
                      err);
    if (of && of->was_adopted)
        return refuse(table, number, "roof_id",
                      "the roof stands there twice:", portfolio_id(of->roof), err);
    if (!of) {
        plan->gone++;
        return OUTLAY_OK;
    }
    of->was_adopted = true;
    if (*year && value >= plan->settings.start) {
        of->adopted = (int)value;
        of->adopted_action = find_action(&plan->settings.actions, action);
    }
    return OUTLAY_OK;
}

enum outlay_status plan_adopt(struct plan *plan, struct outlay_error *err)
{
    struct table table;
    size_t place[COLUMNS];
    struct roof_index index = {
        arena_array(plan->arena, plan->count + 1, sizeof(struct plan_roof *)),
        plan->count};
    enum outlay_status status = OUTLAY_OK;

    if (!index.roofs)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t i = 0; i < plan->count; i++)
        index.roofs[i] = &plan->roofs[i];
    qsort(index.roofs, index.count, sizeof *index.roofs, by_id);
    status = table_read(plan->arena, plan->settings.adopted, &table, err);
    if (status == OUTLAY_OK)
        status = find_columns(&table, place, err);
    for (size_t i = 1; status == OUTLAY_OK && i < table.row_count; i++)
        status = read_row(plan, &index, &table, i, place, err);
    return status;
}
