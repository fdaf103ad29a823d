#include "cli/command.h"
#include "run/commands.h"

static enum outlay_status run(struct call *call, struct outlay_error *err)
{
    return command_catalog(call->settings, &call->report, err);
}

const struct command command_catalog_row = {
    .name = "catalog",
    .bit = FOR_CATALOG,
    .arguments = "-o FOLDER",
    .help = "write the built-in tables, to edit and use",
    .more = "Writes assemblies.csv and items.csv. Ratings, pack sizes and crew rates are "
            "invented:\nput your own in their place and hand the tables over by "
            "--catalog and --items. With -o -, assemblies.csv goes to standard output.",
    .examples = "  outlay catalog -o tables\n"
                "  outlay run roofs.geojson --catalog tables/assemblies.csv -o out\n",
    .positions = {NULL},
    .run = run,
};
