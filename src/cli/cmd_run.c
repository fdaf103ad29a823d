#include "cli/command.h"

const struct command command_run_row = {
    .name = "run",
    .bit = FOR_RUN,
    .arguments = "INPUT -o FOLDER [OPTIONS]",
    .help = "all of it, into a folder of tables and layers",
    .more =
        "Reads roof outlines, cuts them into wind zones, works out uplift and "
        "fastening, lays\nsheets, rows and boards, counts and prices them, ranks the "
        "roofs and, with --cap and\n--start, plans their years. Writes a folder: "
        "zones.geojson, roofs.geojson, summary.csv,\ntotals.csv, materials.csv, "
        "orders.csv, rolls.csv, comparison.csv, layout.gpkg, plans.pdf,\nranking.csv, "
        "workbook.xlsx, report.html, problems.csv, run.json; with --cap and --start\n"
        "also budget.csv, plan.csv, visits.csv, scenarios.csv, with --draws or --spread "
        "also\nspread.csv, drivers.csv. --write chooses among them. The folder appears "
        "whole or not at\nall.",
    .examples = "  outlay run testdata/demo/demo.geojson -o out --wind-speed 115mph\n"
                "  outlay run roofs.gpkg --layer flat --field height=HGT:ft -o out\n"
                "  outlay run --job job.yaml -o out --overwrite\n",
    .positions = {"input", NULL},
    .work = command_run,
    .writes = true,
};
