#include "sample/source.h"

#include <string.h>

#include "base/ascii.h"
#include "base/number.h"
#include "base/secret.h"
#include "read/roles.h"

static enum outlay_status refuse(const struct sample_source *source, const char *what,
                                 const char *todo, struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_USAGE, "%s", what);
    outlay_fail_where(err, "--sample %s=%.100s", field_role_name(source->role),
                      source->text);
    outlay_fail_todo(err, "%s", todo);
    return OUTLAY_E_USAGE;
}

bool sample_of_heights(enum field_role role)
{
    return role == ROLE_SLOPE || role == ROLE_TOPOGRAPHIC;
}

bool sample_unit(enum field_role role, const char *name, struct field *field)
{
    return role_unit(sample_of_heights(role) ? ROLE_HEIGHT : role, name, field);
}

/* The colon before the last part of text, when that may be a column or a unit. */
static char *last_colon(char *text)
{
    char *colon = strrchr(text, ':');

    return colon && colon > text && colon[1] && !strpbrk(colon + 1, "/@\\") ? colon
                                                                            : NULL;
}

/* Takes unit and column off the end. */
static void take_columns(struct sample_source *source, char *text)
{
    char *colon = last_colon(text);

    if (!colon)
        return;
    if (sample_unit(source->role, colon + 1, &source->field)) {
        *colon = '\0';
        colon = last_colon(text);
        if (!colon)
            return;
    }
    source->column = colon + 1;
    *colon = '\0';
}

static bool is_letter(char c)
{
    return ascii_upper(c) >= 'A' && ascii_upper(c) <= 'Z';
}

/* Whether text up to end ends with an extension or a word behind @, of 1 to 6 signs. */
static bool ends_raster(const char *text, const char *end)
{
    const char *at = end;

    while (at > text && (is_letter(at[-1]) || (at[-1] >= '0' && at[-1] <= '9')))
        at--;
    return at > text + 1 && (at[-1] == '.' || at[-1] == '@') && end - at >= 1 &&
           end - at <= 6 && is_letter(*at);
}

/* The minus between two rasters; NULL. */
static char *find_minus(char *text)
{
    for (char *at = strchr(text, '-'); at; at = strchr(at + 1, '-'))
        if (at[1] && ends_raster(text, at))
            return at;
    return NULL;
}

static bool take_statistic(struct sample_source *source, const char *word)
{
    static const struct {
        const char *word;
        enum statistic statistic;
    } rows[] = {{"median", STATISTIC_PERCENTILE},
                {"mean", STATISTIC_MEAN},
                {"min", STATISTIC_LEAST},
                {"max", STATISTIC_MOST}};

    source->word = word;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (strcmp(word, rows[i].word) == 0) {
            source->statistic = rows[i].statistic;
            source->percent = 50;
            return true;
        }
    source->statistic = STATISTIC_PERCENTILE;
    return *word == 'p' && number_parse(word + 1, &source->percent) &&
           source->percent >= 0 && source->percent <= 100;
}

/* Takes the words behind @ off a raster's path. */
static enum outlay_status take_words(struct sample_source *source, char *path, bool minus,
                                     struct outlay_error *err)
{
    static const char todo[] = "write mean, median, min, max or p0 to p100 behind @, "
                               "and @ring behind the raster that is taken off";
    char *at;

    while ((at = strrchr(path, '@')) != NULL && !strchr(at, '/')) {
        *at = '\0';
        if (strcmp(at + 1, "ring") == 0 && minus)
            source->ring = true;
        else if (*source->word)
            return refuse(source, "has two statistics, or @ring for the first raster",
                          todo, err);
        else if (!take_statistic(source, at + 1))
            return refuse(source, "has a statistic that isn't known", todo, err);
    }
    return *path ? OUTLAY_OK
                 : refuse(source, "names no raster", "put a file before the @", err);
}

/* Whether numbers of neighbouring pixels may be put together to a value of the role. */
static bool raster_role(enum field_role role)
{
    enum field_kind kind = field_role_kind(role);

    return kind != FIELD_TEXT && kind != FIELD_NAME && kind != FIELD_WHOLE &&
           kind != FIELD_ANGLE;
}

static bool ends_in(const char *text, const char *ending)
{
    size_t length = strlen(text), tail = strlen(ending);

    return length > tail && ascii_same(text + length - tail, ending);
}

/* Takes the table of an exposure off the end; its path may have folders. */
static bool take_table(struct sample_source *source, char *text)
{
    char *colon = strrchr(text, ':');

    if (source->role != ROLE_EXPOSURE || !colon || colon == text ||
        !(ends_in(colon + 1, ".csv") || ends_in(colon + 1, ".xlsx")))
        return false;
    *colon = '\0';
    source->table = colon + 1;
    source->word = "worst sector";
    return true;
}

static enum outlay_status take_rasters(struct sample_source *source, char *text,
                                       struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    char *minus = find_minus(text);

    if (!raster_role(source->role))
        return refuse(source, "isn't sampled from a raster",
                      source->role == ROLE_EXPOSURE
                          ? "name a table of its classes too: landcover.tif:"
                            "roughness.csv; or a layer and its column: zones.gpkg:COLUMN"
                          : "name a layer and its column: zones.gpkg:COLUMN",
                      err);
    if (minus) {
        *minus = '\0';
        source->minus = minus + 1;
        status = take_words(source, minus + 1, true, err);
    }
    if (status == OUTLAY_OK)
        status = take_words(source, text, false, err);
    if (status != OUTLAY_OK)
        return status;
    if (!sample_of_heights(source->role)) {
        source->word = *source->word ? source->word : "median";
        return OUTLAY_OK;
    }
    if (minus || *source->word)
        return refuse(source, "has a statistic or a second raster",
                      source->role == ROLE_SLOPE
                          ? "name the raster of the surface alone: slope=surface.tif:m"
                          : "name the raster of the terrain alone: "
                            "topographic=terrain.tif:m",
                      err);
    source->word = source->role == ROLE_SLOPE ? "plane" : "worst direction";
    return OUTLAY_OK;
}

/* What results show; NULL when out of memory. */
static const char *shown_text(const char *text, struct arena *arena)
{
    struct text shown = TEXT_INIT;
    const char *copy = NULL;

    secret_hide(&shown, text);
    if (!shown.failed)
        copy = arena_text(arena, shown.data ? shown.data : "", shown.length);
    text_release(&shown);
    return copy;
}

enum outlay_status sample_source_parse(enum field_role role, const char *text,
                                       struct arena *arena, struct sample_source *out,
                                       struct outlay_error *err)
{
    char *path = arena_text(arena, text, strlen(text));

    *out = (struct sample_source){.role = role,
                                  .text = shown_text(text, arena),
                                  .path = path,
                                  .percent = 50,
                                  .word = "",
                                  .field = {.column = -1, .unit = "", .factor = 1}};
    if (!path || !out->text)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (role == ROLE_ID || role == ROLE_BUILDING || role == ROLE_GROUP)
        return refuse(out, "isn't sampled", "give it as a column of the outlines", err);
    if (take_table(out, path))
        return OUTLAY_OK;
    take_columns(out, path);
    if (!*path)
        return refuse(out, "names no file", "name a raster, or a layer and its column",
                      err);
    return out->column ? OUTLAY_OK : take_rasters(out, path, err);
}
