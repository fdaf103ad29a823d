/* Sections that are laid out as one roof may end up in different years. */

#include <stdlib.h>

#include "portfolio/plan_private.h"

static int by_sections(const void *left, const void *right)
{
    const struct plan_roof *a = *(struct plan_roof *const *)left;
    const struct plan_roof *b = *(struct plan_roof *const *)right;

    return (a->roof->sections > b->roof->sections) -
           (a->roof->sections < b->roof->sections);
}

/* @return the roof behind the last of those that are laid out as one */
static size_t part(struct plan_roof **roofs, size_t count, size_t first)
{
    bool parted = false;
    size_t end = first;

    for (; end < count && roofs[end]->roof->sections == roofs[first]->roof->sections;
         end++)
        parted = parted || roofs[end]->year != roofs[first]->year;
    for (size_t i = first; i < end; i++)
        roofs[i]->parted = parted && roofs[i]->year != MISSING;
    return end;
}

const char *plan_parted_words(void)
{
    return "sections laid out as one roof with it are done in another year or never: the "
           "joint between them isn't counted";
}

bool plan_part_sections(struct plan *plan)
{
    struct plan_roof **roofs = arena_array(plan->arena, plan->count, sizeof(void *));

    if (!roofs)
        return false;
    for (size_t i = 0; i < plan->count; i++)
        roofs[i] = &plan->roofs[i];
    qsort(roofs, plan->count, sizeof(void *), by_sections);
    for (size_t i = 0; i < plan->count;)
        i = part(roofs, plan->count, i);
    return true;
}
