#include "portfolio/program_parts.h"

#include <math.h>
#include <stdlib.h>

#include <xxhash.h>

enum {
    /* Buildings up to these have all their visits priced, while memory is not scarce. */
    SETS_MAX = 4096,
    ROOFS_MAX = 6,
    ALL_SETS_MAX = 1 << 23,
    /* Larger ones while there are few: sets and pairs of sets of all of them. */
    LARGE_STEPS_MAX = 1 << 21,
    /* Steps between questions to the clock and to the caller: a millisecond or so. */
    STEPS_BETWEEN = 1 << 17
};

/* ---- When to end ---- */

static double watch_seconds(const struct watch *watch)
{
    struct timespec now = {0};

    (void)clock_gettime(watch->clock, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

void watch_start(struct watch *watch, const struct program_limits *limits)
{
    *watch = (struct watch){.limits = limits, .clock = CLOCK_THREAD_CPUTIME_ID};
    watch->begin = watch_seconds(watch);
}

bool watch_go(struct watch *watch, double steps)
{
    const struct program_limits *limits = watch->limits;

    watch->steps += steps;
    if (watch->steps >= watch->next) {
        watch->next = watch->steps + STEPS_BETWEEN;
        watch->late =
            watch->late || watch_seconds(watch) - watch->begin > limits->seconds;
        watch->stopped =
            watch->stopped || (limits->stop && limits->stop(limits->stop_context));
    }
    return !watch->late && !watch->stopped;
}

/* ---- Prices ---- */

static money price_known(const struct parts *parts, const struct part *part,
                         const struct program_pick *picks, int year)
{
    size_t set = 0, base = 1;

    for (size_t i = 0; i < part->count; i++) {
        if (picks[i].option >= 0 && picks[i].year == year)
            set += base * (size_t)(picks[i].option + 1);
        base *= part_roof(parts, part, i)->option_count + 1;
    }
    return part->prices[set];
}

money part_price(const struct parts *parts, const struct part *part,
                 const struct program_pick *picks, int year, struct program_pick *scratch)
{
    const struct program *program = parts->program;
    bool any = false;

    if (part->prices)
        return price_known(parts, part, picks, year);
    for (size_t i = 0; i < part->count; i++) {
        bool in = picks[i].option >= 0 && picks[i].year == year;

        scratch[i] = (struct program_pick){in ? picks[i].option : -1, year};
        any = any || in;
    }
    return any ? program->price(program->context, part->building, scratch) : 0;
}

double part_value(const struct parts *parts, const struct part *part,
                  const struct program_pick *picks, struct program_pick *scratch,
                  money *costs)
{
    const struct program *program = parts->program;
    double sum = 0;

    for (size_t i = 0; i < part->count; i++) {
        const struct program_roof *roof = part_roof(parts, part, i);

        if (picks[i].option >= 0)
            sum += roof->options[picks[i].option].values[picks[i].year];
        else
            sum += roof->must ? 0 : roof->idle;
    }
    for (int year = 0; year < program->years; year++) {
        money price = part_price(parts, part, picks, year, scratch);

        costs[year] = visit_cost(program, price, year);
        sum += (double)price * program->present[year];
    }
    return sum;
}

/* Asks for the price of each set but the empty one. */
static bool price_sets(const struct parts *parts, struct part *part, struct watch *watch,
                       struct arena *arena)
{
    const struct program *program = parts->program;
    money *prices = arena_array(arena, part->sets, sizeof *prices);
    struct program_pick picks[PART_ROOFS_MAX];

    if (!prices)
        return false;
    for (size_t set = 1; set < part->sets && watch_go(watch, 64); set++) {
        size_t rest = set;

        for (size_t i = 0; i < part->count; i++) {
            size_t base = part_roof(parts, part, i)->option_count + 1;

            picks[i] = (struct program_pick){(int)(rest % base) - 1, 0};
            rest /= base;
        }
        prices[set] = program->price(program->context, part->building, picks);
    }
    part->prices = prices;
    return true;
}

/* ---- Order ---- */

struct key {
    double sets; /* of all visits, infinity past what is ever priced */
    XXH64_hash_t hash;
    size_t building;
};

static void hash_numbers(XXH64_hash_t *hash, const void *data, size_t size)
{
    *hash = XXH64(data, size, *hash);
}

/* Of all that the program says of a building, and of the price of all its roofs. */
static struct key key_of(const struct program *program, size_t building,
                         struct program_pick *picks)
{
    const struct program_building *of = &program->buildings[building];
    struct key key = {1, of->count, building};
    money price = 0;

    for (size_t i = 0; i < of->count; i++) {
        const struct program_roof *roof = &program->roofs[of->first + i];
        int flags[] = {(int)roof->option_count, roof->must};

        key.sets *= (double)roof->option_count + 1;
        hash_numbers(&key.hash, flags, sizeof flags);
        hash_numbers(&key.hash, &roof->idle, sizeof roof->idle);
        for (size_t o = 0; o < roof->option_count; o++) {
            const struct program_option *option = &roof->options[o];
            int window[] = {option->first, option->last};

            hash_numbers(&key.hash, window, sizeof window);
            hash_numbers(&key.hash, option->values,
                         (size_t)program->years * sizeof *option->values);
        }
        picks[i] = (struct program_pick){roof->option_count > 0 ? 0 : -1, 0};
    }
    if (key.sets > 1)
        price = program->price(program->context, building, picks);
    hash_numbers(&key.hash, &price, sizeof price);
    if (of->count > PART_ROOFS_MAX)
        key.sets = INFINITY;
    return key;
}

static int compare_keys(const void *left, const void *right)
{
    const struct key *a = left, *b = right;

    if (a->sets != b->sets)
        return a->sets < b->sets ? -1 : 1;
    if (a->hash != b->hash)
        return a->hash < b->hash ? -1 : 1;
    return a->building < b->building ? -1 : a->building > b->building;
}

/* Whether all visits to a part are priced, after those that already are. */
static bool affordable(const struct part *part, double sets, size_t *all, double *large)
{
    double steps = sets + pow(3, (double)part->count);

    if (isinf(sets) || (double)*all + sets > ALL_SETS_MAX)
        return false;
    if (part->count > ROOFS_MAX || sets > SETS_MAX) {
        if (*large + steps > LARGE_STEPS_MAX)
            return false;
        *large += steps;
    }
    *all += (size_t)sets;
    return true;
}

static bool take_apart(struct parts *parts, const struct key *keys, struct watch *watch,
                       struct arena *arena)
{
    const struct program *program = parts->program;
    double large = 0;
    size_t all = 0;
    bool kept = true;

    parts->whole = true;
    for (size_t i = 0; kept && i < parts->count; i++) {
        struct part *part = &parts->list[i];
        const struct program_building *of = &program->buildings[keys[i].building];

        *part = (struct part){keys[i].building, of->first, of->count, 0, NULL};
        if (affordable(part, keys[i].sets, &all, &large)) {
            part->sets = (size_t)keys[i].sets;
            kept = price_sets(parts, part, watch, arena);
        }
        parts->whole = parts->whole && part->prices;
        parts->most_roofs =
            part->count > parts->most_roofs ? part->count : parts->most_roofs;
        parts->most_sets = part->sets > parts->most_sets ? part->sets : parts->most_sets;
        parts->steps += (part->prices ? (double)part->sets + pow(3, (double)part->count)
                                      : 100 * (double)part->count) *
                        program->years;
    }
    return kept;
}

enum outlay_status parts_make(struct parts *parts, const struct program *program,
                              struct watch *watch, struct arena *arena,
                              struct outlay_error *err)
{
    struct program_pick *picks =
        arena_array(arena, program->roof_count + 1, sizeof *picks);
    struct key *keys = arena_array(arena, program->building_count + 1, sizeof *keys);

    *parts = (struct parts){.program = program, .count = program->building_count};
    parts->list = arena_array(arena, parts->count + 1, sizeof *parts->list);
    if (!picks || !keys || !parts->list)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (program->years < 1 || program->years > PROGRAM_YEARS_MAX)
        return outlay_fail(err, OUTLAY_E_ARGUMENT, "a program of %d years",
                           program->years);
    for (size_t i = 0; i < program->roof_count; i++)
        if (program->roofs[i].option_count > PROGRAM_OPTIONS_MAX)
            return outlay_fail(err, OUTLAY_E_ARGUMENT, "a roof with %zu options",
                               program->roofs[i].option_count);
    for (size_t i = 0; i < parts->count && watch_go(watch, 64); i++)
        keys[i] = key_of(program, i, picks);
    qsort(keys, parts->count, sizeof *keys, compare_keys);
    if (!take_apart(parts, keys, watch, arena))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    return OUTLAY_OK;
}
