/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Flower heads: which kind a plant carries, how far along each is, and its size. */
#include "draw/figure-head.h"

#include <string.h>

/* Genera whose heads are built otherwise than their shape and growth form say. */
static const struct
{
  const char *genus;
  BlFlowerShape shape;
  FigHeadKind kind;
} built[] = {
  { "Actaea", BL_FLOWER_SPIKE, FIG_HEAD_POKER },
  { "Agastache", BL_FLOWER_SPIKE, FIG_HEAD_POKER },
  { "Baptisia", BL_FLOWER_SPIKE, FIG_HEAD_RACEME },
  { "Bergenia", BL_FLOWER_PANICLE, FIG_HEAD_CONICAL },
  { "Camassia", BL_FLOWER_SPIKE, FIG_HEAD_RACEME },
  { "Chionanthus", BL_FLOWER_PANICLE, FIG_HEAD_HANGING },
  { "Cladrastis", BL_FLOWER_PANICLE, FIG_HEAD_HANGING },
  { "Delphinium", BL_FLOWER_SPIKE, FIG_HEAD_RACEME },
  { "Dictamnus", BL_FLOWER_SPIKE, FIG_HEAD_RACEME },
  { "Echinacea", BL_FLOWER_DAISY, FIG_HEAD_CONE },
  { "Hamamelis", BL_FLOWER_STAR, FIG_HEAD_RIBBONS },
  { "Hosta", BL_FLOWER_TRUMPET, FIG_HEAD_BELLS },
  { "Hyacinthoides", BL_FLOWER_BELL, FIG_HEAD_BELLS },
  { "Hyacinthus", BL_FLOWER_SPIKE, FIG_HEAD_TRUSS },
  { "Iris", BL_FLOWER_CUP, FIG_HEAD_IRIS },
  { "Kniphofia", BL_FLOWER_SPIKE, FIG_HEAD_TORCH },
  { "Liatris", BL_FLOWER_SPIKE, FIG_HEAD_POKER },
  { "Lupinus", BL_FLOWER_SPIKE, FIG_HEAD_RACEME },
  { "Oxydendrum", BL_FLOWER_PANICLE, FIG_HEAD_HANGING },
  { "Paeonia", BL_FLOWER_CUP, FIG_HEAD_DOUBLE },
  { "Physostegia", BL_FLOWER_SPIKE, FIG_HEAD_RACEME },
  { "Pieris", BL_FLOWER_PANICLE, FIG_HEAD_HANGING },
  { "Ratibida", BL_FLOWER_DAISY, FIG_HEAD_CONE },
  { "Solidago", BL_FLOWER_PANICLE, FIG_HEAD_ROD },
  { "Solidago", BL_FLOWER_PLUME, FIG_HEAD_FROTH },
  { "Thalictrum", BL_FLOWER_PANICLE, FIG_HEAD_AIRY },
  { "Thermopsis", BL_FLOWER_SPIKE, FIG_HEAD_RACEME },
  { "Veronica", BL_FLOWER_SPIKE, FIG_HEAD_POKER },
  { "Veronicastrum", BL_FLOWER_SPIKE, FIG_HEAD_POKER },
  { "Wisteria", BL_FLOWER_PANICLE, FIG_HEAD_HANGING },
};

static FigHeadKind
spike_kind (const BlPlant *p)
{
  if (p->type == BL_TYPE_GRASS)
    return p->form == BL_FORM_FOUNTAIN_GRASS && p->flower_size > 0.06 ? FIG_HEAD_BRUSH
      : FIG_HEAD_EAR;
  if (bl_plant_is_woody (p) && p->form != BL_FORM_MOUND && p->form != BL_FORM_MAT)
    return FIG_HEAD_POKER;
  return p->form == BL_FORM_BULB ? FIG_HEAD_POKER : FIG_HEAD_WHORLS;
}

static FigHeadKind
plume_kind (const BlPlant *p)
{
  if (p->type == BL_TYPE_GRASS)
    return p->form == BL_FORM_FOUNTAIN_GRASS && p->height > 0.9 ? FIG_HEAD_FAN : FIG_HEAD_SPEAR;
  if (p->type == BL_TYPE_TREE || (bl_plant_is_woody (p) && p->form == BL_FORM_GLOBE_SHRUB))
    return FIG_HEAD_SMOKE;
  return FIG_HEAD_FROTH;
}

