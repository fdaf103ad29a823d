#include "roof/cost.h"

#include <stddef.h>

const char *cost_part_name(int part)
{
    static const char *const names[] = {
#define X(code, name) name,
        COST_PART_MAP(X)
#undef X
    };

    return part >= 0 && part < COST_PARTS ? names[part] : NULL;
}

const char *price_basis_name(int basis)
{
    static const char *const names[] = {
#define X(code, name) name,
        PRICE_BASIS_MAP(X)
#undef X
    };

    return basis >= 0 && basis < PRICE_BASES ? names[basis] : NULL;
}

const char *scope_name(int value)
{
    static const char *const names[] = {"", "recover", "tear off"};

    return value >= 0 && value <= SCOPE_TEAR_OFF ? names[value] : NULL;
}
