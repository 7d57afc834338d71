/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the rules share: the design's facts prepared once, and the plant that is judged. */
#pragma once

#include "fit/fit.h"
#include "fit/sunlight.h"

/* A feature on the ground as a line or ring that distances are taken to. */
typedef struct
{
  const BlFeature *feature;
  BlPoints *line;
  gboolean closed;
} BlFitFeature;

#define BL_FIT_MAX_RULES 24

typedef struct
{
  const BlModel *model;
  const BlLayout *layout;     /* NULL when a plant is judged before it is placed */
  const char *language;       /* of what is said; NULL = English */
  BlFit *fit;                 /* NULL while candidates for a substitute are tried */
  BlSeverity worst;           /* of the candidate being tried */
  guint count;                /* its findings */
  const char *rules[BL_FIT_MAX_RULES]; /* and which rules spoke */
  gint64 speaking;            /* the planting that the distance just taken belongs to; 0 = all alike */
  GArray *features;           /* BlFitFeature */
  BlShade *shade;             /* NULL until the sun is asked for */
  GHashTable *sun;            /* bed id → double*: hours of sun in the growing season, NAN = not known */
  GArray *subjects;           /* BlFitSubject, one a kind and bed */
  BlZone season;              /* for the months */
} BlFitContext;

/* One kind in one bed at all its places. */
typedef struct
{
  const BlPlant *plant;
  const BlBed *bed;           /* may be NULL */
  gint64 planting_id, bed_id; /* the first of its plantings */
  const BlPoint *points;
  const gint64 *ids;          /* planting of each point; may be NULL */
  guint n_points;
  GArray *owned, *owned_ids;  /* what @points and @ids lie in, when made for this subject */
} BlFitSubject;

BlFitContext *bl_fit_context_new (const BlModel *model, const BlLayout *layout,
                                  const char *language);
void bl_fit_context_free (BlFitContext *context);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlFitContext, bl_fit_context_free)

/* Adds a finding about @subject (NULL: about the whole alternative). @source and @format are said in the
 * context's language; what is put in is already. */
void bl_fit_add (BlFitContext *context, const BlFitSubject *subject, const char *rule,
                 BlSeverity severity, const char *source, const char *format, ...)
  G_GNUC_PRINTF (6, 7);
/* A finding about a bed as a whole; @bed_id 0 = about the alternative. */
void bl_fit_add_bed (BlFitContext *context, gint64 bed_id, const char *rule, BlSeverity severity,
                     const char *source, const char *format, ...) G_GNUC_PRINTF (6, 7);

/* Distance from @p to the feature, metres; 0 inside a closed one. */
double bl_fit_distance (const BlFitFeature *feature, BlPoint p);
/* The nearest of the subject's places to any feature of @kind; INFINITY when there is none. The next
 * finding is about the planting that stands there. */
double bl_fit_nearest (BlFitContext *context, const BlFitSubject *subject, BlFeatureKind kind,
                       const BlFitFeature **which);
/* Mean hours of direct sun a day over the bed in the growing season: as stated for the bed, else
 * for the site, else from the place, north and the heights of the features; NAN when neither is known. */
double bl_fit_sun_hours (BlFitContext *context, const BlBed *bed);
/* "3 ft 2 in" or "97 cm" in the design's units. */
char *bl_fit_length (const BlFitContext *context, double metres);
/* "-15 °F" or "-26 °C". */
char *bl_fit_temperature (const BlFitContext *context, double celsius);
/* The words in the context's language. */
#define bl_fit_say(context, english) bl_say ((context)->language, (english))
/* The name of a feature: its own or its kind's. */
const char *bl_fit_feature_name (const BlFitContext *context, const BlFitFeature *feature);
char *bl_fit_months (const BlFitContext *context, const gboolean months[12]); /* "April, October" */
const char *bl_fit_month (const BlFitContext *context, int month);             /* "April" */

/* The rules about one kind where it stands. */
void bl_fit_climate (BlFitContext *context, const BlFitSubject *subject);
void bl_fit_exposure (BlFitContext *context, const BlFitSubject *subject);
void bl_fit_harm (BlFitContext *context, const BlFitSubject *subject);
void bl_fit_clearance (BlFitContext *context, const BlFitSubject *subject);
/* The rules about plants together: room, line of sight, support. */
void bl_fit_composition (BlFitContext *context);
/* The rules about the picture: months, winter, single plants, colours. */
void bl_fit_look (BlFitContext *context);

/* Fills the substitutes of the findings that ask for another plant. */
gboolean bl_fit_substitute (BlFitContext *context, BlLibrary *library, GError **error);
