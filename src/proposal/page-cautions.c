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

/* Each plant that is reported to do harm, once: to whom, and the record's own caution where it is known
 * in the papers' language. */
static void
set_harmful (BlBook *book)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  BlPress *press = book->press;
  gboolean english = g_strcmp0 (book->language, "es") != 0;

  for (guint i = 0; i < book->parts->len; i++)
    {
      const BlLayout *layout = bl_book_part (book, i)->layout;

      for (guint k = 0; k < layout->placed->len; k++)
        {
          const BlPlant *plant = g_array_index (layout->placed, BlPlaced, k).plant;
          const char *said;
          g_autofree char *name = NULL;
          g_autofree char *harm = NULL;
          g_autofree char *note = NULL;
          g_autofree char *line = NULL;

          if (bl_book_harm_word (book, plant) == NULL || !g_hash_table_add (seen, plant->slug))
            continue;
          name = bl_plant_name_markup (plant);
          harm = bl_book_harm (book, plant);
          said = plant->harm_note != NULL ? bl_say (book->language, plant->harm_note) : NULL;
          note = bl_book_escape (english || said != plant->harm_note ? said : NULL);
          line = g_strdup_printf ("%s — %s%s%s", name, harm, *note != '\0' ? ". " : ".", note);
          bl_press_flow (press, BL_TYPE_STYLE_TIGHT, press->left + 12,
                         press->right - press->left - 12, line);
        }
    }
  press->y += 6;
}

/* Findings of one rule and severity in one alternative are one row. */
static gboolean
is_first_of_group (const GArray *findings, guint index)
{
  const BlFinding *finding = &g_array_index (findings, BlFinding, index);

  for (guint i = 0; i < index; i++)
    {
      const BlFinding *other = &g_array_index (findings, BlFinding, i);

      if (g_strcmp0 (other->rule, finding->rule) == 0 && other->severity == finding->severity)
        return FALSE;
    }
  return TRUE;
}

/* Names of the group's plants, each once; how many there are. */
static guint
plants_of_group (const BlBook *book, const GArray *findings, guint index, GString *names)
{
  const BlFinding *first = &g_array_index (findings, BlFinding, index);
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  guint n = 0;

  for (guint i = index; i < findings->len; i++)
    {
      const BlFinding *finding = &g_array_index (findings, BlFinding, i);
      BlPlant *plant = finding->slug != NULL ? bl_model_plant (book->model, finding->slug) : NULL;
      g_autofree char *name = NULL;

      if (g_strcmp0 (finding->rule, first->rule) != 0 || finding->severity != first->severity)
        continue;
      n++;
      if (plant == NULL || !g_hash_table_add (seen, finding->slug))
        continue;
      name = bl_plant_name_markup (plant);
      g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", name);
    }
  return n;
}

/* "Not hardy here: Agapanthus africanus, ... Winters ..." A single finding is told with its own
 * numbers. */
static char *
group_markup (const BlBook *book, const GArray *findings, guint index)
{
  const BlFinding *finding = &g_array_index (findings, BlFinding, index);
  g_autoptr (GString) names = g_string_new (NULL);
  guint n = plants_of_group (book, findings, index, names);
  g_autofree char *sentence = bl_book_escape (finding->sentence);
  BlRuleWords words;
  g_autofree char *title = NULL;
  g_autofree char *why = NULL;

  if (!bl_book_rule_words (book, finding->rule, &words))
    return names->len > 0 ? g_strdup_printf ("%s: %s", names->str, sentence)
                          : g_steal_pointer (&sentence);
  title = bl_book_escape (words.title);
  why = n == 1 ? g_steal_pointer (&sentence) : bl_book_escape (words.why);
  if (names->len == 0)
    return g_strdup_printf ("<b>%s.</b> %s", title, why);
  return g_strdup_printf ("<b>%s:</b> %s. %s", title, names->str, why);
}

/* The number of a source, each listed once. */
static guint
number_of (GPtrArray *sources, char *source_take)
{
  guint at;

  if (g_ptr_array_find_with_equal_func (sources, source_take, g_str_equal, &at))
    {
      g_free (source_take);
      return at + 1;
    }
  g_ptr_array_add (sources, source_take);
  return sources->len;
}

static void
add_findings (BlBook *book, const BlBookPart *part, BlPressTable *table, GPtrArray *sources)
{
  const GArray *findings = part->fit->findings;
  g_autofree char *name = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);

  /* Findings come worst first. */
  for (guint k = 0; k < findings->len; k++)
    {
      const BlFinding *finding = &g_array_index (findings, BlFinding, k);
      g_autofree char *group = NULL;

      if (k == 0)
        bl_press_table_add (table, BL_ROW_SECTION, bl_book_escape (name), NULL);
      if (!is_first_of_group (findings, k))
        continue;
      group = group_markup (book, findings, k);
      bl_press_table_add (
          table, BL_ROW_PLAIN, bl_book_escape (bl_say (book->language, bl_severity_name (finding->severity))),
          g_strdup (group),
          g_strdup_printf ("%u", number_of (sources, g_strdup (finding->source))),
          NULL);
    }
}

