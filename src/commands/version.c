#include "commands/commands.h"
#include "draw/versions.h"
#include "geo/versions.h"
#include "options/versions.h"
#include "outlay_commit.h"
#include "read/versions.h"
#include "write/versions.h"

void command_version(struct text *report)
{
    text_printf(report, "outlay %s, commit %s\n", outlay_version(), OUTLAY_COMMIT);
    read_versions(report);
    geo_versions(report);
    draw_versions(report);
    write_versions(report);
    options_versions(report);
}
