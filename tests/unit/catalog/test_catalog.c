#define _DEFAULT_SOURCE /* mkstemps */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <gdal.h>
#include <gdal_utils.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "../temporary.h"
#include "base/units.h"
#include "catalog/catalog.h"

#define SMALL TESTDATA "/catalogs/small.csv"

static void near(double value, double expected, double tolerance)
{
    if (!(fabs(value - expected) <= tolerance))
        fail_msg("%.12g isn't %.12g", value, expected);
}

static struct catalog loaded(const char *path)
{
    struct catalog catalog;
    struct outlay_error err = {OUTLAY_OK, "", "", ""};

    if (catalog_load(path, &catalog, &err) != OUTLAY_OK)
        fail_msg("%s: %s: %s", path, err.where, err.what);
    return catalog;
}

/* ---- What is read ------------------------------------------------------------- */

static void builtin_serves_every_method_and_deck(void **state)
{
    unsigned decks[METHOD_KINDS] = {0};
    struct catalog catalog;
    bool allowable = false;

    (void)state;
    assert_int_equal(catalog_builtin(&catalog, NULL), OUTLAY_OK);
    assert_true(catalog.built_in);
    assert_in_range(catalog.assembly_count, 14, 24);
    for (size_t i = 0; i < catalog.assembly_count; i++) {
        const struct assembly *one = &catalog.assemblies[i];

        decks[one->method] |= one->decks;
        allowable = allowable || one->rating_basis == RATING_ALLOWABLE;
        assert_in_range(one->rating / PA_PER_PSF + 0.5, 45, 120);
        assert_non_null(strstr(one->note, "invented"));
    }
    for (int deck = DECK_STEEL; deck < DECK_KINDS; deck++) {
        for (int method = METHOD_SEAM_FASTENED; method < METHOD_ADHERED; method++)
            assert_true(decks[method] & 1u << deck);
    }
    assert_false(decks[METHOD_ADHERED] & 1u << DECK_STEEL);
    assert_true(decks[METHOD_ADHERED] & 1u << DECK_CONCRETE);
    assert_true(allowable);
    catalog_release(&catalog);
    catalog_release(&catalog);
}

static void check_small(const struct catalog *catalog)
{
    const struct assembly *a = catalog->assemblies;

    assert_false(catalog->built_in);
    assert_int_equal(catalog->assembly_count, 4);

    assert_string_equal(a[0].name, "seam-fastened, 10 ft sheet, steel deck, 60 psf");
    assert_int_equal(a[0].method, METHOD_SEAM_FASTENED);
    assert_int_equal(a[0].decks, 1u << DECK_STEEL);
    assert_string_equal(a[0].membrane, "TPO 60 mil");
    near(a[0].sheet_width, 3.048, 1e-12);
    near(a[0].lap, 0.1524, 1e-12);
    near(a[0].rating, 2872.8155, 1e-3); /* 60 psf */
    assert_int_equal(a[0].rating_basis, RATING_ULTIMATE);
    near(a[0].tested_row_spacing, 2.8956, 1e-12);
    near(a[0].tested_fastener_spacing, 0.3048, 1e-12);
    assert_int_equal(a[0].spacing_count, 2);
    near(a[0].spacings[0], 0.3048, 1e-12);
    near(a[0].spacings[1], 0.1524, 1e-12);
    assert_int_equal(a[0].tested_per_board, MISSING);
    assert_true(isnan(a[0].tested_ribbon));
    assert_int_equal(a[0].board_fasteners, 5);
    assert_string_equal(a[0].note, "invented value");

    assert_int_equal(a[1].method, METHOD_INDUCTION_WELDED);
    assert_true(isnan(a[1].tested_row_spacing));
    assert_int_equal(a[1].tested_per_board, 8);
    assert_int_equal(a[1].pattern_count, 9);
    assert_int_equal(a[1].patterns[0], 6);
    assert_int_equal(a[1].patterns[8], 24);

    assert_int_equal(a[2].decks, 1u << DECK_STEEL | 1u << DECK_WOOD);
    near(a[2].extrapolation, 4, 0);
    near(a[2].board_length * a[2].board_width, 32 * M2_PER_FT2, 1e-9);

    assert_int_equal(a[3].method, METHOD_ADHERED);
    near(a[3].tested_ribbon, 0.3048, 1e-12);
    assert_int_equal(a[3].ribbon_count, 3);
    near(a[3].ribbons[0], 0.3048, 1e-12);
    near(a[3].ribbons[2], 0.1016, 1e-12);
}

