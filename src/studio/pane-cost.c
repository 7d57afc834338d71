/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pane of cost: the estimate line by line, each opening to its arithmetic and to the person's own
 * figures; what the client may choose; the range; the way to the price book. */

#include "config.h"

#include "base/csv.h"
#include "studio/cost-line.h"
#include "studio/follow.h"
#include "studio/form.h"
#include "studio/ledger.h"
#include "studio/panes.h"
#include "studio/reckon.h"

#include <glib/gi18n.h>

#define BL_TYPE_PANE_COST (bl_pane_cost_get_type ())
G_DECLARE_FINAL_TYPE (BlPaneCost, bl_pane_cost, BL, PANE_COST, BlPart)

struct _BlPaneCost
{
  BlPart parent_instance;

  GtkWidget *total, *range, *invented, *head;
  BlLedger *ledger;
};

G_DEFINE_FINAL_TYPE (BlPaneCost, bl_pane_cost, BL_TYPE_PART)

static const BlEstimate *
present (BlBoard *board)
{
  const BlFollowing *following = bl_board_get_following (board);
  BlReckoning *reckoning = bl_board_get_reckoning (board);

  if (following != NULL)
    return following->estimate;
  return reckoning != NULL ? reckoning->estimate : NULL;
}

static const BlEstimateOption *
find_option (const BlEstimate *estimate, const char *key)
{
  for (guint i = 0; i < estimate->options->len; i++)
    {
      const BlEstimateOption *option = &g_array_index (estimate->options, BlEstimateOption, i);

      if (option->lines->len > 0
          && g_str_equal (g_array_index (option->lines, BlEstimateLine, 0).key, key))
        return option;
    }
  return NULL;
}

static GtkWidget *
form_for (GtkWidget *form, const char *key, gpointer data)
{
  BlPaneCost *self = data;
  BlBoard *board = bl_part_get_board (BL_PART (self));
  const BlEstimate *estimate = present (board);

  if (estimate == NULL)
    return NULL;
  if (g_str_has_prefix (key, "option:"))
    {
      const BlEstimateOption *option = find_option (estimate, key + strlen ("option:"));

      return option != NULL ? bl_cost_option_form (form, board, option) : NULL;
    }
  for (guint i = 0; i < estimate->lines->len; i++)
    {
      const BlEstimateLine *line = &g_array_index (estimate->lines, BlEstimateLine, i);

      if (g_str_equal (line->key, key))
        return bl_cost_line_form (form, board, line, estimate->currency);
    }
  return NULL;
}

static void
add_mark (GString *under, const char *mark)
{
  g_string_append_printf (under, "%s%s", under->len > 0 ? " · " : "", mark);
}

/* The arithmetic step by step, one a line, down to what the row says. */
static char *
steps_of (const BlEstimateLine *line, const char *rate, const char *amount)
{
  g_auto (GStrv) parts = g_strsplit (line->how != NULL ? line->how : "", "; ", -1);
  g_autofree char *steps = g_strjoinv ("\n", parts);

  if (line->section == BL_SECTION_ADJUST || line->section == BL_SECTION_TAX)
    return g_strdup_printf ("%s%s= %s", steps, steps[0] != '\0' ? "\n" : "", amount);
  return g_strdup_printf ("%s%s%.10g %s × %s = %s", steps, steps[0] != '\0' ? "\n" : "",
                          line->quantity, line->unit, rate, amount);
}

