/* Options of what a roof costs. */

#include "options/option_rows.h"

static const struct option rows[] = {
    {.name = "prices",
     .group = GROUP_COST,
     .kind = OPTION_TEXT,
     .commands = LAYS,
     .in_job = true,
     .offset = AT(prices_path),
     .value = "FILE",
     .initial = "",
     .help = "of goods, crews and the rest, CSV or XLSX; not given: invented ones"},
    {.name = "wet-limit",
     .group = GROUP_COST,
     .kind = OPTION_NUMBER,
     .commands = LAYS,
     .in_job = true,
     .offset = AT(scope.wet_limit),
     .value = "SHARE",
     .initial = "0",
     .quantity = QUANTITY_COUNT,
     .least = 0,
     .most = 1,
     .help = "wet share above which all is torn off; 0.25 in some local codes"},
};

const struct option_rows option_rows_cost = OPTION_ROWS(rows);
