/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window of the price book: items on the left, rules on the right, files and the firm's book
 * above, and a banner of its own. */

#include "config.h"

#include "studio/price-book.h"

#include "studio/form.h"

#include <glib/gi18n.h>

#define BL_TYPE_PRICE_BOOK_PAGE (bl_price_book_page_get_type ())
G_DECLARE_FINAL_TYPE (BlPriceBookPage, bl_price_book_page, BL, PRICE_BOOK_PAGE, BlPart)

struct _BlPriceBookPage
{
  BlPart parent_instance;

  GtkWidget *items, *rules, *banner, *words;
  GtkNativeDialog *native;
  gboolean saving;
  GSignalGroup *problems;
};

G_DEFINE_FINAL_TYPE (BlPriceBookPage, bl_price_book_page, BL_TYPE_PART)

static void
say (BlPriceBookPage *self, const char *sentence, gboolean wrong)
{
  GtkWidget *box = gtk_revealer_get_child (GTK_REVEALER (self->banner));

  if (wrong)
    gtk_widget_add_css_class (box, "wrong-banner");
  else
    gtk_widget_remove_css_class (box, "wrong-banner");
  gtk_label_set_text (GTK_LABEL (self->words), sentence);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->banner), TRUE);
}

static void
problem_cb (BlBoard *board, const char *sentence, BlPriceBookPage *self)
{
  say (self, sentence, TRUE);
}

static void
close_banner_cb (BlPriceBookPage *self)
{
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->banner), FALSE);
}

/* Files. */

static void
responded_cb (GtkNativeDialog *native, int response, BlPriceBookPage *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT
                               ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (native)) : NULL;
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;
  g_autofree char *sentence = NULL;

  if (path != NULL && board != NULL)
    {
      if (self->saving ? bl_board_write_prices (board, path) : bl_board_read_prices (board, path))
        {
          sentence = self->saving
                         ? g_strdup_printf (_("The price book is written to %s"), path)
                         : g_strdup (_("The price book is taken in; Undo brings the old one back"));
          say (self, sentence, FALSE);
        }
    }
  else if (file != NULL)
    say (self, _("Only files on this machine can be used: copy it here first"), TRUE);
  g_clear_object (&self->native);
}

static void
choose (BlPriceBookPage *self, gboolean saving)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();

  g_clear_object (&self->native);
  self->saving = saving;
  self->native = GTK_NATIVE_DIALOG (gtk_file_chooser_native_new (
      saving ? _("Write the price book as a table") : _("Take a price book from a table"),
      GTK_WINDOW (root), saving ? GTK_FILE_CHOOSER_ACTION_SAVE : GTK_FILE_CHOOSER_ACTION_OPEN, NULL,
      NULL));
  gtk_file_filter_add_suffix (filter, "csv");
  gtk_file_filter_set_name (filter, _("Tables, CSV"));
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (self->native), filter);
  if (saving)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (self->native), _("prices.csv"));
  gtk_native_dialog_set_modal (self->native, TRUE);
  g_signal_connect (self->native, "response", G_CALLBACK (responded_cb), self);
  gtk_native_dialog_show (self->native);
}

static void read_cb (BlPriceBookPage *self) { choose (self, FALSE); }
static void write_cb (BlPriceBookPage *self) { choose (self, TRUE); }

static void
keep_firm_cb (BlPriceBookPage *self)
{
  if (bl_board_keep_firm_prices (bl_part_get_board (BL_PART (self))))
    say (self, _("This is the firm's book now: new designs in the same currency start with it"),
         FALSE);
}

static void
take_firm_cb (BlPriceBookPage *self)
{
  if (bl_board_take_firm_prices (bl_part_get_board (BL_PART (self))))
    say (self, _("The firm's book is taken; Undo brings the old one back"), FALSE);
}

static void
update (BlPart *part, guint what)
{
  BlPriceBookPage *self = BL_PRICE_BOOK_PAGE (part);

  if ((what & BL_BOARD_ALL) != BL_BOARD_ALL)
    return;
  bl_part_set_board (BL_PART (self->items), bl_part_get_board (part));
  bl_part_set_board (BL_PART (self->rules), bl_part_get_board (part));
  g_signal_group_set_target (self->problems, bl_part_get_board (part));
}

