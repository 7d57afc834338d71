/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Giving: the papers, pictures and lists, written on another thread. */
#pragma once

#include "studio/board.h"
#include "studio/papers-form.h"

typedef enum
{
  BL_GIVE_PROPOSAL,
  BL_GIVE_PICTURE,
  BL_GIVE_BEFORE_AFTER,
  BL_GIVE_MONTHS, /* a folder of pictures, as is the next */
  BL_GIVE_YEARS,
  BL_GIVE_PLAN,
  BL_GIVE_CREW,
  BL_GIVE_CARE_SHEET,
  BL_GIVE_CALENDAR,
  BL_GIVE_ORDER,
  BL_GIVE_REQUEST,
  BL_GIVE_SHEET,
  BL_GIVE_N
} BlGiveKind;

/* @ids: (element-type gint64): the alternatives that go into the proposal; may be NULL. The shown
 * alternative leads in everything else. @done gets the task's source board; finish with
 * bl_give_finish. @progress: set to 0..1000 while the work goes on. @wishes is taken. */
void
bl_give_async (BlBoard *board,
               BlGiveKind kind,
               const char *path,
               const GArray *ids,
               BlPapersWishes *wishes,
               GCancellable *cancellable,
               int *progress,
               GAsyncReadyCallback done,
               gpointer data);
/* (transfer full): the path that was written; NULL with @error. */
char *bl_give_finish (GAsyncResult *result, GError **error);
/* "Library front strip, proposal.pdf" */
/* After an order list: kinds of plants that are short, or late, at the nursery. */
guint bl_give_n_short (GAsyncResult *result);
char *bl_give_suggest (BlBoard *board, BlGiveKind kind);
const char *bl_give_title (BlGiveKind kind);
/* File patterns that fit, NULL-terminated: "*.pdf"; none for a folder. */
const char *const *bl_give_patterns (BlGiveKind kind);
