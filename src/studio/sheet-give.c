/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheets of comparing and of giving. */

#include "config.h"

#include "studio/form.h"
#include "studio/give.h"
#include "studio/sheets.h"

#include <glib/gi18n.h>

/* Compare. */

#define BL_TYPE_SHEET_COMPARE (bl_sheet_compare_get_type ())
G_DECLARE_FINAL_TYPE (BlSheetCompare, bl_sheet_compare, BL, SHEET_COMPARE, BlPart)

struct _BlSheetCompare
{
  BlPart parent_instance;

  GtkWidget *box;
  GHashTable *left_out; /* ids that the person unchecked */
};

G_DEFINE_FINAL_TYPE (BlSheetCompare, bl_sheet_compare, BL_TYPE_PART)

static gint64
id_of (gpointer widget)
{
  return *(gint64 *) g_object_get_data (widget, "id");
}

static void
chosen_cb (GtkCheckButton *check, BlSheetCompare *self)
{
  gint64 id = id_of (check);

  if (gtk_check_button_get_active (check))
    g_hash_table_remove (self->left_out, &id);
  else
    g_hash_table_add (self->left_out, g_memdup2 (&id, sizeof id));
  bl_board_emit (bl_part_get_board (BL_PART (self)), BL_BOARD_ALTERNATIVE);
}

static void
words_given_cb (GtkWidget *entry, gpointer data)
{
  BlBoard *board = bl_part_get_board (data);
  const BlAlternative *old = bl_model_alternative (bl_board_get_model (board), id_of (entry));
  gboolean idea = g_object_get_data (G_OBJECT (entry), "idea") != NULL;
  BlAlternative *copy;

  if (old == NULL)
    return;
  copy = bl_alternative_copy (old);
  g_free (idea ? copy->idea : copy->colors);
  *(idea ? &copy->idea : &copy->colors) = g_strdup (bl_form_get_text (entry));
  bl_board_put_alternative (board, idea ? _("Change the idea") : _("Change the colours"), copy);
  bl_alternative_free (copy);
}

static GtkWidget *
words_field (BlSheetCompare *self, gint64 id, const char *label, const char *text, gboolean idea,
             const char *placeholder)
{
  GtkWidget *entry = bl_form_entry (placeholder);

  gtk_editable_set_text (GTK_EDITABLE (entry), text != NULL ? text : "");
  g_object_set_data_full (G_OBJECT (entry), "id", g_memdup2 (&id, sizeof id), g_free);
  g_object_set_data (G_OBJECT (entry), "idea", idea ? self : NULL);
  bl_form_on_commit (entry, words_given_cb, self);
  return bl_form_field (label, entry);
}

static void
update_compare (BlPart *part, guint what)
{
  BlSheetCompare *self = BL_SHEET_COMPARE (part);
  const BlModel *model = bl_board_get_model (bl_part_get_board (part));

  if ((what & BL_BOARD_MODEL) == 0)
    return;
  bl_form_clear (self->box);
  for (guint i = 0; i < model->alternatives->len; i++)
    {
      const BlAlternative *alternative = g_ptr_array_index (model->alternatives, i);
      GtkWidget *card = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
      g_autofree char *name = g_strdup_printf (_("Alternative %s"), alternative->name);
      GtkWidget *check = gtk_check_button_new_with_label (name);

      gtk_widget_add_css_class (card, "card");
      gtk_widget_add_css_class (check, "slip-title");
      g_object_set_data_full (G_OBJECT (check), "id",
                              g_memdup2 (&alternative->id, sizeof alternative->id), g_free);
      gtk_check_button_set_active (GTK_CHECK_BUTTON (check),
                                   !g_hash_table_contains (self->left_out, &alternative->id));
      g_signal_connect (check, "toggled", G_CALLBACK (chosen_cb), self);
      gtk_box_append (GTK_BOX (card), check);
      gtk_box_append (GTK_BOX (card),
                      words_field (self, alternative->id, _ ("The idea, in a sentence"),
                                   alternative->idea, TRUE, _ ("A low band of grasses")));
      gtk_box_append (GTK_BOX (card),
                      words_field (self, alternative->id, _ ("Colours meant"), alternative->colors,
                                   FALSE, _ ("blue, purple, silver")));
      gtk_box_append (GTK_BOX (self->box), card);
    }
}

GArray *
bl_sheet_compare_chosen (GtkWidget *sheet)
{
  BlSheetCompare *self = BL_SHEET_COMPARE (sheet);
  BlBoard *board = bl_part_get_board (BL_PART (self));
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; board != NULL && i < bl_board_get_model (board)->alternatives->len; i++)
    {
      gint64 id = ((const BlAlternative *)
                     g_ptr_array_index (bl_board_get_model (board)->alternatives, i))->id;

      if (!g_hash_table_contains (self->left_out, &id))
        g_array_append_val (ids, id);
    }
  return ids;
}

static void
bl_sheet_compare_finalize (GObject *object)
{
  g_hash_table_unref (BL_SHEET_COMPARE (object)->left_out);
  G_OBJECT_CLASS (bl_sheet_compare_parent_class)->finalize (object);
}

