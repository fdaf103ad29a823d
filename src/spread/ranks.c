#include "spread/ranks.h"

#include <stdlib.h>

static int higher_first(const void *a, const void *b)
{
    uint64_t first = *(const uint64_t *)a, second = *(const uint64_t *)b;

    return (first < second) - (first > second);
}

void ranks_of_scores(const uint32_t *scores, size_t count, uint64_t *scratch,
                     uint32_t *ranks)
{
    uint32_t rank = 0, last = SCORE_NONE;

    if (count == 0)
        return;
    /* score and place in one number, so that the sort needs no other data */
    for (size_t i = 0; i < count; i++)
        scratch[i] = (uint64_t)scores[i] << 32 | i;
    qsort(scratch, count, sizeof *scratch, higher_first);
    for (size_t i = 0; i < count; i++) {
        uint32_t score = (uint32_t)(scratch[i] >> 32);

        if (score != last)
            rank = (uint32_t)i + 1;
        last = score;
        ranks[(uint32_t)scratch[i]] = score == SCORE_NONE ? 0 : rank;
    }
}
