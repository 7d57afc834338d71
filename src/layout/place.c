/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Placing one planting as drawn or as a drift, and the lattices of drifts and fills. */
#include "config.h"

#include "layout/layout-private.h"

#include <glib/gi18n-lib.h>
#include <stdarg.h>
#include <string.h>

#include "base/rng.h"

#define SHAPE_TOLERANCE 0.005
#define TREE_CLAIM 0.6
/* Fewer than this share of what a fresh layout holds, and plants do not stay for the sake of staying. */
#define NEAR_BEST 0.97

gboolean
bl_is_bulb_layer (const BlPlant *plant)
{
  return plant->type == BL_TYPE_BULB && plant->spring_only;
}

double
bl_claim_of (const BlPlant *plant, BlPlantingForm form, double spacing)
{
  if (form == BL_PLANTING_DRIFT || form == BL_PLANTING_FILL)
    return spacing / 2;
  return plant->type == BL_TYPE_TREE ? MIN (plant->spread / 2, TREE_CLAIM) : plant->spread / 2;
}

void
bl_placing_say (BlPlacing *placing, const BlPlanting *planting, const char *format, ...)
{
  const BlPlant *plant = bl_model_plant (placing->model, planting->slug);
  const BlBed *bed = bl_model_bed (placing->model, planting->bed_id);
  g_autofree char *name = plant != NULL ? bl_plant_name (plant) : g_strdup (planting->slug);
  g_autofree char *what = NULL;
  va_list args;

  va_start (args, format);
  what = g_strdup_vprintf (_(format), args);
  va_end (args);
  g_ptr_array_add (placing->layout->messages,
                   g_strdup_printf (_("%s in bed “%s” %s"), name,
                                    bed != NULL && bed->name != NULL ? bed->name : "?", what));
}

void
bl_place_add (BlPlacing *placing, const BlPlanting *planting, BlPoints *points, double spacing,
          double area, char *rule)
{
  BlLayoutPart part = { planting->id, points->len, spacing, area,
                        planting->square ? BL_LATTICE_SQUARE : BL_LATTICE_STAGGERED, rule };

  g_array_append_val (placing->layout->parts, part);
  g_hash_table_insert (placing->points, g_memdup2 (&planting->id, sizeof planting->id), points);
}

/* ---- as drawn ---- */

static gboolean
is_on_plan (const BlOutline *shape)
{
  for (guint i = 0; i < shape->points->len; i++)
    if (!isfinite (bl_points_at (shape->points, i).x)
        || !isfinite (bl_points_at (shape->points, i).y))
      return FALSE;
  return shape->points->len > 0;
}

void
bl_place_drawn (BlPlacing *placing, BlPlot *plot, const BlPlanting *planting)
{
  const BlPlant *plant = bl_model_plant (placing->model, planting->slug);
  double spacing = bl_planting_spacing (placing->model, planting);
  double claim = bl_claim_of (plant, planting->form, spacing);
  gboolean row = planting->form == BL_PLANTING_ROW;
  g_autoptr (BlPoints) line = NULL;
  BlPoints *points;
  guint outside = 0;

  if (planting->shape == NULL || !is_on_plan (planting->shape))
    {
      bl_placing_say (placing, planting, "has no place: draw it again or remove it.");
      return;
    }
  if (row)
    {
      g_autofree char *apart = bl_spacing_format (spacing, placing->model->units);

      line = bl_outline_flatten (planting->shape, SHAPE_TOLERANCE);
      points = bl_lattice_along (line, spacing);
      bl_place_add (placing, planting, points, spacing, 0,
                g_strdup_printf (_("along the drawn line, not less than %s apart"), apart));
    }
  else
    {
      points = bl_points_copy (planting->shape->points);
      bl_place_add (placing, planting, points, spacing, 0, g_strdup (_("where it is drawn")));
    }
  for (guint i = 0; i < points->len; i++)
    {
      BlPoint p = bl_points_at (points, i);

      bl_plot_take (plot, p, claim, bl_is_bulb_layer (plant));
      outside += plot->free != NULL && !bl_region_contains (plot->free, p);
    }
  if (outside > 0 && row)
    bl_placing_say (placing, planting, "has %u of %u plants of its row outside the bed's free "
                    "ground: move the line.", outside, points->len);
  else if (outside > 0)
    bl_placing_say (placing, planting, "stands outside the bed's free ground: move it in.");
}

/* ---- lattices ---- */

typedef struct
{
  GArray *at, *radius; /* BlPoint, double */
} Avoid;

