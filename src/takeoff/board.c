#include "takeoff/board.h"

#include "takeoff/board_grid.h"
#include "takeoff/seam.h"

/* Radians in a degree. */
static const double radian = 0.017453292519943295769;

/* Rows along the ribs where their direction is known, else along the longest edge. */
static enum outlay_status grid_settle(struct building *building, const struct roof *roof,
                                      struct board_grid *grid, const char **reason)
{
    struct region local;

    *grid = (struct board_grid){.length = roof->assembly->board_length,
                                .width = roof->assembly->board_width};
    if (isfinite(roof->given.deck_bearing)) {
        grid->axes =
            axes_along_bearing(&roof->outline, (90 - roof->given.deck_bearing) * radian);
        *reason = "boards and sheets along the ribs";
    } else {
        *reason = "boards and sheets along the longest straight edge";
        if (axes_along_edge(building->arena, &roof->outline, &grid->axes) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
    }
    if (axes_region(building->arena, &grid->axes, &roof->outline, &local) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    grid_shift(grid, &local);
    return OUTLAY_OK;
}

/* Screws through a taper are as long as it is thick under each board. */
static bool needs_shapes(const struct roof *roof, const struct takeoff_settings *settings)
{
    return settings->place_plates || isfinite(roof->given.taper);
}

enum outlay_status board_layout(struct building *building, struct roof *roof,
                                const struct takeoff_settings *settings,
                                struct geo_ctx *ctx, struct layout *out,
                                struct outlay_error *err)
{
    struct board_job job = {.arena = building->arena, .ctx = ctx, .roof = roof};
    enum outlay_status status;

    if (grid_settle(building, roof, &job.grid, &out->bearing_reason) != OUTLAY_OK)
        return outlay_fail(err, OUTLAY_E_MEMORY, "laying boards");
    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct zone_attachment *attachment = &roof->zones[i].attachment;
        bool given = attachment->per_board != MISSING;

        job.counts[roof->zones[i].role] = given ? attachment->per_board : 0;
        job.capacities[roof->zones[i].role] = given ? attachment->capacity : NAN;
    }
    job.edge = fmax(roof->assembly->board_edge, 0); /* NAN: none asked for */
    job.place = settings->place_plates;
    job.shapes = needs_shapes(roof, settings);
    status = boards_lay(&job, out, NULL, err);
    if (status != OUTLAY_OK)
        return status;
    status = board_sheets(building, roof, &job.grid.axes, settings, ctx, out, err);
    if (status == OUTLAY_OK)
        status = base_securement(building, roof, settings, ctx, out, err);
    if (status == OUTLAY_OK)
        adhesive_lay(roof, out);
    return status;
}

enum outlay_status insulation_boards(struct building *building, struct roof *roof,
                                     const struct takeoff_settings *settings,
                                     struct geo_ctx *ctx, struct layout *out,
                                     struct outlay_error *err)
{
    struct board_job job = {.arena = building->arena, .ctx = ctx, .roof = roof};
    struct layout boards = {.method = out->method};
    const char *reason;
    enum outlay_status status;

    if (grid_settle(building, roof, &job.grid, &reason) != OUTLAY_OK)
        return outlay_fail(err, OUTLAY_E_MEMORY, "laying boards");
    for (size_t i = 0; i < ZONE_ROLES; i++) {
        job.counts[i] = roof->assembly->board_fasteners;
        job.capacities[i] = NAN;
    }
    job.place = settings->place_plates;
    job.shapes = needs_shapes(roof, settings);
    status = boards_lay(&job, &boards, NULL, err);
    out->boards = boards.boards;
    out->board_count = boards.board_count;
    out->board_plates = boards.plates;
    out->board_plate_count = boards.plate_count;
    out->unboarded = boards.unboarded;
    return status;
}
