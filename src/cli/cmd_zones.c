#include "cli/command.h"

const struct command command_zones_row = {
    .name = "zones",
    .bit = FOR_ZONES,
    .arguments = "INPUT -o OUTPUT [OPTIONS]",
    .help = "the zones alone, as one layer or as a stream",
    .more = "Writes a feature for each roof and zone with uplift and fastening. The name "
            "of the\noutput tells its format: .geojson, .geojsonl (GeoJSON text "
            "sequence), .gpkg, .fgb.\nProblems go beside it: zones.problems.csv.\n\n"
            "With - as INPUT, a GeoJSON text sequence is read from standard input; with "
            "-o - one\nis written to standard output. Both together run in constant "
            "memory, in input order;\na roof that can't be zoned leaves its own outline "
            "with zone null,\nand so does a line that isn't a feature.",
    .examples =
        "  outlay zones testdata/demo/demo.geojson -o zones.gpkg --wind-speed 115mph\n"
        "  zcat nation.geojsonl.gz | outlay zones - -o - > zones.geojsonl\n",
    .positions = {"input", NULL},
    .work = command_zones,
    .writes = true,
};
