/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is wrong with a set of knowns before anything is solved. */
#include "config.h"

#include "base/error.h"
#include "photo/model-private.h"

#include <glib/gi18n-lib.h>
#include <stdarg.h>

char *
bl_say_length (double  metres,
               BlUnits units)
{
  return bl_length_format_decimal (metres, units, 2);
}

G_GNUC_PRINTF (3, 4)
static gboolean
refuse (const BlKnown *known,
        GError       **error,
        const char    *format,
        ...)
{
  g_autofree char *who = bl_known_describe (known), *what = NULL;
  va_list args;

  va_start (args, format);
  what = g_strdup_vprintf (format, args);
  va_end (args);
  who[0] = g_ascii_toupper (who[0]);
  g_set_error (error, BL_ERROR, BL_ERROR_UNSOLVED, "%s %s", who, what);
  return FALSE;
}

static double
line_distance (BlPoint p,
               BlPoint a,
               BlPoint b)
{
  double length = bl_dist (a, b);

  return length > 0.0 ? fabs (bl_cross (bl_sub (b, a), bl_sub (p, a))) / length : bl_dist (p, a);
}

static gboolean
check_rectangle (const BlKnown *known,
                 double         click,
                 GError       **error)
{
  double least = INFINITY;
  int turns = 0;

  for (guint i = 0; i < 4; i++)
    {
      BlPoint a = bl_points_at (known->px, i), b = bl_points_at (known->px, (i + 1) % 4);
      BlPoint c = bl_points_at (known->px, (i + 2) % 4);

      least = MIN (least, line_distance (b, a, c));
      least = MIN (least, bl_dist (a, b));
      turns += bl_cross (bl_sub (b, a), bl_sub (c, b)) > 0.0 ? 1 : -1;
    }
  if (least < MAX (click, 1e-3))
    return refuse (known, error, _("has corners that coincide or lie on one line in the photo; "
                   "place its four corners again."));
  if (turns != 4 && turns != -4)
    return refuse (known, error, _("has its corners out of order; go round it from corner to "
                   "corner, the width first."));
  return TRUE;
}

static gboolean
check_apart (const BlKnown *known,
             guint          i,
             guint          j,
             double         click,
             GError       **error)
{
  if (bl_dist (bl_points_at (known->px, i), bl_points_at (known->px, j)) >= MAX (click, 1e-3))
    return TRUE;
  return refuse (known, error, _("has points %u and %u on the same spot of the photo; move one of "
                 "them."), i + 1, j + 1);
}

static gboolean
check_shape (const BlKnown *known,
             double         click,
             GError       **error)
{
  switch (known->kind)
    {
    case BL_KNOWN_RECTANGLE:
      return check_rectangle (known, click, error);
    case BL_KNOWN_PARALLEL:
    case BL_KNOWN_EQUAL_LENGTHS:
      return check_apart (known, 0, 1, click, error) && check_apart (known, 2, 3, click, error);
    case BL_KNOWN_LENGTH:
    case BL_KNOWN_HEIGHT:
    case BL_KNOWN_HORIZON:
      return check_apart (known, 0, 1, click, error);
    case BL_KNOWN_RIGHT_ANGLE:
      return check_apart (known, 0, 1, click, error) && check_apart (known, 1, 2, click, error);
    case BL_KNOWN_STRAIGHT:
      for (guint i = 1; i < known->px->len; i++)
        if (!check_apart (known, i - 1, i, click, error))
          return FALSE;
      return TRUE;
    case BL_KNOWN_POSITION:
    case BL_KNOWN_EYE:
    case BL_KNOWN_CHECK:
    case BL_KNOWN_N:
    default:
      return TRUE;
    }
}

/* The ground lies below the horizon. */
static gboolean
check_below_horizon (const GPtrArray *knowns,
                     const BlKnown   *horizon,
                     double           click,
                     GError         **error)
{
  BlPoint a = bl_points_at (horizon->px, 0), b = bl_points_at (horizon->px, 1);

  if (a.x > b.x)
    {
      BlPoint t = a;

      a = b;
      b = t;
    }
  for (guint k = 0; k < knowns->len; k++)
    {
      const BlKnown *known = g_ptr_array_index (knowns, k);

      for (guint i = 0; i < bl_known_ground_clicks (known); i++)
        {
          BlPoint p = bl_points_at (known->px, i);

          if (bl_cross (bl_sub (b, a), bl_sub (p, a)) > click * bl_dist (a, b))
            continue;
          return refuse (known, error, _("has point %u at or above the horizon, where there is no "
                         "ground; move the horizon up or the point down."), i + 1);
        }
    }
  return TRUE;
}

static gboolean
check_positions (const BlPhotoPrior *prior,
                 const GPtrArray    *knowns,
                 double              click,
                 GError            **error)
{
  for (guint i = 0; i < knowns->len; i++)
    for (guint j = 0; j < i; j++)
      {
        const BlKnown *a = g_ptr_array_index (knowns, i), *b = g_ptr_array_index (knowns, j);
        g_autofree char *says = NULL;
        double apart;

        if (a->kind != BL_KNOWN_POSITION || b->kind != BL_KNOWN_POSITION)
          continue;
        apart = hypot (a->size[0] - b->size[0], a->size[1] - b->size[1]);
        if (apart < 1e-6)
          return refuse (a, error, _("has the same plan coordinates as another surveyed point; "
                         "take one of them out."));
        if (bl_dist (bl_points_at (a->px, 0), bl_points_at (b->px, 0)) < MAX (click, 1e-3))
          {
            says = bl_say_length (apart, prior->units);
            return refuse (a, error, _("is at the same spot of the photo as another surveyed point "
                           "%s away in the plan."), says);
          }
      }
  return TRUE;
}

