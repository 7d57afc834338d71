/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cost lines of an estimate: plants, materials, labour, delivery. */
#include <math.h>
#include <string.h>

#include "takeoff/estimate-private.h"
#include "takeoff/material.h"
#include "takeoff/takeoff-private.h"

/* ---- plants ---- */

static gint64
plant_price (const BlSheet *sheet, const BlPlantCount *count, gboolean *invented)
{
  g_autofree char *key = g_strdup_printf ("%s|%s", count->plant->slug, count->size);
  const BlPriceItem *item = bl_price_book_find (sheet->book, key);

  *invented = item == NULL || item->invented;
  if (item != NULL)
    return item->price;
  for (guint i = 0; i < count->plant->n_sizes; i++)
    if (strcmp (count->plant->sizes[i].name, count->size) == 0)
      return count->plant->sizes[i].price;
  return 0;
}

/* One line a kind and size over all beds. */
static void
add_kind (BlSheet *sheet, guint first)
{
  const GArray *counts = sheet->takeoff->counts;
  const BlPlantCount *count = &g_array_index (counts, BlPlantCount, first);
  g_autofree char *botanical = bl_plant_name (count->plant);
  g_autofree char *name = g_strdup_printf ("%s, %s", botanical,
                                           bl_sheet_say (sheet, count->size));
  guint n = 0, reserve = 0, order = 0;
  gboolean invented;
  gint64 price = plant_price (sheet, count, &invented);
  GString *how = g_string_new (NULL);
  double quantity;

  for (guint i = first; i < counts->len; i++)
    {
      const BlPlantCount *other = &g_array_index (counts, BlPlantCount, i);

      if (other->plant != count->plant || strcmp (other->size, count->size) != 0)
        continue;
      n += other->count;
      reserve += other->reserve;
      order += other->order;
    }
  g_string_append_printf (how, bl_sheet_say (sheet, "%u drawn"), n);
  if (reserve > 0)
    g_string_append_printf (how, bl_sheet_say (sheet, " + %u in reserve"), reserve);
  if (order > n + reserve)
    g_string_append_printf (how, bl_sheet_say (sheet, " + %u to whole packs"), order - n - reserve);
  if (price == 0)
    g_string_append (how, bl_sheet_say (sheet, "; no price is known for this size"));
  quantity = sheet->shift == 0 ? order
                               : ceil (order * bl_sheet_count_factor (sheet) - 1e-9);
  bl_sheet_add (sheet, (BlDraft) {
    .key = g_strdup_printf ("plant:%s|%s", count->plant->slug, count->size),
    .section = BL_SECTION_PLANTS, .name = name, .unit = "each", .quantity = quantity,
    .rate = (double) price, .how = g_string_free (how, FALSE), .invented = invented });
}

static gboolean
seen_before (const GArray *counts, guint at)
{
  const BlPlantCount *count = &g_array_index (counts, BlPlantCount, at);

  for (guint i = 0; i < at; i++)
    {
      const BlPlantCount *other = &g_array_index (counts, BlPlantCount, i);

      if (other->plant == count->plant && strcmp (other->size, count->size) == 0)
        return TRUE;
    }
  return FALSE;
}

/* ---- materials ---- */

/* One line an item: edging of two beds is bought together, but cut for each. */
static void
add_material (BlSheet *sheet, guint first)
{
  const GArray *materials = sheet->takeoff->materials;
  const BlMaterial *material = &g_array_index (materials, BlMaterial, first);
  const BlPriceItem *item = bl_price_book_find (sheet->book, material->key);
  GString *how = g_string_new (NULL);
  double quantity = 0;

  for (guint i = first; i < materials->len; i++)
    {
      const BlMaterial *other = &g_array_index (materials, BlMaterial, i);

      if (strcmp (other->key, material->key) != 0)
        continue;
      quantity += sheet->shift == 0
                    ? other->order
                    : bl_material_order (sheet->book, other->key, other->unit,
                                         MAX (other->quantity + sheet->shift * other->sd, 0));
      g_string_append_printf (how, "%s%s", how->len > 0 ? "; " : "", other->how);
    }
  bl_sheet_add (sheet, (BlDraft) {
    .key = g_strdup_printf ("material:%s", material->key), .section = BL_SECTION_MATERIALS,
    .name = material->name, .unit = material->unit, .quantity = quantity,
    .rate = item != NULL ? (double) item->price : 0, .how = g_string_free (how, FALSE),
    .invented = item != NULL && item->invented && item->price != 0 });
}

