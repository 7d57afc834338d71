/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of the papers share: designs of any content, and readers of the finished PDF. */
#pragma once

#include "base/rng.h"
#include "design/sheet.h"
#include "proposal/proposal.h"

typedef struct
{
  const char *title, *client, *place, *designer, *notes, *idea; /* "" = none */
  const char *alternative_prefix;
  BlUnits units;
  guint n_alternatives, n_kinds;
  double length, depth;  /* of the bed, metres */
  gboolean free_of_charge; /* every price 0 */
  gboolean features;
  const char *fill;      /* slug that fills the bed besides; NULL = none */
} PapersWish;

/* The plant library of the build. */
BlLibrary *papers_library (void);
BlDesign *papers_demo (const char *source_root);
/* A rectangular bed with @wish's plants in it, no photo. */
BlDesign *papers_design (const PapersWish *wish);
/* A file name in a folder of its own. (transfer full) */
char *papers_file (const char *name);
BlProposalOptions papers_options (void);
/* Runs a command and returns what it printed, both streams; aborts when it can't be started. */
char *papers_run (const char *const *argv, int *status);
/* The text of a PDF as it stands on the page, pages @first to @last (0 = all). */
char *papers_text (const char *path, int first, int last);
/* "Pages", "Title" ... of pdfinfo, "" when missing. (transfer full) */
char *papers_info (const char *path, const char *key);

/* A page as grey pixels. */
typedef struct
{
  int width, height;
  guchar *data;
} PapersRaster;

PapersRaster papers_raster (const char *path, int page, int dpi);
#define papers_dark(raster, x, y)                                                                  \
  ((raster)->data[(gsize)(y) * (gsize)(raster)->width + (gsize)(x)] < 128)
