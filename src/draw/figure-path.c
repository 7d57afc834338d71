/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The paths of a figure's marks, and painting them in runs of one colour. */
#include "draw/figure-private.h"

#include <stdlib.h>

/* A mark's own frame: u along, v across, both as shares of its length and width. */
typedef struct
{
  double x, y, cx, sx, len, wid, bend;
} Frame;

static inline void
at (const Frame *r, double u, double v, double *x, double *y)
{
  double along = u * r->len, across = v * r->wid + r->bend * r->len * u * u;

  *x = r->x + along * r->cx - across * r->sx;
  *y = r->y + along * r->sx + across * r->cx;
}

static void
line (FigPen *pen, const Frame *r, double u, double v)
{
  double x, y;

  at (r, u, v, &x, &y);
  fig_pen_line (pen, x, y);
}

static void
move (FigPen *pen, const Frame *r, double u, double v)
{
  double x, y;

  at (r, u, v, &x, &y);
  fig_pen_move (pen, x, y);
}

static void
curve (FigPen *pen, const Frame *r, double u0, double v0, double u1, double v1, double u2,
       double v2)
{
  double a, b, c, d, e, g;

  at (r, u0, v0, &a, &b);
  at (r, u1, v1, &c, &d);
  at (r, u2, v2, &e, &g);
  fig_pen_curve (pen, a, b, c, d, e, g);
}

static void
simple_leaf (FigPen *pen, const Frame *r, double widest, gboolean small, double side)
{
  double k = widest;

  move (pen, r, 0, 0);
  if (small)
    {
      if (side >= 0)
        line (pen, r, k, 0.5), line (pen, r, k + 0.32, 0.34);
      line (pen, r, 1, 0);
      if (side <= 0)
        line (pen, r, k + 0.32, -0.34), line (pen, r, k, -0.5);
    }
  else
    {
      if (side >= 0)
        curve (pen, r, k * 0.35, 0.62, k + 0.30, 0.62, 1, 0);
      else
        line (pen, r, 1, 0);
      if (side <= 0)
        curve (pen, r, k + 0.30, -0.62, k * 0.35, -0.62, 0, 0);
    }
  fig_pen_close (pen);
}

/* The same outline smooth: curves through the middles of its sides, the tip kept sharp. */
static void
smooth_side (FigPen *pen, const Frame *r, const double (*uv)[2], guint n, double sign)
{
  for (guint i = 0; i < n; i++)
    {
      guint k = sign > 0 ? i : n - 1 - i;
      gboolean last = i + 1 == n;
      guint next = sign > 0 ? k + 1 : k - 1;
      double u = uv[k][0], v = sign * uv[k][1], eu, ev, x, y, su, sv, px, py;

      eu = last ? (sign > 0 ? 1 : 0) : (u + uv[next][0]) / 2;
      ev = last ? 0 : (v + sign * uv[next][1]) / 2;
      px = pen->x, py = pen->y;
      at (r, u, v, &x, &y);
      at (r, eu, ev, &su, &sv);
      fig_pen_curve (pen, px + (x - px) * 2 / 3, py + (y - py) * 2 / 3, su + (x - su) * 2 / 3,
                      sv + (y - sv) * 2 / 3, su, sv);
    }
}

static void
polygon_leaf (FigPen *pen, const Frame *r, const double (*uv)[2], guint n, double side,
              gboolean smooth)
{
  if (smooth)
    {
      move (pen, r, 0, 0);
      if (side >= 0)
        smooth_side (pen, r, uv, n, 1);
      else
        line (pen, r, 1, 0);
      if (side <= 0)
        smooth_side (pen, r, uv, n, -1);
      fig_pen_close (pen);
      return;
    }
  move (pen, r, 0, 0);
  if (side >= 0)
    for (guint i = 0; i < n; i++)
      line (pen, r, uv[i][0], uv[i][1]);
  line (pen, r, 1, 0);
  if (side <= 0)
    for (guint i = n; i-- > 0;)
      line (pen, r, uv[i][0], -uv[i][1]);
  fig_pen_close (pen);
}

