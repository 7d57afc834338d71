/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The items of the price book: a list to search, and the figures of the one that is chosen. */

#include "config.h"

#include "studio/cost-line.h"
#include "base/say.h"
#include "studio/form.h"
#include "studio/price-book.h"
#include "studio/sheets.h"
#include "takeoff/shown.h"

#include <glib/gi18n.h>
#include <string.h>

#define BL_TYPE_PRICE_ITEMS (bl_price_items_get_type ())
G_DECLARE_FINAL_TYPE (BlPriceItems, bl_price_items, BL, PRICE_ITEMS, BlPart)

struct _BlPriceItems
{
  BlPart parent_instance;

  GtkWidget *search, *list, *card, *nothing;
  GtkWidget *title, *name, *price, *amount, *supplier;
  char *key; /* of the item that is chosen */
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (BlPriceItems, bl_price_items, BL_TYPE_PART)

static const BlModel *
model_of (BlPriceItems *self)
{
  return bl_board_get_model (bl_part_get_board (BL_PART (self)));
}

static const BlPriceItem *
chosen (BlPriceItems *self)
{
  return self->key != NULL ? bl_price_book_find (model_of (self)->prices, self->key) : NULL;
}

static const char *
kind_words (BlPriceKind kind)
{
  static const char *const words[]
      = { [BL_PRICE_PLANT] = N_("Plant"),         [BL_PRICE_MATERIAL] = N_("Material"),
          [BL_PRICE_LABOUR] = N_("Work"),         [BL_PRICE_EQUIPMENT] = N_("Equipment"),
          [BL_PRICE_DELIVERY] = N_("Delivery"),   [BL_PRICE_DISPOSAL] = N_("Disposal") };

  return _(words[kind]);
}

/* What the item's amount is: its label, and how many of the shown unit one stored is; 0 where the
 * amount says nothing. */
static double
amount_factor (const BlPriceItem *item, BlUnits units, char **label)
{
  gboolean feet = units == BL_UNITS_FEET;
  double si;
  const char *unit = bl_say (bl_say_window (), bl_unit_shown (item->unit, units, &si));

  *label = NULL;
  if (item->kind == BL_PRICE_LABOUR)
    {
      *label = g_strdup_printf (_("Minutes a %s"), unit);
      return si;
    }
  if (g_strcmp0 (item->unit, "bag") == 0)
    {
      *label = g_strdup (feet ? _("A bag holds, cu ft") : _("A bag holds, l"));
      return feet ? 1 / BL_M3_PER_CUBIC_FOOT : 1000;
    }
  if (g_strcmp0 (item->unit, "m3") == 0 || g_strcmp0 (item->key, "delivery-load") == 0)
    {
      const char *volume = bl_say (bl_say_window (), bl_unit_shown ("m3", units, &si));

      *label = g_strdup_printf (g_strcmp0 (item->unit, "m3") == 0 ? _("Sold by steps of, %s")
                                                                 : _("A load carries, %s"), volume);
      return 1 / si;
    }
  if (g_strcmp0 (item->unit, "m") == 0 || g_strcmp0 (item->unit, "m2") == 0)
    {
      *label = g_strdup_printf (_("A piece is, %s"), unit);
      return 1 / si;
    }
  if (g_strcmp0 (item->unit, "kg") == 0)
    {
      *label = g_strdup (_("A bag weighs, kg"));
      return 1;
    }
  return 0;
}

static char *
price_text (const BlPriceItem *item, const BlModel *model)
{
  double si;
  const char *unit = bl_say (bl_say_window (), bl_unit_shown (item->unit, model->units, &si));
  g_autofree char *money = bl_money_format (bl_money_scale (item->price, si), model->currency);

  if (item->kind == BL_PRICE_LABOUR)
    return g_strdup_printf (_("%.3g min a %s"), item->amount * si, unit);
  return g_strdup_printf (_("%s a %s"), money, unit);
}

/* The list. */

static gboolean
is_wanted (GtkListBoxRow *row, gpointer data)
{
  BlPriceItems *self = data;
  g_autofree char *text = g_utf8_casefold (bl_form_get_text (self->search), -1);
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  const char *in = g_object_get_data (G_OBJECT (row), "words");

  for (guint i = 0; words[i] != NULL; i++)
    if (strstr (in, words[i]) == NULL)
      return FALSE;
  return TRUE;
}

static GtkWidget *
item_row (const BlPriceItem *item, const BlModel *model)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *left = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *price = price_text (item, model);
  g_autofree char *under = g_strdup_printf (
      "%s%s%s%s", kind_words (item->kind),
      item->supplier != NULL && item->supplier[0] != '\0' ? " · " : "",
      item->supplier != NULL ? item->supplier : "", item->invented ? _(" · invented figure") : "");
  const char *name = bl_say (bl_say_window (), item->name);
  g_autofree char *all = g_strdup_printf ("%s %s %s", name, under, item->key);
  g_autofree char *spoken = g_strdup_printf ("%s: %s", name, price);
  GtkWidget *what = bl_form_text (name, NULL), *much = gtk_label_new (price);

