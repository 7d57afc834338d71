/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A front yard of which everything is known, and drawn knowns of it. */
#include "yard-fixture.h"

#include "geometry/polygon.h"

#include <string.h>

#define FT 0.3048

void
yard_init (Yard *yard,
           int   width,
           int   height)
{
  g_autoptr (BlOutline) outline = NULL;
  g_autoptr (BlPoints) ring = NULL;
  BlPoints *points = bl_points_new ();

  bl_camera_init (&yard->camera, width, height);
  yard->camera.eye = 1.5;
  yard->camera.pitch = 10.0 * G_PI / 180.0;
  yard->camera.heading = 37.0 * G_PI / 180.0;
  yard->camera.x = -4.7244;
  yard->camera.y = 0.67056;
  yard->camera.solved = yard->camera.scaled = TRUE;
  /* A bean of about 4 m by 2.4 m between the camera and the walk. */
  for (guint i = 0; i < YARD_BED_POINTS; i++)
    {
      double a = 2.0 * G_PI * i / YARD_BED_POINTS, r = 1.0 + 0.25 * cos (2.0 * a + 0.6);

      yard->bed[i] = BL_POINT (-1.5 + 1.9 * r * cos (a), 4.45 + 1.0 * r * sin (a));
      bl_points_add (points, yard->bed[i]);
    }
  outline = bl_outline_new_take (points, FALSE);
  ring = bl_outline_flatten (outline, 1e-5);
  yard->bed_area = bl_polygon_area (ring);
}

void
yard_draw_begin (YardDraw   *draw,
                 const Yard *yard,
                 BlRng      *rng,
                 double      click_px,
                 gboolean    nature)
{
  memset (draw, 0, sizeof *draw);
  draw->yard = yard;
  draw->camera = yard->camera;
  draw->rng = rng;
  draw->click_px = click_px;
  draw->knowns = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_known_free);
  draw->prior = (BlPhotoPrior) { .width = yard->camera.width, .height = yard->camera.height,
                                 .focal_35mm = 26.0, .click_px = click_px };
  if (!nature)
    return;
  draw->camera.focal *= exp (0.02 * bl_rng_normal (rng));
  draw->camera.k1 = 0.01 * bl_rng_normal (rng);
  draw->camera.cx += 0.005 * draw->camera.width * bl_rng_normal (rng);
  draw->camera.cy += 0.005 * draw->camera.width * bl_rng_normal (rng);
  draw->camera.roll = 3.0 * G_PI / 180.0 * bl_rng_normal (rng);
}

void
yard_draw_end (YardDraw *draw)
{
  g_clear_pointer (&draw->knowns, g_ptr_array_unref);
}

BlPoint
yard_click (YardDraw *draw,
            double    x,
            double    y,
            double    z)
{
  BlPoint px;

  g_assert_true (bl_camera_project (&draw->camera, x, y, z, &px));
  px.x += draw->click_px * bl_rng_normal (draw->rng);
  px.y += draw->click_px * bl_rng_normal (draw->rng);
  return px;
}

static BlKnown *
add (YardDraw      *draw,
     BlKnownKind    kind,
     const BlPoint *at,
     guint          n)
{
  BlKnown *known = bl_known_new (kind);

  for (guint i = 0; i < n; i++)
    bl_points_add (known->px, yard_click (draw, at[i].x, at[i].y, 0.0));
  g_ptr_array_add (draw->knowns, known);
  return known;
}

/* The stated size errs by the kind's standard deviation. */
static double
stated (YardDraw *draw,
        BlKnown  *known,
        int       which,
        double    truth)
{
  known->size[which] = truth;
  return truth + bl_known_sd (known, which) * bl_rng_normal (draw->rng);
}

void
yard_add_rectangle (YardDraw *draw,
                    BlPoint   corner,
                    double    w,
                    double    d,
                    double    turn)
{
  BlPoint u = BL_POINT (cos (turn) * w, sin (turn) * w), v = BL_POINT (-sin (turn) * d, cos (turn) * d);
  BlPoint at[4] = { corner, bl_add (corner, u), bl_add (bl_add (corner, u), v), bl_add (corner, v) };
  BlKnown *known = add (draw, BL_KNOWN_RECTANGLE, at, 4);

  known->size[0] = stated (draw, known, 0, w);
  known->size[1] = stated (draw, known, 1, d);
}

void
yard_add_length (YardDraw *draw,
                 BlPoint   a,
                 BlPoint   b)
{
  BlKnown *known = add (draw, BL_KNOWN_LENGTH, (BlPoint[]) { a, b }, 2);

  known->size[0] = stated (draw, known, 0, bl_dist (a, b));
}

