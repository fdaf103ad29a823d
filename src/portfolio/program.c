#include "portfolio/program.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "portfolio/program_tree.h"

/* The dual's steps before its tolls make a first answer, between answers, and in all; the
 * most that are left without a better bound or answer (ours). */
enum {
    STEPS_FIRST = 40,
    STEPS_BETWEEN = 12,
    ROUNDS_MAX = 24,
    ROUNDS_IDLE = 4,
    EXCESS_STEPS = 120,
    SURE_SHARE = 20,  /* of the work, that the least excess is worth */
    UNSURE_SHARE = 5, /* and that it is to find out whether there is any */
};

/* Steps: one of program_limits.steps; the most of shaking before a tree. */
#define MILLION 1e6
#define SHAKE_WORK 2e7

/* A tree is tried first where a go over all buildings takes at most so many steps. */
#define TREE_STEPS_MAX 4e5

const char *program_state_name(int state)
{
    static const char *const names[] = {"within gap", "work limit", "time limit"};

    return state >= 0 && state <= PROGRAM_TIME ? names[state] : NULL;
}

/* ---- Value of an answer ---- */

/* Of the visit to a building in a year; scratch has room for its roofs. */
static money visit_price(const struct program *program, size_t building, int year,
                         const struct program_pick *picks, struct program_pick *scratch)
{
    const struct program_building *of = &program->buildings[building];
    bool any = false;

    for (size_t i = 0; i < of->count; i++) {
        const struct program_pick *pick = &picks[of->first + i];

        scratch[i] = (struct program_pick){pick->year == year ? pick->option : -1, year};
        any = any || scratch[i].option >= 0;
    }
    return any ? program->price(program->context, building, scratch) : 0;
}

static double sum_values(const struct program *program, const struct program_pick *picks,
                         money *costs, struct program_pick *scratch)
{
    double sum = 0;

    memset(costs, 0, (size_t)program->years * sizeof *costs);
    for (size_t i = 0; i < program->roof_count; i++) {
        const struct program_roof *roof = &program->roofs[i];

        if (picks[i].option >= 0)
            sum += roof->options[picks[i].option].values[picks[i].year];
        else
            sum += roof->must ? 0 : roof->idle;
    }
    for (size_t b = 0; b < program->building_count; b++)
        for (int year = 0; year < program->years; year++) {
            money price = visit_price(program, b, year, picks, scratch);

            sum += (double)price * program->present[year];
            costs[year] += visit_cost(program, price, year);
        }
    return sum;
}

double program_value(const struct program *program, const struct program_pick *picks,
                     money *costs)
{
    struct program_pick *scratch = calloc(program->roof_count + 1, sizeof *scratch);
    double sum = scratch ? sum_values(program, picks, costs, scratch) : NAN;

    free(scratch);
    return sum;
}

/* ---- Search ---- */

/* All that a search owns. */
struct solver {
    const struct program *program;
    const struct program_limits *limits;
    struct watch watch;
    struct parts parts;
    struct desk desk;
    struct dual dual;
    struct scheme best, spare;
    bool any; /* best holds a plan for each building, if above the caps */
    double bound;
};

static bool proven(const struct solver *solver)
{
    return solver->any && scheme_excess(&solver->best) == 0 &&
           solver->best.value - solver->bound <=
               tree_allowance(solver->best.value, solver->limits->gap);
}

static double work_of(const struct solver *solver)
{
    return fmax(solver->limits->steps, 0) * MILLION;
}

static bool worth_a_tree(const struct solver *solver)
{
    return solver->parts.whole && solver->parts.steps <= TREE_STEPS_MAX &&
           solver->program->roof_count <= TREE_ROOFS_MAX;
}

static void keep_spare(struct solver *solver)
{
    if (solver->any && !scheme_better(&solver->spare, &solver->best))
        return;
    scheme_copy(&solver->best, &solver->spare);
    solver->any = true;
}

/* The answers that are given, and doing nothing. */
static void take_starts(struct solver *solver, const struct program_pick *const *starts,
                        size_t count)
{
    for (size_t i = 0; i < solver->program->roof_count; i++)
        solver->dual.picks[i] = (struct program_pick){-1, 0};
    for (size_t i = 0; i <= count; i++)
        if (scheme_take(&solver->spare, i < count ? starts[i] : solver->dual.picks))
            keep_spare(solver);
}

/* Bound and answers in turn, each helping the other. Stops where it's proven, nothing
 * gets better, or a building can't keep the caps even alone. */
