/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prepares the design for the rules: features on the ground, kinds with their places, the sun. */
#include <math.h>
#include <string.h>

#include "fit/fit-private.h"
#include "geometry/polygon.h"

/* Curves of features are followed to this distance, metres. */
#define TOLERANCE 0.02

static void
add_features (BlFitContext *context)
{
  guint i = 0;

  for (i = 0; i < context->model->features->len; i++)
    {
      const BlFeature *feature = g_ptr_array_index (context->model->features, i);
      BlFitFeature f = { feature, NULL, FALSE };
      guint n = feature->ground != NULL ? feature->ground->points->len : 0;

      if (n == 0)
        continue;
      f.line = n >= 2 ? bl_outline_flatten (feature->ground, TOLERANCE)
                      : bl_points_copy (feature->ground->points);
      f.closed = !feature->ground->open && n >= 3;
      g_array_append_val (context->features, f);
    }
}

static void
clear_feature (gpointer data)
{
  BlFitFeature *feature = data;

  g_clear_pointer (&feature->line, g_array_unref);
}

static void
clear_subject (gpointer data)
{
  BlFitSubject *subject = data;

  g_clear_pointer (&subject->owned, g_array_unref);
  g_clear_pointer (&subject->owned_ids, g_array_unref);
}

static BlFitSubject *
subject_for (BlFitContext *context, const BlPlaced *p)
{
  BlFitSubject fresh = { .plant = p->plant, .planting_id = p->planting_id, .bed_id = p->bed_id };
  guint i = 0;

  for (i = 0; i < context->subjects->len; i++)
    {
      BlFitSubject *s = &g_array_index (context->subjects, BlFitSubject, i);

      if (s->bed_id == p->bed_id && strcmp (s->plant->slug, p->plant->slug) == 0)
        return s;
    }
  fresh.bed = bl_model_bed (context->model, p->bed_id);
  fresh.owned = g_array_new (FALSE, FALSE, sizeof (BlPoint));
  fresh.owned_ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_array_append_val (context->subjects, fresh);
  return &g_array_index (context->subjects, BlFitSubject, context->subjects->len - 1);
}

/* Each kind of a bed is one subject, however many plantings it was drawn in. */
static void
add_subjects (BlFitContext *context)
{
  const GArray *placed = context->layout->placed;
  guint i = 0;

  for (i = 0; i < placed->len; i++)
    {
      const BlPlaced *p = &g_array_index (placed, BlPlaced, i);
      BlFitSubject *subject = subject_for (context, p);

      g_array_append_val (subject->owned, p->at);
      g_array_append_val (subject->owned_ids, p->planting_id);
    }
  for (i = 0; i < context->subjects->len; i++)
    {
      BlFitSubject *subject = &g_array_index (context->subjects, BlFitSubject, i);

      subject->points = (const BlPoint *) (void *) subject->owned->data;
      subject->ids = (const gint64 *) (void *) subject->owned_ids->data;
      subject->n_points = subject->owned->len;
    }
}

BlFitContext *
bl_fit_context_new (const BlModel *model, const BlLayout *layout, const char *language)
{
  BlFitContext *context = g_new0 (BlFitContext, 1);

  context->model = model;
  context->layout = layout;
  context->language = language;
  context->features = g_array_new (FALSE, FALSE, sizeof (BlFitFeature));
  g_array_set_clear_func (context->features, clear_feature);
  context->subjects = g_array_new (FALSE, FALSE, sizeof (BlFitSubject));
  g_array_set_clear_func (context->subjects, clear_subject);
  context->sun = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  context->season = bl_season_zone (&model->site);
  add_features (context);
  if (layout != NULL)
    add_subjects (context);
  return context;
}

void
bl_fit_context_free (BlFitContext *context)
{
  if (context == NULL)
    return;
  g_array_unref (context->features);
  g_array_unref (context->subjects);
  g_hash_table_unref (context->sun);
  bl_shade_free (context->shade);
  g_free (context);
}

double
bl_fit_distance (const BlFitFeature *feature, BlPoint p)
{
  double least = INFINITY;
  guint n = feature->line->len, i = 0;

  if (n == 1)
    return bl_dist (p, bl_points_at (feature->line, 0));
  if (feature->closed && bl_polygon_contains (feature->line, p))
    return 0.0;
  for (i = 0; i + 1 < n; i++)
    least = MIN (least, bl_segment_distance (p, bl_points_at (feature->line, i),
                                             bl_points_at (feature->line, i + 1), NULL));
  if (feature->closed)
    least = MIN (least, bl_segment_distance (p, bl_points_at (feature->line, n - 1),
                                             bl_points_at (feature->line, 0), NULL));
  return least;
}

