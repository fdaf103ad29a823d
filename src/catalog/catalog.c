#include "catalog/catalog.h"

#include "catalog/assemblies.h"
#include "catalog/table.h"

/* path NULL: the built-in table. */
static enum outlay_status load(const char *path, struct catalog *out,
                               struct outlay_error *err)
{
    struct catalog catalog = {arena_new(), NULL, 0, path == NULL};
    struct table table;
    enum outlay_status status;

    *out = (struct catalog){NULL, NULL, 0, false};
    if (!catalog.arena)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading the catalogue");
    if (path)
        status = table_read(catalog.arena, path, &table, err);
    else
        status = table_parse(catalog.arena, "assemblies.csv", catalog_assemblies_csv,
                             &table, err);
    if (status == OUTLAY_OK)
        status = assemblies_read(&table, &catalog, err);
    if (status != OUTLAY_OK) {
        catalog_release(&catalog);
        return status;
    }
    *out = catalog;
    return OUTLAY_OK;
}

enum outlay_status catalog_builtin(struct catalog *out, struct outlay_error *err)
{
    return load(NULL, out, err);
}

enum outlay_status catalog_load(const char *path, struct catalog *out,
                                struct outlay_error *err)
{
    return load(path, out, err);
}

void catalog_release(struct catalog *catalog)
{
    arena_free(catalog->arena);
    *catalog = (struct catalog){NULL, NULL, 0, false};
}
