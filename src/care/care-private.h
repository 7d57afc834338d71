/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the parts of the calendar share: the anchors of a season, and the making of tasks. */
#pragma once

#include "care/care.h"

#define BL_WEEK 7

/* One growing season: spring frost, the autumn frost after it, and the day that stands for 1
 * January in the seasons of the north. */
typedef struct
{
  int number;        /* 0 = planting year ... 3, 4 = every year from then on */
  BlDay origin;
  BlDay last_frost, first_frost;
} BlCareSeason;

/* A kind over all its places. */
typedef struct
{
  BlPlant *plant;
  guint count, exposed; /* and how many of them get salt or ploughed snow */
  gint64 bed_id;     /* 0 when in several beds */
} BlCareKind;

typedef struct
{
  BlCare *care;
  const BlModel *model;
  const BlLayout *layout;
  const char *language; /* of what is said; NULL = English */
  GArray *kinds;     /* BlCareKind */
  BlDay planting;
  gboolean planting_assumed, frosts_assumed;
  BlZone zone;       /* for the months */
} BlCareContext;

/* What a task is about and when; the rest is filled in. @from and @to are signed so that a window
 * may be reckoned before it is clipped to the planting day. */
typedef struct
{
  const char *kind;
  const BlCareKind *about;  /* NULL = not about one plant */
  gint64 bed_id;
  const char *detail;       /* tells tasks of one kind, plant and bed apart; may be NULL */
  BlDay from, to;
  int every_days;
  const char *rate;         /* production rate: a key of the price book */
  double units;             /* of its unit, each time */
  gboolean once;            /* not repeated every year even from the fourth year on */
  const char *verb;         /* how the title begins, in English: "Cut back" */
  const char *low;          /* " to 10 cm"; may be NULL */
  guint count;
  gboolean salt;
} BlCareDraft;

/* Adds the task unless it ends before the planting day; its title is the verb and what the task is
 * about: the plant, or @object when that is not NULL. @what is taken. */
void bl_care_add_take (BlCareContext *context, const BlCareSeason *season, const BlCareDraft *draft,
                       const char *object, char *what);
#define bl_care_say(context, english) bl_say ((context)->language, (english))

/* Titles: "Cut back catmint (11), salt and snow side". (transfer full) */
char *bl_care_title (const BlCareContext *context, const BlCareDraft *draft, const char *object);
/* The work of a verb as papers head it, in English: "Comb out" for "Comb". */
const char *bl_care_work (const char *verb);

/* A moment of a record's year (1.0 = beginning of January in the north) in this season. */
BlDay bl_care_moment (const BlCareSeason *season, double month);
/* First and last day of flower here; FALSE when there is none. */
gboolean bl_care_bloom (const BlCareContext *context, const BlCareSeason *season, const BlPlant *plant,
                        BlDay *first, BlDay *last);

void bl_care_plants (BlCareContext *context, const BlCareSeason *season);
void bl_care_beds (BlCareContext *context, const BlCareSeason *season);
void bl_care_water (BlCareContext *context, const BlCareSeason *season);
/* Numbers the visits and adds up the hours. */
void bl_care_visits (BlCare *care, BlDay planting);

/* Hours for @units of work at the rate of the design's price book or, where it has none of this
 * key, the starting one; @invented: the rate is not the firm's own. */
double bl_care_hours (const BlModel *model, const char *key, double units, gboolean *invented);
