/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting out with two tapes.
 *
 * A tape read over a length d errs by about e(d) = 6 mm + 2 mm a metre (sag, pull and hook; common
 * practice), and two tapes that cross at θ fix a point to about √(e²(a) + e²(b)) / sin θ. Near
 * points are thereby better than far ones, and right angles better than flat ones. For each bed a
 * few pairs are taken, one after the other, each the one that helps its plants most: with every
 * pair the crew moves its hooks once. */
#include "proposal/setout.h"

#include <math.h>

#include "base/error.h"
#include "survey/tape.h"

#define REACH 30.0 /* metres: the length of a common fibre tape */
#define MAX_FIXED 60
#define MAX_PAIRS 3

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
      BlPoint a, b, c;

      if (bed->ring == NULL || longest_chord (bed->ring, &a, &b) <= 0)
        continue;
      add_fixed (fixed, NULL, number++, a, TRUE);
      add_fixed (fixed, NULL, number++, b, TRUE);
      for (int side = -1; side <= 1; side += 2)
        if (farthest_on_side (bed->ring, a, b, side, &c))
          add_fixed (fixed, NULL, number++, c, TRUE);
    }
}

static const BlFixedPoint *
fixed_at (const BlSetout *setout, guint i)
{
  return &g_array_index (setout->fixed, BlFixedPoint, i);
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

/* How far off a plant may stand when taped from a pair, metres: never more than a metre counts. A
 * peg has to be driven first, and is itself a little off. */
static double
tape_cost (const BlSetout *setout, guint a, guint b, BlPoint p)
{
  const BlFixedPoint *fa = fixed_at (setout, a), *fb = fixed_at (setout, b);
  double sine = strength (fa->at, fb->at, p), flat = sin (BL_SETOUT_MIN_CROSSING);
  double ea = 0.006 + 0.002 * bl_dist (fa->at, p) + (fa->peg ? 0.010 : 0);
  double eb = 0.006 + 0.002 * bl_dist (fb->at, p) + (fb->peg ? 0.010 : 0);

  if (sine <= 0)
    return 1;
  /* Under 30° another pair is wanted, the more the flatter, even when this one's tapes are short.
   */
  return MIN (1, hypot (ea, eb) / sine * pow (MAX (1, flat / sine), 2));
}

typedef struct
{
  guint a, b;
} Pair;

typedef struct
{
  const BlSetout *setout;
  const BlLayout *layout;
  GArray *plants;  /* guint: of one bed */
  GArray *pairs;   /* Pair: taken */
  double *cost;    /* a plant: by the best pair taken */
} Choice;

static BlPoint
plant_at (const Choice *choice, guint i)
{
  return g_array_index (choice->layout->placed, BlPlaced, g_array_index (choice->plants, guint, i))
      .at;
}

/* What a pair would leave of the sum of squares; the square weighs the worst plants. */
static double
total_with (const Choice *choice, Pair pair, double stop_at)
{
  double total = 0;

  for (guint i = 0; i < choice->plants->len && total < stop_at; i++)
    {
      double cost
          = MIN (choice->cost[i], tape_cost (choice->setout, pair.a, pair.b, plant_at (choice, i)));

      total += cost * cost;
    }
  return total;
}

static gboolean
take_best_pair (Choice *choice, double *total)
{
  guint n = choice->setout->fixed->len;
  double best = *total;
  Pair taken = { 0, 0 };

  for (guint a = 0; a < n; a++)
    for (guint b = a + 1; b < n; b++)
      {
        double left = total_with (choice, (Pair) { a, b }, best);

        if (left < best - 1e-12)
          {
            best = left;
            taken = (Pair) { a, b };
          }
      }
  if (taken.b == 0)
    return FALSE;
  /* A further pair must be worth moving the hooks. */
  if (choice->pairs->len > 0 && best > *total * 0.7)
    return FALSE;
  for (guint i = 0; i < choice->plants->len; i++)
    choice->cost[i] = MIN (choice->cost[i], tape_cost (choice->setout, taken.a, taken.b,
                                                       plant_at (choice, i)));
  g_array_append_val (choice->pairs, taken);
  *total = best;
  return TRUE;
}

static double
best_strength (const Choice *choice, BlPoint p)
{
  double best = 0;

  for (guint k = 0; k < choice->pairs->len; k++)
    {
      Pair pair = g_array_index (choice->pairs, Pair, k);

      best = MAX (best, strength (fixed_at (choice->setout, pair.a)->at,
                                  fixed_at (choice->setout, pair.b)->at, p));
    }
  return best;
}

/* A plant whose tapes would still cross too flat gets a pair of its own, if one crosses better. */
static void
add_pair_for (Choice *choice, guint i)
{
  BlPoint p = plant_at (choice, i);
  guint n = choice->setout->fixed->len;
  double best = choice->cost[i];
  Pair taken = { 0, 0 };

  if (best_strength (choice, p) >= sin (BL_SETOUT_MIN_CROSSING))
    return;
  for (guint a = 0; a < n; a++)
    for (guint b = a + 1; b < n; b++)
      if (tape_cost (choice->setout, a, b, p) < best - 1e-9)
        {
          best = tape_cost (choice->setout, a, b, p);
          taken = (Pair) { a, b };
        }
  if (taken.b == 0)
    return;
  for (guint k = 0; k < choice->plants->len; k++)
    choice->cost[k]
        = MIN (choice->cost[k], tape_cost (choice->setout, taken.a, taken.b, plant_at (choice, k)));
  g_array_append_val (choice->pairs, taken);
}

/* A plant goes with the first pair that serves it nearly as well as the best. */
static guint
pair_for (const Choice *choice, guint i)
{
  for (guint k = 0; k < choice->pairs->len; k++)
    {
      Pair pair = g_array_index (choice->pairs, Pair, k);

      if (tape_cost (choice->setout, pair.a, pair.b, plant_at (choice, i))
          <= choice->cost[i] * 1.25 + 1e-9)
        return k;
    }
  return 0;
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

/* The plants of one bed, pair after pair, in planting order within each. */
static void
set_out_bed (BlSetout *setout, const BlLayout *layout, GArray *plants)
{
  g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (Pair));
  g_autofree double *cost = g_new (double, plants->len);
  Choice choice = { setout, layout, plants, pairs, cost };
  double total = plants->len;
  Pair first = { 0, 1 };

  for (guint i = 0; i < plants->len; i++)
    cost[i] = 1;
  while (pairs->len < MAX_PAIRS && take_best_pair (&choice, &total))
    ;
  for (guint i = 0; i < plants->len; i++)
    add_pair_for (&choice, i);
  if (pairs->len == 0)
    g_array_append_val (pairs, first);
  for (guint k = 0; k < pairs->len; k++)
    for (guint i = 0; i < plants->len; i++)
      if (pair_for (&choice, i) == k)
        {
          Pair pair = g_array_index (pairs, Pair, k);
          BlSetoutRow row
              = tape_plant (setout, layout, g_array_index (plants, guint, i), pair.a, pair.b);

          g_array_append_val (setout->rows, row);
        }
}

static void
set_out_all (BlSetout *setout, const BlLayout *layout)
{
  g_autoptr (GArray) order = bl_setout_order (layout);
  g_autoptr (GArray) plants = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < order->len; i++)
    {
      guint index = g_array_index (order, guint, i);
      const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, index);
      const BlPlaced *last = plants->len > 0 ? &g_array_index (layout->placed, BlPlaced,
                                                               g_array_index (plants, guint, 0))
                                             : NULL;

      if (last != NULL && last->bed_id != placed->bed_id)
        {
          set_out_bed (setout, layout, plants);
          g_array_set_size (plants, 0);
        }
      g_array_append_val (plants, index);
    }
  set_out_bed (setout, layout, plants);
}

double
bl_setout_base (const BlSetout *setout, guint a, guint b)
{
  return round (bl_dist (fixed_at (setout, a)->at, fixed_at (setout, b)->at) / setout->unit)
         * setout->unit;
}

BlSetout *
bl_setout_compute (const BlLayout *layout, BlUnits units, GError **error)
{
  g_autoptr (BlSetout) setout = NULL;

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
  collect_features (layout->model, setout->fixed, TRUE);
  collect_tape (layout->model, setout->fixed);
  collect_features (layout->model, setout->fixed, FALSE);
  propose_pegs (layout->model, setout->fixed);
  if (setout->fixed->len < 2)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_UNSOLVED,
                   "there are no two points to tape from; add a fixed point such as a wall corner "
                   "or a post to the plan.");
      return NULL;
    }
  set_out_all (setout, layout);
  return g_steal_pointer (&setout);
}

void
bl_setout_free (BlSetout *setout)
{
  g_array_unref (setout->fixed);
  g_array_unref (setout->rows);
  g_free (setout);
}
