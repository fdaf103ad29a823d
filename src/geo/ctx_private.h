#ifndef OUTLAY_GEO_CTX_PRIVATE_H
#define OUTLAY_GEO_CTX_PRIVATE_H

/* Included by the .c files of geo/ and by no other room. */

#include <stdbool.h>

#include <geos_c.h>
#include <proj.h>

#include "geo/frame.h"

struct geo_ctx {
    GEOSContextHandle_t geos; /* this thread's; only the *_r functions are called */
    PJ_CONTEXT *proj;
    PJ *geocentric;        /* longitude, latitude (radians) to earth-centred, m */
    struct arena *scratch; /* reset by the outermost function that uses it */
    char message[200];     /* GEOS's last error, kept by the handler */
    bool out_of_memory;    /* GEOS's or ours for it, ever */
};

#endif
