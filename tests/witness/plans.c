/**
 * @file plans.c
 * Solves one program that a witness made, with the price of samples.h.
 *
 *     plans FILE GAP NODES SECONDS
 *
 * FILE has numbers apart by blanks: years, buildings, roofs, options, together; caps,
 * nominal, present by year; packs, pack prices, discount, half area; for each building:
 * roofs, fixed price; for each of these roofs: options, must, idle; for each of these:
 * first, last, area, items, values by year. Prints: feasible, state, value, bound; what
 * is over by year; option and year of each roof.
 */

#include <stdio.h>

#include "../property/portfolio/samples.h"

static double number(FILE *file)
{
    char word[64];
    int length = 0, c = getc(file);

    while (c == ' ' || c == '\n')
        c = getc(file);
    for (; c != EOF && c != ' ' && c != '\n' && length < 63; c = getc(file))
        word[length++] = (char)c;
    word[length] = '\0';
    return strtod(word, NULL);
}

static void read_roof(FILE *file, struct sample *sample, size_t roof, size_t *options)
{
    struct program_roof *of = &sample->roofs[roof];
    size_t years = (size_t)sample->program.years;

    of->options = &sample->options[*options];
    sample->option_at[roof] = *options;
    of->option_count = (size_t)number(file);
    of->must = number(file) != 0;
    of->idle = number(file);
    for (size_t o = 0; o < of->option_count; o++, (*options)++) {
        struct program_option *option = &sample->options[*options];
        struct sample_work *work = &sample->work[*options];

        option->first = (int)number(file);
        option->last = (int)number(file);
        option->values = &sample->values[*options * years];
        work->area = number(file);
        for (int k = 0; k < SAMPLE_ITEMS; k++)
            work->items[k] = (int)number(file);
        for (size_t k = 0; k < years; k++)
            sample->values[*options * years + k] = number(file);
    }
}

static void read_sample(FILE *file, struct sample *sample)
{
    int years = (int)number(file);
    size_t buildings = (size_t)number(file), roofs = (size_t)number(file);
    size_t options = (size_t)number(file), roof = 0, done = 0;

    sample_start(sample, roofs, options, buildings, years);
    sample->program.together = number(file) != 0;
    for (int k = 0; k < years; k++)
        sample->caps[k] = (money)number(file);
    for (int k = 0; k < years; k++)
        sample->nominal[k] = number(file);
    for (int k = 0; k < years; k++)
        sample->present[k] = number(file);
    for (int k = 0; k < SAMPLE_ITEMS; k++)
        sample->packs[k] = (int)number(file);
    for (int k = 0; k < SAMPLE_ITEMS; k++)
        sample->pack_prices[k] = (money)number(file);
    sample->discount = number(file);
    sample->half_area = number(file);
    for (size_t b = 0; b < buildings; b++) {
        size_t count = (size_t)number(file);

        sample->buildings[b] = (struct program_building){roof, count};
        sample->fixed[b] = (money)number(file);
        for (size_t i = 0; i < count; i++)
            read_roof(file, sample, roof++, &done);
    }
}

static void print_answer(const struct program *program,
                         const struct program_answer *answer)
{
    printf("%d %d %.6f %.6f\n", answer->feasible, (int)answer->state, answer->value,
           answer->bound);
    for (int k = 0; k < program->years; k++)
        printf("%lld ", (long long)answer->over[k]);
    printf("\n");
    for (size_t i = 0; i < program->roof_count; i++)
        printf("%d %d\n", answer->picks[i].option, answer->picks[i].year);
}

int main(int count, char **words)
{
    FILE *file = count == 5 ? fopen(words[1], "r") : NULL;
    struct arena *arena = arena_new();
    struct program_answer answer = {0};
    struct outlay_error err = {0};
    struct sample sample;
    enum outlay_status status;

    if (!file || !arena)
        return 2;
    read_sample(file, &sample);
    (void)fclose(file);
    status = program_solve(&sample.program,
                           &(struct program_limits){strtod(words[2], NULL),
                                                    (int)strtol(words[3], NULL, 10),
                                                    strtod(words[4], NULL), NULL, NULL},
                           NULL, 0, arena, &answer, &err);
    if (status == OUTLAY_OK)
        print_answer(&sample.program, &answer);
    else
        (void)fprintf(stderr, "plans: %s\n", err.what);
    sample_free(&sample);
    arena_free(arena);
    return status == OUTLAY_OK ? 0 : 1;
}
