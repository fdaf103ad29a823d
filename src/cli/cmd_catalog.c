#include "cli/command.h"

const struct command command_catalog_row = {
    .name = "catalog",
    .bit = FOR_CATALOG,
    .arguments = "-o FOLDER",
    .help = "write the built-in tables, to edit and use",
    .more =
        "Writes assemblies.csv, items.csv, prices.csv and actions.csv. Ratings, pack "
        "sizes, crew\nrates, prices and actions are invented: put your own in their "
        "place and hand the tables over\nby --catalog, --items, --prices and --actions. "
        "With -o -, assemblies.csv goes to standard\noutput.",
    .examples = "  outlay catalog -o tables\n"
                "  outlay run roofs.geojson --catalog tables/assemblies.csv -o out\n",
    .positions = {NULL},
    .work = command_catalog,
};
