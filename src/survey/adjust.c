/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tape measurements adjusted to coordinates: starting places, then least squares. */
#include "config.h"

#include "base/error.h"
#include "survey/tape.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>

/* Crossing angles under this make a point weak: common practice. */
#define WEAK_ANGLE (30.0 * G_PI / 180.0)

/* The adjustment at work. Points are unknown while !placed; columns < 0 do not move. */
typedef struct
{
  BlTape *tape;
  gboolean *placed;
  int *column;          /* 2 a point: x and y */
  int n_columns;
  gboolean held;        /* no fixed points: a frame of its own */
  gboolean guessed;     /* a side was chosen by the order of the points */
} Net;

static BlTapePoint *
point_at (const Net *net,
          guint      i)
{
  return &g_array_index (net->tape->points, BlTapePoint, i);
}

static double
sd_of (const BlTapeDistance *d)
{
  return d->sd > 0.0 ? d->sd : 0.01 + d->distance / 1000.0;
}

static void
net_clear (Net *net)
{
  g_free (net->placed);
  g_free (net->column);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Net, net_clear)

static gboolean
check (const BlTape *tape,
       GError      **error)
{
  if (tape->points->len < 2)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           _("A tape survey needs at least two points."));
      return FALSE;
    }
  for (guint i = 0; i < tape->distances->len; i++)
    {
      const BlTapeDistance *d = &g_array_index (tape->distances, BlTapeDistance, i);

      if (d->from >= tape->points->len || d->to >= tape->points->len || d->from == d->to)
        {
          g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                       _("Distance %u must go from one point to another."), i + 1);
          return FALSE;
        }
      if (!(d->distance > 0.0 && d->distance < 10000.0) || !(d->sd >= 0.0 && isfinite (d->sd)))
        {
          g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                       _("The distance from %s to %s must be greater than nothing and less than 10 km."),
                       g_array_index (tape->points, BlTapePoint, d->from).name,
                       g_array_index (tape->points, BlTapePoint, d->to).name);
          return FALSE;
        }
    }
  for (guint i = 0; i < tape->points->len; i++)
    {
      const BlTapePoint *p = &g_array_index (tape->points, BlTapePoint, i);

      if (p->fixed && !(isfinite (p->at.x) && isfinite (p->at.y)))
        {
          g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                       _("The fixed point %s needs two coordinates."), p->name);
          return FALSE;
        }
    }
  return TRUE;
}

static double
distance_between (const Net *net,
                  guint      a,
                  guint      b)
{
  for (guint i = 0; i < net->tape->distances->len; i++)
    {
      const BlTapeDistance *d = &g_array_index (net->tape->distances, BlTapeDistance, i);

      if ((d->from == a && d->to == b) || (d->from == b && d->to == a))
        return d->distance;
    }
  return NAN;
}

/* How badly a place for point @i agrees with its tapes to points placed already. */
static double
disagreement (const Net *net,
              guint      i,
              BlPoint    at)
{
  double sum = 0.0;

  for (guint k = 0; k < net->tape->points->len; k++)
    {
      double d = k != i && net->placed[k] ? distance_between (net, i, k) : NAN;

      if (isfinite (d))
        sum += pow (bl_dist (at, point_at (net, k)->at) - d, 2.0);
    }
  return sum;
}

/* A place from two tapes; circles that just miss are taken to touch. */
static gboolean
meet (const Net *net,
      guint      a,
      double     ra,
      guint      b,
      double     rb,
      gboolean   left,
      BlPoint   *p)
{
  BlPoint pa = point_at (net, a)->at, pb = point_at (net, b)->at;
  double c = bl_dist (pa, pb), slack = 3.0 * (0.02 + 0.002 * c);

  if (bl_tape_intersect (pa, ra, pb, rb, left, p))
    return TRUE;
  if (!(c > 0.0))
    return FALSE;
  if (c - ra - rb > 0.0 && c - ra - rb < slack)
    *p = bl_lerp (pa, pb, ra / (ra + rb));
  else if (fabs (ra - rb) - c > 0.0 && fabs (ra - rb) - c < slack)
    *p = bl_lerp (pa, pb, ra > rb ? ra / c : -ra / c);
  else
    return FALSE;
  return TRUE;
}

