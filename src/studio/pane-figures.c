/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The panes of quantities and history, and the rows that all panes are made of. */

#include "config.h"

#include "base/csv.h"
#include "studio/follow.h"
#include "studio/form.h"
#include "studio/ledger.h"
#include "studio/panes.h"
#include "studio/reckon.h"

#include <glib/gi18n.h>

GtkWidget *
bl_pane_scrolled (GtkWidget *pane)
{
  GtkWidget *scroller = gtk_scrolled_window_new (),
            *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), box);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_box_append (GTK_BOX (pane), scroller);
  return box;
}

GtkWidget *
bl_pane_row (const char *what, const char *how_much, const char *how)
{
  GtkWidget *row = bl_form_line (8), *left = bl_form_text (what, NULL);
  GtkWidget *right = gtk_label_new (how_much);
  g_autofree char *spoken = g_strdup_printf ("%s: %s", what, how_much);

  gtk_widget_set_hexpand (left, TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (left), 22);
  gtk_widget_add_css_class (right, "figure");
  gtk_widget_set_valign (right, GTK_ALIGN_START);
  gtk_label_set_selectable (GTK_LABEL (right), FALSE);
  gtk_widget_add_css_class (row, "entry-row");
  bl_form_line_add (row, left);
  bl_form_line_add (row, right);
  if (how != NULL && how[0] != '\0')
    gtk_widget_set_tooltip_text (row, how);
  bl_form_call (row, spoken);
  return row;
}

char *
bl_pane_amount (double quantity, const char *unit, BlUnits units)
{
  if (g_strcmp0 (unit, "m3") == 0)
    return bl_volume_format (quantity, units, bl_say_window ());
  if (g_strcmp0 (unit, "m2") == 0)
    return bl_area_format (quantity, units, bl_say_window ());
  if (g_strcmp0 (unit, "m") == 0)
    return bl_length_format (quantity, units);
  if (g_strcmp0 (unit, "h") == 0)
    return g_strdup_printf (_("%.1f h"), quantity);
  if (g_strcmp0 (unit, "bag") == 0)
    return g_strdup_printf (ngettext ("%.0f bag", "%.0f bags", (gulong) quantity), quantity);
  return g_strdup_printf ("%.4g", quantity);
}

/* Quantities. */

#define BL_TYPE_PANE_QUANTITIES (bl_pane_quantities_get_type ())
G_DECLARE_FINAL_TYPE (BlPaneQuantities, bl_pane_quantities, BL, PANE_QUANTITIES, BlPart)

struct _BlPaneQuantities
{
  BlPart parent_instance;

  GtkWidget *head;
  BlLedger *ledger;
};

G_DEFINE_FINAL_TYPE (BlPaneQuantities, bl_pane_quantities, BL_TYPE_PART)

static void
add (BlPaneQuantities *self, const char *key, const char *what, const char *under, const char *much,
     const char *how)
{
  g_autofree char *cells = bl_csv_tabbed (what, much, NULL);

  bl_ledger_row (self->ledger, &(BlLedgerRow) { key, what, under, much, how, cells });
}

/* The area formula's figure beside the count; not while a drag is followed, which knows the areas
 * only roughly. */
static void
add_plants (BlPaneQuantities *self, const BlTakeoff *takeoff, gboolean following)
{
  bl_ledger_heading (self->ledger, _("Plants"), NULL);
  for (guint i = 0; i < takeoff->counts->len; i++)
    {
      const BlPlantCount *count = &g_array_index (takeoff->counts, BlPlantCount, i);
      const BlBed *bed = bl_model_bed (takeoff->layout->model, count->bed_id);
      g_autofree char *name = bl_plant_name (count->plant);
      g_autofree char *what = count->size != NULL ? g_strdup_printf ("%s, %s", name,
                                                                     bl_say (takeoff->language,
                                                                             count->size))
                                                  : g_strdup (name);
      g_autofree char *much = count->order != count->count
        ? g_strdup_printf (_("%u, order %u"), count->count, count->order)
        : g_strdup_printf ("%u", count->count);
      g_autofree char *key
          = g_strdup_printf ("plant:%" G_GINT64_FORMAT ":%s", count->bed_id, what);
      g_autofree char *formula = !following && isfinite (count->formula_count)
        ? g_strdup_printf (_("%.1f by the area formula"), count->formula_count) : NULL;
      g_autofree char *under
          = takeoff->layout->model->beds->len > 1 && bed != NULL
                ? g_strdup_printf ("%s%s%s", bed->name, formula != NULL ? " · " : "",
                                   formula != NULL ? formula : "")
                : g_strdup (formula);

      add (self, key, what, under, much, count->rule);
    }
}