static void
leaflets (FigPen *pen, const Frame *r, guint pairs, double length, double lean)
{
  for (guint i = 0; i < pairs; i++)
    for (int s = -1; s <= 1; s += 2)
      {
        double u = 0.12 + 0.80 * (i + 0.3) / pairs, l = length * (1 - 0.45 * u);
        double du = lean * l * r->wid / r->len;

        /* Both rows wind the same way, or overlaps would cancel. */
        move (pen, r, u, 0);
        line (pen, r, u + (s > 0 ? du * 0.3 + 0.07 : du * 0.5 - 0.06),
              s * l * (s > 0 ? 0.45 : 0.55));
        line (pen, r, u + du, s * l);
        line (pen, r, u + (s < 0 ? du * 0.3 + 0.07 : du * 0.5 - 0.06),
              s * l * (s < 0 ? 0.45 : 0.55));
        fig_pen_close (pen);
      }
  move (pen, r, 0, 0.02);
  line (pen, r, 0.80, 0.10);
  line (pen, r, 1, 0);
  line (pen, r, 0.80, -0.10);
  line (pen, r, 0, -0.02);
  fig_pen_close (pen);
}

static void
leaf_path (FigPen *pen, const FigMark *m, double detail)
{
  static const double lobed[][2] = { { 0.02, 0.18 }, { 0.16, 0.50 }, { 0.30, 0.26 }, { 0.50, 0.52 },
                                     { 0.68, 0.44 }, { 0.66, 0.20 }, { 0.84, 0.20 } };
  /* Seen large: lobes that end in points, with a tooth on their flanks. */
  static const double cut[][2] = { { -0.03, 0.10 }, { 0.05, 0.33 }, { 0.15, 0.51 }, { 0.21, 0.38 },
                                   { 0.27, 0.36 }, { 0.33, 0.20 }, { 0.43, 0.43 }, { 0.60, 0.56 },
                                   { 0.62, 0.41 }, { 0.68, 0.37 }, { 0.64, 0.19 }, { 0.78, 0.24 },
                                   { 0.82, 0.15 }, { 0.91, 0.09 } };
  static const double heart[][2] = { { -0.09, 0.14 }, { -0.10, 0.36 }, { 0.08, 0.52 },
                                     { 0.38, 0.50 }, { 0.66, 0.33 }, { 0.88, 0.10 } };
  static const double round[][2] = { { 0.06, 0.26 }, { 0.26, 0.47 }, { 0.55, 0.49 }, { 0.82, 0.33 },
                                     { 0.96, 0.14 } };
  static const double linear[][2] = { { 0.25, 0.46 }, { 0.60, 0.40 } };
  static const double strap[][2] = { { 0.12, 0.42 }, { 0.45, 0.5 }, { 0.78, 0.38 }, { 0.92, 0.2 } };
  Frame r = { m->x, m->y, fig_fast_cos (m->angle), fig_fast_sin (m->angle), m->a, m->b, m->c };
  double px = m->a * detail, side = m->kind == FIG_HALF ? m->d : 0;
  gboolean small = px < 10;

  /* Of a leaf this small only place, lie and size can be seen. */
  if (px < 6.5 && m->n != BL_LEAF_PINNATE && m->n != BL_LEAF_NEEDLE && m->n != BL_LEAF_SCALE &&
      m->n != BL_LEAF_FROND)
    {
      move (pen, &r, 0, 0);
      line (pen, &r, 0.42, 0.5);
      line (pen, &r, 1, 0);
      line (pen, &r, 0.42, -0.5);
      fig_pen_close (pen);
      return;
    }
  switch ((BlLeafShape) m->n)
    {
    case BL_LEAF_OVAL: simple_leaf (pen, &r, 0.40, small, side); break;
    case BL_LEAF_LANCE: simple_leaf (pen, &r, 0.32, small, side); break;
    case BL_LEAF_LINEAR: polygon_leaf (pen, &r, linear, 2, side, px > 14); break;
    case BL_LEAF_STRAP: polygon_leaf (pen, &r, strap, 4, side, px > 14); break;
    case BL_LEAF_ROUND: polygon_leaf (pen, &r, round, 5, side, px > 14); break;
    case BL_LEAF_LOBED:
      if (px > 22)
        polygon_leaf (pen, &r, cut, G_N_ELEMENTS (cut), side, FALSE);
      else
        polygon_leaf (pen, &r, lobed, 7, side, FALSE);
      break;
    case BL_LEAF_HEART: polygon_leaf (pen, &r, heart, 6, side, px > 14); break;
    case BL_LEAF_PINNATE: leaflets (pen, &r, px < 8 ? 1 : px < 16 ? 2 : 4, 0.5, 0.9); break;
    case BL_LEAF_NEEDLE: leaflets (pen, &r, px < 8 ? 2 : 4, 0.6, 1.3); break;
    case BL_LEAF_SCALE: leaflets (pen, &r, px < 8 ? 1 : 3, 0.5, 1.6); break;
    case BL_LEAF_FROND: leaflets (pen, &r, px < 10 ? 2 : px < 30 ? 5 : 9, 0.6, 0.5); break;
    case BL_LEAF_N: default: simple_leaf (pen, &r, 0.4, small, side); break;
    }
}

