/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The price book a new design starts with: invented figures of sensible size, each flagged so. */
#include "design/pricebook.h"

#include "base/say.h"
#include "base/units.h"

/* Every price and production rate below is invented so that a first estimate has a sensible shape;
 * none is taken from a published cost book. They stay flagged until the firm puts its own. */

typedef struct
{
  const char *key;
  BlPriceKind kind;
  const char *name, *unit;
  gint64 price;
  double amount;
} Default;

#define HALF_YARD (0.5 * BL_M3_PER_CUBIC_YARD)
#define TWO_FEET (2.0 * BL_M3_PER_CUBIC_FOOT)
#define TEN_YARDS (10.0 * BL_M3_PER_CUBIC_YARD)

static const Default defaults[] = {
  /* Loose goods: price a cubic metre, @amount the supplier's step. */
  { "mulch-bulk", BL_PRICE_MATERIAL, BL_SAID ("Shredded bark mulch, loose"), "m3", 5200, HALF_YARD },
  { "gravel-bulk", BL_PRICE_MATERIAL, BL_SAID ("Washed pea gravel, loose"), "m3", 7800, HALF_YARD },
  { "compost-bulk", BL_PRICE_MATERIAL, BL_SAID ("Screened compost, loose"), "m3", 5900, HALF_YARD },
  { "planting-mix-bulk", BL_PRICE_MATERIAL, BL_SAID ("Planting mix (soil and compost), loose"), "m3", 6400,
    HALF_YARD },
  { "topsoil-bulk", BL_PRICE_MATERIAL, BL_SAID ("Screened topsoil, loose"), "m3", 4600, HALF_YARD },
  /* Bags: price a bag, @amount its volume. */
  { "mulch-bag", BL_PRICE_MATERIAL, BL_SAID ("Shredded bark mulch, 2 cu ft bag"), BL_SAID ("bag"), 525, TWO_FEET },
  { "compost-bag", BL_PRICE_MATERIAL, BL_SAID ("Compost, 1 cu ft bag"), BL_SAID ("bag"), 640, 0.5 * TWO_FEET },
  { "planting-mix-bag", BL_PRICE_MATERIAL, BL_SAID ("Planting mix, 2 cu ft bag"), BL_SAID ("bag"), 890, TWO_FEET },
  /* Edging: price a metre, @amount the length of a piece (0 = no piece to buy). */
  { "edging-steel", BL_PRICE_MATERIAL, BL_SAID ("Steel edging with stakes, 10 ft piece"), "m", 1480,
    10 * BL_METRES_PER_FOOT },
  { "edging-brick", BL_PRICE_MATERIAL, BL_SAID ("Brick edging on sand, 8 in brick"), "m", 1150,
    8 * BL_METRES_PER_INCH },
  { "edging-stone", BL_PRICE_MATERIAL, BL_SAID ("Cut stone edging, 12 in piece"), "m", 2950,
    12 * BL_METRES_PER_INCH },
  { "edging-cut", BL_PRICE_MATERIAL, BL_SAID ("Spade-cut edge (no material)"), "m", 0, 0 },
  /* Never taken off by itself: a bed of living plants is mulched, not sheeted. */
  { "fabric", BL_PRICE_MATERIAL, BL_SAID ("Landscape fabric, 3 ft × 100 ft roll (only on request)"), "m2", 95,
    300 * BL_M2_PER_SQUARE_FOOT },
  { "stake-set", BL_PRICE_MATERIAL, BL_SAID ("Stake and ties, one set"), BL_SAID ("each"), 780, 1 },
  { "trellis", BL_PRICE_MATERIAL, BL_SAID ("Trellis panel, 2 ft × 6 ft"), BL_SAID ("each"), 4200, 1 },
  { "fertiliser", BL_PRICE_MATERIAL, BL_SAID ("Slow-release fertiliser, 2.5 kg bag"), "kg", 720, 2.5 },
  /* Production rates: @amount minutes a unit at the labour rate. */
  { "prepare-bed", BL_PRICE_LABOUR, BL_SAID ("Strip, loosen and rake the bed"), "m2", 0, 7 },
  { "set-out", BL_PRICE_LABOUR, BL_SAID ("Lay out and set out plants"), BL_SAID ("each"), 0, 0.7 },
  { "plant-plug", BL_PRICE_LABOUR, BL_SAID ("Plant a plug"), BL_SAID ("each"), 0, 1.5 },
  { "plant-quart", BL_PRICE_LABOUR, BL_SAID ("Plant a quart pot"), BL_SAID ("each"), 0, 3 },
  { "plant-#1", BL_PRICE_LABOUR, BL_SAID ("Plant a #1 container"), BL_SAID ("each"), 0, 5 },
  { "plant-#2", BL_PRICE_LABOUR, BL_SAID ("Plant a #2 container"), BL_SAID ("each"), 0, 9 },
  { "plant-#3", BL_PRICE_LABOUR, BL_SAID ("Plant a #3 container"), BL_SAID ("each"), 0, 14 },
  { "plant-#5", BL_PRICE_LABOUR, BL_SAID ("Plant a #5 container"), BL_SAID ("each"), 0, 20 },
  { "plant-#7", BL_PRICE_LABOUR, BL_SAID ("Plant a #7 container"), BL_SAID ("each"), 0, 28 },
  { "plant-#15", BL_PRICE_LABOUR, BL_SAID ("Plant a #15 container"), BL_SAID ("each"), 0, 55 },
  { "plant-bulb", BL_PRICE_LABOUR, BL_SAID ("Plant a bulb"), BL_SAID ("each"), 0, 0.8 },
  { "plant-B&B", BL_PRICE_LABOUR, BL_SAID ("Plant a balled and burlapped plant"), BL_SAID ("each"), 0, 110 },
  { "water-in", BL_PRICE_LABOUR, BL_SAID ("Water in"), BL_SAID ("each"), 0, 0.6 },
  { "stake-plant", BL_PRICE_LABOUR, BL_SAID ("Stake and tie"), BL_SAID ("each"), 0, 6 },
  { "hang-trellis", BL_PRICE_LABOUR, BL_SAID ("Fix a trellis"), BL_SAID ("each"), 0, 25 },
  { "spread-mulch", BL_PRICE_LABOUR, BL_SAID ("Spread mulch by hand"), "m3", 0, 75 },
  { "spread-soil", BL_PRICE_LABOUR, BL_SAID ("Spread and work in soil or compost"), "m3", 0, 70 },
  { "lay-edging", BL_PRICE_LABOUR, BL_SAID ("Set edging"), "m", 0, 9 },
  { "cut-edge", BL_PRICE_LABOUR, BL_SAID ("Cut an edge with the spade"), "m", 0, 3 },
  { "lay-fabric", BL_PRICE_LABOUR, BL_SAID ("Lay and pin fabric"), "m2", 0, 2 },
  { "fertilise", BL_PRICE_LABOUR, BL_SAID ("Spread fertiliser and rake it in"), "m2", 0, 0.5 },
  { "clean-up", BL_PRICE_LABOUR, BL_SAID ("Clean up"), "m2", 0, 1.5 },
  /* Care: what the calendar's hours rest on. */
  { "care-weed", BL_PRICE_LABOUR, BL_SAID ("Care: weed between young plants"), "m2", 0, 1.6 },
  { "care-weed-dense", BL_PRICE_LABOUR, BL_SAID ("Care: weed once the plants have closed"), "m2", 0, 0.7 },
  { "care-mulch", BL_PRICE_LABOUR, BL_SAID ("Care: top up mulch"), "m2", 0, 2.5 },
  { "care-edge", BL_PRICE_LABOUR, BL_SAID ("Care: cut the edge again"), "m", 0, 1.5 },
  { "care-fertilise", BL_PRICE_LABOUR, BL_SAID ("Care: feed"), "m2", 0, 0.4 },
  { "care-clean", BL_PRICE_LABOUR, BL_SAID ("Care: spring clean-up"), "m2", 0, 1.5 },
  { "care-autumn", BL_PRICE_LABOUR, BL_SAID ("Care: autumn round"), "m2", 0, 1.2 },
  { "care-flush", BL_PRICE_LABOUR, BL_SAID ("Care: flush salt"), "m2", 0, 0.8 },
  { "care-water", BL_PRICE_LABOUR, BL_SAID ("Care: water planted ground"), "m2", 0, 0.5 },
  { "care-water-woody", BL_PRICE_LABOUR, BL_SAID ("Care: water a shrub or tree"), BL_SAID ("each"), 0, 2 },
  { "care-cut-back", BL_PRICE_LABOUR, BL_SAID ("Care: cut a perennial back"), BL_SAID ("each"), 0, 1.2 },
  { "care-cut-grass", BL_PRICE_LABOUR, BL_SAID ("Care: cut a grass back"), BL_SAID ("each"), 0, 2.5 },
  { "care-shear", BL_PRICE_LABOUR, BL_SAID ("Care: shear after the first flush"), BL_SAID ("each"), 0, 1 },
  { "care-prune", BL_PRICE_LABOUR, BL_SAID ("Care: prune a shrub"), BL_SAID ("each"), 0, 8 },
  { "care-tidy", BL_PRICE_LABOUR, BL_SAID ("Care: tidy a plant"), BL_SAID ("each"), 0, 0.8 },
  { "care-vine", BL_PRICE_LABOUR, BL_SAID ("Care: prune and tie a vine"), BL_SAID ("each"), 0, 15 },
  { "care-bulb", BL_PRICE_LABOUR, BL_SAID ("Care: clear a bulb's leaves"), BL_SAID ("each"), 0, 0.2 },
  { "care-plant-annual", BL_PRICE_LABOUR, BL_SAID ("Care: plant an annual"), BL_SAID ("each"), 0, 2 },
  { "care-lift-annual", BL_PRICE_LABOUR, BL_SAID ("Care: lift an annual"), BL_SAID ("each"), 0, 0.7 },
  { "care-deadhead", BL_PRICE_LABOUR, BL_SAID ("Care: deadhead a plant"), BL_SAID ("each"), 0, 0.5 },
  { "care-divide", BL_PRICE_LABOUR, BL_SAID ("Care: divide a plant"), BL_SAID ("each"), 0, 12 },
  { "care-stake", BL_PRICE_LABOUR, BL_SAID ("Care: stake a plant"), BL_SAID ("each"), 0, 3 },
  { "care-protect", BL_PRICE_LABOUR, BL_SAID ("Care: cover or guard a plant"), BL_SAID ("each"), 0, 2 },
  /* @amount: what one load carries, m³. */
  { "delivery-load", BL_PRICE_DELIVERY, BL_SAID ("Delivery of loose goods, a load of up to 10 cu yd"), BL_SAID ("load"),
    8500, TEN_YARDS },
  { "delivery-plants", BL_PRICE_DELIVERY, BL_SAID ("Delivery of plants"), BL_SAID ("load"), 9500, 0 },
  { "disposal", BL_PRICE_DISPOSAL, BL_SAID ("Disposal of sod and spoil"), "m3", 4800, HALF_YARD },
  { "equipment-day", BL_PRICE_EQUIPMENT, BL_SAID ("Small loader, a day"), BL_SAID ("day"), 28500, 1 },
};

