#include "portfolio/versions.h"

#include <Cbc_C_Interface.h>

void portfolio_versions(struct text *out)
{
    text_printf(out, "  CBC %s\n", Cbc_getVersion());
}
