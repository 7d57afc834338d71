/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Filling the outlines of a figure's marks in pixels, by exact area, from front to back: what is
 * closed already costs nothing more. */
#include "draw/figure-pen.h"

#include <stdlib.h>
#include <string.h>

/* One count of closed pixels a tile; what lies beyond the picture's edge counts as closed. */
static void
tiles_new (FigPen *p)
{
  int side = 1 << FIG_TILE, down;

  p->across = (p->width + side - 1) >> FIG_TILE, down = (p->height + side - 1) >> FIG_TILE;
  p->tiles = g_new0 (guint8, (gsize) MAX (1, p->across * down));
  for (int y = 0; y < down; y++)
    for (int x = 0; x < p->across; x++)
      p->tiles[y * p->across + x] = (guint8) (side * side
          - MIN (side, p->width - (x << FIG_TILE)) * MIN (side, p->height - (y << FIG_TILE)));
}

FigPen *
fig_pen_new (cairo_t *cr, cairo_surface_t *image, const cairo_matrix_t *to_pixels)
{
  FigPen *p = g_malloc (sizeof *p);

  memset (p, 0, G_STRUCT_OFFSET (FigPen, ring));
  if (image == NULL)
    {
      p->cr = cr;
      return p;
    }
  cairo_surface_flush (image);
  p->xx = to_pixels->xx, p->yx = to_pixels->yx, p->xy = to_pixels->xy, p->yy = to_pixels->yy;
  p->x0 = to_pixels->x0, p->y0 = to_pixels->y0;
  p->data = (guint32 *) (void *) cairo_image_surface_get_data (image);
  p->width = cairo_image_surface_get_width (image);
  p->height = cairo_image_surface_get_height (image);
  p->stride = cairo_image_surface_get_stride (image) / 4;
  p->row = g_new (int, 2 * (gsize) MAX (1, p->height));
  tiles_new (p);
  return p;
}

void
fig_pen_free (FigPen *pen)
{
  g_free (pen->cover);
  g_free (pen->row);
  g_free (pen->tiles);
  g_free (pen);
}

void
fig_pen_curve (FigPen *p, double x1, double y1, double x2, double y2, double x3, double y3)
{
  double x0 = p->x, y0 = p->y, bend, n;

  if (p->cr)
    {
      cairo_curve_to (p->cr, x1, y1, x2, y2, x3, y3);
      p->x = x3, p->y = y3;
      return;
    }
  /* As many pieces as keep within a tenth of a pixel of the curve. */
  bend = fabs (x0 - 2 * x1 + x2) + fabs (y0 - 2 * y1 + y2) + fabs (x1 - 2 * x2 + x3)
         + fabs (y1 - 2 * y2 + y3);
  n = CLAMP (ceil (sqrt (bend * (fabs (p->xx) + fabs (p->xy)) * 2.2)), 2, 24);
  for (int i = 1; i <= (int) n; i++)
    {
      double t = i / n, u = 1 - t, a = u * u * u, b = 3 * u * u * t, c = 3 * u * t * t,
        d = t * t * t;

      fig_pen_put (p, a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3);
    }
  p->x = x3, p->y = y3;
}

#define FULL 65536

/* The pixels that one fill may touch, and where its cover lies. */
typedef struct
{
  int x0, y0, w, h;
  int *cover; /* FULL: the whole pixel */
  int *row;
  gboolean inside; /* the whole outline lies in the picture */
} Patch;

static inline void
touch (const Patch *k, int y, int from, int to)
{
  int *r = k->row + 2 * y;

  if (from < r[0])
    r[0] = from;
  if (to > r[1])
    r[1] = to;
}

