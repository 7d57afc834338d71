/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fields of a plant's form: words, sets, lengths, months. What the person leaves alone goes back into
 * the record as it was. */

#include "config.h"

#include "studio/plant-field.h"

#include "studio/form.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* Helpers. */

void
bl_plant_field_touched (BlPlantField *field)
{
  if (field->setting)
    return;
  field->touched = TRUE;
  field->changed (field, field->data);
}

GtkWidget *
bl_field_entry (BlPlantField *field, int at, int width, const char *name)
{
  GtkWidget *entry = bl_form_entry (NULL);

  if (width > 0)
    gtk_editable_set_width_chars (GTK_EDITABLE (entry), width);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), MAX (width, 8));
  gtk_widget_set_hexpand (entry, TRUE);
  if (name != NULL)
    bl_form_call (entry, name);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (bl_plant_field_touched), field);
  field->w[at] = entry;
  return entry;
}

GStrv
bl_field_words (const char *value, guint n)
{
  g_auto (GStrv) rough = g_strsplit (value, " ", -1);
  GStrvBuilder *builder = g_strv_builder_new ();
  guint have = 0;
  GStrv words;

  for (guint i = 0; rough[i] != NULL; i++)
    if (rough[i][0] != '\0')
      {
        g_strv_builder_add (builder, rough[i]);
        have++;
      }
  for (; have < n; have++)
    g_strv_builder_add (builder, "");
  words = g_strv_builder_end (builder);
  g_strv_builder_unref (builder);
  return words;
}

void
bl_field_put_length (BlPlantField *field, int at, const char *cm)
{
  g_autofree char *shown = bl_field_length_shown (field, cm);

  gtk_editable_set_text (GTK_EDITABLE (field->w[at]), shown);
  g_object_set_data_full (G_OBJECT (field->w[at]), "cm", g_strdup (cm), g_free);
  g_object_set_data_full (G_OBJECT (field->w[at]), "shown", g_steal_pointer (&shown), g_free);
}

/* A length that was not touched is not rounded by having been shown. */
char *
bl_field_read_length (BlPlantField *field, int at)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (field->w[at]));

  if (g_strcmp0 (text, g_object_get_data (G_OBJECT (field->w[at]), "shown")) == 0)
    return g_strdup (g_object_get_data (G_OBJECT (field->w[at]), "cm"));
  return bl_field_length_read (field, text);
}

char *
bl_field_length_shown (const BlPlantField *field, const char *cm)
{
  char *end = NULL;
  double value = g_ascii_strtod (cm, &end);

  if (end == cm || *end != '\0')
    return g_strdup (cm);
  if (field->units == BL_UNITS_METRES)
    return value < 100 ? g_strdup_printf (_("%.3g cm"), value) : g_strdup_printf (_("%.4g m"), value / 100);
  value /= 100;
  return value < 5 * BL_METRES_PER_FOOT
             ? g_strdup_printf (_("%.3g in"), round (2 * value / BL_METRES_PER_INCH) / 2 > 6
                                                  ? round (2 * value / BL_METRES_PER_INCH) / 2
                                                  : value / BL_METRES_PER_INCH)
             : g_strdup_printf (_("%.3g ft"), round (2 * value / BL_METRES_PER_FOOT) / 2);
}

char *
bl_field_length_read (const BlPlantField *field, const char *text)
{
  double metres;
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *bare = g_strstrip (g_strdup (text));

  if (bare[0] == '\0' || !bl_length_parse (bare, field->units, &metres, NULL))
    return g_strdelimit (g_strdup (bare), " ", '_'); /* one word: the check names it */
  return g_strdup (g_ascii_formatd (buffer, sizeof buffer, "%.4g", metres * 100));
}

static GtkWidget *
row_of (BlPlantField *field, int n)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  for (int i = 0; i < n; i++)
    gtk_box_append (GTK_BOX (row), field->w[i]);
  return row;
}

