/* 500 random programs: answers keep windows, must, together and caps, are worth what they
 * say, are never worse than any start that keeps them, and never below their bound; the
 * order of the buildings changes nothing. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <string.h>

#include <cmocka.h>

#include "samples.h"

enum { PROGRAMS = 500, ROOFS_MAX = 24 };

/* Of each feasible answer: how far a value may be from another sum of the same. */
static const double rounding = 1e-3;

static struct sample_kind random_kind(uint64_t *state)
{
    struct sample_kind kind = {
        .roofs = 1 + (size_t)sample_below(state, ROOFS_MAX),
        .years = 1 + sample_below(state, 6),
        .building_roofs = 1 + sample_below(state, 5),
        .share = 0.1 + 0.9 * sample_unit(state),
        .must = sample_below(state, 4) * 10,
        .window = sample_below(state, 40),
        .large = sample_below(state, 4) == 0 ? 100 : 0,
        .together = sample_below(state, 4) == 0,
    };
    return kind;
}

/* Whether the picks keep all but the caps. */
static bool keeps_windows(const struct program *program, const struct program_pick *picks)
{
    for (size_t b = 0; b < program->building_count; b++) {
        const struct program_building *of = &program->buildings[b];
        int visit = -1;

        for (size_t i = of->first; i < of->first + of->count; i++) {
            const struct program_roof *roof = &program->roofs[i];

            if (picks[i].option < 0 && roof->must)
                return false;
            if (picks[i].option < 0)
                continue;
            if (picks[i].option >= (int)roof->option_count ||
                picks[i].year < roof->options[picks[i].option].first ||
                picks[i].year > roof->options[picks[i].option].last)
                return false;
            if (program->together && visit >= 0 && visit != picks[i].year)
                return false;
            visit = picks[i].year;
        }
    }
    return true;
}

/* Costs by year, in another way than the program's: each visit asked for by itself. */
static bool keeps_caps(const struct program *program, const struct program_pick *picks,
                       const money *over)
{
    for (int k = 0; k < program->years; k++) {
        money sum = 0;

        for (size_t b = 0; b < program->building_count; b++) {
            const struct program_building *of = &program->buildings[b];
            struct program_pick visit[ROOFS_MAX];
            bool any = false;

            for (size_t i = 0; i < of->count; i++) {
                visit[i] = picks[of->first + i];
                if (visit[i].option >= 0 && visit[i].year == k)
                    any = true;
                else
                    visit[i].option = -1;
            }
            if (any)
                sum += llround((double)program->price(program->context, b, visit) *
                               program->nominal[k]);
        }
        if (sum > program->caps[k] + (over ? over[k] : 0))
            return false;
    }
    return true;
}

/* Roofs in the order of what waiting costs, each in the first year that has room for it:
 * what a planner would do by hand. */
static void worst_first(const struct program *program, struct program_pick *picks)
{
    bool done[ROOFS_MAX] = {false};

    for (size_t i = 0; i < program->roof_count; i++)
        picks[i] = (struct program_pick){-1, 0};
    for (size_t step = 0; step < program->roof_count; step++) {
        size_t worst = program->roof_count;

        for (size_t i = 0; i < program->roof_count; i++)
            if (!done[i] && (worst == program->roof_count ||
                             program->roofs[i].idle > program->roofs[worst].idle))
                worst = i;
        done[worst] = true;
        for (int k = 0; picks[worst].option < 0 && k < program->years; k++)
            for (int o = 0; picks[worst].option < 0 && o < SAMPLE_OPTIONS; o++) {
                const struct program_option *of = &program->roofs[worst].options[o];

                if (k < of->first || k > of->last)
                    continue;
                picks[worst] = (struct program_pick){o, k};
                if (!keeps_caps(program, picks, NULL))
                    picks[worst] = (struct program_pick){-1, 0};
            }
    }
}

