#ifndef OUTLAY_FLOW_WORKERS_H
#define OUTLAY_FLOW_WORKERS_H

/**
 * @file flow/workers.h
 * Threads that work on tasks, which come back in the order in which they were handed
 * in, so that output doesn't depend on the number of threads. The queue is bounded:
 *
 *     if (workers_full(workers))
 *         finish(workers_take(workers, true));
 *     workers_submit(workers, task);
 *     ...
 *     while ((task = workers_take(workers, true)) != NULL)
 *         finish(task);
 *
 * One thread, the one that opened them, hands in and takes back.
 */

#include <stdbool.h>
#include <stddef.h>

#include "geo/frame.h"
#include "outlay/status.h"

struct workers;

/**
 * Starts threads and waits until each has its workspace.
 * @param threads  at least 1
 * @param work     works on a task in one of the threads, with that thread's workspace
 * @param slots    tasks in flight at most, at least 1
 * @param shared   handed to every call; must outlive the workers
 * @param[out] out owned; NULL on failure
 * @return OUTLAY_E_MEMORY, OUTLAY_E_GEOMETRY (a workspace could not be opened)
 */
enum outlay_status workers_new(int threads, size_t slots,
                               void (*work)(void *task, struct geo_ctx *ctx,
                                            const void *shared),
                               const void *shared, struct workers **out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** True when another task can't be handed in before one is taken back. */
bool workers_full(struct workers *workers);

/** Hands in a task; the workers mustn't be full. */
void workers_submit(struct workers *workers, void *task);

/**
 * Takes back the oldest task once it is done.
 * @param workers  NULL has none
 * @param wait     false: returns at once
 * @return NULL when none is in flight, or, without waiting, none is done
 */
void *workers_take(struct workers *workers, bool wait);

/** Stops the threads after their present tasks. From then on workers_take() gives back
 *  all tasks in flight, done or not. NULL is ignored. */
void workers_stop(struct workers *workers);

/** Stops the threads and frees the workers, not the tasks. NULL is ignored. */
void workers_free(struct workers *workers);

#endif
