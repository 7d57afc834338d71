/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting out with two tapes.
 *
 * A tape read over a length d errs by about e(d) = 6 mm + 2 mm a metre (sag, pull and hook; common
 * practice), and two tapes that cross at θ fix a point to about √(e²(a) + e²(b)) / sin θ. Near
 * points are thereby better than far ones, and right angles better than flat ones. For each bed a
 * few pairs are taken, one after the other, each the one that helps its plants and corners most: with
 * every pair the crew moves its hooks once. */
#include "config.h"

#include "proposal/setout-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "survey/tape.h"

#define MAX_PAIRS 3

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

  if (da > BL_SETOUT_REACH || db > BL_SETOUT_REACH || da < 0.1 || db < 0.1)
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
  GArray *targets; /* BlSetoutRow: corners and plants of one bed */
  GArray *pairs;   /* Pair: taken */
  double *cost;    /* a target: by the best pair taken */
} Choice;

static BlPoint
target_at (const Choice *choice, guint i)
{
  return g_array_index (choice->targets, BlSetoutRow, i).at;
}

/* What a pair would leave of the sum of squares; the square weighs the worst plants. */
static double
total_with (const Choice *choice, Pair pair, double stop_at)
{
  double total = 0;

  for (guint i = 0; i < choice->targets->len && total < stop_at; i++)
    {
      double cost
          = MIN (choice->cost[i], tape_cost (choice->setout, pair.a, pair.b, target_at (choice, i)));

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
  for (guint i = 0; i < choice->targets->len; i++)
    choice->cost[i] = MIN (choice->cost[i], tape_cost (choice->setout, taken.a, taken.b,
                                                       target_at (choice, i)));
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

/* A target whose tapes would still cross too flat gets a pair of its own, if one crosses better. */
static void
add_pair_for (Choice *choice, guint i)
{
  BlPoint p = target_at (choice, i);
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
  for (guint k = 0; k < choice->targets->len; k++)
    choice->cost[k]
        = MIN (choice->cost[k], tape_cost (choice->setout, taken.a, taken.b, target_at (choice, k)));
  g_array_append_val (choice->pairs, taken);
}

/* A target goes with the first pair that serves it nearly as well as the best. */
static guint
pair_for (const Choice *choice, guint i)
{
  for (guint k = 0; k < choice->pairs->len; k++)
    {
      Pair pair = g_array_index (choice->pairs, Pair, k);

      if (tape_cost (choice->setout, pair.a, pair.b, target_at (choice, i))
          <= choice->cost[i] * 1.25 + 1e-9)
        return k;
    }
  return 0;
}

static void
tape (const BlSetout *setout, BlSetoutRow *row, Pair pair)
{
  BlPoint pa = fixed_at (setout, pair.a)->at, pb = fixed_at (setout, pair.b)->at, back;

  row->a = pair.a;
  row->b = pair.b;
  row->from_a = round (bl_dist (pa, row->at) / setout->unit) * setout->unit;
  row->from_b = round (bl_dist (pb, row->at) / setout->unit) * setout->unit;
  row->left = bl_cross (bl_sub (pb, pa), bl_sub (row->at, pa)) > 0;
  row->crossing = asin (CLAMP (strength (pa, pb, row->at), 0, 1));
  row->miss = bl_tape_intersect (pa, row->from_a, pb, row->from_b, row->left, &back)
                  ? bl_dist (back, row->at) : INFINITY;
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

/* The corners and plants of one bed, pair after pair, in their own order within each. */
static void
set_out_bed (BlSetout *setout, GArray *targets)
{
  g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (Pair));
  g_autofree double *cost = g_new (double, targets->len);
  Choice choice = { setout, targets, pairs, cost };
  double total = targets->len;
  Pair first = { 0, 1 };

  for (guint i = 0; i < targets->len; i++)
    cost[i] = 1;
  while (pairs->len < MAX_PAIRS && take_best_pair (&choice, &total))
    ;
  for (guint i = 0; i < targets->len; i++)
    add_pair_for (&choice, i);
  if (pairs->len == 0)
    g_array_append_val (pairs, first);
  for (guint k = 0; k < pairs->len; k++)
    for (guint i = 0; i < targets->len; i++)
      if (pair_for (&choice, i) == k)
        {
          BlSetoutRow *row = &g_array_index (targets, BlSetoutRow, i);

          tape (setout, row, g_array_index (pairs, Pair, k));
          g_array_append_vals (row->corner > 0 ? setout->corners : setout->rows, row, 1);
        }
}

static void
set_out_all (BlSetout *setout, const BlLayout *layout)
{
  g_autoptr (GArray) order = bl_setout_order (layout);
  g_autoptr (GArray) corners = bl_setout_corners (layout);
  g_autoptr (GArray) targets = g_array_new (FALSE, FALSE, sizeof (BlSetoutRow));

  for (guint i = 0; i < order->len; i++)
    {
      guint index = g_array_index (order, guint, i);
      const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, index);
      BlSetoutRow row = { .placed = index, .bed_id = placed->bed_id, .turn = i, .at = placed->at };

      if (targets->len == 0)
        for (guint k = 0; k < corners->len; k++)
          if (g_array_index (corners, BlSetoutRow, k).bed_id == placed->bed_id)
            g_array_append_vals (targets, &g_array_index (corners, BlSetoutRow, k), 1);
      g_array_append_val (targets, row);
      if (i + 1 < order->len
          && g_array_index (layout->placed, BlPlaced, g_array_index (order, guint, i + 1)).bed_id
                 == placed->bed_id)
        continue;
      set_out_bed (setout, targets);
      g_array_set_size (targets, 0);
    }
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
                   _("nothing is planted in this alternative; place plants before setting out."));
      return NULL;
    }
  setout = g_new0 (BlSetout, 1);
  setout->unit = units == BL_UNITS_FEET ? BL_METRES_PER_INCH / 4 : 0.01;
  setout->fixed = g_array_new (FALSE, FALSE, sizeof (BlFixedPoint));
  g_array_set_clear_func (setout->fixed, clear_fixed);
  setout->rows = g_array_new (FALSE, FALSE, sizeof (BlSetoutRow));
  setout->corners = g_array_new (FALSE, FALSE, sizeof (BlSetoutRow));
  setout->offsets = g_array_new (FALSE, FALSE, sizeof (BlOffsetRow));
  bl_setout_collect (layout->model, setout->fixed);
  if (setout->fixed->len < 2)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_UNSOLVED,
                   _("there are no two points to tape from; add a fixed point such as a wall corner "
                   "or a post to the plan."));
      return NULL;
    }
  set_out_all (setout, layout);
  bl_setout_measure_offsets (setout);
  return g_steal_pointer (&setout);
}

void
bl_setout_free (BlSetout *setout)
{
  g_array_unref (setout->fixed);
  g_array_unref (setout->rows);
  g_array_unref (setout->corners);
  g_array_unref (setout->offsets);
  g_free (setout);
}
