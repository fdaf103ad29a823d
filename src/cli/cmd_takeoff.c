#include "cli/command.h"
#include "commands/commands.h"

static enum outlay_status run(struct call *call, struct outlay_error *err)
{
    enum outlay_status status = command_takeoff(call->settings, &call->job->messages,
                                                &call->result, &call->report, err);
    if (call->settings->quiet)
        text_clear(&call->report);
    return status;
}

const struct command command_takeoff_row = {
    .name = "takeoff",
    .bit = FOR_TAKEOFF,
    .arguments = "INPUT -o FOLDER [OPTIONS]",
    .help = "sheets, rows and boards laid out, and what to order",
    .more =
        "Lays sheets, rows of fasteners, plates and boards on each outline and counts "
        "them. Writes\na folder: materials.csv (one item per row: net, laid, ordered, "
        "waste, packs), layout.gpkg\n(what lies where, in metres of a UTM zone), "
        "summary.csv, problems.csv, run.json.",
    .examples =
        "  outlay takeoff testdata/demo/demo.geojson -o out --wind-speed 115mph\n"
        "  outlay takeoff roofs.gpkg -o out --methods adhered,induction-welded\n"
        "  outlay takeoff roofs.gpkg -o out --write materials --order-by portfolio\n",
    .positions = {"input", NULL},
    .run = run,
};
