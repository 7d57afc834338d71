/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The larger fields of a plant's form: colours, fruit, sizes sold. */

#include "config.h"

#include "studio/plant-field.h"

#include "plants/plant.h"
#include "studio/cost-line.h"
#include "studio/form.h"

#include <glib/gi18n.h>
#include <string.h>

/* One colour. A button always shows one; whether it counts is the switch beside it. */

static GtkWidget *
color_button (BlPlantField *field, int at, const char *name)
{
  GtkWidget *button = gtk_color_button_new ();

  gtk_color_button_set_title (GTK_COLOR_BUTTON (button), name);
  gtk_widget_set_tooltip_text (button, name);
  bl_form_call (button, name);
  g_signal_connect_swapped (button, "color-set", G_CALLBACK (bl_plant_field_touched), field);
  field->w[at] = button;
  return button;
}

static void
show_color (BlPlantField *field, int at, const char *text)
{
  BlColor color = { 0.5, 0.5, 0.5, 1 };
  GdkRGBA rgba;

  bl_color_parse (text, &color);
  rgba = (GdkRGBA) { (float) color.r, (float) color.g, (float) color.b, 1 };
  gtk_color_chooser_set_rgba (GTK_COLOR_CHOOSER (field->w[at]), &rgba);
}

static char *
read_color (const BlPlantField *field, int at)
{
  GdkRGBA rgba;

  gtk_color_chooser_get_rgba (GTK_COLOR_CHOOSER (field->w[at]), &rgba);
  return bl_color_format ((BlColor) { rgba.red, rgba.green, rgba.blue, 1 });
}

static void
switched_cb (GtkCheckButton *check, BlPlantField *field)
{
  gtk_widget_set_sensitive (field->w[0], gtk_check_button_get_active (check));
  bl_plant_field_touched (field);
}

static GtkWidget *
build_color (BlPlantField *field)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  field->w[1] = gtk_check_button_new ();
  bl_form_call (field->w[1], _(field->info->label));
  g_signal_connect (field->w[1], "toggled", G_CALLBACK (switched_cb), field);
  gtk_box_append (GTK_BOX (row), field->w[1]);
  gtk_box_append (GTK_BOX (row), color_button (field, 0, _(field->info->label)));
  return row;
}

static void
set_color (BlPlantField *field, const char *value)
{
  show_color (field, 0, value);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (field->w[1]), value[0] != '\0');
  gtk_widget_set_sensitive (field->w[0], value[0] != '\0');
}

static char *
compose_color (BlPlantField *field)
{
  return gtk_check_button_get_active (GTK_CHECK_BUTTON (field->w[1])) ? read_color (field, 0)
                                                                     : g_strdup ("");
}

const BlFieldClass bl_field_color = { build_color, set_color, compose_color };

/* The four seasons of a leaf. */

static GtkWidget *
build_seasons (BlPlantField *field)
{
  const char *const names[] = { _("Spring"), _("Summer"), _("Autumn"), _("Winter") };
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  for (int i = 0; i < 4; i++)
    gtk_box_append (GTK_BOX (row), bl_form_field (names[i], color_button (field, i, names[i])));
  return row;
}

static void
set_seasons (BlPlantField *field, const char *value)
{
  g_auto (GStrv) words = bl_field_words (value, 4);
  static const char *const usual[] = { "#7fa650", "#4f7d3a", "#8a8a4a", "#7a6a4a" };

  for (int i = 0; i < 4; i++)
    show_color (field, i, words[i][0] != '\0' ? words[i] : usual[i]);
}

static char *
compose_seasons (BlPlantField *field)
{
  g_autofree char *a = read_color (field, 0), *b = read_color (field, 1), *c = read_color (field, 2),
                  *d = read_color (field, 3);

  return g_strdup_printf ("%s %s %s %s", a, b, c, d);
}

const BlFieldClass bl_field_seasons = { build_seasons, set_seasons, compose_seasons };

/* One to four colours of a flower; w[4] adds one, w[5] takes the last away. */

