/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lengths, areas and heights from the photo, each with its standard deviation. */
#include "config.h"

#include "base/error.h"
#include "geometry/polygon.h"
#include "photo/measure-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* The delta method: the variance of a quantity is g' C g over the camera's parameters plus the
 * squared derivative by each click. Derivatives are central differences, each over a tenth of a
 * standard deviation, where the quantity is straight but rounding does not matter. */

static gboolean
differ (const BlCamera *camera,
        int             p,
        double          step,
        BlQuantity      quantity,
        const BlPoints *px,
        gconstpointer   data,
        double         *derivative)
{
  double params[BL_CAM_N], hi, lo;
  BlCamera moved = *camera;

  bl_camera_get_params (camera, params);
  params[p] += step;
  bl_camera_set_params (&moved, params);
  if (!quantity (&moved, px, data, &hi))
    return FALSE;
  params[p] -= 2.0 * step;
  bl_camera_set_params (&moved, params);
  if (!quantity (&moved, px, data, &lo))
    return FALSE;
  *derivative = (hi - lo) / (2.0 * step);
  return TRUE;
}

gboolean
bl_gradient_camera (const BlCamera *camera,
                    BlQuantity      quantity,
                    const BlPoints *px,
                    gconstpointer   data,
                    double         *gradient)
{
  for (int p = 0; p < BL_CAM_N; p++)
    {
      double sd = sqrt (camera->cov[p * BL_CAM_N + p]), step;

      gradient[p] = 0.0;
      if (!(sd > 0.0))
        continue;
      /* Near the horizon a long step may leave the ground. */
      step = 0.1 * sd;
      while (!differ (camera, p, step, quantity, px, data, &gradient[p]))
        {
          if (step < 1e-9 * sd)
            return FALSE;
          step *= 0.1;
        }
    }
  return TRUE;
}

/* By the click that is point @at of @px: two derivatives. */
static gboolean
differ_click (const BlCamera *camera,
              BlQuantity      quantity,
              BlPoints       *px,
              guint           at,
              gconstpointer   data,
              double         *gradient)
{
  const double step = 0.05;
  BlPoint *p = &bl_points_at (px, at), was = *p;
  double hi, lo;

  for (guint i = 0; i < 2; i++)
    {
      double *moved = i == 0 ? &p->x : &p->y, from = *moved;

      *moved = from + step;
      if (!quantity (camera, px, data, &hi))
        return FALSE;
      *moved = from - step;
      if (!quantity (camera, px, data, &lo))
        return FALSE;
      *p = was;
      gradient[i] = (hi - lo) / (2.0 * step);
    }
  return TRUE;
}

gboolean
bl_gradient_clicks (const BlCamera *camera,
                    BlQuantity      quantity,
                    const BlPoints *px,
                    gconstpointer   data,
                    double         *gradient)
{
  g_autoptr (BlPoints) moved = bl_points_copy (px);

  for (guint i = 0; i < px->len; i++)
    if (!differ_click (camera, quantity, moved, i, data, &gradient[2 * i]))
      return FALSE;
  return TRUE;
}

/* A click moves the curve no farther than two points to either side of it, so the derivative of what
 * is summed along the line is that of a window of it: the line costs as many windows as it has points,
 * not its square. */
#define WINDOW 7

static gboolean
gradient_along (const BlCamera  *camera,
                BlQuantity       quantity,
                const BlPoints  *px,
                const BlOutline *shape,
                double          *gradient)
{
  g_autoptr (BlPoints) part = bl_points_new ();
  gboolean sharp[WINDOW];
  BlOutline window = { .straight = shape->straight, .open = TRUE };
  guint n = px->len;

  if (n <= WINDOW || shape->open)
    return bl_gradient_clicks (camera, quantity, px, shape, gradient);
  g_array_set_size (part, WINDOW);
  window.sharp = shape->sharp != NULL ? sharp : NULL;
  for (guint i = 0; i < n; i++)
    {
      guint from = i + n - WINDOW / 2;

      for (guint k = 0; k < WINDOW; k++)
        {
          bl_points_at (part, k) = bl_points_at (px, (from + k) % n);
          sharp[k] = shape->sharp != NULL && shape->sharp[(from + k) % n];
        }
      if (!differ_click (camera, quantity, part, WINDOW / 2, &window, &gradient[2 * i]))
        return FALSE;
    }
  return TRUE;
}

double
bl_camera_variance (const BlCamera *camera,
                    const double   *a,
                    const double   *b)
{
  double sum = 0.0;

  for (int i = 0; i < BL_CAM_N; i++)
    for (int k = 0; k < BL_CAM_N; k++)
      sum += a[i] * camera->cov[i * BL_CAM_N + k] * b[k];
  return sum;
}

