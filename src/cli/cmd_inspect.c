#include "cli/command.h"

const struct command command_inspect_row = {
    .name = "inspect",
    .bit = FOR_INSPECT,
    .arguments = "INPUT [OPTIONS]",
    .help = "what is read from a layer, and what it lacks",
    .more =
        "Prints driver, layer and coordinate reference system, the fields that were "
        "found and\nhow full they are, heights, how many roofs can be zoned, and "
        "which option supplies what\nis missing. With -o FILE it writes the roofs that "
        "are mapped twice: --duplicates of rank\nreads them for parts of the layer.",
    .examples = "  outlay inspect testdata/demo/demo.geojson\n"
                "  outlay inspect roofs.shp --field height=HEIGHT:ft\n"
                "  outlay inspect nation.gpkg -o duplicates.csv --wind-speed 115mph\n",
    .positions = {"input", NULL},
    .work = command_inspect,
};
