#include "cli/command.h"

const struct command command_takeoff_row = {
    .name = "takeoff",
    .bit = FOR_TAKEOFF,
    .arguments = "INPUT -o FOLDER [OPTIONS]",
    .help = "sheets, rows and boards laid out, and what to order",
    .more =
        "Lays sheets, rows of fasteners, plates and boards on each outline and counts "
        "them. Writes\na folder: orders.csv (what is bought together, in whole packs, "
        "with prices), materials.csv\n(what each roof takes of it: net, laid, waste), "
        "rolls.csv (what each roll is cut into),\nlayout.gpkg (what lies where, in "
        "metres of a UTM zone), summary.csv, problems.csv, run.json.",
    .examples =
        "  outlay takeoff testdata/demo/demo.geojson -o out --wind-speed 115mph\n"
        "  outlay takeoff roofs.gpkg -o out --methods adhered,induction-welded\n"
        "  outlay takeoff roofs.gpkg -o out --write orders --order-by portfolio\n",
    .positions = {"input", NULL},
    .work = command_takeoff,
    .writes = true,
};
