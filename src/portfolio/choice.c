#include "portfolio/choice.h"

#include <math.h>
#include <string.h>

#include <Cbc_C_Interface.h>

#include "portfolio/choice_improve.h"

/* The solver's tolerances are for numbers around 1: money goes in as thousands. */
#define SCALE 1e-5

const char *choice_state_name(int state)
{
    static const char *const names[] = {"within gap", "node limit", "time limit"};

    return state >= 0 && state <= CHOICE_TIME ? names[state] : NULL;
}

/* ---- Columns and rows ---- */

/* One column for each unit and year that may be chosen; then, where caps may be exceeded,
 * one for the excess of each year. Rows: the caps, then the units. */
struct program {
    const struct choice *choice;
    bool elastic;
    size_t count, room;
    CoinBigIndex *starts;
    int *rows;
    double *values;
    double *upper, *objective;
    size_t *unit; /* of a column */
    int *year;
    size_t entries;
};

static size_t most_columns(const struct choice *choice)
{
    return (choice->units + 1) * (size_t)choice->years;
}

static bool program_start(struct program *program, struct arena *arena)
{
    size_t room = most_columns(program->choice);

    program->room = room;
    program->starts = arena_array(arena, room + 1, sizeof *program->starts);
    program->rows = arena_array(arena, 2 * room, sizeof *program->rows);
    program->values = arena_array(arena, 2 * room, sizeof *program->values);
    program->upper = arena_array(arena, room, sizeof *program->upper);
    program->objective = arena_array(arena, room, sizeof *program->objective);
    program->unit = arena_array(arena, room, sizeof *program->unit);
    program->year = arena_array(arena, room, sizeof *program->year);
    return program->starts && program->rows && program->values && program->upper &&
           program->objective && program->unit && program->year;
}

static void add_entry(struct program *program, int row, double value)
{
    program->rows[program->entries] = row;
    program->values[program->entries++] = value;
}

static void end_column(struct program *program, double objective, double upper,
                       size_t unit, int year)
{
    size_t column = program->count++;

    program->objective[column] = objective;
    program->upper[column] = upper;
    program->unit[column] = unit;
    program->year[column] = year;
    program->starts[program->count] = (CoinBigIndex)program->entries;
}

/* A year is left out where it can't be chosen with profit: it is dearer than its cap, or
 * later is as cheap. */
static void add_unit(struct program *program, size_t unit)
{
    const struct choice *choice = program->choice;
    const struct choice_unit *of = &choice->unit[unit];
    money later = choice_value(choice, unit, choice->years);

    for (int year = of->first; year <= of->last; year++) {
        money cost = choice_cost(choice, unit, year);
        money gain = choice_value(choice, unit, year) - later;

        if (!program->elastic && cost > choice->caps[year])
            continue;
        if (!of->must && (program->elastic || gain >= 0))
            continue;
        if (cost > 0)
            add_entry(program, year, (double)cost * SCALE);
        add_entry(program, choice->years + (int)unit, 1);
        end_column(program, program->elastic ? 0 : (double)gain * SCALE, 1, unit, year);
    }
}

static void fill(struct program *program)
{
    const struct choice *choice = program->choice;

    for (size_t unit = 0; unit < choice->units; unit++)
        add_unit(program, unit);
    for (int year = 0; program->elastic && year < choice->years; year++) {
        add_entry(program, year, -1);
        end_column(program, 1, INFINITY, choice->units, year);
    }
}

/* @param whole  units are done in one year, not in shares of several */
static Cbc_Model *load(const struct program *program, struct arena *arena, bool whole)
{
    const struct choice *choice = program->choice;
    size_t rows = (size_t)choice->years + choice->units;
    double *low = arena_array(arena, rows, sizeof *low);
    double *high = arena_array(arena, rows, sizeof *high);
    double *zeros = arena_array(arena, program->room, sizeof *zeros);
    Cbc_Model *model = low && high && zeros ? Cbc_newModel() : NULL;

    if (!model)
        return NULL;
    for (int year = 0; year < choice->years; year++) {
        low[year] = -INFINITY;
        high[year] = (double)choice->caps[year] * SCALE;
    }
    for (size_t unit = 0; unit < choice->units; unit++) {
        bool must = choice->unit[unit].must;

        low[(size_t)choice->years + unit] = must ? 1 : 0;
        high[(size_t)choice->years + unit] = 1;
    }
    Cbc_loadProblem(model, (int)program->count, (int)rows, program->starts, program->rows,
                    program->values, zeros, program->upper, program->objective, low,
                    high);
    Cbc_setLogLevel(model, 0);
    for (size_t column = 0; whole && column < program->count; column++)
        if (program->unit[column] < choice->units)
            Cbc_setInteger(model, (int)column);
    return model;
}

