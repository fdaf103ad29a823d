#ifndef OUTLAY_MANUAL_MANUAL_H
#define OUTLAY_MANUAL_MANUAL_H

/**
 * @file manual/manual.h
 * The topics of the manual, compiled in. A topic is a Markdown file of this folder,
 * written so that it reads well as it is on a terminal.
 */

struct manual_topic {
    const char *name;
    const char *help;          /**< one line */
    const unsigned char *text; /**< the whole file, UTF-8, ended by NUL */
};

/** In the order of their names; the last has a NULL name. */
extern const struct manual_topic manual_topics[];

#endif