static void csv_is_read_into_si(void **state)
{
    struct catalog catalog = loaded(SMALL);

    (void)state;
    check_small(&catalog);
    catalog_release(&catalog);
}

static void semicolons_bom_and_blank_rows_are_fine(void **state)
{
    struct catalog catalog = loaded(TESTDATA "/catalogs/semicolons.csv");

    (void)state;
    check_small(&catalog);
    catalog_release(&catalog);
}

/* The workbook is made here by GDAL's writer: numbers become number cells. */
static void xlsx_gives_the_same_as_csv(void **state)
{
    char path[TEMPORARY_MOST];
    char format[] = "-f", xlsx[] = "XLSX";
    char *translate[] = {format, xlsx, NULL};
    const char *const open[] = {"AUTODETECT_TYPE=YES", NULL};
    GDALVectorTranslateOptions *options = NULL;
    GDALDatasetH source, copy;
    struct catalog catalog;
    int file = mkstemps(temporary_name(path, "outlay-catalog-XXXXXX.xlsx"), 5);

    (void)state;
    assert_true(file >= 0);
    close(file);
    unlink(path);
    GDALAllRegister();
    source = GDALOpenEx(SMALL, GDAL_OF_VECTOR, NULL, open, NULL);
    assert_non_null(source);
    options = GDALVectorTranslateOptionsNew(translate, NULL);
    copy = GDALVectorTranslate(path, NULL, 1, &source, options, NULL);
    GDALVectorTranslateOptionsFree(options);
    assert_non_null(copy);
    GDALClose(copy);
    GDALClose(source);

    catalog = loaded(path);
    check_small(&catalog);
    catalog_release(&catalog);
    unlink(path);
}

/* What `outlay catalog` writes can be loaded again. */
static void builtin_text_loads_as_a_file(void **state)
{
    char path[TEMPORARY_MOST];
    int file = mkstemps(temporary_name(path, "outlay-catalog-XXXXXX.csv"), 4);
    size_t length = strlen(catalog_assemblies_csv);
    struct catalog catalog, builtin;

    (void)state;
    assert_true(file >= 0);
    assert_int_equal(write(file, catalog_assemblies_csv, length), (ssize_t)length);
    close(file);
    catalog = loaded(path);
    assert_false(catalog.built_in);
    assert_int_equal(catalog_builtin(&builtin, NULL), OUTLAY_OK);
    assert_int_equal(catalog.assembly_count, builtin.assembly_count);
    catalog_release(&catalog);
    catalog_release(&builtin);
    unlink(path);
}

/* ---- What is refused ------------------------------------------------------------ */

/* The small table with one text of it replaced. */
struct refusal {
    const char *from, *to;
    const char *where; /* in err.where */
    const char *what;  /* in err.what */
};

