/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The crew pack: plan, order of work, set-out table, materials, tools, cautions. */
#include "proposal/book.h"

#include <math.h>

#include "base/error.h"
#include "proposal/setout.h"

/* A tape reading: feet, inches and quarters, or metres to the centimetre. */
static char *
tape_text (const BlBook *book, double metres)
{
  static const char *const quarters[] = { "", "¼", "½", "¾" };
  long n;

  if (book->model->units == BL_UNITS_METRES)
    return g_strdup_printf ("%.2f m", metres);
  n = lround (metres / (BL_METRES_PER_INCH / 4));
  return g_strdup_printf ("%ld′ %ld%s″", n / 48, n % 48 / 4, quarters[n % 4]);
}

static const BlFixedPoint *
fixed_at (const BlSetout *setout, guint i)
{
  return &g_array_index (setout->fixed, BlFixedPoint, i);
}

static void
set_pegs (BlBook *book, const BlSetout *setout)
{
  BlPress *press = book->press;
  g_autoptr (GString) pegs = g_string_new (NULL);
  g_autofree gboolean *used = g_new0 (gboolean, setout->fixed->len);

  for (guint i = 0; i < setout->rows->len; i++)
    {
      const BlSetoutRow *row = &g_array_index (setout->rows, BlSetoutRow, i);

      used[row->a] = used[row->b] = TRUE;
    }
  for (guint i = 0; i < setout->fixed->len; i++)
    if (used[i] && fixed_at (setout, i)->peg)
      g_string_append_printf (pegs, "%s%s", pegs->len > 0 ? ", " : "", fixed_at (setout, i)->name);
  if (pegs->len > 0)
    {
      g_autofree char *text = g_strdup_printf ("%s %s, %s.", BL_W (book, "Drive the pegs first:"),
                                               pegs->str, BL_W (book, "on the bed line"));

      bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, press->right - press->left, text);
    }
}

static void
set_setout_rows (BlBook *book, const BlBookPart *part, const BlSetout *setout)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  BlPressColumn columns[] = {
    { BL_W (book, "Key"), 0.1, BL_ALIGN_LEFT }, { BL_W (book, "From"), 0.22, BL_ALIGN_LEFT },
    { "", 0.12, BL_ALIGN_RIGHT }, { BL_W (book, "and from"), 0.22, BL_ALIGN_LEFT },
    { "", 0.12, BL_ALIGN_RIGHT }, { BL_W (book, "Side"), 0.12, BL_ALIGN_LEFT },
    { BL_W (book, "Crossing"), 0.1, BL_ALIGN_RIGHT },
  };
  const BlPlant *plant = NULL;
  guint number = 0;

  for (guint i = 0; i < setout->rows->len; i++)
    {
      const BlSetoutRow *row = &g_array_index (setout->rows, BlSetoutRow, i);
      const BlPlaced *placed = &g_array_index (part->layout->placed, BlPlaced, row->placed);
      g_autofree char *key = bl_book_key (part, placed->plant->slug);
      g_autofree char *from_a = tape_text (book, row->from_a);
      g_autofree char *from_b = tape_text (book, row->from_b);

      if (placed->plant != plant)
        {
          g_autofree char *common = bl_book_escape (placed->plant->common);
          g_autofree char *name = bl_plant_name_markup (placed->plant);

          bl_press_table_add (table, BL_ROW_SECTION, g_strdup_printf ("%s · %s", name, common), NULL);
          plant = placed->plant;
          number = 0;
        }
      bl_press_table_add (table, BL_ROW_PLAIN, g_strdup_printf ("%s %u", key, ++number),
                          bl_book_escape (fixed_at (setout, row->a)->name), bl_book_escape (from_a),
                          bl_book_escape (fixed_at (setout, row->b)->name), bl_book_escape (from_b),
                          bl_book_escape (BL_W (book, row->left ? "left" : "right")),
                          g_strdup_printf ("%.0f°", row->crossing * 180 / G_PI), NULL);
    }
  bl_press_table_set (press, table, columns, G_N_ELEMENTS (columns), press->left,
                      press->right - press->left);
}

static gboolean
set_setout (BlBook *book, const BlBookPart *part, GError **error)
{
  BlPress *press = book->press;
  double width = press->right - press->left;
  g_autoptr (BlSetout) setout = bl_setout_compute (part->layout, book->model->units, error);
  g_autofree char *base = NULL;
  g_autofree char *check = NULL;

  if (setout == NULL)
    return FALSE;
  bl_press_page (press, BL_W (book, "Set-out table"), BL_W (book, "Set-out table"));
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width,
                       BL_W (book, "Hook one tape on each of the two points named and hold the plant where the two readings meet."));
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width,
                       BL_W (book, "Sides are named as seen when looking from the first point to the second."));
  set_pegs (book, setout);
  base = tape_text (book, setout->base);
  check = g_strdup_printf (BL_W (book, "Closing check: from %s to %s the tape must read %s."),
                           fixed_at (setout, setout->base_a)->name,
                           fixed_at (setout, setout->base_b)->name, base);
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width, check);
  press->y += 8;
  set_setout_rows (book, part, setout);
  return TRUE;
}

