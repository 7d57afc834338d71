/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The papers: the client's proposal, the crew pack, the owner's care sheet. */
#pragma once

#include "draw/scene.h"
#include "plants/library.h"
#include "proposal/press.h"

typedef enum
{
  BL_PAGE_COVER = 1 << 0,
  BL_PAGE_PLACE = 1 << 1,        /* the place and what was found */
  BL_PAGE_ALTERNATIVES = 1 << 2,
  BL_PAGE_SEASONS = 1 << 3,      /* four months at three ages */
  BL_PAGE_COMPARE = 1 << 4,
  BL_PAGE_SCHEDULE = 1 << 5,
  BL_PAGE_ESTIMATE = 1 << 6,
  BL_PAGE_CARE = 1 << 7,
  BL_PAGE_CAUTIONS = 1 << 8,
  BL_PAGE_ALL = (1 << 9) - 1
} BlProposalPages;

/* "cover", "place", "alternatives", "seasons", "compare", "schedule", "estimate", "care", "cautions"; 0
 * for anything else. */
BlProposalPages bl_proposal_page_named (const char *name);

typedef enum
{
  BL_SETOUT_TAPES = 1 << 0,   /* by two tapes */
  BL_SETOUT_OFFSETS = 1 << 1  /* by offsets from a baseline */
} BlSetoutWays;

typedef struct
{
  BlPaperSize paper;
  const char *language;        /* "en" or "es"; NULL = the design's */
  BlProposalPages pages;       /* 0 = all */
  const gint64 *alternatives;  /* ids; NULL = the first three */
  guint n_alternatives;
  const char *units;           /* "ft" or "m"; NULL = the design's */
  BlSetoutWays setout;         /* of the crew pack; 0 = by tapes */
  gboolean detailed;           /* every line of the estimate, else its sections */
  BlDay today;                 /* date on the papers */
  BlLibrary *library;          /* lends substitutes to the cautions; may be NULL */
  GCancellable *cancellable;
  void (*progress) (double share, gpointer data);
  gpointer progress_data;
  const char *designer;        /* said where the design names none; may be NULL */
  GBytes *mark;                /* the designer's mark for the cover, see bl_mark_read(); may be NULL */
  GArray *boxes;               /* for tests: filled with BlPressBox; may be NULL */
} BlProposalOptions;

/* @photo: the design's photo bytes or NULL. Any thread; @model is not changed. */
gboolean bl_proposal_write (BlModel *model, GBytes *photo, const char *path,
                            const BlProposalOptions *options, GError **error);
/* The first of @options' alternatives only. */
gboolean bl_crew_write (BlModel *model, GBytes *photo, const char *path,
                        const BlProposalOptions *options, GError **error);
/* One page with the plan to a true scale and the key of its plants: .pdf or .svg by the name. The first
 * of @options' alternatives only. */
gboolean bl_plan_write (BlModel *model, const char *path, const BlProposalOptions *options,
                        GError **error);
/* One page in large type for the owner. */
gboolean bl_care_sheet_write (BlModel *model, const char *path, const BlProposalOptions *options,
                              GError **error);
/* Today and as proposed at the best month, side by side with captions, @width pixels wide: .png or
 * .jpg by the name. Fails without a photo or camera. */
gboolean bl_before_after_write (BlModel *model, GBytes *photo, const char *path, int width,
                                const BlProposalOptions *options, GError **error);
