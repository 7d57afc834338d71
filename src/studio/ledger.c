/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows of a ledger's pane: what and how much; each opens to show its arithmetic and copies as
 * text. */

#include "config.h"

#include "studio/ledger.h"

#include "base/csv.h"
#include "studio/form.h"
#include "studio/window.h"

#include <glib/gi18n.h>

struct _BlLedger
{
  GtkWidget *box;
  GtkWidget *next; /* during a showing: the child whose turn it is */
  BlLedgerForm form;
  gpointer data;
  char *open; /* key of the open row */
};

/* What a child of the box is made of. */
typedef struct
{
  char kind; /* 'h'eading, 'r'ow, 't'ext */
  char *key, *how, *cells;
  GtkWidget *what, *under, *much;           /* labels */
  GtkWidget *button, *details, *why, *form; /* of a row; @why is a box of the steps */
  char *told; /* what @why shows */
} Piece;

static void
piece_free (gpointer data)
{
  Piece *piece = data;

  g_free (piece->key);
  g_free (piece->how);
  g_free (piece->cells);
  g_free (piece->told);
  g_free (piece);
}

static Piece *
piece_of (GtkWidget *child)
{
  return g_object_get_data (G_OBJECT (child), "bl-piece");
}

static void
set_label (GtkWidget *label, const char *text)
{
  gtk_widget_set_visible (label, text != NULL && text[0] != '\0');
  if (g_strcmp0 (gtk_label_get_text (GTK_LABEL (label)), text) != 0)
    gtk_label_set_text (GTK_LABEL (label), text != NULL ? text : "");
}

static void
replace (char **to, const char *text)
{
  char *copy = g_strdup (text);

  g_free (*to);
  *to = copy;
}

/* The child whose turn it is when it is of that kind and key; else everything from there on goes and
 * NULL is returned. */
static Piece *
take_next (BlLedger *self, char kind, const char *key)
{
  GtkWidget *child = self->next;
  Piece *piece = child != NULL ? piece_of (child) : NULL;

  if (piece != NULL && piece->kind == kind && g_strcmp0 (piece->key, key) == 0)
    {
      self->next = gtk_widget_get_next_sibling (child);
      return piece;
    }
  bl_ledger_end (self);
  return NULL;
}

static Piece *
add (BlLedger *self, GtkWidget *child, char kind, const char *key)
{
  Piece *piece = g_new0 (Piece, 1);

  piece->kind = kind;
  piece->key = g_strdup (key);
  g_object_set_data_full (G_OBJECT (child), "bl-piece", piece, piece_free);
  gtk_box_append (GTK_BOX (self->box), child);
  return piece;
}

/* One step of the arithmetic under the other; the last is what they come to. */
static void
tell_steps (Piece *piece)
{
  g_auto (GStrv) steps = g_strsplit (piece->how != NULL ? piece->how : "", "\n", -1);

  if (g_strcmp0 (piece->told, piece->how) == 0)
    return;
  replace (&piece->told, piece->how);
  bl_form_clear (piece->why);
  for (guint i = 0; steps[i] != NULL; i++)
    {
      gboolean last = i > 0 && steps[i + 1] == NULL;
      GtkWidget *label = bl_form_text (steps[i], last ? "figure" : "facts");

      gtk_label_set_selectable (GTK_LABEL (label), TRUE);
      gtk_box_append (GTK_BOX (piece->why), label);
    }
}

static void
show_details (BlLedger *self, Piece *piece)
{
  gboolean open = g_strcmp0 (self->open, piece->key) == 0;

  gtk_widget_set_visible (piece->details, open);
  gtk_accessible_update_state (GTK_ACCESSIBLE (piece->button), GTK_ACCESSIBLE_STATE_EXPANDED, open,
                               -1);
  if (!open)
    return;
  tell_steps (piece);
  if (self->form != NULL)
    {
      GtkWidget *form = self->form (piece->form, piece->key, self->data);

      if (form != NULL && form != piece->form)
        {
          if (piece->form != NULL)
            gtk_box_remove (GTK_BOX (piece->details), piece->form);
          gtk_box_append (GTK_BOX (piece->details), form);
          piece->form = form;
        }
    }
}

void
bl_ledger_open (BlLedger *self, const char *key)
{
  replace (&self->open, key);
  for (GtkWidget *child = gtk_widget_get_first_child (self->box); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (piece_of (child)->kind == 'r')
      show_details (self, piece_of (child));
}

static void
clicked_cb (GtkButton *button, BlLedger *self)
{
  Piece *piece = piece_of (gtk_widget_get_parent (GTK_WIDGET (button)));

  bl_ledger_open (self, g_strcmp0 (self->open, piece->key) == 0 ? NULL : piece->key);
}

static GtkWidget *
figure (const char *css_class)
{
  GtkWidget *label = gtk_label_new ("");

  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_widget_add_css_class (label, css_class);
  return label;
}

static Piece *
make_row (BlLedger *self, const char *key)
{
  GtkWidget *all = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *button = gtk_button_new ();
  GtkWidget *row = bl_form_line (8);
  GtkWidget *left = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  Piece *piece = add (self, all, 'r', key);

  piece->button = button;
  piece->what = bl_form_text ("", NULL);
  piece->under = bl_form_text ("", "facts");
  piece->much = figure ("figure");
  gtk_label_set_max_width_chars (GTK_LABEL (piece->what), 24);
  gtk_label_set_max_width_chars (GTK_LABEL (piece->under), 24);
  gtk_widget_set_hexpand (left, TRUE);
  gtk_box_append (GTK_BOX (left), piece->what);
  gtk_box_append (GTK_BOX (left), piece->under);
  bl_form_line_add (row, left);
  bl_form_line_add (row, piece->much);
  gtk_widget_add_css_class (row, "entry-row");
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "history");
  gtk_button_set_child (GTK_BUTTON (button), row);
  g_signal_connect (button, "clicked", G_CALLBACK (clicked_cb), self);
  piece->details = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_add_css_class (piece->details, "slip");
  piece->why = gtk_box_new (GTK_ORIENTATION_VERTICAL, 5);
  gtk_box_append (GTK_BOX (piece->details), piece->why);
  gtk_widget_set_visible (piece->details, FALSE);
  gtk_box_append (GTK_BOX (all), button);
  gtk_box_append (GTK_BOX (all), piece->details);
  return piece;
}

