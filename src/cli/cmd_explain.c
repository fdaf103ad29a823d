#include "cli/command.h"

const struct command command_explain_row = {
    .name = "explain",
    .bit = FOR_EXPLAIN,
    .arguments = "INPUT ID [OPTIONS]",
    .help = "the derivation of one roof, step by step",
    .more = "Prints how the numbers of one roof come about, with the figure behind each, "
            "in the\norder of a check by hand. Give the options that the run was given.",
    .examples = "  outlay explain testdata/demo/demo.geojson 0101 --wind-speed 115mph\n",
    .positions = {"input", "roof", NULL},
    .work = command_explain,
};
