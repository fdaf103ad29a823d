#include "roof/caution.h"

const char *caution_text(void)
{
    return "Planning figures, not a design: the local building code, the approval of "
           "the assembly and a licensed engineer decide. Before anything is ordered, "
           "have the deck's pull-out resistance tested and the roof surveyed for "
           "moisture. Have suspect materials surveyed before tear-off. Work at edges "
           "and openings needs fall protection.";
}