static guint
colors_shown (const BlPlantField *field)
{
  guint n = 0;

  while (n < BL_MAX_COLORS && gtk_widget_get_visible (field->w[n]))
    n++;
  return n;
}

static void
show_colors (BlPlantField *field, guint n)
{
  for (guint i = 0; i < BL_MAX_COLORS; i++)
    gtk_widget_set_visible (field->w[i], i < n);
  gtk_widget_set_sensitive (field->w[4], n < BL_MAX_COLORS);
  gtk_widget_set_sensitive (field->w[5], n > 0);
}

static void
more_colors_cb (BlPlantField *field)
{
  show_colors (field, MIN (colors_shown (field) + 1, BL_MAX_COLORS));
  bl_plant_field_touched (field);
}

static void
fewer_colors_cb (BlPlantField *field)
{
  guint n = colors_shown (field);

  show_colors (field, n > 0 ? n - 1 : 0);
  bl_plant_field_touched (field);
}

static GtkWidget *
build_colors (BlPlantField *field)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  for (int i = 0; i < BL_MAX_COLORS; i++)
    gtk_box_append (GTK_BOX (row), color_button (field, i, i == 0 ? _("Petals") : _("Another colour")));
  field->w[4] = bl_form_icon_button ("bl-add-symbolic", _("One colour more"), NULL);
  field->w[5] = bl_form_icon_button ("bl-remove-symbolic", _("One colour fewer"), NULL);
  g_signal_connect_swapped (field->w[4], "clicked", G_CALLBACK (more_colors_cb), field);
  g_signal_connect_swapped (field->w[5], "clicked", G_CALLBACK (fewer_colors_cb), field);
  gtk_box_append (GTK_BOX (row), field->w[4]);
  gtk_box_append (GTK_BOX (row), field->w[5]);
  return row;
}

static void
set_colors (BlPlantField *field, const char *value)
{
  g_auto (GStrv) words = bl_field_words (value, BL_MAX_COLORS);
  guint n = 0;

  for (int i = 0; i < BL_MAX_COLORS; i++)
    {
      show_color (field, i, words[i][0] != '\0' ? words[i] : "#d8b8c8");
      n += words[i][0] != '\0';
    }
  show_colors (field, n);
}

static char *
compose_colors (BlPlantField *field)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < colors_shown (field); i++)
    {
      g_autofree char *color = read_color (field, (int) i);

      g_string_append_printf (text, "%s%s", i > 0 ? " " : "", color);
    }
  return g_string_free (text, FALSE);
}

const BlFieldClass bl_field_colors = { build_colors, set_colors, compose_colors };

/* Fruit: w[0] the colour, w[1] the months' beginning, w[2] their end. */

static GtkWidget *
build_fruit (BlPlantField *field)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  gtk_box_append (GTK_BOX (row), color_button (field, 0, _("Fruit")));
  gtk_box_append (GTK_BOX (row), bl_field_months (field, 1, _("Fruit, from"), TRUE));
  gtk_box_append (GTK_BOX (row), bl_field_months (field, 2, _("Fruit, to"), TRUE));
  return row;
}

static void
set_fruit (BlPlantField *field, const char *value)
{
  g_auto (GStrv) words = bl_field_words (value, 3);

  show_color (field, 0, words[0][0] != '\0' ? words[0] : "#a02020");
  for (int i = 1; i < 3; i++)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (field->w[i]),
                                (guint) CLAMP (g_ascii_strtoll (words[i], NULL, 10), 0, 12));
}

static char *
compose_fruit (BlPlantField *field)
{
  guint from = gtk_drop_down_get_selected (GTK_DROP_DOWN (field->w[1]));
  guint to = gtk_drop_down_get_selected (GTK_DROP_DOWN (field->w[2]));
  g_autofree char *color = read_color (field, 0);

  return from == 0 && to == 0 ? g_strdup ("") : g_strdup_printf ("%s %u %u", color, from, to);
}

const BlFieldClass bl_field_fruit = { build_fruit, set_fruit, compose_fruit };

/* Sizes sold: rows of four entries, one more row than is filled. */

#define CELLS 4

