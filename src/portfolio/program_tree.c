#include "portfolio/program_tree.h"

#include <math.h>
#include <string.h>

/* Steps of the dual at the first node, and at each later one (ours). */
enum { FIRST_STEPS = 150, NODE_STEPS = 14 };

/* How much of an older vote is left after each step of the dual. */
static const double fading = 0.8;

struct tree {
    struct dual *dual;
    struct scheme *best, *spare;
    double gap, steps;
    struct domain *domains; /* by roof of the program */
    money *forced, *rooms;  /* by part and year */
    double *votes;          /* by roof and year, the last for doing nothing */
    double open;            /* the least bound of what was left aside */
};

/* A roof's year or option, to be fixed or struck out. */
struct branch {
    size_t roof;
    bool option;
    int number;
};

double tree_allowance(double value, double gap)
{
    return fmax(gap * fabs(value), 0.5);
}

static int years_of(const struct tree *tree)
{
    return tree->dual->desk->parts->program->years;
}

/* The value of the best answer, as the dual's judge counts it. */
static double value_of(const struct tree *tree)
{
    money excess = scheme_excess(tree->best);

    if (tree->dual->judge.weight > 0)
        return excess > 0 ? INFINITY : tree->best->value;
    return (double)excess;
}

static double enough(const struct tree *tree)
{
    double value = value_of(tree);

    return isinf(value) ? value : value - tree_allowance(value, tree->gap);
}

static bool go_on(const struct tree *tree)
{
    struct watch *watch = tree->dual->desk->watch;

    return watch_go(watch, 10) && watch->steps < tree->steps;
}

/* ---- Domains ---- */

static void start_domains(struct tree *tree)
{
    const struct program *program = tree->dual->desk->parts->program;

    for (size_t i = 0; i < program->roof_count; i++) {
        const struct program_roof *roof = &program->roofs[i];
        struct domain domain = {roof->must ? 0 : (uint64_t)1 << program->years, 0};

        for (size_t o = 0; o < roof->option_count; o++)
            for (int k = roof->options[o].first; k <= roof->options[o].last; k++) {
                domain.years |= (uint64_t)1 << k;
                domain.options |= (uint32_t)1 << o;
            }
        tree->domains[i] = domain;
    }
}

/* What is certain of each part leaves the others less room. */
static void find_rooms(struct tree *tree)
{
    const struct parts *parts = tree->dual->desk->parts;
    int years = years_of(tree);

    for (int k = 0; k < years; k++) {
        money sum = 0;

        for (size_t b = 0; b < parts->count; b++) {
            money *forced = &tree->forced[b * (size_t)years + (size_t)k];

            *forced = forced_cost(tree->dual->desk, &parts->list[b], tree->domains, k);
            sum += *forced;
        }
        for (size_t b = 0; b < parts->count; b++) {
            size_t at = b * (size_t)years + (size_t)k;

            tree->rooms[at] = parts->program->caps[k] - sum + tree->forced[at];
        }
    }
}

static bool is_single(uint64_t bits)
{
    return (bits & (bits - 1)) == 0;
}

/* ---- Bounds ---- */

static void vote(struct tree *tree)
{
    const struct program *program = tree->dual->desk->parts->program;
    size_t width = (size_t)program->years + 1;

    for (size_t i = 0; i < program->roof_count; i++) {
        const struct program_pick *pick = &tree->dual->picks[i];
        double *votes = tree->votes + i * width;

        for (size_t k = 0; k < width; k++)
            votes[k] *= fading;
        votes[pick->option < 0 ? program->years : pick->year] += 1 - fading;
    }
}

/* The plans of the dual's last tolls may be an answer. */
static void try_plans(struct tree *tree)
{
    if (scheme_take(tree->spare, tree->dual->picks) &&
        scheme_better(tree->spare, tree->best))
        scheme_copy(tree->best, tree->spare);
}

/* @return no answer in the domains is below; the dual's tolls are near its best */
static double node_bound(struct tree *tree, int steps)
{
    struct dual *dual = tree->dual;

    find_rooms(tree);
    dual_again(dual);
    for (int i = 0; i < steps && dual->bound < enough(tree) && go_on(tree); i++) {
        if (dual_step(dual, value_of(tree)) == INFINITY)
            return INFINITY;
        if (!go_on(tree))
            break;
        vote(tree);
        try_plans(tree);
    }
    return dual->bound;
}

/* ---- Branches ---- */

