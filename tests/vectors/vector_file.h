#ifndef OUTLAY_TESTS_VECTOR_FILE_H
#define OUTLAY_TESTS_VECTOR_FILE_H

/**
 * Reference values as text files that a person can check against the source:
 *
 *     # a comment
 *     source: document, edition, table or figure
 *     label: transcribed
 *     tolerance: 0.1
 *     given: standard asce7-10; exposure B; height 30 ft
 *     case: area 10 ft2 -> allowable-corner 88.3 psf; allowable-field 35.0 psf
 *     fails: area 10 ft2 -> allowable-corner 85.0 psf
 *
 * `given` starts anew; a case adds to it for itself. `fails` names values that must be
 * missed, for traps and misprints. A unit is one of base/units.h; the tolerance is in
 * the unit of the value. Labels: how the value was come by.
 *
 *     read         in the source, as printed
 *     transcribed  in a machine transcription or scanned text
 *     recovered    by turning a printed table round
 *     memory       recalled, not read; check in print
 *     derived      computed from the rows above it; published nowhere
 *
 * Whatever isn't understood fails the test, and so does a file without a case.
 * Included by the runners, one a program.
 */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"
#include "base/units.h"

#define VECTOR_PAIRS 24
#define VECTOR_LINE 400

/** `height 15 ft`: number in SI, or a word. */
struct vector_pair {
    char key[40];
    char word[40];
    double number; /* NAN: the word isn't one */
    double factor; /* SI value of the unit; 1 without one */
};

struct vector_pairs {
    struct vector_pair pairs[VECTOR_PAIRS];
    size_t count;
};

struct vector_case {
    const char *file;
    int line;
    bool fails;
    double tolerance; /* in the unit of the value, converted with its factor */
    struct vector_pairs inputs;
    struct vector_pairs expected;
};

/** Works out what a case expects: its own inputs are in vector->inputs.
 *  @return false for a quantity that the runner doesn't know. */
typedef bool (*vector_compute)(const struct vector_case *vector, const char *quantity,
                               double *value);

struct vector_reader {
    const char *file;
    int line;
    bool has_source, has_label;
    double tolerance; /* as written */
    struct vector_pairs given;
    int cases;
    int failures;
    vector_compute compute;
};

static void vector_complain(struct vector_reader *reader, const char *what,
                            const char *word)
{
    print_error("%s:%d: %s: %s\n", reader->file, reader->line, what, word);
    reader->failures++;
}

/* Finds a unit of any kind. */
static bool vector_unit(const char *name, double *factor)
{
    static const enum quantity kinds[] = {QUANTITY_LENGTH, QUANTITY_AREA, QUANTITY_SPEED,
                                          QUANTITY_PRESSURE, QUANTITY_FORCE};

    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (unit_find(name, kinds[i], factor)) {
            return true;
        }
    }
    return false;
}

static void vector_add(struct vector_reader *reader, struct vector_pairs *pairs,
                       const char *text)
{
    struct vector_pair *pair = &pairs->pairs[pairs->count];
    char unit[16] = "";
    char rest[2] = "";
    int words = sscanf(text, "%39s %39s %15s %1s", pair->key, pair->word, unit, rest);

    if (words < 2 || words > 3 || pairs->count + 1 == VECTOR_PAIRS) {
        vector_complain(reader, "expected `key value [unit]`", text);
        return;
    }
    pair->factor = 1.0;
    if (!number_parse(pair->word, &pair->number)) {
        pair->number = NAN;
    }
    if (words == 3 && (isnan(pair->number) || !vector_unit(unit, &pair->factor))) {
        vector_complain(reader, "no number with a unit", text);
        return;
    }
    pair->number *= pair->factor;
    pairs->count++;
}

/* Splits at semicolons; text is changed. */
static void vector_split(struct vector_reader *reader, struct vector_pairs *pairs,
                         char *text)
{
    while (text != NULL) {
        char *end = strchr(text, ';');

        if (end != NULL) {
            *end++ = '\0';
        }
        if (strspn(text, " \t") < strlen(text)) {
            vector_add(reader, pairs, text);
        }
        text = end;
    }
}

