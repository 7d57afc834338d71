/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cautions and local checks, what the rules found, sources. */
#include "proposal/book.h"

static void
set_caution (BlBook *book, const char *head, const char *text)
{
  BlPress *press = book->press;
  g_autofree char *upper = g_utf8_strup (BL_W (book, head), -1);

  bl_press_need (press, 48);
  press->y += bl_press_set_plain (press, BL_TYPE_STYLE_LABEL, press->left, press->y,
                                  press->right - press->left, BL_ALIGN_LEFT, 1, upper) + 1;
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, press->right - press->left,
                       BL_W (book, text));
  press->y += 6;
}

/* The usual caution of each plant that is reported to do harm, each once. */
static void
set_harmful (BlBook *book)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  BlPress *press = book->press;

  for (guint i = 0; i < book->parts->len; i++)
    {
      const BlLayout *layout = bl_book_part (book, i)->layout;

      for (guint k = 0; k < layout->placed->len; k++)
        {
          const BlPlant *plant = g_array_index (layout->placed, BlPlaced, k).plant;
          g_autofree char *name = NULL;
          g_autofree char *note = NULL;
          g_autofree char *line = NULL;

          if (plant->harm_note == NULL || !g_hash_table_add (seen, plant->slug))
            continue;
          name = bl_plant_name_markup (plant);
          note = bl_book_escape (plant->harm_note);
          line = g_strdup_printf ("%s — %s", name, note);
          bl_press_flow (press, BL_TYPE_STYLE_BODY, press->left + 12,
                         press->right - press->left - 12, line);
        }
    }
  press->y += 4;
}

/* "Echinacea purpurea: Bears little salt ..." */
static char *
finding_markup (const BlBook *book, const BlFinding *finding)
{
  g_autofree char *sentence = bl_book_escape (finding->sentence);
  BlPlant *plant = finding->slug != NULL ? bl_model_plant (book->model, finding->slug) : NULL;
  g_autofree char *name = plant != NULL ? bl_plant_name_markup (plant) : NULL;

  if (name == NULL)
    return g_steal_pointer (&sentence);
  return g_strdup_printf ("%s: %s", name, sentence);
}

static void
set_findings (BlBook *book)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  BlPressColumn columns[] = {
    { "", 0.17, BL_ALIGN_LEFT }, { BL_W (book, "Finding"), 0.55, BL_ALIGN_LEFT },
    { BL_W (book, "Source"), 0.28, BL_ALIGN_LEFT },
  };

  for (guint i = 0; i < book->parts->len; i++)
    {
      const BlBookPart *part = bl_book_part (book, i);
      g_autofree char *name = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);

      for (guint k = 0; k < part->fit->findings->len; k++)
        {
          const BlFinding *finding = &g_array_index (part->fit->findings, BlFinding, k);

          if (k == 0)
            bl_press_table_add (table, BL_ROW_SECTION, bl_book_escape (name), NULL);
          bl_press_table_add (table, BL_ROW_PLAIN,
                              bl_book_escape (BL_W (book, bl_severity_name (finding->severity))),
                              finding_markup (book, finding), bl_book_escape (finding->source), NULL);
        }
    }
  if (table->rows->len == 0)
    return;
  bl_press_subhead (press, BL_W (book, "What the checks found"));
  bl_press_table_set (press, table, columns, G_N_ELEMENTS (columns), press->left,
                      press->right - press->left);
}

void
bl_page_cautions (BlBook *book)
{
  BlPress *press = book->press;

  bl_press_page (press, BL_W (book, "Cautions and local checks"),
                 BL_W (book, "Cautions and local checks"));
  set_caution (book, "Call before digging",
               "Have every buried line marked by the local utility notification service (811 in the United "
               "States) before any digging, however shallow, and dig by hand within the tolerance zone that "
               "applies where you are.");
  set_caution (book, "Sight lines",
               "Codes limit the height of plants at drives and corners. The limits differ from place to place; "
               "ask the local authority, and judge plants at their mature height.");
  set_caution (book, "Plants that can do harm",
               "A plant without a report here is not thereby harmless. In case of poisoning call the local "
               "poison control centre.");
  set_harmful (book);
  set_caution (book, "Regulated plants",
               "Lists of regulated plants differ by state and change; check the current list before buying or "
               "planting.");
  set_caution (book, "Hydrants, transformers, boxes",
               "Keep the clearances that their owners ask for; the fire department and the utility say which.");
  set_caution (book, "Licensed work",
               "Electrical work, irrigation connections, pesticide use and tree work may be reserved to "
               "licensed people; local law says which.");
  set_findings (book);
  bl_press_subhead (press, BL_W (book, "Sources, and what ± means"));
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, press->right - press->left,
                       BL_W (book, "Plant facts rest on common practice and the basis stated with each record; sizes are mature "
                                   "sizes on ordinary ground. Colours and forms are drawn from the same facts and are a likeness, "
                                   "not a promise. Prices, rates and dates come from the designer's own book."));
}
