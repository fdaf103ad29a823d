#include "manual/manual.h"

#include <stddef.h>

#include "manual/topics.inc"
