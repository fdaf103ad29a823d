#include "read/versions.h"

#include <gdal.h>
#include <json-c/json_c_version.h>

void read_versions(struct text *out)
{
    text_printf(out, "  GDAL %s\n", GDALVersionInfo("RELEASE_NAME"));
    text_printf(out, "  json-c %s\n", json_c_version());
}