void
bl_sheet_goods (BlSheet *sheet)
{
  const GArray *counts = sheet->takeoff->counts, *materials = sheet->takeoff->materials;

  for (guint i = 0; i < counts->len; i++)
    if (!seen_before (counts, i))
      add_kind (sheet, i);
  for (guint i = 0; i < materials->len; i++)
    {
      const BlMaterial *material = &g_array_index (materials, BlMaterial, i);
      gboolean first = TRUE;

      for (guint k = 0; k < i; k++)
        first &= strcmp (g_array_index (materials, BlMaterial, k).key, material->key) != 0;
      if (first)
        add_material (sheet, i);
    }
}

/* ---- labour ---- */

static double
work_factor (const BlSheet *sheet, const BlWork *work)
{
  if (strcmp (work->unit, "m") == 0)
    return bl_sheet_length_factor (sheet);
  if (strcmp (work->unit, "m2") == 0 || strcmp (work->unit, "m3") == 0)
    return bl_sheet_area_factor (sheet);
  return bl_sheet_count_factor (sheet);
}

static void
add_task (BlSheet *sheet, guint first)
{
  const GArray *works = sheet->takeoff->work;
  const BlWork *work = &g_array_index (works, BlWork, first);
  const BlPriceItem *item = bl_price_book_find (sheet->book, work->key);
  GString *how = g_string_new (NULL);
  double hours = 0;

  for (guint i = first; i < works->len; i++)
    {
      const BlWork *other = &g_array_index (works, BlWork, i);

      if (strcmp (other->key, work->key) != 0)
        continue;
      hours += other->hours;
      g_string_append_printf (how, "%s%s", how->len > 0 ? "; " : "", other->how);
    }
  bl_sheet_add (sheet, (BlDraft) {
    .key = g_strdup_printf ("labour:%s", work->key), .section = BL_SECTION_LABOUR,
    .name = work->name, .unit = "h", .quantity = hours * work_factor (sheet, work),
    .rate = (double) sheet->book->rules.labour_rate, .how = g_string_free (how, FALSE),
    .invented = item != NULL && item->invented });
}

void
bl_sheet_labour (BlSheet *sheet)
{
  const GArray *works = sheet->takeoff->work;

  for (guint i = 0; i < works->len; i++)
    {
      const BlWork *work = &g_array_index (works, BlWork, i);
      gboolean first = TRUE;

      for (guint k = 0; k < i; k++)
        first &= strcmp (g_array_index (works, BlWork, k).key, work->key) != 0;
      if (first)
        add_task (sheet, i);
    }
}

/* ---- delivery ---- */

static void
add_loads (BlSheet *sheet, const BlPriceItem *item)
{
  const GArray *materials = sheet->takeoff->materials;
  GString *how = g_string_new (NULL);
  double loads = 0;

  for (guint i = 0; i < materials->len; i++)
    {
      const BlMaterial *material = &g_array_index (materials, BlMaterial, i);
      double order = material->order, n;
      g_autofree char *volume = NULL;

      if (strcmp (material->unit, "m3") != 0)
        continue;
      if (sheet->shift != 0)
        order = bl_material_order (sheet->book, material->key, material->unit,
                                   MAX (material->quantity + sheet->shift * material->sd, 0));
      n = item->amount > 0 ? ceil (order / item->amount - 1e-9) : 1;
      volume = bl_volume_format (order, sheet->model->units, sheet->takeoff->language);
      loads += n;
      g_string_append_printf (how, "%s%s %s: %.0f", how->len > 0 ? "; " : "", material->name,
                              volume, n);
    }
  if (loads > 0)
    bl_sheet_add (sheet, (BlDraft) {
      .key = g_strdup ("delivery:delivery-load"), .section = BL_SECTION_DELIVERY,
      .name = item->name, .unit = item->unit, .quantity = loads, .rate = (double) item->price,
      .how = g_string_free (how, FALSE), .invented = item->invented });
  else
    g_string_free (how, TRUE);
}