static Avoid
avoid_of (const BlPlot *plot, const BlRegion *region, double spacing, gboolean bulbs)
{
  Avoid avoid = { g_array_new (FALSE, FALSE, sizeof (BlPoint)),
                  g_array_new (FALSE, FALSE, sizeof (double)) };
  BlRect extent = bl_region_extent (region);

  for (guint i = 0; i < plot->taken->len; i++)
    {
      BlTaken taken = g_array_index (plot->taken, BlTaken, i);
      double radius = taken.claim + spacing / 2;
      BlRect near = bl_rect_grow (extent, radius);

      if (taken.bulbs != bulbs || taken.at.x < near.x0 || taken.at.x > near.x1
          || taken.at.y < near.y0 || taken.at.y > near.y1)
        continue;
      g_array_append_val (avoid.at, taken.at);
      g_array_append_val (avoid.radius, radius);
    }
  return avoid;
}

static void
avoid_clear (Avoid *avoid)
{
  g_array_unref (avoid->at);
  g_array_unref (avoid->radius);
}

static guint64
mix_bytes (guint64 key, gconstpointer data, gsize length)
{
  const guint8 *bytes = data;

  for (gsize i = 0; i + 8 <= length; i += 8)
    {
      guint64 word;

      memcpy (&word, bytes + i, 8);
      key = bl_rng_mix (key, word);
    }
  return key;
}

/* A number that differs when the region or the rule does (all parts are whole doubles). */
static gint64
key_of (const BlRegion *region, const BlLatticeRule *rule)
{
  g_autoptr (GPtrArray) rings = bl_region_rings (region);
  double head[4] = { rule->kind, rule->spacing, rule->edge, rule->n_avoid };
  guint64 key = mix_bytes (1, head, sizeof head);

  for (guint i = 0; i < rings->len; i++)
    {
      const BlPoints *ring = rings->pdata[i];

      key = bl_rng_mix (key, ring->len);
      key = mix_bytes (key, ring->data, ring->len * sizeof (BlPoint));
    }
  key = mix_bytes (key, rule->avoid, rule->n_avoid * sizeof (BlPoint));
  return (gint64) mix_bytes (key, rule->avoid_radius, rule->n_avoid * sizeof (double));
}

/* The best lattice, taken over from the layout before where nothing that it hangs on changed. */
static BlPoints *
best_lattice (BlPlacing *placing, const BlRegion *region, BlLatticeRule *rule, GError **error)
{
  gint64 key = key_of (region, rule);
  BlPoints *points = placing->previous != NULL
                       ? g_hash_table_lookup (placing->previous->memo, &key) : NULL;

  rule->best = TRUE;
  if (points != NULL)
    points = bl_points_copy (points);
  else
    points = bl_lattice_fill (region, rule, error);
  if (points != NULL)
    g_hash_table_insert (placing->layout->memo, g_memdup2 (&key, sizeof key),
                         bl_points_copy (points));
  return points;
}

int
bl_compare_back_to_front (const void *a, const void *b)
{
  const BlPoint *p = a, *q = b;

  if (p->y != q->y)
    return p->y < q->y ? 1 : -1;
  return (p->x > q->x) - (p->x < q->x);
}

/* Rows without a search, for a drag that has nothing to keep. */
static BlPoints *
plain_lattice (const BlRegion *region, BlLatticeRule *rule, GError **error)
{
  rule->best = FALSE;
  return bl_lattice_fill (region, rule, error);
}

BlPoints *
bl_place_even (BlPlacing *placing, BlPlot *plot, GPtrArray *plantings, const BlRegion *region,
               const BlRegion *pockets, double spacing, gboolean bulbs, GError **error)
{
  const BlPlanting *first = plantings->pdata[0];
  Avoid avoid = avoid_of (plot, pockets, spacing, bulbs);
  BlLatticeRule rule = {
    .kind = first->square ? BL_LATTICE_SQUARE : BL_LATTICE_STAGGERED,
    .spacing = spacing,
    .avoid = (const BlPoint *) (gpointer) avoid.at->data,
    .avoid_radius = (const double *) (gpointer) avoid.radius->data,
    .n_avoid = avoid.at->len,
  };
  g_autoptr (BlPoints) kept = bl_place_keep (placing, plantings, region, pockets, &rule);
  g_autoptr (BlPoints) points = NULL;

  if (kept->len > 0)
    bl_place_pockets (placing, plot, pockets, spacing, bulbs, kept);
  if (!placing->follow)
    points = best_lattice (placing, region, &rule, error);
  else if (kept->len == 0)
    points = plain_lattice (region, &rule, error);
  avoid_clear (&avoid);
  if (placing->follow && kept->len > 0)
    return g_steal_pointer (&kept);
  if (points == NULL)
    return NULL;
  bl_place_pockets (placing, plot, pockets, spacing, bulbs, points);
  return kept->len > 0 && kept->len >= NEAR_BEST * points->len ? g_steal_pointer (&kept)
                                                               : g_steal_pointer (&points);
}

