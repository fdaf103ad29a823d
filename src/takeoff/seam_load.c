/* What each fastener of a row carries, measured on the layout: half the way to the next
 * row or base securement on either side, all the way to a joint with another section
 * before it, since nothing holds the joint; each part by the zone it lies in. Looked up
 * at three places along a piece, its ends and its middle (ours): a piece lies in one
 * zone. */

#include <math.h>

#include "base/text.h"
#include "base/units.h"
#include "takeoff/seam_private.h"

enum { PLACES = 3 };

/* Ends are looked up this far from the end, m. */
static const double end_off = 0.02;
/* Takes the noise off a comparison, relative. */
static const double rounding = 1e-6;

/* Allowable pull on a strip of unit width along d, N/m; NAN while uplift is unknown. */
static bool pull_along(struct seam_work *w, struct point p, struct point d, double length,
                       double *pull)
{
    struct clip clip = {.load = true};
    struct point q = {p.x + d.x * length, p.y + d.y * length};
    size_t count;

    *pull = 0;
    if (!clip_segment(w, p, q, &clip, &count))
        return false;
    for (size_t k = 0; k < count; k++) {
        const struct zone *zone = w->zones[w->spans[k].role];

        if (zone)
            *pull += zone->uplift.known ? (w->spans[k].to - w->spans[k].from) * length *
                                              zone->uplift.allowable
                                        : NAN;
    }
    return true;
}

static bool place_measure(struct seam_work *w, const struct row_bins *bins, size_t k,
                          struct point p, struct point n, double *width, double *pull)
{
    *width = 0;
    *pull = 0;
    for (int side = -1; side <= 1; side += 2) {
        struct point d = {side * n.x, side * n.y};
        double way = fmin(way_to_next_row(w, bins, k, p, d, w->full), w->full);
        double half = fmax(way / 2, way_to_joint(w, p, d, way));
        double part;

        if (!pull_along(w, p, d, half, &part))
            return false;
        *width += half;
        *pull += part;
    }
    return true;
}

static bool piece_measure(struct seam_work *w, const struct row_bins *bins, size_t k)
{
    struct row_piece *row = &w->out->rows[k];
    double length = point_distance(row->from, row->to);
    double off = fmin(end_off, length / 4);
    struct point n = {(row->from.y - row->to.y) / length,
                      (row->to.x - row->from.x) / length};

    row->tributary = 0;
    row->load = 0;
    for (int place = 0; place < PLACES; place++) {
        double s = off + (length - 2 * off) * place / (PLACES - 1);
        double width;
        double pull;

        if (!place_measure(w, bins, k, point_between(row->from, row->to, s / length), n,
                           &width, &pull))
            return false;
        row->tributary = fmax(row->tributary, width);
        if (isnan(pull) || pull * row->spacing > row->load)
            row->load = pull * row->spacing;
    }
    return true;
}

/* The next denser spacing that the assembly allows, on steel a multiple of the ribs'
 * pitch; the same one where there is none. */
static double denser(const struct seam_work *w, double spacing)
{
    for (size_t k = 0; k < w->assembly->spacing_count; k++) {
        double next = w->assembly->spacings[k];
        double ribs = next / w->settings->rib_pitch;

        if (next < spacing * (1 - rounding) &&
            (!w->steel || fabs(ribs - round(ribs)) < rounding))
            return next;
    }
    return spacing;
}

/* A row beside a severer zone carries a part of that zone's pull: it gets screws as dense
 * as it needs, as its neighbour has, before the zone is refused. */
static void piece_tighten(const struct seam_work *w, struct row_piece *row)
{
    while (row->load > w->allowable * (1 + rounding)) {
        double next = denser(w, row->spacing);

        if (next == row->spacing)
            return;
        row->load *= next / row->spacing;
        row->spacing = next;
    }
}

/* Whether a row beside a joint carries more than sheets between rows reach: denser screws
 * don't hold what lies beyond it. */
static bool is_wide(const struct seam_work *w, const struct row_piece *row)
{
    return row->tributary > w->full * (1 + rounding);
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
    const struct row_bins *bins = NULL;

    if (w->out->row_count == 0)
        return true;
    bins = row_bins_make(w);
    if (!bins)
        return false;
    for (size_t k = 0; k < w->out->row_count; k++) {
        struct row_piece *row = &w->out->rows[k];

        if (row->base)
            continue;
        if (!piece_measure(w, bins, k))
            return false;
        piece_tighten(w, row);
        if (!worst[row->zone] || is_worse(w, row, worst[row->zone]))
            worst[row->zone] = row;
    }
    for (int role = 0; role < ZONE_ROLES; role++) {
        enum zone_state state = w->out->states[role];

        if (worst[role] &&
            (is_wide(w, worst[role]) ||
             worst[role]->load > w->allowable * (1 + rounding)) &&
            state != STATE_NOT_MET && !zone_refuse(w, worst[role], w->allowable))
            return false;
    }
    return true;
}
