/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sub-pixel snapping to crossings, corners and edges. */
#include "photo/snap.h"

#include "photo/snap-crossing.h"
#include "photo/snap-guess.h"
#include "photo/snap-junction.h"

#include <math.h>

#define LEAST_SD 0.05
#define MOST_SD 0.35          /* pixels, of a corner; a hand places it no worse */
#define BESIDE 1.1           /* pixels, in x and y, of the clicks beside a corner that prove it */
#define SAME 0.7             /* ... between what they find */
#define LEAST_EVIDENCE 2.0   /* log odds, nearly */
#define NEARER 3.3           /* ... that a corner at the radius loses against one at the click */
#define LEAST_EXPLAINED 0.3  /* of a joint that only its lines show */
#define LEAST_CLEAR 0.4      /* ... product of both lines */
#define LEAST_EDGE (-1.2)    /* ... of an edge, which asks for less */
#define LEAST_SHOWN 4.0      /* levels, of a line that may be an edge */

/* The edge @line is at the place nearest the click. FALSE when it does not show there. */
static gboolean
fit_edge (const BlPatch *patch,
          const BlLine  *line,
          BlPoint        middle,
          BlCorner      *edge)
{
  double ahead = bl_dot (bl_sub (middle, line->on), line->along);
  double turn = atan2 (line->along.y, line->along.x);

  if (MAX (bl_line_shows (line, ahead, -1), bl_line_shows (line, ahead, 1)) < LEAST_SHOWN)
    return FALSE;
  *edge = (BlCorner) { .at = bl_add (line->on, bl_mul (line->along, ahead)), .n_arms = 2,
                       .scale = 1.0, .joint = { line->joint, line->joint } };
  edge->angle[0] = turn > 0.0 ? turn - G_PI : turn;
  edge->angle[1] = edge->angle[0] + G_PI;
  return bl_corner_fit (patch, BL_FIT_FIND, edge) && bl_corner_evidence (edge) >= LEAST_EDGE;
}

/* The nearest edge that is sure to be there; the click moves across it only. */
static gboolean
find_edge (const BlPatch *patch,
           const GArray  *lines,
           BlPoint        start,
           double         radius,
           BlSnap        *snap)
{
  BlPoint middle = BL_POINT (start.x - patch->x0 - 0.5, start.y - patch->y0 - 0.5);
  double best = radius;

  for (guint i = 0; i < lines->len; i++)
    {
      const BlLine *line = &g_array_index (lines, BlLine, i);
      BlPoint along;
      BlCorner edge;
      double away;

      if (fabs (bl_cross (line->along, bl_sub (middle, line->on))) >= best + 1.0
          || !fit_edge (patch, line, middle, &edge))
        continue;
      along = BL_POINT (cos (edge.angle[0]) - cos (edge.angle[1]),
                        sin (edge.angle[0]) - sin (edge.angle[1]));
      along = bl_mul (along, 1.0 / bl_norm (along));
      away = bl_cross (along, bl_sub (edge.at, middle));
      if (fabs (away) >= best)
        continue;
      best = fabs (away);
      snap->at = bl_add (start, bl_mul (BL_POINT (-along.y, along.x), away));
      snap->direction = atan2 (along.y, along.x);
      snap->sd = MAX (edge.sd, LEAST_SD);
    }
  return best < radius;
}

/* The likeliest corner as fields of colour; the nearer is the likelier meant. */
static gboolean
find_corner (const BlPatch *patch,
             const GArray  *lines,
             double         radius,
             BlPoint       *at,
             double        *sd)
{
  BlPoint middle = BL_POINT (0.5 * (patch->w - 1), 0.5 * (patch->h - 1));
  g_autoptr (GArray) corners = bl_corners_find (patch, lines, middle, radius);
  double best = -INFINITY;
  BlCorner chosen;

  for (guint i = 0; i < corners->len; i++)
    {
      const BlCorner *corner = &g_array_index (corners, BlCorner, i);
      double away = bl_dist (corner->at, middle) / radius, value = bl_corner_evidence (corner);

      if (value < LEAST_EVIDENCE || value - NEARER * away * away <= best)
        continue;
      best = value - NEARER * away * away;
      chosen = *corner;
    }
  if (!isfinite (best))
    return FALSE;
  bl_corner_settle (patch, &chosen);
  *at = chosen.at;
  *sd = chosen.sd;
  return TRUE;
}

