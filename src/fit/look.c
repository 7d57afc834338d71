/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture through the year: months with nothing, winter, single plants, intended colours. */
#include <math.h>
#include <string.h>

#include "fit/fit-private.h"

#define GROWN 4.0
/* A bed is bare when less than this share of its planted ground shows anything. */
#define SHOWING 0.25

static BlLook
look_in (const BlFitContext *context, const BlPlant *p, guint month)
{
  double north = bl_season_northern_month (&context->model->site, month + 0.5);

  return bl_plant_look (p, NULL, context->season, (BlMoment){ north, GROWN });
}

/* The months that are expected to flower: between the frosts, else April to October (half a year
 * on in the south). */
static void
growing_months (const BlSite *site, gboolean months[12])
{
  gboolean frosts = site->last_frost.month != 0 && site->first_frost.month != 0;
  guint from = frosts ? site->last_frost.month : site->latitude < 0 ? 10 : 4;
  guint to = frosts ? site->first_frost.month : site->latitude < 0 ? 4 : 10;
  guint m = 0;

  for (m = 0; m < 12; m++)
    months[m] = bl_months_include ((int) from, (int) to, (int) m + 1);
}

static void
check_flower_months (BlFitContext *context)
{
  gboolean months[12];
  gboolean any = FALSE;
  g_autofree char *words = NULL;
  guint m = 0, i = 0;

  growing_months (&context->model->site, months);
  for (m = 1; m <= 12; m++)
    {
      for (i = 0; months[m - 1] && i < context->subjects->len; i++)
        if (look_in (context, g_array_index (context->subjects, BlFitSubject, i).plant, m).bloom
            >= 0.25)
          months[m - 1] = FALSE;
      any = any || months[m - 1];
    }
  words = bl_fit_months (context, months);
  if (any)
    bl_fit_add_bed (context, 0, "no-flower", BL_SEVERITY_CAUTION,
                    BL_SAID ("Common practice: something in flower in each month of the growing "
                             "season"),
                    "Nothing flowers in %s.", words);
}

typedef struct
{
  gint64 bed_id;
  const BlBed *bed;
  double area;      /* of the plants' crowns, m² */
  double green[12]; /* share in leaf */
  double winter;    /* share that shows in January */
} BedLook;

/* What is to be seen of it in the middle of winter: green leaves, branches, standing stems. */
static double
winter_presence (const BlFitContext *context, const BlPlant *p)
{
  BlLook look = look_in (context, p, context->model->site.latitude < 0 ? 7 : 1);

  if (p->leaves == BL_LEAVES_EVERGREEN || look.fruit > 0.3 || look.state == BL_STATE_STANDING)
    return 1.0;
  if (bl_plant_is_woody (p))
    return 0.6;
  return look.leaf > 0.3 ? 0.5 : 0.0;
}

static BedLook *
bed_look (GArray *beds, const BlFitSubject *s)
{
  BedLook fresh = { s->bed_id, s->bed, 0, { 0 }, 0 };
  guint i = 0;

  for (i = 0; i < beds->len; i++)
    if (g_array_index (beds, BedLook, i).bed_id == s->bed_id)
      return &g_array_index (beds, BedLook, i);
  g_array_append_val (beds, fresh);
  return &g_array_index (beds, BedLook, beds->len - 1);
}

static GArray *
look_at_beds (const BlFitContext *context)
{
  GArray *beds = g_array_new (FALSE, FALSE, sizeof (BedLook));
  guint i = 0, m = 0;

  for (i = 0; i < context->subjects->len; i++)
    {
      const BlFitSubject *s = &g_array_index (context->subjects, BlFitSubject, i);
      BedLook *bed = bed_look (beds, s);
      double area = 0.25 * G_PI * s->plant->spread * s->plant->spread * s->n_points;

      bed->area += area;
      bed->winter += area * winter_presence (context, s->plant);
      for (m = 0; m < 12; m++)
        bed->green[m] += area * MIN (look_in (context, s->plant, m + 1).leaf, 1.0);
    }
  return beds;
}

