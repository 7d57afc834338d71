/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the adjustment starts: closed forms from what was clicked, and a small search. */
#include "photo/homography.h"
#include "photo/model-private.h"

#include <string.h>

#define DEGREES (G_PI / 180.0)

typedef struct
{
  double theta[BL_PAR_N];
  double cost;
} Start;

typedef struct
{
  BlLensModel *model;
  GArray *starts;   /* Start */
  double focals[3]; /* pixels to try where a form needs one */
  int n_focals;
  double bend;      /* radial term over the squared focal length, from lines known to be straight */
  double *rows;
} Search;

/* Fits the scale, and with surveyed points the place and heading, to a camera whose view is set. */
static gboolean
place (const BlLensModel *model,
       BlCamera      *camera)
{
  g_autoptr (GArray) scales = g_array_new (FALSE, FALSE, sizeof (double));
  BlPoint sum_g = BL_POINT (0, 0), sum_s = sum_g, one_g = sum_g, one_s = sum_g;
  double re = 0.0, im = 0.0, gg = 0.0;
  guint n = 0;

  camera->eye = 1.0;
  camera->x = camera->y = camera->heading = 0.0;
  for (guint b = 0; b < model->blocks->len; b++)
    {
      const BlBlock *block = &g_array_index (model->blocks, BlBlock, b);
      const BlPoints *px = block->known->px;
      guint clicks = bl_known_ground_clicks (block->known);
      BlPoint g[4];
      double s;

      for (guint i = 0; i < clicks; i++)
        if (!bl_camera_to_ground (camera, bl_points_at (px, i), &g[i]))
          return FALSE;
      s = NAN;
      if (block->known->kind == BL_KNOWN_LENGTH)
        s = block->size[0] / bl_dist (g[0], g[1]);
      else if (block->known->kind == BL_KNOWN_RECTANGLE)
        s = sqrt (block->size[0] / bl_dist (g[0], g[1]) * block->size[1] / bl_dist (g[1], g[2]));
      else if (block->known->kind == BL_KNOWN_HEIGHT)
        s = block->size[0] / bl_camera_height_at (camera, g[0], bl_points_at (px, 1));
      else if (block->known->kind == BL_KNOWN_EYE)
        s = block->size[0];
      else if (block->known->kind == BL_KNOWN_POSITION)
        {
          one_g = g[0];
          one_s = BL_POINT (block->size[0], block->size[1]);
          sum_g = bl_add (sum_g, one_g);
          sum_s = bl_add (sum_s, one_s);
          n++;
        }
      if (s > 0.0 && isfinite (s))
        g_array_append_val (scales, s);
    }
  if (n >= 2)
    {
      /* The similarity stated = scale · turn · seen + place, in complex numbers. */
      sum_g = bl_mul (sum_g, 1.0 / n);
      sum_s = bl_mul (sum_s, 1.0 / n);
      for (guint b = 0; b < model->blocks->len; b++)
        {
          const BlBlock *block = &g_array_index (model->blocks, BlBlock, b);
          BlPoint g, s;

          if (block->known->kind != BL_KNOWN_POSITION
              || !bl_camera_to_ground (camera, bl_points_at (block->known->px, 0), &g))
            continue;
          g = bl_sub (g, sum_g);
          s = bl_sub (BL_POINT (block->size[0], block->size[1]), sum_s);
          re += bl_dot (g, s);
          im += bl_cross (g, s);
          gg += bl_dot (g, g);
        }
      camera->eye = hypot (re, im) / gg;
      camera->heading = -atan2 (im, re);
      one_g = sum_g;
      one_s = sum_s;
    }
  else if (scales->len > 0)
    {
      /* The middle one on the log scale is not moved by a single wrong size. */
      double *s = (double *) (void *) scales->data;

      for (guint i = 1; i < scales->len; i++)
        for (guint j = i; j > 0 && s[j] < s[j - 1]; j--)
          {
            double t = s[j];

            s[j] = s[j - 1];
            s[j - 1] = t;
          }
      camera->eye = s[scales->len / 2];
    }
  if (n >= 1)
    {
      double sh = sin (camera->heading), ch = cos (camera->heading);

      one_g = bl_mul (one_g, camera->eye);
      camera->x = one_s.x - one_g.x * ch - one_g.y * sh;
      camera->y = one_s.y + one_g.x * sh - one_g.y * ch;
    }
  return camera->eye > 0.0 && isfinite (camera->eye) && isfinite (camera->heading);
}

static void
try_camera (Search   *search,
            BlCamera *camera)
{
  BlLensModel *model = search->model;
  Start start;
  double cost = 0.0;

  if (!isfinite (camera->focal) || !isfinite (camera->pitch) || !place (model, camera))
    return;
  memset (&start, 0, sizeof start);
  bl_camera_get_params (camera, start.theta);
  for (guint b = 0; b < model->blocks->len; b++)
    g_array_index (model->blocks, BlBlock, b).warm = FALSE;
  if (!bl_lens_model_rows (model, start.theta, search->rows))
    return;
  for (guint i = 0; i < model->n_rows; i++)
    cost += search->rows[i] * search->rows[i];
  if (!isfinite (cost))
    return;
  start.cost = cost;
  g_array_append_val (search->starts, start);
}

