#include "price/price.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "roof/basis.h"
#include "roof/layout.h"

/* What a bill comes to in hundredths, before rounding. */
struct sums {
    double material, labour, tear_off, disposal, mobilisation, permit;
};

/* ---- Bills to sums ---- */

static double item_price(const struct bill_item *item, const struct price_list *prices)
{
    const struct price *price = price_find(prices, item->use, item->item);

    if (!price || !(item->ordered > 0))
        return 0;
    if (price->by_pack)
        return item->ordered / item->holds * price->amount;
    if (price->by_volume)
        return item->ordered * item->thickness * price->amount;
    return item->ordered * price->amount;
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

/* Work in hundredths, scaled so that the hours are those of the bill. */
struct work {
    double hours; /* by items */
    double labour, tear_off;
};

static struct work sum_work(const struct bill *bill,
                            const struct price_settings *settings)
{
    struct work work = {0, 0, 0};
    double total = NAN;

    for (size_t i = 0; i < bill->count; i++) {
        const struct bill_item *item = &bill->items[i];
        double hours = item_hours(item, settings->items);
        double cost = hours * price_hour(settings->prices, item->use);

        if (item->use == USE_CREW) {
            total = item->laid;
            continue;
        }
        work.hours += hours;
        if (item->use == USE_TEAR_OFF)
            work.tear_off += cost;
        else
            work.labour += cost;
    }
    if (work.hours > 0 && isfinite(total)) {
        work.labour *= total / work.hours;
        work.tear_off *= total / work.hours;
        work.hours = total;
    }
    return work;
}

/* Large roofs go faster. @param area  of the building's roofs, m2 */
static double size_factor(const struct price_list *prices, double area)
{
    double doublings = log2(area / prices->terms[TERM_SIZE_AREA]);

    if (!isfinite(doublings))
        return 1;
    return pow(1 - prices->terms[TERM_SIZE_SHARE], fmax(fmin(doublings, 3), -3));
}

static struct sums sum_bill(const struct bill *bill,
                            const struct price_settings *settings, double size)
{
    const struct price_list *prices = settings->prices;
    struct work work = sum_work(bill, settings);
    struct sums sums = {.labour = work.labour * size, .tear_off = work.tear_off * size};

    for (size_t i = 0; i < bill->count; i++) {
        const struct bill_item *item = &bill->items[i];

        if (item->use < USE_WELD_SIDE)
            sums.material += item_price(item, prices);
        else if (item->use == USE_TEAR_OFF)
            sums.tear_off += item_price(item, prices);
        else if (item->use == USE_DEBRIS_WEIGHT || item->use == USE_DEBRIS_VOLUME)
            sums.disposal += item_price(item, prices);
        else if (item->use == USE_SET_UP) {
            sums.mobilisation += item->laid * prices->terms[TERM_MOBILISATION];
            sums.permit += item->laid * prices->terms[TERM_PERMIT];
        }
    }
    return sums;
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

static struct cost roll_up(const struct sums *sums, double hours,
                           const struct price_list *prices)
{
    const double *terms = prices->terms;
    double region = terms[TERM_REGION];
    struct cost cost = {.known = true, .hours = hours};

    cost.parts[COST_MATERIAL] = whole(sums->material * region);
    cost.parts[COST_LABOUR] = whole(sums->labour * region);
    cost.parts[COST_TEAR_OFF] = whole(sums->tear_off * region);
    cost.parts[COST_DISPOSAL] = whole(sums->disposal * region);
    cost.parts[COST_MOBILISATION] = whole(sums->mobilisation * region);
    cost.parts[COST_PERMIT] = whole(sums->permit);
    add_share(&cost, COST_PERMIT, terms[TERM_PERMIT_SHARE]);
    add_share(&cost, COST_OVERHEAD, terms[TERM_OVERHEAD]);
    add_share(&cost, COST_PROFIT, terms[TERM_PROFIT]);
    add_share(&cost, COST_CONTINGENCY, terms[TERM_CONTINGENCY]);
    cost.parts[COST_TAX] = whole(terms[TERM_TAX] * (double)cost.parts[COST_MATERIAL]);
    cost.total = sum_to(&cost, COST_PARTS);
    return cost;
}

struct cost price_rounding(const struct bill *rounding,
                           const struct price_settings *settings)
{
    struct sums sums = sum_bill(rounding, settings, 1);

    return roll_up(&sums, 0, settings->prices);
}

/* ---- Buildings ---- */

static bool has_bill(const struct roof *roof, enum method method)
{
    for (size_t k = 0; k < roof->layout_count; k++)
        if (roof->bills[k].count > 0 && roof->layouts[k].method == method)
            return true;
    return false;
}

/* Who pays for the packs that a building's roofs share; NULL for none. */
static const struct roof *carrier(const struct building *building, enum method method)
{
    const struct roof *best = NULL;

    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];

        if (has_bill(roof, method) && roof_pays_before(roof, best))
            best = roof;
    }
    return best;
}

/* Of all roofs that are laid out. */
static double laid_out_area(const struct building *building)
{
    double area = 0;

    for (size_t i = 0; i < building->roof_count; i++)
        area += building->roofs[i].layout_count > 0 ? building->roofs[i].area : 0;
    return area;
}

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

static struct cost cost_given(double hundredths, double hours, enum price_basis basis)
{
    struct cost cost = {.known = true, .basis = basis, .hours = hours};

    cost.parts[COST_GIVEN] = cost.total = whole(hundredths);
    return cost;
}

static void price_roof(const struct building *building, struct roof *roof,
                       const struct price_settings *settings, double size)
{
    enum price_basis basis = PRICE_BUILT_UP;
    double own = own_cost(roof, settings->prices, &basis);

    for (size_t k = 0; k < roof->layout_count; k++) {
        enum method method = roof->layouts[k].method;
        const struct bill *bill = &roof->bills[k];
        struct sums sums = sum_bill(bill, settings, size);
        double hours;

        roof->costs[k] = (struct cost){.known = false};
        if (bill->count == 0)
            continue;
        if (building->rounding && carrier(building, method) == roof)
            sums.material += sum_bill(&building->rounding[method], settings, 1).material;
        hours = sum_work(bill, settings).hours;
        if (k == 0 && own > 0)
            roof->costs[k] = cost_given(own, hours, basis);
        else
            roof->costs[k] = roll_up(&sums, hours, settings->prices);
    }
}

enum outlay_status price_run(struct building *building,
                             const struct price_settings *settings,
                             struct outlay_error *err)
{
    double size = size_factor(settings->prices, laid_out_area(building));

    for (size_t i = 0; i < building->roof_count; i++) {
        struct roof *roof = &building->roofs[i];

        if (roof->layout_count == 0)
            continue;
        roof->costs =
            arena_array(building->arena, roof->layout_count, sizeof *roof->costs);
        if (!roof->costs)
            return outlay_fail(err, OUTLAY_E_MEMORY, "pricing a roof");
        price_roof(building, roof, settings, size);
    }
    return OUTLAY_OK;
}
