/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The nearest plants that the rules have nothing against in the same place. */
#include <math.h>
#include <string.h>

#include "fit/fit-private.h"

#define BEST 3

typedef struct
{
  BlPlant *plant; /* borrowed from the library's list */
  double distance;
} Candidate;

/* Habits that stand for one another in a planting. */
static int
form_family (BlForm form)
{
  switch (form)
    {
    case BL_FORM_FOUNTAIN_GRASS:
    case BL_FORM_UPRIGHT_GRASS:
    case BL_FORM_TUSSOCK:
    case BL_FORM_STRAP_CLUMP:
      return 1;
    case BL_FORM_VASE_SHRUB:
    case BL_FORM_GLOBE_SHRUB:
    case BL_FORM_ARCHING_SHRUB:
    case BL_FORM_HEDGE:
      return 2;
    case BL_FORM_COLUMN:
    case BL_FORM_CONE_CONIFER:
    case BL_FORM_SPREADING_CONIFER:
    case BL_FORM_MOUND_CONIFER:
      return 3;
    case BL_FORM_MULTISTEM_TREE:
    case BL_FORM_ROUND_TREE:
      return 4;
    case BL_FORM_CLIMBER:
      return 5;
    case BL_FORM_BULB:
      return 6;
    case BL_FORM_MAT:
    case BL_FORM_CUSHION:
      return 7;
    case BL_FORM_UPRIGHT_CLUMP:
    case BL_FORM_MOUND:
    case BL_FORM_SPIRE_CLUMP:
    case BL_FORM_ROSETTE_WANDS:
    case BL_FORM_DAISY_CLUMP:
    case BL_FORM_UMBEL_CLUMP:
    case BL_FORM_FERN:
    case BL_FORM_N:
      break;
    }
  return 8;
}

static double
months_apart (const BlPlant *a, const BlPlant *b)
{
  int shared = 0, either = 0, m = 0;

  for (m = 1; m <= 12; m++)
    {
      gboolean in_a = bl_months_include (a->flower_from, a->flower_to, m);
      gboolean in_b = bl_months_include (b->flower_from, b->flower_to, m);

      shared += in_a && in_b;
      either += in_a || in_b;
    }
  return either == 0 ? 0.0 : 1.0 - (double) shared / either;
}

/* Like to like: 0 the same colour, 1 a difference of 40 or more (CIEDE2000). */
static double
colors_apart (const BlPlant *a, const BlPlant *b)
{
  if (a->n_flower_colors == 0 && b->n_flower_colors == 0)
    return 0.0;
  if (a->n_flower_colors == 0 || b->n_flower_colors == 0)
    return 1.0;
  return MIN (bl_color_difference (bl_color_to_lab (a->flower_colors[0]),
                                   bl_color_to_lab (b->flower_colors[0]))
                / 40.0,
              1.0);
}

/* Form and type weigh most, then size, then months, colour and leaves. */
static double
distance_between (const BlPlant *a, const BlPlant *b)
{
  double d = 0;

  if (a->form != b->form)
    d += form_family (a->form) == form_family (b->form) ? 0.8 : 2.6;
  if (bl_plant_is_woody (a) != bl_plant_is_woody (b))
    d += 1.2;
  if (a->type != b->type)
    d += 0.5;
  d += 1.8 * fabs (log2 (a->height / b->height));
  d += 1.5 * fabs (log2 (a->spread / b->spread));
  d += 1.2 * months_apart (a, b) + 1.0 * colors_apart (a, b);
  d += (a->leaves == BL_LEAVES_DECIDUOUS) == (b->leaves == BL_LEAVES_DECIDUOUS) ? 0.0 : 0.6;
  /* A climber or an annual is no exchange for something else. */
  if ((a->type == BL_TYPE_VINE) != (b->type == BL_TYPE_VINE)
      || (a->type == BL_TYPE_ANNUAL) != (b->type == BL_TYPE_ANNUAL)
      || (a->type == BL_TYPE_BULB) != (b->type == BL_TYPE_BULB))
    d += 4.0;
  return d;
}

/* Harms that a substitute must not bring, even where the rule but cautions. */
static gboolean
is_harm (const char *rule)
{
  return g_str_has_prefix (rule, "poison") || strcmp (rule, "regulated") == 0
         || strcmp (rule, "thorns") == 0 || strcmp (rule, "invasive") == 0;
}