/* Places point @i from the pair of placed points that crosses best. */
static gboolean
place_point (Net  *net,
             guint i)
{
  double best = 0.0, ra = 0.0, rb = 0.0, dl, dr;
  guint n = net->tape->points->len, a = 0, b = 0, known = 0;
  BlPoint l, r;

  for (guint j = 0; j < n; j++)
    for (guint k = 0; k < j; k++)
      {
        double dj, dk, sine;

        if (!net->placed[j] || !net->placed[k] || j == i || k == i)
          continue;
        dj = distance_between (net, i, j);
        dk = distance_between (net, i, k);
        if (!isfinite (dj) || !isfinite (dk) || !meet (net, k, dk, j, dj, TRUE, &l))
          continue;
        sine = fabs (bl_cross (bl_sub (point_at (net, k)->at, l), bl_sub (point_at (net, j)->at, l)))
               / (dj * dk) + 1e-9;
        if (sine > best)
          {
            best = sine;
            a = k;
            b = j;
            ra = dk;
            rb = dj;
          }
      }
  if (best <= 0.0 || !meet (net, a, ra, b, rb, TRUE, &l) || !meet (net, a, ra, b, rb, FALSE, &r))
    return FALSE;
  for (guint k = 0; k < n; k++)
    known += k != i && net->placed[k] && isfinite (distance_between (net, i, k));
  dl = disagreement (net, i, l);
  dr = disagreement (net, i, r);
  /* A third tape tells the side; else the one that keeps the order of the points going round
   * counter-clockwise: left of the earlier to the later point. */
  if (known >= 3 && fabs (dl - dr) > 1e-12)
    point_at (net, i)->at = dl < dr ? l : r;
  else
    {
      point_at (net, i)->at = a < b ? l : r;
      net->guessed = TRUE;
    }
  net->placed[i] = TRUE;
  return TRUE;
}

static gboolean
place_all (Net     *net,
           GError **error)
{
  guint n = net->tape->points->len, fixed = 0;

  for (guint i = 0; i < n; i++)
    {
      net->placed[i] = point_at (net, i)->fixed;
      fixed += point_at (net, i)->fixed;
    }
  if (fixed == 0)
    {
      double d = distance_between (net, 0, 1);

      if (!isfinite (d))
        {
          g_set_error (error, BL_ERROR, BL_ERROR_UNSOLVED,
                       _("Tape the distance from %s to %s, on which the others are built, or fix two "
                       "points."), point_at (net, 0)->name, point_at (net, 1)->name);
          return FALSE;
        }
      point_at (net, 0)->at = BL_POINT (0.0, 0.0);
      point_at (net, 1)->at = BL_POINT (d, 0.0);
      net->placed[0] = net->placed[1] = TRUE;
      net->held = TRUE;
    }
  for (gboolean moved = TRUE; moved;)
    {
      moved = FALSE;
      for (guint i = 0; i < n; i++)
        if (!net->placed[i] && place_point (net, i))
          moved = TRUE;
    }
  for (guint i = 0; i < n; i++)
    if (!net->placed[i])
      {
        g_set_error (error, BL_ERROR, BL_ERROR_UNSOLVED,
                     _("Point %s cannot be placed: it needs tapes to two points whose place is known, "
                     "and these must reach one another."), point_at (net, i)->name);
        return FALSE;
      }
  return TRUE;
}

static void
number_columns (Net *net)
{
  for (guint i = 0; i < net->tape->points->len; i++)
    {
      gboolean fixed = point_at (net, i)->fixed;

      net->column[2 * i] = fixed || (net->held && i == 0) ? -1 : net->n_columns++;
      net->column[2 * i + 1] = fixed || (net->held && i <= 1) ? -1 : net->n_columns++;
    }
}

/* Observation equations: v = (x - xi)/D dx + (y - yi)/D dy - (observed - D), over their standard
 * deviations (Ghilani, Adjustment Computations, chapter 14). */
static void
fill (const Net  *net,
      gsl_matrix *a,
      gsl_vector *w)
{
  gsl_matrix_set_zero (a);
  for (guint i = 0; i < net->tape->distances->len; i++)
    {
      const BlTapeDistance *d = &g_array_index (net->tape->distances, BlTapeDistance, i);
      BlPoint from = point_at (net, d->from)->at, to = point_at (net, d->to)->at;
      double length = MAX (bl_dist (from, to), 1e-9), sd = sd_of (d);
      double slope[2] = { (to.x - from.x) / length / sd, (to.y - from.y) / length / sd };

      for (int k = 0; k < 2; k++)
        {
          int cf = net->column[2 * d->from + k], ct = net->column[2 * d->to + k];

          if (cf >= 0)
            gsl_matrix_set (a, i, cf, -slope[k]);
          if (ct >= 0)
            gsl_matrix_set (a, i, ct, slope[k]);
        }
      gsl_vector_set (w, i, (d->distance - length) / sd);
    }
}

