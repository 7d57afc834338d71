/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting out with two tapes.
 *
 * Two tapes read with error e fix a point to about e / sin θ, θ being the angle at which they
 * cross. The pair is chosen to make the smallest sin θ over a bed's plants as large as possible. */
#include "proposal/setout.h"

#include <math.h>

#include "base/error.h"
#include "survey/tape.h"

#define REACH 30.0 /* metres: the length of a common fibre tape */
#define MAX_FIXED 60

static void
add_fixed (GArray *fixed, char *name_take, BlPoint at, gboolean peg)
{
  BlFixedPoint point = { name_take, at, peg };

  for (guint i = 0; i < fixed->len; i++)
    if (bl_dist (g_array_index (fixed, BlFixedPoint, i).at, at) < 0.3)
      {
        g_free (name_take);
        return;
      }
  if (fixed->len < MAX_FIXED)
    g_array_append_val (fixed, point);
  else
    g_free (name_take);
}

static gboolean
can_be_taped_from (BlFeatureKind kind)
{
  return kind == BL_FEATURE_FIXED_POINT || kind == BL_FEATURE_POST || kind == BL_FEATURE_WALL
         || kind == BL_FEATURE_HYDRANT || kind == BL_FEATURE_FENCE || kind == BL_FEATURE_WALK
         || kind == BL_FEATURE_KERB || kind == BL_FEATURE_UTILITY_BOX;
}

static void
collect_features (const BlModel *model, GArray *fixed)
{
  for (guint i = 0; i < model->features->len; i++)
    {
      const BlFeature *feature = model->features->pdata[i];
      const char *name = feature->name != NULL && *feature->name != '\0'
                             ? feature->name : bl_feature_kind_name (feature->kind);

      if (!can_be_taped_from (feature->kind) || feature->ground == NULL)
        continue;
      if (feature->ground->points->len == 1)
        add_fixed (fixed, g_strdup (name), bl_points_at (feature->ground->points, 0), FALSE);
      else
        for (guint k = 0; k < feature->ground->points->len; k++)
          add_fixed (fixed, g_strdup_printf ("%s, corner %u", name, k + 1),
                     bl_points_at (feature->ground->points, k), FALSE);
    }
  for (guint i = 0; model->tape != NULL && i < model->tape->points->len; i++)
    {
      const BlTapePoint *point = &g_array_index (model->tape->points, BlTapePoint, i);

      add_fixed (fixed, g_strdup (point->name), point->at, FALSE);
    }
}

/* Pegs at the two points of the bed line that lie farthest apart, and at the one farthest from
 * the line between them. */
static void
propose_pegs (const BlModel *model, GArray *fixed)
{
  guint number = 1;

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = model->beds->pdata[i];
      BlPoint a = { 0 }, b = { 0 }, c = { 0 };
      double best = 0, off = 0;

      if (bed->ring == NULL)
        continue;
      for (guint p = 0; p < bed->ring->len; p += 4)
        for (guint q = p; q < bed->ring->len; q += 4)
          if (bl_dist (bl_points_at (bed->ring, p), bl_points_at (bed->ring, q)) > best)
            {
              a = bl_points_at (bed->ring, p);
              b = bl_points_at (bed->ring, q);
              best = bl_dist (a, b);
            }
      for (guint p = 0; p < bed->ring->len && best > 0; p++)
        {
          double d = fabs (bl_cross (bl_sub (b, a), bl_sub (bl_points_at (bed->ring, p), a))) / best;

          if (d > off)
            {
              off = d;
              c = bl_points_at (bed->ring, p);
            }
        }
      if (best <= 0)
        continue;
      add_fixed (fixed, g_strdup_printf ("peg P%u", number++), a, TRUE);
      add_fixed (fixed, g_strdup_printf ("peg P%u", number++), b, TRUE);
      add_fixed (fixed, g_strdup_printf ("peg P%u", number++), c, TRUE);
    }
}

/* A peg has to be driven first: what stands on site already is preferred. */
static double
pair_share (const BlSetout *setout, guint a, guint b)
{
  return (g_array_index (setout->fixed, BlFixedPoint, a).peg ? 0.75 : 1)
         * (g_array_index (setout->fixed, BlFixedPoint, b).peg ? 0.75 : 1);
}

/* Sine of the crossing angle, 0 when a tape would be too long or far too short. */
static double
strength (BlPoint a, BlPoint b, BlPoint p)
{
  double da = bl_dist (a, p), db = bl_dist (b, p);

  if (da > REACH || db > REACH || da < 0.1 || db < 0.1)
    return 0;
  return fabs (bl_cross (bl_sub (a, p), bl_sub (b, p))) / (da * db);
}

static double
pair_worth (const BlLayout *layout, gint64 bed_id, BlPoint a, BlPoint b)
{
  double worst = 1;

  for (guint i = 0; i < layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, i);

      if (placed->bed_id == bed_id)
        worst = MIN (worst, strength (a, b, placed->at));
    }
  return worst;
}

static void
best_pair_for_bed (const BlSetout *setout, const BlLayout *layout, gint64 bed_id, guint *a, guint *b)
{
  double best = -1;

  *a = 0;
  *b = 1;
  for (guint i = 0; i < setout->fixed->len; i++)
    for (guint k = i + 1; k < setout->fixed->len; k++)
      {
        double worth = pair_worth (layout, bed_id, g_array_index (setout->fixed, BlFixedPoint, i).at,
                                   g_array_index (setout->fixed, BlFixedPoint, k).at)
                       * pair_share (setout, i, k);

        if (worth > best + 1e-9)
          {
            best = worth;
            *a = i;
            *b = k;
          }
      }
}

