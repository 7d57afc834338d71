/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The price book: materials, labour and rules of one firm. Shipped figures are invented. */
#pragma once

#include <glib.h>

/* Keys of the starting book. Loose goods "mulch-bulk" "gravel-bulk" "compost-bulk"
 * "planting-mix-bulk" "topsoil-bulk"; bags "mulch-bag" "compost-bag" "planting-mix-bag"; edging
 * "edging-steel" "edging-brick" "edging-stone" "edging-cut"; "fabric" "stake-set" "trellis"
 * "fertiliser". Labour "prepare-bed" (m2) "set-out" "water-in" "stake-plant" "hang-trellis" (each)
 * "plant-" + size class: plug quart #1 #2 #3 #5 #7 #15 bulb B&B (each), "spread-mulch"
 * "spread-soil" (m3) "lay-edging" "cut-edge" (m) "lay-fabric" "fertilise" "clean-up" (m2); for the calendar
 * "care-weed" "care-mulch" "care-prune" and so on. "delivery-load" (amount: m³ a load)
 * "delivery-plants" "disposal" (m3) "equipment-day". */
typedef enum
{
  BL_PRICE_PLANT,     /* key "slug|size": a firm's own plant price */
  BL_PRICE_MATERIAL,  /* mulch, edging, soil, fabric, stakes ... */
  BL_PRICE_LABOUR,    /* production rate: @amount minutes a unit, priced at the labour rate */
  BL_PRICE_EQUIPMENT,
  BL_PRICE_DELIVERY,
  BL_PRICE_DISPOSAL,
  BL_PRICE_N
} BlPriceKind;

typedef struct
{
  char *key;        /* "mulch-bulk", "mulch-bag", "edging-steel", "plant-#1", "prepare-bed" ... */
  BlPriceKind kind;
  char *name;       /* "Shredded bark mulch, loose" */
  char *unit;       /* "m3", "m2", "m", "each", "bag", "load", "h" */
  gint64 price;     /* minor units a unit (0 for labour rates) */
  double amount;    /* supplier's step (m³), bag volume (m³), piece length (m), or minutes a unit */
  char *supplier;   /* may be NULL */
  gboolean invented; /* TRUE until the firm replaces it */
} BlPriceItem;

typedef enum { BL_TAX_NONE, BL_TAX_MATERIALS, BL_TAX_PLANTS, BL_TAX_EVERYTHING } BlTaxBase;
typedef enum
{
  BL_OVERHEAD_NONE,
  BL_OVERHEAD_ON_LABOUR,
  BL_OVERHEAD_ON_ALL,
  BL_OVERHEAD_PER_HOUR
} BlOverheadMethod;

typedef struct
{
  gint64 labour_rate;      /* minor units an hour */
  BlOverheadMethod overhead_method;
  double overhead;         /* share (0.25), or minor units an hour */
  gboolean use_margin;     /* else markup; never both */
  double profit;           /* markup on cost, or margin of price: 0.30 */
  double contingency;      /* share of cost */
  double discount;         /* share of price */
  double warranty;         /* share of plants and their planting labour */
  gint64 minimum;          /* minor units: minimum charge, 0 = none */
  double tax_rate;         /* 0.0725 */
  BlTaxBase tax_base;
  char *tax_name;          /* "Sales tax" */
  double deposit;          /* share of total */
  gint64 deposit_cap;      /* minor units, 0 = none */
  double reserve;          /* share of plants ordered beyond the count */
  double edging_waste;     /* share */
  double mulch_settle;     /* share added for settling */
  double soil_settle;
  double soil_density;     /* kg/m³ loose */
  double mulch_density;
  double collar;           /* metres of bare collar round each crown */
  double strip_depth;      /* metres of sod and soil taken off each bed; 0 = none */
  double bulking;          /* share by which dug soil swells */
  double hole_mix;         /* share of mix in the backfill of planting holes; 0 = none */
  double fertiliser_dose;  /* kg/m² worked in at planting; 0 = none */
  gboolean lay_fabric;     /* landscape fabric under the mulch of every bed */
  double fabric_overlap;   /* share of fabric that lies double */
  gboolean prefer_bags;    /* ask for bags even when loose is cheaper */
  int valid_days;          /* of the proposal */
} BlPriceRules;

typedef struct
{
  GPtrArray *items;        /* BlPriceItem, sorted by key */
  BlPriceRules rules;
} BlPriceBook;

BlPriceBook *bl_price_book_new (void);       /* empty, with zero rules */
BlPriceBook *bl_price_book_defaults (void);  /* the invented starting book */
/* Minutes a unit that the starting book has for this production rate. */
double bl_price_starting_minutes (const char *key);
BlPriceBook *bl_price_book_copy (const BlPriceBook *book);
void bl_price_book_free (BlPriceBook *book);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlPriceBook, bl_price_book_free)
BlPriceItem *bl_price_item_copy (const BlPriceItem *item);
void bl_price_item_free (BlPriceItem *item);
const BlPriceItem *bl_price_book_find (const BlPriceBook *book, const char *key);
void bl_price_book_put_take (BlPriceBook *book, BlPriceItem *item);
gboolean bl_price_book_remove (BlPriceBook *book, const char *key); /* FALSE when there is none */
gboolean bl_price_book_equal (const BlPriceBook *a, const BlPriceBook *b);
gboolean bl_price_item_equal (const BlPriceItem *a, const BlPriceItem *b);
/* CSV in and out (RFC 4180); a mistake names its line and column and nothing is taken over. Prices
 * are written with the decimals of @currency (ISO 4217); without one, with two. A rule is a record
 * of kind "rule" with its name as key and its value as amount. */
char *bl_price_book_to_csv_in (const BlPriceBook *book, const char *currency);
BlPriceBook *bl_price_book_from_csv_in (const char *text, gssize length, const char *currency,
                                        GError **error);
char *bl_price_book_to_csv (const BlPriceBook *book);
BlPriceBook *bl_price_book_from_csv (const char *text, gssize length, GError **error);
/* The firm's own book, kept beside the person's own plants and taken for new designs: a database of
 * its own. @currency is that of its prices. Loading returns NULL without an error when there is
 * none yet. Saving replaces the whole book at once or, failing, nothing. */
char *bl_price_book_firm_path (void);
BlPriceBook *bl_price_book_load_firm (const char *path, char **currency, GError **error);
gboolean bl_price_book_save_firm (const BlPriceBook *book, const char *currency, const char *path,
                                  GError **error);
/* Rules as named numbers, for storing and for editing: get/set by name ("tax_rate"). */
const char *const *bl_price_rule_names (void);
char *bl_price_rule_get (const BlPriceRules *rules, const char *name);
gboolean
bl_price_rule_set (BlPriceRules *rules, const char *name, const char *value, GError **error);
/* Every rule within its bounds, and a margin under the whole price. */
gboolean bl_price_rules_check (const BlPriceRules *rules, GError **error);
void bl_price_rules_clear (BlPriceRules *rules);
const char *bl_price_kind_name (BlPriceKind kind);
gboolean bl_price_kind_from_name (const char *name, BlPriceKind *kind);