static void
set_findings (BlBook *book, GPtrArray *sources)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  BlPressColumn columns[] = {
    { BL_W (book, "Verdict"), 0.15, BL_ALIGN_LEFT },
    { BL_W (book, "Finding"), 0.75, BL_ALIGN_LEFT },
    { BL_W (book, "Source"), 0.10, BL_ALIGN_RIGHT },
  };

  table->pad = 1.7;
  for (guint i = 0; i < book->parts->len; i++)
    add_findings (book, bl_book_part (book, i), table, sources);
  if (table->rows->len == 0)
    return;
  bl_press_subhead (press, BL_W (book, "What the checks found"));
  bl_press_table_set (press, table, columns, G_N_ELEMENTS (columns), press->left,
                      press->right - press->left);
}

static gboolean
any_harmful (const BlBook *book)
{
  for (guint i = 0; i < book->parts->len; i++)
    {
      const BlLayout *layout = bl_book_part (book, i)->layout;

      for (guint k = 0; k < layout->placed->len; k++)
        if (bl_book_harm_word (book, g_array_index (layout->placed, BlPlaced, k).plant) != NULL)
          return TRUE;
    }
  return FALSE;
}

static void
set_sources (BlBook *book, const GPtrArray *sources)
{
  BlPress *press = book->press;
  double width = press->right - press->left;

  bl_press_subhead (press, BL_W (book, "Sources, and what ± means"));
  bl_press_flow_plain (
      press, BL_TYPE_STYLE_BODY, press->left, width,
      BL_W (book,
            "A figure after ± is half of the interval that holds the true value in 19 cases of 20, "
            "from the errors of clicking, of the stated lengths and of tapes. The range of a price "
            "follows the area's interval alone, not prices or hours."));
  press->y += 4;
  bl_press_flow_plain (
      press, BL_TYPE_STYLE_BODY, press->left, width,
      BL_W (book, "Plant facts rest on common practice and the basis stated with each record; "
                  "sizes are mature "
                  "sizes on ordinary ground. Colours and forms are drawn from the same facts and "
                  "are a likeness, "
                  "not a promise. Prices, rates and dates come from the designer's own book."));
  if (sources->len > 0)
    {
      g_autoptr (GString) line = g_string_new (BL_W (book, "Sources of the findings:"));

      for (guint i = 0; i < sources->len; i++)
        {
          g_autofree char *source = bl_book_escape (sources->pdata[i]);

          g_string_append_printf (line, "  <b>%u</b> %s.", i + 1, source);
        }
      press->y += 4;
      bl_press_flow (press, BL_TYPE_STYLE_SMALL, press->left, width, line->str);
    }
}

void
bl_page_cautions (BlBook *book)
{
  BlPress *press = book->press;
  g_autoptr (GPtrArray) sources = g_ptr_array_new_with_free_func (g_free);

  bl_press_page (press, BL_W (book, "Cautions and local checks"),
                 BL_W (book, "Cautions and local checks"));
  set_caution (
      book, BL_SAID ("Call before digging"),
      BL_SAID ("Have every buried line marked by the local utility notification service (811 in the United "
      "States) before any digging, however shallow, and dig by hand within the tolerance zone that "
      "applies where you are."));
  set_caution (book, BL_SAID ("Sight lines"),
               BL_SAID ("Codes limit the height of plants at drives and corners. The limits differ from "
               "place to place; "
               "ask the local authority, and judge plants at their mature height."));
  set_caution (
      book, BL_SAID ("Plants that can do harm"),
      BL_SAID ("A plant without a report here is not thereby harmless. In case of poisoning call the local "
      "poison control centre."));
  if (any_harmful (book))
    set_harmful (book);
  set_caution (book, BL_SAID ("Regulated plants"),
               BL_SAID ("Lists of regulated plants differ by state and change; check the current list "
               "before buying or "
               "planting."));
  set_caution (book, BL_SAID ("Hydrants, transformers, boxes"),
               BL_SAID ("Keep the clearances that their owners ask for; the fire department and the utility "
               "say which."));
  set_caution (
      book, BL_SAID ("Licensed work"),
      BL_SAID ("Electrical work, irrigation connections, pesticide use and tree work may be reserved to "
      "licensed people; local law says which."));
  set_findings (book, sources);
  set_sources (book, sources);
}
