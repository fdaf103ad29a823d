#ifndef OUTLAY_CATALOG_ACTIONS_H
#define OUTLAY_CATALOG_ACTIONS_H

/**
 * @file catalog/actions.h
 * What can be done to a roof, what it costs and what it gives. Built in as actions.csv,
 * all of whose values are invented; written by `outlay catalog`, replaceable like the
 * prices.
 *
 * Columns, in any order, all of them there; units end the names:
 *   name              as the plan writes it; each once
 *   action            replace, recover, restore (coat) or repair
 *   cost              of one roof, or "built-up": what the bill and the prices come to,
 *                     for replace and recover only; may be empty
 *   cost_per_area     for one unit of the roof's area, on top of cost; empty where the
 *                     cost is built up. One of both has to be there
 *   unit              of the area: ft2 or m2; empty without cost_per_area
 *   currency          that of the prices; empty where the cost is built up
 *   least_condition, most_condition
 *                     of the roof in the year of the work: 0 to 100, both allowed
 *   most_covers       old covers on the roof; empty: any number
 *   most_wet_percent  of the area that is wet; empty: any share
 *   states            that allow it, separated by |: met, met assumed, unknown; never
 *                     "not met"
 *   gives_condition   the condition after the work, 0 to 100, or
 *   gives_years       that the work adds to the life that is left; one of both
 *   life_years        service life of what it gives; empty: that of --service-life
 *   note              may be empty
 *
 * The state is that of the new roof's attachment for replace and recover, and that of the
 * present roof's rating for restore and repair, which leave it on the building: met where
 * the rating is at least the demand, unknown where no rating was given.
 *
 * The built-up price is that of one bill, made for what becomes of the old cover
 * (roof.scope): it is of recover where that stays, of replace everywhere else.
 *
 * Built-in rows with a cost of their own are left out where the prices have another
 * currency, since an invented amount means nothing there.
 *
 * Threads: any; read-only after loading.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"
#include "catalog/table.h"
#include "outlay/status.h"
#include "roof/roof.h"

/* Code, name as in tables. */
#define ACTION_KIND_MAP(X) \
    X(REPLACE, "replace")  \
    X(RECOVER, "recover")  \
    X(RESTORE, "restore")  \
    X(REPAIR, "repair")

enum action_kind {
#define X(code, name) ACTION_##code,
    ACTION_KIND_MAP(X)
#undef X
        ACTION_KINDS
};

/** NULL past the end. */
const char *action_kind_name(int kind);

struct action {
    const char *name; /**< unique, never empty */
    enum action_kind kind;
    bool built_up;        /**< priced from the bill; the two costs are 0 */
    double cost;          /**< of one roof, hundredths */
    double cost_per_area; /**< hundredths a m2 */
    double least_condition, most_condition; /**< 0 to 100 */
    int most_covers;                        /**< MISSING: any number */
    double most_wet;        /**< share of the area, 0 to 1; NAN: any share */
    unsigned states;        /**< bits 1u << STATE_...; never NOT_MET */
    double gives_condition; /**< 0 to 100; NAN: it gives years */
    double gives_years;     /**< > 0; NAN: it gives a condition */
    double life;            /**< years; NAN: that of the setting */
    const char *note;       /**< "" */
};

struct action_list {
    struct action *actions; /**< in the order of the table */
    size_t count;           /**< at least 1 */
    bool built_in;          /**< values are invented; outputs say so */
};

/** What decides whether an action may be done to a roof in a year. */
struct action_case {
    double condition;      /**< in that year, 0 to 100 */
    int covers;            /**< MISSING: not given, so that no limit of covers is kept */
    double wet_share;      /**< NAN: not given, so that no limit of wet is kept */
    enum zone_state state; /**< of what the action's kind asks for, as above */
};

/** The built-in table as CSV text, static storage. */
extern const char catalog_actions_csv[];

/**
 * Reads all rows, strictly; texts are the table's, the list is in the arena.
 * @param currency  of the prices, three small letters
 * @return OUTLAY_E_USAGE with table, row and column in err->where; OUTLAY_E_MEMORY
 */
enum outlay_status actions_read(struct arena *arena, const struct table *table,
                                const char *currency, struct action_list *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Reads the built-in table, or the user's where path isn't NULL. */
enum outlay_status actions_load(struct arena *arena, const char *path,
                                const char *currency, struct action_list *out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Whether the action's limits allow it. */
bool action_allowed(const struct action *action, const struct action_case *of);

#endif