static void
add_materials (BlPaneQuantities *self, const BlTakeoff *takeoff, BlUnits units)
{
  if (takeoff->materials->len > 0)
    bl_ledger_heading (self->ledger, _("Materials"), NULL);
  for (guint i = 0; i < takeoff->materials->len; i++)
    {
      const BlMaterial *material = &g_array_index (takeoff->materials, BlMaterial, i);
      g_autofree char *much = bl_pane_amount (material->order, material->unit, units);
      g_autofree char *key
          = g_strdup_printf ("material:%" G_GINT64_FORMAT ":%s", material->bed_id, material->key);

      add (self, key, material->name, NULL, much, material->how);
    }
  if (takeoff->work->len > 0)
    bl_ledger_heading (self->ledger, _("Work"), NULL);
  for (guint i = 0; i < takeoff->work->len; i++)
    {
      const BlWork *work = &g_array_index (takeoff->work, BlWork, i);
      g_autofree char *much = g_strdup_printf (_("%.1f h"), work->hours);
      g_autofree char *key
          = g_strdup_printf ("work:%" G_GINT64_FORMAT ":%s", work->bed_id, work->key);

      add (self, key, work->name, NULL, much, work->how);
    }
}

static void
show_takeoff (BlPaneQuantities *self, const BlTakeoff *takeoff, gboolean following)
{
  BlUnits units = takeoff->layout->model->units;
  g_autofree char *area
      = bl_area_format_interval (takeoff->area.value, takeoff->area.sd, units, bl_say_window ());
  g_autofree char *head = g_strdup_printf (
      ngettext ("%u plant of %u kinds", "%u plants of %u kinds", takeoff->n_plants),
      takeoff->n_plants, takeoff->n_kinds);

  gtk_label_set_text (GTK_LABEL (self->head), head);
  bl_ledger_begin (self->ledger);
  bl_ledger_heading (self->ledger, _("Beds"), NULL);
  add (self, "area", _("All beds"), following ? _("Follows the line; exact on letting go") : NULL,
       area, _("Measured; the ± holds with 95 % confidence"));
  add_plants (self, takeoff, following);
  add_materials (self, takeoff, units);
  for (guint i = 0; i < takeoff->notes->len; i++)
    bl_ledger_text (self->ledger, g_ptr_array_index (takeoff->notes, i), "dim");
  bl_ledger_end (self->ledger);
}

static void
update_quantities (BlPart *part, guint what)
{
  BlPaneQuantities *self = BL_PANE_QUANTITIES (part);
  BlBoard *board = bl_part_get_board (part);
  const BlFollowing *following = bl_board_get_following (board);
  BlReckoning *reckoning = bl_board_get_reckoning (board);

  if ((what & (BL_BOARD_RECKON | BL_BOARD_MODEL | BL_BOARD_FOLLOW)) == 0)
    return;
  if (following != NULL)
    show_takeoff (self, following->takeoff, TRUE);
  else if (reckoning != NULL)
    show_takeoff (self, reckoning->takeoff, FALSE);
}

static void
bl_pane_quantities_finalize (GObject *object)
{
  bl_ledger_free (BL_PANE_QUANTITIES (object)->ledger);
  G_OBJECT_CLASS (bl_pane_quantities_parent_class)->finalize (object);
}

static void
bl_pane_quantities_class_init (BlPaneQuantitiesClass *klass)
{
  BL_PART_CLASS (klass)->update = update_quantities;
  G_OBJECT_CLASS (klass)->finalize = bl_pane_quantities_finalize;
}

