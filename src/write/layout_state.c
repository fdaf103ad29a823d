#include "write/layout_state.h"

enum zone_state layout_state(const struct roof *roof, const struct layout *layout)
{
    enum zone_state worst = STATE_MET;

    for (size_t i = 0; i < roof->zone_count; i++)
        worst = zone_state_worse(worst, layout->states[roof->zones[i].role]);
    return worst;
}

const char *layout_why_not(const struct roof *roof, const struct layout *layout)
{
    for (size_t i = 0; i < roof->zone_count; i++)
        if (layout->reasons[roof->zones[i].role])
            return layout->reasons[roof->zones[i].role];
    return "no assembly of the catalogue serves";
}
