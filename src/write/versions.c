#include "write/versions.h"

#include <xlsxwriter.h>

void write_versions(struct text *out)
{
    text_printf(out, "  libxlsxwriter %s\n", lxw_version());
}
