#include "portfolio/choice_improve.h"

#include <stdlib.h>
#include <string.h>

/* Passes over all pairs; they end sooner when nothing falls any more, and after a few
 * where the sum is low enough. */
#define PASSES_MAX 40
#define PASSES_LEAST 3

/* Pairs are tried among so many units only: a pass over more takes minutes, and the
 * larger the portfolio, the less a single pair is worth. */
#define PAIR_UNITS_MAX 20000

/* ---- Rounding ---- */

struct placed {
    money cost;
    size_t unit;
};

/* Those that must be done first, then the dear ones: they are hard to place. */
static int compare_placed(const void *of_a, const void *of_b)
{
    const struct placed *a = of_a, *b = of_b;

    if (a->cost != b->cost)
        return a->cost > b->cost ? -1 : 1;
    return a->unit < b->unit ? -1 : a->unit > b->unit;
}

static int best_year(const struct choice *choice, const double *shares, const money *left,
                     size_t unit)
{
    const struct choice_unit *of = &choice->unit[unit];
    int best = choice->years;

    for (int year = of->first; year <= of->last; year++) {
        const double *own = &shares[unit * (size_t)choice->years];
        bool nearer = best == choice->years || own[year] > own[best] ||
                      (own[year] == own[best] && choice_value(choice, unit, year) <
                                                     choice_value(choice, unit, best));

        if (choice_cost(choice, unit, year) <= left[year] && nearer)
            best = year;
    }
    return best;
}

static bool place(const struct choice *choice, const double *shares, money *left,
                  int *years, size_t unit)
{
    const struct choice_unit *of = &choice->unit[unit];
    int year = best_year(choice, shares, left, unit);
    bool worth = year < choice->years && choice_value(choice, unit, year) <
                                             choice_value(choice, unit, choice->years);

    years[unit] = choice->years;
    if (year == choice->years || (!of->must && !worth))
        return !of->must;
    years[unit] = year;
    left[year] -= choice_cost(choice, unit, year);
    return true;
}

bool choice_round(const struct choice *choice, const double *shares, struct arena *arena,
                  int *years)
{
    struct placed *order = arena_array(arena, choice->units + 1, sizeof *order);
    money *left = arena_array(arena, (size_t)choice->years, sizeof *left);
    bool whole = order && left;

    if (!whole)
        return false;
    for (int year = 0; year < choice->years; year++)
        left[year] = choice->caps[year];
    for (size_t unit = 0; unit < choice->units; unit++) {
        const double *own = &shares[unit * (size_t)choice->years];
        double sum = 0;
        int first = choice->unit[unit].first;
        bool allowed = first <= choice->unit[unit].last;

        for (int year = 0; year < choice->years; year++)
            sum = own[year] > sum ? own[year] : sum;
        order[unit].unit = unit;
        order[unit].cost = allowed ? choice_cost(choice, unit, first) : 0;
        /* What the shares have settled comes before what they leave open. */
        order[unit].cost += sum > 0.99 ? INT64_MAX / 8 : 0;
        order[unit].cost += choice->unit[unit].must ? INT64_MAX / 4 : 0;
    }
    qsort(order, choice->units, sizeof *order, compare_placed);
    for (size_t i = 0; whole && i < choice->units; i++)
        whole = place(choice, shares, left, years, order[i].unit);
    return whole;
}

/* ---- Steps ---- */

struct search {
    const struct choice *choice;
    int *years;
    money *left;    /* of the caps; of later: as much as one likes */
    money *changes; /* room for find_changes() */
};

static bool allowed(const struct search *search, size_t unit, int year)
{
    const struct choice_unit *of = &search->choice->unit[unit];

    return year == search->choice->years ? !of->must
                                         : year >= of->first && year <= of->last;
}

static money cost_in(const struct search *search, size_t unit, int year)
{
    return year == search->choice->years ? 0 : choice_cost(search->choice, unit, year);
}

static money change(const struct search *search, size_t unit, int to)
{
    return choice_value(search->choice, unit, to) -
           choice_value(search->choice, unit, search->years[unit]);
}

static void move(struct search *search, size_t unit, int to)
{
    search->left[search->years[unit]] += cost_in(search, unit, search->years[unit]);
    search->left[to] -= cost_in(search, unit, to);
    search->years[unit] = to;
}

static bool try_move(struct search *search, size_t unit)
{
    int best = search->years[unit];

    for (int to = 0; to <= search->choice->years; to++)
        if (to != search->years[unit] && allowed(search, unit, to) &&
            cost_in(search, unit, to) <= search->left[to] &&
            change(search, unit, to) < change(search, unit, best))
            best = to;
    if (best == search->years[unit])
        return false;
    move(search, unit, best);
    return true;
}

