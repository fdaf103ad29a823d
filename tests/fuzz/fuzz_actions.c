/* A table of actions: any bytes, as CSV. */

#include "fuzz.h"

#include <math.h>
#include <string.h>

#include "catalog/actions.h"

/* What planning relies on: names that tell actions apart, costs and limits that are
 * numbers, something that is given, and never an attachment that doesn't hold. */
static void expect_action(const struct action *action)
{
    FUZZ_EXPECT(action->name[0] && action->note);
    FUZZ_EXPECT((int)action->kind >= 0 && action->kind < ACTION_KINDS);
    FUZZ_EXPECT(action->cost >= 0 && isfinite(action->cost));
    FUZZ_EXPECT(action->cost_per_area >= 0 && isfinite(action->cost_per_area));
    FUZZ_EXPECT(action->built_up == !(action->cost + action->cost_per_area > 0));
    FUZZ_EXPECT(!action->built_up || action->kind <= ACTION_RECOVER);
    FUZZ_EXPECT(action->least_condition >= 0 && action->most_condition <= 100);
    FUZZ_EXPECT(action->least_condition <= action->most_condition);
    FUZZ_EXPECT(action->most_covers == MISSING || action->most_covers >= 0);
    FUZZ_EXPECT(isnan(action->most_wet) ||
                (action->most_wet >= 0 && action->most_wet <= 1));
    FUZZ_EXPECT(action->states && !(action->states & 1u << STATE_NOT_MET));
    FUZZ_EXPECT(isnan(action->gives_condition) != isnan(action->gives_years));
    FUZZ_EXPECT(isnan(action->gives_condition) || action->gives_condition > 0);
    FUZZ_EXPECT(isnan(action->gives_years) || action->gives_years > 0);
    FUZZ_EXPECT(isnan(action->life) || action->life > 0);
}

static void expect_list(const struct action_list *list)
{
    FUZZ_EXPECT(list->count > 0 && !list->built_in);
    for (size_t i = 0; i < list->count; i++) {
        expect_action(&list->actions[i]);
        for (size_t k = 0; k < i; k++)
            FUZZ_EXPECT(strcmp(list->actions[i].name, list->actions[k].name) != 0);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct arena *arena = arena_new();
    char *text = malloc(size + 1);
    struct outlay_error err = {0};
    struct action_list list;
    struct table table;
    enum outlay_status status;

    FUZZ_EXPECT(arena && text);
    if (size > 0)
        memcpy(text, data, size);
    text[size] = '\0';
    status = table_parse(arena, "actions.csv", text, &table, &err);
    if (status == OUTLAY_OK)
        status = actions_read(arena, &table, "usd", &list, &err);
    FUZZ_EXPECT(status == OUTLAY_OK || status == OUTLAY_E_USAGE);
    FUZZ_EXPECT(status == OUTLAY_OK || (err.what[0] && err.where[0]));
    if (status == OUTLAY_OK)
        expect_list(&list);
    free(text);
    arena_free(arena);
    return 0;
}
