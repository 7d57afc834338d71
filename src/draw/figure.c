/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Standing figures: from record and look to marks, fitted to the stated size and painted. */
#include "draw/cutout.h"
#include "draw/figure-head.h"

#include <string.h>

typedef void (*FormFunc) (Fig *f);

static const FormFunc forms[BL_FORM_N] = {
  [BL_FORM_UPRIGHT_CLUMP] = fig_form_upright_clump,
  [BL_FORM_MOUND] = fig_form_mound,
  [BL_FORM_MAT] = fig_form_mat,
  [BL_FORM_CUSHION] = fig_form_cushion,
  [BL_FORM_FOUNTAIN_GRASS] = fig_form_fountain_grass,
  [BL_FORM_UPRIGHT_GRASS] = fig_form_upright_grass,
  [BL_FORM_TUSSOCK] = fig_form_tussock,
  [BL_FORM_VASE_SHRUB] = fig_form_vase_shrub,
  [BL_FORM_GLOBE_SHRUB] = fig_form_globe_shrub,
  [BL_FORM_ARCHING_SHRUB] = fig_form_arching_shrub,
  [BL_FORM_COLUMN] = fig_form_column,
  [BL_FORM_CONE_CONIFER] = fig_form_cone,
  [BL_FORM_SPREADING_CONIFER] = fig_form_spreading_conifer,
  [BL_FORM_MOUND_CONIFER] = fig_form_mound_conifer,
  [BL_FORM_MULTISTEM_TREE] = fig_form_multistem_tree,
  [BL_FORM_ROUND_TREE] = fig_form_round_tree,
  [BL_FORM_SPIRE_CLUMP] = fig_form_spire_clump,
  [BL_FORM_STRAP_CLUMP] = fig_form_strap_clump,
  [BL_FORM_ROSETTE_WANDS] = fig_form_rosette,
  [BL_FORM_DAISY_CLUMP] = fig_form_daisy_clump,
  [BL_FORM_UMBEL_CLUMP] = fig_form_umbel_clump,
  [BL_FORM_BULB] = fig_form_bulb,
  [BL_FORM_FERN] = fig_form_fern,
  [BL_FORM_CLIMBER] = fig_form_climber,
  [BL_FORM_HEDGE] = fig_form_hedge,
};

static gboolean
is_visible (const BlLook *look)
{
  return look->height > 0.004 && look->spread > 0.004;
}

static void
init_tones (Fig *f)
{
  const BlPlant *p = f->plant;
  const BlLook *k = f->look;
  BlColor eye = p->n_flower_colors > 1 ? p->flower_colors[1] : bl_color_lighten (k->flower_color,
      -0.25);
  BlColor green = bl_color_mix (k->leaf > 0.1 ? k->leaf_color : k->stem_color, k->stem_color, 0.3);

  f->leaf = fig_tones (f, k->leaf_color, 1);
  /* No two leaves turn alike. */
  if (k->state == BL_STATE_AUTUMN)
    f->bases[f->n_bases - 1].vary = 2.4;
  f->wood = fig_tones (f, k->stem_color, 1);
  f->green = fig_tones (f, green, 0.9);
  /* The culms of a grass ripen before its blades. */
  f->stalk = fig_tones (f, bl_color_lighten (p->type == BL_TYPE_GRASS
                                             ? bl_color_mix (green, k->seed_color, 0.40) : green,
                                             -0.26), 0.9);
  /* The plume of a grass ripens as one: from its flowers' colour to its seeds'. */
  f->petal = fig_tones (f, p->type == BL_TYPE_GRASS
                        ? bl_color_mix (k->flower_color, k->seed_color, sqrt (CLAMP (k->seed, 0, 1)))
                        : k->flower_color, 0.55);
  f->eye = fig_tones (f, eye, 0.7);
  /* What stands through the winter bleaches towards its dry stems. */
  f->seed_tones = fig_tones (f, k->state == BL_STATE_STANDING
                             ? bl_color_mix (k->seed_color, k->stem_color, 0.35) : k->seed_color, 0.8);
  f->fruit = fig_tones (f, k->fruit_color, 0.8);
  /* The last: snow lies over what shares its layer. */
  f->white = fig_tones (f, (BlColor) { 0.90, 0.92, 0.96, 1 }, 0.34);
}

