/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plan: paper, beds as a soft wash, drifts joined into one body, symbols, and labels. */
#include <pango/pangocairo.h>

#include "base/units.h"
#include "draw/scene-private.h"

static const BlColor paper = { 0.980, 0.972, 0.949, 1 }, ink = { 0.17, 0.19, 0.17, 1 };

static gboolean
is_mono (const BlPainting *p)
{
  return (p->scene->options & BL_SCENE_MONOCHROME) != 0;
}

static void
source (BlPainting *p, BlColor c, double alpha)
{
  if (is_mono (p))
    {
      double grey = 0.2126 * c.r + 0.7152 * c.g + 0.0722 * c.b;

      c = (BlColor) { grey, grey, grey, 1 };
    }
  cairo_set_source_rgba (p->cr, c.r, c.g, c.b, alpha);
}

/* A document length that is @px device pixels (a third of a point on paper). */
static double
hair (const BlPainting *p, double px)
{
  return px / p->scale * (p->options->vector ? 300.0 / 72.0 / 1.6 : 1);
}

static double
text_size (const BlPainting *p)
{
  return (p->options->vector ? 7.5 * 300.0 / 72.0 : 11.5) / p->scale;
}

static void
paint_paper (BlPainting *p)
{
  const BlRect *c = &p->clip;

  source (p, is_mono (p) ? (BlColor) { 1, 1, 1, 1 } : paper, 1);
  cairo_rectangle (p->cr, c->x0, -c->y1, c->x1 - c->x0, c->y1 - c->y0);
  cairo_fill (p->cr);
}

static void
paint_grid (BlPainting *p)
{
  double step = p->scene->model->units == BL_UNITS_FEET ? 5 * BL_METRES_PER_FOOT : 1.0;
  const BlRect *c = &p->clip;

  while (step * p->scale < 7)
    step *= 2;
  source (p, (BlColor) { 0.42, 0.45, 0.46, 1 }, 0.20);
  cairo_set_line_width (p->cr, hair (p, 0.7));
  for (int i = (int) ceil (c->x0 / step); i * step <= c->x1; i++)
    cairo_move_to (p->cr, i * step, -c->y0), cairo_line_to (p->cr, i * step, -c->y1);
  for (int i = (int) ceil (c->y0 / step); i * step <= c->y1; i++)
    cairo_move_to (p->cr, c->x0, -i * step), cairo_line_to (p->cr, c->x1, -i * step);
  cairo_stroke (p->cr);
}

/* A wash that pools at its edge, as water colour does, and the bed line in ink. */
static void
paint_bed (BlPainting *p, const BlBed *bed)
{
  static const BlColor mulch = { 0.78, 0.69, 0.58, 1 }, soil = { 0.84, 0.77, 0.66, 1 },
    gravel = { 0.85, 0.84, 0.81, 1 };
  BlSurfaceKind kind = bl_bed_surface (bed);
  BlColor wash = kind == BL_SURFACE_MULCH ? mulch : kind == BL_SURFACE_GRAVEL ? gravel : soil;
  cairo_t *cr = p->cr;

  if (bed->ring == NULL)
    return;
  cairo_save (cr);
  cairo_new_path (cr);
  bl_ground_path (p->scene, cr, bed->ring);
  source (p, wash, is_mono (p) ? 0.12 : 0.42);
  cairo_fill_preserve (cr);
  cairo_clip_preserve (cr);
  for (int i = 0; i < 4 && !is_mono (p); i++)
    {
      source (p, bl_color_lighten (wash, -0.12), 0.10);
      cairo_set_line_width (cr, 0.10 + 0.13 * i);
      cairo_stroke_preserve (cr);
    }
  cairo_restore (cr);
  bl_edging_paint (p, bed);
  cairo_new_path (cr);
  bl_ground_path (p->scene, cr, bed->ring);
  source (p, ink, 0.9);
  cairo_set_line_width (cr, hair (p, 1.3));
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
}


