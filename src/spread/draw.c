#include "spread/draw.h"

#include <string.h>
#include <xxhash.h>

#include "spread/normal.h"

/* The name goes in and not its place in the table, so that a new row changes no draw. */
uint64_t draw_key(uint64_t seed, enum spread_input input, const char *scope_id)
{
    const struct spread_input_row *row = &spread_inputs[input];
    uint64_t key = XXH3_64bits_withSeed(row->name, strlen(row->name), seed);

    if (row->scope == SPREAD_PORTFOLIO)
        return key;
    return XXH3_64bits_withSeed(scope_id, strlen(scope_id), key);
}

double draw_uniform(uint64_t key, uint64_t draw)
{
    unsigned char bytes[8];

    for (int i = 0; i < 8; i++)
        bytes[i] = (unsigned char)(draw >> 8 * i & 0xff);
    /* 52 bits, so that the half more is exact and 1 is never reached */
    uint64_t hash = XXH3_64bits_withSeed(bytes, sizeof bytes, key) >> 12;
    return ((double)hash + 0.5) * 0x1p-52;
}

double draw_normal(uint64_t key, uint64_t draw)
{
    return normal_cut_quantile(draw_uniform(key, draw));
}

int draw_step(uint64_t key, uint64_t draw, double chance)
{
    double u = draw_uniform(key, draw);

    return u < chance ? -1 : u > 1 - chance ? 1 : 0;
}