static void vector_check(struct vector_reader *reader, const struct vector_case *vector)
{
    bool missed = false;

    for (size_t i = 0; i < vector->expected.count; i++) {
        const struct vector_pair *pair = &vector->expected.pairs[i];
        double value = NAN;

        if (!vector->fails) {
            reader->cases++;
        }
        if (isnan(pair->number) || !reader->compute(vector, pair->key, &value)) {
            vector_complain(reader, "unknown quantity or no number", pair->key);
            continue;
        }
        if (fabs(value - pair->number) <= vector->tolerance * pair->factor) {
            continue;
        }
        missed = true;
        if (!vector->fails) {
            print_error("%s:%d: %s is %.6g, expected %.6g +- %g\n", reader->file,
                        reader->line, pair->key, value / pair->factor,
                        pair->number / pair->factor, vector->tolerance);
            reader->failures++;
        }
    }
    if (vector->fails && !missed) {
        vector_complain(reader, "values agree that must not", "fails");
    }
}

static void vector_case_line(struct vector_reader *reader, char *text, bool fails)
{
    struct vector_case vector = {0};
    char *arrow = strstr(text, "->");

    if (arrow == NULL || !reader->has_source || !reader->has_label ||
        isnan(reader->tolerance)) {
        vector_complain(reader, "needs source, label, tolerance above and `->`", text);
        return;
    }
    *arrow = '\0';
    vector.file = reader->file;
    vector.line = reader->line;
    vector.fails = fails;
    vector.tolerance = reader->tolerance;
    vector.inputs = reader->given;
    vector_split(reader, &vector.inputs, text);
    vector_split(reader, &vector.expected, arrow + 2);
    if (vector.expected.count == 0) {
        vector_complain(reader, "expects nothing", text);
    }
    vector_check(reader, &vector);
}

static bool vector_label_known(const char *text)
{
    static const char *const labels[] = {"read", "transcribed", "recovered", "memory",
                                         "derived"};

    for (size_t i = 0; i < sizeof labels / sizeof labels[0]; i++) {
        if (strcmp(text, labels[i]) == 0) {
            return true;
        }
    }
    return false;
}

static void vector_line(struct vector_reader *reader, char *line)
{
    char *value = strchr(line, ':');

    line[strcspn(line, "\r\n")] = '\0';
    if (line[0] == '#' || line[strspn(line, " \t")] == '\0') {
        return;
    }
    if (value == NULL) {
        vector_complain(reader, "no key", line);
        return;
    }
    *value++ = '\0';
    value += strspn(value, " \t");
    if (strcmp(line, "source") == 0) {
        reader->has_source = *value != '\0';
        reader->has_label = false; /* a source needs a label of its own */
    } else if (strcmp(line, "label") == 0 && vector_label_known(value)) {
        reader->has_label = true;
    } else if (strcmp(line, "tolerance") == 0 &&
               number_parse(value, &reader->tolerance)) {
        return;
    } else if (strcmp(line, "given") == 0) {
        reader->given.count = 0;
        vector_split(reader, &reader->given, value);
    } else if (strcmp(line, "case") == 0 || strcmp(line, "fails") == 0) {
        vector_case_line(reader, value, line[0] == 'f');
    } else {
        vector_complain(reader, "unknown key or value", line);
    }
}

/**
 * Runs a file's cases. @param[out] cases  number of values that were compared.
 * @return number of failures, each printed with file and line.
 */
static int vector_file_run(const char *path, vector_compute compute, int *cases)
{
    struct vector_reader reader = {.file = path, .tolerance = NAN, .compute = compute};
    char line[VECTOR_LINE];
    FILE *file = fopen(path, "r");

    *cases = 0;
    if (file == NULL) {
        vector_complain(&reader, "can't be opened", path);
        return reader.failures;
    }
    while (fgets(line, sizeof line, file) != NULL) {
        reader.line++;
        if (strlen(line) + 1 == sizeof line) {
            vector_complain(&reader, "line too long", line);
        }
        vector_line(&reader, line);
    }
    fclose(file);
    if (reader.cases == 0) {
        vector_complain(&reader, "no cases", path);
    }
    *cases = reader.cases;
    return reader.failures;
}

#endif
