/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The crew pack: plans, order of work, materials, tools, cautions, set-out table. */
#include <math.h>

#include "base/error.h"
#include "proposal/crew.h"

static void
flow (BlBook *book, const char *text)
{
  bl_press_flow_plain (book->press, BL_TYPE_STYLE_BODY, book->press->left,
                       book->press->right - book->press->left, text);
}

static void
set_order (BlBook *book, const BlBookPart *part)
{
  static const char *const steps[] = {
    BL_SAID ("Prepare the bed: clear, loosen, work in compost."), BL_SAID ("Set the edging on the bed line."),
    BL_SAID ("Set out all pots, check against the plan, adjust, then plant."),
    BL_SAID ("Water in, then mulch, keeping crowns clear."),
  };
  g_autoptr (GPtrArray) kinds = bl_plan_kinds (part);
  g_autoptr (GString) names = g_string_new (BL_W (book, "Tall to low, back to front:"));

  bl_press_subhead (book->press, BL_W (book, "Steps"));
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      g_autofree char *text = g_strdup_printf ("%u.  %s", i + 1, BL_W (book, steps[i]));

      flow (book, text);
    }
  for (guint i = 0; i < kinds->len; i++)
    {
      g_autofree char *key = bl_book_key (part, ((const BlPlant *) kinds->pdata[i])->slug);

      g_string_append_printf (names, "%s %s (%s)", i > 0 ? "," : "",
                              bl_book_common (book, kinds->pdata[i]), key);
    }
  g_string_append_c (names, '.');
  book->press->y += 4;
  flow (book, names->str);
}

static void
set_cautions (BlBook *book)
{
  static const char *const checks[] = {
    BL_SAID ("Have every buried line marked by the local utility notification service (811 in the United "
    "States) before any digging, however shallow, and dig by hand within the tolerance zone that "
    "applies where you are."),
    BL_SAID ("The marks of the buried lines are still visible."),
    BL_SAID ("Side towards traffic coned off; high visibility clothing on."),
    BL_SAID ("Plants shaded and watered on arrival, and every one of the list counted."),
  };
  BlPress *press = book->press;

  bl_press_subhead (press, BL_W (book, "Before the first spade"));
  for (guint i = 0; i < G_N_ELEMENTS (checks); i++)
    {
      bl_press_need (press, 28);
      bl_press_tick_box (press, press->left, press->y + 2.5, 7.5);
      bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left + 15,
                           press->right - press->left - 15, BL_W (book, checks[i]));
      press->y += 1.5;
    }
}

static char *
mass_text (const BlBook *book, double kilograms)
{
  if (kilograms <= 0)
    return g_strdup ("");
  if (book->model->units == BL_UNITS_FEET)
    return g_strdup_printf ("%.0f lb", kilograms / BL_KG_PER_POUND);
  return g_strdup_printf ("%.0f kg", kilograms);
}

static void
set_materials (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  BlPressColumn columns[] = {
    { BL_W (book, "Item"), 0.46, BL_ALIGN_LEFT }, { BL_W (book, "Needed"), 0.15, BL_ALIGN_RIGHT },
    { BL_W (book, "Order"), 0.13, BL_ALIGN_RIGHT }, { BL_W (book, "Unit"), 0.11, BL_ALIGN_LEFT },
    { BL_W (book, "Weight"), 0.15, BL_ALIGN_RIGHT },
  };

  if (part->takeoff->materials->len == 0)
    return;
  for (guint i = 0; i < part->takeoff->materials->len; i++)
    {
      const BlMaterial *material = &g_array_index (part->takeoff->materials, BlMaterial, i);
      const char *unit;
      char *needed = bl_book_quantity (book, material->quantity, material->unit, &unit);
      char *order = bl_book_quantity (book, material->order, material->unit, &unit);

      bl_press_table_add (table, BL_ROW_PLAIN,
                          bl_book_escape (material->name), needed, order,
                          bl_book_escape (unit), mass_text (book, material->mass), NULL);
    }
  if (part->takeoff->soil_out.key != NULL)
    {
      const BlMaterial *out = &part->takeoff->soil_out;
      const char *unit;
      g_autofree char *name = g_strdup_printf ("%s (%s)", out->name,
                                               BL_W (book, "to cart away"));
      char *needed = bl_book_quantity (book, out->quantity, out->unit, &unit);

      bl_press_table_add (table, BL_ROW_PLAIN, bl_book_escape (name), needed, g_strdup (""),
                          bl_book_escape (unit), mass_text (book, out->mass), NULL);
    }
  bl_press_subhead (press, BL_W (book, "Materials and delivery"));
  bl_press_table_set (press, table, columns, G_N_ELEMENTS (columns), press->left,
                      press->right - press->left);
}

static void
set_work (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  const char *tapes = book->model->units == BL_UNITS_FEET ? "100 ft" : "30 m";
  g_autofree char *tools = g_strdup_printf (
      BL_W (book,
            "Two tapes of at least %s, pegs, string, marking paint, spades, rakes, barrow, hose or "
            "water tank, gloves, eye protection, this plan."),
      tapes);

  bl_press_page (press, BL_W (book, "Order of work"), BL_W (book, "Order of work"));
  set_cautions (book);
  set_order (book, part);
  bl_press_subhead (press, BL_W (book, "Tools"));
  flow (book, tools);
  set_materials (book, part);
  bl_press_need (press, 110);
  bl_press_subhead (press, BL_W (book, "Plants to count on arrival"));
  bl_book_schedule (book, part);
}

static gboolean
set_pages (BlBook *book, GError **error)
{
  const BlBookPart *part = bl_book_part (book, 0);
  BlSetoutWays ways = book->options->setout != 0 ? book->options->setout : BL_SETOUT_TAPES;
  g_autoptr (BlSetout) setout = bl_setout_compute (part->layout, book->model->units, error);

  if (setout == NULL)
    return FALSE;
  bl_crew_plans (book, part, setout, ways);
  if (!bl_press_go_on (book->press, 0.4, error))
    return FALSE;
  set_work (book, part);
  if (!bl_press_go_on (book->press, 0.6, error))
    return FALSE;
  bl_crew_setout (book, part, setout, ways);
  return TRUE;
}

gboolean
bl_crew_write (BlModel *model, GBytes *photo, const char *path, const BlProposalOptions *options,
               GError **error)
{
  BlProposalOptions one = *options;
  g_autoptr (BlBook) book = NULL;
  gint64 id;

  if (one.alternatives == NULL && model->alternatives->len > 0)
    {
      id = ((const BlAlternative *) model->alternatives->pdata[0])->id;
      one.alternatives = &id;
    }
  one.n_alternatives = one.alternatives != NULL ? 1 : 0;
  book = bl_book_new (model, NULL, &one, error);
  return book != NULL
         && bl_book_print (book, path, bl_say (book->language, "Crew pack"), set_pages, error);
}
