#include <stdlib.h>
#include <string.h>

#include <gdal.h>

#include "read/roles.h"
#include "sample/mask.h"
#include "sample/plane.h"
#include "sample/sample_private.h"
#include "sample/zonal.h"

/* All ours. Walls and the edge of trees fall into pixels along the outline, so these are
 * left out of heights; the ring is where ground near a building is open. */
#define EDGE 1.0
#define RING 6.0
#define PIXELS_FEW 4
#define KNOWN_LEAST 0.5
#define SPREAD_SHARE 0.25
#define SPREAD_LEAST 1.0

/* What GDAL may keep of blocks, bytes: a row of tiles across a city. */
#define CACHE_MOST (128LL << 20)

/* ---- Opening ------------------------------------------------------------------- */

bool sample_wanted(const struct sample_settings *settings)
{
    for (int role = 0; role < FIELD_ROLES; role++)
        if (settings->sources[role])
            return true;
    return false;
}

/* The raster of that path, opened once. */
static enum outlay_status take_raster(struct sampler *sampler, const char *path,
                                      struct raster **out, struct outlay_error *err)
{
    for (size_t i = 0; i < sampler->raster_count; i++)
        if (strcmp(sampler->paths[i], path) == 0) {
            *out = sampler->rasters[i];
            return OUTLAY_OK;
        }
    enum outlay_status status = raster_open(path, out, err);

    if (status == OUTLAY_OK) {
        sampler->paths[sampler->raster_count] = path;
        sampler->rasters[sampler->raster_count++] = *out;
    }
    return status;
}

static bool unit_of_raster(struct source *source)
{
    const char *unit = raster_unit(source->surface);
    const char *known = suffix_unit(strcmp(unit, "metre") == 0 ? "m" : unit);

    return known && sample_unit(source->spec.role, known, &source->spec.field);
}

static enum outlay_status need_unit(struct source *source, struct outlay_error *err)
{
    const struct sample_source *spec = &source->spec;
    bool heights = !spec->column && sample_of_heights(spec->role);
    enum field_role role = heights ? ROLE_HEIGHT : spec->role;
    bool needed = role_needs_unit(role);

    if (*spec->field.unit || !needed || (source->surface && unit_of_raster(source)))
        return OUTLAY_OK;
    outlay_fail(err, OUTLAY_E_USAGE, "the unit of its values isn't known");
    outlay_fail_where(err, "--sample %s=%.100s", field_role_name(spec->role), spec->text);
    outlay_fail_todo(err, "put it behind a colon at the end: %s", role_units(role));
    return OUTLAY_E_USAGE;
}

/* Whether the value is worked out from the ground around a roof. */
static bool looks_around(const struct sample_source *spec)
{
    return spec->table || (spec->role == ROLE_TOPOGRAPHIC && !spec->column);
}

static enum outlay_status open_source(struct sampler *sampler, enum field_role role,
                                      const char *text, struct outlay_error *err)
{
    struct source *source = &sampler->sources[sampler->source_count++];
    struct sample_source *spec = &source->spec;
    enum outlay_status status =
        sample_source_parse(role, text, sampler->texts, spec, err);

    if (status == OUTLAY_OK && spec->column)
        status = features_open(spec->path, spec->column, &source->features, err);
    if (status == OUTLAY_OK && !spec->column)
        status = take_raster(sampler, spec->path, &source->surface, err);
    if (status == OUTLAY_OK && spec->minus)
        status = take_raster(sampler, spec->minus, &source->ground, err);
    if (status == OUTLAY_OK && looks_around(spec))
        status = around_open(source, sampler->texts, err);
    return status == OUTLAY_OK ? need_unit(source, err) : status;
}

static enum outlay_status open_all(struct sampler *sampler,
                                   const struct sample_settings *settings,
                                   struct outlay_error *err)
{
    enum outlay_status status = geo_ctx_new(&sampler->ctx, err);

    sampler->texts = arena_new();
    sampler->scratch = arena_new();
    sampler->settings = settings;
    if (status == OUTLAY_OK && (!sampler->texts || !sampler->scratch))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (int role = 0; status == OUTLAY_OK && role < FIELD_ROLES; role++)
        if (settings->sources[role])
            status =
                open_source(sampler, (enum field_role)role, settings->sources[role], err);
    if (status == OUTLAY_OK && GDALGetCacheMax64() > CACHE_MOST) {
        sampler->cache = GDALGetCacheMax64();
        GDALSetCacheMax64(CACHE_MOST);
    }
    return status;
}

