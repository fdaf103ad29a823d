#include "price/visit.h"

#include <math.h>

struct visit_prices visit_prices_of(const struct price_list *prices,
                                    const struct item_list *items)
{
    const struct item *set_up = item_find(items, USE_SET_UP, DECK_NOT_GIVEN);
    double hours = set_up ? set_up->hours : 0;
    struct visit_prices out = {.once = {.mobilisation = prices->terms[TERM_MOBILISATION],
                                        .permit = prices->terms[TERM_PERMIT],
                                        .labour = hours * price_hour(prices, USE_SET_UP),
                                        .hours = hours}};

    for (int term = 0; term < PRICE_TERMS; term++)
        out.terms[term] = prices->terms[term];
    return out;
}

/* ---- What depends on the visit ---- */

/* Large ones go faster. */
static double size_factor(const double terms[PRICE_TERMS], double area)
{
    double doublings = log2(area / terms[TERM_SIZE_AREA]);

    if (!isfinite(doublings))
        return 1;
    return pow(1 - terms[TERM_SIZE_SHARE], fmax(fmin(doublings, 3), -3));
}

static bool same_packs(const struct quote *a, const struct quote *b)
{
    return b && b->list == a->list && b->method == a->method;
}

/* Whether member i is the first whose goods come in its packs. */
static bool pays_packs(const struct visit *visit, size_t i, const struct quote *of)
{
    if (!of->list)
        return false;
    for (size_t k = 0; k < i; k++)
        if (same_packs(of, visit->quote(visit->context, k)))
            return false;
    return true;
}

enum { KINDS_AT_ONCE = 64 };

/* What is ordered of a kind, and what the roofs by themselves pay for it. */
struct good_sum {
    double ordered;
    money paid;
};

/* Adds what a roof orders of the kinds from `first` on. */
static void add_goods(struct good_sum sums[KINDS_AT_ONCE], const struct quote *of,
                      size_t first)
{
    for (size_t k = 0; k < of->good_count; k++) {
        const struct quote_good *good = &of->goods[k];

        if (good->kind < first || good->kind >= first + KINDS_AT_ONCE)
            continue;
        sums[good->kind - first].ordered += good->ordered;
        sums[good->kind - first].paid +=
            bill_money(good->ordered, of->list->kinds[good->kind].price);
    }
}

/* What a line of the order costs more than its roofs pay for it. */
static money line_rest(const struct good_kind *kind, const struct good_sum *sum)
{
    double ordered = sum->ordered;

    if (isfinite(kind->holds))
        ordered = bill_packs(ordered, kind->holds) * kind->holds;
    return bill_money(ordered, kind->price) - sum->paid;
}

/* What rounding the visit's goods up to packs costs, for those of one method. */
static money rounding(const struct visit *visit, size_t payer, const struct quote *of)
{
    const struct good_list *list = of->list;
    money cost = 0;

    for (size_t first = 0; first < list->count; first += KINDS_AT_ONCE) {
        struct good_sum sums[KINDS_AT_ONCE] = {{0, 0}};

        for (size_t i = payer; i < visit->count; i++) {
            const struct quote *quote = visit->quote(visit->context, i);

            if (same_packs(of, quote))
                add_goods(sums, quote, first);
        }
        for (size_t k = first; k < list->count && k < first + KINDS_AT_ONCE; k++)
            cost += line_rest(&list->kinds[k], &sums[k - first]);
    }
    return cost;
}

/* ---- Sums to costs ---- */

static money whole(double hundredths)
{
    return (money)llround(hundredths);
}

static money sum_to(const struct cost *cost, enum cost_part end)
{
    money sum = 0;

    for (int part = 0; part < (int)end; part++)
        sum += cost->parts[part];
    return sum;
}

static void add_share(struct cost *cost, enum cost_part part, double share)
{
    cost->parts[part] += whole(share * (double)sum_to(cost, part));
}

/* @param material  with what rounding up adds @param once  what this roof pays of it */
static struct cost roll_up(const struct quote *of, money material, double size,
                           const struct visit_once *once, const double terms[PRICE_TERMS])
{
    double region = terms[TERM_REGION];
    double labour = of->labour + once->labour * of->height;
    struct cost cost = {
        .known = true, .basis = of->basis, .hours = of->hours + once->hours * of->height};

    cost.parts[COST_MATERIAL] = material;
    cost.parts[COST_LABOUR] = whole(labour * size * region);
    cost.parts[COST_TEAR_OFF] = whole((of->tear_off * size + of->machines) * region);
    cost.parts[COST_DISPOSAL] = whole(of->disposal * region);
    cost.parts[COST_MOBILISATION] = whole(once->mobilisation * region);
    cost.parts[COST_PERMIT] = whole(once->permit);
    add_share(&cost, COST_PERMIT, terms[TERM_PERMIT_SHARE]);
    add_share(&cost, COST_OVERHEAD, terms[TERM_OVERHEAD]);
    add_share(&cost, COST_PROFIT, terms[TERM_PROFIT]);
    add_share(&cost, COST_CONTINGENCY, terms[TERM_CONTINGENCY]);
    cost.parts[COST_TAX] = whole(terms[TERM_TAX] * (double)cost.parts[COST_MATERIAL]);
    cost.parts[COST_GIVEN] = of->flat;
    cost.total = sum_to(&cost, COST_PARTS);
    return cost;
}

static struct cost share_of(const struct visit *visit, size_t i, bool pays_once,
                            double size, const struct visit_prices *prices)
{
    static const struct visit_once nothing = {0, 0, 0, 0};
    const struct quote *of = visit->quote(visit->context, i);
    money material = of->material;

    if (pays_packs(visit, i, of))
        material += rounding(visit, i, of);
    return roll_up(of, material, size, pays_once ? &prices->once : &nothing,
                   prices->terms);
}

struct cost visit_share(const struct visit *visit, size_t i,
                        const struct visit_prices *prices)
{
    return share_of(visit, i, i == visit->set_up, size_factor(prices->terms, visit->area),
                    prices);
}

struct visit visit_of(const struct quote *(*quote)(const void *context, size_t i),
                      const void *context, size_t count)
{
    struct visit visit = {
        .quote = quote, .context = context, .count = count, .set_up = count};

    for (size_t i = 0; i < count; i++) {
        const struct quote *of = quote(context, i);

        if (!of)
            continue;
        visit.area += of->area;
        if (visit.set_up == count)
            visit.set_up = i;
    }
    return visit;
}

money visit_total(const struct visit *visit, const struct visit_prices *prices,
                  money *fixed)
{
    double size = size_factor(prices->terms, visit->area);
    money total = 0;

    for (size_t i = 0; i < visit->count; i++)
        if (visit->quote(visit->context, i))
            total += share_of(visit, i, i == visit->set_up, size, prices).total;
    if (fixed)
        *fixed = visit->set_up == visit->count
                     ? 0
                     : share_of(visit, visit->set_up, true, size, prices).total -
                           share_of(visit, visit->set_up, false, size, prices).total;
    return total;
}
