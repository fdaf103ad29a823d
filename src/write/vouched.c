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

void vouched_found(struct text *out, const struct roof *roof)
{
    const char *before = "found on site: ";

    for (size_t i = 0; i < roof->finding_count; i++) {
        if (!is_used(roof, roof->findings[i]) || !opens_visit(roof, i))
            continue;
        text_puts(out, before);
        put_visit(out, roof, i);
        before = "; ";
    }
}

bool vouched_closing(struct text *out, const struct roof *roof, enum assumption what)
{
    const char *assembly = roof->zone_count ? roof->zones[0].attachment.assembly : NULL;
    const struct closing *closing = NULL;

    if (roof->settled & ASSUMPTION_BIT(what))
        closing = roof_closing(roof, what, assembly);
    if (closing)
        text_printf(out, "%s: %s", assumption_name((int)what), closing->by);
    return closing != NULL;
}

void vouched_print(struct text *out, const struct roof *roof)
{
    struct text closing = TEXT_INIT;

    vouched_found(out, roof);
    for (int i = 0; i < ASSUMPTIONS; i++) {
        text_clear(&closing);
        if (vouched_closing(&closing, roof, (enum assumption)i))
            text_printf(out, "%s%s", out->length ? "; " : "",
                        closing.data ? closing.data : "");
    }
    out->failed = out->failed || closing.failed;
    text_release(&closing);
}
