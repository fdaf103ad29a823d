#include <math.h>

#include "explain/derivation_parts.h"
#include "roof/layout.h"

static void put_spacings(const struct derivation *derivation,
                         const struct zone_attachment *attachment)
{
    const struct unit_system *units = derivation->units;
    struct text *out = derivation->out;

    if (isfinite(attachment->row_spacing)) {
        text_puts(out, "; rows ");
        put_quantity(derivation, attachment->row_spacing, &units->length);
        text_puts(out, " apart");
    }
    if (isfinite(attachment->fastener_spacing)) {
        text_puts(out, ", fasteners ");
        put_quantity(derivation, attachment->fastener_spacing, &units->small);
        text_puts(out, " apart");
    }
    if (attachment->per_board != MISSING) {
        text_printf(out, "; %d a board", attachment->per_board);
    }
    if (attachment->ribbon_spacing > 0.0) {
        text_puts(out, "; ribbons of adhesive ");
        put_quantity(derivation, attachment->ribbon_spacing, &units->small);
        text_puts(out, " apart");
    } else if (!isnan(attachment->ribbon_spacing)) {
        text_puts(out, "; adhesive in full cover");
    }
    text_putc(out, '\n');
}

static void put_capacity(const struct derivation *derivation, const struct zone *zone)
{
    const struct unit *pressure = &derivation->units->pressure;
    struct text *out = derivation->out;

    text_puts(out, "      allowable resistance ");
    put_quantity(derivation, zone->attachment.capacity, pressure);
    text_puts(out, " against allowable uplift ");
    put_quantity(derivation, zone->uplift.known ? zone->uplift.allowable : NAN, pressure);
    text_printf(out, ": %s\n", zone_state_name(zone->attachment.state));
}

static void put_count(struct text *out, double count)
{
    if (isfinite(count)) {
        text_fixed(out, count, 0);
    } else {
        text_puts(out, "unknown");
    }
}

static void put_counts(const struct derivation *derivation,
                       const struct zone_attachment *attachment)
{
    struct text *out = derivation->out;

    text_puts(out,
              roof_laid_out(derivation->roof) ? "      as laid: " : "      by area: ");
    put_count(out, attachment->fasteners);
    text_puts(out, " fasteners or plates, ");
    put_count(out, attachment->board_fasteners);
    text_puts(out, " more that only hold boards");
    if (attachment->adhesive_area > 0.0) {
        text_puts(out, ", ");
        put_quantity(derivation, attachment->adhesive_area, &derivation->units->area);
        text_puts(out, " glued");
    }
    text_putc(out, '\n');
}

static void put_zone_attachment(const struct derivation *derivation,
                                const struct zone *zone)
{
    const struct zone_attachment *attachment = &zone->attachment;
    struct text *out = derivation->out;

    put_zone(derivation, zone);
    if (attachment->assembly == NULL) {
        text_puts(out, zone_state_name(attachment->state));
        if (attachment->reason != NULL) {
            text_puts(out, ": ");
            put_words(derivation, attachment->reason);
        }
        text_putc(out, '\n');
        return;
    }
    text_printf(out, "%s, rule %s", attachment->assembly,
                edge_rule_name(attachment->rule));
    put_spacings(derivation, attachment);
    put_capacity(derivation, zone);
    put_counts(derivation, attachment);
    if (attachment->reason != NULL) {
        text_puts(out, "      why: ");
        put_words(derivation, attachment->reason);
        text_putc(out, '\n');
    }
}

void put_attachment(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    struct text *out = derivation->out;

    text_printf(out, "\n6. Attachment\n   method: %s",
                roof->method == METHOD_NOT_GIVEN ? "not worked out"
                                                 : method_name(roof->method));
    put_assumed(derivation, ASSUME_METHOD);
    text_putc(out, '\n');
    for (size_t i = 0; i < roof->zone_count; i++) {
        put_zone_attachment(derivation, &roof->zones[i]);
    }
    text_printf(out, "   whole roof: %s", zone_state_name(roof->state));
    put_assumed(derivation, ASSUME_LAYOUT);
    text_putc(out, '\n');
    if (roof->half_sheets > 0) {
        text_printf(out, "   half sheets along %s: %d\n",
                    derivation->style == EDGES_LINES
                        ? "each edge that runs with the sheets"
                        : "every edge",
                    roof->half_sheets);
    }
}
