#include "write/vouched.h"

#include <string.h>

#include "roof/finding.h"

static bool same_visit(const struct finding *a, const struct finding *b)
{
    return strcmp(a->who, b->who) == 0 && strcmp(a->when, b->when) == 0;
}

static bool is_used(const struct roof *roof, const struct finding *finding)
{
    return roof->verified & 1u << finding->kind;
}

/* Whether a finding of the same visit or kind was told before it. */
static bool opens_visit(const struct roof *roof, size_t at)
{
    for (size_t i = 0; i < at; i++)
        if (is_used(roof, roof->findings[i]) &&
            same_visit(roof->findings[i], roof->findings[at]))
            return false;
    return true;
}

/* The kinds of one visit, each once. */
static void put_visit(struct text *out, const struct roof *roof, size_t first)
{
    const struct finding *visit = roof->findings[first];
    unsigned told = 0;

    for (size_t i = first; i < roof->finding_count; i++) {
        const struct finding *finding = roof->findings[i];

        if (!is_used(roof, finding) || !same_visit(finding, visit) ||
            told & 1u << finding->kind)
            continue;
        text_printf(out, "%s%s", told ? ", " : "", finding_kind_name((int)finding->kind));
        told |= 1u << finding->kind;
    }
    text_printf(out, " by %s, %s", visit->who, visit->when);
}

static void put_closings(struct text *out, const struct roof *roof, const char *before)
{
    const char *assembly = roof->zone_count ? roof->zones[0].attachment.assembly : NULL;

    for (int i = 0; i < ASSUMPTIONS; i++) {
        const struct closing *closing = NULL;

        if (roof->settled & ASSUMPTION_BIT(i))
            closing = roof_closing(roof, (enum assumption)i, assembly);
        if (!closing)
            continue;
        text_printf(out, "%s%s: %s", before, assumption_name(i), closing->by);
        before = "; ";
    }
}

void vouched_print(struct text *out, const struct roof *roof)
{
    const char *before = "found on site: ";

    for (size_t i = 0; i < roof->finding_count; i++) {
        if (!is_used(roof, roof->findings[i]) || !opens_visit(roof, i))
            continue;
        text_puts(out, before);
        put_visit(out, roof, i);
        before = "; ";
    }
    put_closings(out, roof, before[0] == ';' ? before : "");
}
