/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pane of cost: the estimate line by line, the person's own figures, the firm's rules. */

#include "config.h"

#include "studio/form.h"
#include "studio/panes.h"
#include "studio/reckon.h"
#include "studio/sheets.h"

#include <glib/gi18n.h>

#define BL_TYPE_PANE_COST (bl_pane_cost_get_type ())
G_DECLARE_FINAL_TYPE (BlPaneCost, bl_pane_cost, BL, PANE_COST, BlPart)

struct _BlPaneCost
{
  BlPart parent_instance;

  GtkWidget *total, *box, *rules, *popover, *quantity, *popover_title;
  char *line; /* key of the line in the popover */
};

G_DEFINE_FINAL_TYPE (BlPaneCost, bl_pane_cost, BL_TYPE_PART)

static gboolean
put_override (BlDesign *design, gpointer data, GError **error)
{
  BlOverride *override = data;

  if (!isfinite (override->value))
    return override->id == 0 || bl_design_remove (design, "override", override->id, error);
  return bl_design_put_override (design, override, error);
}

static void
quantity_given_cb (BlPaneCost *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  const BlModel *model = bl_board_get_model (board);
  BlOverride override = { .alternative_id = bl_board_get_alternative (board), .line = self->line,
                          .field = (char *) "quantity" };

  if (!bl_sheet_read_number (board, self->quantity, NAN, &override.value))
    return;
  for (guint i = 0; i < model->overrides->len; i++)
    {
      const BlOverride *old = g_ptr_array_index (model->overrides, i);

      if (old->alternative_id == override.alternative_id && g_str_equal (old->line, self->line)
          && g_str_equal (old->field, "quantity"))
        override.id = old->id;
    }
  gtk_popover_popdown (GTK_POPOVER (self->popover));
  bl_board_edit (board, isfinite (override.value) ? _("State your own quantity")
                                                  : _("Back to the computed quantity"),
                 put_override, &override);
}

static void
line_clicked_cb (GtkButton *button, BlPaneCost *self)
{
  const char *key = g_object_get_data (G_OBJECT (button), "key");
  double *quantity = g_object_get_data (G_OBJECT (button), "quantity");
  g_autofree char *text = g_strdup_printf ("%.10g", *quantity);

  g_free (self->line);
  self->line = g_strdup (key);
  gtk_widget_unparent (self->popover);
  gtk_widget_set_parent (self->popover, GTK_WIDGET (button));
  gtk_editable_set_text (GTK_EDITABLE (self->quantity), text);
  gtk_popover_popup (GTK_POPOVER (self->popover));
  gtk_widget_grab_focus (self->quantity);
}

static GtkWidget *
line_row (BlPaneCost *self, const BlEstimateLine *line, const char *currency)
{
  g_autofree char *amount = bl_money_format (line->amount, currency);
  g_autofree char *name
      = g_strdup_printf ("%s%s", line->name, line->overridden ? _ (" · your figure") : "");
  GtkWidget *button = gtk_button_new (), *row = bl_pane_row (name, amount, line->how);
  g_autofree char *spoken = g_strdup_printf ("%s: %s", name, amount);

  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "history");
  gtk_button_set_child (GTK_BUTTON (button), row);
  bl_form_call (button, spoken);
  gtk_widget_set_tooltip_text (button, line->how);
  g_object_set_data_full (G_OBJECT (button), "key", g_strdup (line->key), g_free);
  g_object_set_data_full (G_OBJECT (button), "quantity",
                          g_memdup2 (&line->quantity, sizeof line->quantity), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (line_clicked_cb), self);
  return button;
}

static void
park_popover (BlPaneCost *self)
{
  gtk_popover_popdown (GTK_POPOVER (self->popover));
  if (gtk_widget_get_parent (self->popover) != GTK_WIDGET (self))
    {
      gtk_widget_unparent (self->popover);
      gtk_widget_set_parent (self->popover, GTK_WIDGET (self));
    }
}

static void
show_estimate (BlPaneCost *self, const BlEstimate *estimate)
{
  g_autofree char *total = bl_money_format (estimate->total, estimate->currency);
  g_autofree char *low = bl_money_format (estimate->total_low, estimate->currency);
  g_autofree char *high = bl_money_format (estimate->total_high, estimate->currency);
  g_autofree char *words = g_strdup_printf (_("%s  (%s to %s)"), total, low, high);
  int section = -1;

  park_popover (self);
  bl_form_clear (self->box);
  gtk_label_set_text (GTK_LABEL (self->total), words);
  gtk_widget_set_tooltip_text (self->total, _("The range is what the measured area leaves open"));
  if (estimate->any_invented)
    gtk_box_append (
        GTK_BOX (self->box),
        bl_form_text (_ ("Some prices are Bedline's invented starting figures: put your own in "
                         "before giving this to a client."),
                      "advice"));
  for (guint i = 0; i < estimate->lines->len; i++)
    {
      const BlEstimateLine *line = &g_array_index (estimate->lines, BlEstimateLine, i);

      if ((int) line->section != section)
        gtk_box_append (GTK_BOX (self->box), bl_form_heading (_(bl_section_name (line->section))));
      section = (int) line->section;
      gtk_box_append (GTK_BOX (self->box), line_row (self, line, estimate->currency));
    }
}

