#include "roof/spread.h"

const char *driven_name(int kind)
{
    static const char *const names[] = {"force", "cost", "score"};

    return kind >= 0 && kind < DRIVEN_KINDS ? names[kind] : NULL;
}
