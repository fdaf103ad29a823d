/* A stream of GeoJSON texts: any bytes. */

#include "fuzz.h"

#include <math.h>

#include <json-c/json.h>

#include "read/read.h"

/* The properties must be members of a JSON object, since they are written into one. */
static void expect_members(const char *members)
{
    struct text object = TEXT_INIT;
    struct json_tokener *parser = json_tokener_new_ex(200);
    struct json_object *tree;

    text_printf(&object, "{%s}", members);
    FUZZ_EXPECT(!object.failed && parser);
    json_tokener_set_flags(parser, JSON_TOKENER_STRICT | JSON_TOKENER_VALIDATE_UTF8);
    tree = json_tokener_parse_ex(parser, object.data, (int)object.length);
    FUZZ_EXPECT(json_tokener_get_error(parser) == json_tokener_success);
    json_object_put(tree);
    json_tokener_free(parser);
    text_release(&object);
}

static void expect_roof(const struct roof *roof, size_t position)
{
    bool left_out = false;

    FUZZ_EXPECT(roof->position == position);
    FUZZ_EXPECT(roof->id && roof->id[0]);
    expect_members(roof->properties);
    for (const struct problem *p = roof->problems; p; p = p->next)
        left_out |= problem_severity(p->code) == SEVERITY_ERROR &&
                    p->code != PROBLEM_HEIGHT_ABSURD;
    FUZZ_EXPECT(left_out == (roof->lonlat.polygon_count == 0));
    for (size_t i = 0; i < roof->lonlat.polygon_count; i++) {
        FUZZ_EXPECT(roof->lonlat.polygons[i].ring_count > 0);
        for (size_t j = 0; j < roof->lonlat.polygons[i].ring_count; j++) {
            struct ring ring = roof->lonlat.polygons[i].rings[j];

            FUZZ_EXPECT(ring.count >= 3);
            for (size_t k = 0; k < ring.count; k++)
                FUZZ_EXPECT(fabs(ring.points[k].x) <= 360 &&
                            fabs(ring.points[k].y) <= 90);
        }
    }
    FUZZ_EXPECT(isnan(roof->given.height) ||
                (roof->given.height >= 1 && roof->given.height <= 1000));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct read_settings settings = {.input = "-"};
    enum outlay_status status;
    struct outlay_error err = {0};
    struct arena *arena = arena_new();
    struct reader *reader = NULL;
    struct roof roof;
    size_t roofs = 0;
    bool end = false;

    if (size == 0 || !arena) {
        arena_free(arena);
        return 0;
    }
    settings.stream = fmemopen((void *)(uintptr_t)data, size, "r");
    FUZZ_EXPECT(settings.stream);
    status = reader_open(&settings, &reader, &err);
    FUZZ_EXPECT(status == OUTLAY_OK);
    while (status == OUTLAY_OK && !end) {
        arena_reset(arena);
        status = reader_next(reader, arena, &roof, &end, &err);
        if (status == OUTLAY_OK && !end)
            expect_roof(&roof, roofs++);
    }
    FUZZ_EXPECT(status == OUTLAY_OK || (err.what[0] && err.where[0]));
    FUZZ_EXPECT(status == OUTLAY_OK || status == OUTLAY_E_INPUT ||
                status == OUTLAY_E_USAGE);
    reader_close(reader);
    fclose(settings.stream);
    arena_free(arena);
    return 0;
}
