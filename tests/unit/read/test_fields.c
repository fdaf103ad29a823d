#include "help.h"

#include "read/fields.h"
#include "read/roles.h"

/* A set of columns and what the user gave, resolved as a file's. columns: separated by
 * blanks. */
struct setup {
    struct fields fields;
    enum outlay_status status;
    struct outlay_error err;
};

static void set_up(struct setup *setup, const char *columns, enum field_role role,
                   const char *given)
{
    const char *specs[FIELD_ROLES] = {0};
    char **names = CSLTokenizeString2(columns, " ", 0);

    setup->err = (struct outlay_error){0};
    if (given)
        specs[role] = given;
    assert_int_equal(fields_init(&setup->fields, specs, NULL), OUTLAY_OK);
    for (int i = 0; names && names[i]; i++)
        assert_int_equal(fields_add(&setup->fields, names[i], NULL), OUTLAY_OK);
    CSLDestroy(names);
    setup->status = fields_resolve(&setup->fields, true, &setup->err);
}

static const char *column_of(const struct setup *setup, enum field_role role)
{
    int column = setup->fields.roles[role].column;

    return column < 0 ? NULL : setup->fields.columns[column];
}

/* Expects role to be played by column in unit; NULL: by none. */
static void expect(const char *columns, enum field_role role, const char *given,
                   const char *column, const char *unit)
{
    struct setup setup;

    set_up(&setup, columns, role, given);
    if (setup.status != OUTLAY_OK)
        fail_msg("%s: %s", columns, setup.err.what);
    if (column) {
        assert_non_null(column_of(&setup, role));
        assert_string_equal(column_of(&setup, role), column);
        assert_string_equal(setup.fields.roles[role].unit, unit);
        assert_int_equal(setup.fields.roles[role].given, given != NULL);
    } else {
        assert_null(column_of(&setup, role));
    }
    fields_release(&setup.fields);
}

static void expect_error(const char *columns, enum field_role role, const char *given,
                         const char *what, const char *todo)
{
    struct setup setup;

    set_up(&setup, columns, role, given);
    assert_int_equal(setup.status, OUTLAY_E_USAGE);
    assert_contains(setup.err.what, what);
    assert_contains(setup.err.todo, todo);
    fields_release(&setup.fields);
}

static void common_names_are_recognised(void **state)
{
    (void)state;
    expect("a HEIGHT_FT b", ROLE_HEIGHT, NULL, "HEIGHT_FT", "ft");
    expect("height_m", ROLE_HEIGHT, NULL, "height_m", "m");
    expect("Bldg_Height_Meters", ROLE_HEIGHT, NULL, "Bldg_Height_Meters", "m");
    expect("building:levels", ROLE_STOREYS, NULL, "building:levels", "");
    expect("NUM_FLOORS", ROLE_STOREYS, NULL, "NUM_FLOORS", "");
    expect("bldg_id", ROLE_BUILDING, NULL, "bldg_id", "");
    expect("wind_speed_mph", ROLE_WIND_SPEED, NULL, "wind_speed_mph", "mph");
    expect("wind_speed_mps", ROLE_WIND_SPEED, NULL, "wind_speed_mps", "m/s");
    expect("pullout_lbf", ROLE_PULLOUT, NULL, "pullout_lbf", "lbf");
    expect("pullout_n", ROLE_PULLOUT, NULL, "pullout_n", "N");
    expect("rating_psf", ROLE_RATING, NULL, "rating_psf", "psf");
    expect("rating_pa", ROLE_RATING, NULL, "rating_pa", "Pa");
    expect("stack_in", ROLE_STACK, NULL, "stack_in", "in");
    expect("slope", ROLE_SLOPE, NULL, "slope", "");
    expect("slope_pct", ROLE_SLOPE, NULL, "slope_pct", "percent");
    expect("heights ft name2", ROLE_HEIGHT, NULL, NULL, NULL);
    expect("height_mph", ROLE_HEIGHT, NULL, NULL, NULL); /* no length */
}

static void a_stated_unit_beats_a_bare_name(void **state)
{
    (void)state;
    expect("height height_m", ROLE_HEIGHT, NULL, "height_m", "m");
    expect("id roof_id", ROLE_ID, NULL, "roof_id", "");
}