static void alternate(struct solver *solver)
{
    struct dual *dual = &solver->dual;
    int idle = 0;

    for (int round = 0; round < ROUNDS_MAX && idle < ROUNDS_IDLE; round++) {
        double bound = solver->bound, value = solver->best.value;
        bool had = solver->any && scheme_excess(&solver->best) == 0;

        for (int i = 0; i < (round == 0 ? STEPS_FIRST : STEPS_BETWEEN); i++) {
            if (dual_step(dual, had ? solver->best.value : INFINITY) == INFINITY ||
                !watch_go(&solver->watch, 0))
                return;
        }
        solver->bound = fmax(solver->bound, dual->bound);
        if (proven(solver))
            break;
        if (scheme_fill(&solver->spare, dual->toll))
            keep_spare(solver);
        if (proven(solver) || !watch_go(&solver->watch, 0))
            break;
        idle = solver->bound > bound + 1e-5 * fabs(bound) ||
                       solver->best.value < value - 1e-5 * fabs(value)
                   ? 0
                   : idle + 1;
    }
}

/* Shakes a little, proves by a tree where there are few roofs, and shakes on. */
static bool improve(struct solver *solver, double work, struct arena *arena)
{
    double begin = solver->watch.steps;
    struct scheme *best = &solver->best;
    double enough;

    if (!proven(solver)) {
        enough = solver->bound + tree_allowance(best->value, solver->limits->gap);
        scheme_shake(best, solver->dual.toll, begin + fmin(work / 5, SHAKE_WORK), enough);
    }
    if (!proven(solver) && worth_a_tree(solver) &&
        !tree_search(&solver->dual, best, &solver->spare, solver->limits->gap,
                     begin + work, arena, &solver->bound))
        return false;
    if (!proven(solver)) {
        enough = solver->bound + tree_allowance(best->value, solver->limits->gap);
        scheme_shake(best, solver->dual.toll, begin + work, enough);
    }
    return true;
}

/* ---- Caps that can't be kept ---- */

/* From now on only what exceeds the caps counts: each toll is at most 1. */
static void count_excess(struct solver *solver)
{
    struct dual *dual = &solver->dual;

    dual->judge = (struct judge){.weight = 0, .over = 1};
    dual->most = 1;
    memset(dual->toll, 0, (size_t)solver->program->years * sizeof *dual->toll);
    dual_again(dual);
    solver->best.weight = 0;
    solver->spare.weight = 0;
    solver->bound = -INFINITY;
}

static void count_values(struct solver *solver)
{
    struct dual *dual = &solver->dual;

    dual->judge = (struct judge){.weight = 1, .over = INFINITY};
    dual->most = INFINITY;
    dual_again(dual);
    solver->best.weight = 1;
    solver->spare.weight = 1;
}

/* When to end: soon, where it's sure that there is some excess. */
static double excess_end(const struct solver *solver, double begin, double bound)
{
    return begin + work_of(solver) / (bound >= 0.5 ? SURE_SHARE : UNSURE_SHARE);
}

/* The answer of least excess, and what none is below. @return whether there was memory */
static bool least_excess(struct solver *solver, struct arena *arena, double *bound)
{
    double begin = solver->watch.steps;
    struct scheme *best = &solver->best;
    struct dual *dual = &solver->dual;

    *bound = 0;
    for (int i = 0; i < EXCESS_STEPS && *bound < INFINITY; i++) {
        double aim = solver->any ? (double)scheme_excess(best) : INFINITY;

        if (*bound >= aim - 0.5 || !watch_go(&solver->watch, 0) ||
            (solver->any && solver->watch.steps > excess_end(solver, begin, *bound)))
            break;
        *bound = dual_step(dual, aim) == INFINITY ? INFINITY : fmax(*bound, dual->bound);
        if (i % STEPS_BETWEEN == STEPS_BETWEEN - 1 &&
            scheme_fill(&solver->spare, dual->toll))
            keep_spare(solver);
    }
    if (!solver->any || *bound == INFINITY || *bound >= (double)scheme_excess(best) - 0.5)
        return true;
    if (!worth_a_tree(solver)) {
        scheme_shake(best, dual->toll, excess_end(solver, begin, *bound), *bound + 0.5);
        return true;
    }
    scheme_shake(best, dual->toll, begin + fmin(work_of(solver) / 20, SHAKE_WORK),
                 *bound + 0.5);
    return tree_search(dual, best, &solver->spare, solver->limits->gap,
                       excess_end(solver, begin, *bound), arena, bound);
}

