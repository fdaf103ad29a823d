#include "cli/command.h"

const struct command command_compare_row = {
    .name = "compare",
    .bit = FOR_COMPARE,
    .arguments = "INPUT -o FOLDER [OPTIONS]",
    .help = "methods side by side: what each takes and costs",
    .more =
        "Lays each roof out by each method and prices it. Writes a folder: "
        "comparison.csv (one\nrow per method of a roof, then the portfolio), summary.csv,"
        " problems.csv, run.json.\nA method that leaves a zone unmet is never the "
        "cheapest. The built-in prices are\ninvented: `outlay catalog` writes them to "
        "edit, --prices uses yours.",
    .examples = "  outlay compare testdata/demo/demo.geojson -o out --wind-speed 115mph\n"
                "  outlay compare roofs.gpkg -o out --methods adhered,seam-fastened\n"
                "  outlay compare roofs.gpkg -o out --prices tables/prices.csv\n",
    .positions = {"input", NULL},
    .work = command_compare,
    .writes = true,
};
