/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edging along the bed line: brick, steel, stone or a cut edge, as solids seen through the
 * camera. */
#include "base/rng.h"
#include "draw/scene-private.h"

#include <string.h>

typedef enum { EDGE_NONE, EDGE_BRICK, EDGE_STEEL, EDGE_STONE, EDGE_CUT } EdgeKind;

typedef struct
{
  double length, width, height, joint; /* metres */
  BlColor color;
  double vary;
} EdgeStyle;

/* A modular brick laid flat is 8 × 4 in face with 2 1/4 in high (common practice); steel strip 1/8
 * in,
 * drawn somewhat thicker so that it shows; cut stone as sold in pieces of about a foot. */
static const EdgeStyle styles[] = {
  [EDGE_NONE] = { 0 },
  [EDGE_BRICK] = { 0.200, 0.100, 0.055, 0.008, { 0.62, 0.33, 0.25, 1 }, 0.16 },
  [EDGE_STEEL] = { 0.250, 0.012, 0.032, 0.0, { 0.40, 0.36, 0.33, 1 }, 0.02 },
  [EDGE_STONE] = { 0.300, 0.170, 0.095, 0.014, { 0.66, 0.64, 0.60, 1 }, 0.13 },
  [EDGE_CUT] = { 0.300, 0.050, 0.0, 0.0, { 0.16, 0.12, 0.09, 1 }, 0.05 },
};

static EdgeKind
edge_kind (const BlBed *bed)
{
  const char *key = bed->edging;

  if (key == NULL || *key == '\0')
    return EDGE_NONE;
  if (strstr (key, "brick"))
    return EDGE_BRICK;
  if (strstr (key, "steel") || strstr (key, "metal"))
    return EDGE_STEEL;
  if (strstr (key, "cut") && !strstr (key, "stone"))
    return EDGE_CUT;
  return EDGE_STONE;
}

typedef struct
{
  BlPoint a, b, n; /* ends on the bed line, and the unit outward normal */
  double depth;
  guint64 seed;
} Piece;

static int
far_first (gconstpointer x, gconstpointer y)
{
  const Piece *p = x, *q = y;

  return p->depth > q->depth ? -1 : p->depth < q->depth;
}

/* The ring cut into pieces by arc length, starting from the point nearest to the viewer and going
 * both ways as far as the edged share reaches. */
static GArray *
pieces (const BlScene *scene, const BlBed *bed, const EdgeStyle *style)
{
  const BlCamera *camera = bl_model_camera (scene->model);
  const BlPoints *ring = bed->ring;
  GArray *out = g_array_new (FALSE, FALSE, sizeof (Piece));
  double around = bl_polygon_perimeter (ring), step, at = 0, nearest = INFINITY, from = 0,
    share = CLAMP (bed->edging_share, 0, 1);
  double turn = bl_polygon_signed_area (ring) > 0 ? 1 : -1;
  guint n = (guint) CLAMP (around / style->length, 3, 6000), seg = 0;
  BlPoint eye = camera ? BL_POINT (camera->x, camera->y) : BL_POINT (0, 0);
  BlPoint last = bl_points_at (ring, 0);
  double done = 0;

  step = around / n;
  for (guint i = 0; i < ring->len; i++)
    {
      BlPoint p = bl_points_at (ring, i);

      if (i > 0)
        at += bl_dist (bl_points_at (ring, i - 1), p);
      if (bl_dist (p, eye) < nearest)
        nearest = bl_dist (p, eye), from = at;
    }
  for (guint i = 0; i < n; i++)
    {
      double target = (i + 1) * step, off = fabs (fmod (fabs ((i + 0.5) * step - from), around));
      BlPoint a, b;
      Piece piece;

      while (seg < ring->len)
        {
          a = bl_points_at (ring, seg), b = bl_points_at (ring, (seg + 1) % ring->len);
          if (done + bl_dist (a, b) >= target - 1e-9)
            break;
          done += bl_dist (a, b);
          seg++;
        }
      if (seg >= ring->len)
        b = bl_points_at (ring, 0);
      else
        b = bl_lerp (a, b, CLAMP ((target - done) / MAX (1e-9, bl_dist (a, b)), 0, 1));
      piece = (Piece) { .a = last, .b = b, .seed = bl_rng_mix (bed->id, i) };
      last = b;
      off = MIN (off, around - off);
      if (off > share * around / 2 + 1e-9 || bl_dist (piece.a, piece.b) < 1e-6)
        continue;
      piece.n = bl_mul (bl_sub (b, piece.a), 1 / bl_dist (b, piece.a));
      piece.n = BL_POINT (piece.n.y * turn, -piece.n.x * turn);
      piece.depth = bl_dist (bl_lerp (piece.a, piece.b, 0.5), eye);
      g_array_append_val (out, piece);
    }
  g_array_sort (out, far_first);
  return out;
}

