#ifndef OUTLAY_RUN_RECORD_H
#define OUTLAY_RUN_RECORD_H

/**
 * @file run/record.h
 * run.json: what a run was made from, enough to repeat it.
 */

#include "base/text.h"
#include "read/read.h"
#include "run/pipeline.h"
#include "run/settings.h"
#include "run/sinks.h"

/** Appends run.json. @param sink  tells the files @param seconds  the run took so far */
void record_print(struct text *out, const struct settings *settings,
                  const struct reader *reader, const struct folder_sink *sink,
                  const struct run_counts *counts, double seconds);

#endif
