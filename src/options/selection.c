#include "options/selection.h"

#include <string.h>

static size_t listed(const char *set)
{
    size_t count = set ? 1 : 0;
    for (; set && *set; set++)
        count += *set == ',';
    return count;
}

size_t selection_size(const struct settings *settings)
{
    return (settings->roof ? 1 : 0) + listed(settings->set);
}

const char *selection_id(const struct settings *settings, size_t index, size_t *length)
{
    const char *id = settings->set;
    if (settings->roof && index-- == 0) {
        *length = strlen(settings->roof);
        return settings->roof;
    }
    for (; index > 0; index--)
        id = strchr(id, ',') + 1;
    *length = strcspn(id, ",");
    return id;
}

bool selection_has(const struct settings *settings, const struct roof *roof)
{
    size_t count = selection_size(settings), length = 0;
    for (size_t i = 0; i < count; i++) {
        const char *id = selection_id(settings, i, &length);
        if (strlen(roof->id) == length && memcmp(roof->id, id, length) == 0)
            return true;
    }
    return count == 0;
}

bool selection_meets(const struct settings *settings, const struct building *building)
{
    for (size_t i = 0; i < building->roof_count; i++)
        if (selection_has(settings, &building->roofs[i]))
            return true;
    return false;
}
