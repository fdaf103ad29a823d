#include "price/price.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/grow.h"
#include "price/visit.h"
#include "roof/basis.h"
#include "roof/layout.h"

/* ---- Bills to sums ---- */

/* NAN where there is none: of goods that the catalogue lacks, by the pack. */
static double unit_price(const struct bill_item *item, const struct price_list *prices)
{
    const struct price *price = price_find(prices, item->use, item->item);

    if (!price)
        return NAN;
    if (price->by_pack)
        return price->amount / item->holds;
    return price->by_volume ? item->thickness * price->amount : price->amount;
}

/* Puts prices to goods; work has none of its own. */
static void price_goods(struct bill *bill, const struct price_list *prices)
{
    for (size_t i = 0; i < bill->count; i++) {
        struct bill_item *item = &bill->items[i];

        item->price = item->use < USE_WELD_SIDE
                          ? unit_price(item, prices) * prices->terms[TERM_REGION]
                          : NAN;
    }
}

/* Hours of one item's work, before the height factor. */
static double item_hours(const struct bill_item *item, const struct item_list *items)
{
    const struct item *found = item_find(items, item->use, DECK_NOT_GIVEN);

    for (size_t i = 0; i < items->count; i++)
        if (items->items[i].use == item->use &&
            strcmp(items->items[i].name, item->item) == 0)
            found = &items->items[i];
    return found && item->laid > 0 ? item->laid * found->hours : 0;
}

/* Work in hundredths, without the set-up and before the height factor. */
struct work {
    double hours, labour, tear_off;
    double height; /* by which the bill's hours are more than its items' */
};

static struct work sum_work(const struct bill *bill,
                            const struct price_settings *settings)
{
    struct work work = {.height = 1};
    double total = NAN, sum = 0;

    for (size_t i = 0; i < bill->count; i++) {
        const struct bill_item *item = &bill->items[i];
        double hours = item_hours(item, settings->items);
        double cost = hours * price_hour(settings->prices, item->use);

        if (item->use == USE_CREW) {
            total = item->laid;
            continue;
        }
        sum += hours;
        if (item->use == USE_SET_UP)
            continue;
        work.hours += hours;
        if (item->use == USE_TEAR_OFF)
            work.tear_off += cost;
        else
            work.labour += cost;
    }
    if (sum > 0 && isfinite(total))
        work.height = total / sum;
    return work;
}

/* ---- Quotes ---- */

/* Without what a visit costs once, and without rounding up to packs. */
static struct quote sum_bill(const struct bill *bill,
                             const struct price_settings *settings)
{
    struct work work = sum_work(bill, settings);
    struct quote quote = {.labour = work.labour * work.height,
                          .tear_off = work.tear_off * work.height,
                          .hours = work.hours * work.height,
                          .height = work.height};

    for (size_t i = 0; i < bill->count; i++) {
        const struct bill_item *item = &bill->items[i];
        double price =
            item->ordered > 0 ? item->ordered * unit_price(item, settings->prices) : 0;

        quote.material += bill_money(item->ordered, item->price);
        if (item->use == USE_TEAR_OFF)
            quote.machines += price;
        else if (item->use == USE_DEBRIS_WEIGHT || item->use == USE_DEBRIS_VOLUME)
            quote.disposal += price;
    }
    return quote;
}

static const struct quote *only_quote(const void *context, size_t i)
{
    (void)i;
    return context;
}

struct cost price_material(money material, const struct price_settings *settings)
{
    struct visit_prices prices = visit_prices_of(settings->prices, settings->items);
    struct quote quote = {.material = material};
    struct visit visit = visit_of(only_quote, &quote, 1);

    visit.set_up = visit.count;
    return visit_share(&visit, 0, &prices);
}

/* Screws of boards hold the membrane too, but where it is fastened in its seams. */
static bool holds_membrane(enum item_use use, enum method method)
{
    if (use == USE_BOARD_SCREW || use == USE_BOARD_PLATE)
        return method != METHOD_SEAM_FASTENED;
    return use == USE_SEAM_PLATE || use == USE_SEAM_SCREW || use == USE_WELD_PLATE;
}

