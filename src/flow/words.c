#include <string.h>

#include "base/units.h"
#include "flow/stages.h"
#include "roof/layout.h"
#include "survey/survey.h"

/* @return false when memory ran out */
static bool words_choose(struct arena *arena, const struct unit_system *units,
                         const char **words)
{
    struct text chosen = TEXT_INIT;
    const char *kept = NULL;

    if (!*words || !strstr(*words, " ("))
        return true;
    units_choose(&chosen, *words, units);
    if (!chosen.failed)
        kept = arena_text(arena, chosen.data, chosen.length);
    text_release(&chosen);
    if (kept)
        *words = kept;
    return kept != NULL;
}

static bool roof_words(struct arena *arena, const struct unit_system *units,
                       struct roof *roof)
{
    bool fine = true;

    for (struct problem *p = roof->problems; p && fine; p = p->next)
        fine = words_choose(arena, units, &p->what);
    for (size_t i = 0; i < roof->zone_count && fine; i++)
        fine = words_choose(arena, units, &roof->zones[i].attachment.reason);
    for (size_t i = 0; i < roof->layout_count; i++)
        for (int role = 0; role < ZONE_ROLES && fine; role++)
            fine = words_choose(arena, units, &roof->layouts[i].reasons[role]);
    return fine;
}

static bool survey_words(struct arena *arena, const struct unit_system *units,
                         struct site_survey *survey)
{
    bool fine = true;

    for (size_t i = 0; i < survey->entry_count && fine; i++)
        fine = words_choose(arena, units, &survey->entries[i].why);
    return fine;
}

enum outlay_status words_run(struct building *building, const struct settings *settings,
                             struct geo_ctx *ctx, struct outlay_error *err)
{
    const struct unit_system *units = settings->write.units;
    struct arena *arena = building->arena;

    (void)ctx;
    for (size_t i = 0; i < building->roof_count; i++)
        if (!roof_words(arena, units, &building->roofs[i]) ||
            (building->surveys && !survey_words(arena, units, &building->surveys[i])))
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    return OUTLAY_OK;
}
