/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The care calendar: dated tasks from plants, beds and site, through establishment and after. */
#pragma once

#include "base/say.h"
#include "layout/layout.h"

typedef struct
{
  char *uid;             /* stable for the same design, task and year */
  char *title;           /* "Cut back little bluestem to 10 cm (18)" */
  char *work;            /* what is done, without to what: "Cut back" */
  char *low;             /* " to 10 cm"; "" where nothing is cut to a height */
  guint count;           /* plants it is done to; 0 = not counted */
  gboolean salt;         /* only where salt and ploughed snow come */
  char *what;            /* one or two sentences: how, and why then */
  const char *kind;      /* static: "water", "prune", "cut-back", "weed", "mulch", "divide", ... */
  BlDay from, to;        /* the window; to >= from */
  int year;              /* 0 = planting year, 1-3, 4 = every year from then on */
  gboolean yearly;       /* recurs every year from @from on */
  int every_days;        /* repeats within the window; 0 = once */
  double hours;          /* per time */
  gboolean invented;     /* the hours rest on a rate that is not the firm's own yet */
  gint64 bed_id;         /* 0 = all */
  char *slug;            /* NULL = not about one plant */
  int visit;             /* tasks of one visit share a number */
  gboolean done, moved, own;
} BlTask;

typedef struct
{
  GArray *tasks;         /* BlTask, by date */
  double hours_first_year, hours_later; /* per year */
  int visits_first_year;
  gboolean any_invented; /* hours of some task */
} BlCare;

/* @today: used for the planting day when the design has none (then @assumed is told in the
 * tasks). Dates follow the site's frost dates; without them a zone's usual ones, said so. @language is
 * that of titles and sentences (base/say.h), NULL = English. */
BlCare *bl_care_compute (const BlLayout *layout, BlDay today, const char *language);
void bl_care_free (BlCare *care);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlCare, bl_care_free)
/* The days on which @task falls from @first to @last: once on @from, every @every_days to @to, and so
 * again in each later year when it is yearly. Returns: (transfer full) (element-type BlDay). */
GArray *bl_task_days (const BlTask *task, BlDay first, BlDay last);
/* The last spring frost and first autumn frost that the calendar counts from: the site's, or the
 * usual ones of its zone (@assumed set): 28 April and 14 October in zone 6, fifteen and ten days a
 * zone, half a year on in the south (common practice). */
void bl_care_frosts (const BlSite *site, BlMonthDay *last, BlMonthDay *first, gboolean *assumed);
/* iCalendar (RFC 5545). @stamp: UTC "20261125T120000Z" for DTSTAMP. */
char *bl_care_to_ics (const BlCare *care, const BlModel *model, const char *stamp);
char *bl_care_to_csv (const BlCare *care, const BlModel *model);
