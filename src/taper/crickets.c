/* Crickets of twice the slope along the lines of drains. */

#include "taper/taper_private.h"

/* Shorter halves carry no cricket, m (ours). */
static const double shortest = 0.05;

/* Half a cricket: from a drain up to where water parts, or to the wall. */
struct half {
    const struct chord *chord;
    double drain, end; /* x */
    bool to_wall;
};

/* The cricket of a half on one side of the line, and where it lies. Up to a wall it goes
 * on to wherever that is, as at a slanted one. */
static struct plane half_plane(const struct half *half, double side, struct bounds *out)
{
    double way = half->end > half->drain ? 1 : -1;
    struct plane across = {-side * half->chord->y, 0, side};
    struct plane rise = {-way * half->drain - 2 * across.at, way, -2 * side};
    struct plane end = {way * half->end, -way, 0};

    bound(out, rise);
    bound(out, across);
    if (!half->to_wall)
        bound(out, end);
    return rise;
}

/* Whether a piece is drained by the line itself, not around a corner. */
static bool is_of(const struct piece *piece, const struct chord *chord)
{
    return isfinite(piece->distance.at) && piece->source >= chord->source &&
           piece->source <= chord->source + 2;
}

static enum outlay_status lay_half(struct taper_work *w, const struct half *half,
                                   bool *laid)
{
    for (int side = -1; side <= 1; side += 2) {
        struct bounds within = {.count = 0};
        struct plane rise = half_plane(half, side, &within);
        size_t count = w->pieces.count;

        for (size_t i = 0; i < count; i++) {
            struct ring part = w->pieces.items[i].ring;

            if (!is_of(&w->pieces.items[i], half->chord))
                continue;
            if (bounds_cut(w->arena, &within, &part) != OUTLAY_OK)
                return OUTLAY_E_MEMORY;
            if (part.count == 0)
                continue;
            if (pieces_carve(w->arena, &w->pieces, i, &within) != OUTLAY_OK)
                return OUTLAY_E_MEMORY;
            w->pieces.items[i].cricket = rise;
            w->out->cricket_area += ring_area(w->pieces.items[i].ring);
            *laid = true;
        }
    }
    return OUTLAY_OK;
}

/* One cricket, of one or two halves. */
static enum outlay_status lay(struct taper_work *w, const struct half *halves,
                              size_t count)
{
    bool laid = false;
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < count && status == OUTLAY_OK; i++)
        if (fabs(halves[i].end - halves[i].drain) > shortest)
            status = lay_half(w, &halves[i], &laid);
    w->out->cricket_count += laid;
    return status;
}

static enum outlay_status lay_along(struct taper_work *w, const struct chord *chord)
{
    size_t last = chord->drain_count - 1;
    struct half first = {chord, chord->drains[0], chord->from_x, true};
    struct half behind = {chord, chord->drains[last], chord->to_x, true};
    enum outlay_status status = lay(w, &first, 1);

    for (size_t i = 0; i < last && status == OUTLAY_OK; i++) {
        double middle = (chord->drains[i] + chord->drains[i + 1]) / 2;
        struct half halves[] = {{chord, chord->drains[i], middle, false},
                                {chord, chord->drains[i + 1], middle, false}};

        status = lay(w, halves, 2);
    }
    return status == OUTLAY_OK ? lay(w, &behind, 1) : status;
}

enum outlay_status crickets_lay(struct taper_work *w)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < w->chord_count && status == OUTLAY_OK; i++)
        status = lay_along(w, &w->chords[i]);
    return status;
}
