#ifndef OUTLAY_TESTS_PROPERTY_PORTFOLIO_SAMPLES_H
#define OUTLAY_TESTS_PROPERTY_PORTFOLIO_SAMPLES_H

/**
 * @file samples.h
 * Programs with a price of their own, invented: what a visit costs once, whole packs of
 * what its roofs take, and less for each where more is bought. Random ones, for tests and
 * measurements; the same for the same seed on every machine.
 */

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>

#include "portfolio/program.h"

enum { SAMPLE_ITEMS = 3, SAMPLE_OPTIONS = 2 };

/* What one option on one roof takes. */
struct sample_work {
    double area; /* m2, for the size effect */
    int items[SAMPLE_ITEMS];
};

struct sample {
    struct program program;
    money *caps;
    double *nominal, *present, *values;
    struct program_roof *roofs;
    struct program_option *options;
    struct program_building *buildings;
    struct sample_work *work; /* of option o of roof r: option_at[r] + o */
    size_t *option_at;
    money *fixed; /* by building */
    int packs[SAMPLE_ITEMS];
    money pack_prices[SAMPLE_ITEMS];
    double discount, half_area; /* the most, and the area that gets a half of it */
};

static inline double sample_factor(const struct sample *sample, double area)
{
    return 1 - sample->discount * (area / (area + sample->half_area));
}

static inline money sample_price(const void *context, size_t building,
                                 const struct program_pick *picks)
{
    const struct sample *sample = context;
    const struct program_building *of = &sample->program.buildings[building];
    int64_t items[SAMPLE_ITEMS] = {0};
    double area = 0;
    money sum = 0;

    for (size_t i = 0; i < of->count; i++) {
        const struct sample_work *work;

        if (picks[i].option < 0)
            continue;
        work = &sample->work[sample->option_at[of->first + i] + (size_t)picks[i].option];
        area += work->area;
        for (int k = 0; k < SAMPLE_ITEMS; k++)
            items[k] += work->items[k];
    }
    for (int k = 0; k < SAMPLE_ITEMS; k++)
        sum +=
            (items[k] + sample->packs[k] - 1) / sample->packs[k] * sample->pack_prices[k];
    return sample->fixed[building] +
           (money)llround((double)sum * sample_factor(sample, area));
}

/* Packs as they are used, at the least factor of the building. */
static inline money sample_share(const void *context, size_t building, size_t roof,
                                 int option)
{
    const struct sample *sample = context;
    const struct program_building *of = &sample->program.buildings[building];
    const struct sample_work *work;
    double area = 0, sum = 0;

    if (option < 0)
        return sample->fixed[building];
    for (size_t i = of->first; i < of->first + of->count; i++) {
        double most = 0;

        for (size_t o = 0; o < sample->roofs[i].option_count; o++)
            most = fmax(most, sample->work[sample->option_at[i] + o].area);
        area += most;
    }
    work = &sample->work[sample->option_at[of->first + roof] + (size_t)option];
    for (int k = 0; k < SAMPLE_ITEMS; k++)
        sum += (double)work->items[k] / sample->packs[k] * (double)sample->pack_prices[k];
    return (money)floor(sum * sample_factor(sample, area) * (1 - 1e-12));
}

static inline void sample_free(struct sample *sample)
{
    free(sample->caps);
    free(sample->nominal);
    free(sample->present);
    free(sample->values);
    free(sample->roofs);
    free(sample->options);
    free(sample->buildings);
    free(sample->work);
    free(sample->option_at);
    free(sample->fixed);
}

static inline void *sample_room(size_t count, size_t size)
{
    void *room = calloc(count + 1, size);

    if (!room)
        abort();
    return room;
}

/* Room for so much; all of it 0 but what the sizes say. */
static inline void sample_start(struct sample *sample, size_t roofs, size_t options,
                                size_t buildings, int years)
{
    size_t count = (size_t)years;

    *sample = (struct sample){
        .caps = sample_room(count, sizeof *sample->caps),
        .nominal = sample_room(count, sizeof *sample->nominal),
        .present = sample_room(count, sizeof *sample->present),
        .values = sample_room(options * count, sizeof *sample->values),
        .roofs = sample_room(roofs, sizeof *sample->roofs),
        .options = sample_room(options, sizeof *sample->options),
        .buildings = sample_room(buildings, sizeof *sample->buildings),
        .work = sample_room(options, sizeof *sample->work),
        .option_at = sample_room(roofs, sizeof *sample->option_at),
        .fixed = sample_room(buildings, sizeof *sample->fixed),
        .packs = {12, 30, 7},
        .pack_prices = {2400000, 930000, 260000},
        .discount = 0.12,
        .half_area = 3000,
    };
    sample->program = (struct program){
        .years = years,
        .caps = sample->caps,
        .roofs = sample->roofs,
        .roof_count = roofs,
        .buildings = sample->buildings,
        .building_count = buildings,
        .price = sample_price,
        .share = sample_share,
        .context = sample,
        .nominal = sample->nominal,
        .present = sample->present,
    };
}

