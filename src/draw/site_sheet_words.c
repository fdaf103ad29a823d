/* What people write and bring. Tools are common practice, no source. */

#include "draw/site_sheet.h"

#define BIT(task) (1u << TASK_##task)

const char *site_entry_unit(enum finding_kind kind, bool si)
{
    static const struct {
        const char *us, *si;
    } units[FINDING_KINDS] = {
        [FINDING_PULLOUT] = {"lbf", "N"},
        [FINDING_STACK] = {"in", "mm"},
        [FINDING_COVERS] = {"number", "number"},
        [FINDING_EXISTING] = {"word", "word"},
        [FINDING_WET] = {"yes / no", "yes / no"},
        [FINDING_WET_SHARE] = {"%", "%"},
        [FINDING_HEIGHT] = {"ft, in", "m"},
        [FINDING_EDGE] = {"word", "word"},
        [FINDING_PARAPET] = {"ft, in", "mm"},
        [FINDING_PARAPET_THICKNESS] = {"in", "mm"},
        [FINDING_DECK] = {"word", "word"},
        [FINDING_DECK_BEARING] = {"degrees", "degrees"},
        [FINDING_DRAINS] = {"number", "number"},
        [FINDING_PENETRATIONS] = {"number", "number"},
        [FINDING_EXPOSURE] = {"letter", "letter"},
        [FINDING_ENCLOSURE] = {"word", "word"},
        [FINDING_TOPOGRAPHIC] = {"number", "number"},
        [FINDING_HOLES] = {"word", "word"},
        [FINDING_TRIAL_WELD] = {"lbf", "N"},
        [FINDING_PHOTO] = {"number", "number"},
    };
    return si ? units[kind].si : units[kind].us;
}

const char *site_tool(unsigned tasks, size_t index)
{
    static const struct {
        const char *name;
        unsigned tasks; /* any of them */
    } tools[] = {
        {"pull-out tester", BIT(PULLOUT)},
        {"screws to be used, drill", BIT(PULLOUT)},
        {"core cutter", BIT(CORE)},
        {"repair material", BIT(PULLOUT) | BIT(CORE) | BIT(DECK)},
        {"moisture meter or scanner", BIT(SCAN)},
        {"tape", BIT(CORE) | BIT(HEIGHT) | BIT(EDGE) | BIT(OPENINGS) | BIT(DRAINS)},
        {"level or laser", BIT(HEIGHT) | BIT(EDGE)},
        {"compass", BIT(DECK) | BIT(SURROUNDINGS)},
        {"camera", BIT(PHOTO) | BIT(SURROUNDINGS) | BIT(OPENINGS)},
        {"hand welder, pieces of sheet", BIT(TRIAL_WELD)},
        {"chalk or paint", BIT(PULLOUT) | BIT(CORE) | BIT(SCAN)},
        {"pencils, clipboard", ~0u},
    };
    for (size_t i = 0; i < sizeof tools / sizeof tools[0]; i++)
        if (tools[i].tasks & tasks && index-- == 0)
            return tools[i].name;
    return NULL;
}
