/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tape measurements: building a survey, and a point at two distances. */
#include "survey/tape.h"


static void
clear_point (gpointer data)
{
  g_free (((BlTapePoint *) data)->name);
}

BlTape *
bl_tape_new (void)
{
  BlTape *tape = g_new0 (BlTape, 1);

  tape->points = g_array_new (FALSE, TRUE, sizeof (BlTapePoint));
  g_array_set_clear_func (tape->points, clear_point);
  tape->distances = g_array_new (FALSE, TRUE, sizeof (BlTapeDistance));
  tape->s0 = NAN;
  tape->worst = -1;
  return tape;
}

BlTape *
bl_tape_copy (const BlTape *tape)
{
  BlTape *copy = bl_tape_new ();
  GArray *points = copy->points, *distances = copy->distances;

  *copy = *tape;
  copy->points = points;
  copy->distances = distances;
  copy->message = g_strdup (tape->message);
  for (guint i = 0; i < tape->points->len; i++)
    {
      BlTapePoint point = g_array_index (tape->points, BlTapePoint, i);

      point.name = g_strdup (point.name);
      g_array_append_val (points, point);
    }
  g_array_append_vals (distances, tape->distances->data, tape->distances->len);
  return copy;
}

void
bl_tape_free (BlTape *tape)
{
  if (tape == NULL)
    return;
  g_array_unref (tape->points);
  g_array_unref (tape->distances);
  g_free (tape->message);
  g_free (tape);
}

guint
bl_tape_add_point (BlTape     *tape,
                   const char *name)
{
  BlTapePoint point = { .name = g_strdup (name != NULL ? name : "") };

  g_array_append_val (tape->points, point);
  return tape->points->len - 1;
}

int
bl_tape_find (const BlTape *tape,
              const char   *name)
{
  for (guint i = 0; i < tape->points->len; i++)
    if (g_strcmp0 (g_array_index (tape->points, BlTapePoint, i).name, name) == 0)
      return (int) i;
  return -1;
}

void
bl_tape_fix (BlTape *tape,
             guint   point,
             BlPoint at)
{
  BlTapePoint *p = &g_array_index (tape->points, BlTapePoint, point);

  g_return_if_fail (point < tape->points->len);
  p->fixed = TRUE;
  p->at = at;
}

void
bl_tape_add_distance (BlTape *tape,
                      guint   from,
                      guint   to,
                      double  metres,
                      double  sd)
{
  BlTapeDistance d = { .from = from, .to = to, .distance = metres, .sd = sd };

  g_array_append_val (tape->distances, d);
}

gboolean
bl_tape_intersect (BlPoint  a,
                   double   ra,
                   BlPoint  b,
                   double   rb,
                   gboolean left,
                   BlPoint *p)
{
  double c = bl_dist (a, b), x, y2;
  BlPoint u;

  if (!(c > 0.0) || !(ra > 0.0) || !(rb > 0.0))
    return FALSE;
  x = (ra * ra - rb * rb + c * c) / (2.0 * c);
  y2 = ra * ra - x * x;
  if (!(y2 > 0.0))
    return FALSE;
  u = bl_mul (bl_sub (b, a), 1.0 / c);
  *p = bl_add (bl_add (a, bl_mul (u, x)),
               bl_mul (BL_POINT (-u.y, u.x), left ? sqrt (y2) : -sqrt (y2)));
  return TRUE;
}
