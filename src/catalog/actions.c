#include "catalog/actions.h"

#include <math.h>
#include <string.h>

#include "base/ascii.h"
#include "base/units.h"
#include "catalog/assemblies_private.h"

const char catalog_actions_csv[] = {
#include "catalog/actions_csv.inc"
    0,
};

enum action_column {
    COLUMN_NAME,
    COLUMN_ACTION,
    COLUMN_COST,
    COLUMN_COST_PER_AREA,
    COLUMN_UNIT,
    COLUMN_CURRENCY,
    COLUMN_LEAST_CONDITION,
    COLUMN_MOST_CONDITION,
    COLUMN_MOST_COVERS,
    COLUMN_MOST_WET,
    COLUMN_STATES,
    COLUMN_GIVES_CONDITION,
    COLUMN_GIVES_YEARS,
    COLUMN_LIFE,
    COLUMN_NOTE,
    COLUMNS
};

static const char *const names[COLUMNS] = {
    "name",     "action",          "cost",           "cost_per_area", "unit",
    "currency", "least_condition", "most_condition", "most_covers",   "most_wet_percent",
    "states",   "gives_condition", "gives_years",    "life_years",    "note"};

const char *action_kind_name(int kind)
{
    static const char *const all[] = {
#define X(code, name) name,
        ACTION_KIND_MAP(X)
#undef X
    };

    return kind >= 0 && kind < ACTION_KINDS ? all[kind] : NULL;
}

/* ---- One cell ---- */

/* A number, or NAN for an empty cell. */
static enum outlay_status maybe_number(const struct cell *cell, double least, double most,
                                       double *out, struct outlay_error *err)
{
    *out = NAN;
    return cell->text[0] ? cell_number(cell, least, most, out, err) : OUTLAY_OK;
}

static enum outlay_status kind_read(const struct cell *cell, enum action_kind *out,
                                    struct outlay_error *err)
{
    for (int kind = 0; kind < ACTION_KINDS; kind++)
        if (ascii_same(cell->text, action_kind_name(kind))) {
            *out = (enum action_kind)kind;
            return OUTLAY_OK;
        }
    return cell_refuse(cell, "replace, recover, restore or repair", err);
}

static enum outlay_status states_read(const struct cell *cell, unsigned *out,
                                      struct outlay_error *err)
{
    char part[20];

    for (const char *at = cell->text;; at++) {
        size_t length = strcspn(at, "|");
        int state = -1;

        if (length < sizeof part) {
            memcpy(part, at, length);
            part[length] = '\0';
            state = name_find(part, zone_state_name);
        }
        if (state < 0 || state == STATE_NOT_MET)
            return cell_refuse(cell,
                               "met, met assumed, unknown, several separated by |; what "
                               "isn't met is never bought",
                               err);
        *out |= 1u << state;
        at += length;
        if (!*at)
            return OUTLAY_OK;
    }
}

/* ---- What the cells of a row agree on ---- */

static enum outlay_status unit_read(const struct cell *cell, struct action *out,
                                    struct outlay_error *err)
{
    if (ascii_same(cell->text, "ft2"))
        out->cost_per_area /= M2_PER_FT2;
    else if (!ascii_same(cell->text, "m2"))
        return cell_refuse(cell, "ft2 or m2", err);
    return OUTLAY_OK;
}

static enum outlay_status built_up_check(const struct cell *cells,
                                         const struct action *action,
                                         struct outlay_error *err)
{
    if (action->kind != ACTION_REPLACE && action->kind != ACTION_RECOVER)
        return cell_refuse(&cells[COLUMN_COST],
                           "an amount; only replace and recover are built up", err);
    for (int column = COLUMN_COST_PER_AREA; column <= COLUMN_CURRENCY; column++)
        if (cells[column].text[0])
            return cell_refuse(&cells[column], "nothing where the cost is built up", err);
    return OUTLAY_OK;
}

static enum outlay_status cost_read(const struct cell *cells, const char *currency,
                                    struct action *out, struct outlay_error *err)
{
    const struct cell *cost = &cells[COLUMN_COST];
    const struct cell *rate = &cells[COLUMN_COST_PER_AREA];
    enum outlay_status status;

    out->built_up = ascii_same(cost->text, "built-up");
    if (out->built_up)
        return built_up_check(cells, out, err);
    if (!cost->text[0] && !rate->text[0])
        return cell_refuse(cost, "an amount or built-up, where cost_per_area is empty",
                           err);
    status = cost->text[0] ? cell_number(cost, 0.01, 1e9, &out->cost, err) : OUTLAY_OK;
    if (status == OUTLAY_OK && rate->text[0])
        status = cell_number(rate, 0.0001, 1e6, &out->cost_per_area, err);
    out->cost *= 100;
    out->cost_per_area *= 100;
    if (status == OUTLAY_OK && rate->text[0])
        status = unit_read(&cells[COLUMN_UNIT], out, err);
    if (status == OUTLAY_OK && !ascii_same(cells[COLUMN_CURRENCY].text, currency))
        status = cell_refuse(&cells[COLUMN_CURRENCY], currency, err);
    return status;
}

static enum outlay_status limits_read(const struct cell *cells, struct action *out,
                                      struct outlay_error *err)
{
    double covers = NAN;
    enum outlay_status status =
        cell_number(&cells[COLUMN_LEAST_CONDITION], 0, 100, &out->least_condition, err);

