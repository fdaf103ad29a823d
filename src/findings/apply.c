/* From findings to the attributes of a roof. */

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "findings/findings.h"
#include "findings/kinds.h"
#include "read/value.h"

/* Readings of one thing agree within this share, or this much in SI (ours). */
static const double agree_share = 0.02, agree_least = 1e-9;

/* Ribs and the like, degrees (ours). */
static const double agree_degrees = 10;

/* The findings of one kind on one roof. */
struct readings {
    enum finding_kind kind;
    const struct finding *first, *least, *greatest;
    size_t count;
    double sum;
};

static struct readings readings_of(const struct roof *roof, enum finding_kind kind)
{
    struct readings out = {.kind = kind};

    for (size_t i = 0; i < roof->finding_count; i++) {
        const struct finding *finding = roof->findings[i];

        if (finding->kind != kind)
            continue;
        if (!out.count || finding->value < out.least->value)
            out.least = finding;
        if (!out.count || finding->value > out.greatest->value)
            out.greatest = finding;
        if (!out.count++)
            out.first = finding;
        out.sum += finding->value;
    }
    return out;
}

/* Ribs have no front: 5 and 185 degrees are one direction. */
static double apart(const struct readings *readings)
{
    double apart = readings->greatest->value - readings->least->value;

    if (readings->kind != FINDING_DECK_BEARING)
        return apart;
    apart = fmod(apart, 180);
    return fmin(apart, 180 - apart);
}

static bool agree(const struct readings *readings)
{
    double most = readings->kind == FINDING_DECK_BEARING
                      ? agree_degrees
                      : agree_share * fabs(readings->greatest->value) + agree_least;

    return apart(readings) <= most;
}

static void say_differ(struct arena *arena, struct roof *roof,
                       const struct readings *readings)
{
    roof_problem(arena, roof, PROBLEM_FINDINGS_DIFFER,
                 "none is used: look again, or give edges that change by --edges",
                 "findings differ: %s is %s (%s) and %s (%s)",
                 finding_kind_name((int)readings->kind), readings->least->text,
                 readings->least->where, readings->greatest->text,
                 readings->greatest->where);
}

/* The one value that they come to; false: none. */
static bool merge(struct arena *arena, struct roof *roof, const struct readings *readings,
                  double *value)
{
    switch (finding_merge(readings->kind)) {
    case MERGE_GREATEST:
        *value = readings->greatest->value;
        return true;
    case MERGE_LEAST:
        *value = readings->least->value;
        return true;
    case MERGE_SAME:
        *value = readings->first->value;
        if (!agree(readings))
            say_differ(arena, roof, readings);
        return agree(readings);
    case MERGE_SHARE:
        *value = readings->sum / (double)readings->count;
        return true;
    case MERGE_ALL:
        break;
    }
    return false;
}

static void apply_kind(struct arena *arena, struct roof *roof, enum finding_kind kind)
{
    struct readings readings = readings_of(roof, kind);
    int role = finding_role(kind);
    double value = 0;

    if (!readings.count || !merge(arena, roof, &readings, &value))
        return;
    roof->verified |= 1u << kind;
    if (role >= 0 && !(value_plain(roof, (enum field_role)role) == value))
        roof->changed |= 1u << kind;
    if (role >= 0)
        value_set(roof, (enum field_role)role, value);
    else if (kind == FINDING_WET && !(roof->verified & 1u << FINDING_WET_SHARE))
        value_set(roof, ROLE_WET_SHARE, value);
}

/* ---- Which are the roof's ---- */

static size_t first_of(const struct findings *findings, const char *id)
{
    size_t low = 0, high = findings->count;

    while (low < high) {
        size_t middle = low + (high - low) / 2;

        if (strcmp(findings->by_roof[middle]->roof, id) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static size_t collect(struct roof *roof, const struct findings *findings, bool keep)
{
    size_t count = 0;

    for (size_t i = 0; i < findings->count && !*findings->by_roof[i]->roof; i++)
        if (region_holds(&roof->lonlat, findings->by_roof[i]->at) && ++count && keep)
            roof->findings[count - 1] = findings->by_roof[i];
    for (size_t i = first_of(findings, roof->id);
         i < findings->count && strcmp(findings->by_roof[i]->roof, roof->id) == 0; i++)
        if (++count && keep)
            roof->findings[count - 1] = findings->by_roof[i];
    return count;
}

enum outlay_status findings_apply(struct arena *arena, struct roof *roof,
                                  const struct findings *findings)
{
    size_t count = collect(roof, findings, false);

    if (count == 0)
        return OUTLAY_OK;
    roof->findings = arena_array(arena, count, sizeof *roof->findings);
    if (!roof->findings)
        return OUTLAY_E_MEMORY;
    roof->finding_count = collect(roof, findings, true);
    for (int kind = FINDING_KINDS - 1; kind >= 0; kind--)
        apply_kind(arena, roof, (enum finding_kind)kind);
    return OUTLAY_OK;
}