static void
bl_sheet_compare_class_init (BlSheetCompareClass *klass)
{
  BL_PART_CLASS (klass)->update = update_compare;
  G_OBJECT_CLASS (klass)->finalize = bl_sheet_compare_finalize;
}

static void
bl_sheet_compare_init (BlSheetCompare *self)
{
  self->left_out = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  gtk_box_append (GTK_BOX (self), bl_form_heading (_("Side by side")));
  gtk_box_append (GTK_BOX (self),
                  bl_form_text (_ ("Up to four alternatives at the same moment; they move and "
                                   "zoom together."),
                                "dim"));
  gtk_box_append (GTK_BOX (self), self->box);
  gtk_box_append (GTK_BOX (self), bl_form_button (_("Copy of the shown one"), "bl-copy-symbolic",
                                                  "win.copy-alternative"));
  gtk_box_append (GTK_BOX (self), bl_form_button (_("New, empty one"), "bl-add-symbolic",
                                                  "win.add-alternative"));
}

GtkWidget *
bl_sheet_compare_new (void)
{
  return g_object_new (BL_TYPE_SHEET_COMPARE, NULL);
}

/* Give. */

#define BL_TYPE_SHEET_GIVE (bl_sheet_give_get_type ())
G_DECLARE_FINAL_TYPE (BlSheetGive, bl_sheet_give, BL, SHEET_GIVE, BlPart)

struct _BlSheetGive
{
  BlPart parent_instance;

  GtkWidget *words;
};

G_DEFINE_FINAL_TYPE (BlSheetGive, bl_sheet_give, BL_TYPE_PART)

static void
update_give (BlPart *part, guint what)
{
  BlSheetGive *self = BL_SHEET_GIVE (part);
  BlBoard *board = bl_part_get_board (part);
  const BlAlternative *alternative = bl_model_alternative (bl_board_get_model (board),
                                                           bl_board_get_alternative (board));
  g_autofree char *words = NULL;

  if ((what & (BL_BOARD_MODEL | BL_BOARD_ALTERNATIVE)) == 0)
    return;
  words = alternative != NULL ? g_strdup_printf (
              _ ("Lists and plans are of the shown alternative, %s. The proposal holds those that "
                 "are checked on the Compare sheet."),
              alternative->name)
                              : g_strdup (_ ("There is no alternative to give yet."));
  gtk_label_set_text (GTK_LABEL (self->words), words);
}

static void
bl_sheet_give_class_init (BlSheetGiveClass *klass)
{
  BL_PART_CLASS (klass)->update = update_give;
}

static void
bl_sheet_give_init (BlSheetGive *self)
{
  static const struct
  {
    const char *heading, *title, *icon, *action;
  } items[] = {
    { N_ ("To the client"), N_ ("Proposal, PDF…"), "bl-give-symbolic", "win.give-proposal" },
    { NULL, N_ ("Picture…"), "bl-photo-symbolic", "win.give-picture" },
    { NULL, N_ ("Before and after, side by side…"), "bl-compare-symbolic",
      "win.give-before-after" },
    { NULL, N_ ("Plan to scale, PDF or SVG…"), "bl-plan-symbolic", "win.give-plan" },
    { NULL, N_ ("Pictures of the twelve months…"), "bl-month-symbolic", "win.give-months" },
    { NULL, N_ ("Pictures of the years…"), "bl-history-symbolic", "win.give-years" },
    { NULL, N_ ("Picture to the clipboard"), "bl-copy-symbolic", "win.copy-picture" },
    { N_ ("To the crew"), N_ ("Set-out plan, PDF…"), "bl-plan-symbolic", "win.give-crew" },
    { N_ ("To the nursery"), N_ ("Order list, CSV…"), "bl-order-symbolic", "win.give-order" },
    { NULL, N_ ("Request for availability, CSV…"), "bl-order-symbolic", "win.give-request" },
    { N_ ("To the owner"), N_ ("Care calendar…"), "bl-calendar-symbolic", "win.give-calendar" },
    { NULL, N_ ("Care sheet, PDF…"), "bl-calendar-symbolic", "win.give-care-sheet" },
    { N_ ("For other programs"), N_ ("Design sheet, JSON…"), "bl-blank-symbolic",
      "win.give-sheet" },
    { NULL, N_ ("Copy of the design…"), "bl-copy-symbolic", "win.save-copy" },
  };

  self->words = bl_form_text ("", "dim");
  for (guint i = 0; i < G_N_ELEMENTS (items); i++)
    {
      if (items[i].heading != NULL)
        gtk_box_append (GTK_BOX (self), bl_form_heading (_(items[i].heading)));
      gtk_box_append (GTK_BOX (self),
                      bl_form_button (_ (items[i].title), items[i].icon, items[i].action));
    }
  gtk_box_append (GTK_BOX (self), self->words);
}

GtkWidget *
bl_sheet_give_new (BlSettings *settings)
{
  GtkWidget *sheet = g_object_new (BL_TYPE_SHEET_GIVE, NULL);

  gtk_box_prepend (GTK_BOX (sheet), bl_papers_form_new (settings));
  return sheet;
}