enum outlay_status sampler_open(const struct sample_settings *settings,
                                struct sampler **out, struct outlay_error *err)
{
    struct sampler *sampler = calloc(1, sizeof *sampler);
    enum outlay_status status = OUTLAY_OK;

    *out = NULL;
    if (!sampler)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    status = open_all(sampler, settings, err);
    if (status == OUTLAY_OK)
        *out = sampler;
    else
        sampler_close(sampler);
    return status;
}

void sampler_close(struct sampler *sampler)
{
    if (!sampler)
        return;
    for (size_t i = 0; i < sampler->source_count; i++) {
        features_close(sampler->sources[i].features);
        ground_free(sampler->sources[i].around);
    }
    for (size_t i = 0; i < sampler->raster_count; i++)
        raster_close(sampler->rasters[i]);
    if (sampler->cache)
        GDALSetCacheMax64(sampler->cache);
    arena_free(sampler->texts);
    arena_free(sampler->scratch);
    geo_ctx_free(sampler->ctx);
    free(sampler);
}

/* ---- What is found ------------------------------------------------------------- */

void taking_weaken(struct taking *taking, const char *why)
{
    if (!taking->sample.weak)
        taking->sample.weak = why;
}

void taking_report(struct taking *taking, enum problem_code code, const char *done,
                   const char *why)
{
    struct problem *problem =
        roof_problem(taking->arena, taking->roof, code, done, "%s from %s: %s",
                     taking->sample.role, taking->sample.source, why);

    if (problem)
        problem->field = taking->sample.role;
}

/* Out of memory is seen at the end, in the arena. */
void taking_add(struct taking *taking)
{
    struct roof *roof = taking->roof;
    struct sampled *samples =
        arena_array(taking->arena, roof->sample_count + 1, sizeof *samples);

    if (!samples)
        return;
    if (roof->sample_count)
        memcpy(samples, roof->samples, roof->sample_count * sizeof *samples);
    samples[roof->sample_count++] = taking->sample;
    roof->samples = samples;
}

void taking_settle(struct taking *taking, const struct value *value)
{
    enum field_role role = taking->source->spec.role;
    struct field field = taking->source->spec.field;

    if (taking->source->surface && sample_of_heights(role))
        field = (struct field){.unit = "", .factor = 1};
    if (!value_store(taking->arena, taking->roof, role, &field, taking->sample.role,
                     value)) {
        taking_report(taking, PROBLEM_SAMPLE_MISSING, "value left missing",
                      "it can't be used");
        return;
    }
    if (!taking->sample.flatness)
        taking->sample.value = value_number(taking->roof, role);
    taking_add(taking);
    if (taking->sample.weak)
        taking_report(taking, PROBLEM_SAMPLE_WEAK, "value used: check it on the ground",
                      taking->sample.weak);
}

void taking_miss(struct taking *taking, const char *why)
{
    taking_report(taking, PROBLEM_SAMPLE_MISSING,
                  "value left missing: give it as a column, or another source", why);
}

/* ---- Rasters ------------------------------------------------------------------- */

struct pixels {
    double *values;
    size_t count; /* that are known */
    size_t all;
};

/* Marks the pixels of a view; those within `around` m of the outline too. @return false
 * when out of memory */
static bool mask_of(const struct view *view, double around, struct arena *scratch,
                    struct mask *out)
{
    *out = (struct mask){.width = view->width, .height = view->height};
    memcpy(out->metres, view->metres, sizeof out->metres);
    out->bits = arena_array(scratch, (size_t)view->width * (size_t)view->height, 1);
    if (!out->bits || !mask_inside(out, &view->outline, scratch))
        return false;
    mask_near(out, &view->outline, EDGE, MASK_EDGE);
    if (around > 0)
        mask_near(out, &view->outline, around, MASK_AROUND);
    return true;
}

/* Of the pixels with these bits those that are known. */
static bool gather(const struct view *view, const struct mask *mask, unsigned looked,
                   unsigned wanted, struct arena *scratch, struct pixels *out)
{
    size_t all = (size_t)view->width * (size_t)view->height;

    *out = (struct pixels){.values = arena_array(scratch, all, sizeof *out->values)};
    for (size_t i = 0; out->values && i < all; i++) {
        if ((mask->bits[i] & looked) != wanted)
            continue;
        out->all++;
        if (!isnan(view->values[i]))
            out->values[out->count++] = view->values[i];
    }
    return out->values != NULL;
}

/* Takes the ground off each pixel of a surface: what is under it, or the median of the
 * ring. */
