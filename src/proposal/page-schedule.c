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

static char *
remarks_of (const BlBook *book, const BlBookPart *part, const BlPlant *plant)
{
  const char *note = planting_note (book->model, part->alternative->id, plant->slug);
  GString *text = g_string_new (note);

  if (plant->support != NULL)
    g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "", plant->support);
  if (plant->harm_people >= BL_HARM_TOXIC || plant->harm_dogs >= BL_HARM_TOXIC)
    g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "",
                            plant->harm_note != NULL ? plant->harm_note : "");
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
                          bl_book_escape (g_strcmp0 (book->language, "es") == 0
                                                  && count->plant->common_es != NULL
                                              ? count->plant->common_es : count->plant->common),
                          bl_book_escape (count->size), bl_book_escape (spacing),
                          bl_book_escape (remarks), NULL);
    }
}

void
bl_page_schedule (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  g_autofree char *name = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);
  BlPressColumn columns[] = {
    { BL_W (book, "Key"), 0.07, BL_ALIGN_LEFT }, { BL_W (book, "Qty"), 0.06, BL_ALIGN_RIGHT },
    { BL_W (book, "Botanical name"), 0.27, BL_ALIGN_LEFT },
    { BL_W (book, "Common name"), 0.18, BL_ALIGN_LEFT }, { BL_W (book, "Size"), 0.09, BL_ALIGN_LEFT },
    { BL_W (book, "Spacing"), 0.1, BL_ALIGN_LEFT }, { BL_W (book, "Remarks"), 0.23, BL_ALIGN_LEFT },
  };

  if (part == bl_book_part (book, 0))
    bl_press_page (press, BL_W (book, "Plant schedule"), BL_W (book, "Plant schedule"));
  add_rows (book, part, table);
  if (table->rows->len == 0)
    return;
  bl_press_subhead (press, name);
  bl_press_table_set (press, table, columns, G_N_ELEMENTS (columns), press->left,
                      press->right - press->left);
}