  gtk_label_set_max_width_chars (GTK_LABEL (what), 40);
  gtk_widget_set_hexpand (left, TRUE);
  gtk_widget_add_css_class (much, "figure");
  gtk_widget_set_valign (much, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (left), what);
  gtk_box_append (GTK_BOX (left), bl_form_text (under, "facts"));
  gtk_box_append (GTK_BOX (box), left);
  gtk_box_append (GTK_BOX (box), much);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  bl_form_call (row, spoken);
  g_object_set_data_full (G_OBJECT (row), "key", g_strdup (item->key), g_free);
  g_object_set_data_full (G_OBJECT (row), "words", g_utf8_casefold (all, -1), g_free);
  return row;
}

static void
fill_list (BlPriceItems *self)
{
  const BlModel *model = model_of (self);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->list)) != NULL && GTK_IS_LIST_BOX_ROW (child))
    gtk_list_box_remove (GTK_LIST_BOX (self->list), child);
  for (guint i = 0; i < model->prices->items->len; i++)
    {
      const BlPriceItem *item = g_ptr_array_index (model->prices->items, i);
      GtkWidget *row = item_row (item, model);

      gtk_list_box_append (GTK_LIST_BOX (self->list), row);
      if (g_strcmp0 (item->key, self->key) == 0)
        gtk_list_box_select_row (GTK_LIST_BOX (self->list), GTK_LIST_BOX_ROW (row));
    }
}

/* The card. */

static void
set_field (GtkWidget *entry, const char *label, const char *text)
{
  gtk_label_set_text (GTK_LABEL (gtk_widget_get_prev_sibling (entry)), label);
  bl_form_call (entry, label);
  bl_form_set_text (entry, text);
}

static void
show_card (BlPriceItems *self)
{
  const BlPriceItem *item = chosen (self);
  const BlModel *model = model_of (self);
  g_autofree char *price_label = NULL, *price = NULL, *amount_label = NULL, *amount = NULL;
  const char *unit;
  double si, factor;

  gtk_widget_set_visible (self->card, item != NULL);
  gtk_widget_set_visible (self->nothing, item == NULL);
  if (item == NULL)
    return;
  unit = bl_say (bl_say_window (), bl_unit_shown (item->unit, model->units, &si));
  factor = amount_factor (item, model->units, &amount_label);
  price_label = g_strdup_printf (_("Price, %s a %s"), model->currency, unit);
  price = bl_money_plain (bl_money_scale (item->price, si), model->currency);
  amount = g_strdup_printf ("%.6g", item->amount * factor);
  gtk_label_set_text (GTK_LABEL (self->title), item->invented
                                                   ? _("An invented figure until you put your own")
                                                   : _("Your own figure"));
  set_field (self->name, _("What it is"), bl_say (bl_say_window (), item->name));
  set_field (self->price, price_label, price);
  set_field (self->supplier, _("Supplier"), item->supplier);
  if (factor != 0)
    set_field (self->amount, amount_label, amount);
  gtk_widget_set_visible (gtk_widget_get_parent (self->price), item->kind != BL_PRICE_LABOUR);
  gtk_widget_set_visible (gtk_widget_get_parent (self->supplier), item->kind != BL_PRICE_LABOUR);
  gtk_widget_set_visible (gtk_widget_get_parent (self->amount), factor != 0);
}

static gboolean
put_item (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_price_item (design, data, error);
}

static gboolean
put (BlPriceItems *self, BlPriceItem *item)
{
  g_autofree char *label = g_strdup_printf (_("Change a price: %s"),
                                            bl_say (bl_say_window (), item->name));
  gboolean done;

  item->invented = FALSE;
  done = bl_board_edit (bl_part_get_board (BL_PART (self)), label, put_item, item);
  bl_price_item_free (item);
  return done;
}

