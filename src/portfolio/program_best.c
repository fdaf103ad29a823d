#include "portfolio/program_best.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

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

/* ---- Candidates ---- */

static int compare_candidates(const void *left, const void *right)
{
    const struct candidate *a = left, *b = right;

    if (a->members != b->members)
        return a->members < b->members ? -1 : 1;
    if (a->price != b->price)
        return a->price < b->price ? -1 : 1;
    if (a->value != b->value)
        return a->value < b->value ? -1 : 1;
    return (a->set > b->set) - (a->set < b->set);
}

/* Leaves out what costs as much and counts as much as another to the same roofs. */
static size_t keep_best(struct candidate *list, size_t count)
{
    size_t kept = 0;

    qsort(list, count, sizeof *list, compare_candidates);
    for (size_t i = 0; i < count; i++)
        if (kept == 0 || list[i].members != list[kept - 1].members ||
            list[i].value < list[kept - 1].value)
            list[kept++] = list[i];
    return kept;
}

/* Where those to each set of roofs begin. */
static const uint32_t *first_of(const struct candidate *list, size_t count,
                                size_t subsets, struct arena *arena)
{
    uint32_t *out = arena_array(arena, subsets + 1, sizeof *out);
    size_t c = 0;

    for (size_t s = 0; out && s <= subsets; s++) {
        while (c < count && list[c].members < s)
            c++;
        out[s] = (uint32_t)c;
    }
    return out;
}

static struct candidates *find_candidates(struct desk *desk, const struct part *part,
                                          struct candidate *scratch, struct arena *arena)
{
    const struct judge judge = {.weight = 1};
    int years = desk->parts->program->years;
    struct candidates *out = arena_array(arena, 1, sizeof *out);

    for (int year = 0; out && year < years; year++) {
        size_t end = 0, count = 0;
        struct candidate *list;

        (void)list_sets(desk, part, &judge, year, &end);
        (void)watch_go(desk->watch, (double)end);
        for (size_t c = 1; c < end; c++)
            scratch[count++] =
                (struct candidate){part->prices[desk->sets[c]], desk->sums[c],
                                   desk->sets[c], desk->members[c]};
        count = keep_best(scratch, count);
        list = arena_array(arena, count + 1, sizeof *list);
        if (!list)
            return NULL;
        memcpy(list, scratch, count * sizeof *list);
        out->years[year] = list;
        out->first[year] = first_of(list, count, (size_t)1 << part->count, arena);
        if (!out->first[year])
            return NULL;
        out->steps += (double)count +
                      pow(desk->parts->program->together ? 2 : 3, (double)part->count);
    }
    return out;
}

static bool find_all_candidates(struct desk *desk, struct arena *arena)
{
    const struct parts *parts = desk->parts;
    struct candidate *scratch = calloc(parts->most_sets + 1, sizeof *scratch);
    bool found = scratch != NULL;

    for (size_t b = 0; found && b < parts->count && watch_go(desk->watch, 1); b++)
        if (parts->list[b].prices) {
            desk->candidates[b] = find_candidates(desk, &parts->list[b], scratch, arena);
            found = desk->candidates[b] != NULL;
        }
    free(scratch);
    return found;
}

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
        .candidates = arena_array(arena, parts->count + 1, sizeof *desk->candidates),
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
    return desk->candidates && desk->trial && desk->plan && desk->seed && desk->moved &&
           desk->idle && desk->best && desk->sums && desk->sets && desk->best_set &&
           desk->members && desk->chosen && desk->alone && desk->opened &&
           find_all_candidates(desk, arena);
}

/* ---- A part's best plan ---- */

/* What a visit of a year is made of where the judge leaves a roof only some of its
 * options: any set. */
static unsigned find_listed(struct desk *desk, const struct part *part,
                            const struct judge *judge, int year, double *visit,
                            uint32_t *best_set)
{
    size_t end = 0, begin = list_sets(desk, part, judge, year, &end);
    unsigned all = 0;

    for (size_t c = begin; c < end; c++) {
        unsigned members = desk->members[c];
        double sum = desk->sums[c];

        if (members)
            sum += judge_visit(judge, desk->parts->program, part->prices[desk->sets[c]],
                               year);
        if (sum < visit[members]) {
            visit[members] = sum;
            best_set[members] = desk->sets[c];
            all |= members;
        }
    }
    return all;
}

static unsigned find_kept(struct desk *desk, const struct part *part,
                          const struct judge *judge, int year, double *visit,
                          uint32_t *best_set)
{
    const struct candidates *of = desk->candidates[part - desk->parts->list];
    const uint32_t *first = of->first[year];
    unsigned may = (1u << part->count) - 1, must = 0, all = 0;

    for (size_t i = 0; judge->domains && i < part->count; i++) {
        uint64_t years = judge->domains[part->first + i].years;

        may &= years >> year & 1 ? ~0u : ~(1u << i);
        must |= years == (uint64_t)1 << year ? 1u << i : 0;
    }
    if (!must) {
        visit[0] = 0;
        best_set[0] = 0;
    }
    for (unsigned t = may; t; t = (t - 1) & may) {
        if (must & ~t || first[t] == first[t + 1])
            continue;
        for (size_t c = first[t]; c < first[t + 1]; c++) {
            const struct candidate *kept = &of->years[year][c];
            double sum = judge->weight * kept->value +
                         judge_visit(judge, desk->parts->program, kept->price, year);

            if (sum < visit[t]) {
                visit[t] = sum;
                best_set[t] = kept->set;
                all |= t;
            }
        }
    }
    return all;
}

/* Whether the judge strikes out no option. */
static bool has_all_options(const struct parts *parts, const struct part *part,
                            const struct judge *judge)
{
    for (size_t i = 0; judge->domains && i < part->count; i++) {
        const struct program_roof *roof = part_roof(parts, part, i);
        uint32_t options = judge->domains[part->first + i].options;

        for (size_t o = 0; o < roof->option_count; o++)
            if (roof->options[o].first <= roof->options[o].last && !(options >> o & 1))
                return false;
    }
    return true;
}

/* The best visit of a year to each set of roofs. @return all roofs that are in one */
static unsigned find_visits(struct desk *desk, const struct part *part,
                            const struct judge *judge, int year, bool listed)
{
    size_t subsets = (size_t)1 << part->count;
    uint32_t *best_set = desk->best_set + (size_t)year * subsets;
    double *visit = desk->best + subsets;

    for (size_t s = 0; s < subsets; s++)
        visit[s] = INFINITY;
    return (listed ? find_listed : find_kept)(desk, part, judge, year, visit, best_set);
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

        for (unsigned t = together ? (in == s ? in : 0) : in; t;
             t = together ? 0 : (t - 1) & in) {
            double sum = best[s ^ t] + visit[t];

            if (sum < least) {
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
    bool listed = !has_all_options(desk->parts, part, judge);

    (void)watch_go(desk->watch,
                   (listed ? (double)part->sets * desk->parts->program->years : 0) +
                       desk->candidates[part - desk->parts->list]->steps);
    sum_idle(desk, part, judge);
    desk->best[0] = 0;
    for (size_t s = 1; s < subsets; s++)
        desk->best[s] = INFINITY;
    for (int year = 0; year < desk->parts->program->years; year++)
        add_year(desk, part, year, find_visits(desk, part, judge, year, listed));
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
    return known_best(desk, part, judge, picks, costs);
}

double least_plan(struct desk *desk, const struct part *part, const struct judge *judge,
                  struct program_pick *picks, money *costs)
{
    return part->prices ? best_plan(desk, part, judge, picks, costs)
                        : large_least(desk, part, judge, costs);
}