/* a takes the place of b; b goes where a was, or to any year with room. */
static bool try_pair(struct search *search, size_t a, size_t b)
{
    int from = search->years[a], to = search->years[b];
    money gain = from == to || !allowed(search, a, to) ? 0 : change(search, a, to);
    money room = search->left[to] + cost_in(search, b, to) - cost_in(search, a, to);
    int best = -1;

    if (gain >= 0 || room < 0)
        return false;
    for (int other = 0; other <= search->choice->years; other++) {
        money left = search->left[other] + (other == from ? cost_in(search, a, from) : 0);

        if (other == to || !allowed(search, b, other) || cost_in(search, b, other) > left)
            continue;
        if (best < 0 || change(search, b, other) < change(search, b, best))
            best = other;
    }
    if (best < 0 || gain + change(search, b, best) >= 0)
        return false;
    move(search, b, best);
    move(search, a, to);
    return true;
}

/* What moving a unit to each year would change; 0 where it may not go. */
static void find_changes(const struct search *search, size_t unit, money *out)
{
    for (int to = 0; to <= search->choice->years; to++)
        out[to] = allowed(search, unit, to) ? change(search, unit, to) : 0;
}

/* a is tried only where another stands in a year that it gains by. */
static bool try_pairs(struct search *search, size_t a)
{
    bool better = false;

    find_changes(search, a, search->changes);
    for (size_t b = 0; b < search->choice->units; b++) {
        if (search->changes[search->years[b]] >= 0 || a == b || !try_pair(search, a, b))
            continue;
        find_changes(search, a, search->changes);
        better = true;
    }
    return better;
}

static bool pass(struct search *search)
{
    size_t units = search->choice->units;
    bool better = false;

    for (size_t a = 0; a < units; a++)
        better = try_move(search, a) || better;
    for (size_t a = 0; units <= PAIR_UNITS_MAX && a < units; a++)
        better = try_pairs(search, a) || better;
    return better;
}

/* ---- Shaking ---- */

/* Steps for a portfolio of so many units, so that all take about as long. */
static size_t shakes(size_t units)
{
    size_t count = 20000000 / (units + 1);

    return count < 1000 ? 1000 : count > 100000 ? 100000 : count;
}

/* xorshift64: the same numbers on every machine. */
static size_t random_below(uint64_t *state, size_t count)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return (size_t)(*state >> 11) % count;
}

/* To the best year with room. @return false when it must be done and fits nowhere */
static bool insert(struct search *search, size_t unit)
{
    const struct choice_unit *of = &search->choice->unit[unit];

    (void)try_move(search, unit);
    for (int year = of->first;
         of->must && search->years[unit] == search->choice->years && year <= of->last;
         year++)
        if (cost_in(search, unit, year) <= search->left[year])
            move(search, unit, year);
    return !of->must || search->years[unit] < search->choice->years;
}

enum { SHAKEN = 6 };

/* Takes some units out, puts them back another way, and settles what is around them. */
static bool shake(struct search *search, uint64_t *state)
{
    size_t units = search->choice->units, taken[SHAKEN];
    size_t count = 2 + random_below(state, SHAKEN - 1);
    bool whole = true;

    for (size_t i = 0; i < count; i++) {
        taken[i] = random_below(state, units);
        move(search, taken[i], search->choice->years);
    }
    for (size_t i = 0; whole && i < count; i++)
        whole = insert(search, taken[i]);
    for (size_t i = 0; whole && i < count; i++)
        for (size_t b = 0; b < units; b++)
            if (b != taken[i] && !try_pair(search, taken[i], b))
                (void)try_pair(search, b, taken[i]);
    return whole;
}

static money sum_of(const struct search *search)
{
    money sum = 0;

    for (size_t unit = 0; unit < search->choice->units; unit++)
        sum += choice_value(search->choice, unit, search->years[unit]);
    return sum;
}

static void shake_long(struct search *search, double enough, struct arena *arena)
{
    size_t units = search->choice->units, years = (size_t)search->choice->years + 1;
    int *kept = arena_array(arena, units, sizeof *kept);
    money *left = arena_array(arena, years, sizeof *left);
    money best = sum_of(search);
    uint64_t state = 88172645463325252u;

    for (size_t i = 0; kept && left && units > 1 && i < shakes(units); i++) {
        money sum;

        if ((double)best <= enough)
            break;
        memcpy(kept, search->years, units * sizeof *kept);
        memcpy(left, search->left, years * sizeof *left);
        sum = shake(search, &state) ? sum_of(search) : best + 1;
        if (sum <= best) {
            best = sum;
            continue;
        }
        memcpy(search->years, kept, units * sizeof *kept);
        memcpy(search->left, left, years * sizeof *left);
    }
}

void choice_improve(const struct choice *choice, double enough, struct arena *arena,
                    int *years)
{
    size_t count = (size_t)choice->years + 1;
    struct search search = {choice, years, arena_array(arena, count, sizeof(money)),
                            arena_array(arena, count, sizeof(money))};

    if (!search.left || !search.changes)
        return;
    for (int year = 0; year < choice->years; year++)
        search.left[year] = choice->caps[year];
    search.left[choice->years] = 0;
    for (size_t unit = 0; unit < choice->units; unit++)
        if (years[unit] < choice->years)
            search.left[years[unit]] -= choice_cost(choice, unit, years[unit]);
    for (int i = 0; i < PASSES_MAX && pass(&search); i++)
        if (i >= PASSES_LEAST && (double)sum_of(&search) <= enough)
            break;
    shake_long(&search, enough, arena);
}