static enum outlay_status take_ground(struct taking *taking, struct view *surface)
{
    struct arena *scratch = taking->sampler->scratch;
    bool ring = taking->source->spec.ring;
    struct view ground;
    struct mask mask;
    struct pixels around = {0};
    double level = NAN;
    enum outlay_status status =
        raster_view(taking->source->ground, &taking->frame, &taking->roof->lonlat,
                    ring ? RING : EDGE, scratch, &ground, taking->err);

    if (status != OUTLAY_OK)
        return status;
    if (ring && ground.values) {
        if (!mask_of(&ground, RING, scratch, &mask) ||
            !gather(&ground, &mask, MASK_INSIDE | MASK_EDGE | MASK_AROUND, MASK_AROUND,
                    scratch, &around))
            return outlay_fail(taking->err, OUTLAY_E_MEMORY, "out of memory");
        if (around.count)
            level = percentile(around.values, around.count, 50);
    }
    for (int row = 0; row < surface->height; row++)
        for (int col = 0; col < surface->width; col++) {
            double x = col + 0.5 - surface->middle.x, y = row + 0.5 - surface->middle.y;
            const double *m = surface->metres;
            double under =
                ring ? level : view_at(&ground, m[0] * x + m[1] * y, m[2] * x + m[3] * y);

            surface->values[(size_t)row * (size_t)surface->width + (size_t)col] -= under;
        }
    return OUTLAY_OK;
}

/* The pixels that the value is made of: without those along the edge for heights, all
 * in the outline where none is left, the middle one where the raster is too coarse. */
static bool choose(struct taking *taking, struct view *view, const struct mask *mask,
                   struct pixels *out)
{
    struct arena *scratch = taking->sampler->scratch;
    bool inner = taking->source->spec.role == ROLE_HEIGHT;
    unsigned looked = MASK_INSIDE | (inner ? MASK_EDGE : 0);

    if (!gather(view, mask, looked, MASK_INSIDE, scratch, out))
        return false;
    if (out->all == 0 && inner) {
        taking_weaken(taking, "narrower than 2 m: pixels along the edge count too");
        if (!gather(view, mask, MASK_INSIDE, MASK_INSIDE, scratch, out))
            return false;
    }
    if (out->all > 0)
        return true;
    taking_weaken(taking,
                  "no pixel's centre lies in the outline: the pixel at its middle");
    out->all = 1;
    out->values[0] = view_at(view, 0, 0);
    out->count = !isnan(out->values[0]);
    return true;
}

static void judge_known(struct taking *taking, const struct pixels *pixels)
{
    if ((double)pixels->count < KNOWN_LEAST * (double)pixels->all)
        taking_weaken(taking, "over half of its pixels have no value");
}

static void judge(struct taking *taking, const struct pixels *pixels)
{
    double factor = taking->source->spec.field.factor;
    double value = fabs(taking->sample.value) * factor;
    double most = fmax(SPREAD_SHARE * value, SPREAD_LEAST);

    if (pixels->count < PIXELS_FEW)
        taking_weaken(taking, "fewer than 4 pixels");
    judge_known(taking, pixels);
    if (taking->sample.spread > most)
        taking_weaken(taking,
                      "its pixels differ much: levels, units, trees or a pitched roof");
}

static void take_statistic(struct taking *taking, struct pixels *pixels)
{
    const struct sample_source *spec = &taking->source->spec;
    struct value value = {.kind = VALUE_REAL};

    if (pixels->count == 0) {
        taking_miss(taking, "the raster has no value there");
        return;
    }
    value.real =
        statistic_of(pixels->values, pixels->count, spec->statistic, spec->percent);
    taking->sample.value = value.real;
    taking->sample.count = pixels->count;
    taking->sample.spread =
        spread_of(pixels->values, pixels->count) * fabs(spec->field.factor);
    judge(taking, pixels);
    taking_settle(taking, &value);
}

/* The slope of a surface, whose heights become metres. */
static bool take_plane(struct taking *taking, struct view *view, const struct mask *mask)
{
    double factor = taking->source->spec.field.factor;
    struct value value = {.kind = VALUE_REAL};
    struct pixels pixels = {0};
    struct plane_fit fit;

    for (size_t i = 0; i < (size_t)view->width * (size_t)view->height; i++) {
        bool inner = (mask->bits[i] & (MASK_INSIDE | MASK_EDGE)) == MASK_INSIDE;

        view->values[i] = inner ? view->values[i] * factor : (double)NAN;
        pixels.all += inner;
        pixels.count += !isnan(view->values[i]);
    }
    if (!plane_fit(mask, &view->outline, view->values, taking->sampler->settings->pitched,
                   taking->sampler->scratch, &fit))
        return false;
    if (fit.cells == 0) {
        taking_miss(taking, "too small, or the raster has no values there");
        return true;
    }
    taking->sample.value = fit.slope;
    value.real = fmin(fit.slope, 1); /* steeper ones aren't taken for slopes */
    taking->sample.spread = 2 * fit.doubt;
    taking->sample.count = (size_t)fit.cells;
    taking->sample.flatness = fit.flatness;
    if (fit.flatness != FLATNESS_UNCERTAIN) {
        judge_known(taking, &pixels);
        taking_settle(taking, &value);
        return true;
    }
    taking->sample.weak = "neither clearly low-slope nor clearly pitched";
    taking_add(taking);
    taking_report(taking, PROBLEM_SAMPLE_WEAK,
                  "slope left missing, the roof is kept: look at it",
                  taking->sample.weak);
    return true;
}

