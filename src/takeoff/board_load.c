/* What a board carries: the pull on it, of each zone its share, against what its
 * fasteners hold. */

#include "base/text.h"
#include "base/units.h"
#include "takeoff/board_grid.h"

/* A zone must cover this much of a board to give it its pattern (ours). */
static const double zone_share = 1.0 * M2_PER_FT2;
/* Less of a zone isn't there, m2. */
static const double none = 1e-4;
/* Takes the noise off a comparison, relative. */
static const double rounding = 1e-6;

double board_pull(const struct roof *roof, const double areas[ZONE_ROLES])
{
    double pull = 0;
    double area = 0;

    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct zone_uplift *uplift = &roof->zones[i].uplift;

        if (!(areas[i] > 0))
            continue;
        pull += areas[i] * (uplift->known ? uplift->allowable : NAN);
        area += areas[i];
    }
    return area > 0 ? pull / area : NAN;
}

size_t board_pattern(const struct board_job *job, const double areas[ZONE_ROLES])
{
    const struct zone *zones = job->roof->zones;
    double pull = board_pull(job->roof, areas);
    size_t place = 0;

    for (size_t i = 1; i < job->roof->zone_count; i++)
        if (areas[place] < zone_share * (1 - rounding) &&
            (areas[i] > areas[place] || areas[i] >= zone_share * (1 - rounding)))
            place = i;
    for (size_t i = place + 1; i-- > 0;)
        if (job->capacities[zones[i].role] * (1 + rounding) >= pull)
            return i;
    return place; /* unknown, or none is strong enough */
}

void board_measure(const struct board_job *job, const struct board *board,
                   const double areas[ZONE_ROLES], struct board_load worst[ZONE_ROLES])
{
    double whole = job->grid.length * job->grid.width;
    double joint = 2 * BOARD_JOINT * (board->cut_length + board->cut_width);
    double needed = job->counts[board->zone] * (board->area - joint) / whole;
    struct board_load now = {.load = board_pull(job->roof, areas),
                             .capacity = job->capacities[board->zone] *
                                         fmin(1, board->plates / fmax(needed, 1e-9)),
                             .plates = board->plates,
                             .found = true};

    if (isnan(now.load) || isnan(now.capacity))
        return;
    for (size_t i = 0; i < job->roof->zone_count; i++) {
        struct board_load *kept = &worst[job->roof->zones[i].role];

        if (areas[i] > none &&
            (!kept->found || now.load * kept->capacity > kept->load * now.capacity))
            *kept = now;
    }
}

enum outlay_status board_states(struct arena *arena,
                                const struct board_load worst[ZONE_ROLES],
                                struct layout *out)
{
    for (int role = 0; role < ZONE_ROLES; role++) {
        const struct board_load *board = &worst[role];
        struct text text = TEXT_INIT;

        if (out->states[role] == STATE_NOT_MET || !board->found ||
            board->load <= board->capacity * (1 + rounding))
            continue;
        text_printf(&text,
                    "a board of the layout carries %.1f psf (%.0f Pa), its %d fasteners "
                    "hold %.1f psf (%.0f Pa)",
                    board->load / PA_PER_PSF, board->load, board->plates,
                    board->capacity / PA_PER_PSF, board->capacity);
        out->states[role] = STATE_NOT_MET;
        out->reasons[role] =
            text.failed ? NULL : arena_text(arena, text.data, text.length);
        text_release(&text);
        if (!out->reasons[role])
            return OUTLAY_E_MEMORY;
    }
    return OUTLAY_OK;
}