static double
move (Net              *net,
      const gsl_vector *x,
      double            gain)
{
  double most = 0.0;

  for (guint i = 0; i < net->tape->points->len; i++)
    for (int k = 0; k < 2; k++)
      {
        int c = net->column[2 * i + k];
        double *at = k == 0 ? &point_at (net, i)->at.x : &point_at (net, i)->at.y;

        if (c < 0)
          continue;
        *at += gain * gsl_vector_get (x, c);
        most = MAX (most, fabs (gsl_vector_get (x, c)));
      }
  return most;
}

static double
sum_squares (const Net *net)
{
  double sum = 0.0;

  for (guint i = 0; i < net->tape->distances->len; i++)
    {
      const BlTapeDistance *d = &g_array_index (net->tape->distances, BlTapeDistance, i);

      sum += pow ((bl_dist (point_at (net, d->from)->at, point_at (net, d->to)->at) - d->distance)
                  / sd_of (d), 2.0);
    }
  return sum;
}

/* Normalised residuals, the worst, and the figures of the whole. */
static void
judge_residuals (Net              *net,
                 const gsl_matrix *q)
{
  BlTape *tape = net->tape;
  double sum = 0.0, squares = 0.0, mean = 0.0, worst = 3.0;

  for (guint i = 0; i < tape->distances->len; i++)
    {
      BlTapeDistance *d = &g_array_index (tape->distances, BlTapeDistance, i);
      double hat = 0.0;

      d->residual = bl_dist (point_at (net, d->from)->at, point_at (net, d->to)->at) - d->distance;
      /* Leverage: the squared length of this row of the orthonormal factor. */
      for (gsize k = 0; k < q->size2; k++)
        hat += gsl_matrix_get (q, i, k) * gsl_matrix_get (q, i, k);
      d->normalised = 1.0 - hat > 1e-6 ? d->residual / sd_of (d) / sqrt (1.0 - hat) : 0.0;
      sum += pow (d->residual / sd_of (d), 2.0);
      squares += d->residual * d->residual / tape->distances->len;
      mean += d->distance / tape->distances->len;
      if (fabs (d->normalised) > worst)
        {
          worst = fabs (d->normalised);
          tape->worst = (int) i;
        }
    }
  tape->dof = (int) tape->distances->len - net->n_columns;
  tape->s0 = tape->dof > 0 ? sqrt (sum / tape->dof) : NAN;
  tape->relative = mean > 0.0 ? sqrt (squares) / mean : 0.0;
}

static void
standard_deviations (Net              *net,
                     const gsl_matrix *v,
                     const gsl_vector *s)
{
  for (guint i = 0; i < net->tape->points->len; i++)
    for (int k = 0; k < 2; k++)
      {
        int c = net->column[2 * i + k];
        double *sd = k == 0 ? &point_at (net, i)->sx : &point_at (net, i)->sy, sum = 0.0;

        for (gsize j = 0; c >= 0 && j < s->size; j++)
          sum += pow (gsl_matrix_get (v, c, j) / gsl_vector_get (s, j), 2.0);
        *sd = sqrt (sum);
      }
}

static gboolean
solve (Net     *net,
       GError **error)
{
  gsize m = MAX (net->tape->distances->len, (guint) net->n_columns), n = (gsize) net->n_columns;
  gsl_matrix *a = gsl_matrix_calloc (m, n), *v = gsl_matrix_alloc (n, n);
  gsl_vector *w = gsl_vector_calloc (m), *s = gsl_vector_alloc (n), *x = gsl_vector_alloc (n);
  gboolean fixed = TRUE;

  for (int i = 0; i < 50 && fixed; i++)
    {
      double before = sum_squares (net), gain = 1.0, moved;

      fill (net, a, w);
      gsl_linalg_SV_decomp_jacobi (a, v, s);
      fixed = gsl_vector_get (s, n - 1) > 1e-7 * gsl_vector_get (s, 0);
      if (!fixed)
        break;
      gsl_linalg_SV_solve (a, v, s, w, x);
      moved = move (net, x, gain);
      while (sum_squares (net) > before * (1.0 + 1e-9) + 1e-12 && gain > 1e-3)
        {
          move (net, x, -0.5 * gain);
          gain *= 0.5;
        }
      if (moved < 1e-10)
        break;
    }
  if (fixed)
    {
      fill (net, a, w);
      gsl_linalg_SV_decomp_jacobi (a, v, s);
      judge_residuals (net, a);
      standard_deviations (net, v, s);
    }
  else
    g_set_error_literal (error, BL_ERROR, BL_ERROR_UNSOLVED,
                         _("These tapes leave the figure free to move: fix another point, or tape a "
                         "diagonal."));
  gsl_matrix_free (a);
  gsl_matrix_free (v);
  gsl_vector_free (w);
  gsl_vector_free (s);
  gsl_vector_free (x);
  return fixed;
}

