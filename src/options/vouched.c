#include "options/vouched.h"

#include <math.h>
#include <string.h>

#include "base/measure.h"
#include "base/text.h"
#include "options/options.h"

/* Readings that are settings: the decision is the setting's value. */
struct setting_of {
    enum assumption what;
    const char *option;
    const char *unset; /* what the run goes by where it isn't given */
};

static const struct setting_of settings_of[] = {
    {ASSUME_MID_RISE, "mid-rise", ""},
    {ASSUME_KZ_FLOOR, "kz-floor", ""},
    {ASSUME_STEPPED, "least-dimension", "building"},
    {ASSUME_REENTRANT, "reentrant-corners", ""},
    {ASSUME_WIND_AREA, "wind-area", ""},
    {ASSUME_ROUGHNESS, "roughness-prevails", ""},
};

static const struct setting_of *setting_find(enum assumption what)
{
    for (size_t i = 0; i < sizeof settings_of / sizeof settings_of[0]; i++)
        if (settings_of[i].what == what)
            return &settings_of[i];
    return NULL;
}

static enum outlay_status refuse(const struct closing_row *row, const char *column,
                                 const char *what, const char *of,
                                 struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_USAGE, "%s \"%.120s\"", what, of);
    outlay_fail_where(err, "%s, column %s", row->where, column);
    return OUTLAY_E_USAGE;
}

/* The value that a setting has, as it is printed; "" where it isn't given. */
static enum outlay_status printed(const struct settings *settings,
                                  const struct option *option, struct text *out,
                                  struct outlay_error *err)
{
    text_clear(out);
    option_print(option, settings, out);
    text_puts(out, "");
    return out->failed ? outlay_fail(err, OUTLAY_E_MEMORY, "out of memory") : OUTLAY_OK;
}

/* "no" alone tells nobody what was decided. */
static bool name_setting(struct arena *arena, const struct setting_of *of,
                         struct closing_row *row)
{
    struct text words = TEXT_INIT;

    text_printf(&words, "--%s %s", of->option, row->text);
    if (!words.failed)
        row->text = arena_text(arena, words.data, words.length);
    text_release(&words);
    return row->text && closing_words(arena, row);
}

/* Reads the decision as the option's value, and prints both to compare them. */
static enum outlay_status check_setting(const struct settings *settings,
                                        const struct setting_of *of,
                                        struct closing_row *row, struct outlay_error *err)
{
    const struct option *option = option_find(of->option, strlen(of->option));
    struct settings decided = *settings;
    struct text used = TEXT_INIT, said = TEXT_INIT;
    enum outlay_status status = option_parse(option, row->text, settings_units(settings),
                                             settings->catalog.arena, &decided, err);

    if (status != OUTLAY_OK)
        outlay_fail_where(err, "%s, column decision", row->where);
    if (status == OUTLAY_OK)
        status = printed(settings, option, &used, err);
    if (status == OUTLAY_OK && used.length == 0)
        text_puts(&used, of->unset);
    if (status == OUTLAY_OK)
        status = printed(&decided, option, &said, err);
    if (status == OUTLAY_OK && strcmp(used.data, said.data) != 0) {
        status = refuse(row, "decision", "this run goes by another one:", used.data, err);
        outlay_fail_todo(err, "give --%s %s, or decide again", of->option, row->text);
    }
    if (status == OUTLAY_OK && !name_setting(settings->catalog.arena, of, row))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    text_release(&used);
    text_release(&said);
    return status;
}

static const struct assembly *assembly_named(const struct settings *settings,
                                             const char *name)
{
    for (size_t i = 0; i < settings->catalog.assembly_count; i++)
        if (strcmp(settings->catalog.assemblies[i].name, name) == 0)
            return &settings->catalog.assemblies[i];
    return NULL;
}

/* The confirmed pressure, Pa; NAN where it can't be read. */
static double confirmed_pressure(const struct closing_row *row)
{
    char unit[MEASURE_UNIT_MAX] = "";
    double number = NAN, factor = NAN;

    if (measure_parse(row->value, &number, unit) != MEASURE_READ ||
        !unit_find(unit[0] ? unit : row->unit, QUANTITY_PRESSURE, &factor))
        return NAN;
    return number * factor;
}

/* Ratings agree as far as they are written: a thousandth. */
static enum outlay_status check_rating(const struct settings *settings,
                                       const struct closing_row *row,
                                       struct outlay_error *err)
{
    const struct assembly *assembly = assembly_named(settings, row->name);
    double pressure = confirmed_pressure(row);

    if (!assembly)
        return refuse(row, "name", "no assembly of the catalogue is called", row->name,
                      err);
    if (isnan(pressure))
        return refuse(row, "value", "a rating is confirmed with its value and unit, not",
                      row->value, err);
    if (fabs(pressure - assembly->rating) <= 0.001 * assembly->rating)
        return OUTLAY_OK;
    refuse(row, "value", "the catalogue has another rating than", row->value, err);
    outlay_fail_todo(err, "it says %.1f psf (%.0f Pa): put right whichever is wrong",
                     assembly->rating / PA_PER_PSF, assembly->rating);
    return OUTLAY_E_USAGE;
}

/* Coefficients of another standard may stand in the same file. */
static enum outlay_status check_coefficients(const struct settings *settings,
                                             struct closing_row *row,
                                             struct outlay_error *err)
{
    int standard = name_find(row->name, standard_offered_name);

    if (standard < 0 || !*row->name) {
        refuse(row, "name", "no wind standard here is called", row->name, err);
        outlay_fail_todo(err, "name the one whose coefficients were compared: %s",
                         standard_offered_name(settings->standard));
        return OUTLAY_E_USAGE;
    }
    row->idle = standard != settings->standard;
    return OUTLAY_OK;
}

static enum outlay_status check(const struct settings *settings, struct closing_row *row,
                                struct outlay_error *err)
{
    const struct setting_of *of = setting_find(row->what);

    if (of)
        return check_setting(settings, of, row, err);
    if (row->what == ASSUME_RATINGS)
        return check_rating(settings, row, err);
    if (row->what == ASSUME_COEFFICIENTS)
        return check_coefficients(settings, row, err);
    return OUTLAY_OK;
}

enum outlay_status vouched_read(struct settings *settings, struct outlay_error *err)
{
    struct closing_list *list = &settings->closings;
    enum outlay_status status = OUTLAY_OK;

    if (settings->decisions_path)
        status = closings_read(settings->catalog.arena, CLOSING_DECISION,
                               settings->decisions_path, list, err);
    if (status == OUTLAY_OK && settings->confirmed_path)
        status = closings_read(settings->catalog.arena, CLOSING_CONFIRMATION,
                               settings->confirmed_path, list, err);
    for (size_t i = 0; i < list->count && status == OUTLAY_OK; i++)
        status = check(settings, &list->rows[i], err);
    return status;
}
