#include "survey/rules.h"

#include <math.h>

#include "base/number.h"
#include "base/units.h"
#include "catalog/assemblies_private.h"
#include "roof/roof.h"

const char survey_rules_csv[] = {
#include "catalog/survey-rules_csv.inc"
    0,
};

struct task_row {
    const char *name;
    char letter;
};

static const struct task_row tasks[SURVEY_TASKS] = {
#define X(code, name, letter) {name, letter},
    SURVEY_TASK_MAP(X)
#undef X
};

const char *survey_task_name(int task)
{
    return task >= 0 && task < SURVEY_TASKS ? tasks[task].name : NULL;
}

char survey_task_letter(enum survey_task task)
{
    return tasks[task].letter;
}

static const char *by_name(int by)
{
    static const char *const names[] = {"roof", "area", "deck area", "edge", "day"};

    return by >= 0 && by <= BY_DAY ? names[by] : NULL;
}

const struct survey_rule *survey_rule_of(const struct survey_rules *rules,
                                         enum survey_task task)
{
    for (size_t i = 0; i < rules->count; i++)
        if (rules->rows[i].task == task)
            return &rules->rows[i];
    return NULL;
}

int survey_rule_count(const struct survey_rule *rule, double size)
{
    double over = size - rule->first;

    if (!(rule->step > 0) || !(over > 0))
        return rule->least;
    return rule->least + rule->further * (int)ceil(over / rule->step - 1e-9);
}

/* ---- The table ------------------------------------------------------------------- */

enum rule_column {
    COLUMN_TASK,
    COLUMN_BY,
    COLUMN_LEAST,
    COLUMN_FIRST,
    COLUMN_FURTHER,
    COLUMN_STEP,
    COLUMN_UNIT,
    COLUMN_NOTE,
    COLUMN_SOURCE,
    COLUMNS
};

static const char *const names[COLUMNS] = {"task", "by",   "least", "first", "further",
                                           "step", "unit", "note",  "source"};

/* Most tests that a rule may ask for at a time, and the largest step (ours). */
static const double most_tests = 1000, most_size = 1e7;

static enum outlay_status read_count(const struct cell *cell, double *out,
                                     struct outlay_error *err)
{
    enum outlay_status status = cell_number(cell, 0, most_tests, out, err);

    if (status == OUTLAY_OK && floor(*out) < *out)
        return cell_refuse(cell, "a whole number", err);
    return status;
}

/* What a rule counts by has a size in a unit; other rules leave the cells empty. */
static enum outlay_status read_steps(const struct cell cells[COLUMNS],
                                     struct survey_rule *out, struct outlay_error *err)
{
    bool length = out->by == BY_EDGE;
    double factor = 1, further = 0;
    enum outlay_status status = OUTLAY_OK;

    if (out->by == BY_ROOF || out->by == BY_DAY) {
        for (int i = COLUMN_FIRST; i <= COLUMN_UNIT; i++)
            if (cells[i].text[0])
                return cell_refuse(&cells[i], "nothing, where a roof or a day counts",
                                   err);
        return OUTLAY_OK;
    }
    if (!unit_find(cells[COLUMN_UNIT].text, length ? QUANTITY_LENGTH : QUANTITY_AREA,
                   &factor))
        return cell_refuse(&cells[COLUMN_UNIT], length ? "ft, m" : "ft2, m2", err);
    status = cell_number(&cells[COLUMN_FIRST], 0, most_size, &out->first, err);
    if (status == OUTLAY_OK)
        status = read_count(&cells[COLUMN_FURTHER], &further, err);
    if (status == OUTLAY_OK)
        status = cell_number(&cells[COLUMN_STEP], 10, most_size, &out->step, err);
    out->first *= factor;
    out->step *= factor;
    out->further = (int)further;
    return status;
}

static enum outlay_status read_row(const struct cell cells[COLUMNS],
                                   const struct survey_rules *before,
                                   struct survey_rule *out, struct outlay_error *err)
{
    int task = name_find(cells[COLUMN_TASK].text, survey_task_name);
    int by = name_find(cells[COLUMN_BY].text, by_name);
    double least = 0;
    enum outlay_status status;

    if (task < 0 || !cells[COLUMN_TASK].text[0])
        return cell_refuse(&cells[COLUMN_TASK], "a task of the built-in table", err);
    if (survey_rule_of(before, (enum survey_task)task))
        return cell_refuse(&cells[COLUMN_TASK], "each task once", err);
    if (by < 0 || !cells[COLUMN_BY].text[0])
        return cell_refuse(&cells[COLUMN_BY], "roof, area, deck area, edge, day", err);
    if (!cells[COLUMN_SOURCE].text[0])
        return cell_refuse(&cells[COLUMN_SOURCE], "where the rule is from", err);
    *out = (struct survey_rule){.task = (enum survey_task)task,
                                .by = (enum rule_by)by,
                                .note = cells[COLUMN_NOTE].text,
                                .source = cells[COLUMN_SOURCE].text};
    status = read_count(&cells[COLUMN_LEAST], &least, err);
    out->least = (int)least;
    return status == OUTLAY_OK ? read_steps(cells, out, err) : status;
}

enum outlay_status survey_rules_read(struct arena *arena, const struct table *table,
                                     struct survey_rules *out, struct outlay_error *err)
{
    size_t place[COLUMNS] = {0};
    enum outlay_status status = table_header(table, names, COLUMNS, COLUMNS, place, err);

    *out = (struct survey_rules){NULL, 0};
    if (status != OUTLAY_OK)
        return status;
    out->rows = arena_array(arena, table->row_count, sizeof *out->rows);
    if (!out->rows)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading the rules of the survey");
    for (size_t row = 1; row < table->row_count && status == OUTLAY_OK; row++) {
        struct cell cells[COLUMNS];

        cells_of(table, row, names, place, COLUMNS, cells);
        status = read_row(cells, out, &out->rows[out->count], err);
        out->count += status == OUTLAY_OK;
    }
    return status;
}

enum outlay_status survey_rules_load(struct arena *arena, const char *path,
                                     struct survey_rules *out, struct outlay_error *err)
{
    struct table table;
    enum outlay_status status;

    *out = (struct survey_rules){NULL, 0};
    if (path)
        status = table_read(arena, path, &table, err);
    else
        status = table_parse(arena, "survey-rules.csv", survey_rules_csv, &table, err);
    return status == OUTLAY_OK ? survey_rules_read(arena, &table, out, err) : status;
}
