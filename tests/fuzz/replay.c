/* Runs the fuzz target once on each file that is named. */

#include "fuzz.h"

static int replay(const char *path)
{
    FILE *file = fopen(path, "rb");
    uint8_t *data = malloc(1 << 20);
    size_t size;

    if (!file || !data) {
        fprintf(stderr, "%s: can't be read\n", path);
        return 1;
    }
    size = fread(data, 1, 1 << 20, file);
    fclose(file);
    /* as much memory as there are bytes, so that a sanitizer sees a read behind them */
    uint8_t *exact = malloc(size ? size : 1);
    if (!exact)
        return 1;
    for (size_t i = 0; i < size; i++)
        exact[i] = data[i];
    free(data);
    LLVMFuzzerTestOneInput(exact, size);
    free(exact);
    return 0;
}

int main(int argc, char **argv)
{
    int failed = argc < 2;

    for (int i = 1; i < argc; i++)
        failed |= replay(argv[i]);
    printf("%d inputs\n", argc - 1);
    return failed;
}
