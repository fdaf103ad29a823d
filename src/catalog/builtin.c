/* The built-in table: assemblies.csv, turned into bytes by embed.cmake. */

#include "catalog/catalog.h"

const char catalog_assemblies_csv[] = {
#include "catalog/assemblies_csv.inc"
    0,
};