static void
bl_price_book_page_dispose (GObject *object)
{
  BlPriceBookPage *self = BL_PRICE_BOOK_PAGE (object);

  g_clear_object (&self->native);
  g_clear_object (&self->problems);
  G_OBJECT_CLASS (bl_price_book_page_parent_class)->dispose (object);
}

static void
bl_price_book_page_class_init (BlPriceBookPageClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
  G_OBJECT_CLASS (klass)->dispose = bl_price_book_page_dispose;
}

static void
add_command (BlPriceBookPage *self, GtkWidget *box, const char *label, void (*run) (BlPriceBookPage *))
{
  GtkWidget *button = bl_form_button (label, NULL, NULL);

  g_signal_connect_swapped (button, "clicked", G_CALLBACK (run), self);
  gtk_box_append (GTK_BOX (box), button);
}

static GtkWidget *
make_banner (BlPriceBookPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *close = bl_form_icon_button ("bl-remove-symbolic", _("Close this message"), NULL);

  self->banner = gtk_revealer_new ();
  self->words = bl_form_text ("", NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (self->words), -1);
  gtk_widget_set_hexpand (self->words, TRUE);
  gtk_widget_add_css_class (box, "banner");
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (close_banner_cb), self);
  gtk_box_append (GTK_BOX (box), self->words);
  gtk_box_append (GTK_BOX (box), close);
  gtk_revealer_set_child (GTK_REVEALER (self->banner), box);
  return self->banner;
}

static void
bl_price_book_page_init (BlPriceBookPage *self)
{
  GtkWidget *commands = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *halves = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 26);
  GtkWidget *scroller = gtk_scrolled_window_new ();

  self->problems = g_signal_group_new (BL_TYPE_BOARD);
  g_signal_group_connect (self->problems, "problem", G_CALLBACK (problem_cb), self);
  gtk_widget_set_margin_start (commands, 14);
  gtk_widget_set_margin_top (commands, 10);
  gtk_widget_set_margin_bottom (commands, 4);
  add_command (self, commands, _("Take the firm's book"), take_firm_cb);
  add_command (self, commands, _("Make this the firm's book"), keep_firm_cb);
  add_command (self, commands, _("Take in CSV…"), read_cb);
  add_command (self, commands, _("Write CSV…"), write_cb);
  self->items = bl_price_items_new ();
  self->rules = bl_price_rules_new ();
  gtk_widget_set_hexpand (self->items, TRUE);
  gtk_widget_set_margin_end (self->rules, 12);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->rules);
  gtk_widget_set_size_request (scroller, 290, -1);
  gtk_widget_set_hexpand (scroller, FALSE);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_widget_add_css_class (halves, "sheet");
  gtk_box_append (GTK_BOX (halves), self->items);
  gtk_box_append (GTK_BOX (halves), scroller);
  gtk_box_append (GTK_BOX (self), make_banner (self));
  gtk_box_append (GTK_BOX (self), commands);
  gtk_box_append (GTK_BOX (self), halves);
}

GtkWidget *
bl_price_book_page_new (void)
{
  return g_object_new (BL_TYPE_PRICE_BOOK_PAGE, NULL);
}

static gboolean
escape_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  gtk_window_close (GTK_WINDOW (widget));
  return TRUE;
}

static gboolean
undo_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  BlBoard *board = bl_part_get_board (BL_PART (data));

  return board != NULL && bl_board_undo (board);
}

GtkWidget *
bl_price_book_window_new (GtkWindow *parent, BlBoard *board)
{
  GtkWidget *window = gtk_window_new (), *page = bl_price_book_page_new ();
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_window_set_title (GTK_WINDOW (window), _("Price book"));
  gtk_window_set_transient_for (GTK_WINDOW (window), parent);
  gtk_window_set_modal (GTK_WINDOW (window), TRUE);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (window), TRUE);
  gtk_window_set_default_size (GTK_WINDOW (window), 860, 660);
  gtk_widget_add_css_class (window, "studio");
  gtk_window_set_child (GTK_WINDOW (window), page);
  bl_part_set_board (BL_PART (page), board);
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0),
                        gtk_callback_action_new (escape_cb, NULL, NULL)));
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_z, GDK_CONTROL_MASK),
                        gtk_callback_action_new (undo_cb, page, NULL)));
  gtk_widget_add_controller (window, keys);
  return window;
}