static const char *
text_at (const BlPlantField *field, int at)
{
  return gtk_editable_get_text (GTK_EDITABLE (field->w[at]));
}

static void
put_text (BlPlantField *field, int at, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (field->w[at]), text);
}

/* Text. */

static GtkWidget *
build_text (BlPlantField *field)
{
  GtkWidget *entry = bl_field_entry (field, 0, 12, NULL);

  if (field->info->hint != NULL)
    gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _(field->info->hint));
  return entry;
}

static void
set_text (BlPlantField *field, const char *value)
{
  put_text (field, 0, value);
}

static char *
compose_text (BlPlantField *field)
{
  return g_strstrip (g_strdelimit (g_strdup (text_at (field, 0)), "\r\n", ' '));
}

/* One of several words. */

static GtkWidget *
choice_of (BlPlantField *field, int at, const BlFieldWord *words, const char *name)
{
  g_autoptr (GPtrArray) titles = g_ptr_array_new ();
  GtkWidget *choice;

  for (guint i = 0; words[i].word != NULL; i++)
    g_ptr_array_add (titles, (gpointer) _(words[i].title));
  g_ptr_array_add (titles, NULL);
  choice = bl_form_choice ((const char *const *) titles->pdata);
  if (name != NULL)
    bl_form_call (choice, name);
  gtk_widget_set_hexpand (choice, TRUE);
  g_signal_connect_swapped (choice, "notify::selected", G_CALLBACK (bl_plant_field_touched), field);
  field->w[at] = choice;
  return choice;
}

static void
choose (BlPlantField *field, int at, const char *word)
{
  const BlFieldWord *words = field->info->words;

  for (guint i = 0; words[i].word != NULL; i++)
    if (g_str_equal (words[i].word, word))
      {
        gtk_drop_down_set_selected (GTK_DROP_DOWN (field->w[at]), i);
        return;
      }
  gtk_drop_down_set_selected (GTK_DROP_DOWN (field->w[at]), 0);
}

static const char *
chosen (const BlPlantField *field, int at)
{
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (field->w[at]));

  return i != GTK_INVALID_LIST_POSITION ? field->info->words[i].word : "";
}

static GtkWidget *
build_word (BlPlantField *field)
{
  return choice_of (field, 0, field->info->words, NULL);
}

static void
set_word (BlPlantField *field, const char *value)
{
  choose (field, 0, value);
}

static char *
compose_word (BlPlantField *field)
{
  return g_strdup (chosen (field, 0));
}

/* Some of several. */

static GtkWidget *
build_set (BlPlantField *field)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 14);

  for (int i = 0; field->info->words[i].word != NULL; i++)
    {
      field->w[i] = gtk_check_button_new_with_label (_(field->info->words[i].title));
      g_signal_connect_swapped (field->w[i], "toggled", G_CALLBACK (bl_plant_field_touched), field);
      gtk_box_append (GTK_BOX (row), field->w[i]);
    }
  return row;
}

static void
set_set (BlPlantField *field, const char *value)
{
  g_auto (GStrv) words = bl_field_words (value, 0);

  for (int i = 0; field->info->words[i].word != NULL; i++)
    gtk_check_button_set_active (GTK_CHECK_BUTTON (field->w[i]),
                                 g_strv_contains ((const char *const *) words,
                                                  field->info->words[i].word));
}

static char *
compose_set (BlPlantField *field)
{
  GString *text = g_string_new (NULL);

  for (int i = 0; field->info->words[i].word != NULL; i++)
    if (gtk_check_button_get_active (GTK_CHECK_BUTTON (field->w[i])))
      g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", field->info->words[i].word);
  return g_string_free (text, FALSE);
}

static GtkWidget *
build_flag (BlPlantField *field)
{
  field->w[0] = gtk_check_button_new_with_label (_(field->info->label));
  g_signal_connect_swapped (field->w[0], "toggled", G_CALLBACK (bl_plant_field_touched), field);
  return field->w[0];
}

