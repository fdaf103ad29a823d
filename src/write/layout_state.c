#include "write/layout_state.h"

enum zone_state state_worse(enum zone_state a, enum zone_state b)
{
    static const int ranks[] = {[STATE_UNKNOWN] = 2,
                                [STATE_MET] = 0,
                                [STATE_MET_ASSUMED] = 1,
                                [STATE_NOT_MET] = 3};

    return ranks[a] >= ranks[b] ? a : b;
}

enum zone_state layout_state(const struct roof *roof, const struct layout *layout)
{
    enum zone_state worst = STATE_MET;

    for (size_t i = 0; i < roof->zone_count; i++)
        worst = state_worse(worst, layout->states[roof->zones[i].role]);
    return worst;
}

const char *layout_why_not(const struct roof *roof, const struct layout *layout)
{
    for (size_t i = 0; i < roof->zone_count; i++)
        if (layout->reasons[roof->zones[i].role])
            return layout->reasons[roof->zones[i].role];
    return "no assembly of the catalogue serves";
}