static void
base_camera (const Search *search,
             double        focal,
             BlCamera     *camera)
{
  const BlPhotoPrior *prior = search->model->prior;

  bl_camera_init (camera, prior->width, prior->height);
  camera->focal = focal;
  camera->k1 = search->bend * focal * focal;
  camera->slope = prior->slope;
  camera->slope_direction = prior->slope_direction;
}

/* Where a pixel would be without the lens's bending; the same for every focal length. */
static BlPoint
unbend (const Search *search,
        BlPoint       px)
{
  BlCamera camera;
  BlRay ray;

  base_camera (search, search->focals[0], &camera);
  if (!bl_camera_ray (&camera, px, &ray))
    return px;
  return BL_POINT (camera.cx + camera.focal * ray.x, camera.cy + camera.focal * ray.y);
}

/* Squared distances, pixels, of the points of a straight line from the best line through them. */
static double
crookedness (const Search   *search,
             const BlPoints *px)
{
  BlPoint mean = BL_POINT (0.0, 0.0);
  double xx = 0.0, xy = 0.0, yy = 0.0;

  for (guint i = 0; i < px->len; i++)
    mean = bl_add (mean, bl_mul (unbend (search, bl_points_at (px, i)), 1.0 / px->len));
  for (guint i = 0; i < px->len; i++)
    {
      BlPoint d = bl_sub (unbend (search, bl_points_at (px, i)), mean);

      xx += d.x * d.x;
      xy += d.x * d.y;
      yy += d.y * d.y;
    }
  return 0.5 * (xx + yy) - hypot (0.5 * (xx - yy), xy);
}

/* The bending that makes straight lines straightest needs no camera: tried over the whole range
 * of lenses, -0.5 to 0.5 in units of the picture's longer side. */
static void
find_bend (Search *search)
{
  const BlPhotoPrior *prior = search->model->prior;
  double side = MAX (prior->width, prior->height), best = INFINITY, found = 0.0;

  if (!search->model->free_lens || prior->no_lens)
    return;
  for (int i = -50; i <= 50; i++)
    {
      double sum = 0.0;

      search->bend = 0.01 * i / (side * side);
      for (guint b = 0; b < search->model->blocks->len; b++)
        {
          const BlKnown *known = g_array_index (search->model->blocks, BlBlock, b).known;

          if (known->kind == BL_KNOWN_STRAIGHT)
            sum += crookedness (search, known->px);
        }
      if (sum < best)
        {
          best = sum;
          found = search->bend;
        }
    }
  search->bend = found;
}

/* A plane in true shape gives the view by itself. */
static void
try_plane (Search        *search,
           const BlPoint *plane,
           const BlPoint *clicks,
           guint          n)
{
  g_autofree BlPoint *px = g_new (BlPoint, n);
  const BlPhotoPrior *prior = search->model->prior;
  BlPoint inside = BL_POINT (0.0, 0.0);
  double h[9], focal;
  BlCamera camera;

  for (guint i = 0; i < n; i++)
    px[i] = unbend (search, clicks[i]);
  if (!bl_homography_from_points (plane, px, n, h))
    return;
  for (guint i = 0; i < n; i++)
    inside = bl_add (inside, bl_mul (plane[i], 1.0 / n));
  base_camera (search, search->focals[0], &camera);
  if (bl_focal_from_homography (h, BL_POINT (camera.cx, camera.cy), &focal))
    {
      base_camera (search, CLAMP (focal, 0.2 * prior->width, 20.0 * prior->width), &camera);
      if (bl_pose_from_homography (h, inside, &camera))
        try_camera (search, &camera);
    }
  for (int i = 0; i < search->n_focals; i++)
    {
      base_camera (search, search->focals[i], &camera);
      if (bl_pose_from_homography (h, inside, &camera))
        try_camera (search, &camera);
    }
}

/* The ground's horizon through two pixels. */
static void
try_horizon (Search *search,
             BlPoint a,
             BlPoint b)
{
  for (int i = 0; i < search->n_focals; i++)
    {
      BlCamera camera;
      BlRay p, q, n;

      base_camera (search, search->focals[i], &camera);
      bl_camera_ray (&camera, a, &p);
      bl_camera_ray (&camera, b, &q);
      n = (BlRay) { p.y * q.z - p.z * q.y, p.z * q.x - p.x * q.z, p.x * q.y - p.y * q.x };
      if (n.y > 0.0)
        n = (BlRay) { -n.x, -n.y, -n.z };
      bl_camera_set_normal (&camera, n);
      try_camera (search, &camera);
    }
}

