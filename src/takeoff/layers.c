/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layers of mulch, gravel and soil over the beds, loose or bagged. */
#include <math.h>
#include <string.h>

#include "takeoff/container.h"
#include "takeoff/material.h"
#include "takeoff/takeoff-private.h"

/* A hole twice as wide as its ball and as deep leaves three balls' volume of backfill (common
 * practice; it is π (2r)² h − π r² h). */
#define BACKFILL 3.0

/* Loose dry gravel weighs 1,500 to 1,700 kg a cubic metre (common practice); it does not settle as
 * bark does. */
#define GRAVEL_DENSITY 1600

/* What a layer over some beds comes to. */
typedef struct
{
  const char *stem;   /* "mulch": price book "mulch-bulk" and "mulch-bag" */
  const char *what;   /* for sentences */
  double settle, density;
  double volume, sd;  /* m³, before settling */
  guint n_beds;
  gint64 bed_id;
  GString *how;
} Layer;

static void
add_bed (BlTakeoff *takeoff, Layer *layer, const BlBed *bed, double depth, double collar)
{
  BlUnits units = takeoff->layout->model->units;
  double free_area = bl_bed_free_area (takeoff->layout->model, bed);
  guint stems = collar > 0 ? bl_takeoff_stems (takeoff, bed->id) : 0;
  double bare = MIN (stems * G_PI * collar * collar, free_area / 2), net = free_area - bare;
  double volume = net * depth;
  g_autofree char *area = bl_area_format_interval (bed->area.value, bed->area.sd, units, takeoff->language);
  g_autofree char *deep = bl_spacing_format (depth, units);
  g_autofree char *result = bl_volume_format (volume, units, takeoff->language);

  if (layer->how->len > 0)
    g_string_append (layer->how, "; ");
  g_string_append_printf (layer->how, bl_takeoff_say (takeoff, "%s: area %s"),
                          bed->name != NULL ? bed->name : bl_takeoff_say (takeoff, "bed"), area);
  if (bed->area.value - free_area > 0.005)
    {
      g_autofree char *stone = bl_area_format (bed->area.value - free_area, units, takeoff->language);

      g_string_append_printf (layer->how, bl_takeoff_say (takeoff, " − %s of stones or beds before it"),
                              stone);
    }
  if (bare > 0)
    {
      g_autofree char *collars = bl_area_format (bare, units, takeoff->language);
      g_autofree char *radius = bl_spacing_format (collar, units);

      g_string_append_printf (layer->how, bl_takeoff_say (takeoff, " − %s round %u crowns (%s bare)"), collars, stems,
                              radius);
    }
  g_string_append_printf (layer->how, " × %s = %s", deep, result);
  layer->volume += volume;
  layer->sd += bed->area.sd * depth;
  layer->bed_id = layer->n_beds++ == 0 ? bed->id : 0;
}

/* Mix in the planting holes; balls of unknown volume are told, bulbs need no hole to speak of. */
static void
add_holes (BlTakeoff *takeoff, Layer *layer, double share)
{
  BlUnits units = takeoff->layout->model->units;
  g_autofree char *percent = bl_figure (100 * share);
  g_autofree char *result = NULL;
  double balls = 0;
  guint n = 0, unknown = 0;

  for (guint i = 0; i < takeoff->counts->len; i++)
    {
      const BlPlantCount *count = &g_array_index (takeoff->counts, BlPlantCount, i);
      double low, high;

      if (count->plant->type == BL_TYPE_BULB)
        continue;
      if (bl_container_volume (count->size, &low, &high))
        {
          n += count->count;
          balls += count->count * (low + high) / 2;
        }
      else
        unknown += count->count;
    }
  if (unknown > 0)
    bl_takeoff_note (takeoff, "%u plants are of a size whose ball is not known; the mix in their "
                     "holes is not counted.", unknown);
  if (n == 0)
    return;
  result = bl_volume_format (BACKFILL * balls * share, units, takeoff->language);
  g_string_append_printf (layer->how, "%s", layer->how->len > 0 ? "; " : "");
  g_string_append_printf (
    layer->how,
    bl_takeoff_say (takeoff, "%u holes twice as wide as the ball, %s %% mix in the backfill = %s"), n,
    percent, result);
  layer->volume += BACKFILL * balls * share;
  layer->bed_id = 0;
  layer->n_beds++;
}

typedef struct
{
  const BlPriceItem *item;
  double quantity, sd, order; /* in the item's unit */
  gint64 cost;                /* goods and, when loose, their delivery */
} Offer;

static Offer
loose_offer (const BlPriceBook *book, const Layer *layer)
{
  g_autofree char *key = g_strconcat (layer->stem, "-bulk", NULL);
  const BlPriceItem *load = bl_price_book_find (book, "delivery-load");
  double k = 1 + layer->settle;
  Offer offer = { bl_price_book_find (book, key), layer->volume * k, layer->sd * k, 0, 0 };

  if (offer.item == NULL)
    return offer;
  offer.order = bl_whole_steps (offer.quantity, offer.item->amount);
  offer.cost = bl_money_scale (offer.item->price, offer.order);
  if (load != NULL && load->amount > 0)
    offer.cost += bl_money_scale (load->price, ceil (offer.order / load->amount - 1e-9));
  return offer;
}

