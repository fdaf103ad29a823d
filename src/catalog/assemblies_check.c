/* What the cells of one row must agree on, so that attach/ can rely on it. */

#include <math.h>
#include <stdbool.h>

#include "catalog/assemblies_private.h"

static const double rounding = 1e-9; /* relative, of unit conversion */

static enum outlay_status disagree(const char *table, int row, const char *column,
                                   const char *what, struct outlay_error *err)
{
    enum outlay_status status = outlay_fail(err, OUTLAY_E_USAGE, "%s", what);

    outlay_fail_where(err, "%s, row %d, column %s", table, row, column);
    return status;
}

/* Attachment is never sparser than tested nor denser than the extrapolation allows, so
 * a row without a pattern in between could never be used. */
static bool density_fits(const struct assembly *a, double density, double tested)
{
    double limit = tested * fmax(a->extrapolation, 1);

    return density >= tested * (1 - rounding) && density <= limit * (1 + rounding);
}

static const char *seam_fault(const struct assembly *a, const char **column)
{
    double full = a->sheet_width - a->lap;
    double tested = 1 / (a->tested_row_spacing * a->tested_fastener_spacing);

    *column = "lap_in";
    if (a->lap >= a->sheet_width / 2 * (1 - rounding))
        return "the lap takes up a half sheet";
    *column = "tested_row_spacing_ft";
    if (a->tested_row_spacing > a->sheet_width * (1 + rounding))
        return "the tested rows are further apart than the sheet is wide";
    for (size_t i = 0; i < a->spacing_count; i++) {
        if (density_fits(a, 1 / (full * a->spacings[i]), tested))
            return NULL;
    }
    *column = "spacings_in";
    return "with full sheets every spacing is sparser than tested or beyond the "
           "extrapolation: none can be used";
}

static const char *board_fault(const struct assembly *a, const char **column)
{
    for (size_t i = 0; i < a->pattern_count; i++) {
        if (density_fits(a, a->patterns[i], a->tested_per_board))
            return NULL;
    }
    *column = "patterns";
    return "every pattern is sparser than tested or beyond the extrapolation: none can "
           "be used";
}

static const char *adhered_fault(const struct assembly *a, const char **column)
{
    double densest = a->ribbons[a->ribbon_count - 1];
    double tested = a->tested_ribbon;
    bool full_cover = tested <= 0;

    *column = "decks";
    if (a->decks & 1u << DECK_STEEL)
        return "adhered doesn't go straight onto fluted steel deck";
    *column = "ribbons_in";
    if (full_cover && a->ribbons[0] > 0)
        return "tested in full cover (0), so ribbons have no known strength";
    if (!full_cover && densest <= 0)
        return "full cover (0) can't be worked out from a ribbon test: give it a row";
    for (size_t i = 0; i < a->ribbon_count; i++) {
        if (full_cover || density_fits(a, 1 / a->ribbons[i], 1 / tested))
            return NULL;
    }
    return "every ribbon spacing is wider than tested or beyond the extrapolation: none "
           "can be used";
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
    case METHOD_NOT_GIVEN:
    case METHOD_KINDS:
        break;
    }
    if (!fault && assembly->extrapolation > 0 && assembly->extrapolation < 1) {
        column = "extrapolation";
        fault = "below 1 is sparser than tested; accepted: 0 for none, or 1 and up";
    }
    if (fault)
        return disagree(table, row, column, fault, err);
    return OUTLAY_OK;
}
