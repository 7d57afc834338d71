/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plant schedule: key, quantity, names, size, spacing, remarks. */
#include "proposal/book.h"

#include <math.h>

#include "draw/key.h"

static const char *
planting_note (const BlModel *model, gint64 alternative_id, const char *slug)
{
  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *planting = model->plantings->pdata[i];

      if (planting->alternative_id == alternative_id && planting->note != NULL
          && *planting->note != '\0' && g_strcmp0 (planting->slug, slug) == 0)
        return planting->note;
    }
  return NULL;
}

/* As records name what holds a plant up. */
static const char *
support_word (const BlPlant *plant)
{
  return g_str_equal (plant->support, "stake") ? BL_SAID ("stake") : BL_SAID ("trellis");
}

/* The designer's own remark, what it needs, and a dagger that leads to the cautions. */
static char *
remarks_of (const BlBook *book, const BlBookPart *part, const BlPlant *plant)
{
  const char *note = planting_note (book->model, part->alternative->id, plant->slug);
  const char *harm = bl_book_harm_word (book, plant);
  GString *text = g_string_new (note);

  if (plant->support != NULL)
    g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "", BL_W (book, support_word (plant)));
  if (harm != NULL)
    g_string_append_printf (text, "%s† %s", text->len > 0 ? "; " : "", harm);
  return g_string_free (text, FALSE);
}

/* One row a plant and size: the beds' counts joined. */
static void
add_rows (BlBook *book, const BlBookPart *part, BlPressTable *table)
{
  GArray *counts = part->takeoff->counts;
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < counts->len; i++)
    {
      const BlPlantCount *count = &g_array_index (counts, BlPlantCount, i);
      char *id = g_strdup_printf ("%s|%s", count->plant->slug, count->size);
      guint n = 0;
      g_autofree char *remarks = NULL;
      g_autofree char *key = NULL;
      g_autofree char *spacing = NULL;

      if (!g_hash_table_add (seen, id))
        continue;
      for (guint k = i; k < counts->len; k++)
        {
          const BlPlantCount *other = &g_array_index (counts, BlPlantCount, k);

          if (other->plant == count->plant && g_strcmp0 (other->size, count->size) == 0)
            n += other->count;
        }
      remarks = remarks_of (book, part, count->plant);
      key = bl_book_key (part, count->plant->slug);
      spacing = count->spacing > 0 ? bl_spacing_format (count->spacing, book->model->units)
                                   : g_strdup (BL_W (book, "one by one"));
      bl_press_table_add (table, BL_ROW_PLAIN, bl_book_escape (key), g_strdup_printf ("%u", n),
                          bl_plant_name_markup (count->plant),
                          bl_book_escape (bl_book_common (book, count->plant)),
                          bl_book_escape (bl_say (book->language, count->size)),
                          bl_book_escape (spacing), bl_book_escape (remarks), NULL);
    }
}

static void
add_total (BlBook *book, const BlBookPart *part, BlPressTable *table)
{
  guint n = 0;

  for (guint i = 0; i < part->takeoff->counts->len; i++)
    n += g_array_index (part->takeoff->counts, BlPlantCount, i).count;
  bl_press_table_add (table, BL_ROW_TOTAL, g_strdup (""), g_strdup_printf ("%u", n),
                      bl_book_escape (BL_W (book, "plants")), g_strdup (""), g_strdup (""),
                      g_strdup (""), g_strdup (""), NULL);
}

static void
set_table (BlBook *book, const BlPressTable *table)
{
  BlPress *press = book->press;
  BlPressColumn columns[] = {
    { BL_W (book, "Key"), 0.06, BL_ALIGN_LEFT },
    { BL_W (book, "Qty"), 0.06, BL_ALIGN_RIGHT },
    { BL_W (book, "Botanical name"), 0.28, BL_ALIGN_LEFT },
    { BL_W (book, "Common name"), 0.19, BL_ALIGN_LEFT },
    { BL_W (book, "Size"), 0.09, BL_ALIGN_LEFT },
    { BL_W (book, "Spacing"), 0.11, BL_ALIGN_LEFT },
    { BL_W (book, "Remarks"), 0.21, BL_ALIGN_LEFT },
  };

  bl_press_table_set (press, table, columns, G_N_ELEMENTS (columns), press->left,
                      press->right - press->left);
}

void
bl_book_schedule (BlBook *book, const BlBookPart *part)
{
  g_autoptr (BlPressTable) table = bl_press_table_new ();

  add_rows (book, part, table);
  add_total (book, part, table);
  set_table (book, table);
}

void
bl_page_schedule (BlBook *book)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();

  for (guint i = 0; i < book->parts->len; i++)
    {
      const BlBookPart *part = bl_book_part (book, i);
      g_autofree char *name
          = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);

      if (part->takeoff->counts->len == 0)
        continue;
      bl_press_table_add (table, BL_ROW_SECTION, bl_book_escape (name), NULL);
      add_rows (book, part, table);
      add_total (book, part, table);
    }
  if (table->rows->len == 0)
    return;
  bl_press_page (press, BL_W (book, "Plant schedule"), BL_W (book, "Plant schedule"));
  bl_press_flow_plain (
      press, BL_TYPE_STYLE_SMALL, press->left, press->right - press->left,
      BL_W (book, "† Reported to do harm: see the cautions. A plant without a mark is not thereby "
                  "harmless. Spacing is from stem to stem."));
  press->y += 6;
  set_table (book, table);
}
