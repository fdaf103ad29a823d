/* Site sheets of made-up surveys, for tests that read the PDF back:
 *
 *     draw_site_sheets FILE.pdf us|si units|letter|a4
 *
 * Roofs go through all stages; the spots of their places are invented. Prints each place
 * as "ROOF PLACE TASK placed|unplaced edge|inside ENTRIES X Y", X and Y in metres. */

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "draw/site_sheets.h"
#include "flow/stages.h"
#include "roof/edges.h"
#include "roof/fixtures.h"
#include "write/columns.h"

#define PI 3.14159265358979323846
#define POINTS_MOST 8
#define PLACES_MOST 200
#define EDGE_CLEAR (3 * M_PER_FT)

/* A roof in metres, and how many places of each task it has. */
struct sample {
    const char *id, *name, *building;
    struct point points[POINTS_MOST];
    size_t count;
    int places[SURVEY_TASKS];
    bool served; /* drains, a unit, a hatch */
};

static const struct sample samples[] = {
    {"A-1",
     "Machine hall",
     "Works",
     {{0, 0}, {90, 0}, {90, 26}, {52, 26}, {52, 45}, {0, 45}},
     6,
     {[TASK_PULLOUT] = 12,
      [TASK_CORE] = 3,
      [TASK_DECK] = 1,
      [TASK_SCAN] = 2,
      [TASK_HEIGHT] = 2,
      [TASK_EDGE] = 3,
      [TASK_SURROUNDINGS] = 1,
      [TASK_OPENINGS] = 1,
      [TASK_DRAINS] = 1,
      [TASK_PHOTO] = 2},
     true},
    {"A-2",
     "Loading dock",
     "Works",
     {{90, 0}, {110, 0}, {110, 12}, {90, 12}},
     4,
     {[TASK_CORE] = 1, [TASK_DECK] = 1},
     false},
    {"B-1",
     "Warehouse",
     NULL,
     {{0, 0}, {300, 0}, {300, 150}, {0, 150}},
     4,
     {[TASK_PULLOUT] = 60, [TASK_CORE] = 20, [TASK_SCAN] = 10},
     true},
    {"C-1",
     "Covered way",
     NULL,
     {{0, 0}, {120, 8}, {120, 9.5}, {0, 1.5}},
     4,
     {[TASK_PULLOUT] = 10, [TASK_CORE] = 2, [TASK_EDGE] = 2},
     false},
    {"D-1",
     "Wing",
     NULL,
     {{0, 0}, {18, 0}, {18, 140}, {0, 140}},
     4,
     {[TASK_PULLOUT] = 10, [TASK_CORE] = 4, [TASK_HEIGHT] = 1, [TASK_DECK] = 1},
     true},
    {"F-1",
     "Link",
     NULL,
     {{0, 0}, {120, 0}, {120, 20}, {0, 20}},
     4,
     {[TASK_PULLOUT] = 60, [TASK_CORE] = 6},
     false},
    {"E-1",
     "Gate house",
     NULL,
     {{0, 0}, {6, 0}, {6, 5}, {0, 5}},
     4,
     {[TASK_CORE] = 1},
     false},
};

enum { SAMPLES = sizeof samples / sizeof samples[0] };

static const struct {
    enum finding_kind kind;
    enum survey_task task;
    const char *why;
} asked[] = {
    {FINDING_PULLOUT, TASK_PULLOUT, "the spacing of all screws rests on it"},
    {FINDING_STACK, TASK_CORE, "the length of all screws rests on it"},
    {FINDING_COVERS, TASK_CORE, "two covers or more must come off"},
    {FINDING_EXISTING, TASK_CORE, "what is torn off rests on it"},
    {FINDING_WET, TASK_CORE, "wet insulation must come off"},
    {FINDING_DECK, TASK_DECK, "which screws hold in it"},
    {FINDING_DECK_BEARING, TASK_DECK, "rows must cross the ribs"},
    {FINDING_WET_SHARE, TASK_SCAN, "recover or tear off"},
    {FINDING_HEIGHT, TASK_HEIGHT, "the wind pressure grows with it"},
    {FINDING_EDGE, TASK_EDGE, "edge metal or flashing is ordered by it"},
    {FINDING_PARAPET, TASK_EDGE, "a parapet of 3 ft all around relieves the corners"},
    {FINDING_PARAPET_THICKNESS, TASK_EDGE, "coping is ordered by it"},
    {FINDING_EXPOSURE, TASK_SURROUNDINGS, "the wind pressure follows from it"},
    {FINDING_TOPOGRAPHIC, TASK_SURROUNDINGS, "a hill may double the pressure"},
    {FINDING_ENCLOSURE, TASK_OPENINGS, "open doors add pressure from below"},
    {FINDING_HOLES, TASK_OPENINGS, "courts have zones of their own"},
    {FINDING_DRAINS, TASK_DRAINS, "they are flashed one by one"},
    {FINDING_PENETRATIONS, TASK_DRAINS, "they are flashed one by one"},
    {FINDING_PHOTO, TASK_PHOTO, "the file"},
};

