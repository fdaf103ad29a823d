#ifndef OUTLAY_FLOW_DIGEST_H
#define OUTLAY_FLOW_DIGEST_H

/**
 * @file flow/digest.h
 * A fingerprint of what was read: XXH3-128 of ids, fields and outlines in input order.
 * Two runs with the same digest and settings read the same roofs, whatever the driver.
 */

#include "roof/roof.h"

struct digest;

/** @return owned, NULL when out of memory */
struct digest *digest_new(void);

/** Takes up a roof as read. */
void digest_add(struct digest *digest, const struct roof *roof);

/** Puts 32 hexadecimal digits and a NUL down. */
void digest_print(const struct digest *digest, char out[33]);

/** NULL is ignored. */
void digest_free(struct digest *digest);

#endif