/* The most likely year of a roof. @return its share of the votes; 2: nothing is open */
static double settled(const struct tree *tree, size_t roof, struct branch *branch)
{
    const struct domain *domain = &tree->domains[roof];
    int years = years_of(tree);
    const double *votes = tree->votes + roof * (size_t)(years + 1);
    double most = -1, sum = 0;

    *branch = (struct branch){.roof = roof};
    if (is_single(domain->years)) {
        if (domain->years >> years || is_single(domain->options))
            return 2;
        branch->option = true;
        while (!(domain->options >> branch->number & 1))
            branch->number++;
        return 1;
    }
    for (int k = 0; k <= years; k++) {
        if (!(domain->years >> k & 1))
            continue;
        sum += votes[k];
        if (votes[k] > most) {
            most = votes[k];
            branch->number = k;
        }
    }
    return sum > 0 ? most / sum : 1;
}

/* The roof that is least settled, in the order of the parts. @return false when all roofs
 * have one way left */
static bool choose(const struct tree *tree, struct branch *branch)
{
    const struct parts *parts = tree->dual->desk->parts;
    double least = 2;

    for (size_t b = 0; b < parts->count; b++)
        for (size_t i = 0; i < parts->list[b].count; i++) {
            struct branch found;
            double share = settled(tree, parts->list[b].first + i, &found);

            if (share < least) {
                least = share;
                *branch = found;
            }
        }
    return least < 2;
}

/* Fixes (or strikes out) what a branch says. */
static void narrow(struct domain *domain, const struct branch *branch, bool fix)
{
    if (branch->option) {
        uint32_t bit = (uint32_t)1 << branch->number;

        domain->options &= fix ? bit : ~bit;
    } else {
        uint64_t bit = (uint64_t)1 << branch->number;

        domain->years &= fix ? bit : ~bit;
    }
}

/* Looks at all below a node. What is struck out leaves the same node with less, so that
 * only fixing goes deeper.
 * @param bound  no answer in the domains is below */
static void search(struct tree *tree, double bound) // NOLINT(misc-no-recursion)
{
    size_t roofs = tree->dual->desk->parts->program->roof_count;
    size_t size = (size_t)years_of(tree) * sizeof *tree->dual->toll;
    double toll[PROGRAM_YEARS_MAX];
    struct domain kept[TREE_ROOFS_MAX];

    memcpy(kept, tree->domains, roofs * sizeof *kept);
    memcpy(toll, tree->dual->toll, size);
    while (bound < enough(tree) && go_on(tree)) {
        struct branch branch = {0};
        struct domain whole;

        if (!choose(tree, &branch)) {
            try_plans(tree);
            bound = INFINITY;
            break;
        }
        whole = tree->domains[branch.roof];
        narrow(&tree->domains[branch.roof], &branch, true);
        search(tree, fmax(bound, node_bound(tree, NODE_STEPS)));
        tree->domains[branch.roof] = whole;
        memcpy(tree->dual->toll, toll, size);
        narrow(&tree->domains[branch.roof], &branch, false);
        bound = fmax(bound, node_bound(tree, NODE_STEPS));
        memcpy(toll, tree->dual->toll, size);
    }
    memcpy(tree->domains, kept, roofs * sizeof *kept);
    tree->open = fmin(tree->open, bound);
}

bool tree_search(struct dual *dual, struct scheme *best, struct scheme *spare, double gap,
                 double steps, struct arena *arena, double *bound)
{
    const struct parts *parts = dual->desk->parts;
    size_t years = (size_t)parts->program->years, roofs = parts->program->roof_count + 1;
    struct tree tree = {
        .dual = dual,
        .best = best,
        .spare = spare,
        .gap = gap,
        .steps = steps,
        .domains = arena_array(arena, roofs, sizeof *tree.domains),
        .forced = arena_array(arena, (parts->count + 1) * years, sizeof *tree.forced),
        .rooms = arena_array(arena, (parts->count + 1) * years, sizeof *tree.rooms),
        .votes = arena_array(arena, roofs * (years + 1), sizeof *tree.votes),
        .open = INFINITY,
    };

    if (!tree.domains || !tree.forced || !tree.rooms || !tree.votes)
        return false;
    start_domains(&tree);
    dual->judge.domains = tree.domains;
    dual->rooms = tree.rooms;
    search(&tree, fmax(*bound, node_bound(&tree, FIRST_STEPS)));
    dual->judge.domains = NULL;
    dual->rooms = NULL;
    *bound = fmin(tree.open, value_of(&tree));
    return true;
}