static void
best_pair_for_plant (const BlSetout *setout, BlPoint p, guint *a, guint *b)
{
  double best = strength (g_array_index (setout->fixed, BlFixedPoint, *a).at,
                          g_array_index (setout->fixed, BlFixedPoint, *b).at, p);

  if (best >= sin (BL_SETOUT_MIN_CROSSING))
    return;
  for (guint i = 0; i < setout->fixed->len; i++)
    for (guint k = i + 1; k < setout->fixed->len; k++)
      {
        double worth = strength (g_array_index (setout->fixed, BlFixedPoint, i).at,
                                 g_array_index (setout->fixed, BlFixedPoint, k).at, p)
                       * pair_share (setout, i, k);

        if (worth > best + 1e-9)
          {
            best = worth;
            *a = i;
            *b = k;
          }
      }
}

static BlSetoutRow
tape_plant (const BlSetout *setout, const BlLayout *layout, guint index, guint a, guint b)
{
  BlPoint p = g_array_index (layout->placed, BlPlaced, index).at;
  BlPoint pa = g_array_index (setout->fixed, BlFixedPoint, a).at;
  BlPoint pb = g_array_index (setout->fixed, BlFixedPoint, b).at;
  BlSetoutRow row = { index, a, b, 0, 0, FALSE, 0, 0 };
  BlPoint back;

  row.from_a = round (bl_dist (pa, p) / setout->unit) * setout->unit;
  row.from_b = round (bl_dist (pb, p) / setout->unit) * setout->unit;
  row.left = bl_cross (bl_sub (pb, pa), bl_sub (p, pa)) > 0;
  row.crossing = asin (CLAMP (strength (pa, pb, p), 0, 1));
  row.miss = bl_tape_intersect (pa, row.from_a, pb, row.from_b, row.left, &back)
                 ? bl_dist (back, p) : INFINITY;
  return row;
}

static int
compare_placed (gconstpointer x, gconstpointer y, gpointer data)
{
  const BlLayout *layout = data;
  const BlPlaced *p = &g_array_index (layout->placed, BlPlaced, *(const guint *) x);
  const BlPlaced *q = &g_array_index (layout->placed, BlPlaced, *(const guint *) y);

  if (p->bed_id != q->bed_id)
    return p->bed_id < q->bed_id ? -1 : 1;
  if (p->plant->height != q->plant->height)
    return p->plant->height > q->plant->height ? -1 : 1;
  if (p->planting_id != q->planting_id)
    return p->planting_id < q->planting_id ? -1 : 1;
  if (p->at.y != q->at.y)
    return p->at.y > q->at.y ? -1 : 1;
  return p->at.x < q->at.x ? -1 : p->at.x > q->at.x;
}

GArray *
bl_setout_order (const BlLayout *layout)
{
  GArray *order = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < layout->placed->len; i++)
    g_array_append_val (order, i);
  g_array_sort_with_data (order, compare_placed, (gpointer) layout);
  return order;
}

static void
clear_fixed (gpointer data)
{
  g_free (((BlFixedPoint *) data)->name);
}

/* The pair that most rows use gives the closing check. */
static void
choose_base (BlSetout *setout)
{
  guint most = 0;

  for (guint i = 0; i < setout->rows->len; i++)
    {
      const BlSetoutRow *row = &g_array_index (setout->rows, BlSetoutRow, i);
      guint same = 0;

      for (guint k = 0; k < setout->rows->len; k++)
        {
          const BlSetoutRow *other = &g_array_index (setout->rows, BlSetoutRow, k);

          same += other->a == row->a && other->b == row->b;
        }
      if (same > most)
        {
          most = same;
          setout->base_a = row->a;
          setout->base_b = row->b;
        }
    }
  setout->base = round (bl_dist (g_array_index (setout->fixed, BlFixedPoint, setout->base_a).at,
                                 g_array_index (setout->fixed, BlFixedPoint, setout->base_b).at)
                        / setout->unit) * setout->unit;
}

BlSetout *
bl_setout_compute (const BlLayout *layout, BlUnits units, GError **error)
{
  g_autoptr (BlSetout) setout = NULL;
  g_autoptr (GArray) order = NULL;
  gint64 bed_id = -1;
  guint a = 0, b = 1;

  if (layout->placed->len == 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   "nothing is planted in this alternative; place plants before setting out.");
      return NULL;
    }
  setout = g_new0 (BlSetout, 1);
  setout->unit = units == BL_UNITS_FEET ? BL_METRES_PER_INCH / 4 : 0.01;
  setout->fixed = g_array_new (FALSE, FALSE, sizeof (BlFixedPoint));
  g_array_set_clear_func (setout->fixed, clear_fixed);
  setout->rows = g_array_new (FALSE, FALSE, sizeof (BlSetoutRow));
  collect_features (layout->model, setout->fixed);
  propose_pegs (layout->model, setout->fixed);
  if (setout->fixed->len < 2)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_UNSOLVED,
                   "there are no two points to tape from; add a fixed point such as a wall corner "
                   "or a post to the plan.");
      return NULL;
    }
  order = bl_setout_order (layout);
  for (guint i = 0; i < order->len; i++)
    {
      guint index = g_array_index (order, guint, i);
      const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, index);
      guint pa, pb;
      BlSetoutRow row;

      if (placed->bed_id != bed_id)
        {
          bed_id = placed->bed_id;
          best_pair_for_bed (setout, layout, bed_id, &a, &b);
        }
      pa = a;
      pb = b;
      best_pair_for_plant (setout, placed->at, &pa, &pb);
      row = tape_plant (setout, layout, index, pa, pb);
      g_array_append_val (setout->rows, row);
    }
  choose_base (setout);
  return g_steal_pointer (&setout);
}

void
bl_setout_free (BlSetout *setout)
{
  g_array_unref (setout->fixed);
  g_array_unref (setout->rows);
  g_free (setout);
}
