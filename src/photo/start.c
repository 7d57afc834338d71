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

/* The eye height by which a known's size is as stated; NAN where it states none. */
static double
scale_of (const BlBlock  *block,
          const BlCamera *camera,
          const BlPoint  *g)
{
  switch (block->known->kind)
    {
    case BL_KNOWN_LENGTH:
      return block->size[0] / bl_dist (g[0], g[1]);
    case BL_KNOWN_RECTANGLE:
      return sqrt (block->size[0] / bl_dist (g[0], g[1]) * block->size[1] / bl_dist (g[1], g[2]));
    case BL_KNOWN_HEIGHT:
      return block->size[0] / bl_camera_height_at (camera, g[0], bl_points_at (block->known->px, 1));
    case BL_KNOWN_EYE:
      return block->size[0];
    case BL_KNOWN_RIGHT_ANGLE:
    case BL_KNOWN_PARALLEL:
    case BL_KNOWN_EQUAL_LENGTHS:
    case BL_KNOWN_POSITION:
    case BL_KNOWN_HORIZON:
    case BL_KNOWN_STRAIGHT:
    case BL_KNOWN_CHECK:
    case BL_KNOWN_N:
    default:
      return NAN;
    }
}

static int
compare_double (gconstpointer a,
                gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

/* The similarity stated = scale · turn · seen + place, in complex numbers: its scale, heading and
 * the two centroids. */
static void
fit_similarity (const BlPoints *seen,
                const BlPoints *stated,
                BlCamera       *camera,
                BlPoint        *mean_seen,
                BlPoint        *mean_stated)
{
  double re = 0.0, im = 0.0, squares = 0.0;

  *mean_seen = *mean_stated = BL_POINT (0.0, 0.0);
  for (guint i = 0; i < seen->len; i++)
    {
      *mean_seen = bl_add (*mean_seen, bl_mul (bl_points_at (seen, i), 1.0 / seen->len));
      *mean_stated = bl_add (*mean_stated, bl_mul (bl_points_at (stated, i), 1.0 / seen->len));
    }
  for (guint i = 0; i < seen->len && seen->len >= 2; i++)
    {
      BlPoint g = bl_sub (bl_points_at (seen, i), *mean_seen);
      BlPoint s = bl_sub (bl_points_at (stated, i), *mean_stated);

      re += bl_dot (g, s);
      im += bl_cross (g, s);
      squares += bl_dot (g, g);
    }
  if (seen->len < 2)
    return;
  camera->eye = hypot (re, im) / squares;
  camera->heading = -atan2 (im, re);
}

/* Fits the scale, and with surveyed points the place and heading, to a camera whose view is set. */
static gboolean
place (const BlLensModel *model,
       BlCamera          *camera)
{
  g_autoptr (GArray) scales = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (BlPoints) seen = bl_points_new (), stated = bl_points_new ();
  BlPoint mean_seen, mean_stated;

  camera->eye = 1.0;
  camera->x = camera->y = camera->heading = 0.0;
  for (guint b = 0; b < model->blocks->len; b++)
    {
      const BlBlock *block = &g_array_index (model->blocks, BlBlock, b);
      BlPoint g[4] = { { 0 } };
      double scale;

      for (guint i = 0; i < bl_known_ground_clicks (block->known); i++)
        if (!bl_camera_to_ground (camera, bl_points_at (block->known->px, i), &g[i]))
          return FALSE;
      scale = scale_of (block, camera, g);
      if (scale > 0.0 && isfinite (scale))
        g_array_append_val (scales, scale);
      if (block->known->kind == BL_KNOWN_POSITION)
        {
          bl_points_add (seen, g[0]);
          bl_points_add (stated, BL_POINT (block->size[0], block->size[1]));
        }
    }
  /* The middle one of the sizes is not moved by a single wrong one. */
  g_array_sort (scales, compare_double);
  if (scales->len > 0)
    camera->eye = g_array_index (scales, double, scales->len / 2);
  if (seen->len >= 1)
    {
      double sh, ch;

      fit_similarity (seen, stated, camera, &mean_seen, &mean_stated);
      sh = sin (camera->heading);
      ch = cos (camera->heading);
      mean_seen = bl_mul (mean_seen, camera->eye);
      camera->x = mean_stated.x - mean_seen.x * ch - mean_seen.y * sh;
      camera->y = mean_stated.y + mean_seen.x * sh - mean_seen.y * ch;
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
      /* A lens that bends this much shows no such pixel. */
      if (!bl_camera_ray (&camera, a, &p) || !bl_camera_ray (&camera, b, &q))
        continue;
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
