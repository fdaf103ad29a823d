#ifndef OUTLAY_FLOW_PIPELINE_PRIVATE_H
#define OUTLAY_FLOW_PIPELINE_PRIVATE_H

/**
 * @file flow/pipeline_private.h
 * A pipeline inside, shared by pipeline.c (workers, results) and gather.c (roofs to
 * buildings to batches).
 */

#include "flow/digest.h"
#include "flow/finding_use.h"
#include "flow/index.h"
#include "flow/mark_use.h"
#include "flow/pipeline.h"
#include "flow/tally.h"
#include "flow/workers.h"
#include "read/spool.h"
#include "sample/sample.h"

struct pipeline {
    const struct settings *settings;
    struct reader *reader;
    const struct messages *messages;
    const struct sink *sink;
    struct run_counts *counts;
    struct outlay_error *err;
    struct batch_format format;
    struct workers *workers; /* owned, as all below */
    struct batch *idle;      /* list */
    struct batch *filling;   /* the one that buildings are added to, or NULL */
    struct spool *spool;     /* NULL for a stream */
    struct sampler *sampler; /* NULL: nothing is sampled */
    struct arena *scratch;
    struct digest *digest;
    struct tally *tally; /* of the roofs that are meant */
    struct mark_use mark_use;
    struct finding_use finding_use;
    struct roof_index index;
    size_t read; /* roofs */
};

/** Fills p->err. */
enum outlay_status pipeline_memory(struct pipeline *p);

/** Reports progress. @return OUTLAY_E_INTERRUPTED */
enum outlay_status pipeline_breathe(struct pipeline *p) OUTLAY_MUST_CHECK;

/** An idle batch, or a new one. @return NULL when out of memory */
struct batch *pipeline_idle_batch(struct pipeline *p);

/** Hands p->filling in, after making room for it; p->filling is NULL afterwards. */
enum outlay_status pipeline_hand_in(struct pipeline *p) OUTLAY_MUST_CHECK;

/** Hands in what is left and puts everything down. */
enum outlay_status pipeline_finish(struct pipeline *p) OUTLAY_MUST_CHECK;

/* gather.c: reads the whole source into batches and finishes them. */
enum outlay_status gather_single_roofs(struct pipeline *p) OUTLAY_MUST_CHECK;
enum outlay_status gather_buildings(struct pipeline *p) OUTLAY_MUST_CHECK;
enum outlay_status gather_stream(struct pipeline *p) OUTLAY_MUST_CHECK;

#endif
