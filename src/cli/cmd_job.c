#include "cli/command.h"

const struct command command_job_row = {
    .name = "job",
    .bit = FOR_JOB,
    .arguments = "-o FILE",
    .help = "write a starter job file with every setting",
    .more = "Writes a commented YAML file in which every setting stands with its "
            "default. Take\nthe # off a line to set it; `outlay run --job FILE` uses it.",
    .examples = "  outlay job -o job.yaml\n"
                "  outlay run testdata/demo/demo.geojson --job job.yaml -o out\n",
    .positions = {NULL},
    .work = command_job,
};