static void
show_line (BlPaneCost *self, const BlEstimateLine *line, const char *currency)
{
  gboolean sum = line->section == BL_SECTION_ADJUST || line->section == BL_SECTION_TAX;
  g_autofree char *amount = bl_money_format (line->amount, currency);
  g_autofree char *rate = bl_money_format (line->rate, currency);
  g_autofree char *plain_rate = bl_money_plain (line->rate, currency);
  g_autofree char *plain_amount = bl_money_plain (line->amount, currency);
  g_autofree char *quantity = g_strdup_printf ("%.10g", line->quantity);
  g_autofree char *cells
      = sum ? bl_csv_tabbed (line->name, "", "", "", plain_amount, NULL)
            : bl_csv_tabbed (line->name, quantity, line->unit, plain_rate, plain_amount, NULL);
  GString *under = g_string_new (NULL);
  g_autofree char *steps = steps_of (line, rate, amount);
  BlLedgerRow row = { line->key, line->name, NULL, amount, steps, cells };

  if (!sum)
    g_string_append_printf (under, "%.10g %s × %s", line->quantity, line->unit, rate);
  if (line->overridden)
    add_mark (under, _("your figure"));
  if (line->invented)
    add_mark (under, _("invented price"));
  row.under = under->str;
  bl_ledger_row (self->ledger, &row);
  g_string_free (under, TRUE);
}

static void
show_options (BlPaneCost *self, const BlEstimate *estimate)
{
  if (estimate->options->len == 0)
    return;
  bl_ledger_heading (self->ledger, _("The client may choose"), NULL);
  for (guint i = 0; i < estimate->options->len; i++)
    {
      const BlEstimateOption *option = &g_array_index (estimate->options, BlEstimateOption, i);
      g_autofree char *amount = bl_money_format (option->price, estimate->currency);
      g_autofree char *more = g_strdup_printf (option->price < 0 ? "%s" : "+ %s", amount);
      g_autofree char *plain = bl_money_plain (option->price, estimate->currency);
      g_autofree char *cells = bl_csv_tabbed (option->name, "", "", "", plain, NULL);
      g_autofree char *key = NULL;
      GString *how = g_string_new (NULL);

      if (option->lines->len == 0)
        continue;
      key = g_strconcat ("option:", g_array_index (option->lines, BlEstimateLine, 0).key, NULL);
      for (guint k = 0; k < option->lines->len; k++)
        {
          const BlEstimateLine *line = &g_array_index (option->lines, BlEstimateLine, k);
          g_autofree char *each = bl_money_format (line->amount, estimate->currency);

          g_string_append_printf (how, "%s%s, %s: %s", k > 0 ? "\n" : "", line->name, each,
                                  line->how != NULL ? line->how : "");
        }
      bl_ledger_row (self->ledger,
                     &(BlLedgerRow) { key, option->name, _("not in the total; with its share of all"),
                                      more, how->str, cells });
      g_string_free (how, TRUE);
    }
}

static void
show_deposit (BlPaneCost *self, const BlEstimate *estimate)
{
  g_autofree char *deposit = bl_money_format (estimate->deposit, estimate->currency);
  g_autofree char *plain = bl_money_plain (estimate->deposit, estimate->currency);
  g_autofree char *total = bl_money_plain (estimate->total, estimate->currency);
  g_autofree char *money = bl_money_format (estimate->total, estimate->currency);
  g_autofree char *total_cells = bl_csv_tabbed (_("Total"), "", "", "", total, NULL);
  g_autofree char *cells = bl_csv_tabbed (_("Deposit"), "", "", "", plain, NULL);

  bl_ledger_heading (self->ledger, _("Together"), NULL);
  bl_ledger_row (self->ledger, &(BlLedgerRow) { "sum:total", _("Total"), NULL, money,
                                                _("The sum of all lines above."), total_cells });
  if (estimate->deposit > 0)
    bl_ledger_row (self->ledger,
                   &(BlLedgerRow) { "sum:deposit", _("Deposit"), NULL, deposit,
                                    _ ("The firm's share of the total on signing, up to its cap; what "
                                       "may be asked is for local law to say."),
                                    cells });
}