static void
set_flag (BlPlantField *field, const char *value)
{
  gtk_check_button_set_active (GTK_CHECK_BUTTON (field->w[0]), g_str_equal (value, "yes"));
}

static char *
compose_flag (BlPlantField *field)
{
  return g_strdup (gtk_check_button_get_active (GTK_CHECK_BUTTON (field->w[0])) ? "yes" : "no");
}

/* Lengths and numbers, one to three. */

static GtkWidget *
build_length (BlPlantField *field)
{
  GtkWidget *entry = bl_field_entry (field, 0, 7, NULL);

  if (field->info->hint != NULL)
    gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _(field->info->hint));
  return entry;
}

static void
set_length (BlPlantField *field, const char *value)
{
  bl_field_put_length (field, 0, value);
}

static char *
compose_length (BlPlantField *field)
{
  return bl_field_read_length (field, 0);
}

static GtkWidget *
build_range (BlPlantField *field)
{
  const char *const names[] = { _("lowest"), _("highest"), _("usual") };

  for (int i = 0; i < 3; i++)
    {
      g_autofree char *spoken = g_strdup_printf ("%s, %s", _(field->info->label), names[i]);

      gtk_entry_set_placeholder_text (GTK_ENTRY (bl_field_entry (field, i, 5, spoken)), names[i]);
    }
  return row_of (field, 3);
}

static void
set_range (BlPlantField *field, const char *value)
{
  g_auto (GStrv) words = bl_field_words (value, 3);

  for (int i = 0; i < 3; i++)
    bl_field_put_length (field, i, words[i]);
}

static char *
compose_range (BlPlantField *field)
{
  g_autofree char *low = bl_field_read_length (field, 0);
  g_autofree char *high = bl_field_read_length (field, 1);
  g_autofree char *usual = bl_field_read_length (field, 2);

  return g_strstrip (g_strdup_printf ("%s %s %s", low, high, usual));
}

static GtkWidget *
build_pair (BlPlantField *field)
{
  const char *const names[] = { _("from"), _("to") };

  for (int i = 0; i < 2; i++)
    {
      g_autofree char *spoken = g_strdup_printf ("%s, %s", _(field->info->label), names[i]);

      gtk_entry_set_placeholder_text (GTK_ENTRY (bl_field_entry (field, i, 4, spoken)),
                                      field->info->hint != NULL ? _(field->info->hint) : names[i]);
    }
  return row_of (field, 2);
}

static void
set_pair (BlPlantField *field, const char *value)
{
  g_auto (GStrv) words = bl_field_words (g_strcmp0 (value, field->info->empty) == 0 ? "" : value, 2);

  put_text (field, 0, words[0]);
  put_text (field, 1, words[1]);
}

static char *
compose_pair (BlPlantField *field)
{
  g_autofree char *text = g_strdup_printf ("%s %s", text_at (field, 0), text_at (field, 1));

  return g_strdup (g_strstrip (text));
}

/* A shape and its length. */

static GtkWidget *
build_shape (BlPlantField *field)
{
  g_autofree char *spoken = g_strdup_printf (_("%s, length"), _(field->info->label));

  choice_of (field, 0, field->info->words, _(field->info->label));
  bl_field_entry (field, 1, 6, spoken);
  gtk_widget_set_hexpand (field->w[1], FALSE);
  return row_of (field, 2);
}

static void
set_shape (BlPlantField *field, const char *value)
{
  g_auto (GStrv) words = bl_field_words (value, 2);

  choose (field, 0, words[0]);
  bl_field_put_length (field, 1, words[1]);
}

static char *
compose_shape (BlPlantField *field)
{
  const char *word = chosen (field, 0);
  g_autofree char *length = bl_field_read_length (field, 1);

  return g_str_equal (word, "none") ? g_strdup (word) : g_strdup_printf ("%s %s", word, length);
}