/* ---- Answers ---- */

static void read_years(const struct program *program, const double *solution, int *years)
{
    const struct choice *choice = program->choice;

    for (size_t unit = 0; unit < choice->units; unit++)
        years[unit] = choice->years;
    for (size_t column = 0; column < program->count; column++)
        if (program->unit[column] < choice->units && solution[column] > 0.5)
            years[program->unit[column]] = program->year[column];
}

static money spent(const struct choice *choice, const int *years, int year)
{
    money sum = 0;

    for (size_t unit = 0; unit < choice->units; unit++)
        if (years[unit] == year)
            sum += choice_cost(choice, unit, year);
    return sum;
}

/* What the solver's tolerance lets through, some cents at most, is put right by moving
 * the unit later that costs least to move. @return false where all in it must be done */
static bool hold_cap(const struct choice *choice, int *years, int year)
{
    while (spent(choice, years, year) > choice->caps[year]) {
        size_t best = choice->units;
        money least = 0;

        for (size_t unit = 0; unit < choice->units; unit++) {
            money loss = choice_value(choice, unit, choice->years) -
                         choice_value(choice, unit, year);

            if (years[unit] != year || choice->unit[unit].must ||
                (best < choice->units && loss >= least))
                continue;
            best = unit;
            least = loss;
        }
        if (best == choice->units)
            return false;
        years[best] = choice->years;
    }
    return true;
}

static double sum_values(const struct choice *choice, const int *years)
{
    money sum = 0;

    for (size_t unit = 0; unit < choice->units; unit++)
        sum += choice_value(choice, unit, years[unit]);
    return (double)sum;
}

static double sum_later(const struct choice *choice)
{
    money sum = 0;

    for (size_t unit = 0; unit < choice->units; unit++)
        sum += choice_value(choice, unit, choice->years);
    return (double)sum;
}

/* No answer is below the sum of what each unit would cost alone. */
static double simple_bound(const struct choice *choice)
{
    money sum = 0;

    for (size_t unit = 0; unit < choice->units; unit++) {
        const struct choice_unit *of = &choice->unit[unit];
        money least = choice_value(choice, unit, of->must ? of->first : choice->years);

        for (int year = of->first; year <= of->last; year++) {
            money value = choice_value(choice, unit, year);

            least = value < least ? value : least;
        }
        sum += least;
    }
    return (double)sum;
}

static enum choice_state state_of(Cbc_Model *model)
{
    if (Cbc_isSecondsLimitReached(model))
        return CHOICE_TIME;
    return Cbc_isNodeLimitReached(model) ? CHOICE_NODES : CHOICE_GAP;
}

/* The program without whole numbers: a bound, and the shares of years that an answer is
 * rounded from. @return false when even that has no answer */
static bool relax(const struct program *program, struct arena *arena, double *bound,
                  double **shares)
{
    const struct choice *choice = program->choice;
    Cbc_Model *model = load(program, arena, false);
    bool solved = false;

    *shares = arena_array(arena, most_columns(choice), sizeof **shares);
    if (model && *shares) {
        (void)Cbc_solve(model);
        solved = Cbc_isProvenOptimal(model);
    }
    if (solved) {
        const double *solution = Cbc_getColSolution(model);

        *bound = Cbc_getObjValue(model) / SCALE;
        for (size_t column = 0; column < program->count; column++)
            (*shares)[program->unit[column] * (size_t)choice->years +
                      (size_t)program->year[column]] = solution[column];
    }
    if (model)
        Cbc_deleteModel(model);
    return solved;
}

/* Branch and cut. Only what is less than `most` (hundredths) is looked for: then none
 * may be found, and `most` is a bound. */
static enum outlay_status search(const struct program *program,
                                 const struct choice_limits *limits, double gap,
                                 double most, struct arena *arena,
                                 struct choice_answer *out, struct outlay_error *err)
{
    Cbc_Model *model = load(program, arena, true);
    double later = program->elastic ? 0 : sum_later(program->choice);

