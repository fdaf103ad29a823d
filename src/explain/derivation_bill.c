/* What is ordered for the roof and what it costs, as the tables have it. */

#include <math.h>
#include <string.h>

#include "base/plural.h"
#include "explain/derivation_parts.h"
#include "roof/bill.h"
#include "write/bill_unit.h"

/* ---- Rolls ---- */

/* How sheets of one width come off their rolls. */
struct rolls {
    int rolls;
    size_t pieces;
    double length, rest; /* m */
};

static struct rolls rolls_of(const struct bill *bill, enum item_use use)
{
    struct rolls sum = {0, 0, 0, 0};

    for (size_t i = 0; i < bill->piece_count; i++) {
        const struct roll_piece *piece = &bill->pieces[i];
        bool last = i + 1 == bill->piece_count || piece[1].use != use ||
                    piece[1].roll != piece->roll;

        if (piece->use != use)
            continue;
        sum.rolls = piece->roll > sum.rolls ? piece->roll : sum.rolls;
        sum.pieces++;
        sum.length += piece->length;
        sum.rest += last ? piece->rest : 0;
    }
    return sum;
}

static void put_rolls(const struct derivation *derivation, const struct bill *bill,
                      enum item_use use)
{
    const struct unit *length = &derivation->units->length;
    struct rolls rolls = rolls_of(bill, use);
    struct text *out = derivation->out;

    if (rolls.rolls == 0)
        return;
    text_printf(out, "   %s: %zu piece%s of together ", item_use_name((int)use),
                rolls.pieces, PLURAL(rolls.pieces));
    put_quantity(derivation, rolls.length, length);
    text_printf(out, ", end laps counted in, from %d roll%s; ", rolls.rolls,
                PLURAL(rolls.rolls));
    put_quantity(derivation, rolls.rest, length);
    text_puts(out, " left over (rolls.csv lists each)\n");
}

/* ---- Edges ---- */

static void put_measure(const struct derivation *derivation, double value,
                        enum bill_measure measure)
{
    struct bill_unit unit = bill_unit_of(measure, derivation->set);

    text_grouped(derivation->out, value / unit.factor, unit.decimals);
    if (measure != BILL_EACH)
        text_printf(derivation->out, " %s", unit.name);
}

/* "   wall: flashing adhesive 106.7 ft2, from 53.3 ft2 of girth" */
static void put_taking(const struct derivation *derivation,
                       const struct edge_taking *taking)
{
    struct text *out = derivation->out;

    text_printf(out, "   %s: %s ", edge_kind_name((int)taking->kind),
                item_use_name((int)taking->use));
    put_measure(derivation, taking->needed, item_use_measure(taking->use));
    text_puts(out, ", from ");
    put_measure(derivation, taking->measure, taking->in);
    text_printf(out, " %s\n", taking->per);
}

static void put_edge_takings(const struct derivation *derivation, const struct bill *bill)
{
    text_puts(derivation->out,
              "\n8. Edges: what they take by the table of details, pieces rounded up in "
              "the bill\n");
    for (size_t i = 0; i < bill->taking_count; i++)
        put_taking(derivation, &bill->takings[i]);
}

/* ---- The bill ---- */

static void put_part(struct text *out, const char *sign, const char *word, double value,
                     const struct bill_unit *unit)
{
    if (!(fabs(value) > 0))
        return;
    text_puts(out, sign);
    text_grouped(out, value / unit->factor, unit->decimals);
    text_printf(out, " %s", word);
}

/* "net 1,200 ft2 + 60 laps = laid 1,260 + 40 cuts = 1,300 ft2" */
static void put_sum(const struct derivation *derivation, const struct bill_item *item)
{
    struct bill_unit unit = bill_unit_of(item_use_measure(item->use), derivation->set);
    struct text *out = derivation->out;

    text_grouped(out, item->net / unit.factor, unit.decimals);
    put_part(out, " + ", "laps", item->laps, &unit);
    put_part(out, " + ", "cuts", item->cuts, &unit);
    put_part(out, " + ", "spare", item->spare, &unit);
    put_part(out, " + ", "rounding", item->rounding, &unit);
    if (item->laps + item->cuts + item->spare + item->rounding > 0) {
        text_puts(out, " = ");
        text_grouped(out, item->ordered / unit.factor, unit.decimals);
    }
    text_printf(out, " %s", unit.name);
}

static void put_item(const struct derivation *derivation, const struct bill_item *item)
{
    struct text *out = derivation->out;

    text_printf(out, "   %s", item_use_name((int)item->use));
    if (item->item && strcmp(item->item, item_use_name((int)item->use)) != 0)
        text_printf(out, " (%s)", item->item);
    text_puts(out, ": ");
    if (isnan(item->net)) {
        put_words(derivation, item->note);
        text_putc(out, '\n');
        return;
    }
    put_sum(derivation, item);
    if (item->pack && isfinite(item->packs)) {
        text_puts(out, "; ");
        text_grouped(out, item->packs, 0);
        text_printf(out, " x %s", item->pack);
    }
    if (item->note) {
        text_puts(out, "; ");
        put_words(derivation, item->note);
    }
    text_putc(out, '\n');
}

/* ---- The cost ---- */

static void put_cost(const struct derivation *derivation, const struct cost *cost)
{
    struct text *out = derivation->out;

    text_printf(out, "\n10. Cost, %s%s\n", price_basis_name((int)cost->basis),
                derivation->set->prices_built_in ? "; the built-in prices are invented"
                                                 : "");
    for (int part = 0; part < COST_PARTS; part++) {
        if (cost->parts[part] == 0)
            continue;
        text_printf(out, "   %s ", cost_part_name(part));
        text_grouped(out, (double)cost->parts[part] / 100, 2);
        text_putc(out, '\n');
    }
    text_puts(out, "   together ");
    text_grouped(out, (double)cost->total / 100, 2);
    text_printf(out, " %s\n", derivation->set->currency);
}

void put_bill(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    struct text *out = derivation->out;

    if (!roof_laid_out(roof) || !roof->bills)
        return;
    put_edge_takings(derivation, roof->bills);
    text_puts(out, "\n9. Bill: net + laps + cuts + spare + rounding = ordered\n");
    put_rolls(derivation, roof->bills, USE_FIELD_SHEET);
    put_rolls(derivation, roof->bills, USE_HALF_SHEET);
    for (size_t i = 0; i < roof->bills[0].count; i++)
        put_item(derivation, &roof->bills[0].items[i]);
    if (roof->costs && roof->costs[0].known)
        put_cost(derivation, &roof->costs[0]);
}