struct cost_shares price_shares(const struct roof *roof,
                                const struct price_settings *settings)
{
    const struct cost *cost = &roof->costs[0];
    const struct bill *bill = &roof->bills[0];
    double region = settings->prices->terms[TERM_REGION];
    double height = roof->quotes[0].height, fasteners = 0, whole = 0;

    for (int part = COST_MATERIAL; part <= COST_MOBILISATION; part++)
        whole += (double)cost->parts[part];
    if (cost->basis != PRICE_BUILT_UP || !(whole > 0))
        return (struct cost_shares){0, 0};
    for (size_t i = 0; i < bill->count; i++) {
        const struct bill_item *item = &bill->items[i];
        double rate = price_hour(settings->prices, item->use);

        if (!holds_membrane(item->use, roof->method))
            continue;
        fasteners += (double)bill_money(item->ordered, item->price) +
                     item_hours(item, settings->items) * rate * height * region;
    }
    return (struct cost_shares){fasteners / whole,
                                (double)cost->parts[COST_MOBILISATION] / whole};
}

/* ---- Goods that a building's roofs buy together ---- */

/* Kinds of goods and the items that they are of, while they are listed. */
struct kinds {
    struct good_list list;
    const struct bill_item **items; /* of each kind */
    size_t room, item_room;
};

/* The number of an item's kind, a new one where it has none. */
static bool find_kind(struct arena *arena, struct kinds *kinds, enum method method,
                      const struct bill_item *item, size_t *out)
{
    struct good_list *list = &kinds->list;
    struct good_kind *grown = NULL;
    const struct bill_item **items = NULL;

    for (*out = 0; *out < list->count; ++*out)
        if (list->kinds[*out].method == method &&
            bill_same_goods(kinds->items[*out], item))
            return true;
    grown = grow_in(arena, list->kinds, list->count, 1, &kinds->room, sizeof *grown);
    items = grow_in(arena, (void *)kinds->items, list->count, 1, &kinds->item_room,
                    sizeof *items);
    if (!grown || !items)
        return false;
    list->kinds = grown;
    kinds->items = items;
    items[list->count] = item;
    grown[list->count++] = (struct good_kind){method, item->holds, item->price};
    return true;
}

static bool list_goods(struct arena *arena, struct kinds *kinds, const struct bill *bill,
                       struct quote *quote)
{
    struct quote_good *goods = arena_array(arena, bill->count + 1, sizeof *goods);
    bool listed = goods != NULL;

    for (size_t i = 0; listed && i < bill->count; i++) {
        struct quote_good *good = &goods[quote->good_count];

        if (isnan(bill->items[i].price) || isnan(bill->items[i].ordered))
            continue;
        listed = find_kind(arena, kinds, quote->method, &bill->items[i], &good->kind);
        good->ordered = bill->items[i].ordered;
        quote->good_count++;
    }
    quote->list = &kinds->list;
    quote->goods = goods;
    return listed;
}

/* ---- Buildings ---- */

/* What beats the built-up cost, in hundredths; 0: nothing does. */
static double own_cost(const struct roof *roof, const struct price_list *prices,
                       enum price_basis *basis)
{
    const struct attributes *given = &roof->given;
    double by_kind = prices->roof_rates[given->existing];

    *basis = PRICE_GIVEN;
    if (given->cost > 0)
        return given->cost * 100;
    if (given->cost_per_area > 0)
        return given->cost_per_area * 100 * roof->area;
    *basis = PRICE_BY_KIND;
    if (isnan(by_kind))
        by_kind = prices->roof_rates[EXISTING_NOT_GIVEN];
    return isnan(by_kind) ? 0 : by_kind * roof->area;
}

static struct quote quote_given(double hundredths, const struct quote *built_up,
                                enum price_basis basis)
{
    return (struct quote){.basis = basis,
                          .flat = llround(hundredths),
                          .hours = built_up->hours,
                          .height = built_up->height};
}

/* The roof's own cost pays for them. */
static void unprice_goods(struct bill *bill)
{
    for (size_t i = 0; i < bill->count; i++) {
        bill->items[i].price = NAN;
        bill->items[i].paid = true;
    }
}

