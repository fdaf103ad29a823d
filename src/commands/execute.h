#ifndef OUTLAY_COMMANDS_EXECUTE_H
#define OUTLAY_COMMANDS_EXECUTE_H

/**
 * @file commands/execute.h
 * What all commands that read roofs have in common: opening the source, running the
 * pipeline into a sink, and telling the user what weighs on the whole run.
 */

#include "flow/pipeline.h"
#include "options/messages.h"
#include "options/settings.h"
#include "outlay/outlay.h"

/** @return OUTLAY_E_USAGE with todo when no output was given */
enum outlay_status execute_need_output(const struct settings *settings, const char *todo,
                                       struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Opens the source. @return OUTLAY_E_USAGE when none was given; as reader_open() */
enum outlay_status execute_open(const struct settings *settings, struct reader **reader,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Runs the pipeline and sends the messages of the run.
 * @param whole  also those about the source and the roofs left out, which are of no
 *               interest to a command about single roofs, or one that reports them itself
 * @return as pipeline_run(); OUTLAY_E_LIMIT when settings->strict and a roof
 *         was left out
 */
enum outlay_status execute_run(const struct settings *settings, struct reader *reader,
                               const struct messages *messages, bool whole,
                               const struct sink *sink, struct run_counts *counts,
                               struct outlay_result *result,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The status of a stream that broke off, after what was read has been written. */
enum outlay_status execute_input_status(const struct run_counts *counts,
                                        struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
