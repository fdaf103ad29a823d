/* Layers beside the outlines: a whole file of GeoJSON, read as fixtures and as edges. */

#include "fuzz.h"

#include <math.h>

#include <cpl_vsi.h>

#include "read/marks.h"
#include "roof/fixtures.h"

static void expect_mark(const struct mark *mark, enum mark_layer layer)
{
    const double lengths[] = {mark->width, mark->length, mark->height, mark->thickness};
    size_t least = mark->shape == MARK_POINT ? 1 : mark->shape == MARK_LINE ? 2 : 3;

    FUZZ_EXPECT(mark->kind > 0 && mark->id);
    FUZZ_EXPECT(mark->kind < (layer == MARKS_FIXTURES ? (int)FIXTURE_KINDS : EDGE_KINDS));
    FUZZ_EXPECT((mark->shape == MARK_LINE) == (layer == MARKS_EDGES));
    FUZZ_EXPECT(mark->count >= least);
    for (size_t i = 0; i < mark->count; i++)
        FUZZ_EXPECT(isfinite(mark->points[i].x) && isfinite(mark->points[i].y));
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++)
        FUZZ_EXPECT(isnan(lengths[i]) || (lengths[i] > 0 && lengths[i] <= 300));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const char path[] = "/vsimem/marks.geojson";
    const char *const columns[MARK_ROLES] = {[MARK_FIXTURE_WIDTH] = "W:ft"};

    for (int layer = 0; layer < MARK_LAYERS; layer++) {
        struct marks *marks = NULL;
        struct outlay_error err = {0};
        VSILFILE *file = VSIFOpenL(path, "wb");
        enum outlay_status status;

        FUZZ_EXPECT(file && VSIFWriteL(data, 1, size, file) == size);
        VSIFCloseL(file);
        status = marks_open((enum mark_layer)layer, path, columns, &marks, &err);
        FUZZ_EXPECT((status == OUTLAY_OK) == (marks != NULL));
        FUZZ_EXPECT(status == OUTLAY_OK || (err.what[0] && err.where[0]));
        for (size_t i = 0; marks && i < marks->count; i++)
            expect_mark(&marks->items[i], (enum mark_layer)layer);
        marks_close(marks);
        VSIUnlink(path);
    }
    return 0;
}
