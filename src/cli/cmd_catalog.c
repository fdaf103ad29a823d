#include "cli/command.h"
#include "commands/commands.h"

static enum outlay_status run(struct call *call, struct outlay_error *err)
{
    return command_catalog(call->settings, &call->report, err);
}

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
    .run = run,
};