/* Months. */

GtkWidget *
bl_field_months (BlPlantField *field, int at, const char *name, gboolean none)
{
  const char *const *titles = bl_field_month_titles ();
  const char *words[14] = { NULL };
  guint n = 0;
  GtkWidget *choice;

  for (guint i = none ? 0 : 1; i <= 12; i++)
    words[n++] = i == 0 ? titles[0] : _(titles[i]);
  choice = bl_form_choice (words);
  bl_form_call (choice, name);
  g_signal_connect_swapped (choice, "notify::selected", G_CALLBACK (bl_plant_field_touched), field);
  field->w[at] = choice;
  return choice;
}

static GtkWidget *
build_month (BlPlantField *field)
{
  return bl_field_months (field, 0, _(field->info->label), FALSE);
}

static void
set_month (BlPlantField *field, const char *value)
{
  gint64 month = g_ascii_strtoll (value, NULL, 10);

  gtk_drop_down_set_selected (GTK_DROP_DOWN (field->w[0]), (guint) CLAMP (month - 1, 0, 11));
}

static char *
compose_month (BlPlantField *field)
{
  return g_strdup_printf ("%u", gtk_drop_down_get_selected (GTK_DROP_DOWN (field->w[0])) + 1);
}

static GtkWidget *
build_months (BlPlantField *field)
{
  g_autofree char *from = g_strdup_printf ("%s, %s", _(field->info->label), _("from"));
  g_autofree char *to = g_strdup_printf ("%s, %s", _(field->info->label), _("to"));

  bl_field_months (field, 0, from, TRUE);
  bl_field_months (field, 1, to, TRUE);
  return row_of (field, 2);
}

static void
set_months (BlPlantField *field, const char *value)
{
  g_auto (GStrv) words = bl_field_words (value, 2);

  for (int i = 0; i < 2; i++)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (field->w[i]),
                                (guint) CLAMP (g_ascii_strtoll (words[i], NULL, 10), 0, 12));
}

static char *
compose_months (BlPlantField *field)
{
  return g_strdup_printf ("%u %u", gtk_drop_down_get_selected (GTK_DROP_DOWN (field->w[0])),
                          gtk_drop_down_get_selected (GTK_DROP_DOWN (field->w[1])));
}

/* Harm to four kinds. */

static GtkWidget *
build_harm (BlPlantField *field)
{
  const char *const whom[] = { _("People"), _("Dogs"), _("Cats"), _("Livestock") };
  GtkWidget *grid = bl_form_grid (2);

  for (int i = 0; i < 4; i++)
    bl_form_grid_add (grid, bl_form_field (whom[i], choice_of (field, i, field->info->words, NULL)));
  return grid;
}

static void
set_harm (BlPlantField *field, const char *value)
{
  g_auto (GStrv) words = bl_field_words (value, 4);

  for (int i = 0; i < 4; i++)
    choose (field, i, words[i]);
}

static char *
compose_harm (BlPlantField *field)
{
  return g_strdup_printf ("%s %s %s %s", chosen (field, 0), chosen (field, 1), chosen (field, 2),
                          chosen (field, 3));
}

static const BlFieldClass classes[BL_FIELD_N] = {
  [BL_FIELD_TEXT] = { build_text, set_text, compose_text },
  [BL_FIELD_WORD] = { build_word, set_word, compose_word },
  [BL_FIELD_SET] = { build_set, set_set, compose_set },
  [BL_FIELD_FLAG] = { build_flag, set_flag, compose_flag },
  [BL_FIELD_LENGTH] = { build_length, set_length, compose_length },
  [BL_FIELD_RANGE] = { build_range, set_range, compose_range },
  [BL_FIELD_NUMBER] = { build_length, set_text, compose_text },
  [BL_FIELD_PAIR] = { build_pair, set_pair, compose_pair },
  [BL_FIELD_SHAPE] = { build_shape, set_shape, compose_shape },
  [BL_FIELD_MONTH] = { build_month, set_month, compose_month },
  [BL_FIELD_MONTHS] = { build_months, set_months, compose_months },
  [BL_FIELD_ZONES] = { build_pair, set_pair, compose_pair },
  [BL_FIELD_HARM] = { build_harm, set_harm, compose_harm },
};