void
bl_ledger_begin (BlLedger *self)
{
  self->next = gtk_widget_get_first_child (self->box);
}

void
bl_ledger_end (BlLedger *self)
{
  while (self->next != NULL)
    {
      GtkWidget *child = self->next;

      self->next = gtk_widget_get_next_sibling (child);
      gtk_box_remove (GTK_BOX (self->box), child);
    }
}

void
bl_ledger_heading (BlLedger *self, const char *text, const char *much)
{
  Piece *piece = take_next (self, 'h', text);
  g_autofree char *cells = bl_csv_tabbed (text, NULL);

  if (piece == NULL)
    {
      GtkWidget *row = bl_form_line (8);
      GtkWidget *heading = bl_form_heading (text);

      piece = add (self, row, 'h', text);
      piece->much = figure ("figure");
      gtk_widget_set_hexpand (heading, TRUE);
      gtk_widget_set_valign (piece->much, GTK_ALIGN_END);
      bl_form_line_add (row, heading);
      bl_form_line_add (row, piece->much);
    }
  set_label (piece->much, much);
  replace (&piece->cells, cells);
}

void
bl_ledger_row (BlLedger *self, const BlLedgerRow *row)
{
  Piece *piece = take_next (self, 'r', row->key);
  g_autofree char *spoken = g_strdup_printf ("%s: %s", row->what, row->much);

  if (piece == NULL)
    piece = make_row (self, row->key);
  set_label (piece->what, row->what);
  set_label (piece->under, row->under);
  set_label (piece->much, row->much);
  replace (&piece->how, row->how);
  replace (&piece->cells, row->cells);
  bl_form_call (piece->button, spoken);
  show_details (self, piece);
}

void
bl_ledger_text (BlLedger *self, const char *text, const char *css_class)
{
  Piece *piece = take_next (self, 't', text);
  GtkWidget *label;

  if (piece != NULL)
    return;
  label = bl_form_text (text, css_class);
  add (self, label, 't', text);
}

/* Copying. */

char *
bl_ledger_to_text (BlLedger *self, guint *n_rows)
{
  GString *all = g_string_new (NULL);
  guint n = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (self->box); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      const Piece *piece = piece_of (child);

      if (piece->cells == NULL)
        continue;
      g_string_append_printf (all, "%s\n", piece->cells);
      n += piece->kind == 'r';
    }
  if (n_rows != NULL)
    *n_rows = n;
  return g_string_free (all, FALSE);
}

static void
tell (BlLedger *self, const char *sentence)
{
  GtkRoot *root = gtk_widget_get_root (self->box);

  if (BL_IS_WINDOW (root))
    bl_window_say (BL_WINDOW (root), sentence, FALSE, NULL, NULL);
}

static void
copy_all_cb (GtkButton *button, BlLedger *self)
{
  const char *head = g_object_get_data (G_OBJECT (button), "head");
  guint n;
  g_autofree char *text = bl_ledger_to_text (self, &n);
  g_autofree char *whole = head != NULL ? g_strconcat (head, "\n", text, NULL) : g_strdup (text);
  g_autofree char *sentence = g_strdup_printf (
      ngettext ("%u line is on the clipboard, to paste into a table or a letter",
                "%u lines are on the clipboard, to paste into a table or a letter", n), n);

  gdk_clipboard_set_text (gtk_widget_get_clipboard (self->box), whole);
  tell (self, sentence);
}

GtkWidget *
bl_ledger_copy_button (BlLedger *self, const char *head)
{
  GtkWidget *button = bl_form_icon_button (
      "bl-copy-symbolic", _("Copy the table as text (Ctrl+C on a line copies that line)"), NULL);

  g_object_set_data_full (G_OBJECT (button), "head", g_strdup (head), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (copy_all_cb), self);
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  return button;
}

/* Ctrl+C: the line that has the focus. */
static gboolean
copy_line_cb (GtkWidget *box, GVariant *args, gpointer data)
{
  BlLedger *self = data;
  GtkWidget *child = gtk_root_get_focus (gtk_widget_get_root (box));

  while (child != NULL && gtk_widget_get_parent (child) != box)
    child = gtk_widget_get_parent (child);
  if (child == NULL || piece_of (child) == NULL || piece_of (child)->cells == NULL)
    return FALSE;
  gdk_clipboard_set_text (gtk_widget_get_clipboard (box), piece_of (child)->cells);
  tell (self, _("The line is on the clipboard"));
  return TRUE;
}

BlLedger *
bl_ledger_new (GtkWidget *box, BlLedgerForm form, gpointer data)
{
  BlLedger *self = g_new0 (BlLedger, 1);
  GtkEventController *keys = gtk_shortcut_controller_new ();

  self->box = box;
  self->form = form;
  self->data = data;
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_c, GDK_CONTROL_MASK),
                        gtk_callback_action_new (copy_line_cb, self, NULL)));
  gtk_widget_add_controller (box, keys);
  return self;
}

void
bl_ledger_free (BlLedger *self)
{
  g_free (self->open);
  g_free (self);
}
