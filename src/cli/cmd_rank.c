#include "cli/command.h"
#include "commands/commands.h"

static enum outlay_status run(struct call *call, struct outlay_error *err)
{
    enum outlay_status status = command_rank(call->settings, &call->job->messages,
                                             &call->result, &call->report, err);
    if (call->settings->quiet)
        text_clear(&call->report);
    return status;
}

const struct command command_rank_row = {
    .name = "rank",
    .bit = FOR_RANK,
    .arguments = "INPUT -o FOLDER [OPTIONS]",
    .help = "roofs in the order of their exposure to wind",
    .more =
        "Ranks roofs whose present rating is given by demand over capacity, and the "
        "others by\nthe uplift on their worst zone; edge condition, condition, age and "
        "risk category raise\nor lower both. Needs no more than outlines, heights, "
        "exposure and a wind speed; lays\nnothing out. Writes a folder: ranking.csv, "
        "problems.csv, run.json.",
    .examples =
        "  outlay rank testdata/demo/demo.geojson -o out --wind-speed 115mph\n"
        "  outlay rank city.gpkg -o out --wind-speed 115mph --field height=HGT:m\n"
        "  outlay rank roofs.gpkg -o out --job job.yaml --start 2027 --weight-age 0\n",
    .positions = {"input", NULL},
    .run = run,
};
