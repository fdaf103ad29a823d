#ifndef OUTLAY_READ_SPOOL_H
#define OUTLAY_READ_SPOOL_H

/**
 * @file read/spool.h
 * Roofs put aside on disk: a building's roofs may be scattered over the input, and a
 * million outlines don't fit in memory.
 *
 *     spool_open(&spool, err);
 *     for each roof: spool_append(spool, &roof, &offset, err);
 *     spool_flush(spool, err);
 *     for each wanted offset: spool_read(spool, offset, arena, &roof, err);
 *     spool_close(spool);
 *
 * The file is unlinked as soon as it is made, so nothing is left behind however the run
 * ends. Only this process can read it.
 *
 * Threads: one thread appends; after spool_flush(), and while nothing is appended, any
 * number of threads may read.
 */

#include <stdint.h>

#include "base/arena.h"
#include "outlay/status.h"
#include "roof/roof.h"

struct spool;

/** Makes the file in $TMPDIR, or /tmp. @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY */
enum outlay_status spool_open(struct spool **out,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Puts aside all that reader_next() fills: position, id, name, building, properties,
 * given, samples, lonlat, problems. The other facets aren't kept.
 * @param[out] offset  where spool_read() finds it.
 * @return OUTLAY_E_OUTPUT when the disk is full, naming TMPDIR; OUTLAY_E_MEMORY
 */
enum outlay_status spool_append(struct spool *spool, const struct roof *roof,
                                uint64_t *offset,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Writes what is still in memory. Needed before reading. @return OUTLAY_E_OUTPUT */
enum outlay_status spool_flush(struct spool *spool,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Brings a roof back, all of it in arena; what isn't kept is as reader_next() leaves it.
 * @param offset  one that spool_append() gave and spool_flush() has written.
 * @return OUTLAY_E_INPUT when the file can't be read, OUTLAY_E_MEMORY
 */
enum outlay_status spool_read(const struct spool *spool, uint64_t offset,
                              struct arena *arena, struct roof *roof,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Bytes put aside so far. */
uint64_t spool_size(const struct spool *spool);

/** Gives the disk space back. NULL is ignored. */
void spool_close(struct spool *spool);

#endif