/* Lines that are parallel on the ground meet on its horizon; alone they give it when level. */
static void
try_parallels (Search *search)
{
  g_autoptr (BlPoints) points = bl_points_new ();
  const GArray *blocks = search->model->blocks;

  for (guint b = 0; b < blocks->len; b++)
    {
      const BlBlock *block = &g_array_index (blocks, BlBlock, b);
      const BlPoint *p = (const BlPoint *) (const void *) block->known->px->data;
      BlPoint at;

      if (block->known->kind == BL_KNOWN_PARALLEL && bl_lines_meet (p[0], p[1], p[2], p[3], &at))
        bl_points_add (points, at);
      if (block->known->kind == BL_KNOWN_HORIZON)
        try_horizon (search, p[0], p[1]);
    }
  for (guint i = 0; i < points->len && i < 4; i++)
    {
      BlPoint p = bl_points_at (points, i);

      try_horizon (search, p, BL_POINT (p.x + 1000.0, p.y));
      for (guint j = 0; j < i; j++)
        try_horizon (search, bl_points_at (points, j), p);
    }
}

static void
try_planes (Search *search)
{
  const GArray *blocks = search->model->blocks;
  g_autoptr (BlPoints) stated = bl_points_new ();
  g_autoptr (BlPoints) seen = bl_points_new ();
  int rectangles = 0;

  for (guint b = 0; b < blocks->len; b++)
    {
      const BlBlock *block = &g_array_index (blocks, BlBlock, b);
      const BlPoints *px = block->known->px;

      if (block->known->kind == BL_KNOWN_RECTANGLE && rectangles++ < 4)
        {
          double w = block->size[0], d = block->size[1] * block->hand;
          BlPoint corner[4] = { { 0, 0 }, { w, 0 }, { w, d }, { 0, d } };

          try_plane (search, corner, (const BlPoint *) (const void *) px->data, 4);
        }
      if (block->known->kind == BL_KNOWN_POSITION)
        {
          bl_points_add (stated, BL_POINT (block->size[0], block->size[1]));
          bl_points_add (seen, bl_points_at (px, 0));
        }
    }
  if (stated->len >= 4)
    try_plane (search, (const BlPoint *) (const void *) stated->data,
               (const BlPoint *) (const void *) seen->data, stated->len);
}

static void
try_grid (Search *search)
{
  static const double pitch[] = { 1.0, 3.0, 6.0, 10.0, 15.0, 22.0, 30.0, 40.0, 55.0, 75.0 };

  for (int i = 0; i < search->n_focals; i++)
    for (guint k = 0; k < G_N_ELEMENTS (pitch); k++)
      {
        BlCamera camera;

        base_camera (search, search->focals[i], &camera);
        camera.pitch = pitch[k] * DEGREES;
        try_camera (search, &camera);
      }
}

static int
compare_cost (gconstpointer a,
              gconstpointer b)
{
  double ca = ((const Start *) a)->cost, cb = ((const Start *) b)->cost;

  return ca < cb ? -1 : ca > cb;
}

GArray *
bl_lens_model_starts (BlLensModel *model)
{
  static const double guesses[] = { 26.0, 45.0, 90.0 };
  Search search = { .model = model };
  GArray *out = g_array_new (FALSE, FALSE, sizeof (double) * BL_PAR_N);

  search.starts = g_array_new (FALSE, FALSE, sizeof (Start));
  search.rows = g_new0 (double, model->n_rows);
  if (model->focal_prior > 0.0 && !model->drop_focal)
    search.focals[search.n_focals++] = model->focal_prior;
  else
    for (guint i = 0; i < G_N_ELEMENTS (guesses); i++)
      search.focals[search.n_focals++] = bl_focal_from_35mm (guesses[i], model->prior->width,
                                                             model->prior->height);
  find_bend (&search);
  try_planes (&search);
  try_parallels (&search);
  try_grid (&search);
  g_array_sort (search.starts, compare_cost);
  for (guint i = 0; i < search.starts->len; i++)
    {
      const Start *start = &g_array_index (search.starts, Start, i);
      gboolean seen = FALSE;

      /* Starts that are all but the same would end at the same place. */
      for (guint k = 0; k < out->len && !seen; k++)
        {
          const double *t = (const double *) (const void *) out->data + (gsize) k * BL_PAR_N;

          seen = fabs (t[BL_CAM_PITCH] - start->theta[BL_CAM_PITCH]) < 0.03
                 && fabs (t[BL_CAM_FOCAL] - start->theta[BL_CAM_FOCAL]) < 0.1
                 && fabs (t[BL_CAM_ROLL] - start->theta[BL_CAM_ROLL]) < 0.05;
        }
      if (!seen)
        g_array_append_vals (out, start->theta, 1);
    }
  g_array_unref (search.starts);
  g_free (search.rows);
  return out;
}