char *
bl_place_words (const BlPlacing *placing, gboolean square, double spacing, double inset,
               const char *rest)
{
  g_autofree char *apart = bl_spacing_format (spacing, placing->model->units);
  g_autofree char *in = bl_spacing_format (inset, placing->model->units);

  return g_strdup_printf (_("%s, not less than %s apart; %s inside the bed line (half a spread); %s"),
                          square ? _("square") : _("staggered"), apart, in, rest);
}

/* ---- drifts ---- */

/* @region (taken) less the drifts placed before, each grown by @margin. */
BlRegion *
bl_plot_less_drifts (BlPlot *plot, BlRegion *region, double margin, gboolean bulbs, GError **error)
{
  g_autoptr (BlRegion) whole = region;
  g_autoptr (BlRegion) others = NULL;
  g_autoptr (GPtrArray) near = g_ptr_array_new ();
  BlRect extent = bl_region_extent (region);

  for (guint i = 0; i < plot->drifts->len; i++)
    {
      const BlDriftClaim *claim = plot->drifts->pdata[i];

      if (claim->bulbs == bulbs
          && bl_rect_meets (bl_rect_grow (bl_region_extent (claim->region), margin), extent))
        g_ptr_array_add (near, claim->region);
    }
  if (near->len == 0)
    return g_steal_pointer (&whole);
  others = bl_region_join (near, margin, error);
  return others != NULL ? bl_region_difference (whole, others, error) : NULL;
}

/* The ground on which the drift's plants may stand, and (in @covered) what of the bed its outline
 * covers. */
static BlRegion *
drift_region (BlPlot *plot, const BlPlanting *planting, double inset, double spacing,
              gboolean bulbs, BlRegion **covered, GError **error)
{
  g_autoptr (BlPoints) ring = bl_outline_flatten (planting->shape, SHAPE_TOLERANCE);
  g_autoptr (BlRegion) outline = bl_region_new (ring, error);
  g_autoptr (BlRegion) inner = NULL;
  const BlRegion *bed = outline != NULL ? bl_plot_inset (plot, inset, error) : NULL;
  BlRegion *region;

  if (bed == NULL)
    return NULL;
  *covered = bl_region_intersection (outline, plot->free, error);
  inner = *covered != NULL ? bl_region_offset (outline, -spacing / 2, error) : NULL;
  region = inner != NULL ? bl_region_intersection (inner, bed, error) : NULL;
  return region != NULL ? bl_plot_less_drifts (plot, region, spacing / 2, bulbs, error) : NULL;
}

/* What the drift covers that no drift before it does; while dragging, nobody asks. */
static double
own_area (const BlPlacing *placing, BlPlot *plot, const BlRegion *covered, gboolean bulbs)
{
  g_autoptr (BlRegion) own = NULL;

  if (placing->follow)
    return bl_region_area (covered);
  own = bl_plot_less_drifts (plot, bl_region_copy (covered), 0, bulbs, NULL);
  return own != NULL ? bl_region_area (own) : 0;
}

static void
claim_drift (BlPlot *plot, BlRegion *covered, gboolean bulbs)
{
  BlDriftClaim *claim = g_new (BlDriftClaim, 1);

  *claim = (BlDriftClaim) { covered, bulbs };
  g_ptr_array_add (plot->drifts, claim);
}

void
bl_place_drift (BlPlacing *placing, BlPlot *plot, const BlPlanting *planting)
{
  const BlPlant *plant = bl_model_plant (placing->model, planting->slug);
  double spacing = bl_planting_spacing (placing->model, planting), inset = plant->spread / 2;
  gboolean bulbs = bl_is_bulb_layer (plant);
  g_autoptr (GPtrArray) one = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (BlRegion) region = NULL;
  BlRegion *covered = NULL;
  BlPoints *points = NULL;

  if (planting->shape == NULL || !is_on_plan (planting->shape))
    {
      bl_placing_say (placing, planting, "has no outline: draw it again or remove it.");
      return;
    }
  region = drift_region (plot, planting, inset, spacing, bulbs, &covered, &error);
  g_ptr_array_add (one, (gpointer) planting);
  if (region != NULL)
    points = bl_place_even (placing, plot, one, region, region, spacing, bulbs, &error);
  if (points == NULL)
    {
      g_clear_pointer (&covered, bl_region_free);
      bl_placing_say (placing, planting, "was left out. %s", error->message);
      return;
    }
  if (points->len == 0)
    bl_placing_say (placing, planting, "finds no room at this spacing and spread: make the drift "
                    "larger or choose a smaller plant.");
  bl_place_add (placing, planting, points, spacing, own_area (placing, plot, covered, bulbs),
            bl_place_words (placing, planting->square, spacing, inset,
                           _("half a spacing inside the drift's line")));
  claim_drift (plot, covered, bulbs);
  for (guint i = 0; i < points->len; i++)
    bl_plot_take (plot, bl_points_at (points, i), spacing / 2, bulbs);
}
