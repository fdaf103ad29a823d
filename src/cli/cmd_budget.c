#include "cli/command.h"

const struct command command_budget_row = {
    .name = "budget",
    .bit = FOR_BUDGET,
    .arguments = "INPUT -o FOLDER --cap MONEY --start YEAR [OPTIONS]",
    .help = "which roof in which year, under a cap each year",
    .more =
        "Lays out and prices each roof by its own method, then chooses years so that the "
        "present\ncost of work and of waiting is least. Earliest, latest and fixed years "
        "of roofs are kept,\ncaps to the cent. Writes a folder: budget.csv (the years, "
        "also of the plans that this one\nwas weighed against), plan.csv (the roofs), "
        "visits.csv (all work on a building in a year),\nscenarios.csv (what other caps "
        "and service lives would do), problems.csv, run.json.\n\nExit status 4: what "
        "must be done doesn't fit the caps. The message names a year and an\namount.",
    .examples =
        "  outlay budget testdata/demo/demo.geojson -o out --wind-speed 115mph "
        "--start 2027 --cap 1500000\n"
        "  outlay budget roofs.gpkg -o out --job job.yaml --start 2027 --years 3 "
        "--cap 9e5,8e5,8e5\n"
        "  outlay budget roofs.gpkg -o out --job job.yaml --start 2027 --cap 2000000 "
        "--together\n",
    .positions = {"input", NULL},
    .work = command_budget,
    .writes = true,
};