static gboolean
does_no_harm (const BlFitContext *context)
{
  guint i = 0;

  for (i = 0; i < MIN (context->count, BL_FIT_MAX_RULES); i++)
    if (is_harm (context->rules[i]))
      return FALSE;
  return TRUE;
}

/* Tries @plant in the place of @subject. FALSE when a rule says unlikely or do not, or when it
 * would bring a harm. */
static gboolean
passes (BlFitContext *context, const BlFitSubject *subject, const BlPlant *plant, guint *cautions)
{
  BlFitSubject tried = *subject;
  BlFit *fit = context->fit;

  tried.plant = plant;
  context->fit = NULL;
  context->count = 0;
  context->worst = BL_SEVERITY_CAUTION;
  bl_fit_climate (context, &tried);
  if (context->count == 0 || context->worst < BL_SEVERITY_UNLIKELY)
    bl_fit_exposure (context, &tried);
  if (context->count == 0 || context->worst < BL_SEVERITY_UNLIKELY)
    bl_fit_harm (context, &tried);
  if (context->count == 0 || context->worst < BL_SEVERITY_UNLIKELY)
    bl_fit_clearance (context, &tried);
  context->fit = fit;
  *cautions = context->count;
  return context->count == 0 || (context->worst < BL_SEVERITY_UNLIKELY && does_no_harm (context));
}

static void
keep_best (Candidate *best, guint *n, Candidate fresh)
{
  guint k = *n;

  if (*n < BEST)
    (*n)++;
  else if (fresh.distance >= best[BEST - 1].distance)
    return;
  else
    k = BEST - 1;
  for (; k > 0 && best[k - 1].distance > fresh.distance; k--)
    best[k] = best[k - 1];
  best[k] = fresh;
}

static void
append (GString *text, const char *format, ...) G_GNUC_PRINTF (2, 3);

static void
append (GString *text, const char *format, ...)
{
  va_list args;

  if (text->len > 0)
    g_string_append (text, "; ");
  va_start (args, format);
  g_string_append_vprintf (text, format, args);
  va_end (args);
}

static void
append_months (const BlFitContext *context, GString *text, const BlPlant *from, const BlPlant *to)
{
  if (from->flower_from == to->flower_from && from->flower_to == to->flower_to)
    return;
  if (to->flower_from == 0)
    append (text, bl_fit_say (context, "no flowers of note"));
  else if (to->flower_from == to->flower_to)
    append (text, bl_fit_say (context, "flowers in %s"), bl_fit_month (context, to->flower_from));
  else
    append (text, bl_fit_say (context, "flowers %s to %s"), bl_fit_month (context, to->flower_from),
            bl_fit_month (context, to->flower_to));
  if (from->flower_from != 0 && to->flower_from != 0)
    {
      const char *first = bl_fit_month (context, from->flower_from);

      if (from->flower_from == from->flower_to)
        g_string_append_printf (text, bl_fit_say (context, " instead of %s"), first);
      else
        g_string_append_printf (text, bl_fit_say (context, " instead of %s to %s"), first,
                                bl_fit_month (context, from->flower_to));
    }
}

/* The colour without what is said after it: "pale blue, in umbels" is pale blue. */
static char *
short_color (const BlFitContext *context, const BlPlant *plant)
{
  const char *name = plant->flower_color_name;

  if (name != NULL)
    name = bl_fit_say (context, name);
  return name != NULL ? g_strndup (name, strcspn (name, ",;(")) : NULL;
}

static char *
change_between (const BlFitContext *context, const BlPlant *from, const BlPlant *to)
{
  GString *text = g_string_new (NULL);
  double height = to->height - from->height, spread = to->spread - from->spread;
  g_autofree char *by_height = bl_fit_length (context, fabs (height));
  g_autofree char *by_spread = bl_fit_length (context, fabs (spread));
  g_autofree char *old_color = short_color (context, from);
  g_autofree char *new_color = short_color (context, to);

  if (fabs (height) > MAX (0.08 * from->height, 0.04))
    append (text, height < 0 ? bl_fit_say (context, "lower by %s")
                             : bl_fit_say (context, "taller by %s"), by_height);
  if (fabs (spread) > MAX (0.08 * from->spread, 0.04))
    append (text, spread < 0 ? bl_fit_say (context, "narrower by %s")
                             : bl_fit_say (context, "wider by %s"), by_spread);
  append_months (context, text, from, to);
  if (old_color == NULL && new_color != NULL)
    append (text, bl_fit_say (context, "%s flowers"), new_color);
  else if (new_color != NULL && strcmp (old_color, new_color) != 0)
    append (text, bl_fit_say (context, "%s instead of %s"), new_color, old_color);
  if (from->leaves != to->leaves)
    append (text, to->leaves == BL_LEAVES_EVERGREEN ? bl_fit_say (context, "evergreen")
                  : to->leaves == BL_LEAVES_SEMI_EVERGREEN
                    ? bl_fit_say (context, "keeps some leaves in winter")
                    : bl_fit_say (context, "without leaves in winter"));
  if (text->len == 0)
    g_string_append (text, bl_fit_say (context, "much the same in size, months and colour"));
  return g_string_free (text, FALSE);
}

