/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A page for the plan: turned where that makes it larger, the key of its plants at the foot. */
#include "proposal/crew.h"

#define KEY_ROW 11.0
#define KEY_MOST 16 /* rows */

void
bl_plan_page (BlBook *book, const BlBookPart *part, const char *title)
{
  BlRect beds = bl_book_beds (book->model, 0);
  g_autofree char *name = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);
  g_autofree char *heading = g_strdup_printf ("%s · %s", title, name);

  if (beds.x1 - beds.x0 > (beds.y1 - beds.y0) * 1.15)
    bl_press_turned_page (book->press, title, heading);
  else
    bl_press_page (book->press, title, heading);
}

GPtrArray *
bl_plan_kinds (const BlBookPart *part)
{
  GPtrArray *kinds = g_ptr_array_new ();
  g_autoptr (GArray) order = bl_setout_order (part->layout);

  for (guint i = 0; i < order->len; i++)
    {
      BlPlant *plant = g_array_index (part->layout->placed, BlPlaced,
                                      g_array_index (order, guint, i)).plant;

      if (!g_ptr_array_find (kinds, plant, NULL))
        g_ptr_array_add (kinds, plant);
    }
  return kinds;
}

static guint
count_of (const BlBookPart *part, const BlPlant *plant)
{
  guint n = 0;

  for (guint i = 0; i < part->layout->placed->len; i++)
    n += g_array_index (part->layout->placed, BlPlaced, i).plant == plant;
  return n;
}

static void
set_key_row (BlBook *book, const BlBookPart *part, const BlPlant *plant, double x, double y,
             double width)
{
  BlPress *press = book->press;
  g_autofree char *key = bl_book_key (part, plant->slug);
  g_autofree char *name = bl_plant_name_markup (plant);
  g_autofree char *common = bl_book_escape (bl_book_common (book, plant));
  g_autofree char *count = g_strdup_printf ("%u ×", count_of (part, plant));
  g_autofree char *text = g_strdup_printf ("%s · %s", common, name);

  bl_press_set_plain (press, BL_TYPE_STYLE_STRONG, x, y, 25, BL_ALIGN_LEFT, 1, key);
  bl_press_set_plain (press, BL_TYPE_STYLE_TABLE, x + 25, y, 24, BL_ALIGN_RIGHT, 1, count);
  bl_press_set (press, BL_TYPE_STYLE_TABLE, x + 53, y, width - 53, BL_ALIGN_LEFT, 1, text);
}

double
bl_plan_key (BlBook *book, const BlBookPart *part, const GPtrArray *kinds, gboolean draw)
{
  BlPress *press = book->press;
  guint columns = press->width > press->height && kinds->len > 14 ? 3 : 2;
  guint rows = MIN ((kinds->len + columns - 1) / columns, KEY_MOST);
  double gap = 14, width = (press->right - press->left - gap * (columns - 1)) / columns;
  double top = press->bottom - rows * KEY_ROW;

  for (guint i = 0; draw && i < kinds->len && i < columns * rows; i++)
    {
      guint column = i / rows, row = i % rows;

      set_key_row (book, part, kinds->pdata[i], press->left + column * (width + gap),
                   top + row * KEY_ROW, width);
    }
  return rows * KEY_ROW + 6;
}

static gboolean
set_page (BlBook *book, GError **error)
{
  BlPress *press = book->press;
  const BlBookPart *part = bl_book_part (book, 0);
  g_autoptr (GPtrArray) kinds = bl_plan_kinds (part);
  BlPlanSetup setup = { .scene = BL_SCENE_LABELS, .moment = { part->best_month, BL_BOOK_YEARS },
                        .dimensions = TRUE };

  bl_plan_page (book, part, BL_W (book, "Planting plan"));
  bl_book_plan (book, part,
                (BlRect) { press->left, press->y, press->right,
                           press->bottom - bl_plan_key (book, part, kinds, FALSE) },
                &setup);
  bl_plan_key (book, part, kinds, TRUE);
  return bl_press_go_on (press, 0.9, error);
}

gboolean
bl_plan_write (BlModel *model, const char *path, const BlProposalOptions *options, GError **error)
{
  g_autoptr (BlBook) book = bl_book_new (model, NULL, options, error);

  return book != NULL
         && bl_book_print (book, path, bl_say (book->language, "Planting plan"), set_page, error);
}
