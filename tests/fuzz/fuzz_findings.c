/* What people fill in: any bytes as findings, and as both tables of closings. */

#include "fuzz.h"

#include <math.h>

#include <cpl_vsi.h>

#include "findings/closings.h"
#include "findings/findings.h"

static void put(const char *path, const uint8_t *data, size_t size)
{
    VSILFILE *file = VSIFOpenL(path, "wb");

    FUZZ_EXPECT(file && VSIFWriteL(data, 1, size, file) == size);
    VSIFCloseL(file);
}

/* A finding that counts is whole, but for a pull-out test without a value. */
static void expect_finding(const struct finding *finding)
{
    bool lost = finding->kind == FINDING_PULLOUT && isnan(finding->value);

    FUZZ_EXPECT(finding->kind < FINDING_KINDS && finding->where);
    FUZZ_EXPECT(finding->roof && finding->place && finding->who && finding->when);
    FUZZ_EXPECT(lost || (finding->text && *finding->who && finding->when[4] == '-'));
    FUZZ_EXPECT(*finding->roof || isfinite(finding->at.x));
}

static void read_findings(const char *path)
{
    struct findings *findings = NULL;
    struct outlay_error err = {0};
    enum outlay_status status = findings_open(path, &findings, &err);
    struct arena *arena = arena_new();
    struct roof roof = {.id = "7", .given = attributes_missing()};

    FUZZ_EXPECT(arena && (status == OUTLAY_OK || (err.what[0] && err.where[0])));
    for (size_t i = 0; status == OUTLAY_OK && i < findings->count; i++)
        expect_finding(findings->by_roof[i]);
    if (status == OUTLAY_OK)
        FUZZ_EXPECT(findings_apply(arena, &roof, findings) == OUTLAY_OK);
    arena_free(arena);
    findings_close(findings);
}

static void read_closings(const char *path)
{
    for (int kind = CLOSING_DECISION; kind <= CLOSING_CONFIRMATION; kind++) {
        struct arena *arena = arena_new();
        struct closing_list list = {0};
        struct outlay_error err = {0};
        enum outlay_status status =
            closings_read(arena, (enum closing_kind)kind, path, &list, &err);

        FUZZ_EXPECT(status == OUTLAY_OK || (err.what[0] && err.where[0]));
        for (size_t i = 0; status == OUTLAY_OK && i < list.count; i++)
            FUZZ_EXPECT(list.rows[i].by && list.rows[i].what < ASSUMPTIONS);
        arena_free(arena);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const char table[] = "/vsimem/form.csv", layer[] = "/vsimem/form.geojson";

    put(table, data, size);
    read_findings(table);
    read_closings(table);
    VSIUnlink(table);
    put(layer, data, size);
    read_findings(layer);
    VSIUnlink(layer);
    return 0;
}