/* The same with the buildings, and their roofs with them, the other way round. */
static void turn(const struct sample *sample, struct sample *turned)
{
    const struct program *program = &sample->program;
    size_t count = program->building_count, done = 0;

    sample_start(turned, program->roof_count, program->roof_count * SAMPLE_OPTIONS, count,
                 program->years);
    turned->program.together = program->together;
    memcpy(turned->caps, sample->caps, (size_t)program->years * sizeof *sample->caps);
    memcpy(turned->nominal, sample->nominal,
           (size_t)program->years * sizeof *sample->nominal);
    memcpy(turned->present, sample->present,
           (size_t)program->years * sizeof *sample->present);
    for (size_t b = 0; b < count; b++) {
        const struct program_building *of = &sample->buildings[count - 1 - b];

        turned->buildings[b] = (struct program_building){done, of->count};
        turned->fixed[b] = sample->fixed[count - 1 - b];
        for (size_t i = 0; i < of->count; i++, done++) {
            size_t from = sample->option_at[of->first + i];

            turned->roofs[done] = sample->roofs[of->first + i];
            turned->option_at[done] = done * SAMPLE_OPTIONS;
            memcpy(&turned->work[done * SAMPLE_OPTIONS], &sample->work[from],
                   SAMPLE_OPTIONS * sizeof *sample->work);
        }
    }
}

static enum outlay_status solve(const struct sample *sample,
                                const struct program_pick *const *starts, size_t count,
                                struct arena *arena, struct program_answer *answer)
{
    struct program_limits limits = {0.005, 1, 600, NULL, NULL};

    return program_solve(&sample->program, &limits, starts, count, arena, answer, NULL);
}

static void check_answer(const struct sample *sample, const struct program_answer *answer,
                         const struct program_pick *start)
{
    const struct program *program = &sample->program;
    struct program_pick idle[ROOFS_MAX];
    money over = 0;
    money costs[PROGRAM_YEARS_MAX];

    for (size_t i = 0; i < program->roof_count; i++)
        idle[i] = (struct program_pick){-1, 0};
    for (int k = 0; k < program->years; k++)
        over += answer->over[k];
    /* nothing over and not feasible: windows have no answer at all */
    assert_true(keeps_windows(program, answer->picks) ||
                (!answer->feasible && over == 0));
    assert_true(
        keeps_caps(program, answer->picks, answer->feasible ? NULL : answer->over));
    if (!answer->feasible) {
        assert_false(keeps_windows(program, start) && keeps_caps(program, start, NULL));
        return;
    }
    assert_true(fabs(program_value(program, answer->picks, costs) - answer->value) <=
                rounding);
    assert_true(answer->bound <= answer->value);
    if (keeps_windows(program, start) && keeps_caps(program, start, NULL))
        assert_true(answer->value <= program_value(program, start, costs) + rounding);
    if (keeps_windows(program, idle))
        assert_true(answer->value <= program_value(program, idle, costs) + rounding);
}

static void test_answers_keep_what_they_promise(void **unused)
{
    uint64_t state = 20261130;
    int feasible = 0, infeasible = 0, limited = 0;

    (void)unused;
    for (int i = 0; i < PROGRAMS; i++) {
        struct sample_kind kind = random_kind(&state);
        struct program_pick start[ROOFS_MAX];
        const struct program_pick *starts[] = {start};
        struct program_answer answer, other;
        struct arena *arena = arena_new();
        struct sample sample, turned;
        enum outlay_status status;

        sample_make(&sample, &kind, &state);
        turn(&sample, &turned);
        worst_first(&sample.program, start);
        status = solve(&sample, starts, 1, arena, &answer);
        assert_true(status == OUTLAY_OK || status == OUTLAY_E_LIMIT);
        limited += status == OUTLAY_E_LIMIT;
        if (status == OUTLAY_OK) {
            feasible += answer.feasible;
            infeasible += answer.hopeless;
            limited += !answer.feasible && !answer.hopeless;
            check_answer(&sample, &answer, start);
        }
        /* starts are by the order of the input: without them */
        status = solve(&sample, NULL, 0, arena, &answer);
        assert_int_equal(solve(&turned, NULL, 0, arena, &other), status);
        if (status == OUTLAY_OK) {
            assert_int_equal(other.feasible, answer.feasible);
            assert_true(!answer.feasible || fabs(other.value - answer.value) <= rounding);
            assert_true(!answer.feasible || other.bound == answer.bound ||
                        fabs(other.bound - answer.bound) <= rounding);
        }
        sample_free(&turned);
        sample_free(&sample);
        arena_free(arena);
    }
    assert_true(feasible > PROGRAMS / 2);
    assert_true(infeasible > PROGRAMS / 50);
    assert_true(limited < PROGRAMS / 50);
    print_message("%d feasible, %d not, %d at the limit\n", feasible, infeasible,
                  limited);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_answers_keep_what_they_promise),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