static BlColor
wash_of (const BlPlant *plant, const BlLook *look)
{
  BlColor leaf = look->leaf > 0.08 ? look->leaf_color : look->stem_color;

  leaf = bl_color_lighten (leaf, 0.30);
  return look->bloom > 0.05 ? bl_color_mix (leaf, look->flower_color, 0.30 * look->bloom) : leaf;
}

/* Plants of one planting that stand in a mass: one body with one outline round it. The rim is the
 * stroke of all the discs, of which the wash then covers what lies inside. */
static void
paint_drift (BlPainting *p, const GArray *items, guint first, guint n)
{
  const BlSceneItem *item = &g_array_index (items, BlSceneItem, first);
  const BlPlaced *placed = &g_array_index (p->scene->layout->placed, BlPlaced, item->placed);
  const BlLook *look = &p->scene->looks[item->placed];
  BlColor wash = wash_of (placed->plant, look);
  double reach = MAX (1.03, 0.56 * 2 * bl_planting_spacing (p->scene->model,
                                                            bl_model_planting (p->scene->model,
                                                                item->id)) / MAX (0.02,
                                                                    2 * item->depth));

  /* Young plants do not yet touch; the body is drawn only when they nearly do. */
  if (reach > 1.7)
    return;
  cairo_new_path (p->cr);
  for (guint i = first; i < first + n; i++)
    {
      const BlSceneItem *k = &g_array_index (items, BlSceneItem, i);

      cairo_new_sub_path (p->cr);
      cairo_arc (p->cr, k->base.x, -k->base.y, k->depth * reach, 0, 2 * G_PI);
    }
  source (p, bl_color_lighten (wash, -0.5), 0.85);
  cairo_set_line_width (p->cr, hair (p, 1.6));
  cairo_stroke_preserve (p->cr);
  source (p, is_mono (p) ? (BlColor) { 1, 1, 1, 1 } : bl_color_mix (wash, paper, 0.35), 1);
  cairo_fill (p->cr);
}

static void
paint_ring (BlPainting *p, const BlSceneItem *item)
{
  const BlPlaced *placed = &g_array_index (p->scene->layout->placed, BlPlaced, item->placed);
  double r = placed->plant->spread / 2, dash = hair (p, 4);

  if (r <= item->depth * 1.02)
    return;
  cairo_save (p->cr);
  source (p, ink, 0.55);
  cairo_set_line_width (p->cr, hair (p, 0.8));
  cairo_set_dash (p->cr, &dash, 1, 0);
  cairo_new_path (p->cr);
  cairo_arc (p->cr, item->base.x, -item->base.y, r, 0, 2 * G_PI);
  cairo_stroke (p->cr);
  cairo_restore (p->cr);
}

static void
paint_symbol (BlPainting *p, const BlSceneItem *item)
{
  const BlPlaced *placed = &g_array_index (p->scene->layout->placed, BlPlaced, item->placed);

  cairo_save (p->cr);
  cairo_translate (p->cr, item->base.x, -item->base.y);
  bl_paint_symbol (p, placed->plant, &p->scene->looks[item->placed], item->depth, placed->seed,
                   p->scale);
  cairo_restore (p->cr);
}

