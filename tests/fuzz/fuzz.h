#ifndef OUTLAY_TESTS_FUZZ_FUZZ_H
#define OUTLAY_TESTS_FUZZ_FUZZ_H

/* A fuzz target feeds bytes to a reader and aborts when a promise of its header is
 * broken. The same file is linked with libFuzzer (tests/fuzz/run) and with replay.c,
 * which makes an ordinary test of the corpus. */

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#define FUZZ_EXPECT(condition)                                              \
    do {                                                                    \
        if (!(condition)) {                                                 \
            fprintf(stderr, "%s:%d: %s\n", __FILE__, __LINE__, #condition); \
            abort();                                                        \
        }                                                                   \
    } while (0)

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#endif
