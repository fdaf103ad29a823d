/* The option table is sound, and values are read whole or refused with a reason. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "options/options.h"

#define assert_near(a, b, within) assert_true(fabs((a) - (b)) <= (within))

static struct arena *arena;

static int open_arena(void **state)
{
    (void)state;
    arena = arena_new();
    return arena == NULL;
}

static int close_arena(void **state)
{
    (void)state;
    arena_free(arena);
    return 0;
}

static const struct option *named(const char *name)
{
    const struct option *option = option_find(name, strlen(name));
    assert_non_null(option);
    return option;
}

static enum outlay_status parse(const char *name, const char *value,
                                const struct unit_system *units,
                                struct settings *settings, struct outlay_error *err)
{
    return option_parse(named(name), value, units, arena, settings, err);
}

/* Names are unique, in lower case, and every row has what its kind needs. */
static void test_table_is_sound(void **state)
{
    (void)state;
    for (size_t i = 0; i < option_count(); i++) {
        const struct option *option = option_at(i);
        assert_ptr_equal(option_find(option->name, strlen(option->name)), option);
        assert_int_equal(strspn(option->name, "abcdefghijklmnopqrstuvwxyz-"),
                         strlen(option->name));
        if (option->letter)
            assert_ptr_equal(option_by_letter(option->letter), option);
        assert_true(option->offset < sizeof(struct settings));
        assert_true(option->commands != 0);
        assert_non_null(option->initial);
        assert_true(strlen(option->help) > 4 && strlen(option->help) < 80);
        assert_true(option->help[strlen(option->help) - 1] != '.');
        assert_int_equal(option->value == NULL, option->kind == OPTION_FLAG);
        assert_int_equal(option->name_of != NULL,
                         option->kind == OPTION_CHOICE || option->kind == OPTION_LIST);
        if (option->kind == OPTION_NUMBER || option->kind == OPTION_WHOLE)
            assert_true(option->least < option->most);
        assert_int_equal(option->unit_us != NULL, option->unit_si != NULL);
        assert_int_equal(option->unit_us != NULL, option->kind == OPTION_NUMBER &&
                                                      option->quantity != QUANTITY_COUNT);
    }
}

static void test_units_of_the_table_exist(void **state)
{
    (void)state;
    double factor;
    for (size_t i = 0; i < option_count(); i++) {
        const struct option *option = option_at(i);
        if (!option->unit_us)
            continue;
        assert_true(unit_find(option->unit_us, option->quantity, &factor));
        assert_true(unit_find(option->unit_si, option->quantity, &factor));
    }
}

/* What help calls the default is what the rooms start from. */
static void test_defaults_agree_with_the_rooms(void **state)
{
    (void)state;
    for (size_t i = 0; i < option_count(); i++) {
        const struct option *option = option_at(i);
        struct settings initial;
        struct settings parsed;
        struct text before = TEXT_INIT;
        struct text after = TEXT_INIT;
        settings_init(&initial);
        settings_init(&parsed);
        option_print(option, &initial, &before);
        if (*option->initial) {
            assert_int_equal(option_parse(option, option->initial, &unit_system_us, arena,
                                          &parsed, NULL),
                             OUTLAY_OK);
            option_print(option, &parsed, &after);
            assert_string_equal(before.data, after.data);
        } else {
            assert_int_equal(before.length, 0);
        }
        text_release(&before);
        text_release(&after);
    }
}

static void test_names_are_found_with_underscores_too(void **state)
{
    (void)state;
    assert_ptr_equal(named("wind_speed"), named("wind-speed"));
    assert_null(option_find("wind", 4));
    assert_null(option_find("wind-speeds", 11));
    assert_null(option_by_letter(0));
    assert_null(option_by_letter('z'));
    assert_string_equal(option_nearest("wnid-speed", FOR_RUN), "wind-speed");
    assert_null(option_nearest("colour", FOR_RUN));
    /* Only options of the command are proposed. */
    assert_null(option_nearest("writ", FOR_INSPECT));
}

static void test_numbers_take_units(void **state)
{
    (void)state;
    static const struct {
        const char *name, *value;
        const struct unit_system *units;
        double expected;
    } cases[] = {
        {"wind-speed", "115mph", &unit_system_si, 115 * 0.44704},
        {"wind-speed", "51 m/s", &unit_system_us, 51},
        {"wind-speed", "115", &unit_system_us, 115 * 0.44704},
        {"wind-speed", "51", &unit_system_si, 51},
        {"wind-speed", "300 mph", &unit_system_us, 300 * 0.44704},
        {"wind-speed", " 20 mph ", &unit_system_us, 20 * 0.44704},
        {"wind-speed", "1.15e2 mph", &unit_system_us, 115 * 0.44704},
        {"rib-pitch", "6", &unit_system_us, 0.1524},
        {"rib-pitch", "150", &unit_system_si, 0.150},
        {"rib-pitch", "0.5ft", &unit_system_us, 0.1524},
        {"elevation", "-10 ft", &unit_system_us, -3.048},
        {"topographic", "1.3", &unit_system_us, 1.3},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct settings settings;
        settings_init(&settings);
        assert_int_equal(
            parse(cases[i].name, cases[i].value, cases[i].units, &settings, NULL),
            OUTLAY_OK);
        const double *value =
            (const double *)((const char *)&settings + named(cases[i].name)->offset);
        assert_near(*value, cases[i].expected, 1e-9);
    }
}