void
yard_add_height (YardDraw *draw,
                 BlPoint   base,
                 double    height)
{
  BlKnown *known = add (draw, BL_KNOWN_HEIGHT, &base, 1);

  bl_points_add (known->px, yard_click (draw, base.x, base.y, height));
  known->size[0] = stated (draw, known, 0, height);
}

void
yard_add_position (YardDraw *draw,
                   BlPoint   at)
{
  BlKnown *known = add (draw, BL_KNOWN_POSITION, &at, 1);

  known->size[0] = stated (draw, known, 0, at.x);
  known->size[1] = stated (draw, known, 1, at.y);
}

void
yard_add_right_angle (YardDraw *draw,
                      BlPoint   a,
                      BlPoint   vertex,
                      BlPoint   b)
{
  double off = 0.1 * G_PI / 180.0 * bl_rng_normal (draw->rng);
  BlPoint arm = bl_sub (b, vertex);

  b = bl_add (vertex, BL_POINT (arm.x * cos (off) - arm.y * sin (off),
                                arm.x * sin (off) + arm.y * cos (off)));
  add (draw, BL_KNOWN_RIGHT_ANGLE, (BlPoint[]) { a, vertex, b }, 3);
}

void
yard_add_parallel (YardDraw *draw,
                   BlPoint   a,
                   BlPoint   b,
                   BlPoint   c,
                   BlPoint   d)
{
  double off = 0.1 * G_PI / 180.0 * bl_rng_normal (draw->rng);
  BlPoint arm = bl_sub (d, c);

  d = bl_add (c, BL_POINT (arm.x * cos (off) - arm.y * sin (off),
                           arm.x * sin (off) + arm.y * cos (off)));
  add (draw, BL_KNOWN_PARALLEL, (BlPoint[]) { a, b, c, d }, 4);
}

void
yard_add_equal (YardDraw *draw,
                BlPoint   a,
                BlPoint   b,
                BlPoint   c,
                BlPoint   d)
{
  d = bl_add (c, bl_mul (bl_sub (d, c), exp (0.002 * bl_rng_normal (draw->rng))));
  add (draw, BL_KNOWN_EQUAL_LENGTHS, (BlPoint[]) { a, b, c, d }, 4);
}

void
yard_add_horizon (YardDraw *draw)
{
  BlKnown *known = bl_known_new (BL_KNOWN_HORIZON);
  BlPoint end[2];

  bl_camera_horizon (&draw->camera, &end[0], &end[1]);
  for (int i = 0; i < 2; i++)
    {
      /* What is seen is the horizon through the lens. */
      BlRay ray = { (end[i].x - draw->camera.cx) / draw->camera.focal,
                    (end[i].y - draw->camera.cy) / draw->camera.focal, 1.0 };
      BlPoint px;

      g_assert_true (bl_camera_see (&draw->camera, ray, &px));
      px.x += draw->click_px * bl_rng_normal (draw->rng);
      px.y += draw->click_px * bl_rng_normal (draw->rng);
      bl_points_add (known->px, px);
    }
  g_ptr_array_add (draw->knowns, known);
}

void
yard_add_straight (YardDraw *draw,
                   BlPoint   a,
                   BlPoint   b,
                   guint     n)
{
  BlKnown *known = bl_known_new (BL_KNOWN_STRAIGHT);

  for (guint i = 0; i < n; i++)
    {
      BlPoint p = bl_lerp (a, b, i / (n - 1.0));

      bl_points_add (known->px, yard_click (draw, p.x, p.y, 0.0));
    }
  g_ptr_array_add (draw->knowns, known);
}

void
yard_add_eye (YardDraw *draw)
{
  BlKnown *known = bl_known_new (BL_KNOWN_EYE);

  known->size[0] = draw->camera.eye + bl_known_sd (known, 0) * bl_rng_normal (draw->rng);
  g_ptr_array_add (draw->knowns, known);
}

BlOutline *
yard_click_bed (YardDraw *draw)
{
  BlOutline *outline = bl_outline_new ();

  for (guint i = 0; i < YARD_BED_POINTS; i++)
    bl_outline_insert (outline, i, yard_click (draw, draw->yard->bed[i].x, draw->yard->bed[i].y, 0));
  return outline;
}

/* A 4 ft × 10 ft piece of walk beside the bed. */
static void
mix_walk (YardDraw *draw)
{
  yard_add_rectangle (draw, BL_POINT (3 * FT, 11 * FT), 4 * FT, 10 * FT, 0.0);
}

static void
mix_walk_and_two (YardDraw *draw)
{
  mix_walk (draw);
  yard_add_length (draw, draw->yard->bed[0], draw->yard->bed[YARD_BED_POINTS / 2]);
  yard_add_length (draw, draw->yard->bed[7], draw->yard->bed[21]);
}

