/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every page of the papers draws on: the design's alternatives computed once. */
#pragma once

#include "care/care.h"
#include "fit/fit.h"
#include "proposal/mark.h"
#include "proposal/proposal.h"
#include "proposal/scale.h"
#include "proposal/months.h"
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
  const char *designer; /* may be NULL */
  BlMark *mark;         /* may be NULL */
  BlImage *image;       /* NULL: no photo, or no camera: pictures are plans */
  BlFigureCache *cache;
  GArray *parts;        /* BlBookPart */
  GArray *contents;     /* BlPressMark of the counting run; NULL during it */
  int n_pages;          /* of the counting run */
} BlBook;

/* Shows the years since planting at which a bed looks itself. */
#define BL_BOOK_YEARS 3.0

BlBook *bl_book_new (BlModel *model, GBytes *photo, const BlProposalOptions *options,
                     GError **error);
void bl_book_free (BlBook *book);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlBook, bl_book_free)
typedef gboolean (*BlBookSet) (BlBook *book, GError **error);
/* Opens @path for the pages; NULL = only to count them. */
gboolean bl_book_open (BlBook *book, const char *path, const char *title, GError **error);
/* Sets the pages twice: to count them, and into @path. */
gboolean bl_book_print (BlBook *book, const char *path, const char *title, BlBookSet set,
                        GError **error);

/* The words in the papers' language. */
#define BL_W(book, text) bl_say ((book)->language, (text))
#define bl_book_part(book, i) (&g_array_index ((book)->parts, BlBookPart, (i)))

/* The scene of a part on the photo (or plan without one) filling @box; keeps the aspect, cuts
 * what overhangs. */
void bl_book_picture (BlBook *book, const BlBookPart *part, BlMoment moment, BlRect box);
/* As small as @box may be, the beds fill it: small pictures among others. */
void bl_book_picture_close (BlBook *book, const BlBookPart *part, BlMoment moment, BlRect box);
/* An image surface into @box as a JPEG. */
void bl_book_place_pixels (BlBook *book, cairo_surface_t *surface, BlRect box);
/* The photo alone. */
void bl_book_picture_before (BlBook *book, const BlBookPart *part, BlRect box);
/* Something named on a plan. */
typedef struct
{
  BlPoint at;        /* plan, metres */
  char text[8];      /* "A", "3" */
  gboolean square;   /* in a square, for points to tape from; else in a disc */
} BlPlanMark;

typedef struct
{
  guint scene;           /* BlSceneOptions */
  BlMoment moment;
  BlRect window;         /* plan metres that must be seen; empty = the beds */
  const GArray *marks;   /* BlPlanMark; may be NULL */
  const GArray *spots;   /* BlPlanMark: corners, a cross and a name each; may be NULL */
  const GPtrArray *lines; /* BlPoints: outlines, dashed; may be NULL */
  GHashTable *numbers;   /* index in the layout + 1 -> text beside the plant; may be NULL */
  gboolean dimensions;   /* length and width of the bed along the edges */
  gboolean plain;        /* white paper under it */
  gboolean bleed;        /* painted from edge to edge of the sheet */
} BlPlanSetup;

/* The plan to the largest usual scale that fits @box, scale text and bar below it. */
BlScale bl_book_plan (BlBook *book, const BlBookPart *part, BlRect box, const BlPlanSetup *setup);
/* The scale that bl_book_plan() takes. */
BlScale bl_book_plan_scale (const BlBook *book, BlRect box, const BlPlanSetup *setup);
/* What of the ground it shows, metres. */
BlRect bl_book_plan_seen (const BlBook *book, BlRect box, const BlPlanSetup *setup);
/* The plan as large as fits, to no scale and without its bar: a small picture among others. */
void bl_book_plan_sketch (BlBook *book, const BlBookPart *part, BlMoment moment, BlRect box,
                          gboolean bare);
/* The beds with @margin metres around. */
BlRect bl_book_beds (const BlModel *model, double margin);
/* Numbers for the features on the plan, placed apart; their names in @names (element-type utf8). */
GArray *bl_book_feature_marks (const BlBook *book, BlRect seen, GPtrArray *names);
/* "1/4″ = 1′-0″" */
char *bl_book_scale_text (BlScale scale);
/* Height of the photo (or plan) at @width, points. */
double bl_book_picture_height (const BlBook *book, double width);
char *bl_book_money (const BlBook *book, gint64 minor);
/* "25 November 2026", "25 de noviembre de 2026". */
char *bl_book_date (const BlBook *book, BlDay day);
/* The common name in the papers' language, else in English. */
const char *bl_book_common (const BlBook *book, const BlPlant *plant);
/* Key letters of a plant in a part, as on the plan. (transfer full) */
char *bl_book_key (const BlBookPart *part, const char *slug);
/* Escaped text for markup. */
char *bl_book_escape (const char *text);

/* The year's ribbons at the cursor, @row points a kind; and the height they take. */
void bl_book_year (BlBook *book, const BlBookPart *part, double row);
double bl_book_year_height (const BlBookPart *part, double row);
/* Twelve small boxes, those of the months in flower filled; 18 points high. */
void bl_book_year_strip (BlBook *book, const BlBookPart *part, double x, double y, double width);

/* What the calendar asks for in a part of the year. */
typedef struct
{
  const BlTask *first;   /* borrowed: the first of the tasks in it, for its dates */
  int from, to;          /* days from 1 January */
  int every_days;
  const char *verb;      /* in the papers' language; the task's */
  gboolean salt, water;
  GPtrArray *objects;    /* utf8: plants with their counts, or beds */
  double hours[5];       /* planting year, 1, 2, 3, each later year */
} BlCareRow;

/* Tasks of the same work joined over plants and years, in the order of the year. (element-type
 * BlCareRow) (transfer full) */
GPtrArray *bl_book_care_rows (const BlBook *book, const BlBookPart *part);
char *bl_book_care_span (const BlBook *book, const BlCareRow *row); /* "10 Mar – 14 Apr" */
char *bl_book_care_markup (const BlBook *book, const BlCareRow *row);
/* What a task is done to: "catmint (11)"; the bed where there are several; else "". (transfer full) */
char *bl_book_task_object (const BlBook *book, const BlTask *task);

/* What a rule of fit says, without the numbers of one plant: a title, and the reason. */
typedef struct
{
  const char *title, *why;
} BlRuleWords;

gboolean bl_book_rule_words (const BlBook *book, const char *rule, BlRuleWords *words);
/* A goods' quantity in the person's units: "1.50", and (out) its unit. */
char *bl_book_quantity (const BlBook *book, double quantity, const char *unit, const char **shown);
/* The worst that is reported of a plant, NULL for no report; and to whom, "" for no report. */
const char *bl_book_harm_word (const BlBook *book, const BlPlant *plant);
char *bl_book_harm (const BlBook *book, const BlPlant *plant);

/* The schedule's table of a part at the cursor. */
void bl_book_schedule (BlBook *book, const BlBookPart *part);

/* Pages. */
void bl_page_cover (BlBook *book);
void bl_page_place (BlBook *book);
void bl_page_alternative (BlBook *book, const BlBookPart *part);
void bl_page_seasons (BlBook *book);
void bl_page_compare (BlBook *book);
void bl_page_schedule (BlBook *book);
void bl_page_estimate (BlBook *book);
void bl_page_care (BlBook *book, const BlBookPart *part);
void bl_page_cautions (BlBook *book);