/* splitmix64: public domain, S. Vigna. */
static inline uint64_t sample_bits(uint64_t *state)
{
    uint64_t z = *state += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static inline int sample_below(uint64_t *state, int count)
{
    return (int)(sample_bits(state) % (uint64_t)count);
}

static inline double sample_unit(uint64_t *state)
{
    return (double)(sample_bits(state) >> 11) * 0x1p-53;
}

struct sample_kind {
    size_t roofs;
    int years, building_roofs; /* most of a building */
    double share;              /* of all that could be done, in the caps */
    int must, window;          /* per cent of roofs */
    int large;                 /* per mille of buildings have up to 40 roofs */
    bool together;
};

/* Replace or coat; waiting costs more each year, later work leaves more at the end. */
static inline void sample_roof(struct sample *sample, const struct sample_kind *kind,
                               size_t i, uint64_t *state)
{
    struct program_roof *roof = &sample->roofs[i];
    double area = 100 * exp(3.5 * sample_unit(state)), worth = 10000 * area;
    double wait = worth * pow(sample_unit(state), 2) * 0.2;
    int window = sample_below(state, 100) < kind->window;

    *roof = (struct program_roof){&sample->options[i * SAMPLE_OPTIONS], SAMPLE_OPTIONS, 0,
                                  sample_below(state, 100) < kind->must};
    sample->option_at[i] = i * SAMPLE_OPTIONS;
    for (size_t o = 0; o < SAMPLE_OPTIONS; o++) {
        struct program_option *option = &sample->options[i * SAMPLE_OPTIONS + o];
        double *values = &sample->values[(i * SAMPLE_OPTIONS + o) * (size_t)kind->years];
        double size = o == 0 ? 1 : 0.45, left = o == 0 ? 0.6 : 0.1;

        option->first = window ? sample_below(state, kind->years) : 0;
        option->last =
            window ? option->first + sample_below(state, kind->years - option->first)
                   : kind->years - 1;
        option->values = values;
        sample->work[i * SAMPLE_OPTIONS + o] = (struct sample_work){
            area * size,
            {(int)(area * size / 25) + 1, (int)(area * size / 12) + 1,
             2 + sample_below(state, 6)}};
        for (int k = 0; k < kind->years; k++)
            values[k] = wait * (pow(1.12, k) - 1) / 0.12 -
                        worth * left * pow(0.96, kind->years) *
                            (1 - (kind->years - k) / (o == 0 ? 25.0 : 10.0));
    }
    roof->idle = wait * (pow(1.12, kind->years) - 1) / 0.12;
}

/* The caps are a share of what all of it costs, visit by visit of whole buildings. */
static inline void sample_caps(struct sample *sample, double share, uint64_t *state)
{
    struct program *program = &sample->program;
    struct program_pick *picks = sample_room(program->roof_count, sizeof *picks);
    money all = 0;

    for (size_t b = 0; b < program->building_count; b++)
        all += sample_price(sample, b, picks);
    for (int k = 0; k < program->years; k++)
        sample->caps[k] = (money)((double)all * share / program->years *
                                  (0.7 + 0.6 * sample_unit(state)));
    free(picks);
}

static inline void sample_make(struct sample *sample, const struct sample_kind *kind,
                               uint64_t *state)
{
    size_t buildings = 0, done = 0;

    sample_start(sample, kind->roofs, kind->roofs * SAMPLE_OPTIONS, kind->roofs,
                 kind->years);
    while (done < kind->roofs) {
        size_t count = sample_below(state, 1000) < kind->large
                           ? 7 + (size_t)sample_below(state, 34)
                           : 1 + (size_t)sample_below(state, kind->building_roofs);

        count = count < kind->roofs - done ? count : kind->roofs - done;
        sample->buildings[buildings] = (struct program_building){done, count};
        sample->fixed[buildings++] = 150000 + sample_below(state, 1200000);
        done += count;
    }
    sample->program.building_count = buildings;
    sample->program.together = kind->together;
    for (int k = 0; k < kind->years; k++) {
        sample->nominal[k] = pow(1.03, k);
        sample->present[k] = pow(0.96, k);
    }
    for (size_t i = 0; i < kind->roofs; i++)
        sample_roof(sample, kind, i, state);
    sample_caps(sample, kind->share, state);
}

#endif