static void
set_plan (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  g_autofree char *heading = g_strdup_printf ("%s · %s %s", BL_W (book, "Planting plan"),
                                              BL_W (book, "Alternative"), part->alternative->name);
  BlRect box;

  bl_press_page (press, BL_W (book, "Planting plan"), heading);
  box = (BlRect) { press->left, press->y, press->right, press->bottom - 20 };
  box.y1 = MIN (box.y1, box.y0 + (press->right - press->left) * 0.8);
  bl_book_plan (book, part, (BlMoment) { 7.5, 3 }, box, BL_SCENE_LABELS | BL_SCENE_MONOCHROME
                                                            | BL_SCENE_MATURE_SPREAD);
  press->y = box.y1 + 8;
}

static void
set_sequence (BlBook *book, const BlBookPart *part)
{
  static const char *const steps[] = {
    "Prepare the bed: clear, loosen, work in compost.", "Set the edging on the bed line.",
    "Set out all pots, check against the plan, adjust, then plant.",
    "Water in, then mulch, keeping crowns clear.",
  };
  BlPress *press = book->press;
  double width = press->right - press->left;
  g_autoptr (GArray) order = bl_setout_order (part->layout);
  g_autoptr (GString) names = g_string_new (BL_W (book, "Tall to low, back to front:"));
  const BlPlant *last = NULL;

  bl_press_page (press, BL_W (book, "Order of work"), BL_W (book, "Order of work"));
  bl_press_subhead (press, BL_W (book, "Before the first spade"));
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width,
                       BL_W (book, "1. Buried lines marked, marks still visible. 2. Car park side coned off; high visibility "
                                   "clothing on. 3. Plants shaded and watered on arrival. 4. Every plant of the list counted."));
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width,
                       BL_W (book, "Have every buried line marked by the local utility notification service (811 in the United "
                                   "States) before any digging, however shallow, and dig by hand within the tolerance zone that "
                                   "applies where you are."));
  bl_press_subhead (press, BL_W (book, "Order of work"));
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      g_autofree char *text = g_strdup_printf ("%u.  %s", i + 1, BL_W (book, steps[i]));

      bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width, text);
    }
  for (guint i = 0; i < order->len; i++)
    {
      const BlPlaced *placed = &g_array_index (part->layout->placed, BlPlaced,
                                               g_array_index (order, guint, i));
      g_autofree char *key = NULL;

      if (placed->plant == last)
        continue;
      last = placed->plant;
      key = bl_book_key (part, last->slug);
      g_string_append_printf (names, "%s %s (%s)", i > 0 ? "," : "", last->common, key);
    }
  press->y += 6;
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width, names->str);
  bl_press_subhead (press, BL_W (book, "Tools"));
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width,
                       BL_W (book, "Two tapes of at least 30 m, pegs, string, marking paint, spades, rakes, barrow, hose or water "
                                   "tank, gloves, eye protection, this plan."));
}

static void
set_materials (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  BlPressColumn columns[] = {
    { BL_W (book, "Item"), 0.42, BL_ALIGN_LEFT }, { BL_W (book, "Needed"), 0.16, BL_ALIGN_RIGHT },
    { BL_W (book, "Order"), 0.16, BL_ALIGN_RIGHT }, { BL_W (book, "Unit"), 0.1, BL_ALIGN_LEFT },
    { BL_W (book, "Weight"), 0.16, BL_ALIGN_RIGHT },
  };

  bl_press_subhead (press, BL_W (book, "Materials and delivery"));
  for (guint i = 0; i < part->takeoff->materials->len; i++)
    {
      const BlMaterial *material = &g_array_index (part->takeoff->materials, BlMaterial, i);

      bl_press_table_add (table, BL_ROW_PLAIN, bl_book_escape (material->name),
                          g_strdup_printf ("%.2f", material->quantity),
                          g_strdup_printf ("%.2f", material->order), bl_book_escape (material->unit),
                          material->mass > 0 ? g_strdup_printf ("%.0f kg", material->mass)
                                             : g_strdup (""), NULL);
    }
  bl_press_table_set (press, table, columns, G_N_ELEMENTS (columns), press->left,
                      press->right - press->left);
}

gboolean
bl_crew_write (BlModel *model, GBytes *photo, const char *path, const BlProposalOptions *options,
               GError **error)
{
  BlProposalOptions one = *options;
  g_autoptr (BlBook) book = NULL;
  const BlBookPart *part;
  gint64 id;

  if (one.alternatives == NULL && model->alternatives->len > 0)
    {
      id = ((const BlAlternative *) model->alternatives->pdata[0])->id;
      one.alternatives = &id;
    }
  one.n_alternatives = one.alternatives != NULL ? 1 : 0;
  book = bl_book_new (model, NULL, &one, error);
  if (book == NULL || !bl_book_open (book, path, bl_word (book->language, "Crew pack"), error))
    return FALSE;
  part = bl_book_part (book, 0);
  set_plan (book, part);
  if (!bl_press_go_on (book->press, 0.3, error))
    return FALSE;
  set_sequence (book, part);
  set_materials (book, part);
  if (!bl_press_go_on (book->press, 0.5, error) || !set_setout (book, part, error))
    return FALSE;
  bl_page_schedule (book, part);
  return bl_press_finish (g_steal_pointer (&book->press), error);
}