static void
blade_path (FigPen *pen, const FigMark *m, double detail)
{
  double x0 = m->x, y0 = m->y, cx = m->angle, cy = m->a, x1 = m->b, y1 = m->c;
  double ax = cx - x0, ay = cy - y0, bx = x1 - cx, by = y1 - cy;
  double la = sqrt (ax * ax + ay * ay), lb = sqrt (bx * bx + by * by), w0 = m->d / 2, w1 = m->e / 2,
    wm = (w0 * 1.5 + w1 * 0.5) / 2;
  double mx = x1 - x0, my = y1 - y0, lm = sqrt (mx * mx + my * my);

  if (la < 1e-9)
    ax = bx, ay = by, la = lb;
  if (lb < 1e-9)
    bx = ax, by = ay, lb = la;
  if (la < 1e-9 || lm < 1e-9)
    return;
  ax /= la, ay /= la, bx /= lb, by /= lb, mx /= lm, my /= lm;
  fig_pen_move (pen, x0 - ay * w0, y0 + ax * w0);
  if (lm * detail >= 7 && MAX (m->d, m->e) * detail < 3.2)
    {
      /* A thin blade: straight pieces, as many as its length can show. */
      guint n = lm * detail < 14 ? 2 : lm * detail < 40 ? 4 : lm * detail < 110 ? 8 : 12;

      for (guint pass = 0; pass < 2; pass++)
        for (guint i = pass ? 0 : 1; i <= n; i++)
          {
            double t = pass ? 1 - (double) i / n : (double) i / n, u = 1 - t;
            double tx = u * ax * la + t * bx * lb, ty = u * ay * la + t * by * lb,
              l = MAX (1e-9, sqrt (tx * tx + ty * ty));
            double w = (pass ? -1 : 1) * (w0 + (w1 - w0) * t);

            fig_pen_line (pen, u * u * x0 + 2 * u * t * cx + t * t * x1 - ty / l * w,
                           u * u * y0 + 2 * u * t * cy + t * t * y1 + tx / l * w);
          }
      fig_pen_close (pen);
      return;
    }
  if (lm * detail < 7)
    {
      fig_pen_line (pen, x1 - by * w1, y1 + bx * w1);
      fig_pen_line (pen, x1 + by * w1, y1 - bx * w1);
    }
  else
    {
      /* Quadratic raised to cubic, each side moved out by its width. */
      double lx = cx - my * wm, ly = cy + mx * wm, rx = cx + my * wm, ry = cy - mx * wm;
      double p0x = x0 - ay * w0, p0y = y0 + ax * w0, p1x = x1 - by * w1, p1y = y1 + bx * w1;
      double q0x = x0 + ay * w0, q0y = y0 - ax * w0, q1x = x1 + by * w1, q1y = y1 - bx * w1;

      fig_pen_curve (pen, p0x + (lx - p0x) * 2 / 3, p0y + (ly - p0y) * 2 / 3,
                      p1x + (lx - p1x) * 2 / 3,
                      p1y + (ly - p1y) * 2 / 3, p1x, p1y);
      fig_pen_line (pen, q1x, q1y);
      fig_pen_curve (pen, q1x + (rx - q1x) * 2 / 3, q1y + (ry - q1y) * 2 / 3,
                      q0x + (rx - q0x) * 2 / 3,
                      q0y + (ry - q0y) * 2 / 3, q0x, q0y);
      fig_pen_close (pen);
      return;
    }
  fig_pen_line (pen, x0 + ay * w0, y0 - ax * w0);
  fig_pen_close (pen);
}

static void
oval_path (FigPen *pen, const FigMark *m, double detail)
{
  guint n = MAX (m->a, m->b) * detail < 2.4 ? 5 : MAX (m->a, m->b) * detail < 6 ? 8 : 18;
  double c = fig_fast_cos (m->angle), s = fig_fast_sin (m->angle), dc = fig_fast_cos (2 * G_PI / n), ds = fig_fast_sin (2 * G_PI / n),
    wc = 1, ws = 0;

  for (guint i = 0; i < n; i++)
    {
      double u = m->a * wc, v = -m->b * ws, next = wc * dc - ws * ds;

      (i ? fig_pen_line : fig_pen_move) (pen, m->x + u * c - v * s, m->y + u * s + v * c);
      ws = wc * ds + ws * dc, wc = next;
    }
  fig_pen_close (pen);
}

