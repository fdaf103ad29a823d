#include "base/nearest.h"

#include <string.h>

#include "base/ascii.h"

#define WORD_MAX 80

static char folded(char c)
{
    return c == '_' ? '-' : ascii_lower(c);
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* Edits (insert, delete, replace, swap of neighbours) between two words; WORD_MAX for
 * words that are too long to be names. */
static size_t word_distance(const char *a, const char *b)
{
    size_t rows[3][WORD_MAX + 1];
    size_t a_length = strlen(a);
    size_t b_length = strlen(b);
    if (a_length > WORD_MAX || b_length > WORD_MAX)
        return WORD_MAX;
    for (size_t j = 0; j <= b_length; j++)
        rows[0][j] = j;
    for (size_t i = 1; i <= a_length; i++) {
        size_t *row = rows[i % 3];
        const size_t *before = rows[(i + 2) % 3];
        const size_t *earlier = rows[(i + 1) % 3];
        row[0] = i;
        for (size_t j = 1; j <= b_length; j++) {
            size_t differs = folded(a[i - 1]) != folded(b[j - 1]);
            row[j] = least(before[j - 1] + differs, least(before[j], row[j - 1]) + 1);
            if (i > 1 && j > 1 && folded(a[i - 1]) == folded(b[j - 2]) &&
                folded(a[i - 2]) == folded(b[j - 1]))
                row[j] = least(row[j], earlier[j - 2] + 1);
        }
    }
    return rows[a_length % 3][b_length];
}

struct nearest nearest_start(const char *word)
{
    size_t allowed = strlen(word) / 3;
    return (struct nearest){word, NULL, allowed ? allowed + 1 : 2};
}

void nearest_try(struct nearest *nearest, const char *candidate)
{
    size_t distance = word_distance(nearest->word, candidate);
    if (distance < nearest->distance) {
        nearest->distance = distance;
        nearest->best = candidate;
    }
}