static Offer
bagged_offer (const BlPriceBook *book, const Layer *layer)
{
  g_autofree char *key = g_strconcat (layer->stem, "-bag", NULL);
  double k = 1 + layer->settle;
  Offer offer = { bl_price_book_find (book, key), 0, 0, 0, 0 };

  if (offer.item == NULL || !(offer.item->amount > 0))
    return (Offer) { 0 };
  offer.quantity = layer->volume * k / offer.item->amount;
  offer.sd = layer->sd * k / offer.item->amount;
  offer.order = bl_whole_steps (offer.quantity, 1);
  offer.cost = bl_money_scale (offer.item->price, offer.order);
  return offer;
}

static BlMaterial
material_of (const BlTakeoff *takeoff, const Layer *layer, const Offer *offer, gboolean bags)
{
  const BlModel *model = takeoff->layout->model;
  double volume = bags ? offer->order * offer->item->amount : offer->order;
  GString *how = g_string_new (layer->how->str);

  if (bags)
    g_string_append_printf (how, bl_takeoff_say (takeoff, ", %.0f bags"), offer->order);
  else if (offer->order > offer->quantity + 1e-9)
    {
      g_autofree char *up = bl_volume_format (offer->order, model->units, takeoff->language);
      g_autofree char *step = bl_volume_format (offer->item->amount, model->units, takeoff->language);

      g_string_append_printf (how, bl_takeoff_say (takeoff, ", up to %s (sold by %s)"), up, step);
    }
  return (BlMaterial) {
    .bed_id = layer->bed_id, .key = g_strdup (offer->item->key),
    .name = g_strdup (bl_takeoff_say (takeoff, offer->item->name)), .unit = g_strdup (offer->item->unit),
    .quantity = offer->quantity, .sd = offer->sd, .order = offer->order,
    .mass = volume * layer->density, .how = g_string_free (how, FALSE) };
}

/* What costs less by itself is taken for now; bl_takeoff_choose_goods() looks at the whole. */
static void
add_layer (BlTakeoff *takeoff, Layer *layer, GArray *choices)
{
  const BlModel *model = takeoff->layout->model;
  const BlPriceBook *book = model->prices;
  Offer loose = loose_offer (book, layer), bagged = bagged_offer (book, layer);
  double volume = layer->volume * (1 + layer->settle);
  g_autofree char *sum = bl_volume_format (volume, model->units, takeoff->language);
  g_autofree char *percent = bl_figure (100 * layer->settle);
  BlGoodsChoice choice = { .at = takeoff->materials->len, .loose_cost = loose.cost,
                           .bagged_cost = bagged.cost, .n_bags = bagged.order };

  if (loose.item == NULL && bagged.item == NULL)
    {
      bl_takeoff_note (takeoff, "The price book has no %s: %s is counted nowhere; add "
                       "“%s-bulk” or “%s-bag”.", bl_takeoff_say (takeoff, layer->what), sum, layer->stem,
                       layer->stem);
      return;
    }
  if (layer->settle > 0)
    g_string_append_printf (layer->how, bl_takeoff_say (takeoff, "; with %s %% for settling %s"),
                            percent, sum);
  choice.bags = loose.item == NULL
                || (bagged.item != NULL
                    && (book->rules.prefer_bags || bagged.cost < loose.cost));
  bl_takeoff_add_material (takeoff, material_of (takeoff, layer, choice.bags ? &bagged : &loose,
                                                choice.bags));
  if (loose.item == NULL || bagged.item == NULL)
    return;
  choice.other = material_of (takeoff, layer, choice.bags ? &loose : &bagged, !choice.bags);
  g_array_append_val (choices, choice);
}

static const char *
soil_stem (const BlPriceBook *book)
{
  if (bl_price_book_find (book, "planting-mix-bulk") != NULL
      || bl_price_book_find (book, "planting-mix-bag") != NULL)
    return "planting-mix";
  return "compost";
}

void
bl_takeoff_measure_layers (BlTakeoff *takeoff, GArray *choices)
{
  const BlModel *model = takeoff->layout->model;
  const BlPriceRules *rules = &model->prices->rules;
  Layer mulch = { .stem = "mulch", .what = BL_SAID ("mulch"), .settle = rules->mulch_settle,
                  .density = rules->mulch_density, .how = g_string_new (NULL) };
  Layer gravel = { .stem = "gravel", .what = BL_SAID ("gravel"), .density = GRAVEL_DENSITY,
                   .how = g_string_new (NULL) };
  Layer soil = { .stem = soil_stem (model->prices), .what = BL_SAID ("planting mix or compost"),
                 .settle = rules->soil_settle, .density = rules->soil_density,
                 .how = g_string_new (NULL) };

  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = model->beds->pdata[i];

      if (bed->ring == NULL)
        continue;
      if (bed->soil_depth > 0)
        add_bed (takeoff, &soil, bed, bed->soil_depth, 0);
      if (bed->mulch_depth > 0)
        add_bed (takeoff, bed->cover == BL_COVER_GRAVEL ? &gravel : &mulch, bed, bed->mulch_depth,
                 rules->collar);
    }
  if (rules->hole_mix > 0)
    add_holes (takeoff, &soil, rules->hole_mix);
  if (soil.n_beds > 0)
    add_layer (takeoff, &soil, choices);
  if (mulch.n_beds > 0)
    add_layer (takeoff, &mulch, choices);
  if (gravel.n_beds > 0)
    add_layer (takeoff, &gravel, choices);
  g_string_free (gravel.how, TRUE);
  g_string_free (mulch.how, TRUE);
  g_string_free (soil.how, TRUE);
}
