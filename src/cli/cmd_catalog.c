#include "cli/command.h"

const struct command command_catalog_row = {
    .name = "catalog",
    .bit = FOR_CATALOG,
    .arguments = "-o FOLDER",
    .help = "write the built-in tables, to edit and use",
    .more =
        "Writes assemblies.csv, items.csv, details.csv, prices.csv and actions.csv. "
        "Ratings, pack\nsizes, crew rates, prices and actions are invented: put your own "
        "in their place and hand the\ntables over by --catalog, --items, --details, "
        "--prices and --actions. With -o -, assemblies.csv\ngoes to standard output.",
    .examples = "  outlay catalog -o tables\n"
                "  outlay run roofs.geojson --catalog tables/assemblies.csv -o out\n",
    .positions = {NULL},
    .work = command_catalog,
};
