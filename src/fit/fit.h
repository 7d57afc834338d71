/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fit: what will not do well or do harm here, why, and what would do instead. */
#pragma once

#include "base/say.h"
#include "layout/layout.h"
#include "plants/library.h"

typedef enum
{
  BL_SEVERITY_CAUTION,
  BL_SEVERITY_UNLIKELY, /* unlikely to do well */
  BL_SEVERITY_DO_NOT
} BlSeverity;

typedef struct
{
  char *slug, *name;     /* name plain text */
  char *change;          /* "lower by 20 cm, flowers a month later" */
} BlSubstitute;

typedef struct
{
  const char *rule;      /* static id: "zone", "salt-soil", "sight-triangle", ... */
  BlSeverity severity;
  gint64 planting_id;    /* 0 = about the bed or the alternative */
  gint64 bed_id;
  char *slug;            /* NULL = not about one plant */
  char *sentence;        /* the reason with its numbers */
  char *source;          /* where the rule comes from */
  GArray *substitutes;   /* BlSubstitute, may be NULL */
} BlFinding;

typedef struct
{
  GArray *findings;      /* BlFinding: worst first, then by bed and plant */
} BlFit;

/* @library lends substitutes; NULL = none are proposed. @language is that of the sentences (base/say.h),
 * NULL = English. */
BlFit *bl_fit_check (const BlLayout *layout, BlLibrary *library, const char *language,
                     GError **error);
void bl_fit_free (BlFit *fit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlFit, bl_fit_free)
/* Findings for a plant before it is placed, in a bed. */
BlFit *bl_fit_plant (const BlModel *model, const BlPlant *plant, gint64 bed_id, const char *language,
                     GError **error);
const char *bl_severity_name (BlSeverity severity); /* "caution", "unlikely to do well", "do not" */
char *bl_fit_to_json (const BlFit *fit);