static void
show_estimate (BlPaneCost *self, const BlEstimate *estimate, gboolean following)
{
  g_autofree char *total = bl_money_format (estimate->total, estimate->currency);
  g_autofree char *low = bl_money_format (estimate->total_low, estimate->currency);
  g_autofree char *high = bl_money_format (estimate->total_high, estimate->currency);
  g_autofree char *range = g_strdup_printf (_("%s to %s by what the measured area leaves open"), low,
                                            high);
  int section = -1;

  gtk_label_set_text (GTK_LABEL (self->total), total);
  gtk_label_set_text (GTK_LABEL (self->range), following ? _("Follows the line; the exact sum and its range come on letting go")
                                               : estimate->total_low == estimate->total_high
                                                   ? _("The area is stated, not measured")
                                                   : range);
  gtk_widget_set_visible (self->head, TRUE);
  gtk_widget_set_visible (self->invented, estimate->any_invented);
  bl_ledger_begin (self->ledger);
  for (guint i = 0; i < estimate->lines->len; i++)
    {
      const BlEstimateLine *line = &g_array_index (estimate->lines, BlEstimateLine, i);

      if ((int)line->section != section)
        {
          g_autofree char *sum
              = bl_money_format (estimate->section_total[line->section], estimate->currency);

          bl_ledger_heading (self->ledger, bl_section_name (line->section, bl_say_window ()), sum);
        }
      section = (int)line->section;
      show_line (self, line, estimate->currency);
    }
  show_deposit (self, estimate);
  show_options (self, estimate);
  bl_ledger_end (self->ledger);
}

static void
update (BlPart *part, guint what)
{
  BlPaneCost *self = BL_PANE_COST (part);
  BlBoard *board = bl_part_get_board (part);
  const BlEstimate *estimate = present (board);

  if ((what & (BL_BOARD_RECKON | BL_BOARD_MODEL | BL_BOARD_FOLLOW)) == 0 || estimate == NULL)
    return;
  if ((what & BL_BOARD_ALL) == BL_BOARD_ALL)
    bl_ledger_open (self->ledger, NULL);
  show_estimate (self, estimate, bl_board_get_following (board) != NULL);
}

static void
bl_pane_cost_finalize (GObject *object)
{
  bl_ledger_free (BL_PANE_COST (object)->ledger);
  G_OBJECT_CLASS (bl_pane_cost_parent_class)->finalize (object);
}

static void
bl_pane_cost_class_init (BlPaneCostClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
  G_OBJECT_CLASS (klass)->finalize = bl_pane_cost_finalize;
}

static void
bl_pane_cost_init (BlPaneCost *self)
{
  GtkWidget *all, *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *book = bl_form_button (_("Price book…"), "bl-note-symbolic", "win.price-book");

  self->ledger = bl_ledger_new (box, form_for, self);
  self->head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  self->total = bl_form_text (_("Working it out…"), "total");
  self->range = bl_form_text ("", "facts");
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), self->total);
  gtk_box_append (GTK_BOX (words), self->range);
  gtk_box_append (GTK_BOX (self->head), words);
  gtk_box_append (GTK_BOX (self->head),
                  bl_ledger_copy_button (self->ledger, _("Line\tQuantity\tUnit\tPrice\tAmount")));
  gtk_box_append (GTK_BOX (self), self->head);
  all = bl_pane_scrolled (GTK_WIDGET (self));
  self->invented
      = bl_form_text (_ ("Some prices are Bedline's invented starting figures: put your own into the "
                         "price book before giving this to a client."),
                      "advice");
  gtk_widget_set_visible (self->invented, FALSE);
  gtk_widget_set_margin_top (self->invented, 6);
  gtk_box_append (GTK_BOX (all), self->invented);
  gtk_box_append (GTK_BOX (all), box);
  gtk_widget_set_halign (book, GTK_ALIGN_START);
  gtk_widget_set_margin_top (book, 10);
  gtk_box_append (GTK_BOX (all), book);
}

GtkWidget *
bl_pane_cost_new (void)
{
  return g_object_new (BL_TYPE_PANE_COST, NULL);
}