static const BlFieldClass *
class_of (const BlPlantField *field)
{
  switch (field->info->kind)
    {
    case BL_FIELD_COLOR: return &bl_field_color;
    case BL_FIELD_COLORS: return &bl_field_colors;
    case BL_FIELD_SEASONS: return &bl_field_seasons;
    case BL_FIELD_FRUIT: return &bl_field_fruit;
    case BL_FIELD_CONTAINERS: return &bl_field_containers;
    case BL_FIELD_TEXT: case BL_FIELD_WORD: case BL_FIELD_SET: case BL_FIELD_FLAG:
    case BL_FIELD_LENGTH: case BL_FIELD_RANGE: case BL_FIELD_NUMBER: case BL_FIELD_PAIR:
    case BL_FIELD_SHAPE: case BL_FIELD_MONTH: case BL_FIELD_MONTHS: case BL_FIELD_ZONES:
    case BL_FIELD_HARM: case BL_FIELD_N:
    default: return &classes[field->info->kind];
    }
}

BlPlantField *
bl_plant_field_new (const BlFieldInfo *info, BlUnits units, const char *currency,
                    BlFieldChanged changed, gpointer data)
{
  BlPlantField *field = g_new0 (BlPlantField, 1);
  GtkWidget *inside;

  field->info = info;
  field->units = units;
  field->currency = g_strdup (currency);
  field->changed = changed;
  field->data = data;
  field->setting = TRUE;
  inside = class_of (field)->build (field);
  field->box = info->kind == BL_FIELD_FLAG ? gtk_box_new (GTK_ORIENTATION_VERTICAL, 2)
                                           : bl_form_field (_(info->label), inside);
  if (info->kind == BL_FIELD_FLAG)
    gtk_box_append (GTK_BOX (field->box), inside);
  field->note = bl_form_text ("", "wrong");
  gtk_label_set_max_width_chars (GTK_LABEL (field->note), 34);
  gtk_widget_add_css_class (field->note, "fit");
  gtk_widget_set_visible (field->note, FALSE);
  gtk_box_append (GTK_BOX (field->box), field->note);
  field->setting = FALSE;
  return field;
}

void
bl_plant_field_free (BlPlantField *field)
{
  g_free (field->given);
  g_free (field->shown);
  g_free (field->currency);
  g_free (field);
}

void
bl_plant_field_set (BlPlantField *field, const char *value)
{
  field->setting = TRUE;
  class_of (field)->set (field, value != NULL ? value : "");
  g_free (field->given);
  g_free (field->shown);
  field->given = g_strdup (value != NULL ? value : "");
  field->shown = class_of (field)->compose (field);
  field->touched = FALSE;
  field->setting = FALSE;
}

char *
bl_plant_field_get (BlPlantField *field)
{
  g_autofree char *text = class_of (field)->compose (field);

  if (g_strcmp0 (text, field->shown) == 0 && field->given[0] != '\0')
    return g_strdup (field->given);
  if (text[0] == '\0')
    return g_strdup (field->info->empty);
  return g_steal_pointer (&text);
}

void
bl_plant_field_tell (BlPlantField *field, const char *sentence)
{
  gtk_label_set_text (GTK_LABEL (field->note), sentence != NULL ? sentence : "");
  gtk_widget_set_visible (field->note, sentence != NULL);
  for (guint i = 0; i < BL_FIELD_WIDGETS; i++)
    if (GTK_IS_ENTRY (field->w[i]))
      bl_form_set_wrong (field->w[i], sentence != NULL);
}