static void
add_disposal (BlSheet *sheet)
{
  const BlMaterial *out = &sheet->takeoff->soil_out;
  const BlPriceItem *item = out->key != NULL ? bl_price_book_find (sheet->book, out->key) : NULL;

  if (item == NULL)
    return;
  bl_sheet_add (sheet, (BlDraft) {
    .key = g_strdup_printf ("disposal:%s", out->key), .section = BL_SECTION_DELIVERY,
    .name = out->name, .unit = out->unit,
    .quantity = bl_whole_steps (MAX (out->quantity + sheet->shift * out->sd, 0), item->amount),
    .rate = (double) item->price, .how = g_strdup (out->how), .invented = item->invented });
}

void
bl_sheet_delivery (BlSheet *sheet)
{
  const BlPriceItem *load = bl_price_book_find (sheet->book, "delivery-load");
  const BlPriceItem *plants = bl_price_book_find (sheet->book, "delivery-plants");

  if (load != NULL)
    add_loads (sheet, load);
  add_disposal (sheet);
  if (plants != NULL && sheet->takeoff->n_plants > 0)
    bl_sheet_add (sheet, (BlDraft) {
      .key = g_strdup ("delivery:delivery-plants"), .section = BL_SECTION_DELIVERY,
      .name = plants->name, .unit = plants->unit, .quantity = 1, .rate = (double) plants->price,
      .how = g_strdup (bl_sheet_say (sheet, "one delivery for the whole job")), .invented = plants->invented });
}

/* ---- what the person adds ---- */

static const struct
{
  const char *prefix;
  BlPriceKind kind;
  BlSection section;
} extras[] = {
  { "material:", BL_PRICE_MATERIAL, BL_SECTION_MATERIALS },
  { "labour:", BL_PRICE_LABOUR, BL_SECTION_LABOUR },
  { "delivery:", BL_PRICE_DELIVERY, BL_SECTION_DELIVERY },
  { "disposal:", BL_PRICE_DISPOSAL, BL_SECTION_DELIVERY },
  { "equipment:", BL_PRICE_EQUIPMENT, BL_SECTION_DELIVERY },
};

static gboolean
has_line (const BlEstimate *estimate, const char *key)
{
  for (guint i = 0; i < estimate->lines->len; i++)
    if (strcmp (g_array_index (estimate->lines, BlEstimateLine, i).key, key) == 0)
      return TRUE;
  return FALSE;
}

static void
add_extra (BlSheet *sheet, const BlOverride *override)
{
  for (guint i = 0; i < G_N_ELEMENTS (extras); i++)
    {
      const BlPriceItem *item;
      gboolean hours = extras[i].kind == BL_PRICE_LABOUR;

      if (!g_str_has_prefix (override->line, extras[i].prefix))
        continue;
      item = bl_price_book_find (sheet->book, override->line + strlen (extras[i].prefix));
      if (item == NULL || item->kind != extras[i].kind)
        return;
      bl_sheet_add (sheet, (BlDraft) {
        .key = g_strdup (override->line), .section = extras[i].section, .name = item->name,
        .unit = hours ? "h" : item->unit,
        .rate = (double) (hours ? sheet->book->rules.labour_rate : item->price),
        .how = g_strdup (bl_sheet_say (sheet, "added by hand")), .invented = item->invented });
    }
}

void
bl_sheet_extras (BlSheet *sheet)
{
  const GPtrArray *overrides = sheet->model->overrides;

  for (guint i = 0; i < overrides->len; i++)
    {
      const BlOverride *override = overrides->pdata[i];

      if (override->alternative_id == sheet->takeoff->layout->alternative_id
          && override->line != NULL && g_strcmp0 (override->field, "quantity") == 0
          && !has_line (sheet->estimate, override->line))
        add_extra (sheet, override);
    }
}