static void units_are_never_guessed(void **state)
{
    (void)state;
    expect_error("id height", ROLE_HEIGHT, NULL, "column \"height\"",
                 "--field height=height:ft|m");
    expect_error("HGT", ROLE_HEIGHT, NULL, "column \"HGT\"", "--field height=HGT:ft|m");
    expect_error("wind_speed", ROLE_WIND_SPEED, NULL, "no stated unit",
                 "--field wind_speed=wind_speed:mph|m/s|km/h|kt");
    expect_error("rating", ROLE_RATING, NULL, "no stated unit", "psf|Pa|kPa");
    expect_error("pullout", ROLE_PULLOUT, NULL, "no stated unit", "lbf|N|kN");
    expect_error("HEIGHTROOF", ROLE_HEIGHT, "HEIGHTROOF", "no stated unit", ":ft|m");
    /* left out by the user */
    expect("height", ROLE_HEIGHT, "", NULL, NULL);
}

static void open_schemas_state_their_units(void **state)
{
    struct setup setup;

    (void)state;
    expect("osm_id height", ROLE_HEIGHT, NULL, "height", "m");
    expect("height building:levels", ROLE_HEIGHT, NULL, "height", "m");
    expect("height has_parts num_floors", ROLE_HEIGHT, NULL, "height", "m");
    expect("approx_hgt max_hgt", ROLE_HEIGHT, NULL, "approx_hgt", "ft");
    expect("approx_hgt", ROLE_HEIGHT, NULL, NULL, NULL); /* no evidence */
    set_up(&setup, "ID HAUTEUR PREC_PLANI", ROLE_HEIGHT, NULL);
    assert_int_equal(setup.status, OUTLAY_OK);
    assert_string_equal(column_of(&setup, ROLE_HEIGHT), "HAUTEUR");
    assert_string_equal(setup.fields.roles[ROLE_HEIGHT].unit, "m");
    assert_true(setup.fields.roles[ROLE_HEIGHT].zero_unknown);
    fields_release(&setup.fields);
}

static void told_columns_win(void **state)
{
    (void)state;
    expect("height_m HEIGHTROOF", ROLE_HEIGHT, "HEIGHTROOF:ft", "HEIGHTROOF", "ft");
    expect("HeightRoof", ROLE_HEIGHT, "heightroof:M", "HeightRoof", "m");
    expect("height height_ft HEIGHT", ROLE_HEIGHT, "HEIGHT:m", "HEIGHT", "m");
    expect("H_ft", ROLE_HEIGHT, "H_ft", "H_ft", "ft");
    expect("v", ROLE_WIND_SPEED, "v:m/s", "v", "m/s");
    expect("p", ROLE_RATING, "p:kPa", "p", "kPa");
    expect("s", ROLE_SLOPE, "s:in/ft", "s", "in/ft");
    /* columns with colons */
    expect("building:levels", ROLE_STOREYS, "building:levels", "building:levels", "");
    expect("building:height", ROLE_HEIGHT, "building:height:m", "building:height", "m");
    expect("a:ft a", ROLE_HEIGHT, "a:ft:m", "a:ft", "m");
    /* one column in two roles */
    expect("BIN", ROLE_BUILDING, "BIN", "BIN", "");
}

static void told_columns_must_be_there(void **state)
{
    (void)state;
    expect_error("a b HGT", ROLE_HEIGHT, "HIGHT:ft", "no such column",
                 "the columns are: a, b, HGT");
    expect_error("", ROLE_ID, "a", "no such column", "none");
    expect_error("a HGT_1 b", ROLE_HEIGHT, "HTG_1:ft", "no such column",
                 "did you mean HGT_1? the columns are: a, HGT_1, b");
    expect_error("building:levels", ROLE_STOREYS, "bulding:levels", "no such column",
                 "did you mean building:levels?");
    expect_error("HGT", ROLE_HEIGHT, "HGT:fathom", "no unit \"fathom\"", "ft|in|m|cm|mm");
    expect_error("HGT", ROLE_HEIGHT, "HGT:psf", "no unit \"psf\"", "ft|in|m|cm|mm");
    expect_error("n", ROLE_STOREYS, "n:ft", "no unit \"ft\"", "leave the unit away");
    expect_error("HGT", ROLE_HEIGHT, "HGT:", "no unit \"\"", "ft|in|m|cm|mm");
}

/* `building` is a class in most layers; see trust_building() in fields.c. */
static void a_class_isnt_taken_for_a_building(void **state)
{
    struct setup setup;

    (void)state;
    expect("building name height_m", ROLE_BUILDING, NULL, NULL, NULL);
    expect("osm_id building covers exposure", ROLE_BUILDING, NULL, NULL, NULL);
    expect("building covers exposure id", ROLE_BUILDING, NULL, "building", "");
    expect("building building_id", ROLE_BUILDING, NULL, "building_id", "");
    expect("osm_id building", ROLE_BUILDING, "building", "building", "");
    set_up(&setup, "building", ROLE_ID, NULL);
    assert_true(setup.fields.unread_building);
    struct text notes = TEXT_INIT;
    fields_describe(&setup.fields, &notes);
    assert_contains(notes.data, "--field building=building");
    text_release(&notes);
    fields_release(&setup.fields);
}

