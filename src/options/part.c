#include "options/part.h"

static const struct {
    const char *name, *file;
    unsigned needs;
} rows[PARTS] = {
#define X(code, name, file, needs, ...) {name, file, needs},
    PART_MAP(X)
#undef X
};

const char *part_name(int part)
{
    return part >= 0 && part < PARTS ? rows[part].name : NULL;
}

const char *part_file(int part)
{
    return rows[part].file;
}

unsigned parts_need(unsigned parts)
{
    unsigned needs = 0;
    for (int part = 0; part < PARTS; part++)
        if (parts & 1u << part)
            needs |= rows[part].needs;
    return needs;
}

unsigned parts_needing(unsigned needs)
{
    unsigned parts = 0;
    for (int part = 0; part < PARTS; part++)
        if (rows[part].needs & needs)
            parts |= 1u << part;
    return parts;
}
