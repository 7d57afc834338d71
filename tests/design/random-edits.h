/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random edits, and what the design should then be, kept in plain memory. */
#pragma once

#include "yard.h"

/* What one edit did, so that it can be done again elsewhere. */
typedef struct
{
  BlRng rng;
  BlModel *expected; /* a plain model edited by hand beside the design; NULL = not kept */
} RandomEdits;

RandomEdits *random_edits_new (guint64 seed, gboolean keep);
void random_edits_free (RandomEdits *edits);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (RandomEdits, random_edits_free)
/* The first edit, on a design just made: plants, a bed, an alternative. */
gboolean random_edits_first (RandomEdits *edits, BlDesign *design, GError **error);
/* One more edit of one to four random puts and removes. FALSE with @error when the design refused
 * it: with no fault in the system that is a failure of the test. */
gboolean random_edits_next (RandomEdits *edits, BlDesign *design, GError **error);
/* A copy of a plain model, to go back to: what was decided, nothing derived. */
BlModel *random_edits_copy (const BlModel *plain);
