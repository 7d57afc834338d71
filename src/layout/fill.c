/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fills: what is left of a bed, shared by the kinds that fill it. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>

#include "base/rng.h"
#include "layout/layout-private.h"

#define LONG_HAND 1500 /* plants of a kind above which the lot alone mixes them */

static BlRegion *
fill_region (BlPlot *plot, double inset, double spacing, gboolean bulbs, GError **error)
{
  const BlRegion *bed = bl_plot_inset (plot, inset, error);

  if (bed == NULL)
    return NULL;
  return bl_plot_less_drifts (plot, bl_region_copy (bed), spacing / 2, bulbs, error);
}

typedef struct
{
  guint64 lot;
  BlPoint at;
} Dealt;

static int
compare_dealt (const void *a, const void *b)
{
  const Dealt *p = a, *q = b;

  return (p->lot > q->lot) - (p->lot < q->lot);
}

static double
nearest2 (const BlPoints *points, BlPoint p)
{
  double least = INFINITY;

  for (guint i = 0; i < points->len; i++)
    {
      BlPoint d = bl_sub (bl_points_at (points, i), p);

      least = MIN (least, bl_dot (d, d));
    }
  return least;
}

/* The hand with the fewest plants; of several, the one whose own are farthest away. */
static guint
hand_for (BlPoint p, BlPoints **hands, guint n)
{
  guint fewest = G_MAXUINT, best = 0;
  double farthest = -1;

  for (guint h = 0; h < n; h++)
    fewest = MIN (fewest, hands[h]->len);
  for (guint h = 0; h < n; h++)
    {
      double away = hands[h]->len > fewest ? -1
                    : hands[h]->len > LONG_HAND ? 0 : nearest2 (hands[h], p);

      if (away > farthest)
        {
          farthest = away;
          best = h;
        }
    }
  return best;
}

/* Which of the fills stood at @p before; n when none did. */
static guint
owner_before (GPtrArray *stood, BlPoint p)
{
  for (guint h = 0; h < stood->len; h++)
    {
      const BlPoints *places = stood->pdata[h];

      for (guint i = 0; i < places->len; i++)
        if (bl_points_at (places, i).x == p.x && bl_points_at (places, i).y == p.y)
          return h;
    }
  return stood->len;
}

/* (element-type BlPoints): of each fill. */
static GPtrArray *
places_before (const BlPlacing *placing, GPtrArray *fills)
{
  GPtrArray *stood = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);

  for (guint h = 0; h < fills->len; h++)
    g_ptr_array_add (stood, fills->len > 1 ? bl_place_stood (placing, fills->pdata[h])
                                           : bl_points_new ());
  return stood;
}

/* Positions drawn by lot and dealt in turn, each kind away from its own: equal numbers, evenly
 * mixed, and the same for the same positions. */
static void
deal (const BlPlacing *placing, GPtrArray *fills, const BlPoints *points, BlPoints **hands)
{
  g_autofree Dealt *dealt = g_new (Dealt, points->len + 1);
  g_autoptr (GPtrArray) stood = places_before (placing, fills);
  guint n = 0;

  for (guint i = 0; i < points->len; i++)
    {
      BlPoint p = bl_points_at (points, i);
      guint owner = owner_before (stood, p);
      guint64 lot = bl_rng_mix (17, (guint64) llround (p.x * 1000));

      if (owner < fills->len)
        bl_points_add (hands[owner], p);
      else
        dealt[n++] = (Dealt) { bl_rng_mix (lot, (guint64) llround (p.y * 1000)), p };
    }
  qsort (dealt, n, sizeof *dealt, compare_dealt);
  for (guint i = 0; i < n; i++)
    bl_points_add (hands[hand_for (dealt[i].at, hands, fills->len)], dealt[i].at);
  for (guint h = 0; h < fills->len; h++)
    g_array_sort (hands[h], bl_compare_back_to_front);
}

/* What is left of the bed for fills, without a margin: the area they cover. */
static double
open_area (BlPlot *plot, gboolean bulbs)
{
  g_autoptr (BlRegion) rest
    = bl_plot_less_drifts (plot, bl_region_copy (plot->free), 0, bulbs, NULL);
  double area;

  if (rest == NULL)
    return 0;
  area = bl_region_area (rest);
  for (guint i = 0; i < plot->taken->len; i++)
    {
      BlTaken taken = g_array_index (plot->taken, BlTaken, i);

      if (taken.bulbs == bulbs && bl_region_contains (rest, taken.at))
        area -= G_PI * taken.claim * taken.claim;
    }
  return MAX (area, 0);
}

static void
hand_out (BlPlacing *placing, BlPlot *plot, GPtrArray *fills, BlPoints *points, double spacing,
          double inset, gboolean bulbs)
{
  guint n = fills->len;
  g_autofree BlPoints **hands = g_new (BlPoints *, n);
  double area = placing->follow ? 0 : open_area (plot, bulbs) / n;

  for (guint i = 0; i < n; i++)
    hands[i] = bl_points_new ();
  deal (placing, fills, points, hands);
  for (guint i = 0; i < n; i++)
    {
      const BlPlanting *planting = fills->pdata[i];
      g_autofree char *rest
        = n == 1 ? g_strdup (_("over what other plantings leave, singly in the pockets between "
                             "them"))
                 : g_strdup_printf (
                     g_dngettext (GETTEXT_PACKAGE,
                                  "over what other plantings leave, singly in the pockets between "
                                  "them, mixed with %u other in equal numbers",
                                  "over what other plantings leave, singly in the pockets between "
                                  "them, mixed with %u others in equal numbers", n - 1),
                     n - 1);

      if (hands[i]->len == 0)
        bl_placing_say (placing, planting, "finds no room: the other plantings leave none at this "
                        "spacing and spread.");
      bl_place_add (placing, planting, hands[i], spacing, area,
                bl_place_words (placing, planting->square, spacing, inset, rest));
    }
  for (guint i = 0; i < points->len; i++)
    bl_plot_take (plot, bl_points_at (points, i), spacing / 2, bulbs);
}

void
bl_place_fills (BlPlacing *placing, BlPlot *plot, GPtrArray *fills)
{
  double spacing = 0, inset = 0;
  gboolean bulbs = FALSE;
  g_autoptr (GError) error = NULL;
  const BlRegion *bed;
  g_autoptr (BlRegion) region = NULL;
  g_autoptr (BlPoints) points = NULL;

  for (guint i = 0; i < fills->len; i++)
    {
      const BlPlanting *planting = fills->pdata[i];
      const BlPlant *plant = bl_model_plant (placing->model, planting->slug);

      spacing = MAX (spacing, bl_planting_spacing (placing->model, planting));
      inset = MAX (inset, plant->spread / 2);
      bulbs = bl_is_bulb_layer (plant);
    }
  bed = bl_plot_inset (plot, inset, &error);
  if (bed != NULL)
    region = fill_region (plot, inset, spacing, bulbs, &error);
  if (region != NULL)
    points = bl_place_even (placing, plot, fills, region, bed, spacing, bulbs, &error);
  if (points == NULL)
    {
      for (guint i = 0; i < fills->len; i++)
        bl_placing_say (placing, fills->pdata[i], "was left out. %s", error->message);
      return;
    }
  hand_out (placing, plot, fills, points, spacing, inset, bulbs);
}