static void
set_default_rules (BlPriceRules *rules)
{
  rules->labour_rate = 5200;
  rules->overhead_method = BL_OVERHEAD_ON_ALL;
  rules->overhead = 0.15;
  rules->profit = 0.20;
  rules->contingency = 0.05;
  rules->warranty = 0.05;
  rules->tax_base = BL_TAX_NONE; /* what is taxed differs by state: the firm says */
  g_free (rules->tax_name);
  rules->tax_name = g_strdup (BL_SAID ("Sales tax"));
  rules->deposit = 0.30;
  rules->reserve = 0.03;
  rules->edging_waste = 0.05;
  rules->mulch_settle = 0.05;
  rules->soil_settle = 0.10;
  rules->soil_density = 1300;
  rules->mulch_density = 400;
  rules->collar = 0.05;
  rules->strip_depth = 0.05;
  rules->bulking = 0.25;
  rules->fabric_overlap = 0.10;
  rules->valid_days = 30;
}

BlPriceBook *
bl_price_book_defaults (void)
{
  BlPriceBook *book = bl_price_book_new ();

  for (guint i = 0; i < G_N_ELEMENTS (defaults); i++)
    {
      BlPriceItem item = {
        .key = (char *) defaults[i].key,
        .kind = defaults[i].kind,
        .name = (char *) defaults[i].name,
        .unit = (char *) defaults[i].unit,
        .price = defaults[i].price,
        .amount = defaults[i].amount,
        .invented = TRUE,
      };

      bl_price_book_put_take (book, bl_price_item_copy (&item));
    }
  set_default_rules (&book->rules);
  return book;
}

double
bl_price_starting_minutes (const char *key)
{
  for (guint i = 0; i < G_N_ELEMENTS (defaults); i++)
    if (defaults[i].kind == BL_PRICE_LABOUR && g_strcmp0 (defaults[i].key, key) == 0)
      return defaults[i].amount;
  g_return_val_if_reached (0);
}
