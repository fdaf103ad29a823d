/* What each fastener of a row carries, measured on the layout. */

#include <math.h>

#include "base/text.h"
#include "base/units.h"
#include "takeoff/seam_private.h"

/* Takes the noise off a comparison, relative. */
static const double rounding = 1e-6;

/* The next denser spacing that the assembly allows, on steel a multiple of the ribs'
 * pitch; the same one where there is none. */
static double denser(const struct seam_work *w, double spacing)
{
    double pitch = w->roof->basis.rib_pitch;

    for (size_t k = 0; k < w->assembly->spacing_count; k++) {
        double next = w->assembly->spacings[k];
        double ribs = next / pitch;

        if (next < spacing * (1 - rounding) &&
            (!(pitch > 0) || fabs(ribs - round(ribs)) < rounding))
            return next;
    }
    return spacing;
}

/* Measures the piece seen last. A row beside a severer zone carries a part of that zone's
 * pull: it gets screws as dense as it needs, as its neighbour has, before the zone is
 * refused. */
static void piece_settle(const struct seam_work *w, const struct beside *beside,
                         struct row_piece *row)
{
    for (;;) {
        double next = denser(w, row->spacing);
        double pull;

        piece_carries(beside, row->spacing, &row->tributary, &pull);
        row->load = pull * row->spacing;
        if (!(row->load > w->roof->fastener_load * (1 + rounding)) ||
            next == row->spacing)
            return;
        row->spacing = next;
    }
}

/* Whether a row beside a joint carries more than sheets between rows reach: denser screws
 * don't hold what lies beyond it. A row that was left out beside another one widens the
 * sheet a little. */
static bool is_wide(const struct seam_work *w, const struct row_piece *row)
{
    return row->tributary > w->full + ROW_APART;
}

/* Too wide is worse than too much load. */
static bool is_worse(const struct seam_work *w, const struct row_piece *row,
                     const struct row_piece *than)
{
    if (is_wide(w, row) != is_wide(w, than))
        return is_wide(w, row);
    return row->load > than->load;
}

/* A zone isn't met where a fastener carries too much or a row is too wide. */
static bool zone_refuse(struct seam_work *w, const struct row_piece *row, double allowed)
{
    struct text text = TEXT_INIT;

    if (is_wide(w, row))
        text_printf(&text,
                    "a row carries %.1f ft (%.2f m) of sheet, %.1f ft (%.2f m) at most: "
                    "no row beyond it at the joint with another section",
                    row->tributary / M_PER_FT, row->tributary, w->full / M_PER_FT,
                    w->full);
    else
        text_printf(&text,
                    "a fastener of the layout carries %.0f lbf (%.0f N), %.0f lbf "
                    "(%.0f N) allowed: rows %.1f ft (%.2f m) apart",
                    row->load / N_PER_LBF, row->load, allowed / N_PER_LBF, allowed,
                    row->tributary / M_PER_FT, row->tributary);
    w->out->states[row->zone] = STATE_NOT_MET;
    w->out->reasons[row->zone] =
        text.failed ? NULL : arena_text(w->arena, text.data, text.length);
    text_release(&text);
    return w->out->reasons[row->zone] != NULL;
}

bool loads_settle(struct seam_work *w)
{
    const struct row_piece *worst[ZONE_ROLES] = {NULL};
    struct beside *beside = NULL;

    if (w->out->row_count == 0)
        return true;
    beside = beside_make(w);
    if (!beside)
        return false;
    for (size_t k = 0; k < w->out->row_count; k++) {
        struct row_piece *row = &w->out->rows[k];

        if (row->held) /* edge metal has fasteners of its own */
            continue;
        if (!piece_see(beside, k))
            return false;
        piece_settle(w, beside, row);
        if (!worst[row->zone] || is_worse(w, row, worst[row->zone]))
            worst[row->zone] = row;
    }
    for (int role = 0; role < ZONE_ROLES; role++) {
        enum zone_state state = w->out->states[role];

        if (worst[role] &&
            (is_wide(w, worst[role]) ||
             worst[role]->load > w->roof->fastener_load * (1 + rounding)) &&
            state != STATE_NOT_MET &&
            !zone_refuse(w, worst[role], w->roof->fastener_load))
            return false;
    }
    return true;
}