static gboolean
corner (const BlScene *scene, BlPoint at, double z, BlPoint *px)
{
  const BlCamera *camera = bl_model_camera (scene->model);

  if (scene->view == BL_VIEW_PLAN)
    {
      *px = BL_POINT (at.x, -at.y);
      return TRUE;
    }
  if ((at.x - camera->x) * sin (camera->heading) + (at.y - camera->y) * cos (camera->heading) < 0.3)
    return FALSE;
  return bl_camera_project (camera, at.x, at.y, z, px);
}

static void
quad (BlPainting *p, const BlPoint q[4], BlColor c, double light)
{
  const BlFigureLight *l = &p->scene->light->figure;
  double e = p->scene->view == BL_VIEW_PHOTO ? sqrt (l->exposure) : 1;

  cairo_set_source_rgb (p->cr, CLAMP (c.r * light * e * l->tint.r, 0, 1),
                        CLAMP (c.g * light * e * l->tint.g, 0, 1),
                        CLAMP (c.b * light * e * l->tint.b, 0, 1));
  cairo_move_to (p->cr, q[0].x, q[0].y);
  for (int i = 1; i < 4; i++)
    cairo_line_to (p->cr, q[i].x, q[i].y);
  cairo_close_path (p->cr);
  cairo_fill (p->cr);
}

static void
paint_piece (BlPainting *p, const Piece *piece, const EdgeStyle *style)
{
  const BlCamera *camera = bl_model_camera (p->scene->model);
  BlRng rng = bl_rng (piece->seed);
  double len = MAX (1e-6, bl_dist (piece->a, piece->b)), cut = style->joint / 2 / len,
    v = 1 + style->vary * bl_rng_range (&rng, -1, 1);
  double width = style->width * bl_rng_range (&rng, 1 - style->vary * 0.5, 1 + style->vary * 0.5),
    h = style->height * bl_rng_range (&rng, 1 - style->vary, 1);
  BlPoint in[2] = { bl_lerp (piece->a, piece->b, cut), bl_lerp (piece->a, piece->b, 1 - cut) };
  BlPoint out[2] = { bl_add (in[0], bl_mul (piece->n, width)),
                     bl_add (in[1], bl_mul (piece->n, width)) };
  BlColor c = bl_color_mix (style->color, (BlColor) { 0.55, 0.45, 0.40, 1 },
                            style->vary * 2 * bl_rng_unit (&rng));
  BlPoint low[4], top[4], side[4];
  gboolean outside;

  for (int i = 0; i < 2; i++)
    if (!corner (p->scene, in[i], 0, &low[i]) || !corner (p->scene, out[i], 0, &low[i + 2]) ||
        !corner (p->scene, in[i], h, &top[i]) || !corner (p->scene, out[i], h, &top[i + 2]))
      return;
  if (p->scene->view == BL_VIEW_PHOTO && h > 0)
    {
      /* Whichever long side faces the lens; then the top over it. */
      outside = bl_dot (piece->n, bl_sub (BL_POINT (camera->x, camera->y), in[0])) > 0;
      for (int i = 0; i < 2; i++)
        side[i] = low[outside ? i + 2 : i], side[3 - i] = top[outside ? i + 2 : i];
      quad (p, side, c, v * (outside ? 0.66 : 0.52));
    }
  quad (p, (BlPoint[4]) { top[0], top[1], top[3], top[2] }, c, v);
}

/* The joints: a darker strip of ground under the pieces. */
static void
paint_bedding (BlPainting *p, const GArray *list, const EdgeStyle *style)
{
  static const BlColor dark = { 0.25, 0.22, 0.19, 1 };

  for (guint i = 0; i < list->len; i++)
    {
      const Piece *e = &g_array_index (list, Piece, i);
      BlPoint q[4];

      if (corner (p->scene, e->a, 0, &q[0]) && corner (p->scene, e->b, 0, &q[1]) &&
          corner (p->scene, bl_add (e->b, bl_mul (e->n, style->width)), 0, &q[2]) &&
          corner (p->scene, bl_add (e->a, bl_mul (e->n, style->width)), 0, &q[3]))
        quad (p, q, dark, 1);
    }
}

void
bl_edging_paint (BlPainting *p, const BlBed *bed)
{
  EdgeKind kind = edge_kind (bed);
  g_autoptr (GArray) list = NULL;

  if (kind == EDGE_NONE || bed->ring == NULL || bed->ring->len < 3)
    return;
  list = pieces (p->scene, bed, &styles[kind]);
  cairo_save (p->cr);
  cairo_new_path (p->cr);
  if (styles[kind].joint > 0)
    paint_bedding (p, list, &styles[kind]);
  for (guint i = 0; i < list->len; i++)
    paint_piece (p, &g_array_index (list, Piece, i), &styles[kind]);
  cairo_restore (p->cr);
}