enum { ASKED = sizeof asked / sizeof asked[0] };

static struct survey_rule rule_rows[] = {
    {.task = TASK_TRIAL_WELD,
     .by = BY_DAY,
     .note = "at the start of each half day and after each change of weather",
     .source = "invented"},
};

/* ---- The roofs ---- */

static void place(const struct sample *sample, struct roof *roof, struct arena *arena)
{
    const double lon = -93, lat = 39, radius = 6371000;
    struct ring *ring = arena_array(arena, 1, sizeof *ring);
    struct polygon *polygon = arena_array(arena, 1, sizeof *polygon);
    ring->points = arena_array(arena, sample->count, sizeof *ring->points);
    ring->count = sample->count;
    for (size_t i = 0; i < sample->count; i++)
        ring->points[i] = (struct point){lon + sample->points[i].x / radius /
                                                   cos(lat * PI / 180) * 180 / PI,
                                         lat + sample->points[i].y / radius * 180 / PI};
    *polygon = (struct polygon){ring, 1};
    *roof = (struct roof){.id = sample->id,
                          .name = sample->name,
                          .building = sample->building,
                          .given = attributes_missing(),
                          .lonlat = {polygon, 1},
                          .properties = ""};
    roof->given.height = 9;
    roof->given.wind_speed = 52;
}

static double to_edge(const struct roof *roof, struct point p)
{
    double nearest = INFINITY;
    for (size_t i = 0; i < roof->edge_count; i++)
        nearest =
            fmin(nearest, segment_distance(p, roof->edges[i].from, roof->edges[i].to));
    return nearest;
}

/* The next of a sequence that spreads over the roof. */
static struct point next_spot(const struct roof *roof, int *step)
{
    struct box box = region_box(&roof->outline);
    for (;;) {
        double x = fmod(0.5 + *step * 0.7548776662, 1);
        double y = fmod(0.5 + *step * 0.5698402910, 1);
        struct point spot = {box.min_x + x * (box.max_x - box.min_x),
                             box.min_y + y * (box.max_y - box.min_y)};
        ++*step;
        if (region_holds(&roof->outline, spot))
            return spot;
    }
}

static struct fixture *serve(struct roof *roof, struct arena *arena)
{
    static const enum fixture_kind kinds[] = {FIXTURE_DRAIN, FIXTURE_DRAIN, FIXTURE_UNIT,
                                              FIXTURE_HATCH, FIXTURE_PIPE};
    const size_t count = sizeof kinds / sizeof kinds[0];
    int step = 1000;
    struct fixture *fixtures = arena_array(arena, count, sizeof *fixtures);
    for (size_t i = 0; i < count; i++)
        fixtures[i] = (struct fixture){.kind = kinds[i],
                                       .id = "invented",
                                       .at = next_spot(roof, &step),
                                       .width = NAN,
                                       .length = NAN,
                                       .height = NAN};
    roof->fixture_count = count;
    return fixtures;
}

/* ---- Their surveys ---- */

static void add_place(struct site_survey *survey, enum survey_task task, int number,
                      int *step)
{
    struct survey_place *spot = &survey->places[survey->place_count];
    *spot = (struct survey_place){.task = task, .placed = task != TASK_SURROUNDINGS};
    snprintf(spot->name, sizeof spot->name, "%c%d", survey_task_letter(task),
             number % 1000);
    if (spot->placed)
        spot->at = next_spot(survey->roof, step);
    spot->at_edge = spot->placed && to_edge(survey->roof, spot->at) < EDGE_CLEAR;
    for (int k = 0; k < ASKED; k++)
        if (asked[k].task == task)
            survey->entries[survey->entry_count++] = (struct survey_entry){
                survey->place_count, asked[k].kind, asked[k].why, k % 3 == 0, 0, 0};
    survey->place_count++;
}