static void
rays_path (FigPen *pen, const FigMark *m)
{
  static const double shape[][2] = { { 0.0, 0.32 }, { 0.45, 0.5 }, { 0.82, 0.44 }, { 1.0, 0.16 },
                                     { 1.0, -0.16 }, { 0.82, -0.44 }, { 0.45, -0.5 },
                                       { 0.0, -0.32 } };
  double tc = fig_fast_cos (m->d), ts = fig_fast_sin (m->d);

  for (guint i = 0; i < m->n; i++)
    {
      double w = m->angle + i * 2 * G_PI / m->n, c = fig_fast_cos (w), s = fig_fast_sin (w);

      for (guint k = 0; k < G_N_ELEMENTS (shape); k++)
        {
          double u = m->b + shape[k][0] * (m->a - m->b), v = shape[k][1] * m->e;
          double x = u * c - v * s, y = (u * s + v * c) * m->c;

          (k ? fig_pen_line : fig_pen_move) (pen, m->x + x * tc - y * ts, m->y + x * ts + y * tc);
        }
      fig_pen_close (pen);
    }
}

/* Length and direction of one stroke of a tuft: the middle ones longest. */
double
fig_tuft_stroke (const FigMark *m, guint i, double *angle)
{
  double k = m->n > 1 ? i / (double) (m->n - 1) - 0.5 : 0;

  *angle = m->angle + k * m->b;
  return m->a * (1 - 0.32 * fabs (k) * 2 - 0.16 * ((i * 7) % 3 == 1));
}

static void
tuft_path (FigPen *pen, const FigMark *m)
{
  for (guint i = 0; i < m->n; i++)
    {
      double w, l = fig_tuft_stroke (m, i, &w), c = fig_fast_cos (w), s = fig_fast_sin (w);

      fig_pen_move (pen, m->x - s * m->c * 0.5, m->y + c * m->c * 0.5);
      fig_pen_line (pen, m->x + c * l, m->y + s * l);
      fig_pen_line (pen, m->x + s * m->c * 0.5, m->y - c * m->c * 0.5);
      fig_pen_close (pen);
    }
}

static void
blob_path (FigPen *pen, const FigMark *m, double detail)
{
  guint n = MAX (m->a, m->b) * detail > 12 ? 26 : 14;

  for (guint i = 0; i < n; i++)
    {
      double w = -(i * 2 * G_PI / n); /* every mark winds the same way */
      double k = 0.88 + 0.08 * fig_fast_sin (3 * w + m->c) + 0.07 * fig_fast_sin (5 * w + 2.1 * m->c) + 0.05
        * ((i * 5) % 3);

      (i ? fig_pen_line : fig_pen_move) (pen, m->x + m->a * k * fig_fast_cos (w),
                                           m->y + m->b * k * fig_fast_sin (w));
    }
  fig_pen_close (pen);
}

void
fig_emit_mark (FigPen *pen, const FigMark *m, double detail)
{
  switch ((FigKind) m->kind)
    {
    case FIG_LEAF: case FIG_HALF: leaf_path (pen, m, detail); break;
    case FIG_BLADE: blade_path (pen, m, detail); break;
    case FIG_OVAL: oval_path (pen, m, detail); break;
    case FIG_RAYS: rays_path (pen, m); break;
    case FIG_TUFT: tuft_path (pen, m); break;
    case FIG_BLOB: blob_path (pen, m, detail); break;
    case FIG_CLOUD: fig_cloud_path (pen, m, detail); break;
    case FIG_CAP: fig_cap_path (pen, m, detail); break;
    case FIG_FEATHER: fig_feather_path (pen, m); break;
    default: break;
    }
}

static int
by_key (const void *a, const void *b)
{
  guint64 x = ((const FigMark *) a)->key, y = ((const FigMark *) b)->key;

  return x < y ? -1 : x > y;
}

