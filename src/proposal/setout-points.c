/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a tape can be hooked on: named points, taped points, corners of what stands there, else pegs. */
#include <math.h>

#include "proposal/setout-private.h"
#include "survey/tape.h"

#define MAX_FIXED 60

static void
add_fixed (GArray *fixed, const char *name, guint corner, BlPoint at, gboolean peg)
{
  BlFixedPoint point = { NULL, corner, at, peg };

  for (guint i = 0; i < fixed->len; i++)
    if (bl_dist (g_array_index (fixed, BlFixedPoint, i).at, at) < 0.3)
      return;
  if (fixed->len >= MAX_FIXED)
    return;
  point.name = g_strdup (name);
  g_array_append_val (fixed, point);
}

static gboolean
can_be_taped_from (BlFeatureKind kind)
{
  return kind == BL_FEATURE_FIXED_POINT || kind == BL_FEATURE_POST || kind == BL_FEATURE_WALL
         || kind == BL_FEATURE_HYDRANT || kind == BL_FEATURE_FENCE || kind == BL_FEATURE_WALK
         || kind == BL_FEATURE_KERB || kind == BL_FEATURE_UTILITY_BOX;
}

/* Points that the designer named for taping come first: another within a foot is left out. */
static void
collect_features (const BlModel *model, GArray *fixed, gboolean named)
{
  for (guint i = 0; i < model->features->len; i++)
    {
      const BlFeature *feature = model->features->pdata[i];
      const char *name = feature->name != NULL && *feature->name != '\0'
                             ? feature->name : bl_feature_kind_name (feature->kind);

      if (!can_be_taped_from (feature->kind) || feature->ground == NULL
          || (feature->kind == BL_FEATURE_FIXED_POINT) != named)
        continue;
      for (guint k = 0; k < feature->ground->points->len; k++)
        add_fixed (fixed, name, feature->ground->points->len > 1 ? k + 1 : 0,
                   bl_points_at (feature->ground->points, k), FALSE);
    }
}

static void
collect_tape (const BlModel *model, GArray *fixed)
{
  for (guint i = 0; model->tape != NULL && i < model->tape->points->len; i++)
    {
      const BlTapePoint *point = &g_array_index (model->tape->points, BlTapePoint, i);

      add_fixed (fixed, point->name, 0, point->at, FALSE);
    }
}

/* The two points of a bed line that lie farthest apart; their distance. */
static double
longest_chord (const BlPoints *ring, BlPoint *a, BlPoint *b)
{
  guint step = MAX (1, ring->len / 200);
  double best = 0;

  for (guint p = 0; p < ring->len; p += step)
    for (guint q = p + 1; q < ring->len; q += step)
      if (bl_dist (bl_points_at (ring, p), bl_points_at (ring, q)) > best)
        {
          *a = bl_points_at (ring, p);
          *b = bl_points_at (ring, q);
          best = bl_dist (*a, *b);
        }
  return best;
}

/* The point of a bed line farthest from a - b on one side of it; FALSE when there is none. */
static gboolean
farthest_on_side (const BlPoints *ring, BlPoint a, BlPoint b, int side, BlPoint *c)
{
  double off = 0;

  for (guint p = 0; p < ring->len; p++)
    {
      double d = side * bl_cross (bl_sub (b, a), bl_sub (bl_points_at (ring, p), a));

      if (d > off)
        {
          off = d;
          *c = bl_points_at (ring, p);
        }
    }
  return off > 0;
}

/* Pegs at the ends of the bed and at its widest places on both sides. */
static void
propose_pegs (const BlModel *model, GArray *fixed)
{
  guint number = 1;

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = model->beds->pdata[i];
      BlPoint a = BL_POINT (0, 0), b = a, c = a;

      if (bed->ring == NULL || longest_chord (bed->ring, &a, &b) <= 0)
        continue;
      add_fixed (fixed, NULL, number++, a, TRUE);
      add_fixed (fixed, NULL, number++, b, TRUE);
      for (int side = -1; side <= 1; side += 2)
        if (farthest_on_side (bed->ring, a, b, side, &c))
          add_fixed (fixed, NULL, number++, c, TRUE);
    }
}

void
bl_setout_collect (const BlModel *model, GArray *fixed)
{
  collect_features (model, fixed, TRUE);
  collect_tape (model, fixed);
  collect_features (model, fixed, FALSE);
  propose_pegs (model, fixed);
}
