#include "cli/command.h"

const struct command command_survey_row = {
    .name = "survey",
    .bit = FOR_SURVEY,
    .arguments = "INPUT -o FOLDER [OPTIONS]",
    .help = "what to check on the roofs, where and why, as forms to fill in",
    .more =
        "Says for each roof what to test and look at before anything is ordered, how "
        "often, where\nand why, most decisive first. Writes a folder: survey.pdf (site "
        "sheets to print), survey.xlsx\nand survey.csv (the same as forms), survey.gpkg "
        "(points to walk to, with empty fields, for a\nmobile GIS), problems.csv, "
        "run.json. Whichever was filled in is read back by --findings FILE\nof every "
        "command; with it, survey asks for what is left. How many tests of each kind is "
        "a\ntable: `outlay catalog` writes it, --survey-rules reads it back.",
    .examples =
        "  outlay survey testdata/demo/demo.geojson -o visit --wind-speed 115mph\n"
        "  outlay survey roofs.gpkg -o visit --units si\n"
        "  outlay survey roofs.gpkg -o left --findings visit/survey.gpkg\n",
    .positions = {"input", NULL},
    .work = command_survey,
    .writes = true,
};
