/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every page of the papers draws on: the design's alternatives computed once. */
#pragma once

#include "care/care.h"
#include "fit/fit.h"
#include "proposal/proposal.h"
#include "proposal/scale.h"
#include "proposal/words.h"
#include "takeoff/estimate.h"

typedef struct
{
  const BlAlternative *alternative; /* borrowed from the model */
  BlLayout *layout;
  BlTakeoff *takeoff;
  BlEstimate *estimate;
  BlFit *fit;
  BlCare *care;
  double best_month;    /* middle of the month with the most in flower */
  guint bloom_months;   /* bit set, bit 1 = January */
  double evergreen;     /* share of plants that keep their leaves */
} BlBookPart;

typedef struct
{
  BlPress *press;
  BlModel *model;
  const BlProposalOptions *options;
  const char *language;
  BlImage *image;       /* NULL: no photo, or no camera: pictures are plans */
  GBytes *jpeg;         /* for paper */
  int jpeg_width, jpeg_height;
  BlFigureCache *cache;
  GArray *parts;        /* BlBookPart */
} BlBook;

/* Shows the years since planting at which a bed looks itself. */
#define BL_BOOK_YEARS 3.0

BlBook *bl_book_new (BlModel *model, GBytes *photo, const BlProposalOptions *options,
                     GError **error);
void bl_book_free (BlBook *book);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlBook, bl_book_free)
/* Opens @path for the pages. */
gboolean bl_book_open (BlBook *book, const char *path, const char *title, GError **error);

#define BL_W(book, text) bl_word ((book)->language, (text))
#define bl_book_part(book, i) (&g_array_index ((book)->parts, BlBookPart, (i)))

/* The scene of a part on the photo (or plan without one) filling @box; keeps the aspect, cuts
 * what overhangs. @before: the photo alone. */
void bl_book_picture (BlBook *book, const BlBookPart *part, BlMoment moment, gboolean before,
                      BlRect box);
/* The plan to scale centred in @box, scale text and bar below it; returns the scale. */
BlScale bl_book_plan (BlBook *book, const BlBookPart *part, BlMoment moment, BlRect box,
                      guint scene_options);
/* Height of the photo (or plan) at @width, points. */
double bl_book_picture_height (const BlBook *book, double width);
char *bl_book_money (const BlBook *book, gint64 minor);
/* Key letters of a plant in a part, as on the plan. (transfer full) */
char *bl_book_key (const BlBookPart *part, const char *slug);
/* Escaped text for markup. */
char *bl_book_escape (const char *text);

/* Pages. */
void bl_page_cover (BlBook *book);
void bl_page_place (BlBook *book);
void bl_page_alternative (BlBook *book, const BlBookPart *part);
void bl_page_seasons (BlBook *book);
void bl_page_compare (BlBook *book);
void bl_page_schedule (BlBook *book, const BlBookPart *part);
void bl_page_estimate (BlBook *book);
void bl_page_care (BlBook *book, const BlBookPart *part);
void bl_page_cautions (BlBook *book);
