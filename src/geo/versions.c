#include "geo/versions.h"

#include <geos_c.h>
#include <proj.h>

void geo_versions(struct text *out)
{
    text_printf(out, "  GEOS %s\n", GEOSversion());
    text_printf(out, "  PROJ %s\n", proj_info().version);
}