/* The best crossing of two tapes at a point; the weakest point is what the warning is about. */
static guint
weakest (Net *net)
{
  guint at = 0;

  net->tape->weakest_angle = G_PI_2;
  for (guint i = 0; i < net->tape->points->len; i++)
    {
      double best = -1.0;
      BlPoint p = point_at (net, i)->at;

      if (net->column[2 * i] < 0 || (net->held && i <= 1))
        continue;
      for (guint j = 0; j < net->tape->points->len; j++)
        for (guint k = 0; k < j; k++)
          {
            BlPoint u, v;

            if (j == i || k == i || !isfinite (distance_between (net, i, j))
                || !isfinite (distance_between (net, i, k)))
              continue;
            u = bl_sub (point_at (net, j)->at, p);
            v = bl_sub (point_at (net, k)->at, p);
            best = MAX (best, fabs (atan2 (fabs (bl_cross (u, v)), fabs (bl_dot (u, v)))));
          }
      if (best >= 0.0 && best < net->tape->weakest_angle)
        {
          net->tape->weakest_angle = best;
          at = i;
        }
    }
  return at;
}

static void
add_words (Net  *net,
           guint weak)
{
  BlTape *tape = net->tape;
  g_autoptr (GString) words = g_string_new (NULL);

  if (tape->worst >= 0)
    {
      const BlTapeDistance *d = &g_array_index (tape->distances, BlTapeDistance, tape->worst);
      /* What the others make it without this one: the residual over its redundancy. */
      double without = d->distance + pow (sd_of (d) * d->normalised, 2.0) / d->residual;

      g_autofree char *taped = bl_length_format_decimal (d->distance, tape->units, 2);
      g_autofree char *made = bl_length_format_decimal (without, tape->units, 2);

      g_string_append_printf (words, _("The tape from %s to %s disagrees with the others: %s was taped, "
                              "they make it %s; tape it again."),
                              point_at (net, d->from)->name, point_at (net, d->to)->name, taped, made);
    }
  if (tape->weakest_angle < WEAK_ANGLE)
    g_string_append_printf (words, _("%sThe tapes to %s cross at only %.0f°, so its place is weak; add "
                            "one from another side."), words->len > 0 ? " " : "",
                            point_at (net, weak)->name, tape->weakest_angle * 180.0 / G_PI);
  if (net->guessed)
    g_string_append_printf (words, _("%sSome points could lie on either side of a line; they were taken "
                            "to go round counter-clockwise, so check the figure."),
                            words->len > 0 ? " " : "");
  if (words->len > 0)
    tape->message = g_strdup (words->str);
}

gboolean
bl_tape_adjust (BlTape  *tape,
                GError **error)
{
  gsl_error_handler_t *handler;
  g_auto (Net) net = { .tape = tape };
  gboolean done;

  g_return_val_if_fail (tape != NULL, FALSE);
  tape->adjusted = FALSE;
  tape->worst = -1;
  g_clear_pointer (&tape->message, g_free);
  if (!check (tape, error))
    return FALSE;
  net.placed = g_new0 (gboolean, tape->points->len);
  net.column = g_new0 (int, 2 * tape->points->len);
  if (!place_all (&net, error))
    return FALSE;
  number_columns (&net);
  handler = gsl_set_error_handler_off ();
  done = net.n_columns == 0 || solve (&net, error);
  gsl_set_error_handler (handler);
  if (!done)
    return FALSE;
  tape->adjusted = TRUE;
  add_words (&net, weakest (&net));
  return TRUE;
}
