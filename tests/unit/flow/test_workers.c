/* Tasks come back in the order in which they were handed in, from any number of threads,
 * and never more than the slots are in flight. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <time.h>

#include <cmocka.h>

#include "flow/workers.h"

#define TASKS 200

struct task {
    size_t number;
    size_t square;
};

/* Early tasks take longest, so that they would come back last if order didn't hold. */
static void square(void *argument, struct geo_ctx *ctx, const void *shared)
{
    struct task *task = argument;
    const size_t *offset = shared;
    if (task->number % 8 == 0) {
        const struct timespec pause = {0, 2 * 1000 * 1000};
        nanosleep(&pause, NULL);
    }
    task->square = ctx ? task->number * task->number + *offset : 0;
}

static void run_tasks(int threads, size_t slots)
{
    struct task tasks[TASKS];
    struct workers *workers;
    const size_t offset = 7;
    size_t submitted = 0;
    size_t taken = 0;
    assert_int_equal(workers_new(threads, slots, square, &offset, &workers, NULL),
                     OUTLAY_OK);
    while (taken < TASKS) {
        while (submitted < TASKS && !workers_full(workers)) {
            tasks[submitted] = (struct task){.number = submitted};
            workers_submit(workers, &tasks[submitted++]);
            assert_true(submitted - taken <= slots);
        }
        const struct task *task = workers_take(workers, true);
        assert_ptr_equal(task, &tasks[taken]);
        assert_int_equal(task->square, taken * taken + offset);
        taken++;
    }
    assert_null(workers_take(workers, true));
    assert_null(workers_take(workers, false));
    workers_free(workers);
}

static void test_order_holds_for_any_number_of_threads(void **state)
{
    (void)state;
    run_tasks(1, 1);
    run_tasks(1, 5);
    run_tasks(2, 8);
    run_tasks(7, 3);
}

static void test_stopping_gives_back_all_tasks(void **state)
{
    (void)state;
    struct task tasks[6];
    struct workers *workers;
    const size_t offset = 0;
    assert_int_equal(workers_new(1, 6, square, &offset, &workers, NULL), OUTLAY_OK);
    for (size_t i = 0; i < 6; i++) {
        tasks[i] = (struct task){.number = 8 * i};
        workers_submit(workers, &tasks[i]);
    }
    assert_true(workers_full(workers));
    workers_stop(workers);
    for (size_t i = 0; i < 6; i++)
        assert_ptr_equal(workers_take(workers, false), &tasks[i]);
    assert_null(workers_take(workers, false));
    workers_free(workers);
}

static void test_no_workers_have_no_tasks(void **state)
{
    (void)state;
    workers_stop(NULL);
    assert_null(workers_take(NULL, true));
    workers_free(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_order_holds_for_any_number_of_threads),
        cmocka_unit_test(test_stopping_gives_back_all_tasks),
        cmocka_unit_test(test_no_workers_have_no_tasks),
    };
    return cmocka_run_group_tests_name("flow/workers", tests, NULL, NULL);
}