    if (!model)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    Cbc_setAllowableGap(model, gap * SCALE);
    Cbc_setMaximumNodes(model, limits->nodes);
    Cbc_setMaximumSeconds(model, limits->seconds);
    if (isfinite(most))
        Cbc_setCutoff(model, (most - later) * SCALE);
    (void)Cbc_solve(model);
    out->state = state_of(model);
    out->feasible = !Cbc_isProvenInfeasible(model) && Cbc_bestSolution(model) != NULL;
    if (out->feasible)
        read_years(program, Cbc_getColSolution(model), out->years);
    if (out->state == CHOICE_GAP && !out->feasible)
        out->bound = fmax(out->bound, most);
    else
        out->bound = fmax(out->bound,
                          fmin(most, later + Cbc_getBestPossibleObjValue(model) / SCALE));
    Cbc_deleteModel(model);
    return OUTLAY_OK;
}

/* The better of two answers, of which the first may be none. */
static void keep_better(const struct choice *choice, const int *start,
                        struct choice_answer *out)
{
    if (start &&
        (!out->feasible || sum_values(choice, start) < sum_values(choice, out->years))) {
        memcpy(out->years, start, choice->units * sizeof *start);
        out->feasible = true;
    }
}

static enum outlay_status solve(const struct choice *choice,
                                const struct choice_limits *limits, struct arena *arena,
                                struct choice_answer *out, struct outlay_error *err)
{
    struct program program = {.choice = choice};
    int *start = arena_array(arena, choice->units + 1, sizeof *start);
    double *shares = NULL;
    double gap = limits->gap * simple_bound(choice);
    double bound = 0, most = 0;
    enum outlay_status status = OUTLAY_OK;

    if (!start || !program_start(&program, arena))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    fill(&program);
    if (!relax(&program, arena, &bound, &shares))
        return OUTLAY_OK;
    out->bound = fmax(simple_bound(choice), sum_later(choice) + bound);
    if (choice_round(choice, shares, arena, start))
        choice_improve(choice, out->bound + gap, arena, start);
    else
        start = NULL;
    most = start ? sum_values(choice, start) - gap : INFINITY;
    if (most > out->bound)
        status = search(&program, limits, gap, most, arena, out, err);
    for (int year = 0; out->feasible && year < choice->years; year++)
        out->feasible = hold_cap(choice, out->years, year);
    if (out->feasible)
        choice_improve(choice, out->bound + gap, arena, out->years);
    keep_better(choice, start, out);
    if (out->feasible && sum_values(choice, out->years) - out->bound <= gap)
        out->state = CHOICE_GAP;
    return status;
}

/* The search ended before it proved anything. */
static enum outlay_status not_found(struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_LIMIT, "no plan was found within the limits");
    outlay_fail_todo(err, "raise --nodes or --cap, or free latest and fixed_year of some "
                          "roofs");
    return OUTLAY_E_LIMIT;
}

/* Least excess over the caps of what must be done; none is an answer. */
static enum outlay_status find_excess(const struct choice *choice,
                                      const struct choice_limits *limits,
                                      struct arena *arena, struct choice_answer *out,
                                      struct outlay_error *err)
{
    struct program program = {.choice = choice, .elastic = true};
    struct choice_answer excess = {.years = out->years};
    enum outlay_status status = OUTLAY_OK;

    out->over = arena_array(arena, (size_t)choice->years, sizeof *out->over);
    if (!out->over || !program_start(&program, arena))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    fill(&program);
    status = search(&program, limits, 0, INFINITY, arena, &excess, err);
    if (status == OUTLAY_OK && !excess.feasible)
        return not_found(err);
    out->feasible = status == OUTLAY_OK;
    for (int year = 0; status == OUTLAY_OK && year < choice->years; year++) {
        money over = spent(choice, out->years, year) - choice->caps[year];

        out->over[year] = over > 0 ? over : 0;
        out->feasible = out->feasible && over <= 0;
    }
    if (out->feasible)
        choice_improve(choice, out->bound, arena, out->years);
    else if (status == OUTLAY_OK && excess.state != CHOICE_GAP && excess.bound < 0.5)
        return not_found(err);
    return status;
}

enum outlay_status choice_solve(const struct choice *choice,
                                const struct choice_limits *limits, struct arena *arena,
                                struct choice_answer *out, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    *out = (struct choice_answer){.state = CHOICE_GAP};
    out->years = arena_array(arena, choice->units + 1, sizeof *out->years);
    if (!out->years)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    status = solve(choice, limits, arena, out, err);
    if (status != OUTLAY_OK)
        return status;
    if (!out->feasible)
        status = find_excess(choice, limits, arena, out, err);
    if (!out->feasible)
        return status;
    out->value = sum_values(choice, out->years);
    out->bound = fmin(out->bound, out->value);
    return OUTLAY_OK;
}
