#include "takeoff/takeoff.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "catalog/catalog.h"
#include "takeoff/board.h"
#include "takeoff/seam.h"

struct takeoff_settings takeoff_defaults(void)
{
    return (struct takeoff_settings){
        .style = EDGES_AUTO,
        .rib_pitch = 6 * M_PER_IN,
    };
}

/* Seam-fastened sheets may lie on the deck or the old roof; others are held by boards. */
static bool has_boards(const struct roof *roof, const struct takeoff_settings *settings)
{
    return (roof->scope == SCOPE_RECOVER ? settings->recover_board : roof->basis.stack) >
           0;
}

enum outlay_status takeoff_roof(struct building *building, struct roof *roof,
                                enum method method,
                                const struct takeoff_settings *settings,
                                struct geo_ctx *ctx, struct layout *out,
                                struct outlay_error *err)
{
    const struct assembly *assembly = roof->assembly;
    enum outlay_status status = OUTLAY_OK;

    *out = (struct layout){.method = method};
    if (!roof->zoned || !assembly)
        return OUTLAY_OK;
    out->assembly = assembly->name;
    out->made_of = assembly;
    roof->assumed &= ~(1u << ASSUME_LAYOUT);
    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct zone_attachment *by_area = &roof->zones[i].attachment;
        bool held = by_area->state == STATE_MET || by_area->state == STATE_MET_ASSUMED;

        out->states[roof->zones[i].role] = held ? roof_state_held(roof) : by_area->state;
        out->reasons[roof->zones[i].role] = by_area->reason;
    }
    if (method != METHOD_SEAM_FASTENED)
        return board_layout(building, roof, assembly, settings, ctx, out, err);
    status = seam_layout(building, roof, assembly, settings, ctx, out, err);
    if (status == OUTLAY_OK && has_boards(roof, settings))
        status = insulation_boards(building, roof, assembly, settings, ctx, out, err);
    return status;
}
