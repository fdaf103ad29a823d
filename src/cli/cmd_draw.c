#include "cli/command.h"

const struct command command_draw_row = {
    .name = "draw",
    .bit = FOR_DRAW,
    .arguments = "INPUT -o FILE [OPTIONS]",
    .help = "plan sheets, one page per roof",
    .more =
        "Draws each roof to a round scale with its edge lengths, zones, sheets, rows, "
        "boards and\nplates, and beside it the zones and the order list as tables, what "
        "is estimated, assumed\nor not met, and the caution. Paper is 17 x 11 in, or A3 "
        "with --units si. The name of the\nfile tells its format: .pdf has a page a "
        "roof and bookmarks; .svg and .png get a file a\npage, plans-1.svg, "
        "plans-2.svg, ... (the name as given for a single --roof).",
    .examples =
        "  outlay draw testdata/demo/demo.geojson -o plans.pdf --wind-speed 115mph\n"
        "  outlay draw testdata/demo/demo.geojson -o plan.svg --roof 0601\n"
        "  outlay draw roofs.gpkg -o plans.pdf --set 0417,0418,0502 --units si\n",
    .positions = {"input", NULL},
    .work = command_draw,
    .writes = true,
};