static gboolean
put_book (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_price_book (design, data, error);
}

static void
rule_given_cb (GtkWidget *entry, gpointer data)
{
  BlBoard *board = bl_part_get_board (data);
  const char *name = g_object_get_data (G_OBJECT (entry), "rule");
  g_autoptr (BlPriceBook) book = bl_price_book_copy (bl_board_get_model (board)->prices);
  g_autoptr (GError) error = NULL;

  if (!bl_price_rule_set (&book->rules, name, bl_form_get_text (entry), &error))
    {
      bl_form_set_wrong (entry, TRUE);
      bl_board_report (board, error);
      return;
    }
  bl_form_set_wrong (entry, !bl_board_edit (board, _("Change the firm's rules"), put_book, book));
}

static void
show_rules (BlPaneCost *self, const BlModel *model)
{
  const char *const *names = bl_price_rule_names ();

  if (gtk_widget_get_first_child (self->rules) == NULL)
    for (guint i = 0; names[i] != NULL; i++)
      {
        g_autofree char *label = g_strdup (names[i]);
        GtkWidget *entry = bl_form_entry (NULL);

        g_strdelimit (label, "_", ' ');
        label[0] = g_ascii_toupper (label[0]);
        g_object_set_data (G_OBJECT (entry), "rule", (gpointer) names[i]);
        bl_form_on_commit (entry, rule_given_cb, self);
        gtk_box_append (GTK_BOX (self->rules), bl_form_field (label, entry));
      }
  for (GtkWidget *field = gtk_widget_get_first_child (self->rules); field != NULL;
       field = gtk_widget_get_next_sibling (field))
    {
      GtkWidget *entry = gtk_widget_get_last_child (field);
      g_autofree char *value = bl_price_rule_get (&model->prices->rules,
                                                  g_object_get_data (G_OBJECT (entry), "rule"));

      bl_form_set_text (entry, value);
    }
}

static void
update (BlPart *part, guint what)
{
  BlPaneCost *self = BL_PANE_COST (part);
  BlBoard *board = bl_part_get_board (part);
  BlReckoning *reckoning;

  if ((what & BL_BOARD_MODEL) != 0)
    show_rules (self, bl_board_get_model (board));
  if ((what & (BL_BOARD_RECKON | BL_BOARD_MODEL)) != 0
      && (reckoning = bl_board_get_reckoning (board)) != NULL)
    show_estimate (self, reckoning->estimate);
}

static void
bl_pane_cost_dispose (GObject *object)
{
  BlPaneCost *self = BL_PANE_COST (object);

  g_clear_pointer (&self->popover, gtk_widget_unparent);
  g_clear_pointer (&self->line, g_free);
  G_OBJECT_CLASS (bl_pane_cost_parent_class)->dispose (object);
}

static void
bl_pane_cost_class_init (BlPaneCostClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
  G_OBJECT_CLASS (klass)->dispose = bl_pane_cost_dispose;
}

static void
bl_pane_cost_init (BlPaneCost *self)
{
  GtkWidget *all, *expander = gtk_expander_new (_("Rules of the firm"));

  self->total = bl_form_text (_("Working it out…"), "total");
  gtk_box_append (GTK_BOX (self), self->total);
  all = bl_pane_scrolled (GTK_WIDGET (self));
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_box_append (GTK_BOX (all), self->box);
  self->rules = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_expander_set_child (GTK_EXPANDER (expander), self->rules);
  gtk_box_append (GTK_BOX (all), expander);
  self->popover = gtk_popover_new ();
  self->quantity = bl_form_entry (_("computed"));
  g_signal_connect_swapped (self->quantity, "activate", G_CALLBACK (quantity_given_cb), self);
  gtk_popover_set_child (
      GTK_POPOVER (self->popover),
      bl_form_field (_ ("Your own quantity (empty: the computed one)"), self->quantity));
  gtk_widget_set_parent (self->popover, GTK_WIDGET (self));
}

GtkWidget *
bl_pane_cost_new (void)
{
  return g_object_new (BL_TYPE_PANE_COST, NULL);
}