static const struct refusal refusals[] = {
    /* columns */
    {"membrane,", "mebrane,", "row 1", "column \"mebrane\" isn't known"},
    {"membrane,", "decks,", "row 1", "column \"decks\" stands twice"},
    {",note", ",remark", "row 1", "column \"remark\" isn't known"},
    {"rating_basis,", ",", "row 1", "column \"\" isn't known"},
    /* names */
    {"\"seam-fastened, 10 ft sheet, steel deck, 60 psf\"", "", "row 2, column name",
     "name is empty"},
    {"psf\",seam-fastened", "psf\",glued", "row 2, column method",
     "\"glued\"; accepted: seam-fastened, induction-welded, adhered-fastened, adhered"},
    {"psf\",seam-fastened", "psf\",", "row 2, column method", "method is empty"},
    {",steel|wood,", ",steel|straw,", "row 4, column decks",
     "\"steel|straw\"; accepted: steel, wood, concrete"},
    {",steel|wood,", ",steel|,", "row 4, column decks", "\"steel|\""},
    {"60,ultimate,9.5", "60,,9.5", "row 2, column rating_basis",
     "rating_basis is empty; accepted: ultimate, allowable"},
    {"60,ultimate,9.5", "60,design,9.5", "row 2, column rating_basis", "\"design\""},
    {"induction-welded, 10 ft sheet, steel deck, 90 psf",
     "SEAM-fastened, 10 ft sheet, steel deck, 60 psf", "row 3, column name",
     "a name that no other row has"},
    {"PVC 60 mil", "", "row 3, column membrane", "membrane is empty"},
    /* numbers and their units */
    {"TPO 60 mil,10,6,60,ultimate,9.5", "TPO 60 mil,120,6,60,ultimate,9.5",
     "row 2, column sheet_width_ft", "\"120\"; accepted: a number from 2 to 50 ft"},
    {"10,6,60,ultimate,9.5", "10,-6,60,ultimate,9.5", "row 2, column lap_in", "\"-6\""},
    {"10,6,60,ultimate,9.5", "10,0,60,ultimate,9.5", "row 2, column lap_in", "\"0\""},
    {"10,6,60,ultimate,9.5", "10,6 in,60,ultimate,9.5", "row 2, column lap_in",
     "\"6 in\""},
    {"6,60,ultimate,9.5", "6,,ultimate,9.5", "row 2, column rating_psf",
     "rating_psf is empty; accepted: a number from 5 to 1000 psf"},
    {"6,60,ultimate,9.5", "6,2873,ultimate,9.5", "row 2, column rating_psf", "\"2873\""},
    {"6,60,ultimate,9.5", "6,nan,ultimate,9.5", "row 2, column rating_psf", "\"nan\""},
    {"ultimate,9.5,12", "ultimate,114,12", "row 2, column tested_row_spacing_ft",
     "\"114\""},
    {"ultimate,9.5,12", "ultimate,,12", "row 2, column tested_row_spacing_ft", "empty"},
    {"12,12|6,8,4,,,,,4.5", "12,12|0,8,4,,,,,4.5", "row 2, column spacings_in",
     "\"12|0\""},
    {"12,12|6,8,4,,,,,4.5", "12,12|-6,8,4,,,,,4.5", "row 2, column spacings_in",
     "\"12|-6\""},
    {"12,12|6,8,4,,,,,4.5", "12,12||6,8,4,,,,,4.5", "row 2, column spacings_in",
     "\"12||6\""},
    {"12,12|6,8,4,,,,,4.5", "12,6|6,8,4,,,,,4.5", "row 2, column spacings_in",
     "different"},
    {"12,12|6,8,4,,,,,4.5", "12,9|8|7|6|5|4|3|2|10,8,4,,,,,4.5",
     "row 2, column spacings_in", "accepted"},
    {"6|8|10|12|15|16|18|20|24", "6|8.5", "row 3, column patterns",
     "a whole number from 1 to 128"},
    {",,,8,4,8,6|8", ",,,96,4,8,6|8", "row 3, column board_length_ft", "\"96\""},
    {"4.5,5,6,invented", "-1,5,6,invented", "row 2, column extrapolation", "\"-1\""},
    {"4.5,5,6,invented", "4.5,-5,6,invented", "row 2, column board_fasteners", "\"-5\""},
    /* values that the method doesn't have, or lacks */
    {"90,ultimate,,,,8,4,8", "90,ultimate,9.5,,,8,4,8",
     "row 3, column tested_row_spacing_ft", "nothing, since induction-welded"},
    {"12,12|6|4,3,0,,", "12,12|6|4,3,0,6,", "row 5, column board_edge_in",
     "nothing, since adhered has no such value"},
    {"4,4,,,12,12|6|4", "4,4,,,,12|6|4", "row 5, column tested_ribbon_in", "empty"},
    {",8,4,8,6|8|10", ",8,4,,6|8|10", "row 3, column tested_per_board", "empty"},
    /* values that don't agree */
    {"mil,10,6,60", "mil,2,12,60", "row 2, column lap_in", "half sheet"},
    {"ultimate,9.5,12", "ultimate,10.5,12", "row 2, column tested_row_spacing_ft",
     "further apart than the sheet is wide"},
    {"9.5,12,12|6", "9.5,6,36|24", "row 2, column spacings_in", "none can be used"},
    {",8,4,8,6|8|10|12|15|16|18|20|24", ",8,4,25,6|8|10|12|15|16|18|20|24",
     "row 3, column patterns", "none can be used"},
    {",concrete|wood,", ",concrete|steel,", "row 5, column decks", "fluted steel deck"},
    {"12,12|6|4,3", "6,12|8,3", "row 5, column ribbons_in", "none can be used"},
    {"12,12|6|4,3", "12,4|3,2", "row 5, column ribbons_in", "beyond the extrapolation"},
    {",8,4,8,6|8|10|12|15|16|18|20|24", ",8,4,8,6|25|30", "row 3, column patterns",
     "beyond the extrapolation"},
    {"12,12|6,8,4,,,,,4.5", "12,2,8,4,,,,,4.5", "row 2, column spacings_in",
     "beyond the extrapolation"},
    {"12,12|6|4,3", "12,12|0,3", "row 5, column ribbons_in", "full cover"},
    {"12,12|6|4,3", "0,12|0,3", "row 5, column ribbons_in", "no known strength"},
    {"4.5,5,6,invented", "0.5,5,6,invented", "row 2, column extrapolation",
     "sparser than tested"},
};