/* As in a stream, whose columns come up one by one. */
static void columns_may_come_later(void **state)
{
    const char *specs[FIELD_ROLES] = {[ROLE_HEIGHT] = "h:ft", [ROLE_NAME] = "label"};
    struct outlay_error err = {0};
    struct fields fields;

    (void)state;
    assert_int_equal(fields_init(&fields, specs, NULL), OUTLAY_OK);
    assert_int_equal(fields_add(&fields, "id", NULL), OUTLAY_OK);
    assert_int_equal(fields_resolve(&fields, false, &err), OUTLAY_OK);
    assert_int_equal(fields.use_count, 1);
    fields_filled(&fields, ROLE_ID);
    assert_int_equal(fields_add(&fields, "h", NULL), OUTLAY_OK);
    assert_int_equal(fields_add(&fields, "roof_id", NULL), OUTLAY_OK);
    assert_int_equal(fields_resolve(&fields, false, &err), OUTLAY_OK);
    assert_int_equal(fields.use_count, 2);
    assert_string_equal(fields.use[0].column, "id"); /* what was found stays */
    assert_int_equal(fields.use[0].filled, 1);
    assert_string_equal(fields.use[1].column, "h");
    assert_int_equal(fields_resolve(&fields, true, &err), OUTLAY_E_USAGE);
    assert_contains(err.what, "label");
    fields_release(&fields);
}

static void columns_are_bounded(void **state)
{
    const char *specs[FIELD_ROLES] = {0};
    struct fields fields;

    (void)state;
    assert_int_equal(fields_init(&fields, specs, NULL), OUTLAY_OK);
    for (int i = 0; i < FIELDS_COLUMNS_MAX + 10; i++) {
        char name[20];

        snprintf(name, sizeof name, "c%d", i);
        assert_int_equal(fields_add(&fields, name, NULL), OUTLAY_OK);
    }
    assert_int_equal(fields.column_count, FIELDS_COLUMNS_MAX);
    fields_release(&fields);
}

/* Every role can be given, and its own name (but `building`) is a common one. Any column
 * may hold a group, so none is one by its name. */
static void every_role_has_names_and_units(void **state)
{
    (void)state;
    for (int i = 0; i < FIELD_ROLES; i++) {
        enum field_role role = (enum field_role)i;
        struct field field = {0};

        assert_true((role_common_names(role)[0] == NULL) == (role == ROLE_GROUP));
        assert_int_equal(role_needs_unit(role),
                         field_role_kind(role) == FIELD_LENGTH ||
                             field_role_kind(role) == FIELD_SPEED ||
                             field_role_kind(role) == FIELD_PRESSURE ||
                             field_role_kind(role) == FIELD_FORCE ||
                             role == ROLE_COST_PER_AREA);
        /* each unit offered is one that is taken */
        char **units = CSLTokenizeString2(role_units(role), "|", 0);
        for (int j = 0; units && units[j]; j++) {
            assert_true(role_unit(role, units[j], &field));
            assert_string_equal(field.unit, units[j]);
            assert_true(field.factor > 0);
        }
        CSLDestroy(units);
    }
}

static void every_role_is_explained(void **state)
{
    (void)state;
    for (int i = 0; i < FIELD_ROLES; i++) {
        enum field_role role = (enum field_role)i;

        if (!role_effect(role) || !role_effect(role)[0])
            fail_msg("role %s has no row in roles.c", field_role_name(role));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_role_is_explained),
        cmocka_unit_test(common_names_are_recognised),
        cmocka_unit_test(a_stated_unit_beats_a_bare_name),
        cmocka_unit_test(units_are_never_guessed),
        cmocka_unit_test(open_schemas_state_their_units),
        cmocka_unit_test(told_columns_win),
        cmocka_unit_test(told_columns_must_be_there),
        cmocka_unit_test(a_class_isnt_taken_for_a_building),
        cmocka_unit_test(columns_may_come_later),
        cmocka_unit_test(columns_are_bounded),
        cmocka_unit_test(every_role_has_names_and_units),
    };

    return cmocka_run_group_tests_name("read/fields", tests, NULL, NULL);
}
