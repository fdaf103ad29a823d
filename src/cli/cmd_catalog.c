#include "cli/command.h"

const struct command command_catalog_row = {
    .name = "catalog",
    .bit = FOR_CATALOG,
    .arguments = "-o FOLDER",
    .help = "write the built-in tables, to edit and use",
    .more =
        "Writes assemblies.csv, items.csv, details.csv, panels.csv, prices.csv and "
        "actions.csv. Ratings,\npack sizes, crew rates, tapered panels, prices and "
        "actions are invented: put your own in their\nplace and hand the tables over by "
        "--catalog, --items, --details, --panels, --prices and --actions.\nWith -o -, "
        "assemblies.csv goes to standard output.",
    .examples = "  outlay catalog -o tables\n"
                "  outlay run roofs.geojson --catalog tables/assemblies.csv -o out\n",
    .positions = {NULL},
    .work = command_catalog,
};
