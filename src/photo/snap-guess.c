/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Corners as crossings of straight lines, each with the arms that are seen. */
#include "photo/snap-guess.h"

#include <stdlib.h>

#define FINE 0.6           /* of the pixels looked at, where other things are near */
#define MOST 5             /* corners fitted */
#define LEAST_ANGLE 0.2    /* radians between lines that cross */
#define THROUGH 1.2        /* pixels by which a line may miss a corner it belongs to */
#define LEAST_SHOWN 3.0    /* levels, of an arm */
#define APART 0.35         /* radians between two arms */
#define LEAST_BEND 0.6     /* radians by which two arms must turn: less is a curve */
#define LEAST_DEPTH 4.0    /* squared errors that a joint must save, in units of the texture's */
#define LEAST_GAIN 6.0     /* ... and an arm */
#define LEAST_EVEN 0.0
#define SAME 0.8           /* pixels between two crossings that are one */

typedef struct
{
  BlCorner corner;
  double shown;            /* levels, of its second best arm */
} Guess;

typedef struct
{
  double angle, shown;
  gboolean joint;
} Arm;

static int
compare_shown (gconstpointer a,
               gconstpointer b)
{
  double x = ((const Arm *) a)->shown, y = ((const Arm *) b)->shown;

  return x > y ? -1 : x < y;
}

static int
compare_angle (gconstpointer a,
               gconstpointer b)
{
  double x = ((const Arm *) a)->angle, y = ((const Arm *) b)->angle;

  return x < y ? -1 : x > y;
}

static int
compare_guess (gconstpointer a,
               gconstpointer b)
{
  double x = ((const Guess *) a)->shown, y = ((const Guess *) b)->shown;

  return x > y ? -1 : x < y;
}

/* The arms that leave @at, strongest first, one for each direction. */
static guint
seen_arms (const GArray *lines,
           BlPoint       at,
           Arm           arms[BL_CORNER_ARMS])
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (Arm));
  guint n = 0;

  for (guint i = 0; i < lines->len; i++)
    {
      const BlLine *line = &g_array_index (lines, BlLine, i);
      BlPoint off = bl_sub (at, line->on);

      if (fabs (bl_cross (line->along, off)) > THROUGH)
        continue;
      for (int sense = -1; sense <= 1; sense += 2)
        {
          Arm arm = { .shown = bl_line_shows (line, bl_dot (off, line->along), sense),
                      .angle = atan2 (sense * line->along.y, sense * line->along.x),
                      .joint = line->joint };

          if (arm.shown >= LEAST_SHOWN)
            g_array_append_val (all, arm);
        }
    }
  g_array_sort (all, compare_shown);
  for (guint i = 0; i < all->len && n < BL_CORNER_ARMS; i++)
    {
      const Arm *arm = &g_array_index (all, Arm, i);
      gboolean fresh = TRUE;

      for (guint k = 0; k < n && fresh; k++)
        fresh = fabs (remainder (arm->angle - arms[k].angle, 2.0 * G_PI)) >= APART;
      if (fresh)
        arms[n++] = *arm;
    }
  return n;
}

/* The corner that the arms make, if they are more than one edge. */
static gboolean
make_guess (BlPoint at,
            Arm    *arms,
            guint   n,
            Guess  *guess)
{
  double second = 0.0;

  for (guint k = 1; k < n; k++)
    if (fabs (sin (arms[k].angle - arms[0].angle)) >= sin (LEAST_ANGLE))
      second = MAX (second, arms[k].shown);
  if (second <= 0.0)
    return FALSE;
  *guess = (Guess) { .corner = { .at = at, .n_arms = n }, .shown = second };
  qsort (arms, n, sizeof *arms, compare_angle);
  for (guint k = 0; k < n; k++)
    {
      guess->corner.angle[k] = arms[k].angle;
      guess->corner.joint[k] = arms[k].joint;
    }
  /* What ends at an edge may well be a joint. */
  for (guint k = 0; k < n && n > 2; k++)
    {
      gboolean on = FALSE;

      for (guint i = 0; i < n; i++)
        on |= cos (arms[k].angle - arms[i].angle) < cos (G_PI - APART);
      guess->corner.joint[k] |= !on;
    }
  return TRUE;
}

