#include <math.h>

#include "flow/stages.h"
#include "roof/finding.h"

struct filling {
    double *own;
    double option;
    const char *name;
    bool stays; /* the roof says otherwise by another field */
};

/* The kind of the roof's edge, where neither that nor a parapet is its own. */
static bool fill_edge(struct roof *roof, const struct attributes *options)
{
    bool open = roof->given.edge == EDGE_NOT_GIVEN && isnan(roof->given.parapet);

    roof->edge_by_option =
        open && (options->edge != EDGE_NOT_GIVEN || isfinite(options->parapet));
    if (!open || options->edge == EDGE_NOT_GIVEN)
        return false;
    roof->given.edge = options->edge;
    return true;
}

static enum outlay_status fill(struct arena *arena, struct roof *roof,
                               const struct attributes *options, struct outlay_error *err)
{
    struct attributes *given = &roof->given;
    bool edge = fill_edge(roof, options);
    bool low = given->edge == EDGE_METAL || given->edge == EDGE_GUTTER;
    const struct filling fillings[] = {
        {&given->height, options->height, "height", isfinite(given->storeys)},
        {&given->storeys, options->storeys, "storeys", false},
        {&given->parapet, options->parapet, "parapet", low},
        {&given->parapet_thickness, options->parapet_thickness, "parapet_thickness", low},
        {&given->stack, options->stack, "stack", false},
        {&given->taper, options->taper, "taper", false},
    };
    struct text names = TEXT_INIT;
    bool failed;

    if (edge)
        text_puts(&names, "edge");
    for (size_t i = 0; i < sizeof fillings / sizeof fillings[0]; i++) {
        const struct filling *filling = &fillings[i];

        if (isfinite(*filling->own) || isnan(filling->option) || filling->stays)
            continue;
        *filling->own = filling->option;
        text_printf(&names, "%s%s", names.length ? ", " : "", filling->name);
    }
    if (names.length)
        roof_problem(arena, roof, PROBLEM_BY_OPTION,
                     "the roof itself has no usable value", "taken from options: %s",
                     names.data);
    failed = names.failed;
    text_release(&names);
    return failed ? outlay_fail(err, OUTLAY_E_MEMORY, "out of memory") : OUTLAY_OK;
}

/* A value that was looked at on the roof is no sample any more. */
static void weigh_sample(struct roof *roof, const struct sampled *sample)
{
    int kind = name_find(sample->role, finding_kind_name);

    if (kind >= 0 && roof->verified & 1u << kind)
        return;
    roof->estimated |= 1u << ESTIMATE_SAMPLED;
    roof_assume_all(roof, sample->assumed);
}

/* What people found on the roof, decided and confirmed comes before all else. */
static enum outlay_status vouch(struct arena *arena, struct roof *roof,
                                const struct settings *settings, struct outlay_error *err)
{
    enum outlay_status status = closings_apply(arena, roof, &settings->closings);

    if (status == OUTLAY_OK && settings->findings)
        status = findings_apply(arena, roof, settings->findings);
    return status == OUTLAY_OK ? status : outlay_fail(err, status, "out of memory");
}

enum outlay_status given_run(struct building *building, const struct settings *settings,
                             struct geo_ctx *ctx, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    (void)ctx;
    for (size_t i = 0; i < building->roof_count && status == OUTLAY_OK; i++) {
        struct roof *roof = &building->roofs[i];

        status = vouch(building->arena, roof, settings, err);
        if (status != OUTLAY_OK)
            return status;
        for (size_t k = 0; k < roof->sample_count; k++)
            weigh_sample(roof, &roof->samples[k]);
        status = fill(building->arena, roof, &settings->given, err);
    }
    return status;
}
