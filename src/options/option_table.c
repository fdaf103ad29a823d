/* All options, and how they are found. */

#include "options/option_rows.h"

#include <string.h>

#include "base/nearest.h"

static const struct option_rows *const tables[] = {&option_rows_run, &option_rows_roofs,
                                                   &option_rows_cost, &option_rows_plan};

const struct option *option_at(size_t index)
{
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
        if (index < tables[i]->count)
            return &tables[i]->rows[index];
        index -= tables[i]->count;
    }
    return NULL;
}

size_t option_count(void)
{
    size_t count = 0;

    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++)
        count += tables[i]->count;
    return count;
}

static bool name_is(const char *name, const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++)
        if (name[i] != (text[i] == '_' ? '-' : text[i]))
            return false;
    return name[length] == '\0';
}

const struct option *option_find(const char *name, size_t length)
{
    for (size_t i = 0; i < option_count(); i++)
        if (name_is(option_at(i)->name, name, length))
            return option_at(i);
    return NULL;
}

const struct option *option_by_letter(char letter)
{
    for (size_t i = 0; letter && i < option_count(); i++)
        if (option_at(i)->letter == letter)
            return option_at(i);
    return NULL;
}

const char *option_nearest(const char *name, unsigned commands)
{
    struct nearest nearest = nearest_start(name);
    for (size_t i = 0; i < option_count(); i++)
        if (option_at(i)->commands & commands)
            nearest_try(&nearest, option_at(i)->name);
    return nearest.best;
}

const char *option_group_title(enum option_group group)
{
    static const char *const titles[] = {
#define X(code, title) title,
        OPTION_GROUP_MAP(X)
#undef X
    };
    return titles[group];
}
