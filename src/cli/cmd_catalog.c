#include "cli/command.h"

const struct command command_catalog_row = {
    .name = "catalog",
    .bit = FOR_CATALOG,
    .arguments = "-o FOLDER",
    .help = "write the built-in tables, to edit and use",
    .more =
        "Writes assemblies.csv, items.csv and prices.csv. Ratings, pack sizes, crew "
        "rates and prices\nare invented: put your own in their place and hand the "
        "tables over by --catalog, --items\nand --prices. With -o -, assemblies.csv goes "
        "to standard output.",
    .examples = "  outlay catalog -o tables\n"
                "  outlay run roofs.geojson --catalog tables/assemblies.csv -o out\n",
    .positions = {NULL},
    .work = command_catalog,
};