/* ---- All of it ---- */

static enum outlay_status make(struct solver *solver, struct arena *arena,
                               struct outlay_error *err)
{
    enum outlay_status status =
        parts_make(&solver->parts, solver->program, &solver->watch, arena, err);

    if (status != OUTLAY_OK)
        return status;
    if (!desk_make(&solver->desk, &solver->parts, &solver->watch, arena) ||
        !dual_make(&solver->dual, &solver->desk, arena) ||
        !scheme_make(&solver->best, &solver->desk, arena) ||
        !scheme_make(&solver->spare, &solver->desk, arena))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    solver->bound = -INFINITY;
    return OUTLAY_OK;
}

static bool feasible(const struct solver *solver)
{
    return solver->any && scheme_excess(&solver->best) == 0;
}

/* @param excess  no answer exceeds the caps by less */
static bool search(struct solver *solver, struct arena *arena, double *excess)
{
    *excess = 0;
    alternate(solver);
    if (!feasible(solver)) {
        count_excess(solver);
        if (!least_excess(solver, arena, excess))
            return false;
        count_values(solver);
        if (!feasible(solver) && (*excess >= 0.5 || !worth_a_tree(solver)))
            return true;
        alternate(solver);
        if (!feasible(solver) && !improve(solver, work_of(solver) / UNSURE_SHARE, arena))
            return false;
    }
    if (feasible(solver) && !improve(solver, work_of(solver), arena))
        return false;
    /* no answer keeps the caps: a hundredth is over at the least */
    if (!feasible(solver) && solver->bound == INFINITY)
        *excess = 1;
    return true;
}

static enum outlay_status write_answer(const struct solver *solver, double excess,
                                       struct arena *arena, struct program_answer *out,
                                       struct outlay_error *err)
{
    const struct program *program = solver->program;
    size_t years = (size_t)program->years;
    money *costs = arena_array(arena, years, sizeof *costs);

    *out = (struct program_answer){
        .feasible = feasible(solver),
        .hopeless = excess >= 0.5,
        .state = proven(solver)       ? PROGRAM_GAP
                 : solver->watch.late ? PROGRAM_TIME
                                      : PROGRAM_NODES,
        .picks = arena_array(arena, program->roof_count + 1, sizeof *out->picks),
        .over = arena_array(arena, years, sizeof *out->over),
    };
    if (!out->picks || !out->over || !costs)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t i = 0; i < program->roof_count; i++)
        out->picks[i] =
            solver->any ? solver->best.picks[i] : (struct program_pick){-1, 0};
    out->value = program_value(program, out->picks, costs);
    if (isnan(out->value))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    out->bound = fmin(solver->bound, out->value);
    for (size_t k = 0; k < years && solver->any; k++)
        out->over[k] = costs[k] > program->caps[k] ? costs[k] - program->caps[k] : 0;
    if (out->hopeless) {
        double least = (double)scheme_excess(&solver->best);

        if (least - excess <= tree_allowance(least, solver->limits->gap))
            out->state = PROGRAM_GAP;
    }
    return OUTLAY_OK;
}

static enum outlay_status solve(struct solver *solver,
                                const struct program_pick *const *starts,
                                size_t start_count, struct arena *scratch,
                                struct arena *arena, struct program_answer *out,
                                struct outlay_error *err)
{
    double excess = 0;
    enum outlay_status status = make(solver, scratch, err);

    if (status == OUTLAY_OK && watch_go(&solver->watch, 0)) {
        take_starts(solver, starts, start_count);
        if (!search(solver, scratch, &excess))
            status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    if (status != OUTLAY_OK)
        return status;
    if (solver->watch.stopped)
        return outlay_fail(err, OUTLAY_E_INTERRUPTED, "interrupted");
    if (!solver->any && excess < 0.5)
        return outlay_fail(err, OUTLAY_E_LIMIT, "no plan was found within the limits");
    return write_answer(solver, excess, arena, out, err);
}

enum outlay_status program_solve(const struct program *program,
                                 const struct program_limits *limits,
                                 const struct program_pick *const *starts,
                                 size_t start_count, struct arena *arena,
                                 struct program_answer *out, struct outlay_error *err)
{
    struct solver solver = {.program = program, .limits = limits};
    struct arena *scratch = arena_new();
    enum outlay_status status;

    if (!scratch)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    watch_start(&solver.watch, limits);
    status = solve(&solver, starts, start_count, scratch, arena, out, err);
    arena_free(scratch);
    return status;
}
