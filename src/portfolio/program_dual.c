#include "portfolio/program_dual.h"

#include <math.h>
#include <string.h>

/* The volume algorithm's numbers (ours): the share of the newest slope in the direction,
 * the first step, its change after a better one and after so many worse ones. */
static const double newest = 0.3, first_step = 0.5, longer = 1.25, shorter = 0.6;
enum { WORSE_MAX = 4 };
/* Without an answer near: aim this share above the bound. */
static const double reach = 0.05;

bool dual_make(struct dual *dual, struct desk *desk, struct arena *arena)
{
    size_t years = (size_t)desk->parts->program->years;

    *dual = (struct dual){
        .desk = desk,
        .judge = {.weight = 1, .over = INFINITY},
        .most = INFINITY,
        .toll = arena_array(arena, years, sizeof *dual->toll),
        .trial = arena_array(arena, years, sizeof *dual->trial),
        .slope = arena_array(arena, years, sizeof *dual->slope),
        .costs = arena_array(arena, 2 * years, sizeof *dual->costs),
        .picks =
            arena_array(arena, desk->parts->program->roof_count + 1, sizeof *dual->picks),
    };
    dual_again(dual);
    return dual->toll && dual->trial && dual->slope && dual->costs && dual->picks;
}

void dual_again(struct dual *dual)
{
    dual->bound = -INFINITY;
    dual->step = first_step;
    dual->worse = 0;
    dual->begun = false;
}

/* The bound of the trial tolls. What sums of doubles may lose is taken off. */
static double find_bound(struct dual *dual)
{
    const struct parts *parts = dual->desk->parts;
    int years = parts->program->years;
    money *all = dual->costs, *one = dual->costs + years;
    double sum = 0, size = 0;
    bool shared = dual->judge.over < INFINITY;

    dual->judge.toll = dual->trial;
    dual->judge.room = parts->program->caps;
    memset(all, 0, (size_t)years * sizeof *all);
    for (size_t b = 0; b < parts->count && watch_go(dual->desk->watch, 0); b++) {
        const struct part *part = &parts->list[b];
        double least;

        if (dual->rooms && !shared)
            dual->judge.room = dual->rooms + b * (size_t)years;
        least =
            least_plan(dual->desk, part, &dual->judge, dual->picks + part->first, one);

        if (least == INFINITY)
            return INFINITY;
        sum += least;
        size += fabs(least);
        for (int k = 0; k < years; k++)
            all[k] += shared && one[k] > parts->program->caps[k] ? parts->program->caps[k]
                                                                 : one[k];
    }
    for (int k = 0; k < years; k++) {
        sum -= dual->trial[k] * (double)parts->program->caps[k];
        size += dual->trial[k] * (double)parts->program->caps[k];
    }
    return sum - 1e-12 * size;
}

/* Sets the trial tolls a step from the best ones. */
static void take_step(struct dual *dual, double aim)
{
    int years = dual->desk->parts->program->years;
    double far = fmax(fabs(dual->bound), 1) * reach, square = 0;

    for (int k = 0; k < years; k++) {
        bool stuck = (dual->toll[k] <= 0 && dual->slope[k] < 0) ||
                     (dual->toll[k] >= dual->most && dual->slope[k] > 0);

        square += stuck ? 0 : dual->slope[k] * dual->slope[k];
    }
    far = dual->step * fmin(far, fmax(aim - dual->bound, 0));
    for (int k = 0; k < years; k++) {
        double toll = dual->toll[k] + (square > 0 ? far / square * dual->slope[k] : 0);

        dual->trial[k] = fmin(fmax(toll, 0), dual->most);
    }
}

double dual_step(struct dual *dual, double aim)
{
    const struct program *program = dual->desk->parts->program;
    size_t size = (size_t)program->years * sizeof *dual->toll;
    double bound, share = dual->begun ? newest : 1;

    if (dual->begun)
        take_step(dual, aim);
    else
        memcpy(dual->trial, dual->toll, size);
    bound = find_bound(dual);
    if (!watch_go(dual->desk->watch, 0))
        return -INFINITY;
    for (int k = 0; k < program->years; k++)
        dual->slope[k] = share * (double)(dual->costs[k] - program->caps[k]) +
                         (1 - share) * dual->slope[k];
    dual->begun = true;
    if (bound > dual->bound) {
        dual->step = dual->worse == 0 ? fmin(dual->step * longer, 2) : dual->step;
        dual->worse = 0;
        dual->bound = bound;
        memcpy(dual->toll, dual->trial, size);
    } else if (++dual->worse >= WORSE_MAX) {
        dual->worse = 0;
        dual->step *= shorter;
    }
    return bound;
}