/* What a leaf costs to draw, in simple leaves. */
static double
complexity (BlLeafShape shape)
{
  switch (shape)
    {
    case BL_LEAF_PINNATE: case BL_LEAF_NEEDLE: case BL_LEAF_SCALE: return 1.4;
    case BL_LEAF_FROND: return 1.8;
    case BL_LEAF_LOBED: return 1.3;
    case BL_LEAF_LINEAR: return 0.6;
    case BL_LEAF_OVAL: case BL_LEAF_LANCE: case BL_LEAF_STRAP:
    case BL_LEAF_ROUND:
    case BL_LEAF_HEART: case BL_LEAF_N: default: return 1;
    }
}

static void
init (Fig *f, const BlPlant *plant, const BlLook *look, guint64 seed, const BlFigureLight *light,
      double detail)
{
  static const BlFigureLight plain = { -0.6, 1, { 1, 1, 1, 1 } };
  double sun;

  memset (f, 0, sizeof *f);
  f->plant = plant, f->look = look, f->seed = bl_rng_mix (seed, 0x51ed);
  f->light = light ? *light : plain;
  f->detail = MAX (detail, 1), f->px = 1 / f->detail;
  sun = CLAMP (f->light.sun_x, -1, 1);
  f->lx = 0.72 * sun, f->ly = 0.70, f->lz = sqrt (MAX (0.05, 1 - f->lx * f->lx - f->ly * f->ly));
  f->height = look->height, f->half = look->spread / 2;
  f->foliage = look->foliage_height > 0 ? MIN (look->foliage_height, look->height) : look->height;
  if (plant->flower == BL_FLOWER_NONE || look->bloom + look->bud + look->seed < 0.02)
    f->foliage = f->height;
  /* Seen from a standing eye, the near rim of a round foot lies a little below its middle. */
  f->ground = -MIN (0.13 * f->half, 0.12 * f->height);
  f->full = CLAMP (look->fullness, 0.15, 1);
  f->leaf_amount = CLAMP (look->leaf, 0, 1);
  f->snow = CLAMP (look->snow, 0, 1);
  f->leaf_len = plant->leaf_size > 0 ? plant->leaf_size : 0.05;
  /* Records give the leaflet: a herb's whole leaf is a spray of them. */
  if (plant->leaf == BL_LEAF_PINNATE && !bl_plant_is_woody (plant))
    f->leaf_len = MAX (MAX (f->leaf_len, 0.08 * f->foliage),
                       MIN (2.6 * f->leaf_len, 0.24 * f->foliage));
  f->leaf_len = CLAMP (f->leaf_len, 3.4 * f->px,
                       MAX (3.4 * f->px, 0.42 * f->height));
  f->budget = (guint) CLAMP ((80 + 2.2 * sqrt (f->height * f->half * 2)
                              * f->detail) / complexity (plant->leaf), 80, 3600);
  f->x0 = f->y0 = INFINITY, f->x1 = f->y1 = -INFINITY;
  f->fold = 0.13;
  f->head = (int) fig_head_kind (plant);
  init_tones (f);
  fig_part (f, 1);
}

/* The figure is as high and as wide as the look says: what the marks reach is fitted to it, within
 * what the eye does not notice in a leaf. */
static void
fit (const Fig *f, double *sx, double *sy)
{
  double w = f->x1 - f->x0;

  *sy = f->y1 > 0 ? CLAMP (f->height / f->y1, 0.4, 2.5) : 1;
  *sx = w > 0 ? CLAMP (2 * f->half / w, 0.5, 1.8) : 1;
}

void
bl_figure_draw (cairo_t *cr, const BlPlant *plant, const BlLook *look, guint64 seed,
                const BlFigureLight *light, double detail)
{
  Fig f;
  double sx, sy;

  g_return_if_fail (plant != NULL && look != NULL);
  if (!is_visible (look) || plant->form >= BL_FORM_N
      || bl_cutout_draw (cr, plant, look, seed, detail))
    return;
  init (&f, plant, look, seed, light, detail);
  forms[plant->form] (&f);
  if (f.n_marks)
    {
      fit (&f, &sx, &sy);
      fig_emit (&f, cr, sx, sy);
    }
  g_free (f.marks);
}

BlRect
bl_figure_box (const BlPlant *plant, const BlLook *look)
{
  double half, h;
  BlRect box;

  if (!is_visible (look))
    return (BlRect) { 0, 0, 0, 0 };
  if (bl_cutout_box (plant, look, &box))
    return box;
  half = look->spread / 2, h = look->height;
  /* Fitted to its size, but a head or a leaf may lean a little further to one side. */
  return (BlRect) { -half * 1.35 - 0.01, -h * 1.06 - 0.01, half * 1.35 + 0.01,
                    MIN (0.15 * half, 0.14 * h) + 0.03 * h + 0.01 };
}