static void test_bad_values_are_refused(void **state)
{
    (void)state;
    static const struct {
        const char *name, *value, *what, *todo;
    } cases[] = {
        {"wind-speed", "fast", "isn't a number", "20 to 300 mph"},
        {"wind-speed", "", "isn't a number", "20 to 300 mph"},
        {"wind-speed", "0x70", "doesn't fit", "20 to 300 mph"},
        {"wind-speed", "nan", "isn't a number", "20 to 300 mph"},
        {"wind-speed", "1e999", "isn't a number", "20 to 300 mph"},
        {"wind-speed", "301", "out of range", "20 to 300 mph"},
        {"wind-speed", "115 ft", "doesn't fit", "20 to 300 mph"},
        {"wind-speed", "115 mph x", "doesn't fit", "20 to 300 mph"},
        {"wind-speed", "115 furlongs per fortnight", "doesn't fit", "300 mph"},
        {"topographic", "1.3 m", "after the number", "1 to 5"},
        {"threads", "2.5", "isn't a whole number", "0 to 64"},
        {"threads", "65", "out of range", "0 to 64"},
        {"exposure", "E", "isn't known", "B, C, D"},
        {"exposure", "", "isn't known", "B, C, D"},
        {"standard", "asce7-05", "isn't known", "asce7-22, asce7-16, asce7-10"},
        {"write", "zones,maps", "isn't known", "some of zones, roofs"},
        {"write", "zones,", "isn't known", "all"},
        {"strict", "perhaps", "neither yes nor no", "yes or no"},
        {"bbox", "1,2,3", "isn't a box", "west,south,east,north"},
        {"bbox", "1,2,3,4,5", "isn't a box", "west,south,east,north"},
        {"bbox", "3,2,1,4", "isn't a box", "west < east"},
        {"bbox", "1,2,3,91", "isn't a box", "west,south,east,north"},
        {"field", "height", "has no =", "height=HGT:ft"},
        {"field", "xyz=D", "names no role", "`outlay help roles` lists them"},
        {"field", "heigth=HGT:ft", "names no role", "did you mean height?"},
        {"elevation", "1,500", "for thousands or decimals", "ft"},
        {"elevation", "39'12\"", "doesn't fit", "ft"},
        {"layer", "", "is empty", "a text"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct settings settings;
        struct outlay_error err = {0};
        settings_init(&settings);
        assert_int_equal(
            parse(cases[i].name, cases[i].value, &unit_system_us, &settings, &err),
            OUTLAY_E_USAGE);
        assert_non_null(strstr(err.what, cases[i].name));
        assert_non_null(strstr(err.what, cases[i].what));
        assert_non_null(strstr(err.todo, cases[i].todo));
    }
}

static void test_values_are_read_as_in_columns(void **state)
{
    static const struct {
        const char *name, *value;
        double length; /* of elevation, m */
        int word;
    } cases[] = {
        {"elevation", "39'4\"", (39 + 4 / 12.0) * M_PER_FT, 0},
        {"elevation", "12,5 m", 12.5, 0},
        {"enclosure", "partially enclosed", 0, ENCLOSURE_PARTIALLY_ENCLOSED},
        {"deck", "plywood", 0, DECK_WOOD},
        {"exposure", "Exposure C", 0, EXPOSURE_C},
        {"method", "mechanically attached", 0, METHOD_SEAM_FASTENED},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct settings settings;
        const char *at = (const char *)&settings + named(cases[i].name)->offset;

        settings_init(&settings);
        assert_int_equal(
            parse(cases[i].name, cases[i].value, &unit_system_us, &settings, NULL),
            OUTLAY_OK);
        if (cases[i].word)
            assert_int_equal(*(const int *)at, cases[i].word);
        else
            assert_near(*(const double *)at, cases[i].length, 1e-12);
    }
}

static void test_other_kinds(void **state)
{
    (void)state;
    struct settings settings;
    settings_init(&settings);
    assert_int_equal(parse("write", "zones, problems", &unit_system_us, &settings, NULL),
                     OUTLAY_OK);
    assert_int_equal(settings.parts, 1u << PART_ZONES | 1u << PART_PROBLEMS);
    assert_int_equal(parse("write", "all", &unit_system_us, &settings, NULL), OUTLAY_OK);
    assert_int_equal(settings.parts, PARTS_ALL);
    assert_int_equal(parse("kz-floor", "Off", &unit_system_us, &settings, NULL),
                     OUTLAY_OK);
    assert_false(settings.uplift.kz_floor);
    assert_int_equal(
        parse("method", "Induction_Welded", &unit_system_us, &settings, NULL), OUTLAY_OK);
    assert_int_equal(settings.attach.method, METHOD_INDUCTION_WELDED);
    assert_int_equal(
        parse("bbox", "-75.2,39.9,-75.1,40", &unit_system_us, &settings, NULL),
        OUTLAY_OK);
    assert_true(settings.read.has_bbox);
    assert_near(settings.read.bbox.max_x, -75.1, 0);
    assert_int_equal(parse("field", "height=HGT:ft", &unit_system_us, &settings, NULL),
                     OUTLAY_OK);
    assert_int_equal(parse("field", "building=", &unit_system_us, &settings, NULL),
                     OUTLAY_OK);
    assert_string_equal(settings.read.fields[ROLE_HEIGHT], "HGT:ft");
    assert_string_equal(settings.read.fields[ROLE_BUILDING], "");
    assert_null(settings.read.fields[ROLE_STOREYS]);
}

/* A printed value gives the same value when it is read again. */
static void test_printed_values_read_back(void **state)
{
    (void)state;
    static const char *const given[][2] = {{"wind-speed", "51.5 m/s"},
                                           {"jog-tolerance", "2.5 ft"},
                                           {"pullout", "400 lbf"},
                                           {"bbox", "-75.25,39.5,-75,40"},
                                           {"write", "zones,run"},
                                           {"strict", "yes"},
                                           {"edge-rule", "storey-rule"},
                                           {"threads", "4"},
                                           {"layer", "roofs"}};
    for (size_t i = 0; i < sizeof given / sizeof given[0]; i++) {
        struct settings first;
        struct settings second;
        struct text once = TEXT_INIT;
        struct text twice = TEXT_INIT;
        settings_init(&first);
        settings_init(&second);
        assert_int_equal(parse(given[i][0], given[i][1], &unit_system_us, &first, NULL),
                         OUTLAY_OK);
        option_print(named(given[i][0]), &first, &once);
        assert_int_equal(parse(given[i][0], once.data, &unit_system_us, &second, NULL),
                         OUTLAY_OK);
        option_print(named(given[i][0]), &second, &twice);
        assert_string_equal(once.data, twice.data);
        text_release(&once);
        text_release(&twice);
    }
}

/* Help names each option of the command and no other; all fits 90 columns. */
static void test_help_is_complete(void **state)
{
    (void)state;
    struct text help = TEXT_INIT;
    options_help(FOR_EXPLAIN, &help);
    for (size_t i = 0; i < option_count(); i++) {
        char name[64];
        snprintf(name, sizeof name, "--%s%s", option_at(i)->name,
                 option_at(i)->value ? " " : "");
        assert_int_equal(strstr(help.data, name) != NULL,
                         (option_at(i)->commands & FOR_EXPLAIN) != 0);
    }
    for (const char *line = help.data; *line; line += strcspn(line, "\n") + 1)
        assert_true(strcspn(line, "\n") <= 90);
    text_release(&help);
}

static void test_every_role_can_be_told(void **state)
{
    (void)state;
    struct settings settings;
    settings_init(&settings);
    for (int role = 0; role < FIELD_ROLES; role++) {
        char text[64];
        snprintf(text, sizeof text, "%s=COLUMN", field_role_name(role));
        assert_int_equal(parse("field", text, &unit_system_us, &settings, NULL),
                         OUTLAY_OK);
        assert_string_equal(settings.read.fields[role], "COLUMN");
        for (char *c = text; (c = strchr(c, '_')) != NULL;)
            *c = '-';
        assert_int_equal(parse("field", text, &unit_system_us, &settings, NULL),
                         OUTLAY_OK);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_table_is_sound),
        cmocka_unit_test(test_units_of_the_table_exist),
        cmocka_unit_test(test_defaults_agree_with_the_rooms),
        cmocka_unit_test(test_names_are_found_with_underscores_too),
        cmocka_unit_test(test_numbers_take_units),
        cmocka_unit_test(test_bad_values_are_refused),
        cmocka_unit_test(test_values_are_read_as_in_columns),
        cmocka_unit_test(test_other_kinds),
        cmocka_unit_test(test_every_role_can_be_told),
        cmocka_unit_test(test_printed_values_read_back),
        cmocka_unit_test(test_help_is_complete),
    };
    return cmocka_run_group_tests_name("options/options", tests, open_arena, close_arena);
}
