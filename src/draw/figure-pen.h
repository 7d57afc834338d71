/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the marks of a figure go: onto a cairo path, or straight into pixels.
 *
 * Cairo sorts the edges of a path for all its marks together, which for thousands of small leaves
 * costs more than all the rest. Pixels need no such order: each mark is filled by itself, with
 * the share that its outline takes of each pixel. Pixels are filled from front to back, paths from
 * back to front. */
#pragma once

#include <cairo.h>
#include <glib.h>
#include <math.h>

#define FIG_PEN_POINTS 3072
#define FIG_PEN_RINGS 256
#define FIG_TILE 3 /* tiles of 8 by 8 pixels */

typedef struct
{
  cairo_t *cr;                   /* NULL: pixels */
  double xx, yx, xy, yy, x0, y0; /* user to pixels */
  double x, y;                   /* where the pen is, user */
  guint n, n_rings;
  guint32 *data;
  int width, height, stride;     /* of the pixels; stride in pixels */
  int *cover;                    /* signed area by pixel, all 0 between two fills */
  gsize n_cover;
  guint8 *tiles;                 /* closed pixels in each */
  int across;
  int *row;                      /* two a row: the first and last pixel touched */
  /* The outline so far, in pixels; a ring starts at each of ring[]. */
  guint16 ring[FIG_PEN_RINGS + 1];
  float px[FIG_PEN_POINTS], py[FIG_PEN_POINTS];
} FigPen;

/* Onto the pixels of an ARGB32 picture, by this transform; or, when @image is NULL, onto @cr. */
FigPen *fig_pen_new (cairo_t *cr, cairo_surface_t *image, const cairo_matrix_t *to_pixels);
void fig_pen_free (FigPen *pen);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FigPen, fig_pen_free)

/* Fills what was outlined since the last fill: over the rest on a path, under it in pixels. */
void fig_pen_fill (FigPen *pen, double r, double g, double b, double a);
void fig_pen_curve (FigPen *pen, double x1, double y1, double x2, double y2, double x3, double y3);

/* Sine and cosine to a thousandth: enough for a leaf's lie, and many times as fast. */
static inline double
fig_fast_sin (double w)
{
  double turns = w * (1 / (2 * G_PI)), t = turns - (double) (int) (turns + (turns < 0 ? -0.5 : 0.5)),
    y = 8 * t - 16 * t * fabs (t);

  return y + 0.225 * (y * fabs (y) - y);
}

static inline double
fig_fast_cos (double w)
{
  return fig_fast_sin (w + G_PI / 2);
}

static inline void
fig_pen_put (FigPen *p, double x, double y)
{
  if (p->n >= FIG_PEN_POINTS)
    return;
  p->px[p->n] = (float) (x * p->xx + y * p->xy + p->x0);
  p->py[p->n++] = (float) (x * p->yx + y * p->yy + p->y0);
}

static inline void
fig_pen_move (FigPen *p, double x, double y)
{
  p->x = x, p->y = y;
  if (p->cr)
    {
      cairo_move_to (p->cr, x, y);
      return;
    }
  if (p->n_rings < FIG_PEN_RINGS)
    p->ring[p->n_rings++] = (guint16) p->n;
  fig_pen_put (p, x, y);
}

static inline void
fig_pen_line (FigPen *p, double x, double y)
{
  p->x = x, p->y = y;
  if (p->cr)
    cairo_line_to (p->cr, x, y);
  else
    fig_pen_put (p, x, y);
}

/* In pixels every ring closes by itself. */
static inline void
fig_pen_close (FigPen *p)
{
  if (p->cr)
    cairo_close_path (p->cr);
}
