#include "flow/digest.h"

#include <stdio.h>
#include <string.h>
#include <xxhash.h>

/* A digest is XXH's own state, so that its alignment is XXH's task. */
static XXH3_state_t *state_of(const struct digest *digest)
{
    return (XXH3_state_t *)digest;
}

struct digest *digest_new(void)
{
    XXH3_state_t *state = XXH3_createState();
    if (state)
        XXH3_128bits_reset(state);
    return (struct digest *)state;
}

/* Lengths go before contents, so that no two lists run together alike. */
static void add_text(XXH3_state_t *state, const char *text)
{
    size_t length = text ? strlen(text) : 0;
    XXH3_128bits_update(state, &length, sizeof length);
    XXH3_128bits_update(state, text ? text : "", length);
}

void digest_add(struct digest *digest, const struct roof *roof)
{
    XXH3_state_t *state = state_of(digest);
    add_text(state, roof->id);
    add_text(state, roof->name);
    add_text(state, roof->building);
    add_text(state, roof->properties);
    for (size_t i = 0; i < roof->lonlat.polygon_count; i++) {
        const struct polygon *polygon = &roof->lonlat.polygons[i];
        for (size_t j = 0; j < polygon->ring_count; j++) {
            const struct ring *ring = &polygon->rings[j];
            XXH3_128bits_update(state, &ring->count, sizeof ring->count);
            XXH3_128bits_update(state, ring->points, ring->count * sizeof *ring->points);
        }
    }
}

void digest_print(const struct digest *digest, char out[33])
{
    XXH128_hash_t hash = XXH3_128bits_digest(state_of(digest));
    snprintf(out, 33, "%016llx%016llx", (unsigned long long)hash.high64,
             (unsigned long long)hash.low64);
}

void digest_free(struct digest *digest)
{
    XXH3_freeState(state_of(digest));
}