static char *file_text(const char *path)
{
    FILE *file = fopen(path, "rb");
    char *text = calloc(1, 65536);

    assert_non_null(file);
    assert_non_null(text);
    assert_in_range(fread(text, 1, 65535, file), 1, 65534);
    fclose(file);
    return text;
}

static struct outlay_error refused(const char *text, size_t length, char *path, int tail)
{
    struct outlay_error err = {OUTLAY_OK, "", "", ""};
    struct catalog catalog = {NULL, (struct assembly *)&err, 7, true};
    int file = mkstemps(path, tail);

    assert_true(file >= 0);
    assert_int_equal(write(file, text, length), (ssize_t)length);
    close(file);
    assert_int_equal(catalog_load(path, &catalog, &err), OUTLAY_E_USAGE);
    assert_int_equal(err.status, OUTLAY_E_USAGE);
    assert_null(catalog.arena);
    assert_null(catalog.assemblies);
    assert_int_equal(catalog.assembly_count, 0);
    unlink(path);
    return err;
}

static void every_mistake_names_its_place(void **state)
{
    char *small = file_text(SMALL);

    (void)state;
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        const struct refusal *one = &refusals[i];
        char path[TEMPORARY_MOST];
        char text[8192];
        const char *at = strstr(small, one->from);
        struct outlay_error err;
        int length;

        assert_non_null(at);
        length = snprintf(text, sizeof text, "%.*s%s%s", (int)(at - small), small,
                          one->to, at + strlen(one->from));
        assert_in_range(length, 1, sizeof text - 1);
        err = refused(text, (size_t)length,
                      temporary_name(path, "outlay-catalog-XXXXXX.csv"), 4);
        if (!strstr(err.where, one->where) || !strstr(err.what, one->what) ||
            !strstr(err.where, strrchr(path, '/') + 1))
            fail_msg("%s -> %s: where: %s; what: %s", one->from, one->to, err.where,
                     err.what);
    }
    free(small);
}

static void missing_column_is_named(void **state)
{
    char path[TEMPORARY_MOST];
    static const char text[] = "name,method\na,adhered\n";
    struct outlay_error err = refused(
        text, sizeof text - 1, temporary_name(path, "outlay-catalog-XXXXXX.csv"), 4);

    (void)state;
    assert_non_null(strstr(err.what, "\"decks\" is missing"));
    assert_non_null(strstr(err.todo, "outlay catalog"));
}

static void empty_tables_are_refused(void **state)
{
    char path[TEMPORARY_MOST];
    char header_path[TEMPORARY_MOST];
    char *small = file_text(SMALL);
    size_t header = strcspn(small, "\n") + 1;
    struct outlay_error err =
        refused("", 0, temporary_name(path, "outlay-catalog-XXXXXX.csv"), 4);

    temporary_name(header_path, "outlay-catalog-XXXXXX.csv");
    (void)state;
    assert_non_null(strstr(err.what, "empty"));
    err = refused(small, header, header_path, 4);
    assert_non_null(strstr(err.what, "no rows"));
    free(small);
}

static void other_files_are_refused(void **state)
{
    char path[TEMPORARY_MOST];
    struct catalog catalog;
    struct outlay_error err = refused(
        "this is no workbook", 19, temporary_name(path, "outlay-catalog-XXXXXX.xlsx"), 5);

    (void)state;
    assert_string_equal(err.where, path);
    assert_int_equal(catalog_load("/nowhere/a.csv", &catalog, &err), OUTLAY_E_USAGE);
    assert_string_equal(err.where, "/nowhere/a.csv");
    assert_non_null(strstr(err.what, "can't be opened"));
    assert_int_equal(catalog_load(TESTDATA "/catalogs/README.md", &catalog, &err),
                     OUTLAY_E_USAGE);
    assert_non_null(strstr(err.what, ".csv or .xlsx"));
    assert_int_equal(catalog_load("/nowhere/a.csv", &catalog, NULL), OUTLAY_E_USAGE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(builtin_serves_every_method_and_deck),
        cmocka_unit_test(csv_is_read_into_si),
        cmocka_unit_test(semicolons_bom_and_blank_rows_are_fine),
        cmocka_unit_test(xlsx_gives_the_same_as_csv),
        cmocka_unit_test(builtin_text_loads_as_a_file),
        cmocka_unit_test(every_mistake_names_its_place),
        cmocka_unit_test(missing_column_is_named),
        cmocka_unit_test(empty_tables_are_refused),
        cmocka_unit_test(other_files_are_refused),
    };

    return cmocka_run_group_tests_name("catalog", tests, NULL, NULL);
}
