#include "flow/workers.h"

#include <pthread.h>
#include <signal.h>
#include <stdlib.h>

#include "base/print.h"

struct slot {
    void *task;
    bool done;
};

struct workers {
    pthread_mutex_t mutex; /* guards all below but the first group */
    pthread_cond_t handed_in;
    pthread_cond_t finished;

    void (*work)(void *task, struct geo_ctx *ctx, const void *shared);
    const void *shared;
    pthread_t *threads;
    size_t slot_count;

    /* Serial numbers; a task's slot is its number modulo slot_count.
     * taken <= started <= submitted <= taken + slot_count */
    struct slot *slots;
    size_t submitted, started, taken;
    int running; /* threads created */
    int ready;   /* threads that have tried to open their workspace */
    bool stopping;
    enum outlay_status status; /* of the first workspace that failed */
    struct outlay_error error;
};

static void work_until_stopped(struct workers *workers, struct geo_ctx *ctx)
{
    pthread_mutex_lock(&workers->mutex);
    for (;;) {
        while (!workers->stopping && workers->started == workers->submitted)
            pthread_cond_wait(&workers->handed_in, &workers->mutex);
        if (workers->stopping)
            break;
        struct slot *slot = &workers->slots[workers->started++ % workers->slot_count];
        pthread_mutex_unlock(&workers->mutex);
        workers->work(slot->task, ctx, workers->shared);
        pthread_mutex_lock(&workers->mutex);
        slot->done = true;
        pthread_cond_signal(&workers->finished);
    }
    pthread_mutex_unlock(&workers->mutex);
}

static void *worker_main(void *argument)
{
    struct workers *workers = argument;
    struct geo_ctx *ctx = NULL;
    struct outlay_error error = {0};
    struct plain_locale *locale = plain_locale_start();
    enum outlay_status status =
        locale ? geo_ctx_new(&ctx, &error)
               : outlay_fail(&error, OUTLAY_E_MEMORY, "out of memory");

    pthread_mutex_lock(&workers->mutex);
    workers->ready++;
    if (status != OUTLAY_OK && workers->status == OUTLAY_OK) {
        workers->status = status;
        workers->error = error;
    }
    pthread_cond_signal(&workers->finished);
    pthread_mutex_unlock(&workers->mutex);

    if (status == OUTLAY_OK)
        work_until_stopped(workers, ctx);
    geo_ctx_free(ctx);
    plain_locale_end(locale);
    return NULL;
}

/* Signals stay with the thread that reads and writes: it is the one to be woken. */
static void start_threads(struct workers *workers, int threads)
{
    sigset_t all;
    sigset_t before;
    sigfillset(&all);
    pthread_sigmask(SIG_BLOCK, &all, &before);
    while (workers->running < threads &&
           pthread_create(&workers->threads[workers->running], NULL, worker_main,
                          workers) == 0)
        workers->running++;
    pthread_sigmask(SIG_SETMASK, &before, NULL);
}

static enum outlay_status wait_until_ready(struct workers *workers,
                                           struct outlay_error *err)
{
    pthread_mutex_lock(&workers->mutex);
    while (workers->ready < workers->running)
        pthread_cond_wait(&workers->finished, &workers->mutex);
    pthread_mutex_unlock(&workers->mutex);
    if (workers->running == 0)
        return outlay_fail(err, OUTLAY_E_MEMORY, "no thread could be started");
    if (workers->status != OUTLAY_OK && err)
        *err = workers->error;
    return workers->status;
}

enum outlay_status workers_new(int threads, size_t slots,
                               void (*work)(void *task, struct geo_ctx *ctx,
                                            const void *shared),
                               const void *shared, struct workers **out,
                               struct outlay_error *err)
{
    *out = NULL;
    struct workers *workers = calloc(1, sizeof *workers);
    if (!workers)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    pthread_mutex_init(&workers->mutex, NULL);
    pthread_cond_init(&workers->handed_in, NULL);
    pthread_cond_init(&workers->finished, NULL);
    workers->work = work;
    workers->shared = shared;
    workers->slot_count = slots;
    workers->slots = calloc(slots, sizeof *workers->slots);
    workers->threads = calloc((size_t)threads, sizeof *workers->threads);
    enum outlay_status status = OUTLAY_E_MEMORY;
    if (workers->slots && workers->threads) {
        start_threads(workers, threads);
        status = wait_until_ready(workers, err);
    } else {
        outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    if (status != OUTLAY_OK) {
        workers_free(workers);
        return status;
    }
    *out = workers;
    return OUTLAY_OK;
}

/* submitted and taken are written by the calling thread alone, so it may read them
 * without the lock. */
bool workers_full(struct workers *workers)
{
    return workers->submitted - workers->taken == workers->slot_count;
}

void workers_submit(struct workers *workers, void *task)
{
    pthread_mutex_lock(&workers->mutex);
    struct slot *slot = &workers->slots[workers->submitted++ % workers->slot_count];
    *slot = (struct slot){task, false};
    pthread_cond_signal(&workers->handed_in);
    pthread_mutex_unlock(&workers->mutex);
}

void *workers_take(struct workers *workers, bool wait)
{
    if (!workers || workers->taken == workers->submitted)
        return NULL;
    void *task = NULL;
    struct slot *slot = &workers->slots[workers->taken % workers->slot_count];
    pthread_mutex_lock(&workers->mutex);
    while (wait && !slot->done)
        pthread_cond_wait(&workers->finished, &workers->mutex);
    if (slot->done || workers->stopping) {
        task = slot->task;
        workers->taken++;
    }
    pthread_mutex_unlock(&workers->mutex);
    return task;
}

void workers_stop(struct workers *workers)
{
    if (!workers)
        return;
    pthread_mutex_lock(&workers->mutex);
    workers->stopping = true;
    pthread_cond_broadcast(&workers->handed_in);
    pthread_mutex_unlock(&workers->mutex);
    for (; workers->running > 0; workers->running--)
        pthread_join(workers->threads[workers->running - 1], NULL);
}

void workers_free(struct workers *workers)
{
    if (!workers)
        return;
    workers_stop(workers);
    pthread_cond_destroy(&workers->finished);
    pthread_cond_destroy(&workers->handed_in);
    pthread_mutex_destroy(&workers->mutex);
    free(workers->threads);
    free(workers->slots);
    free(workers);
}