static void
given_cb (GtkWidget *entry, gpointer data)
{
  BlPriceItems *self = data;
  BlBoard *board = bl_part_get_board (BL_PART (self));
  const BlPriceItem *old = chosen (self);
  g_autofree char *text = g_strstrip (g_strdup (bl_form_get_text (entry)));
  g_autofree char *label = NULL;
  g_autoptr (GError) error = NULL;
  BlPriceItem *item;
  double si, factor, value;
  gint64 minor;

  if (old == NULL || self->updating)
    return;
  bl_unit_shown (old->unit, model_of (self)->units, &si);
  factor = amount_factor (old, model_of (self)->units, &label);
  item = bl_price_item_copy (old);
  if (entry == self->name || entry == self->supplier)
    {
      char **field = entry == self->name ? &item->name : &item->supplier;

      /* A name that came with the program stays as it came, to be said in any language. */
      if (entry == self->name && strcmp (text, bl_say (bl_say_window (), old->name)) == 0)
        {
          bl_price_item_free (item);
          return;
        }

      g_free (*field);
      *field = entry == self->supplier && text[0] == '\0' ? NULL : g_strdup (text);
    }
  else if (entry == self->price)
    {
      if (!bl_money_parse (text, model_of (self)->currency, &minor, &error))
        {
          bl_form_set_wrong (entry, TRUE);
          bl_board_report (board, error);
          bl_price_item_free (item);
          return;
        }
      item->price = bl_money_scale (minor, 1 / si);
    }
  else
    {
      if (!bl_sheet_read_number (board, entry, 0, &value))
        {
          bl_price_item_free (item);
          return;
        }
      item->amount = value / factor;
    }
  bl_form_set_wrong (entry, !put (self, item));
}

static void
selected_cb (GtkListBox *list, GtkListBoxRow *row, BlPriceItems *self)
{
  if (row == NULL || self->updating)
    return;
  g_free (self->key);
  self->key = g_strdup (g_object_get_data (G_OBJECT (row), "key"));
  self->updating = TRUE;
  show_card (self);
  self->updating = FALSE;
}

static void
update (BlPart *part, guint what)
{
  BlPriceItems *self = BL_PRICE_ITEMS (part);

  if ((what & BL_BOARD_MODEL) == 0)
    return;
  self->updating = TRUE;
  fill_list (self);
  show_card (self);
  self->updating = FALSE;
}

static void
bl_price_items_finalize (GObject *object)
{
  g_free (BL_PRICE_ITEMS (object)->key);
  G_OBJECT_CLASS (bl_price_items_parent_class)->finalize (object);
}

static void
bl_price_items_class_init (BlPriceItemsClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
  G_OBJECT_CLASS (klass)->finalize = bl_price_items_finalize;
}

static GtkWidget *
make_field (BlPriceItems *self, GtkWidget **entry)
{
  *entry = bl_form_entry (NULL);
  bl_form_on_commit (*entry, given_cb, self);
  return bl_form_field ("", *entry);
}

static void
bl_price_items_init (BlPriceItems *self)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();

  gtk_box_set_spacing (GTK_BOX (self), 8);
  self->search = gtk_search_entry_new ();
  g_object_set (self->search, "placeholder-text", _("Find a price: mulch, edging, plant…"), NULL);
  bl_form_call (self->search, _("Find a price"));
  self->list = gtk_list_box_new ();
  gtk_widget_add_css_class (self->list, "cards");
  bl_form_call (self->list, _("Prices and times"));
  gtk_list_box_set_filter_func (GTK_LIST_BOX (self->list), is_wanted, self, NULL);
  gtk_list_box_set_placeholder (GTK_LIST_BOX (self->list),
                                bl_form_text (_("Nothing in the book is called so."), "dim"));
  g_signal_connect_swapped (self->search, "search-changed",
                            G_CALLBACK (gtk_list_box_invalidate_filter), self->list);
  g_signal_connect (self->list, "row-selected", G_CALLBACK (selected_cb), self);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->list);
  gtk_widget_set_vexpand (scroller, TRUE);
  self->card = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_add_css_class (self->card, "card");
  self->title = bl_form_text ("", "facts");
  gtk_box_append (GTK_BOX (self->card), self->title);
  gtk_box_append (GTK_BOX (self->card), make_field (self, &self->name));
  gtk_box_append (GTK_BOX (self->card), bl_form_pair (make_field (self, &self->price),
                                                      make_field (self, &self->amount)));
  gtk_box_append (GTK_BOX (self->card), make_field (self, &self->supplier));
  gtk_widget_set_visible (self->card, FALSE);
  self->nothing = bl_form_text (_("Choose a line to change it."), "dim");
  gtk_box_append (GTK_BOX (self), self->search);
  gtk_box_append (GTK_BOX (self), scroller);
  gtk_box_append (GTK_BOX (self), self->nothing);
  gtk_box_append (GTK_BOX (self), self->card);
}

GtkWidget *
bl_price_items_new (void)
{
  return g_object_new (BL_TYPE_PRICE_ITEMS, NULL);
}