double
bl_fit_nearest (BlFitContext *context, const BlFitSubject *subject, BlFeatureKind kind,
                const BlFitFeature **which)
{
  double least = INFINITY;
  guint i = 0, k = 0;

  context->speaking = 0;
  for (i = 0; i < context->features->len; i++)
    {
      const BlFitFeature *feature = &g_array_index (context->features, BlFitFeature, i);

      for (k = 0; feature->feature->kind == kind && k < subject->n_points; k++)
        {
          double d = bl_fit_distance (feature, subject->points[k]);

          if (d >= least)
            continue;
          least = d;
          context->speaking = subject->ids != NULL ? subject->ids[k] : 0;
          if (which != NULL)
            *which = feature;
        }
    }
  return least;
}

double
bl_fit_sun_hours (BlFitContext *context, const BlBed *bed)
{
  gint64 id = bed != NULL ? bed->id : 0;
  double *known = NULL;

  if (bed != NULL && !isnan (bed->sun_hours))
    return bed->sun_hours;
  if (!isnan (context->model->site.sun_hours))
    return context->model->site.sun_hours;
  known = g_hash_table_lookup (context->sun, &id);
  if (known == NULL)
    {
      gint64 *key = g_new (gint64, 1);

      known = g_new (double, 1);
      *key = id;
      if (context->shade == NULL)
        context->shade = bl_shade_new (context->model);
      *known = bl_shade_season_hours (context->shade, &context->model->site,
                                      bed != NULL ? bed->ring : NULL);
      g_hash_table_insert (context->sun, key, known);
    }
  return *known;
}

char *
bl_fit_length (const BlFitContext *context, double metres)
{
  BlUnits units = context->model->units;

  if (metres >= 0.9)
    return bl_length_format (metres, units);
  return units == BL_UNITS_FEET ? g_strdup_printf (bl_fit_say (context, "%.0f in"),
                                                   metres / BL_METRES_PER_INCH)
                                : g_strdup_printf ("%.0f cm", metres * 100.0);
}

char *
bl_fit_temperature (const BlFitContext *context, double celsius)
{
  return context->model->units == BL_UNITS_FEET ? g_strdup_printf ("%.0f °F", celsius * 1.8 + 32.0)
                                                : g_strdup_printf ("%.0f °C", celsius);
}

const char *
bl_fit_feature_name (const BlFitContext *context, const BlFitFeature *feature)
{
  static const char *const names[BL_FEATURE_N]
    = { [BL_FEATURE_WALL] = BL_SAID ("the wall"),
        [BL_FEATURE_FENCE] = BL_SAID ("the fence"),
        [BL_FEATURE_POST] = BL_SAID ("the post"),
        [BL_FEATURE_TREE] = BL_SAID ("the tree"),
        [BL_FEATURE_KERB] = BL_SAID ("the kerb"),
        [BL_FEATURE_WALK] = BL_SAID ("the walk"),
        [BL_FEATURE_DRIVE] = BL_SAID ("the drive"),
        [BL_FEATURE_UTILITY_BOX] = BL_SAID ("the utility box"),
        [BL_FEATURE_TRANSFORMER] = BL_SAID ("the transformer"),
        [BL_FEATURE_HYDRANT] = BL_SAID ("the hydrant"),
        [BL_FEATURE_BURIED_LINE] = BL_SAID ("the buried line"),
        [BL_FEATURE_SNOW_PILE] = BL_SAID ("the snow pile"),
        [BL_FEATURE_SALTED_EDGE] = BL_SAID ("the salted edge"),
        [BL_FEATURE_SIGHT_TRIANGLE] = BL_SAID ("the sight triangle"),
        [BL_FEATURE_WALNUT] = BL_SAID ("the walnut"),
        [BL_FEATURE_IN_FRONT] = BL_SAID ("the outline in front"),
        [BL_FEATURE_STONE] = BL_SAID ("the stone"),
        [BL_FEATURE_FIXED_POINT] = BL_SAID ("the fixed point"),
        [BL_FEATURE_DOOR] = BL_SAID ("the door") };
  const char *own = feature->feature->name;

  return own != NULL && own[0] != '\0' ? own
                                       : bl_fit_say (context, names[feature->feature->kind]);
}

const char *
bl_fit_month (const BlFitContext *context, int month)
{
  static const char *const names[12]
    = { BL_SAID ("January"), BL_SAID ("February"), BL_SAID ("March"), BL_SAID ("April"),
        BL_SAID ("May"), BL_SAID ("June"), BL_SAID ("July"), BL_SAID ("August"),
        BL_SAID ("September"), BL_SAID ("October"), BL_SAID ("November"), BL_SAID ("December") };

  return bl_fit_say (context, names[CLAMP (month, 1, 12) - 1]);
}

char *
bl_fit_months (const BlFitContext *context, const gboolean months[12])
{
  GString *text = g_string_new (NULL);
  int i = 0;

  for (i = 0; i < 12; i++)
    if (months[i])
      g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", bl_fit_month (context, i + 1));
  return g_string_free (text, FALSE);
}
