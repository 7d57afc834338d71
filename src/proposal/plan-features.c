/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers for what stands on the plan, apart from each other, and their names. */
#include "proposal/book.h"

/* Points at which a feature's number may stand. */
static GArray *
places_for (const BlFeature *feature)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (BlPoint));
  const BlPoints *points = feature->ground->points;
  BlPoint centre = { 0, 0 };

  for (guint i = 0; i < points->len; i++)
    {
      BlPoint p = bl_points_at (points, i), q = bl_points_at (points, (i + 1) % points->len);

      centre = bl_add (centre, bl_mul (p, 1.0 / points->len));
      for (int s = 1; s < 20 && (!feature->ground->open || i + 1 < points->len); s++)
        {
          BlPoint between = bl_lerp (p, q, s / 20.0);

          g_array_append_val (places, between);
        }
    }
  if (!feature->ground->open || points->len == 1)
    {
      g_array_set_size (places, 0);
      g_array_append_val (places, centre);
      for (guint i = 0; i < points->len && points->len > 1; i++)
        for (int s = 1; s < 4; s++)
          {
            BlPoint inside = bl_lerp (centre, bl_points_at (points, i), s / 5.0);

            g_array_append_val (places, inside);
          }
    }
  return places;
}

/* The place inside @window farthest from the numbers that stand already. */
static gboolean
best_place (const GArray *places, BlRect window, const GArray *marks, BlPoint *best)
{
  double most = -1;

  for (guint i = 0; i < places->len; i++)
    {
      BlPoint p = g_array_index (places, BlPoint, i);
      double nearest = 3; /* beyond this, farther is no better */

      if (p.x < window.x0 || p.x > window.x1 || p.y < window.y0 || p.y > window.y1)
        continue;
      for (guint k = 0; k < marks->len; k++)
        nearest = MIN (nearest, bl_dist (p, g_array_index (marks, BlPlanMark, k).at));
      if (nearest > most + 1e-9)
        {
          most = nearest;
          *best = p;
        }
    }
  return most >= 0;
}

GArray *
bl_book_feature_marks (const BlBook *book, BlRect seen, GPtrArray *names)
{
  GArray *marks = g_array_new (FALSE, TRUE, sizeof (BlPlanMark));
  BlRect inside = bl_rect_grow (seen, -0.3);

  for (guint i = 0; i < book->model->features->len; i++)
    {
      const BlFeature *feature = book->model->features->pdata[i];
      g_autofree char *kind = g_strdup (BL_W (book, bl_feature_kind_name (feature->kind)));
      BlPlanMark mark = { .square = FALSE };
      g_autoptr (GArray) places = NULL;

      if (feature->ground == NULL || feature->ground->points->len == 0
          || feature->kind == BL_FEATURE_IN_FRONT || feature->kind == BL_FEATURE_FIXED_POINT)
        continue;
      places = places_for (feature);
      if (!best_place (places, inside, marks, &mark.at))
        continue;
      g_snprintf (mark.text, sizeof mark.text, "%u", marks->len + 1);
      g_array_append_val (marks, mark);
      g_strdelimit (kind, "_", ' ');
      g_ptr_array_add (names, feature->name != NULL && *feature->name != '\0'
                                  ? g_strdup_printf ("%s (%s)", feature->name, kind)
                                  : g_strdup (kind));
    }
  return marks;
}