/* For a page: runs of one colour as one path. */
static void
emit_paths (Fig *f, cairo_t *cr, double sx, double sy)
{
  g_autoptr (FigPen) pen = fig_pen_new (cr, NULL, NULL);
  guint64 run = G_MAXUINT64;
  BlColor c = { 0, 0, 0, 1 };

  cairo_save (cr);
  cairo_scale (cr, sx, -sy);
  cairo_set_tolerance (cr, 0.4);
  cairo_new_path (cr);
  for (guint i = 0; i < f->n_marks; i++)
    {
      guint64 now = f->marks[i].key >> 22;

      if (now != run && i)
        fig_pen_fill (pen, c.r, c.g, c.b, 1);
      if (now != run)
        c = fig_color (f, now & 0x3fff), run = now;
      fig_emit_mark (pen, &f->marks[i], f->detail);
    }
  fig_pen_fill (pen, c.r, c.g, c.b, 1);
  cairo_restore (cr);
}

static void
emit_pixels (Fig *f, cairo_surface_t *image, const cairo_matrix_t *to_pixels)
{
  g_autoptr (FigPen) pen = fig_pen_new (NULL, image, to_pixels);

  for (guint i = f->n_marks; i-- > 0;)
    {
      BlColor c = fig_color (f, f->marks[i].key >> 22 & 0x3fff);

      fig_emit_mark (pen, &f->marks[i], f->detail);
      fig_pen_fill (pen, c.r, c.g, c.b, 1);
    }
  cairo_surface_mark_dirty (image);
}

/* The pixels of the target that the marks may reach and the clip leaves; FALSE when none. */
static gboolean
pixel_box (const Fig *f, cairo_t *cr, double sx, double sy, double scale, int box[4])
{
  double x0 = INFINITY, y0 = INFINITY, x1 = -INFINITY, y1 = -INFINITY, c[4],
    more = 0.05 * (f->x1 - f->x0 + f->y1 - f->y0);

  for (int i = 0; i < 4; i++)
    {
      double x = sx * (i & 1 ? f->x1 + more : f->x0 - more),
        y = -sy * (i & 2 ? f->y1 + more : f->y0 - more);

      cairo_user_to_device (cr, &x, &y);
      x0 = MIN (x0, x), x1 = MAX (x1, x), y0 = MIN (y0, y), y1 = MAX (y1, y);
    }
  cairo_save (cr);
  cairo_identity_matrix (cr);
  cairo_clip_extents (cr, &c[0], &c[1], &c[2], &c[3]);
  cairo_restore (cr);
  x0 = MAX (x0, c[0]), y0 = MAX (y0, c[1]), x1 = MIN (x1, c[2]), y1 = MIN (y1, c[3]);
  if (!(x1 > x0 && y1 > y0))
    return FALSE;
  box[0] = (int) floor (x0 * scale) - 1, box[1] = (int) floor (y0 * scale) - 1;
  box[2] = (int) ceil (x1 * scale) + 1, box[3] = (int) ceil (y1 * scale) + 1;
  return TRUE;
}

/* More pixels than one should hold twice. */
static gboolean
is_vast (const int box[4])
{
  double w = (double) box[2] - box[0], h = (double) box[3] - box[1];

  return w > 16000 || h > 16000 || w * h > 36e6;
}

void
fig_emit (Fig *f, cairo_t *cr, double sx, double sy)
{
  cairo_surface_t *target = cairo_get_group_target (cr), *image;
  double kx = 1, ky = 1;
  cairo_matrix_t m;
  int box[4];

  qsort (f->marks, f->n_marks, sizeof *f->marks, by_key);
  if (cairo_surface_get_type (target) != CAIRO_SURFACE_TYPE_IMAGE)
    {
      emit_paths (f, cr, sx, sy);
      return;
    }
  cairo_surface_get_device_scale (target, &kx, &ky);
  if (!pixel_box (f, cr, sx, sy, kx, box))
    return;
  if (is_vast (box))
    {
      emit_paths (f, cr, sx, sy);
      return;
    }
  image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, box[2] - box[0], box[3] - box[1]);
  cairo_get_matrix (cr, &m);
  cairo_matrix_scale (&m, sx, -sy);
  m.xx *= kx, m.xy *= kx, m.x0 = m.x0 * kx - box[0];
  m.yx *= ky, m.yy *= ky, m.y0 = m.y0 * ky - box[1];
  emit_pixels (f, image, &m);
  cairo_surface_set_device_scale (image, kx, ky);
  cairo_save (cr);
  cairo_identity_matrix (cr);
  cairo_set_source_surface (cr, image, box[0] / kx, box[1] / ky);
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_NEAREST);
  cairo_paint (cr);
  cairo_restore (cr);
  cairo_surface_destroy (image);
}