static FigHeadKind
panicle_kind (const BlPlant *p)
{
  if (p->type == BL_TYPE_GRASS)
    return FIG_HEAD_HAZE;
  if (p->form == BL_FORM_STRAP_CLUMP)
    return FIG_HEAD_OPEN;
  if (p->form == BL_FORM_SPIRE_CLUMP)
    return FIG_HEAD_WANDS;
  if (p->form == BL_FORM_ROSETTE_WANDS || (p->form == BL_FORM_MOUND && !bl_plant_is_woody (p)))
    return FIG_HEAD_AIRY;
  return FIG_HEAD_CONICAL;
}

static FigHeadKind
bell_kind (const BlPlant *p)
{
  gboolean above = p->form == BL_FORM_MOUND && p->foliage_height < 0.85 * p->height
                   && !bl_plant_is_woody (p);

  return p->form == BL_FORM_SPIRE_CLUMP || above ? FIG_HEAD_BELLS : FIG_HEAD_BELL;
}

static FigHeadKind
umbel_kind (const BlPlant *p)
{
  if (p->form == BL_FORM_STRAP_CLUMP)
    return FIG_HEAD_TRUMPETS;
  return p->form == BL_FORM_BULB ? FIG_HEAD_NODDING : FIG_HEAD_FLAT;
}

FigHeadKind
fig_head_kind (const BlPlant *p)
{
  for (guint i = 0; p->genus && i < G_N_ELEMENTS (built); i++)
    if (built[i].shape == p->flower && strcmp (built[i].genus, p->genus) == 0)
      return built[i].kind;
  switch (p->flower)
    {
    case BL_FLOWER_DAISY: return FIG_HEAD_DAISY;
    case BL_FLOWER_SPIKE: return spike_kind (p);
    case BL_FLOWER_PLUME: return plume_kind (p);
    case BL_FLOWER_GLOBE: return FIG_HEAD_GLOBE;
    case BL_FLOWER_UMBEL: return umbel_kind (p);
    case BL_FLOWER_PANICLE: return panicle_kind (p);
    case BL_FLOWER_TRUMPET:
      if (p->form == BL_FORM_STRAP_CLUMP || p->form == BL_FORM_UPRIGHT_CLUMP)
        return FIG_HEAD_LILY;
      return p->form == BL_FORM_BULB ? FIG_HEAD_DAFFODIL : FIG_HEAD_TRUMPET;
    case BL_FLOWER_BELL: return bell_kind (p);
    case BL_FLOWER_CUP: return p->form == BL_FORM_BULB ? FIG_HEAD_GOBLET : FIG_HEAD_CUP;
    case BL_FLOWER_STAR: return FIG_HEAD_STAR;
    case BL_FLOWER_CATKIN:
      return p->type == BL_TYPE_GRASS ? FIG_HEAD_SPEAR : FIG_HEAD_CATKIN;
    case BL_FLOWER_NONE: case BL_FLOWER_N: default: return FIG_HEAD_NONE;
    }
}

FigStage
fig_stage (const Fig *f, guint i)
{
  const BlLook *k = f->look;
  double u = fig_share (f, i);

  if (f->plant->flower == BL_FLOWER_NONE)
    return FIG_STAGE_NONE;
  if (u < k->bloom)
    return FIG_STAGE_OPEN;
  if (u < k->bloom + k->bud)
    return FIG_STAGE_BUD;
  if (u < k->bloom + k->bud + k->seed)
    return FIG_STAGE_SEED;
  return FIG_STAGE_NONE;
}

gboolean
fig_has_heads (const Fig *f)
{
  const BlLook *k = f->look;

  return f->plant->flower != BL_FLOWER_NONE && k->bloom + k->bud + k->seed > 0.02;
}

gboolean
fig_head_is_long (const Fig *f)
{
  return f->head == FIG_HEAD_CATKIN || (f->head >= FIG_HEAD_WHORLS && f->head <= FIG_HEAD_HAZE);
}