static bool quote_roof(const struct building *building, struct roof *roof,
                       const struct price_settings *settings, struct kinds *kinds)
{
    enum price_basis basis = PRICE_BUILT_UP;
    double own = own_cost(roof, settings->prices, &basis);

    roof->costs = arena_array(building->arena, roof->layout_count, sizeof *roof->costs);
    roof->quotes = arena_array(building->arena, roof->layout_count, sizeof *roof->quotes);
    if (!roof->costs || !roof->quotes)
        return false;
    for (size_t k = 0; k < roof->layout_count; k++) {
        struct quote *quote = &roof->quotes[k];
        struct bill *bill = &roof->bills[k];

        price_goods(bill, settings->prices);
        *quote = sum_bill(bill, settings);
        if (k == 0 && own > 0) {
            *quote = quote_given(own, quote, basis);
            unprice_goods(bill);
        }
        quote->area = roof->area;
        quote->method = roof->layouts[k].method;
        if (building->shares_packs && quote->flat == 0 &&
            !list_goods(building->arena, kinds, bill, quote))
            return false;
    }
    return true;
}

/* Roofs of a building in the order in which they pay, laid by one method. */
struct laid {
    struct roof *const *roofs;
    enum method method;
};

/* Of the layout by that method; layout_count: none was counted. */
static size_t layout_of(const struct roof *roof, enum method method)
{
    for (size_t k = 0; k < roof->layout_count; k++)
        if (roof->layouts[k].method == method && roof->bills[k].count > 0)
            return k;
    return roof->layout_count;
}

static const struct quote *laid_quote(const void *context, size_t i)
{
    const struct laid *laid = context;
    const struct roof *roof = laid->roofs[i];
    size_t k = layout_of(roof, laid->method);

    return k < roof->layout_count ? &roof->quotes[k] : NULL;
}

static bool has_set_up(const struct bill *bill)
{
    for (size_t i = 0; i < bill->count; i++)
        if (bill->items[i].use == USE_SET_UP)
            return true;
    return false;
}

/* As a visit of all roofs that are laid out by that method; the set-up is paid by the
 * roof whose bill has it. @param area  of all roofs that are laid out */
static void price_method(struct laid laid, size_t count, double area,
                         const struct visit_prices *prices)
{
    struct visit visit = visit_of(laid_quote, &laid, count);

    visit.area = area;
    visit.set_up = count;
    for (size_t i = 0; i < count; i++) {
        const struct roof *roof = laid.roofs[i];
        size_t k = layout_of(roof, laid.method);

        if (k < roof->layout_count && has_set_up(&roof->bills[k]))
            visit.set_up = i;
    }
    for (size_t i = 0; i < count; i++) {
        struct roof *roof = laid.roofs[i];
        size_t k = layout_of(roof, laid.method);

        if (k < roof->layout_count)
            roof->costs[k] = visit_share(&visit, i, prices);
    }
}

static int compare_payers(const void *of_a, const void *of_b)
{
    const struct roof *a = *(struct roof *const *)of_a, *b = *(struct roof *const *)of_b;

    if (roof_pays_before(a, b) != roof_pays_before(b, a))
        return roof_pays_before(a, b) ? -1 : 1;
    return (a->position > b->position) - (a->position < b->position);
}

enum outlay_status price_run(struct building *building,
                             const struct price_settings *settings,
                             struct outlay_error *err)
{
    struct visit_prices prices = visit_prices_of(settings->prices, settings->items);
    struct kinds *kinds = arena_array(building->arena, 1, sizeof *kinds);
    struct roof **roofs =
        arena_array(building->arena, building->roof_count, sizeof *roofs);
    size_t count = 0;
    double area = 0;
    bool quoted = kinds && roofs;

    for (size_t i = 0; quoted && i < building->roof_count; i++) {
        struct roof *roof = &building->roofs[i];

        if (roof->layout_count == 0)
            continue;
        quoted = quote_roof(building, roof, settings, kinds);
        roofs[count++] = roof;
        area += roof->area;
    }
    if (!quoted)
        return outlay_fail(err, OUTLAY_E_MEMORY, "pricing a roof");
    qsort(roofs, count, sizeof *roofs, compare_payers);
    for (int method = 0; method < METHOD_KINDS; method++)
        price_method((struct laid){roofs, (enum method)method}, count, area, &prices);
    for (size_t i = 0; i < count; i++)
        if (roofs[i]->costs[0].known && roofs[i]->costs[0].basis != PRICE_GIVEN)
            roof_assume(roofs[i], ASSUME_PRICES);
    return OUTLAY_OK;
}
