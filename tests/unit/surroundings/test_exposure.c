#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>

#include "surroundings/exposure.h"

#define FT M_PER_FT

/* Synthetic land cover: one roughness from a distance on, in one direction. Cases and
 * answers follow from the lengths of sec. 26.7.3, which are from memory. */
struct made {
    enum roughness near, far;
    double from;    /* where `far` begins, m */
    double until;   /* where it ends and `near` goes on, m; 0: never */
    double bearing; /* degrees; `far` lies within 22.5 of it */
    bool around;    /* in all directions instead */
};

static enum roughness made_at(const void *context, double x, double y)
{
    const struct made *made = context;
    double radius = hypot(x, y);
    double off = fabs(remainder(atan2(x, y) * 180 / acos(-1) - made->bearing, 360));
    bool far = radius >= made->from && (made->until == 0 || radius < made->until) &&
               (made->around || off < 22.5);

    return far ? made->far : made->near;
}

static struct exposure_finding find(const struct made *made, double height)
{
    struct land land = {made_at, made};
    struct exposure_finding finding;

    exposure_find(&land, height, 0.8, &finding);
    return finding;
}

static const struct {
    const char *name;
    struct made made;
    double height;
    enum exposure expected;
} cases[] = {
    {"a town all around", {ROUGHNESS_B, ROUGHNESS_B, 0, 0, 0, true}, 25 * FT, EXPOSURE_B},
    {"fields all around", {ROUGHNESS_C, ROUGHNESS_C, 0, 0, 0, true}, 25 * FT, EXPOSURE_C},
    {"an island", {ROUGHNESS_D, ROUGHNESS_D, 0, 0, 0, true}, 25 * FT, EXPOSURE_D},
    /* B over 1,500 ft is enough up to 30 ft; more than 20 % of a sector's area lies
     * beyond 90 % of its length, so 1,300 ft isn't */
    {"a town of 1,600 ft, low",
     {ROUGHNESS_B, ROUGHNESS_C, 1600 * FT, 0, 0, true},
     30 * FT,
     EXPOSURE_B},
    {"a town of 1,300 ft, low",
     {ROUGHNESS_B, ROUGHNESS_C, 1300 * FT, 0, 0, true},
     30 * FT,
     EXPOSURE_C},
    {"a town of 1,600 ft, 31 ft high",
     {ROUGHNESS_B, ROUGHNESS_C, 1600 * FT, 0, 0, true},
     31 * FT,
     EXPOSURE_C},
    {"a town of 2,700 ft, 31 ft high",
     {ROUGHNESS_B, ROUGHNESS_C, 2700 * FT, 0, 0, true},
     31 * FT,
     EXPOSURE_B},
    {"a town of 2,700 ft, 200 ft high",
     {ROUGHNESS_B, ROUGHNESS_C, 2700 * FT, 0, 0, true},
     200 * FT,
     EXPOSURE_C},
    {"a town of 4,100 ft, 200 ft high",
     {ROUGHNESS_B, ROUGHNESS_C, 4100 * FT, 0, 0, true},
     200 * FT,
     EXPOSURE_B},
    /* water prevails over 5,000 ft and reaches 600 ft inland */
    {"the sea 500 ft to the east",
     {ROUGHNESS_B, ROUGHNESS_D, 500 * FT, 0, 90, false},
     25 * FT,
     EXPOSURE_D},
    {"the sea 700 ft to the east",
     {ROUGHNESS_B, ROUGHNESS_D, 700 * FT, 0, 90, false},
     25 * FT,
     EXPOSURE_C},
    {"the sea 2,000 ft to the east, low",
     {ROUGHNESS_B, ROUGHNESS_D, 2000 * FT, 0, 90, false},
     25 * FT,
     EXPOSURE_B},
    {"the sea 1,500 ft to the west, 80 ft high",
     {ROUGHNESS_B, ROUGHNESS_D, 1500 * FT, 0, 270, false},
     80 * FT,
     EXPOSURE_D},
    {"the sea 1,700 ft to the west, 80 ft high",
     {ROUGHNESS_B, ROUGHNESS_D, 1700 * FT, 0, 270, false},
     80 * FT,
     EXPOSURE_C},
    /* a lake of 4,000 ft is no such fetch, one of 5,400 ft is */
    {"a lake of 4,000 ft to the south",
     {ROUGHNESS_C, ROUGHNESS_D, 300 * FT, 4300 * FT, 180, false},
     25 * FT,
     EXPOSURE_C},
    {"a lake of 5,400 ft to the south",
     {ROUGHNESS_C, ROUGHNESS_D, 300 * FT, 5700 * FT, 180, false},
     25 * FT,
     EXPOSURE_D},
    {"a lake of 5,400 ft, 300 ft high",
     {ROUGHNESS_C, ROUGHNESS_D, 200 * FT, 5400 * FT, 180, false},
     300 * FT,
     EXPOSURE_C},
};