static gboolean
check_solved (const BlCamera *camera,
              GError        **error)
{
  if (camera->solved && camera->scaled)
    return TRUE;
  g_set_error_literal (error, BL_ERROR, BL_ERROR_UNSOLVED,
                       camera->solved ? _("No length is known in this photo yet, so nothing in it can be "
                                        "measured; give one length on the ground.")
                                      : _("Nothing is known of this photo yet, so nothing in it can be "
                                        "measured."));
  return FALSE;
}

/* The derivatives by the clicks. */
typedef gboolean (*Clicks) (const BlCamera *camera,
                            BlQuantity      quantity,
                            const BlPoints *px,
                            gconstpointer   data,
                            double         *gradient);

static gboolean
measure (const BlCamera *camera,
         BlQuantity      quantity,
         Clicks          by_clicks,
         const BlPoints *px,
         gconstpointer   data,
         double          click_px,
         BlMeasured     *measured,
         GError        **error)
{
  double gradient[BL_CAM_N], variance;
  g_autofree double *clicks = g_new (double, 2 * px->len);

  if (!quantity (camera, px, data, &measured->value)
      || !bl_gradient_camera (camera, quantity, px, data, gradient)
      || !by_clicks (camera, quantity, px, data, clicks))
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_UNSOLVED,
                           _("A point lies at or too near the horizon to be measured; move it down in "
                           "the photo."));
      return FALSE;
    }
  variance = bl_camera_variance (camera, gradient, gradient);
  for (guint i = 0; i < 2 * px->len; i++)
    variance += clicks[i] * clicks[i] * click_px * click_px;
  measured->sd = sqrt (MAX (variance, 0.0));
  return TRUE;
}

gboolean
bl_length_quantity (const BlCamera *camera,
                    const BlPoints *px,
                    gconstpointer   data,
                    double         *value)
{
  BlPoint a, b;

  if (!bl_camera_to_ground (camera, bl_points_at (px, 0), &a)
      || !bl_camera_to_ground (camera, bl_points_at (px, 1), &b))
    return FALSE;
  *value = bl_dist (a, b);
  return TRUE;
}

gboolean
bl_height_quantity (const BlCamera *camera,
                    const BlPoints *px,
                    gconstpointer   data,
                    double         *value)
{
  BlPoint base;

  if (!bl_camera_to_ground (camera, bl_points_at (px, 0), &base))
    return FALSE;
  *value = bl_camera_height_at (camera, base, bl_points_at (px, 1));
  return isfinite (*value);
}

static gboolean
measure_pair (const BlCamera *camera,
              BlQuantity      quantity,
              BlPoint         a,
              BlPoint         b,
              double          click_px,
              BlMeasured     *measured,
              GError        **error)
{
  g_autoptr (BlPoints) px = bl_points_new ();

  if (!check_solved (camera, error))
    return FALSE;
  bl_points_add (px, a);
  bl_points_add (px, b);
  return measure (camera, quantity, bl_gradient_clicks, px, NULL, click_px, measured, error);
}

gboolean
bl_measure_length (const BlCamera *camera,
                   BlPoint         a,
                   BlPoint         b,
                   double          click_px,
                   BlMeasured     *length,
                   GError        **error)
{
  return measure_pair (camera, bl_length_quantity, a, b, click_px, length, error);
}

gboolean
bl_measure_height (const BlCamera *camera,
                   BlPoint         base,
                   BlPoint         top,
                   double          click_px,
                   BlMeasured     *height,
                   GError        **error)
{
  return measure_pair (camera, bl_height_quantity, base, top, click_px, height, error);
}

/* @data is the outline that says which corners are sharp. */
static BlPoints *
ground_ring (const BlCamera  *camera,
             const BlPoints  *px,
             const BlOutline *shape,
             guint            per_segment)
{
  g_autoptr (BlOutline) ground = bl_outline_new_take (bl_points_copy (px), shape->straight);

  ground->open = shape->open;
  if (shape->sharp != NULL)
    ground->sharp = g_memdup2 (shape->sharp, sizeof (gboolean) * px->len);
  for (guint i = 0; i < px->len; i++)
    if (!bl_camera_to_ground (camera, bl_points_at (px, i), &bl_points_at (ground->points, i)))
      return NULL;
  /* Straight sides need no points between. */
  return bl_outline_sample (ground, shape->straight ? 1 : per_segment);
}

/* What @of_ring says of the outline's ring on the ground. */
static gboolean
ring_quantity (const BlCamera  *camera,
               const BlPoints  *px,
               const BlOutline *shape,
               double         (*of_ring) (const BlPoints *),
               double          *value)
{
  g_autoptr (BlPoints) ring = ground_ring (camera, px, shape, 8);

  if (ring == NULL)
    return FALSE;
  *value = of_ring (ring);
  return isfinite (*value);
}