static GtkWidget *
cell (const BlPlantField *field, guint row, guint column)
{
  return field->w[row * CELLS + column];
}

static const char *
cell_text (const BlPlantField *field, guint row, guint column)
{
  return gtk_editable_get_text (GTK_EDITABLE (cell (field, row, column)));
}

static void
show_rows (BlPlantField *field)
{
  guint filled = 0;

  for (guint i = 0; i < BL_MAX_SIZES; i++)
    if (cell_text (field, i, 0)[0] != '\0')
      filled = i + 1;
  for (guint i = 0; i < BL_MAX_SIZES; i++)
    for (guint k = 0; k < CELLS; k++)
      gtk_widget_set_visible (cell (field, i, k), i <= filled);
}

static GtkWidget *
build_containers (BlPlantField *field)
{
  const char *const heads[CELLS] = { _("Size"), _("High"), _("Wide"), _("Price") };
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  for (int k = 0; k < CELLS; k++)
    gtk_grid_attach (GTK_GRID (grid), bl_form_text (heads[k], "field-label"), k, 0, 1, 1);
  for (int i = 0; i < BL_MAX_SIZES; i++)
    for (int k = 0; k < CELLS; k++)
      {
        g_autofree char *spoken = g_strdup_printf ("%s, %d", heads[k], i + 1);
        GtkWidget *entry = bl_field_entry (field, i * CELLS + k, 7, spoken);

        if (k == 0)
          g_signal_connect_swapped (entry, "changed", G_CALLBACK (show_rows), field);
        gtk_grid_attach (GTK_GRID (grid), entry, k, i + 1, 1, 1);
      }
  return grid;
}

static void
set_row (BlPlantField *field, guint row, const char *part)
{
  g_auto (GStrv) cells = g_strsplit (part, ":", CELLS);
  gboolean whole = g_strv_length (cells) == CELLS;
  g_autofree char *price
      = whole ? bl_money_plain (g_ascii_strtoll (cells[3], NULL, 10), field->currency) : g_strdup ("");

  gtk_editable_set_text (GTK_EDITABLE (cell (field, row, 0)),
                         cells[0] != NULL ? g_strstrip (cells[0]) : "");
  for (guint k = 1; k < 3; k++)
    bl_field_put_length (field, (int) (row * CELLS + k), whole ? g_strstrip (cells[k]) : "");
  gtk_editable_set_text (GTK_EDITABLE (cell (field, row, 3)), price);
}

static void
set_containers (BlPlantField *field, const char *value)
{
  g_auto (GStrv) parts = g_strsplit (value, ";", -1);
  guint n = g_strv_length (parts);

  for (guint i = 0; i < BL_MAX_SIZES; i++)
    set_row (field, i, i < n ? parts[i] : "");
  show_rows (field);
}

/* What is no price stays as it is, for the check to name. */
static char *
price_read (const BlPlantField *field, const char *text)
{
  gint64 minor;

  if (bl_money_parse (text, field->currency, &minor, NULL))
    return g_strdup_printf ("%" G_GINT64_FORMAT, minor);
  return g_strdelimit (g_strdup (text), ":; ", '_');
}

static char *
compose_containers (BlPlantField *field)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < BL_MAX_SIZES; i++)
    {
      g_autofree char *name = g_strstrip (g_strdup (cell_text (field, i, 0)));
      g_autofree char *high = bl_field_read_length (field, (int) (i * CELLS + 1));
      g_autofree char *wide = bl_field_read_length (field, (int) (i * CELLS + 2));
      g_autofree char *price = price_read (field, cell_text (field, i, 3));

      if (name[0] == '\0')
        continue;
      g_strdelimit (name, ":;", ' ');
      /* An empty cell keeps its place. */
      g_string_append_printf (text, "%s%s:%s:%s:%s", text->len > 0 ? "; " : "", name,
                              high[0] != '\0' ? high : "?", wide[0] != '\0' ? wide : "?",
                              price[0] != '\0' ? price : "?");
    }
  return g_string_free (text, FALSE);
}

const BlFieldClass bl_field_containers = { build_containers, set_containers, compose_containers };
