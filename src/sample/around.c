/* What the ground around a roof decides: its exposure category and its topographic
 * factor. */

#include <string.h>

#include "read/roles.h"
#include "roof/storeys.h"
#include "sample/sample_private.h"
#include "surroundings/exposure.h"
#include "surroundings/topographic.h"

/* A sector of which less is known says little about its land cover, whether or not that
 * changes the category (ours). */
static const double known_least = 0.5;

enum outlay_status around_open(struct source *source, struct arena *arena,
                               struct outlay_error *err)
{
    const struct sample_source *spec = &source->spec;
    enum outlay_status status = OUTLAY_OK;

    if (spec->table)
        status = roughness_load(arena, spec->table, &source->classes, err);
    if (status != OUTLAY_OK)
        return status;
    source->around = ground_new(source->surface, spec->role == ROLE_TOPOGRAPHIC);
    return source->around ? OUTLAY_OK
                          : outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}

/* h as the stages will take it: the roof's own, else by its storeys, else the options'.
 * NAN: the roof will be left out. */
static double height_of(const struct taking *taking)
{
    const struct sample_settings *settings = taking->sampler->settings;
    const struct attributes *given = &taking->roof->given;

    if (isfinite(given->height))
        return given->height;
    if (isfinite(given->storeys))
        return height_of_storeys(given->storeys);
    return isfinite(settings->height) ? settings->height
                                      : height_of_storeys(settings->storeys);
}

static enum exposure exposure_of(const struct taking *taking)
{
    enum exposure own = taking->roof->given.exposure;
    enum exposure option = taking->sampler->settings->exposure;

    if (own != EXPOSURE_NOT_GIVEN)
        return own;
    return option != EXPOSURE_NOT_GIVEN ? option : EXPOSURE_C;
}

/* Takes the words of a finding over. */
static void keep_finding(struct taking *taking, struct text *words)
{
    if (!words->failed)
        taking->sample.finding = arena_text(taking->arena, words->data, words->length);
    text_release(words);
}

/* ---- Exposure ------------------------------------------------------------------ */

struct cover {
    const struct surround *surround;
    const struct roughness_table *classes;
    double *unlisted; /* the last class that isn't in the table */
};

static enum roughness cover_at(const void *context, double x, double y)
{
    const struct cover *cover = context;
    double class = surround_at(cover->surround, x, y);
    enum roughness roughness = roughness_of(cover->classes, class);

    if (roughness == ROUGHNESS_MISSING && !isnan(class))
        *cover->unlisted = class;
    return roughness;
}

static bool nothing_known(const struct exposure_finding *finding)
{
    for (int i = 0; i < EXPOSURE_SECTORS; i++)
        if (finding->sectors[i].missing < 1 - 1e-9)
            return false;
    return true;
}

/* Says between which categories missing ground decides. */
static void leave_open(struct taking *taking, const struct exposure_finding *finding,
                       double unlisted)
{
    struct text why = TEXT_INIT;

    taking_weaken(taking, "it depends on land cover that isn't known");
    taking_add(taking);
    text_printf(&why, "it may be %s to %s, by land cover that isn't known",
                exposure_name((int)finding->mildest),
                exposure_name((int)finding->severest));
    if (!isnan(unlisted)) {
        text_puts(&why, ": class ");
        text_number(&why, unlisted, 3);
        text_puts(&why, " isn't in the table");
    }
    taking_miss(taking, why.failed ? taking->sample.weak : why.data);
    text_release(&why);
}

static void take_exposure(struct taking *taking, const struct surround *surround)
{
    double unlisted = NAN;
    struct cover cover = {surround, taking->source->classes, &unlisted};
    struct land land = {cover_at, &cover};
    struct exposure_finding finding;
    struct value value = {.kind = VALUE_TEXT};
    struct text words = TEXT_INIT;

    exposure_find(&land, height_of(taking), taking->sampler->settings->prevails,
                  &finding);
    if (nothing_known(&finding) && isnan(unlisted)) {
        taking_miss(taking, "the raster has no value there");
        return;
    }
    exposure_explain(&words, &finding, taking->sampler->settings->units);
    keep_finding(taking, &words);
    taking->sample.count = EXPOSURE_SECTORS;
    if (finding.exposure == EXPOSURE_NOT_GIVEN) {
        leave_open(taking, &finding, unlisted);
        return;
    }
    if (1 - finding.missing < known_least)
        taking_weaken(taking, "over half of a sector has no land cover that is known");
    taking->sample.assumed = ASSUMPTION_BIT(ASSUME_ROUGHNESS);
    value.text = exposure_name((int)finding.exposure);
    taking_settle(taking, &value);
}

/* ---- Topography ---------------------------------------------------------------- */

struct heights {
    const struct surround *surround;
    double unit; /* m */
};

static double ground_at(const void *context, double x, double y)
{
    const struct heights *heights = context;

    return heights->unit * surround_between(heights->surround, x, y);
}

static void take_topographic(struct taking *taking, const struct surround *surround)
{
    struct heights heights = {surround, taking->source->spec.field.factor};
    struct terrain terrain = {ground_at, &heights, surround->cell};
    struct topographic_finding finding;
    struct value value = {.kind = VALUE_REAL};
    struct text words = TEXT_INIT;

    topographic_find(&terrain, exposure_of(taking), height_of(taking), &finding);
    if (!finding.known) {
        taking_miss(taking, "the raster has no value there");
        return;
    }
    topographic_explain(&words, &finding, taking->sampler->settings->units);
    keep_finding(taking, &words);
    taking->sample.count = TOPOGRAPHIC_DIRECTIONS;
    if (!finding.whole)
        taking_weaken(taking, "some terrain within 4 miles (6.4 km) is missing");
    if (!finding.whole && !finding.hilly) {
        taking_add(taking);
        taking_miss(taking, taking->sample.weak);
        return;
    }
    if (finding.hilly)
        taking->sample.assumed = ASSUMPTION_BIT(ASSUME_HILL);
    value.real = finding.factor;
    taking_settle(taking, &value);
}

enum outlay_status around_take(struct taking *taking)
{
    bool exposure = taking->source->spec.role == ROLE_EXPOSURE;
    double height = height_of(taking);
    struct surround surround;
    enum outlay_status status = OUTLAY_OK;

    if (isnan(height)) {
        taking_miss(taking, "it depends on the height, and the roof has none");
        return OUTLAY_OK;
    }
    status = ground_around(taking->source->around, &taking->frame,
                           exposure ? exposure_reach(height) : TOPOGRAPHIC_REACH,
                           taking->sampler->scratch, &surround, taking->err);
    if (status != OUTLAY_OK)
        return status;
    if (!surround.values)
        taking_miss(taking, "the raster doesn't reach there");
    else if (exposure)
        take_exposure(taking, &surround);
    else
        take_topographic(taking, &surround);
    return OUTLAY_OK;
}