static void
paint_labels (BlPainting *p)
{
  double size = text_size (p);
  /* A context of its own: the document's scale would make the font enormous. */
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  PangoLayout *text = pango_layout_new (context);
  PangoFontDescription *font = pango_font_description_from_string ("Lato Semibold");

  /* Laid out at a size where hinting does no harm, then scaled to the document. */
  pango_font_description_set_absolute_size (font, 64 * PANGO_SCALE);
  pango_layout_set_font_description (text, font);
  for (guint i = 0; i < p->scene->labels->len; i++)
    {
      const BlSceneLabel *label = &g_array_index (p->scene->labels, BlSceneLabel, i);
      BlRect reach = { label->at.x - 6 * size, label->at.y - 2 * size, label->at.x + 6 * size,
                       label->at.y + 2 * size };
      int w, h;

      if (label->planting_id == p->options->skip_planting || !bl_rect_meets (reach, p->clip))
        continue;
      pango_layout_set_text (text, label->text, -1);
      pango_layout_get_pixel_size (text, &w, &h);
      cairo_save (p->cr);
      cairo_translate (p->cr, label->at.x, -label->at.y);
      cairo_scale (p->cr, size / 64, size / 64);
      cairo_translate (p->cr, -w / 2.0, -h / 2.0);
      cairo_move_to (p->cr, 0, 0);
      pango_cairo_layout_path (p->cr, text);
      source (p, is_mono (p) ? (BlColor) { 1, 1, 1, 1 } : paper, 0.92);
      cairo_set_line_width (p->cr, 22);
      cairo_set_line_join (p->cr, CAIRO_LINE_JOIN_ROUND);
      cairo_stroke_preserve (p->cr);
      source (p, (BlColor) { 0.08, 0.10, 0.09, 1 }, 1);
      cairo_fill (p->cr);
      cairo_restore (p->cr);
    }
  pango_font_description_free (font);
  g_object_unref (text);
  g_object_unref (context);
}

static int
by_planting (gconstpointer a, gconstpointer b)
{
  const BlSceneItem *p = a, *q = b;

  if (p->id != q->id)
    return p->id < q->id ? -1 : 1;
  return p->placed < q->placed ? -1 : p->placed > q->placed;
}

static void
paint_drifts (BlPainting *p, const GArray *plants)
{
  g_autoptr (GArray) sorted = g_array_copy ((GArray *) plants);

  g_array_sort (sorted, by_planting);
  for (guint i = 0; i < sorted->len;)
    {
      const BlSceneItem *first = &g_array_index (sorted, BlSceneItem, i);
      const BlPlaced *placed = &g_array_index (p->scene->layout->placed, BlPlaced, first->placed);
      guint n = 1;

      while (i + n < sorted->len && g_array_index (sorted, BlSceneItem, i + n).id == first->id)
        n++;
      if (placed->form != BL_PLANTING_SPECIMEN && n > 2)
        paint_drift (p, sorted, i, n);
      i += n;
    }
}

void
bl_paint_plan (BlPainting *p, GArray *items, GCancellable *cancellable)
{
  const BlScene *s = p->scene;
  g_autoptr (GArray) plants = g_array_new (FALSE, FALSE, sizeof (BlSceneItem));

  paint_paper (p);
  bl_paint_drawing (p);
  if (s->options & BL_SCENE_GRID)
    paint_grid (p);
  for (guint i = 0; i < items->len; i++)
    {
      const BlSceneItem *item = &g_array_index (s->items, BlSceneItem, g_array_index (items, guint,
          i));
      const BlFeature *feature;
      const BlBed *bed;

      if (item->kind == BL_ITEM_PLANT && item->id != p->options->skip_planting)
        g_array_append_vals (plants, item, 1);
      if (item->kind == BL_ITEM_GROUND && (bed = bl_model_bed (s->model, item->id)) != NULL)
        paint_bed (p, bed);
      if (item->kind == BL_ITEM_FEATURE && (feature = bl_model_feature (s->model,
                                                                        item->id)) != NULL)
        bl_paint_feature_plan (p, feature);
    }
  paint_drifts (p, plants);
  for (guint i = 0; i < plants->len && !g_cancellable_is_cancelled (cancellable); i++)
    {
      if (s->options & BL_SCENE_MATURE_SPREAD)
        paint_ring (p, &g_array_index (plants, BlSceneItem, i));
      paint_symbol (p, &g_array_index (plants, BlSceneItem, i));
    }
  if (s->options & BL_SCENE_LABELS)
    paint_labels (p);
}