/* What an edge that crosses a row from @xa to @xb, @d of its height, covers to its right. */
static inline void
cross (const Patch *k, int y, float xa, float xb, float d)
{
  float left = xa < xb ? xa : xb, right = xa < xb ? xb : xa;
  int *c = k->cover + (gsize) y * k->w, i = (int) left, j = (int) right, all = (int) (d * FULL);

  touch (k, y, i, j + 1);
  if (j <= i)
    {
      int m = (int) (d * FULL * (0.5f * (left + right) - (float) i));

      c[i] += all - m;
      c[i + 1] += m;
      return;
    }
  {
    float per = d * FULL / (right - left), in = (float) (i + 1) - left, out = right - (float) j;
    int sum = (int) (0.5f * per * in * in), last = (int) (0.5f * per * out * out);

    c[i] += sum;
    for (int x = i + 1; x < j; x++)
      {
        /* The mean of a ramp over the pixel, less what is there already. */
        int now = (int) (per * (in + (float) (x - i - 1) + 0.5f));

        c[x] += now - sum;
        sum = now;
      }
    c[j] += all - last - sum;
    c[j + 1] += last;
  }
}

/* An edge that leaves the picture: cut above and below, pressed against its sides. */
static void
edge_outside (const Patch *k, float x0, float y0, float x1, float y1, float sign)
{
  float slope = (x1 - x0) / (y1 - y0), most = (float) k->w - 2.001f, x = x0;

  if (y1 <= 0 || y0 >= (float) k->h)
    return;
  if (y0 < 0)
    x -= slope * y0, y0 = 0;
  y1 = MIN (y1, (float) k->h);
  for (int y = (int) y0; (float) y < y1; y++)
    {
      float d = MIN (y1, (float) (y + 1)) - MAX (y0, (float) y), xn = x + slope * d;

      cross (k, y, CLAMP (x, 0, most), CLAMP (xn, 0, most), sign * d);
      x = xn;
    }
}

static inline void
edge (const Patch *k, float x0, float y0, float x1, float y1)
{
  float sign = 1, slope, d, xn;
  int y, last;

  if (y0 == y1)
    return;
  if (y0 > y1)
    {
      float t = x0;

      x0 = x1, x1 = t, t = y0, y0 = y1, y1 = t, sign = -1;
    }
  if (!k->inside)
    {
      edge_outside (k, x0, y0, x1, y1, sign);
      return;
    }
  y = (int) y0, last = (int) y1;
  if (y == last)
    {
      cross (k, y, x0, x1, sign * (y1 - y0));
      return;
    }
  slope = (x1 - x0) / (y1 - y0), d = (float) (y + 1) - y0, xn = x0 + slope * d;
  cross (k, y, x0, xn, sign * d);
  for (y++; y < last; y++)
    {
      /* Rounding must not carry a long edge past its end. */
      float to = MAX (0, xn + slope);

      cross (k, y, xn, to, sign);
      xn = to;
    }
  if (y1 > (float) last)
    cross (k, last, xn, x1, sign * (y1 - (float) last));
}

static gboolean
is_hidden (const FigPen *p, const Patch *k)
{
  int side = 1 << FIG_TILE, x1 = MIN (k->x0 + k->w - 3, p->width - 1) >> FIG_TILE,
    y1 = MIN (k->y0 + k->h - 1, p->height - 1) >> FIG_TILE;

  for (int y = k->y0 >> FIG_TILE; y <= y1; y++)
    for (int x = k->x0 >> FIG_TILE; x <= x1; x++)
      if (p->tiles[y * p->across + x] < side * side)
        return FALSE;
  return TRUE;
}

/* The picture's own pixels that the outline may reach. */
static gboolean
bounds (FigPen *p, Patch *k)
{
  float x0 = INFINITY, y0 = INFINITY, x1 = -INFINITY, y1 = -INFINITY;

  for (guint i = 0; i < p->n; i++)
    {
      if (!isfinite (p->px[i]) || !isfinite (p->py[i]))
        return FALSE;
      x0 = MIN (x0, p->px[i]), x1 = MAX (x1, p->px[i]);
      y0 = MIN (y0, p->py[i]), y1 = MAX (y1, p->py[i]);
    }
  if (!(x1 > 0 && y1 > 0 && x0 < p->width && y0 < p->height))
    return FALSE;
  k->inside = x0 >= 0 && y0 >= 0 && x1 < p->width && y1 < p->height;
  k->x0 = x0 > 0 ? (int) x0 : 0, k->y0 = y0 > 0 ? (int) y0 : 0;
  k->w = (x1 < p->width ? (int) x1 + 1 : p->width) - k->x0 + 3;
  k->h = (y1 < p->height ? (int) y1 + 1 : p->height) - k->y0;
  if (k->w < 4 || k->h < 1 || is_hidden (p, k))
    return FALSE;
  if ((gsize) k->w * k->h > p->n_cover)
    {
      g_free (p->cover);
      p->n_cover = MAX (8192, (gsize) k->w * k->h * 3 / 2);
      p->cover = g_new0 (int, p->n_cover);
    }
  k->cover = p->cover, k->row = p->row;
  for (int y = 0; y < k->h; y++)
    k->row[2 * y] = k->w, k->row[2 * y + 1] = -1;
  return TRUE;
}

