#include "options/versions.h"

#include <yaml.h>

void options_versions(struct text *out)
{
    text_printf(out, "  libyaml %s\n", yaml_get_version_string());
}