double
fig_head_size (const Fig *f)
{
  double s = f->plant->flower_size > 0 ? f->plant->flower_size : 0.03;

  /* The record gives the size of one bell. */
  if (f->head == FIG_HEAD_BELLS)
    s = 0.34 * f->height;
  /* While a plant still rises its flowers are not larger than it. */
  return CLAMP (s, 2.4 * f->px, MAX ((f->head == FIG_HEAD_BELL ? 0.28 : 0.5) * f->height, 3 * f->px));
}

static void
capsule (Fig *f, const FigHead *h)
{
  double r = MAX (h->size * 0.16, 0.9 * f->px);

  fig_next (f);
  fig_oval (f, h->layer, h->x + r * h->c, h->y + r * h->s, h->angle, r * 1.25, r * 0.75, h->main,
            h->value);
}

static void
closed_bud (Fig *f, const FigHead *h)
{
  double l = MAX (h->size * 0.42, 2 * f->px);

  fig_next (f);
  fig_leaf (f, h->layer, BL_LEAF_OVAL, h->x, h->y, h->angle, l, l * 0.5, 0, f->green, h->value);
  fig_next (f);
  fig_leaf (f, h->layer, BL_LEAF_OVAL, h->x + l * 0.3 * h->c, h->y + l * 0.3 * h->s, h->angle,
            l * 0.68, l * 0.4, 0, h->main, h->value + 0.05);
}

static void
draw_head (Fig *f, const FigHead *h)
{
  gboolean single = f->head >= FIG_HEAD_TRUMPET && f->head < FIG_HEAD_CATKIN;

  if (single && h->stage == FIG_STAGE_SEED)
    capsule (f, h);
  else if (single && h->stage == FIG_STAGE_BUD)
    closed_bud (f, h);
  else if ((f->head >= FIG_HEAD_SPEAR && f->head <= FIG_HEAD_SMOKE) || f->head == FIG_HEAD_AIRY
           || f->head == FIG_HEAD_HAZE)
    fig_head_plume (f, h, f->head);
  else if (fig_head_is_long (f))
    fig_head_axis (f, h, f->head);
  else
    fig_head_petal (f, h, f->head);
}

/* Snow on a seed head: a cap on what is flat or round, a ridge on what is long. */
static void
snow_cap (Fig *f, const FigHead *h)
{
  double s = h->size;
  BlFlowerShape shape = f->plant->flower;

  fig_next (f);
  if (fig_head_is_long (f))
    fig_snow (f, h->layer, h->x + 0.62 * s * h->c, h->y + 0.62 * s * h->s, s * 0.05, s * 0.07);
  else if (shape == BL_FLOWER_UMBEL)
    fig_snow (f, h->layer, h->x, h->y + 0.34 * s, s * 0.46, s * 0.15);
  else if (shape == BL_FLOWER_GLOBE)
    fig_snow (f, h->layer, h->x, h->y + 0.74 * s, s * 0.40, s * 0.24);
  else if (shape == BL_FLOWER_DAISY)
    fig_snow (f, h->layer, h->x, h->y + 0.20 * s, s * 0.20, s * 0.14);
}

void
fig_head (Fig *f, int layer, FigStage stage, double x, double y, double angle, double size,
          double value)
{
  FigHead h = { layer, stage, x, y, angle, MAX (size, 2 * f->px), value, cos (angle), sin (angle), 0,
                f->petal, f->eye };

  if (stage == FIG_STAGE_NONE || f->head == FIG_HEAD_NONE)
    return;
  h.px = h.size * f->detail;
  if (stage == FIG_STAGE_SEED)
    h.main = h.eye = f->seed_tones;
  fig_begin (f, h.px < (fig_head_is_long (f) ? 26 : 11));
  draw_head (f, &h);
  if (f->snow > 0 && stage == FIG_STAGE_SEED && h.px > 4)
    snow_cap (f, &h);
  fig_end (f);
}

void
fig_fruit (Fig *f, int layer, double x, double y, double value)
{
  double r = MAX (0.0055, 1.6 * f->px);

  fig_begin (f, r * f->detail < 5);
  fig_oval (f, layer, x, y, 0, r, r, f->fruit, value - 0.1);
  if (r * f->detail > 2)
    {
      fig_next (f);
      fig_oval (f, layer, x + 0.3 * r * f->lx, y + 0.35 * r, 0, r * 0.4, r * 0.4, f->fruit,
                value + 0.4);
    }
  fig_end (f);
}