static void
bl_pane_quantities_init (BlPaneQuantities *self)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->ledger = bl_ledger_new (box, NULL, NULL);
  self->head = bl_form_text (_("Working it out…"), "total");
  gtk_widget_set_hexpand (self->head, TRUE);
  gtk_box_append (GTK_BOX (head), self->head);
  gtk_box_append (GTK_BOX (head),
                  bl_ledger_copy_button (self->ledger, _("What\tHow much")));
  gtk_box_append (GTK_BOX (self), head);
  gtk_box_append (GTK_BOX (bl_pane_scrolled (GTK_WIDGET (self))), box);
}

GtkWidget *
bl_pane_quantities_new (void)
{
  return g_object_new (BL_TYPE_PANE_QUANTITIES, NULL);
}

/* History. */

#define BL_TYPE_PANE_HISTORY (bl_pane_history_get_type ())
G_DECLARE_FINAL_TYPE (BlPaneHistory, bl_pane_history, BL, PANE_HISTORY, BlPart)

struct _BlPaneHistory
{
  BlPart parent_instance;

  GtkWidget *box;
};

G_DEFINE_FINAL_TYPE (BlPaneHistory, bl_pane_history, BL_TYPE_PART)

static void
go_to_cb (GtkButton *button, BlPaneHistory *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  gint64 *seq = g_object_get_data (G_OBJECT (button), "seq");
  g_autoptr (GError) error = NULL;

  if (!bl_design_go_to (bl_board_get_design (board), *seq, &error))
    bl_board_report (board, error);
}

static GtkWidget *
history_row (BlPaneHistory *self, const BlHistoryEntry *entry)
{
  GtkWidget *button = gtk_button_new ();
  g_autoptr (GDateTime) when = g_date_time_new_from_iso8601 (entry->when, NULL);
  g_autoptr (GDateTime) local = when != NULL ? g_date_time_to_local (when) : NULL;
  g_autofree char *time
      = local != NULL ? g_date_time_format (local, "%x %R") : g_strdup (entry->when);
  g_autofree char *name = entry->undone ? g_strdup_printf (_("%s, undone"), entry->label)
                                        : g_strdup (entry->label);
  GtkWidget *row = bl_pane_row (name, time, NULL);

  gtk_widget_add_css_class (gtk_widget_get_last_child (row), "dim");
  if (entry->undone)
    gtk_widget_add_css_class (row, "undone");
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "history");
  gtk_button_set_child (GTK_BUTTON (button), row);
  gtk_widget_set_tooltip_text (button, _("Go back or forward to just after this edit"));
  bl_form_call (button, name);
  g_object_set_data_full (G_OBJECT (button), "seq", g_memdup2 (&entry->seq, sizeof entry->seq),
                          g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (go_to_cb), self);
  return button;
}

static void
update_history (BlPart *part, guint what)
{
  BlPaneHistory *self = BL_PANE_HISTORY (part);
  BlBoard *board = bl_part_get_board (part);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) history = NULL;

  if ((what & BL_BOARD_MODEL) == 0)
    return;
  bl_form_clear (self->box);
  history = bl_design_history (bl_board_get_design (board), &error);
  bl_board_report (board, error);
  for (guint i = history != NULL ? history->len : 0; i > 0; i--)
    gtk_box_append (GTK_BOX (self->box), history_row (self, g_ptr_array_index (history, i - 1)));
  if (history != NULL && history->len == 0)
    gtk_box_append (GTK_BOX (self->box),
                    bl_form_text (_ ("No edit yet. Every edit is kept and can be undone, "
                                     "even after closing."),
                                  "dim"));
}

static void
bl_pane_history_class_init (BlPaneHistoryClass *klass)
{
  BL_PART_CLASS (klass)->update = update_history;
}

static void
bl_pane_history_init (BlPaneHistory *self)
{
  self->box = bl_pane_scrolled (GTK_WIDGET (self));
}

GtkWidget *
bl_pane_history_new (void)
{
  return g_object_new (BL_TYPE_PANE_HISTORY, NULL);
}