static gboolean
check_prior (const BlPhotoPrior *prior,
             GError            **error)
{
  const char *what = NULL;

  if (prior->width <= 0 || prior->height <= 0)
    what = _("The photo has no size; load it again.");
  else if (!(prior->focal_35mm >= 0.0 && prior->focal_35mm < 5000.0)
           || (prior->focal_35mm > 0.0 && prior->focal_35mm < 4.0))
    what = _("The focal length must be between 4 and 5000 mm (35 mm equivalent), or left out.");
  else if (!(prior->click_px >= 0.0 && prior->click_px < 1000.0)
           || !(prior->focal_rel_sd >= 0.0 && isfinite (prior->focal_rel_sd)))
    what = _("The error of a click must be a number of pixels from 0 to 1000.");
  else if (!(fabs (prior->slope) <= 1.0) || !isfinite (prior->slope_direction))
    what = _("The fall of the ground must be between 0 and 1 (100 %).");
  if (what != NULL)
    g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT, what);
  return what == NULL;
}

static gboolean
check_scale (const GPtrArray *knowns,
             GError         **error)
{
  guint n = 0, positions = 0;

  for (guint k = 0; k < knowns->len; k++)
    {
      const BlKnown *known = g_ptr_array_index (knowns, k);

      if (known->kind == BL_KNOWN_RECTANGLE || known->kind == BL_KNOWN_LENGTH
          || known->kind == BL_KNOWN_HEIGHT || known->kind == BL_KNOWN_EYE)
        return TRUE;
      n += known->kind != BL_KNOWN_CHECK;
      positions += known->kind == BL_KNOWN_POSITION;
    }
  if (positions >= 2)
    return TRUE;
  g_set_error_literal (error, BL_ERROR, BL_ERROR_UNSOLVED,
                       n == 0 ? _("Nothing is known of this photo yet: give a rectangle on the ground "
                                "with its two sides, such as a piece of walk.")
                              : _("These knowns leave the camera's height open: give one length on "
                                "the ground, the height of an upright thing, or the height of the "
                                "lens."));
  return FALSE;
}

gboolean
bl_knowns_check (const BlPhotoPrior *prior,
                 const GPtrArray    *knowns,
                 GError            **error)
{
  double click;

  if (!check_prior (prior, error))
    return FALSE;
  click = prior->click_px > 0.0 ? prior->click_px : 1.5 * MAX (prior->width, prior->height) / 4032.0;
  for (guint k = 0; k < knowns->len; k++)
    {
      const BlKnown *known = g_ptr_array_index (knowns, k);
      double own = known->click_px > 0.0 ? known->click_px : click;

      if (!bl_known_check (known, error))
        return FALSE;
      for (guint i = 0; i < known->px->len; i++)
        {
          BlPoint p = bl_points_at (known->px, i);

          if (fabs (p.x - prior->width / 2.0) > 1.5 * prior->width
              || fabs (p.y - prior->height / 2.0) > 1.5 * prior->height)
            return refuse (known, error, _("has point %u far outside the photo, at (%.0f, %.0f); the "
                           "photo is %d × %d pixels."), i + 1, p.x, p.y, prior->width,
                           prior->height);
        }
      if (!check_shape (known, own, error))
        return FALSE;
    }
  for (guint k = 0; k < knowns->len; k++)
    {
      const BlKnown *known = g_ptr_array_index (knowns, k);

      if (known->kind == BL_KNOWN_HORIZON && !check_below_horizon (knowns, known, click, error))
        return FALSE;
    }
  return check_positions (prior, knowns, click, error) && check_scale (knowns, error);
}

gboolean
bl_knowns_in_line (const GPtrArray *knowns)
{
  g_autoptr (BlPoints) clicks = bl_points_new ();
  BlPoint a = { 0, 0 }, b = { 0, 0 };
  double longest = 0.0, off = 0.0;

  for (guint k = 0; k < knowns->len; k++)
    {
      const BlKnown *known = g_ptr_array_index (knowns, k);

      if (known->kind != BL_KNOWN_CHECK)
        g_array_append_vals (clicks, known->px->data, bl_known_ground_clicks (known));
    }
  for (guint i = 0; i < clicks->len; i++)
    for (guint j = 0; j < i; j++)
      if (bl_dist (bl_points_at (clicks, i), bl_points_at (clicks, j)) > longest)
        {
          a = bl_points_at (clicks, i);
          b = bl_points_at (clicks, j);
          longest = bl_dist (a, b);
        }
  for (guint i = 0; i < clicks->len; i++)
    off = MAX (off, line_distance (bl_points_at (clicks, i), a, b));
  return clicks->len >= 3 && off < 0.01 * longest;
}
