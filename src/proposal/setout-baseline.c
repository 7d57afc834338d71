/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting out by offsets: one tape lies from point to point, another is held square to it.
 *
 * A tape read over a length d errs by about 6 mm + 2 mm a metre, and a square laid out by eye or by a
 * 3-4-5 triangle leans by about a hundredth (common practice), which shifts what stands at the offset f
 * by f/100 along the line. The baseline is the one from which that is least for the whole bed. */
#include "proposal/setout-private.h"

#include <math.h>

#define LEAN 0.01
/* A line that the bed outruns by more than its own length would turn with every error of its ends. */
#define OUTRUN 1.0

static BlPoint
at_of (const BlSetout *setout, const BlOffsetRow *offset)
{
  return g_array_index (offset->corner ? setout->corners : setout->rows, BlSetoutRow, offset->row).at;
}

/* Sum of squared errors, metres²; @stop_at ends a sum that is lost. */
static double
cost_of (const BlSetout *setout, const GArray *offsets, guint from, guint to, BlPoint a, BlPoint b,
         double stop_at)
{
  double base = bl_dist (a, b), total = 0;
  BlPoint u = bl_mul (bl_sub (b, a), 1 / base);

  for (guint i = from; i < to && total < stop_at; i++)
    {
      BlPoint p = bl_sub (at_of (setout, &g_array_index (offsets, BlOffsetRow, i)), a);
      double along = bl_dot (u, p), off = fabs (bl_cross (u, p));
      double outrun = MAX (MAX (-along, along - base), 0) / base;
      double error = 0.012 + 0.002 * (fabs (along) + off) + LEAN * off + 0.02 * outrun;

      if (fabs (along) > BL_SETOUT_REACH || off > BL_SETOUT_REACH || outrun > OUTRUN)
        error = 1;
      total += error * error;
    }
  return total;
}

static void
choose_baseline (BlSetout *setout, guint from, guint to)
{
  double best = INFINITY;
  guint a = 0, b = 1;

  for (guint p = 0; p < setout->fixed->len; p++)
    for (guint q = p + 1; q < setout->fixed->len; q++)
      {
        const BlFixedPoint *fp = &g_array_index (setout->fixed, BlFixedPoint, p);
        const BlFixedPoint *fq = &g_array_index (setout->fixed, BlFixedPoint, q);
        double length = bl_dist (fp->at, fq->at), cost;

        if (length < 1 || length > BL_SETOUT_REACH)
          continue;
        cost = cost_of (setout, setout->offsets, from, to, fp->at, fq->at, best);
        /* Pegs have to be found first. */
        cost *= fp->peg || fq->peg ? 1.5 : 1;
        if (cost < best)
          {
            best = cost;
            a = p;
            b = q;
          }
      }
  for (guint i = from; i < to; i++)
    {
      BlOffsetRow *offset = &g_array_index (setout->offsets, BlOffsetRow, i);
      BlPoint start = g_array_index (setout->fixed, BlFixedPoint, a).at;
      BlPoint end = g_array_index (setout->fixed, BlFixedPoint, b).at;
      BlPoint u = bl_mul (bl_sub (end, start), 1 / bl_dist (start, end));
      BlPoint p = bl_sub (at_of (setout, offset), start);
      double off = bl_cross (u, p);

      offset->a = a;
      offset->b = b;
      offset->along = round (bl_dot (u, p) / setout->unit) * setout->unit;
      offset->off = round (fabs (off) / setout->unit) * setout->unit;
      offset->left = off > 0;
    }
}

/* Corners along each outline, plants in planting order: the rows themselves go pair by pair of tapes. */
static int
compare_offsets (gconstpointer x, gconstpointer y, gpointer data)
{
  const BlSetout *setout = data;
  const BlOffsetRow *p = x, *q = y;
  const BlSetoutRow *a, *b;

  if (p->corner != q->corner)
    return p->corner ? -1 : 1;
  a = &g_array_index (p->corner ? setout->corners : setout->rows, BlSetoutRow, p->row);
  b = &g_array_index (p->corner ? setout->corners : setout->rows, BlSetoutRow, q->row);
  if (a->planting_id != b->planting_id)
    return a->planting_id < b->planting_id ? -1 : 1;
  if (a->corner != b->corner)
    return a->corner < b->corner ? -1 : 1;
  return a->turn < b->turn ? -1 : a->turn > b->turn;
}

static void
add_rows (BlSetout *setout, gint64 bed_id)
{
  for (int corner = 1; corner >= 0; corner--)
    {
      const GArray *rows = corner ? setout->corners : setout->rows;

      for (guint i = 0; i < rows->len; i++)
        if (g_array_index (rows, BlSetoutRow, i).bed_id == bed_id)
          {
            BlOffsetRow offset = { .row = i, .corner = corner };

            g_array_append_val (setout->offsets, offset);
          }
    }
}

/* As g_array_sort_with_data(), from @from on. */
static void
sort_from (BlSetout *setout, guint from)
{
  g_qsort_with_data (&g_array_index (setout->offsets, BlOffsetRow, from),
                     (int) (setout->offsets->len - from), sizeof (BlOffsetRow), compare_offsets,
                     setout);
}

void
bl_setout_measure_offsets (BlSetout *setout)
{
  guint from = 0;

  for (guint i = 0; i < setout->rows->len; i++)
    {
      gint64 bed_id = g_array_index (setout->rows, BlSetoutRow, i).bed_id;

      if (i > 0 && g_array_index (setout->rows, BlSetoutRow, i - 1).bed_id == bed_id)
        continue;
      add_rows (setout, bed_id);
      sort_from (setout, from);
      choose_baseline (setout, from, setout->offsets->len);
      from = setout->offsets->len;
    }
}