static void known_answers(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct exposure_finding finding = find(&cases[i].made, cases[i].height);

        if (finding.exposure != cases[i].expected)
            fail_msg("%s: %s isn't %s", cases[i].name,
                     exposure_name((int)finding.exposure),
                     exposure_name((int)cases[i].expected));
    }
}

static void the_worst_sector_governs(void **state)
{
    struct made made = {ROUGHNESS_B, ROUGHNESS_D, 500 * FT, 0, 135, false};
    struct exposure_finding finding = find(&made, 25 * FT);

    (void)state;
    assert_string_equal(exposure_sector_name(finding.governs), "south-east");
    for (int i = 0; i < EXPOSURE_SECTORS; i++)
        assert_int_equal(finding.sectors[i].severest,
                         i == finding.governs ? EXPOSURE_D : EXPOSURE_B);
}

/* The same to all sides: turning the land by an eighth turns the finding. */
static void no_direction_is_special(void **state)
{
    (void)state;
    for (int i = 0; i < EXPOSURE_SECTORS; i++) {
        struct made made = {ROUGHNESS_B, ROUGHNESS_D, 500 * FT, 0, 45.0 * i, false};
        struct exposure_finding finding = find(&made, 25 * FT);

        assert_int_equal(finding.exposure, EXPOSURE_D);
        assert_int_equal(finding.governs, i);
    }
}

static void missing_ground_is_no_answer(void **state)
{
    struct made sea = {ROUGHNESS_B, ROUGHNESS_MISSING, 500 * FT, 0, 90, false};
    struct made far = {ROUGHNESS_B, ROUGHNESS_MISSING, 5000 * FT, 0, 90, false};
    struct made coast = {ROUGHNESS_D, ROUGHNESS_MISSING, 500 * FT, 0, 90, false};
    struct exposure_finding finding = find(&sea, 25 * FT);

    (void)state;
    assert_int_equal(finding.exposure, EXPOSURE_NOT_GIVEN);
    assert_int_equal(finding.sectors[2].mildest, EXPOSURE_B);
    assert_int_equal(finding.sectors[2].severest, EXPOSURE_D);
    assert_true(finding.sectors[2].missing > 0.9);
    /* where it can't matter, it doesn't */
    assert_int_equal(find(&far, 25 * FT).exposure, EXPOSURE_B);
    assert_int_equal(find(&coast, 25 * FT).exposure, EXPOSURE_D);
}

static void words_give_each_sector(void **state)
{
    struct made made = {ROUGHNESS_B, ROUGHNESS_D, 500 * FT, 0, 90, false};
    struct exposure_finding finding = find(&made, 25 * FT);
    struct text out = TEXT_INIT;

    (void)state;
    exposure_explain(&out, &finding, &unit_system_us);
    assert_non_null(strstr(out.data,
                           "   east: D; built-up or wooded on 12 % of 1,500 ft, "
                           "open water or flat ground on 100 % of 5,000 ft from "
                           "525 ft on\n"));
    assert_non_null(strstr(out.data, "   west: B; built-up or wooded on 100 %"));
    text_release(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(known_answers),
        cmocka_unit_test(the_worst_sector_governs),
        cmocka_unit_test(no_direction_is_special),
        cmocka_unit_test(missing_ground_is_no_answer),
        cmocka_unit_test(words_give_each_sector),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
