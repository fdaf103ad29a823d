#include "cli/command.h"

const struct command command_draw_row = {
    .name = "draw",
    .bit = FOR_DRAW,
    .arguments = "INPUT -o FILE [OPTIONS]",
    .help = "plan sheets, two pages per roof",
    .more =
        "Draws each roof to a round scale with its edge lengths, zones, sheets, rows, "
        "boards and\nplates, and beside it the zones as a table and what is estimated, "
        "assumed or not met;\nthen an enlarged corner and the order list; last, for all "
        "roofs, what each kind of edge\ntakes. Paper is 34 x 22 in, or A1 with --units "
        "si, to be read at half size too. The name\nof the file tells its format: .pdf "
        "has bookmarks; .svg and .png get a file a page,\nplans-1.svg, plans-2.svg, ... "
        "(the first has the name as given for a single --roof).",
    .examples =
        "  outlay draw testdata/demo/demo.geojson -o plans.pdf --wind-speed 115mph\n"
        "  outlay draw testdata/demo/demo.geojson -o plan.svg --roof 0601\n"
        "  outlay draw roofs.gpkg -o plans.pdf --set 0417,0418,0502 --units si\n",
    .positions = {"input", NULL},
    .work = command_draw,
    .writes = true,
};
