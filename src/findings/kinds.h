#ifndef OUTLAY_FINDINGS_KINDS_H
#define OUTLAY_FINDINGS_KINDS_H

/** @file findings/kinds.h  What a finding has to do with the outline's columns. */

#include "read/read.h"
#include "roof/finding.h"

/** The role of the same name, whose values, units and range it has; -1: none. */
int finding_role(enum finding_kind kind);

#endif
