/**
 * @file plans.c
 * Measures the program behind the plan on random portfolios, for scripts/bench.
 *
 *     bench_plans ROOFS [GAP] [SECONDS] [YEARS] [MOST] [SEED] [NODES] [LARGE]
 *
 * MOST is of roofs in a building; LARGE of 1000 (5) have up to 40. Prints one line.
 */

#include <stdio.h>

#include <sys/resource.h>

#include "../property/portfolio/samples.h"

static double argument(int count, char **words, int index, double otherwise)
{
    return count > index ? strtod(words[index], NULL) : otherwise;
}

int main(int count, char **words)
{
    struct sample_kind kind = {(size_t)argument(count, words, 1, 1000),
                               (int)argument(count, words, 4, 10),
                               (int)argument(count, words, 5, 5),
                               0.35,
                               3,
                               10,
                               (int)argument(count, words, 8, 5),
                               false};
    struct program_limits limits = {argument(count, words, 2, 0.001),
                                    (int)argument(count, words, 7, 2000),
                                    argument(count, words, 3, 180), NULL, NULL};
    uint64_t state = (uint64_t)argument(count, words, 6, 1);
    struct arena *arena = arena_new();
    struct program_answer answer = {0};
    struct sample sample;
    struct rusage usage;
    enum outlay_status status;

    sample_make(&sample, &kind, &state);
    status = program_solve(&sample.program, &limits, NULL, 0, arena, &answer, NULL);
    (void)getrusage(RUSAGE_SELF, &usage);
    printf(
        "%zu roofs, %zu buildings, %d years: status %d, %s, %s, value %.0f, gap %.4f %%,"
        " %.2f s of processor time, %ld MB\n",
        kind.roofs, sample.program.building_count, kind.years, (int)status,
        answer.feasible ? "feasible" : "not feasible", program_state_name(answer.state),
        answer.value, 100 * (answer.value - answer.bound) / fabs(answer.value),
        (double)usage.ru_utime.tv_sec + (double)usage.ru_utime.tv_usec * 1e-6,
        usage.ru_maxrss / 1024);
    sample_free(&sample);
    arena_free(arena);
    return status != OUTLAY_OK;
}
