/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlines from a map: polygons in projected metres become beds or features of the plan. */

#include "config.h"

#include "studio/outlines.h"

#include "geometry/polygon.h"
#include "survey/basemap.h"

#include <glib/gi18n.h>

#define STATE "outlines-origin" /* "x y", metres of the map's system at the plan's (0, 0) */

typedef struct
{
  GPtrArray *beds, *features;
} Bringing;

static BlPoint
kept_origin (BlBoard *board)
{
  g_autofree char *text = bl_design_get_state (bl_board_get_design (board), STATE);
  g_auto (GStrv) parts = text != NULL ? g_strsplit (text, " ", 2) : NULL;

  if (parts == NULL || g_strv_length (parts) != 2)
    return BL_POINT (NAN, NAN);
  return BL_POINT (g_ascii_strtod (parts[0], NULL), g_ascii_strtod (parts[1], NULL));
}

static void
keep_origin (BlBoard *board, BlPoint origin)
{
  g_autofree char *x = bl_double_format (origin.x);
  g_autofree char *y = bl_double_format (origin.y);
  g_autofree char *text = g_strdup_printf ("%s %s", x, y);

  bl_design_set_state (bl_board_get_design (board), STATE, text);
}

static gboolean
name_is_free (const BlModel *model, const GPtrArray *beds, const char *name)
{
  for (guint i = 0; i < beds->len; i++)
    if (g_strcmp0 (((const BlBed *) g_ptr_array_index (beds, i))->name, name) == 0)
      return FALSE;
  return bl_model_bed_named (model, name) == NULL;
}

/* The map's own name where it has one, numbered where two share it. */
static char *
bed_name (const BlModel *model, const GPtrArray *beds, const char *given)
{
  gboolean named = given != NULL && given[0] != '\0';

  if (named && name_is_free (model, beds, given))
    return g_strdup (given);
  for (guint i = named ? 2 : model->beds->len + beds->len + 1;; i++)
    {
      g_autofree char *name
          = named ? g_strdup_printf ("%s %u", given, i) : g_strdup_printf (_("Bed %u"), i);

      if (name_is_free (model, beds, name))
        return g_steal_pointer (&name);
    }
}

static void
add_bed (Bringing *bringing, const BlModel *model, const BlBaseShape *shape)
{
  BlBed *bed = bl_bed_new ();

  g_free (bed->name);
  bed->name = bed_name (model, bringing->beds, shape->name);
  bed->source = BL_FROM_PLAN;
  g_clear_pointer (&bed->outline, bl_outline_free);
  bed->outline = bl_outline_copy (shape->outline);
  bed->mulch_depth = 0.075; /* 3 in, common practice for shredded bark */
  g_ptr_array_add (bringing->beds, bed);
}

static gboolean
is_point (BlFeatureKind kind)
{
  return kind == BL_FEATURE_POST || kind == BL_FEATURE_TREE || kind == BL_FEATURE_HYDRANT
         || kind == BL_FEATURE_WALNUT || kind == BL_FEATURE_FIXED_POINT;
}

/* A ring as what this kind is: the point in its middle, a line along it, or itself. */
static BlOutline *
shape_for (const BlOutline *ring, BlFeatureKind kind)
{
  BlPoints *points;
  BlOutline *outline;

  if (!is_point (kind) && !bl_feature_kind_is_line (kind))
    return bl_outline_copy (ring);
  points = is_point (kind) ? bl_points_new () : bl_points_copy (ring->points);
  bl_points_add (points, is_point (kind) ? bl_polygon_centroid (ring->points)
                                         : bl_points_at (ring->points, 0));
  outline = bl_outline_new_take (points, TRUE);
  outline->open = TRUE;
  return outline;
}

static void
add_feature (Bringing *bringing, const BlBaseShape *shape, BlFeatureKind kind)
{
  BlFeature *feature = bl_feature_new ();
  gboolean line = shape->outline->open;

  feature->kind
      = line && (kind == BL_FEATURE_N || !bl_feature_kind_is_line (kind)) ? BL_FEATURE_KERB : kind;
  feature->source = BL_FROM_PLAN;
  g_free (feature->name);
  feature->name = g_strdup (shape->name);
  g_clear_pointer (&feature->outline, bl_outline_free);
  feature->outline = line ? bl_outline_copy (shape->outline) : shape_for (shape->outline, kind);
  g_ptr_array_add (bringing->features, feature);
}

static gboolean
put_all (BlDesign *design, gpointer data, GError **error)
{
  Bringing *bringing = data;

  for (guint i = 0; i < bringing->beds->len; i++)
    if (!bl_design_put_bed (design, g_ptr_array_index (bringing->beds, i), error))
      return FALSE;
  for (guint i = 0; i < bringing->features->len; i++)
    if (!bl_design_put_feature (design, g_ptr_array_index (bringing->features, i), error))
      return FALSE;
  return TRUE;
}

gboolean
bl_board_bring_in_outlines (BlBoard *board, const char *text, gssize length, BlFeatureKind kind,
                            BlBroughtIn *brought, GError **error)
{
  const BlModel *model = bl_board_get_model (board);
  BlPoint origin = kept_origin (board);
  g_autoptr (GPtrArray) shapes = bl_geojson_read (text, length, &origin, error);
  g_autoptr (GPtrArray) beds = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_bed_free);
  g_autoptr (GPtrArray) features
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_feature_free);
  Bringing bringing = { beds, features };

  if (shapes == NULL)
    return FALSE;
  if (shapes->len == 0)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           _("The map holds no polygon and no line to bring in"));
      return FALSE;
    }
  for (guint i = 0; i < shapes->len; i++)
    {
      const BlBaseShape *shape = g_ptr_array_index (shapes, i);

      if (kind == BL_FEATURE_N && !shape->outline->open)
        add_bed (&bringing, model, shape);
      else
        add_feature (&bringing, shape, kind);
    }
  *brought = (BlBroughtIn){ beds->len, features->len };
  if (!bl_board_edit (board, _("Bring in outlines"), put_all, &bringing))
    return FALSE;
  keep_origin (board, origin);
  bl_board_set_view (board, BL_VIEW_PLAN);
  return TRUE;
}