/* Thin joints in a calm face that meet its edge at a small angle, too faint for the fields beside
 * them. */
static gboolean
find_joint (const BlPatch  *patch,
            const GArray   *lines,
            const BlPixels *pixels,
            BlPoint         start,
            double          radius,
            BlPoint        *at,
            double         *sd)
{
  g_auto (BlPatch) light = { 0 };
  BlJunction junction;
  double error;

  bl_patch_init (&light, pixels, start, patch->w / 2, BL_PATCH_LIGHT);
  if (!bl_junction_find (patch, &light, lines, radius, &junction) || !junction.shallow
      || junction.explained < LEAST_EXPLAINED
      || junction.lines[0].clear * junction.lines[1].clear < LEAST_CLEAR)
    return FALSE;
  *at = junction.at;
  *sd = junction.sd;
  /* There the lines leave the place along the edge open, and what lies right at the corner, such as
   * the joint's end in the slab's face, tells more. */
  if (bl_crossing_refine (patch, TRUE, at, &error) && bl_dist (*at, junction.at) < 1.0)
    *sd = MAX (junction.sd, error);
  else
    *at = junction.at;
  return TRUE;
}

/* What is looked at from one start. */
typedef struct
{
  const BlPixels *pixels;
  BlPoint start;
  double radius;
  BlPatch patch;
  GArray *lines;
} Look;

static void
look_clear (Look *look)
{
  bl_patch_clear (&look->patch);
  g_clear_pointer (&look->lines, g_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Look, look_clear)

static void
look_init (Look           *look,
           const BlPixels *pixels,
           BlPoint         start,
           double          radius)
{
  BlPatch *patch = &look->patch;

  *look = (Look) { .pixels = pixels, .start = start, .radius = radius };
  bl_patch_init (patch, pixels, start, (int) ceil (radius) + BL_JUNCTION_REACH, 1.0);
  look->lines = bl_lines_find (patch, BL_POINT (0.5 * (patch->w - 1), 0.5 * (patch->h - 1)), radius);
}

/* The corner that a click at the start of @look would mean. FALSE when none is seen. */
static gboolean
find_meant (const Look *look,
            BlPoint    *at,
            double     *sd,
            gboolean   *known)
{
  const BlPatch *patch = &look->patch;

  *known = TRUE;
  if (find_corner (patch, look->lines, look->radius, at, sd))
    *known = *sd <= MOST_SD;
  else if (!find_joint (patch, look->lines, look->pixels, look->start, look->radius, at, sd))
    return FALSE;
  *at = bl_add (*at, BL_POINT (patch->x0 + 0.5, patch->y0 + 0.5));
  return TRUE;
}

/* Whether clicks on both sides of @at mean it too: what texture makes up changes with the start. */
static gboolean
is_found_again (const Look *look,
                BlPoint     at)
{
  for (int side = -1; side <= 1; side += 2)
    {
      g_auto (Look) other = { 0 };
      BlPoint there = { 0.0, 0.0 };
      gboolean known;
      double sd;

      look_init (&other, look->pixels, bl_add (at, BL_POINT (side * BESIDE, side * BESIDE)),
                 look->radius);
      if (!find_meant (&other, &there, &sd, &known) || bl_dist (there, at) > SAME)
        return FALSE;
    }
  return TRUE;
}

BlSnap
bl_snap (const BlPixels *pixels,
         BlPoint         start,
         double          radius)
{
  BlSnap snap = { BL_SNAP_NONE, start, 0.0, 0.0 };
  g_auto (Look) look = { 0 };
  BlPoint at = start;
  double sd = 0.0;
  gboolean known;

  g_return_val_if_fail (pixels != NULL && radius > 0.0 && radius <= 64.0, snap);
  if (!(start.x >= 0.0 && start.y >= 0.0 && start.x <= pixels->width && start.y <= pixels->height))
    return snap;
  look_init (&look, pixels, start, radius);
  if (bl_crossing_find (&look.patch, radius, &at, &sd))
    at = bl_add (at, BL_POINT (look.patch.x0 + 0.5, look.patch.y0 + 0.5));
  else if (!find_meant (&look, &at, &sd, &known) || !known || !is_found_again (&look, at))
    {
      if (find_edge (&look.patch, look.lines, start, radius, &snap))
        snap.kind = BL_SNAP_EDGE;
      return snap;
    }
  return (BlSnap) { BL_SNAP_CORNER, at, MAX (sd, LEAST_SD), 0.0 };
}