static GArray *
make_guesses (const GArray *lines,
              BlPoint       middle,
              double        radius)
{
  GArray *guesses = g_array_new (FALSE, FALSE, sizeof (Guess));

  for (guint i = 0; i < lines->len; i++)
    for (guint k = 0; k < i; k++)
      {
        const BlLine *a = &g_array_index (lines, BlLine, i), *b = &g_array_index (lines, BlLine, k);
        double sine = bl_cross (a->along, b->along);
        BlPoint at;
        Arm arms[BL_CORNER_ARMS];
        Guess guess;
        guint n;

        if (fabs (sine) < sin (LEAST_ANGLE))
          continue;
        at = bl_add (a->on, bl_mul (a->along, bl_cross (bl_sub (b->on, a->on), b->along) / sine));
        if (bl_dist (at, middle) > radius + 1.0)
          continue;
        n = seen_arms (lines, at, arms);
        if (n >= 2 && make_guess (at, arms, n, &guess))
          g_array_append_val (guesses, guess);
      }
  g_array_sort (guesses, compare_guess);
  return guesses;
}

static gboolean
is_alike (const BlCorner *a,
          const BlCorner *b)
{
  if (a->n_arms != b->n_arms || bl_dist (a->at, b->at) > SAME)
    return FALSE;
  for (guint k = 0; k < a->n_arms; k++)
    if (a->joint[k] != b->joint[k]
        || fabs (remainder (a->angle[k] - b->angle[k], 2.0 * G_PI)) > APART)
      return FALSE;
  return TRUE;
}

static void
leave_out (BlCorner *corner,
           guint     arm)
{
  corner->n_arms--;
  for (guint k = arm; k < corner->n_arms; k++)
    {
      corner->angle[k] = corner->angle[k + 1];
      corner->joint[k] = corner->joint[k + 1];
    }
}

static gboolean
is_bent (const BlCorner *corner)
{
  double least = corner->n_arms == 2 ? LEAST_BEND : LEAST_ANGLE;

  for (guint k = 1; k < corner->n_arms; k++)
    if (fabs (sin (corner->angle[k] - corner->angle[0])) >= sin (least))
      return TRUE;
  return FALSE;
}

/* What an arm tells: nothing if a third of it is missing. */
static double
told (const BlCorner *corner,
      guint           arm)
{
  return corner->even[arm] < LEAST_EVEN ? 0.0 : corner->gain[arm];
}

/* Fits, and leaves out the arm or joint that tells least, until all that are left tell enough. */
static gboolean
fit_seen (const BlPatch *patch,
          BlCorner      *corner)
{
  for (gboolean again = FALSE; is_bent (corner); again = TRUE)
    {
      guint weakest = 0, faintest = 0;

      if (!bl_corner_fit (patch, again ? BL_FIT_AGAIN : BL_FIT_FIND, corner))
        return FALSE;
      for (guint k = 0; k < corner->n_arms; k++)
        {
          if (told (corner, k) < told (corner, weakest))
            weakest = k;
          if (corner->joint[k] && (!corner->joint[faintest]
                                   || corner->depth[k] < corner->depth[faintest]))
            faintest = k;
        }
      if (told (corner, weakest) < LEAST_GAIN)
        leave_out (corner, weakest);
      else if (corner->joint[faintest] && corner->depth[faintest] < LEAST_DEPTH)
        corner->joint[faintest] = FALSE;
      else
        return is_bent (corner);
    }
  return FALSE;
}

GArray *
bl_corners_find (const BlPatch *patch,
                 const GArray  *lines,
                 BlPoint        middle,
                 double         radius)
{
  g_autoptr (GArray) guesses = make_guesses (lines, middle, radius);
  GArray *corners = g_array_new (FALSE, FALSE, sizeof (BlCorner));
  guint tried = 0;

  for (guint i = 0; i < guesses->len && tried < MOST; i++)
    {
      BlCorner corner = g_array_index (guesses, Guess, i).corner;
      gboolean fresh = TRUE;

      for (guint k = 0; k < i && fresh; k++)
        fresh = !is_alike (&corner, &g_array_index (guesses, Guess, k).corner);
      if (!fresh)
        continue;
      tried++;
      for (int fine = 0; fine <= 1; fine++)
        {
          corner = g_array_index (guesses, Guess, i).corner;
          corner.scale = fine ? FINE : 1.0;
          if (fit_seen (patch, &corner) && bl_dist (corner.at, middle) <= radius)
            g_array_append_val (corners, corner);
        }
    }
  return corners;
}
