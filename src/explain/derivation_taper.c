#include <math.h>

#include "explain/derivation_parts.h"
#include "roof/basis.h"
#include "roof/edges.h"
#include "roof/field.h"
#include "roof/taper.h"

static void put_slope(const struct derivation *derivation, double slope)
{
    bool si = derivation->units == &unit_system_si;

    if (!si) {
        text_fixed(derivation->out, slope * 12, 3);
        text_puts(derivation->out, " in/ft (");
    }
    text_fixed(derivation->out, slope * 100, 2);
    text_puts(derivation->out, si ? " %" : " %)");
}

static void put_model(const struct derivation *derivation, const struct taper *taper)
{
    const struct unit *small = &derivation->units->small;
    struct text *out = derivation->out;

    text_printf(out, "   %s to %zu drain%s", taper_model_name((int)taper->model),
                taper->drains, taper->drains == 1 ? "" : "s");
    put_assumed(derivation, ASSUME_TAPER);
    text_puts(out, "\n   thickness = ");
    put_quantity(derivation, taper->least, small);
    text_puts(out, " + ");
    put_slope(derivation, taper->slope);
    text_printf(out, " x distance %s, around what the outline leaves out\n",
                taper->model == TAPER_TWO_WAY
                    ? "from the line of drains"
                    : "from the nearest drain, the larger of those along both board "
                      "directions");
    text_puts(out, "   greatest ");
    put_quantity(derivation, taper->most, small);
    text_puts(out, ", mean ");
    put_quantity(derivation, taper_mean(taper), small);
    text_puts(out, ", ");
    put_quantity(derivation, taper->volume, &derivation->units->volume);
    text_puts(out, " over ");
    put_quantity(derivation, taper->area, &derivation->units->area);
    text_putc(out, '\n');
}

static void put_edge_most(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    struct field field = roof_field(roof);

    for (int kind = EDGE_NOT_GIVEN + 1; kind < EDGE_KINDS; kind++) {
        double most = -INFINITY;

        for (size_t k = 0; k < field.edge_count; k++)
            if (field.edges[k].kind == (enum edge_kind)kind)
                most = fmax(most, roof->taper->edge_most[k]);
        if (!isfinite(most))
            continue;
        text_printf(derivation->out, "   greatest at a %s edge: ", edge_kind_name(kind));
        put_quantity(derivation, most, &derivation->units->small);
        text_putc(derivation->out, '\n');
    }
}

static void put_panels(const struct derivation *derivation, const struct taper *taper)
{
    struct text *out = derivation->out;
    size_t cut = 0;
    size_t whole = 0;
    int fill = 0;

    for (size_t i = 0; i < taper->panel_count; i++) {
        cut += !taper->panels[i].whole && taper->panels[i].length > 0;
        whole += taper->panels[i].whole;
        fill = taper->panels[i].fill > fill ? taper->panels[i].fill : fill;
    }
    if (taper->panels_lacking)
        text_printf(out, "   panels not counted: %s\n", taper->panels_lacking);
    else
        text_printf(out,
                    "   %zu whole panels and %zu cut ones, over up to %d layers of flat "
                    "fill\n",
                    whole, cut, fill);
    if (taper->cricket_count == 0)
        return;
    text_printf(out, "   %zu cricket%s, ", taper->cricket_count,
                taper->cricket_count == 1 ? "" : "s");
    put_quantity(derivation, taper->cricket_area, &derivation->units->area);
    text_puts(out, ", of ");
    put_slope(derivation, 2 * taper->slope);
    text_puts(out, " square to the line: slope x (distance along it - 2 x that from it)");
    if (taper->crickets_lacking)
        text_printf(out, "; panels not counted: %s", taper->crickets_lacking);
    text_putc(out, '\n');
}

/* Known once the flat boards below are counted. */
static void put_resistance(const struct derivation *derivation, const struct taper *taper)
{
    const struct unit *unit = &derivation->units->insulance;
    struct text *out = derivation->out;

    if (!(taper->r_mean > 0))
        return;
    text_printf(out, "   R %.1f an inch, with ", R_PER_IN);
    put_quantity(derivation, taper->flat, &derivation->units->small);
    text_puts(out, " of flat boards below: ");
    put_quantity(derivation, taper->r_mean, unit);
    text_puts(out, " of the mean thickness, ");
    put_quantity(derivation, taper->r_effective, unit);
    text_puts(out, " = 1 / mean(U), without films, deck and fasteners\n");
}

void put_taper(const struct derivation *derivation)
{
    const struct taper *taper = derivation->roof->taper;

    if (!taper)
        return;
    text_puts(derivation->out, "\nTapered insulation\n");
    if (taper->lacking) {
        text_printf(derivation->out, "   not counted: %s\n", taper->lacking);
        return;
    }
    put_model(derivation, taper);
    if (taper->unreached > 0) {
        text_puts(derivation->out, "   not counted where no drain can be reached: ");
        put_quantity(derivation, taper->unreached, &derivation->units->area);
        text_putc(derivation->out, '\n');
    }
    put_edge_most(derivation);
    put_panels(derivation, taper);
    put_resistance(derivation, taper);
}