static struct site_survey survey_of(const struct sample *sample, const struct roof *roof,
                                    struct arena *arena)
{
    struct site_survey survey = {.roof = roof};
    int step = 0;
    survey.places = arena_array(arena, PLACES_MOST, sizeof *survey.places);
    survey.entries = arena_array(arena, PLACES_MOST * 4, sizeof *survey.entries);
    for (int task = 0; task < SURVEY_TASKS; task++)
        for (int i = 1; i <= sample->places[task]; i++)
            add_place(&survey, (enum survey_task)task, i, &step);
    return survey;
}

static void print(const struct site_survey *survey)
{
    for (size_t i = 0; i < survey->place_count; i++) {
        const struct survey_place *spot = &survey->places[i];
        int entries = 0;
        for (size_t k = 0; k < survey->entry_count; k++)
            entries += survey->entries[k].place == i;
        printf("%s %s %d %s %s %d %.3f %.3f\n", survey->roof->id, spot->name,
               (int)spot->task, spot->placed ? "placed" : "unplaced",
               spot->at_edge ? "edge" : "inside", entries, spot->at.x, spot->at.y);
    }
}

/* ---- The run ---- */

/* Samples from first on that are one building. */
static int building_size(int first)
{
    int count = 1;
    while (samples[first].building && first + count < SAMPLES &&
           samples[first + count].building &&
           strcmp(samples[first].building, samples[first + count].building) == 0)
        count++;
    return count;
}

static enum outlay_status add_building(struct site_sheets *sheets, int first,
                                       struct settings *settings,
                                       struct outlay_error *err)
{
    struct geo_ctx *ctx = NULL;
    struct arena *arena = arena_new();
    size_t count = (size_t)building_size(first);
    struct roof *roofs = arena_array(arena, count, sizeof *roofs);
    struct building building = {.arena = arena,
                                .name = samples[first].building,
                                .roofs = roofs,
                                .roof_count = count};
    for (size_t i = 0; i < count; i++)
        place(&samples[first + (int)i], &roofs[i], arena);
    enum outlay_status status = geo_ctx_new(&ctx, err);
    if (status == OUTLAY_OK)
        status = stages_run(&building, settings, true, ctx, err);
    for (size_t i = 0; status == OUTLAY_OK && i < count; i++) {
        const struct sample *sample = &samples[first + (int)i];
        if (sample->served)
            roofs[i].fixtures = serve(&roofs[i], arena);
        struct site_survey survey = survey_of(sample, &roofs[i], arena);
        print(&survey);
        status = site_sheets_add(sheets, &building, &survey, err);
    }
    geo_ctx_free(ctx);
    arena_free(arena);
    return status;
}

static enum outlay_status draw(const char *path, const char *paper,
                               struct settings *settings, struct outlay_error *err)
{
    struct survey_rules rules = {rule_rows, 1};
    struct site_sheet_settings sheet = {
        .write = &settings->write,
        .rules = &rules,
        .paper = strcmp(paper, "letter") == 0 ? SITE_PAPER_LETTER
                 : strcmp(paper, "a4") == 0   ? SITE_PAPER_A4
                                              : SITE_PAPER_OF_UNITS,
        .overwrite = true};
    struct site_sheets *sheets = NULL;
    enum outlay_status status = site_sheets_open(path, &sheet, &sheets, err);
    for (int i = 0; status == OUTLAY_OK && i < SAMPLES; i += building_size(i))
        status = add_building(sheets, i, settings, err);
    if (status == OUTLAY_OK)
        status = site_sheets_finish(sheets, "made up", err);
    if (status == OUTLAY_OK)
        return site_sheets_commit(sheets, err);
    site_sheets_abort(sheets);
    return status;
}

int main(int argc, char **argv)
{
    struct settings settings;
    struct outlay_error err = {0};
    if (argc != 4) {
        fputs("usage: draw_site_sheets FILE.pdf us|si units|letter|a4\n", stderr);
        return 2;
    }
    settings_init(&settings);
    settings.unit_system = strcmp(argv[2], "si") == 0 ? UNITS_SI : UNITS_US;
    enum outlay_status status = settings_resolve(&settings, &err);
    if (status == OUTLAY_OK)
        status = draw(argv[1], argv[3], &settings, &err);
    settings_release(&settings);
    if (status != OUTLAY_OK)
        fprintf(stderr, "%s\n", err.what);
    return status == OUTLAY_OK ? 0 : 1;
}
