/* Sources of samples: the first byte is the role, the rest what stands behind the =. */

#include "fuzz.h"

#include <string.h>

#include "sample/source.h"

static void expect_whole(const struct sample_source *source)
{
    FUZZ_EXPECT(source->path && *source->path && source->word && source->field.unit);
    FUZZ_EXPECT(source->percent >= 0 && source->percent <= 100);
    FUZZ_EXPECT(source->column ? *source->column && !source->minus : *source->word != 0);
    FUZZ_EXPECT(!source->minus || *source->minus);
    FUZZ_EXPECT(!source->ring || source->minus);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct arena *arena = arena_new();
    char *text = malloc(size + 1);
    struct outlay_error err = {.status = OUTLAY_OK};
    struct sample_source source;

    if (arena && text && size > 0) {
        enum field_role role = (enum field_role)(data[0] % FIELD_ROLES);

        memcpy(text, data + 1, size - 1);
        text[size - 1] = '\0';
        if (sample_source_parse(role, text, arena, &source, &err) == OUTLAY_OK)
            expect_whole(&source);
        else
            FUZZ_EXPECT(err.what[0] && err.where[0] && err.todo[0]);
    }
    free(text);
    arena_free(arena);
    return 0;
}