static GArray *
substitutes_for (BlFitContext *context, const BlFitSubject *subject, const GPtrArray *library)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (BlSubstitute));
  Candidate best[BEST];
  guint n = 0, i = 0;

  for (i = 0; i < library->len; i++)
    {
      BlPlant *plant = g_ptr_array_index (library, i);
      Candidate candidate = { plant, distance_between (subject->plant, plant) };
      guint cautions = 0;

      if (strcmp (plant->slug, subject->plant->slug) == 0
          || (n == BEST && candidate.distance >= best[BEST - 1].distance)
          || !passes (context, subject, plant, &cautions))
        continue;
      candidate.distance += 1.5 * cautions;
      /* At the edge of its hardiness it may do, one zone further in it will. */
      if (context->model->site.zone == plant->zone_low)
        candidate.distance += 0.6;
      keep_best (best, &n, candidate);
    }
  for (i = 0; i < n; i++)
    {
      BlSubstitute s = { g_strdup (best[i].plant->slug), bl_plant_name (best[i].plant),
                         change_between (context, subject->plant, best[i].plant) };

      g_array_append_val (list, s);
    }
  return list;
}

/* Findings that another plant would answer; those about placing are answered by moving. */
static gboolean
asks_for_another (const BlFinding *finding)
{
  static const char *const placing[]
    = { "too-close",    "over-bed-line", "hidden",       "no-support",
        "late-emerger", "single",        "color-intent", NULL };

  if (finding->slug == NULL || g_strv_contains (placing, finding->rule))
    return FALSE;
  return finding->severity >= BL_SEVERITY_UNLIKELY || g_str_has_prefix (finding->rule, "poison")
         || strcmp (finding->rule, "regulated") == 0;
}

static GArray *
copy_of (const GArray *list)
{
  GArray *copy = g_array_new (FALSE, FALSE, sizeof (BlSubstitute));
  guint i = 0;

  for (i = 0; i < list->len; i++)
    {
      const BlSubstitute *s = &g_array_index (list, BlSubstitute, i);
      BlSubstitute one = { g_strdup (s->slug), g_strdup (s->name), g_strdup (s->change) };

      g_array_append_val (copy, one);
    }
  return copy;
}

static const BlFitSubject *
subject_of (const BlFitContext *context, const BlFinding *finding)
{
  guint i = 0;

  for (i = 0; i < context->subjects->len; i++)
    {
      const BlFitSubject *s = &g_array_index (context->subjects, BlFitSubject, i);

      if (s->bed_id == finding->bed_id && strcmp (s->plant->slug, finding->slug) == 0)
        return s;
    }
  return NULL;
}

gboolean
bl_fit_substitute (BlFitContext *context, BlLibrary *library, GError **error)
{
  GArray *findings = context->fit->findings;
  g_autoptr (GPtrArray) plants = NULL;
  guint i = 0, k = 0;

  for (i = 0; i < findings->len; i++)
    {
      BlFinding *finding = &g_array_index (findings, BlFinding, i);
      const BlFitSubject *subject
        = asks_for_another (finding) ? subject_of (context, finding) : NULL;

      if (subject == NULL)
        continue;
      if (plants == NULL)
        plants = bl_library_find (library, &(BlPlantQuery){ 0 }, error);
      if (plants == NULL)
        return FALSE;
      /* The same kind in the same bed asks but once. */
      for (k = 0; k < i && finding->substitutes == NULL; k++)
        {
          const BlFinding *before = &g_array_index (findings, BlFinding, k);

          if (before->bed_id == finding->bed_id && g_strcmp0 (before->slug, finding->slug) == 0
              && before->substitutes != NULL)
            finding->substitutes = copy_of (before->substitutes);
        }
      if (finding->substitutes == NULL)
        finding->substitutes = substitutes_for (context, subject, plants);
    }
  return TRUE;
}
