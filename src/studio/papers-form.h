/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the person wants the papers: paper, language, units, pages, their own name and mark. */
#pragma once

#include <gtk/gtk.h>

#include "proposal/proposal.h"
#include "studio/settings.h"

/* As kept in the settings, ready to be handed to another thread. */
typedef struct
{
  BlPaperSize paper;
  char *language, *units; /* NULL = the design's */
  char *designer;         /* NULL = none */
  BlProposalPages pages;  /* 0 = all */
  BlSetoutWays setout;
  gboolean detailed;
  GBytes *mark;           /* NULL = none */
} BlPapersWishes;

/* Fails when the mark that was kept can't be read any more. */
BlPapersWishes *bl_papers_wishes_new (BlSettings *settings, GError **error);
void bl_papers_wishes_free (BlPapersWishes *wishes);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlPapersWishes, bl_papers_wishes_free)

/* Keeps a copy of the picture at @path as the person's mark; NULL forgets it. Refuses what
 * bl_mark_read() refuses. */
gboolean bl_papers_keep_mark (BlSettings *settings, const char *path, GError **error);
/* Fields that keep each wish as it is given. */
GtkWidget *bl_papers_form_new (BlSettings *settings);
