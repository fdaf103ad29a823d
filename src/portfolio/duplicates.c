#include "portfolio/duplicates.h"

#include <stdlib.h>
#include <string.h>

#include "catalog/table.h"

static int by_id(const void *left, const void *right)
{
    const struct duplicate_roof *a = left;
    const struct duplicate_roof *b = right;

    return strcmp(a->id, b->id);
}

static int by_position(const void *left, const void *right)
{
    const struct duplicate_roof *a = left;
    const struct duplicate_roof *b = right;

    return (a->position > b->position) - (a->position < b->position);
}

static enum outlay_status refuse(const struct table *table, int row, const char *what,
                                 const char *text, struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_USAGE, "%s \"%.60s\"", what, text);
    outlay_fail_where(err, "%.120s, row %d", table->name, row);
    outlay_fail_todo(err,
                     "give --duplicates the table of `outlay inspect LAYER -o FILE`");
    return OUTLAY_E_USAGE;
}

/* Other columns are of no interest: the last one is named as the caution. */
static enum outlay_status find_column(const struct table *table, const char *name,
                                      size_t *place, struct outlay_error *err)
{
    for (*place = 0; *place < table->columns; ++*place)
        if (strcmp(table->rows[0].cells[*place], name) == 0)
            return OUTLAY_OK;
    return refuse(table, table->rows[0].number, "there is no column", name, err);
}

/* Until the list is checked, positions are rows of the table. */
static enum outlay_status check(const struct table *table,
                                const struct duplicate_list *list,
                                struct outlay_error *err)
{
    for (size_t i = 0; i < list->count; i++) {
        const struct duplicate_roof *roof = &list->roofs[i];

        if (!*roof->id || !*roof->reason)
            return refuse(table, (int)roof->position, "id or reason is missing beside",
                          *roof->id ? roof->id : roof->reason, err);
        if (i && by_id(roof - 1, roof) == 0)
            return refuse(table, (int)roof->position,
                          "the roof stands there twice:", roof->id, err);
    }
    return OUTLAY_OK;
}

enum outlay_status duplicates_read(struct arena *arena, const char *path,
                                   struct duplicate_list *out, struct outlay_error *err)
{
    struct table table;
    size_t id = 0, reason = 0;
    enum outlay_status status = OUTLAY_OK;

    *out = (struct duplicate_list){.by_id = true};
    if (!path)
        return OUTLAY_OK;
    status = table_read(arena, path, &table, err);
    if (status == OUTLAY_OK)
        status = find_column(&table, "roof_id", &id, err);
    if (status == OUTLAY_OK)
        status = find_column(&table, "reason", &reason, err);
    if (status != OUTLAY_OK)
        return status;
    out->roofs = arena_array(arena, table.row_count, sizeof *out->roofs);
    if (!out->roofs)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t i = 1; i < table.row_count; i++)
        out->roofs[out->count++] =
            (struct duplicate_roof){.position = (size_t)table.rows[i].number,
                                    .id = table.rows[i].cells[id],
                                    .reason = table.rows[i].cells[reason]};
    if (out->count)
        qsort(out->roofs, out->count, sizeof *out->roofs, by_id);
    return check(&table, out, err);
}

const char *duplicates_find(const struct duplicate_list *list, const char *id,
                            size_t position)
{
    const struct duplicate_roof key = {.position = position, .id = id};
    const struct duplicate_roof *found = NULL;

    if (list->count)
        found = bsearch(&key, list->roofs, list->count, sizeof *list->roofs,
                        list->by_id ? by_id : by_position);
    return found ? found->reason : NULL;
}
