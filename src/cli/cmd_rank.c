#include "cli/command.h"

const struct command command_rank_row = {
    .name = "rank",
    .bit = FOR_RANK,
    .arguments = "INPUT -o FOLDER [OPTIONS]",
    .help = "roofs in the order of their exposure to wind",
    .more =
        "Ranks roofs whose present rating is given by demand over capacity, and the "
        "others by\ntheir uplift (--rank-by); edge condition, condition, age and risk "
        "category raise or lower\nboth. Steep, tiny and doubly mapped roofs are listed "
        "apart. Needs no more than outlines,\nheights, exposure and a wind speed; lays "
        "nothing out. Writes a folder: ranking.csv,\nproblems.csv, run.json; with "
        "--group or --grid also groups.geojson.",
    .examples =
        "  outlay rank testdata/demo/demo.geojson -o out --wind-speed 115mph\n"
        "  outlay rank city.gpkg -o out --wind-speed 115mph --field height=HGT:m\n"
        "  outlay rank city.gpkg -o out --wind-speed 115mph --grid 500m\n"
        "  outlay rank roofs.gpkg -o out --job job.yaml --start 2027 --weight-age 0\n",
    .positions = {"input", NULL},
    .work = command_rank,
    .writes = true,
};