static gboolean
signed_area_quantity (const BlCamera *camera,
                      const BlPoints *px,
                      gconstpointer   data,
                      double         *value)
{
  return ring_quantity (camera, px, data, bl_polygon_signed_area, value);
}

gboolean
bl_area_quantity (const BlCamera *camera,
                  const BlPoints *px,
                  gconstpointer   data,
                  double         *value)
{
  gboolean ok = signed_area_quantity (camera, px, data, value);

  *value = ok ? fabs (*value) : 0.0;
  return ok;
}

static gboolean
area_by_clicks (const BlCamera *camera,
                BlQuantity      quantity,
                const BlPoints *px,
                gconstpointer   data,
                double         *gradient)
{
  double whole;

  /* A window of the line has an area of either sign; the line has one. */
  if (!signed_area_quantity (camera, px, data, &whole)
      || !gradient_along (camera, signed_area_quantity, px, data, gradient))
    return FALSE;
  for (guint i = 0; whole < 0.0 && i < 2 * px->len; i++)
    gradient[i] = -gradient[i];
  return TRUE;
}

gboolean
bl_gradient_area (const BlCamera  *camera,
                  const BlOutline *outline,
                  double          *gradient)
{
  return area_by_clicks (camera, bl_area_quantity, outline->points, outline, gradient);
}

static gboolean
perimeter_quantity (const BlCamera *camera,
                    const BlPoints *px,
                    gconstpointer   data,
                    double         *value)
{
  return ring_quantity (camera, px, data, bl_polygon_perimeter, value);
}

static gboolean
perimeter_by_clicks (const BlCamera *camera,
                     BlQuantity      quantity,
                     const BlPoints *px,
                     gconstpointer   data,
                     double         *gradient)
{
  return gradient_along (camera, quantity, px, data, gradient);
}

gboolean
bl_measure_outline (const BlCamera  *camera,
                    const BlOutline *outline_px,
                    double           click_px,
                    BlMeasured      *area,
                    BlMeasured      *perimeter,
                    GError         **error)
{
  g_autoptr (BlOutline) ground = NULL;
  g_autoptr (BlPoints) ring = NULL;

  if (!check_solved (camera, error))
    return FALSE;
  ground = bl_outline_to_ground (camera, outline_px, error);
  if (ground == NULL || !bl_outline_check (ground, error))
    return FALSE;
  if (!measure (camera, bl_area_quantity, area_by_clicks, outline_px->points, outline_px, click_px,
                area, error)
      || !measure (camera, perimeter_quantity, perimeter_by_clicks, outline_px->points, outline_px,
                   click_px, perimeter, error))
    return FALSE;
  /* Derivatives need the same points at every step; the figure itself is that of the smooth curve. */
  ring = bl_outline_flatten (ground, 5e-4);
  area->value = bl_polygon_area (ring);
  perimeter->value = bl_polygon_perimeter (ring);
  return TRUE;
}

static BlOutline *
carry (const BlOutline *outline,
       BlPoints        *points)
{
  BlOutline *out = bl_outline_copy (outline);

  g_array_unref (out->points);
  out->points = points;
  return out;
}

BlOutline *
bl_outline_to_ground (const BlCamera  *camera,
                      const BlOutline *outline_px,
                      GError         **error)
{
  g_autoptr (BlPoints) points = bl_points_copy (outline_px->points);

  for (guint i = 0; i < points->len; i++)
    if (!bl_camera_to_ground (camera, bl_points_at (outline_px->points, i),
                              &bl_points_at (points, i)))
      {
        g_set_error (error, BL_ERROR, BL_ERROR_UNSOLVED,
                     _("Point %u of the outline lies at or above the horizon, where there is no ground; "
                     "move it down in the photo."), i + 1);
        return NULL;
      }
  return carry (outline_px, g_steal_pointer (&points));
}

BlOutline *
bl_outline_to_photo (const BlCamera  *camera,
                     const BlOutline *ground,
                     GError         **error)
{
  g_autoptr (BlPoints) points = bl_points_copy (ground->points);

  for (guint i = 0; i < points->len; i++)
    {
      BlPoint g = bl_points_at (ground->points, i);

      if (!bl_camera_project (camera, g.x, g.y, 0.0, &bl_points_at (points, i)))
        {
          g_set_error (error, BL_ERROR, BL_ERROR_UNSOLVED,
                       _("Point %u of the outline lies behind the camera, so it cannot be shown on the "
                       "photo."), i + 1);
          return NULL;
        }
    }
  return carry (ground, g_steal_pointer (&points));
}