    if (status == OUTLAY_OK) /* else no roof could be in such a condition */
        status = cell_number(&cells[COLUMN_MOST_CONDITION], out->least_condition, 100,
                             &out->most_condition, err);
    if (status == OUTLAY_OK)
        status = maybe_number(&cells[COLUMN_MOST_COVERS], 0, 20, &covers, err);
    if (status == OUTLAY_OK && covers > floor(covers))
        status = cell_refuse(&cells[COLUMN_MOST_COVERS], "a whole number", err);
    if (status == OUTLAY_OK)
        status = maybe_number(&cells[COLUMN_MOST_WET], 0, 100, &out->most_wet, err);
    out->most_covers = isnan(covers) ? MISSING : (int)covers;
    out->most_wet /= 100;
    return status;
}

static enum outlay_status gives_read(const struct cell *cells, struct action *out,
                                     struct outlay_error *err)
{
    const struct cell *condition = &cells[COLUMN_GIVES_CONDITION];
    const struct cell *years = &cells[COLUMN_GIVES_YEARS];
    enum outlay_status status;

    if (!condition->text[0] == !years->text[0])
        return cell_refuse(years,
                           condition->text[0] ? "nothing beside a gives_condition"
                                              : "years, where gives_condition is empty",
                           err);
    status = maybe_number(condition, 1, 100, &out->gives_condition, err);
    if (status == OUTLAY_OK)
        status = maybe_number(years, 0.5, 100, &out->gives_years, err);
    if (status == OUTLAY_OK)
        status = maybe_number(&cells[COLUMN_LIFE], 1, 200, &out->life, err);
    return status;
}

/* ---- The table ---- */

static enum outlay_status name_read(const struct cell *cell,
                                    const struct action_list *list, struct action *out,
                                    struct outlay_error *err)
{
    out->name = cell->text;
    if (!cell->text[0])
        return cell_refuse(cell, "a name", err);
    for (size_t i = 0; i < list->count; i++)
        if (name_same(list->actions[i].name, cell->text))
            return cell_refuse(cell, "each name once", err);
    return OUTLAY_OK;
}

static enum outlay_status row_read(const struct cell *cells, const char *currency,
                                   struct action_list *out, struct outlay_error *err)
{
    struct action *action = &out->actions[out->count];
    enum outlay_status status;

    *action = (struct action){.note = cells[COLUMN_NOTE].text};
    status = name_read(&cells[COLUMN_NAME], out, action, err);
    if (status == OUTLAY_OK)
        status = kind_read(&cells[COLUMN_ACTION], &action->kind, err);
    if (status == OUTLAY_OK)
        status = cost_read(cells, currency, action, err);
    if (status == OUTLAY_OK)
        status = limits_read(cells, action, err);
    if (status == OUTLAY_OK)
        status = states_read(&cells[COLUMN_STATES], &action->states, err);
    if (status == OUTLAY_OK)
        status = gives_read(cells, action, err);
    out->count += status == OUTLAY_OK;
    return status;
}

enum outlay_status actions_read(struct arena *arena, const struct table *table,
                                const char *currency, struct action_list *out,
                                struct outlay_error *err)
{
    size_t place[COLUMNS] = {0};
    enum outlay_status status = table_header(table, names, COLUMNS, COLUMNS, place, err);

    *out = (struct action_list){NULL, 0, false};
    if (status != OUTLAY_OK)
        return status;
    out->actions = arena_array(arena, table->row_count, sizeof *out->actions);
    if (!out->actions)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading the actions");
    for (size_t i = 1; status == OUTLAY_OK && i < table->row_count; i++) {
        struct cell cells[COLUMNS];

        cells_of(table, i, names, place, COLUMNS, cells);
        status = row_read(cells, currency, out, err);
    }
    if (status != OUTLAY_OK || out->count > 0)
        return status;
    outlay_fail(err, OUTLAY_E_USAGE, "the table has no action");
    outlay_fail_where(err, "%s", table->name);
    return OUTLAY_E_USAGE;
}

static void drop_own_costs(struct action_list *list)
{
    size_t kept = 0;

    for (size_t i = 0; i < list->count; i++)
        if (list->actions[i].built_up)
            list->actions[kept++] = list->actions[i];
    list->count = kept;
}

static enum outlay_status builtin_load(struct arena *arena, const char *currency,
                                       struct action_list *out, struct outlay_error *err)
{
    struct table table;
    enum outlay_status status =
        table_parse(arena, "actions.csv", catalog_actions_csv, &table, err);

    if (status == OUTLAY_OK)
        status = actions_read(arena, &table, "usd", out, err);
    if (strcmp(currency, "usd") != 0)
        drop_own_costs(out);
    out->built_in = true;
    return status;
}

enum outlay_status actions_load(struct arena *arena, const char *path,
                                const char *currency, struct action_list *out,
                                struct outlay_error *err)
{
    struct table table;
    enum outlay_status status;

    *out = (struct action_list){NULL, 0, false};
    if (!path)
        return builtin_load(arena, currency, out, err);
    status = table_read(arena, path, &table, err);
    if (status == OUTLAY_OK)
        status = actions_read(arena, &table, currency, out, err);
    return status;
}

bool action_allowed(const struct action *action, const struct action_case *of)
{
    return of->condition >= action->least_condition &&
           of->condition <= action->most_condition &&
           (action->most_covers < 0 ||
            (of->covers >= 0 && of->covers <= action->most_covers)) &&
           (isnan(action->most_wet) || of->wet_share <= action->most_wet) &&
           (action->states & 1u << of->state) != 0;
}