static enum outlay_status take_raster_value(struct taking *taking)
{
    struct arena *scratch = taking->sampler->scratch;
    struct view view;
    struct mask mask;
    struct pixels pixels = {0};
    enum outlay_status status =
        raster_view(taking->source->surface, &taking->frame, &taking->roof->lonlat, 0,
                    scratch, &view, taking->err);

    if (status != OUTLAY_OK)
        return status;
    if (!view.values) {
        taking_miss(taking,
                    "the raster doesn't reach there, or it is over 4,000,000 pixels");
        return OUTLAY_OK;
    }
    if (taking->source->ground)
        status = take_ground(taking, &view);
    if (status != OUTLAY_OK)
        return status;
    bool done = mask_of(&view, 0, scratch, &mask);

    if (done && taking->source->spec.role == ROLE_SLOPE)
        done = take_plane(taking, &view, &mask);
    else if (done && (done = choose(taking, &view, &mask, &pixels)))
        take_statistic(taking, &pixels);
    return done ? OUTLAY_OK : outlay_fail(taking->err, OUTLAY_E_MEMORY, "out of memory");
}

/* ---- Layers -------------------------------------------------------------------- */

static enum outlay_status take_feature_value(struct taking *taking)
{
    struct finding finding;
    enum outlay_status status = features_at(taking->source->features,
                                            &taking->roof->lonlat, &finding, taking->err);

    if (status != OUTLAY_OK)
        return status;
    if (!finding.found) {
        taking_miss(taking, "no feature is there");
        return OUTLAY_OK;
    }
    taking->sample.statistic = finding.how;
    taking->sample.count = finding.count;
    taking->sample.spread = finding.spread * taking->source->spec.field.factor;
    taking->sample.weak = finding.weak;
    taking_settle(taking, &finding.value);
    return OUTLAY_OK;
}

/* ---- Roofs --------------------------------------------------------------------- */

static struct point middle_of(const struct region *lonlat)
{
    struct box box = region_box(lonlat);

    return (struct point){(box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2};
}

static enum quantity quantity_of(enum field_role role)
{
    switch (field_role_kind(role)) {
    case FIELD_LENGTH:
        return QUANTITY_LENGTH;
    case FIELD_SPEED:
        return QUANTITY_SPEED;
    case FIELD_PRESSURE:
        return QUANTITY_PRESSURE;
    case FIELD_FORCE:
        return QUANTITY_FORCE;
    default:
        return QUANTITY_COUNT;
    }
}

enum outlay_status sampler_roof(struct sampler *sampler, struct arena *arena,
                                struct roof *roof, struct outlay_error *err)
{
    struct taking taking = {.sampler = sampler, .roof = roof, .arena = arena, .err = err};
    enum outlay_status status = OUTLAY_OK;

    if (roof->lonlat.polygon_count == 0)
        return OUTLAY_OK;
    frame_init(&taking.frame, sampler->ctx, middle_of(&roof->lonlat));
    for (size_t i = 0; status == OUTLAY_OK && i < sampler->source_count; i++) {
        const struct sample_source *spec = &sampler->sources[i].spec;

        if (!sampler->settings->over && value_given(roof, spec->role))
            continue;
        arena_reset(sampler->scratch);
        taking.source = &sampler->sources[i];
        taking.sample = (struct sampled){.role = field_role_name(spec->role),
                                         .source = spec->text,
                                         .statistic = spec->word,
                                         .quantity = quantity_of(spec->role),
                                         .value = NAN,
                                         .spread = NAN};
        if (spec->column)
            status = take_feature_value(&taking);
        else
            status =
                looks_around(spec) ? around_take(&taking) : take_raster_value(&taking);
    }
    if (status == OUTLAY_OK && arena_failed(arena))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    return status;
}