static void
mix_walk_and_post (YardDraw *draw)
{
  mix_walk (draw);
  yard_add_height (draw, BL_POINT (2.62128, 5.6388), 7 * FT);
  yard_add_eye (draw);
}

static const BlPoint stakes[] = { { -3.9, 3.2 }, { 0.9, 3.1 }, { 0.9, 5.9 }, { -3.9, 6.0 } };

static void
mix_stakes (YardDraw *draw)
{
  for (int i = 0; i < 4; i++)
    yard_add_position (draw, stakes[i]);
}

static void
mix_tape (YardDraw *draw)
{
  for (int i = 0; i < 4; i++)
    yard_add_length (draw, stakes[i], stakes[(i + 1) % 4]);
  yard_add_length (draw, stakes[0], stakes[2]);
  yard_add_length (draw, stakes[1], stakes[3]);
}

static void
mix_horizon (YardDraw *draw)
{
  yard_add_horizon (draw);
  yard_add_length (draw, BL_POINT (3 * FT, 11 * FT), BL_POINT (3 * FT, 21 * FT));
  yard_add_length (draw, stakes[0], stakes[1]);
}

static void
mix_angles (YardDraw *draw)
{
  yard_add_right_angle (draw, BL_POINT (3 * FT, 26 * FT), BL_POINT (3 * FT, 11 * FT),
                        BL_POINT (-3.0, 11 * FT));
  yard_add_parallel (draw, BL_POINT (3 * FT, 11 * FT), BL_POINT (3 * FT, 26 * FT),
                     BL_POINT (7 * FT, 11 * FT), BL_POINT (7 * FT, 26 * FT));
  yard_add_equal (draw, BL_POINT (3 * FT, 11 * FT), BL_POINT (7 * FT, 11 * FT),
                  BL_POINT (3 * FT, 21 * FT), BL_POINT (7 * FT, 21 * FT));
  yard_add_length (draw, stakes[0], stakes[2]);
  yard_add_straight (draw, BL_POINT (3 * FT, 11 * FT), BL_POINT (3 * FT, 26 * FT), 6);
}

static void
mix_many (YardDraw *draw)
{
  mix_walk (draw);
  mix_stakes (draw);
  mix_tape (draw);
  yard_add_height (draw, BL_POINT (2.62128, 5.6388), 7 * FT);
}

const YardMix yard_mixes[] = {
  { "walk", mix_walk, FALSE },
  { "walk and two lengths", mix_walk_and_two, FALSE },
  { "walk, post and eye", mix_walk_and_post, FALSE },
  { "four stakes", mix_stakes, FALSE },
  { "four stakes, no focal length", mix_stakes, TRUE },
  { "six taped lengths", mix_tape, FALSE },
  { "horizon and two lengths", mix_horizon, FALSE },
  { "angles, parallels, straight", mix_angles, FALSE },
  { "all together", mix_many, FALSE },
};
const guint yard_n_mixes = G_N_ELEMENTS (yard_mixes);

static int
compare_double (gconstpointer a,
                gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

YardResult
yard_monte_carlo (const YardMix *mix,
                  guint          n,
                  double         click_px,
                  gboolean       nature,
                  guint64        seed)
{
  BlRng rng = bl_rng (seed);
  YardResult result = { 0 };
  g_autofree double *errors = g_new0 (double, n);
  double squares = 0.0;
  guint covered = 0;
  Yard yard;

  yard_init (&yard, 4032, 3024);
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (BlSolution) solution = NULL;
      g_autoptr (BlOutline) bed = NULL;
      g_autoptr (GError) error = NULL;
      BlMeasured area, perimeter;
      YardDraw draw;
      double e;

      yard_draw_begin (&draw, &yard, &rng, click_px, nature);
      if (mix->no_focal)
        draw.prior.focal_35mm = 0.0;
      mix->build (&draw);
      bed = yard_click_bed (&draw);
      solution = bl_solve_camera (&draw.prior, draw.knowns, &error);
      if (solution == NULL
          || !bl_measure_outline (&solution->camera, bed, click_px, &area, &perimeter, &error))
        {
          g_test_message ("%s: %s", mix->name, error->message);
          result.failed++;
          yard_draw_end (&draw);
          continue;
        }
      e = area.value / yard.bed_area - 1.0;
      errors[i] = fabs (e);
      squares += e * e / n;
      result.sd += area.sd / area.value / n;
      covered += fabs (area.value - yard.bed_area) <= 1.96 * area.sd;
      yard_draw_end (&draw);
    }
  qsort (errors, n, sizeof *errors, compare_double);
  result.rms = sqrt (squares);
  result.p95 = errors[(guint) (0.95 * n)];
  result.covered = covered / (double) n;
  return result;
}
