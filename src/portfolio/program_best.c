#include "portfolio/program_best.h"

#include <math.h>
#include <string.h>

bool desk_make(struct desk *desk, const struct parts *parts, struct watch *watch,
               struct arena *arena)
{
    size_t years = (size_t)parts->program->years, roofs = parts->most_roofs + 1;
    size_t sets = parts->most_sets + 1;
    size_t subsets =
        (size_t)1 << (roofs <= PART_ROOFS_MAX ? roofs : (size_t)PART_ROOFS_MAX);

    *desk = (struct desk){
        .parts = parts,
        .watch = watch,
        .trial = arena_array(arena, roofs, sizeof *desk->trial),
        .plan = arena_array(arena, roofs, sizeof *desk->plan),
        .seed = arena_array(arena, roofs, sizeof *desk->seed),
        .moved = arena_array(arena, roofs, sizeof *desk->moved),
        .idle = arena_array(arena, subsets + roofs, sizeof *desk->idle),
        .best = arena_array(arena, 2 * subsets, sizeof *desk->best),
        .sums = arena_array(arena, sets, sizeof *desk->sums),
        .sets = arena_array(arena, sets, sizeof *desk->sets),
        .best_set = arena_array(arena, years * subsets, sizeof *desk->best_set),
        .members = arena_array(arena, sets, sizeof *desk->members),
        .chosen = arena_array(arena, years * subsets, sizeof *desk->chosen),
        .alone = arena_array(arena, roofs * years, sizeof *desk->alone),
        .opened = arena_array(arena, years, sizeof *desk->opened),
    };
    return desk->trial && desk->plan && desk->seed && desk->moved && desk->idle &&
           desk->best && desk->sums && desk->sets && desk->best_set && desk->members &&
           desk->chosen && desk->alone && desk->opened;
}

/* Whether the judge lets a roof be done so. */
static bool offered(const struct judge *judge, const struct program_roof *roof,
                    size_t index, size_t option, int year)
{
    const struct program_option *of = &roof->options[option];

    if (year < of->first || year > of->last)
        return false;
    return !judge->domains || ((judge->domains[index].years >> year & 1) &&
                               (judge->domains[index].options >> option & 1));
}

/* The sets of roofs that a visit in a year may have, with the sums of their values.
 * Sets without a roof that has to be in it go again. @return where the list begins */
static size_t list_sets(struct desk *desk, const struct part *part,
                        const struct judge *judge, int year, size_t *end)
{
    size_t begin = 0, count = 1, base = 1;

    desk->sets[0] = 0;
    desk->members[0] = 0;
    desk->sums[0] = 0;
    for (size_t i = 0; i < part->count; i++) {
        const struct program_roof *roof = part_roof(desk->parts, part, i);
        size_t index = part->first + i, before = count;

        for (size_t o = 0; o < roof->option_count; o++) {
            double value = judge->weight * roof->options[o].values[year];

            if (!offered(judge, roof, index, o, year))
                continue;
            for (size_t c = begin; c < before; c++, count++) {
                desk->sets[count] = desk->sets[c] + (uint32_t)(base * (o + 1));
                desk->members[count] = (uint16_t)(desk->members[c] | 1u << i);
                desk->sums[count] = desk->sums[c] + value;
            }
        }
        if (judge->domains && judge->domains[index].years == (uint64_t)1 << year)
            begin = before;
        base *= roof->option_count + 1;
    }
    *end = count;
    return begin;
}

/* The best visit of a year to each set of roofs. @return all roofs that are in one */
static unsigned find_visits(struct desk *desk, const struct part *part,
                            const struct judge *judge, int year)
{
    const struct program *program = desk->parts->program;
    size_t subsets = (size_t)1 << part->count, end = 0;
    size_t begin = list_sets(desk, part, judge, year, &end);
    uint32_t *best_set = desk->best_set + (size_t)year * subsets;
    double *visit = desk->best + subsets;
    unsigned all = 0;

    for (size_t s = 0; s < subsets; s++)
        visit[s] = INFINITY;
    for (size_t c = begin; c < end; c++) {
        unsigned members = desk->members[c];
        double sum = desk->sums[c];

        if (members)
            sum += judge_visit(judge, program, part->prices[desk->sets[c]], year);
        if (sum < visit[members]) {
            visit[members] = sum;
            best_set[members] = desk->sets[c];
            all |= members;
        }
    }
    return all;
}

