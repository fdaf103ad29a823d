/* Seam-fastened: rows a sheet apart, screws along them.
 *
 * Counts are by area: a zone's own row spacing times its fastener spacing. Of the real
 * rows only the one at the change from narrow to wide spacing is checked here, since it
 * carries more than any other: half of each neighbour spacing, each side with its own
 * zone's pressure. */

#include "attach/pattern.h"
#include "attach/rules.h"

/* Spacings that may be used with rows so far apart, sparsest first. */
struct usable {
    double row; /* m */
    double spacings[SPACINGS_MAX];
    size_t count;
};

struct seam {
    const struct site *site;
    const struct assembly *assembly;
    struct usable full, half; /* sheets */
    double tested_area;       /* of one fastener, m2 */
    double allowable;         /* load of one fastener, N */
    double most;              /* allowable pressure at the extrapolation limit, Pa */
    bool by_pullout;
};

/* Rows cross the ribs, so on steel deck a screw can only stand on every rib or on every
 * second or third one. */
static bool on_ribs(const struct site *site, double spacing)
{
    double pitch = site->roof->basis.rib_pitch;
    double ribs = spacing / pitch;

    if (!(pitch > 0))
        return true;
    return ribs > 0.5 && fabs(ribs - floor(ribs + 0.5)) < 1e-6 * ribs;
}

/* Neither sparser than tested nor beyond the extrapolation limit. */
static bool within_test(const struct seam *seam, double area)
{
    return area <= seam->tested_area * (1 + ROUNDING) &&
           seam->tested_area <= area * density_limit(seam->assembly) * (1 + ROUNDING);
}

static void usable_fill(const struct seam *seam, double row, struct usable *out)
{
    out->row = row;
    out->count = 0;
    for (size_t i = 0; i < seam->assembly->spacing_count; i++) {
        double spacing = seam->assembly->spacings[i];

        if (within_test(seam, row * spacing) && on_ribs(seam->site, spacing))
            out->spacings[out->count++] = spacing;
    }
}

static void seam_prepare(const struct site *site, const struct assembly *assembly,
                         struct seam *out)
{
    double full = assembly->sheet_width - assembly->lap;
    double half = assembly->sheet_width / 2 - assembly->lap;

    out->site = site;
    out->assembly = assembly;
    out->tested_area = assembly->tested_row_spacing * assembly->tested_fastener_spacing;
    out->allowable =
        fastener_allowable(site, assembly, out->tested_area, &out->by_pullout);
    out->most = out->allowable / out->tested_area * density_limit(assembly);
    usable_fill(out, full, &out->full);
    usable_fill(out, half, &out->half);
}

/* What pulls on a zone and on the row at its inner side. */
struct loads {
    double own;    /* allowable pressure of the zone, Pa */
    double beyond; /* of the next zone inward, Pa */
    double wide;   /* row spacing of the next zone inward, m; NAN */
};

static struct loads loads_at(const struct site *site, size_t i,
                             const struct pattern *next)
{
    struct loads loads = {demand_at(site, i), 0, NAN};

    if (next) {
        loads.beyond = demand_at(site, i + 1);
        loads.wide = next->row_spacing;
    }
    return loads;
}

/* Load on a fastener of the row where the spacing meets a wider one, N; 0 where it
 * doesn't. */
static double change_load(const struct loads *loads, double row, double spacing)
{
    if (!(loads->wide > row * (1 + ROUNDING)))
        return 0;
    return spacing * (loads->own * row + loads->beyond * loads->wide) / 2;
}

/* Whether a zone holds with these rows. */
static struct pattern pattern_judge(const struct seam *seam, double row, double spacing,
                                    const struct loads *loads)
{
    double load = change_load(loads, row, spacing);
    struct pattern pattern = {
        row,          spacing, NAN, MISSING,         0, 1 / (row * spacing),
        VERDICT_FITS, 0,       0,   seam->by_pullout};

    pattern.capacity = fmin(seam->allowable / (row * spacing), seam->most);
    if (loads->own > pattern.capacity * (1 + ROUNDING)) {
        pattern.verdict = VERDICT_WEAK;
        pattern.needed = loads->own;
        pattern.given = pattern.capacity;
    } else if (load > seam->allowable * (1 + ROUNDING)) {
        pattern.verdict = VERDICT_ROW;
        pattern.needed = load;
        pattern.given = seam->allowable;
    }
    return pattern;
}

