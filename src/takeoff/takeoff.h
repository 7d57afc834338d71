/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities measured from the drawing: plants, materials and hours, before any price. */
#pragma once

#include "base/say.h"
#include "layout/layout.h"

/* One plant in one size in one bed. */
typedef struct
{
  gint64 bed_id;
  BlPlant *plant;        /* borrowed from the layout's model */
  const char *size;      /* borrowed */
  guint count;           /* real positions, as drawn */
  double formula_count;  /* area formula (drifts and fills), not rounded; NAN where none applies */
  guint reserve;         /* whole plants beyond the count */
  guint order;           /* count + reserve, rounded up to packs */
  double spacing;        /* metres */
  char *rule;            /* "drawn positions; staggered, half a spread off the bed line" */
} BlPlantCount;

typedef struct
{
  gint64 bed_id;         /* 0 = the whole job */
  char *key;             /* price book key */
  char *name;
  char *unit;            /* "m3", "m2", "m", "each", "bag" */
  double quantity;       /* net */
  double sd;             /* standard deviation from measuring */
  double order;          /* rounded up to the supplier's step or whole pieces */
  double mass;           /* kg, for delivery; 0 = not stated */
  char *how;             /* the arithmetic in words */
} BlMaterial;

typedef struct
{
  gint64 bed_id;
  char *key;             /* production rate in the price book */
  char *name;
  double units;          /* how many of the rate's unit */
  char *unit;
  double hours;
  char *how;
} BlWork;

/* How the plants of one size are watered in their first season. */
typedef struct
{
  const char *size;      /* borrowed */
  guint count;
  gboolean known;        /* FALSE: nothing is known of the size, the litres are 0 */
  double low_l, high_l;  /* a plant and watering */
} BlWatering;

/* The three phases of the first season: daily, every few days, weekly. */
typedef struct
{
  double every_days, weeks;
} BlWaterPhase;

#define BL_WATER_PHASES 3

typedef struct
{
  gatomicrefcount refs;
  BlLayout *layout;      /* a ref */
  const char *language;  /* static: of names, notes and arithmetic in words; NULL = English */
  GArray *counts;        /* BlPlantCount, by bed, then botanical name */
  GArray *materials;     /* BlMaterial */
  GArray *work;          /* BlWork */
  BlMaterial soil_out;   /* what is stripped and carried away; key NULL = nothing */
  BlMeasured area;       /* all beds, m² */
  guint n_plants, n_kinds;
  double hours;
  double mass;           /* kg delivered */
  GArray *watering;      /* BlWatering, by size in order of first planting */
  BlWaterPhase phases[BL_WATER_PHASES];
  double water_first_season; /* litres, establishment */
  GPtrArray *notes;      /* utf8: what the person should know */
} BlTakeoff;

/* @language is that of what is said, here and in the estimate (base/say.h); NULL = English. */
BlTakeoff *bl_takeoff_compute (BlLayout *layout, const char *language);
BlTakeoff *bl_takeoff_ref (BlTakeoff *takeoff);
void bl_takeoff_unref (BlTakeoff *takeoff);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlTakeoff, bl_takeoff_unref)

/* Order list: one row a plant and size over all beds, by supplier then name; CSV with heads. */
char *bl_takeoff_order_csv (const BlTakeoff *takeoff);
/* Nursery request: the same without prices, with columns left for availability and substitutes. */
char *bl_takeoff_request_csv (const BlTakeoff *takeoff);
