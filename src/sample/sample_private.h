#ifndef OUTLAY_SAMPLE_SAMPLE_PRIVATE_H
#define OUTLAY_SAMPLE_SAMPLE_PRIVATE_H

/**
 * @file sample/sample_private.h
 * A sampler inside, shared by sample.c (sources, values at the outline) and around.c
 * (what the ground around decides).
 */

#include "sample/features.h"
#include "sample/ground.h"
#include "sample/raster.h"
#include "sample/sample.h"
#include "sample/source.h"
#include "surroundings/roughness.h"

struct source {
    struct sample_source spec;
    struct raster *surface, *ground;       /* of the sampler; NULL */
    struct features *features;             /* owned; NULL */
    struct ground *around;                 /* owned; NULL */
    const struct roughness_table *classes; /* of the raster; NULL */
};

struct sampler {
    const struct sample_settings *settings; /* borrowed */
    struct source sources[FIELD_ROLES];
    size_t source_count;
    struct raster *rasters[2 * FIELD_ROLES]; /* owned, one for each path */
    const char *paths[2 * FIELD_ROLES];
    size_t raster_count;
    struct arena *texts;   /* of the sources, and their tables */
    struct arena *scratch; /* of one value */
    struct geo_ctx *ctx;
    long long cache; /* GDAL's own limit, given back; 0: not changed */
};

/* Everything about one value of one roof. */
struct taking {
    struct sampler *sampler;
    const struct source *source;
    struct roof *roof;
    struct arena *arena; /* the roof's */
    struct frame frame;
    struct sampled sample;
    struct outlay_error *err;
};

/* Says why the sample is doubtful; the first reason stays. why: static storage */
void taking_weaken(struct taking *taking, const char *why);

void taking_report(struct taking *taking, enum problem_code code, const char *done,
                   const char *why);

/* Adds the sample to the roof's. Out of memory is seen at the end, in the arena. */
void taking_add(struct taking *taking);

/* Gives the roof the value and its sample. */
void taking_settle(struct taking *taking, const struct value *value);

/* There is no value. */
void taking_miss(struct taking *taking, const char *why);

/* Opens what an exposure or a topographic factor of a raster needs further. */
enum outlay_status around_open(struct source *source, struct arena *arena,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/* An exposure or a topographic factor, by the ground around the roof. */
enum outlay_status around_take(struct taking *taking) OUTLAY_MUST_CHECK;

#endif
