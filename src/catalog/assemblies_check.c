/* What the cells of one row must agree on, so that attach/ can rely on it. */

#include <math.h>

#include "base/units.h"
#include "catalog/assemblies_private.h"

static const double rounding = 1e-9; /* relative, of unit conversion */

static enum outlay_status disagree(const char *table, int row, const char *column,
                                   const char *what, struct outlay_error *err)
{
    enum outlay_status status = outlay_fail(err, OUTLAY_E_USAGE, "%s", what);

    outlay_fail_where(err, "%s, row %d, column %s", table, row, column);
    return status;
}

static const char *seam_fault(const struct assembly *a, const char **column)
{
    double densest = (a->sheet_width / 2 - a->lap) * a->spacings[a->spacing_count - 1];
    double tested = a->tested_row_spacing * a->tested_fastener_spacing;

    *column = "lap_in";
    if (a->lap >= a->sheet_width / 2 * (1 - rounding))
        return "the lap takes up a half sheet";
    *column = "tested_row_spacing_ft";
    if (a->tested_row_spacing > a->sheet_width * (1 + rounding))
        return "the tested rows are further apart than the sheet is wide";
    *column = "spacings_in";
    if (densest > tested * (1 + rounding))
        return "every spacing is sparser than the tested one: none can be used";
    return NULL;
}

static const char *board_fault(const struct assembly *a, const char **column)
{
    *column = "patterns";
    if (a->patterns[a->pattern_count - 1] < a->tested_per_board)
        return "every pattern is sparser than the tested one: none can be used";
    return NULL;
}

static const char *adhered_fault(const struct assembly *a, const char **column)
{
    double densest = a->ribbons[a->ribbon_count - 1];
    bool full_cover = a->tested_ribbon <= 0;

    *column = "decks";
    if (a->decks & 1u << DECK_STEEL)
        return "adhered doesn't go straight onto fluted steel deck: adhered-fastened does";
    *column = "ribbons_in";
    if (full_cover && a->ribbons[0] > 0)
        return "tested in full cover (0), so ribbons have no known strength";
    if (!full_cover && densest <= 0)
        return "full cover (0) can't be worked out from a ribbon test: give it a row";
    if (densest > a->tested_ribbon * (1 + rounding))
        return "every ribbon spacing is wider than the tested one: none can be used";
    return NULL;
}

enum outlay_status assembly_check(const char *table, int row,
                                  const struct assembly *assembly,
                                  struct outlay_error *err)
{
    const char *column = NULL;
    const char *fault = NULL;

    switch (assembly->method) {
    case METHOD_SEAM_FASTENED:
        fault = seam_fault(assembly, &column);
        break;
    case METHOD_INDUCTION_WELDED:
    case METHOD_ADHERED_FASTENED:
        fault = board_fault(assembly, &column);
        break;
    case METHOD_ADHERED:
        fault = adhered_fault(assembly, &column);
        break;
    case METHOD_UNTOLD:
    case METHOD_KINDS:
        break;
    }
    if (!fault && assembly->lap >= assembly->sheet_width) {
        column = "lap_in";
        fault = "the lap takes up the sheet";
    }
    if (!fault && assembly->extrapolation > 0 && assembly->extrapolation < 1) {
        column = "extrapolation";
        fault = "below 1 is sparser than tested; accepted: 0 for none, or 1 and up";
    }
    if (fault)
        return disagree(table, row, column, fault, err);
    return OUTLAY_OK;
}