/* Both halves times @a of 255, rounded. */
static inline guint32
share (guint32 pair, guint32 a)
{
  guint32 t = pair * a + 0x800080;

  return (t + (t >> 8 & 0xff00ff)) >> 8 & 0xff00ff;
}

/* @color under what is there already, by @a of 255. */
static inline guint32
under (guint32 there, guint32 color, guint32 a)
{
  guint32 room = 255 - (there >> 24);

  a = (a * room + 127) / 255;
  /* What is left to see through is less than an eye finds. */
  if (room - a < 4)
    a = room;
  return there + (share (color & 0xff00ff, a) | share (color >> 8 & 0xff00ff, a) << 8);
}

/* Sums the cover along a row and lays the colour under, tile by tile; leaves the cover empty. */
static void
sweep_row (FigPen *p, int *c, guint32 *d, guint8 *closed, int x0, int n, guint32 color, int alpha)
{
  int sum = 0, x = 0;

  while (x < n)
    {
      int side = 1 << FIG_TILE, tile = (x0 + x) >> FIG_TILE, end = MIN (n, ((tile + 1) << FIG_TILE)
          - x0);
      guint shut = 0;

      if (closed[tile] == side * side)
        {
          for (; x < end; x++)
            sum += c[x], c[x] = 0;
          continue;
        }
      for (; x < end; x++)
        {
          guint32 a;

          sum += c[x];
          c[x] = 0;
          if (d[x] >= 0xff000000u)
            continue;
          a = ((guint32) MIN (FULL, abs (sum)) * (guint32) alpha + FULL / 2) / FULL;
          if (a == 0)
            continue;
          d[x] = a == 255 && d[x] == 0 ? color : under (d[x], color, a);
          shut += d[x] >= 0xff000000u;
        }
      closed[tile] = (guint8) (closed[tile] + shut);
    }
}

static void
sweep (FigPen *p, const Patch *k, guint32 color, int alpha)
{
  for (int y = 0; y < k->h; y++)
    {
      int *c = k->cover + (gsize) y * k->w, from = k->row[2 * y], to = k->row[2 * y + 1],
        room = MIN (to + 1, p->width - k->x0);

      if (from < room)
        sweep_row (p, c + from, p->data + (gsize) (k->y0 + y) * p->stride + k->x0 + from,
                   p->tiles + (gsize) ((k->y0 + y) >> FIG_TILE) * p->across, k->x0 + from,
                   room - from, color, alpha);
      for (int x = MAX (from, room); x <= to; x++)
        c[x] = 0;
    }
}

static guint32
channel (double v)
{
  return (guint32) (CLAMP (v, 0, 1) * 255 + 0.5);
}

void
fig_pen_fill (FigPen *p, double r, double g, double b, double a)
{
  Patch k;

  if (p->cr)
    {
      cairo_set_source_rgba (p->cr, r, g, b, a);
      cairo_fill (p->cr);
      return;
    }
  if (bounds (p, &k))
    {
      float ox = (float) k.x0, oy = (float) k.y0;

      p->ring[p->n_rings] = (guint16) p->n;
      for (guint i = 0; i < p->n_rings; i++)
        for (guint from = p->ring[i], to = p->ring[i + 1], j = from; j < to; j++)
          {
            guint next = j + 1 < to ? j + 1 : from;

            edge (&k, p->px[j] - ox, p->py[j] - oy, p->px[next] - ox, p->py[next] - oy);
          }
      sweep (p, &k, 0xff000000u | channel (r) << 16 | channel (g) << 8 | channel (b), (int) (CLAMP (a, 0, 1) * 255 + 0.5));
    }
  p->n = p->n_rings = 0;
}
