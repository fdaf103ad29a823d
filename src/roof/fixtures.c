#include "roof/fixtures.h"

#include <math.h>

const char *fixture_kind_name(int value)
{
#define X(code, name) name,
    static const char *const names[] = { "", FIXTURE_KIND_MAP(X) };
#undef X
    return value >= 0 && value < FIXTURE_KINDS ? names[value] : NULL;
}

int fixtures_count(const struct roof *roof, enum fixture_kind kind)
{
    int count = 0;

    for (size_t i = 0; i < roof->fixture_count; i++)
        count += roof->fixtures[i].kind == kind;
    return count;
}

int roof_drains(const struct roof *roof)
{
    int placed = fixtures_count(roof, FIXTURE_DRAIN);

    return placed || fixtures_count(roof, FIXTURE_SCUPPER) ? placed : roof->given.drains;
}

int roof_penetrations(const struct roof *roof)
{
    int placed =
        fixtures_count(roof, FIXTURE_PIPE) + fixtures_count(roof, FIXTURE_SUPPORT);

    return placed ? placed : roof->given.penetrations;
}

double fixture_girth(const struct fixture *fixture)
{
    return fixture->footprint.count ? ring_length(fixture->footprint) : (double)NAN;
}

bool fixture_is_curbed(enum fixture_kind kind)
{
    return kind == FIXTURE_CURB || kind == FIXTURE_UNIT || kind == FIXTURE_HATCH ||
           kind == FIXTURE_SKYLIGHT;
}

bool fixture_keeps_clear(const struct fixture *fixture)
{
    return fixture->kind == FIXTURE_DRAIN || fixture->kind == FIXTURE_PIPE;
}

double fixture_radius(const struct fixture *fixture)
{
    /* fmax() leaves out what isn't known */
    return fmax(fmax(fixture->width, fixture->length), 0) / 2;
}