money forced_cost(struct desk *desk, const struct part *part,
                  const struct domain *domains, int year)
{
    struct judge judge = {.domains = domains};
    size_t end = 0, begin = list_sets(desk, part, &judge, year, &end);
    money least = -1;

    for (size_t c = begin; begin > 0 && c < end; c++)
        if (least < 0 || part->prices[desk->sets[c]] < least)
            least = part->prices[desk->sets[c]];
    return least > 0 ? visit_cost(desk->parts->program, least, year) : 0;
}

/* Puts the visits of a year beside what was before: desk->best[s] is the best for a set
 * s of roofs, all of them done. Going down, only what is still of the year before is
 * read. */
static void add_year(struct desk *desk, const struct part *part, int year, unsigned all)
{
    size_t subsets = (size_t)1 << part->count;
    uint16_t *chosen = desk->chosen + (size_t)year * subsets;
    double *best = desk->best, *visit = desk->best + subsets;
    bool together = desk->parts->program->together;

    for (size_t s = subsets; s-- > 0;) {
        double least = best[s] + visit[0];
        unsigned in = (unsigned)s & all, taken = 0;

        for (unsigned t = in; t; t = (t - 1) & in) {
            double sum = best[s ^ t] + visit[t];

            if (sum < least && (!together || t == s)) {
                least = sum;
                taken = t;
            }
        }
        best[s] = least;
        chosen[s] = (uint16_t)taken;
    }
}

static void sum_idle(struct desk *desk, const struct part *part,
                     const struct judge *judge)
{
    int years = desk->parts->program->years;

    desk->idle[0] = 0;
    for (size_t i = 0; i < part->count; i++) {
        const struct program_roof *roof = part_roof(desk->parts, part, i);
        bool out = roof->must || (judge->domains &&
                                  !(judge->domains[part->first + i].years >> years & 1));
        double value = out ? INFINITY : judge->weight * roof->idle;
        size_t bit = (size_t)1 << i;

        for (size_t s = 0; s < bit; s++)
            desk->idle[bit | s] = desk->idle[s] + value;
    }
}

static void unpack(const struct parts *parts, const struct part *part, size_t set,
                   int year, struct program_pick *picks)
{
    for (size_t i = 0; i < part->count; i++) {
        size_t base = part_roof(parts, part, i)->option_count + 1;

        if (set % base > 0)
            picks[i] = (struct program_pick){(int)(set % base) - 1, year};
        set /= base;
    }
}

/* Goes back from a set of roofs through the visits that led to it. */
static void read_plan(const struct desk *desk, const struct part *part, size_t done,
                      struct program_pick *picks, money *costs)
{
    const struct program *program = desk->parts->program;
    size_t subsets = (size_t)1 << part->count;

    for (size_t i = 0; i < part->count; i++)
        picks[i] = (struct program_pick){-1, 0};
    for (int year = program->years; year-- > 0;) {
        unsigned taken = desk->chosen[(size_t)year * subsets + done];
        size_t set = taken ? desk->best_set[(size_t)year * subsets + taken] : 0;

        unpack(desk->parts, part, set, year, picks);
        costs[year] = visit_cost(program, part->prices[set], year);
        done ^= taken;
    }
}

static double known_best(struct desk *desk, const struct part *part,
                         const struct judge *judge, struct program_pick *picks,
                         money *costs)
{
    size_t subsets = (size_t)1 << part->count, done = 0;
    double least = INFINITY;

    sum_idle(desk, part, judge);
    desk->best[0] = 0;
    for (size_t s = 1; s < subsets; s++)
        desk->best[s] = INFINITY;
    for (int year = 0; year < desk->parts->program->years; year++)
        add_year(desk, part, year, find_visits(desk, part, judge, year));
    for (size_t s = 0; s < subsets; s++) {
        double sum = desk->best[s] + desk->idle[(subsets - 1) ^ s];

        if (sum < least) {
            least = sum;
            done = s;
        }
    }
    if (least < INFINITY)
        read_plan(desk, part, done, picks, costs);
    return least;
}

double best_plan(struct desk *desk, const struct part *part, const struct judge *judge,
                 struct program_pick *picks, money *costs)
{
    if (!part->prices)
        return large_best(desk, part, judge, picks, costs);
    (void)watch_go(desk->watch, ((double)part->sets + pow(3, (double)part->count)) *
                                    desk->parts->program->years);
    return known_best(desk, part, judge, picks, costs);
}

double least_plan(struct desk *desk, const struct part *part, const struct judge *judge,
                  struct program_pick *picks, money *costs)
{
    return part->prices ? best_plan(desk, part, judge, picks, costs)
                        : large_least(desk, part, judge, costs);
}