static void
check_beds (BlFitContext *context)
{
  g_autoptr (GArray) beds = look_at_beds (context);
  guint i = 0, m = 0;

  for (i = 0; i < beds->len; i++)
    {
      const BedLook *bed = &g_array_index (beds, BedLook, i);
      const char *name = bed->bed != NULL && bed->bed->name != NULL ? bed->bed->name
                         : bl_fit_say (context, "The bed");
      gboolean months[12];
      gboolean any = FALSE;
      g_autofree char *words = NULL;

      growing_months (&context->model->site, months);
      for (m = 0; m < 12; m++)
        {
          months[m] = months[m] && bed->green[m] < 0.10 * bed->area;
          any = any || months[m];
        }
      words = bl_fit_months (context, months);
      if (any)
        bl_fit_add_bed (context, bed->bed_id, "no-leaf", BL_SEVERITY_CAUTION,
                        BL_SAID ("Common practice: no bare ground in the growing season"),
                        "“%s” has next to nothing in leaf in %s.", name, words);
      if (bed->winter < SHOWING * bed->area)
        bl_fit_add_bed (
          context, bed->bed_id, "bare-winter", BL_SEVERITY_CAUTION,
          BL_SAID ("Common practice: a quarter or more of a bed in evergreens, branches or standing "
                   "stems"),
          "“%s” is bare in winter: only %.0f %% of the planted ground shows leaves, branches or"
          " standing stems in the middle of it.",
          name, 100.0 * bed->winter / bed->area);
    }
}

static void
check_single (BlFitContext *context)
{
  guint i = 0, k = 0;

  for (i = 0; i < context->subjects->len; i++)
    {
      const BlFitSubject *s = &g_array_index (context->subjects, BlFitSubject, i);
      guint count = 0;

      for (k = 0; k < context->subjects->len; k++)
        if (strcmp (g_array_index (context->subjects, BlFitSubject, k).plant->slug, s->plant->slug)
            == 0)
          count += g_array_index (context->subjects, BlFitSubject, k).n_points;
      if (count == 1 && !bl_plant_is_woody (s->plant) && s->plant->height < 1.2)
        bl_fit_add (context, s, "single", BL_SEVERITY_CAUTION,
                    BL_SAID ("Common practice: small plants in threes or more, single ones only where "
                             "they can stand alone"),
                    "One alone of its kind and only a small plant: it will read as a spot.");
    }
}

/* Words that name one family of colours to most people. */
static const char *const color_families[][12] = {
  { "purple", "violet", "lavender", "mauve", "lilac", "plum", "indigo", NULL },
  { "blue", "indigo", "lavender", "azure", NULL },
  { "pink", "rose", "salmon", "blush", "mauve", "magenta", NULL },
  { "red", "crimson", "scarlet", "burgundy", "maroon", "cherry", "magenta", NULL },
  { "yellow", "gold", "golden", "lemon", "chartreuse", NULL },
  { "orange", "apricot", "copper", "coral", "bronze", "amber", NULL },
  { "white", "cream", "ivory", "silver", "creamy", NULL },
  { "green", "chartreuse", "lime", NULL },
  { "brown", "tan", "straw", "bronze", "buff", "copper", NULL },
};

/* The families named in @text, as bits. */
static guint
families_in (const char *text)
{
  g_autofree char *lower = g_ascii_strdown (text, -1);
  g_auto (GStrv) words = g_strsplit_set (lower, " ,;/-.", -1);
  guint bits = 0, w = 0, f = 0, k = 0;

  for (w = 0; words[w] != NULL; w++)
    for (f = 0; f < G_N_ELEMENTS (color_families); f++)
      for (k = 0; color_families[f][k] != NULL; k++)
        if (g_str_has_prefix (words[w], color_families[f][k]))
          bits |= 1u << f;
  return bits;
}

static void
check_colors (BlFitContext *context)
{
  const BlAlternative *alternative
    = bl_model_alternative (context->model, context->layout->alternative_id);
  guint intended
    = alternative != NULL && alternative->colors != NULL ? families_in (alternative->colors) : 0;
  guint i = 0;

  for (i = 0; intended != 0 && i < context->subjects->len; i++)
    {
      const BlFitSubject *s = &g_array_index (context->subjects, BlFitSubject, i);
      const char *name = s->plant->flower_color_name;
      guint families = name != NULL ? families_in (name) : 0;
      gboolean quiet = s->plant->type == BL_TYPE_GRASS || s->plant->flower == BL_FLOWER_CATKIN
                       || s->plant->flower == BL_FLOWER_NONE;

      if (families != 0 && !quiet && !(families & intended))
        bl_fit_add (context, s, "color-intent", BL_SEVERITY_CAUTION,
                    BL_SAID ("The colours stated for this alternative"),
                    "Flowers %s; the intended colours are %s.", bl_fit_say (context, name),
                    alternative->colors);
    }
}

void
bl_fit_look (BlFitContext *context)
{
  if (context->subjects->len == 0)
    return;
  context->speaking = 0;
  check_flower_months (context);
  check_beds (context);
  check_single (context);
  check_colors (context);
}