static struct pattern pattern_none(void)
{
    struct pattern none = {NAN, NAN, NAN, MISSING, 0, NAN, VERDICT_OFF_RIBS, 0, 0, false};

    return none;
}

/* A zone by its own strength: the sparsest spacing that holds, else the densest. */
static struct pattern pattern_calculate(const struct seam *seam,
                                        const struct usable *usable,
                                        const struct loads *loads)
{
    struct pattern pattern = pattern_none();

    for (size_t i = 0; i < usable->count; i++) {
        pattern = pattern_judge(seam, usable->row, usable->spacings[i], loads);
        if (pattern.verdict == VERDICT_FITS)
            break;
    }
    return pattern;
}

/* How far zone i reaches in from the edge, m. */
static double zone_depth(const struct site *site, size_t i)
{
    const struct level *level = &site->roof->level;

    return site->roof->zones[i].role == ZONE_CORNER ? level->leg_depth
                                                    : level->perimeter_depth;
}

/* The storey rule's half sheets may end inside the zone; what lies beyond them has the
 * field's rows, and the zone is no stronger than that. */
static void reach_judge(const struct seam *seam, size_t i, const struct pattern *field,
                        struct pattern *pattern)
{
    double depth = zone_depth(seam->site, i);
    double reach = seam->site->rule_half_sheets * seam->half.row;
    double demand = demand_at(seam->site, i);
    double share = reach / depth;

    if (!(reach < depth * (1 - ROUNDING)))
        return;
    pattern->density = share * pattern->density + (1 - share) * field->density;
    pattern->capacity = fmin(pattern->capacity, field->capacity);
    if (pattern->verdict == VERDICT_FITS && demand > pattern->capacity * (1 + ROUNDING)) {
        pattern->verdict = VERDICT_REACH;
        pattern->needed = demand;
        pattern->given = pattern->capacity;
    }
}

/* Edge zone i by the rule: other rows than the field, the same spacing along them. */
static struct pattern pattern_by_rule(const struct seam *seam, size_t i,
                                      const struct pattern *field,
                                      const struct loads *loads)
{
    bool storey = seam->site->rule == RULE_STOREY;
    double fraction = row_fraction(seam->site->roof->zones[i].role);
    double row = storey ? seam->half.row : fraction * field->row_spacing;
    struct pattern pattern;

    if (field->verdict == VERDICT_OFF_RIBS)
        return *field;
    pattern = pattern_judge(seam, row, field->fastener_spacing, loads);
    if (storey)
        reach_judge(seam, i, field, &pattern);
    return pattern;
}

void seam_fit(const struct site *site, struct fit *fit)
{
    const struct loads none = {0, 0, NAN};
    const struct roof *roof = site->roof;
    const struct pattern *next = NULL;
    struct pattern field;
    struct seam seam;

    seam_prepare(site, fit->assembly, &seam);
    fit->fastener_load = seam.allowable;
    /* Until a field zone says otherwise: a roof may be edge zones throughout. */
    field = pattern_calculate(&seam, &seam.full, &none);
    /* From the inside out, for an edge zone's last row depends on what follows it. */
    for (size_t i = roof->zone_count; i-- > 0;) {
        enum zone_role role = roof->zones[i].role;
        bool edge = role == ZONE_CORNER || role == ZONE_PERIMETER;
        bool half = fit->half_rows & 1u << role;
        struct loads loads = loads_at(site, i, next);

        if (edge && site->rule != RULE_CALCULATED)
            fit->patterns[i] = pattern_by_rule(&seam, i, &field, &loads);
        else
            fit->patterns[i] =
                pattern_calculate(&seam, half ? &seam.half : &seam.full, &loads);
        if (role == ZONE_FIELD)
            field = fit->patterns[i];
        next = &fit->patterns[i];
    }
}

int seam_half_sheets(const struct site *site, const struct fit *fit)
{
    const struct assembly *assembly = fit->assembly;
    double half = assembly->sheet_width / 2 - assembly->lap;
    int count = 1;

    if (site->rule == RULE_STOREY)
        return site->rule_half_sheets;
    if (site->rule == RULE_ROW_FRACTION)
        return 0;
    for (size_t i = 0; i < site->roof->zone_count; i++) {
        double sheets = ceil(zone_depth(site, i) / half - ROUNDING);

        if (fit->half_rows & 1u << site->roof->zones[i].role)
            count = (int)fmin(fmax(sheets, count), HALF_SHEETS_MAX);
    }
    return count;
}
