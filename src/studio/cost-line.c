/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An opened line of the estimate: the person's own quantity and rate, and whether the client may
 * choose it. */

#include "config.h"

#include "studio/cost-line.h"

#include "studio/form.h"
#include "studio/sheets.h"

#include <glib/gi18n.h>

typedef struct
{
  BlBoard *board;
  char *key, *currency;
  double si;
  GtkWidget *quantity, *rate, *choice, *back;
  gboolean updating;
} Form;

static void
form_free (gpointer data)
{
  Form *form = data;

  g_object_unref (form->board);
  g_free (form->key);
  g_free (form->currency);
  g_free (form);
}

char *
bl_money_plain (gint64 minor, const char *currency)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE], format[8];
  int digits = bl_money_digits (currency);

  g_snprintf (format, sizeof format, "%%.%df", digits);
  return g_strdup (
      g_ascii_formatd (text, sizeof text, format, (double)minor / pow (10, digits)));
}

/* Overrides of the shown alternative. */

static const BlOverride *
find_override (BlBoard *board, const char *line, const char *field)
{
  const BlModel *model = bl_board_get_model (board);

  for (guint i = 0; i < model->overrides->len; i++)
    {
      const BlOverride *one = g_ptr_array_index (model->overrides, i);

      if (one->alternative_id == bl_board_get_alternative (board) && g_str_equal (one->line, line)
          && g_str_equal (one->field, field))
        return one;
    }
  return NULL;
}

static gboolean
put_override (BlDesign *design, gpointer data, GError **error)
{
  BlOverride *override = data;

  if (!isfinite (override->value))
    return override->id == 0 || bl_design_remove (design, "override", override->id, error);
  return bl_design_put_override (design, override, error);
}

static const char *
words_for (const char *field, gboolean back)
{
  if (g_str_equal (field, "optional"))
    return back ? _("Back into the price") : _("Let the client choose");
  if (g_str_equal (field, "rate"))
    return back ? _("Back to the computed price") : _("State your own price");
  return back ? _("Back to the computed quantity") : _("State your own quantity");
}

gboolean
bl_board_put_override (BlBoard *board, const char *line, const char *field, double value)
{
  const BlOverride *old = find_override (board, line, field);
  BlOverride override = { .alternative_id = bl_board_get_alternative (board),
                          .line = (char *)line,
                          .field = (char *)field,
                          .value = value };

  if (old == NULL && !isfinite (value))
    return TRUE;
  if (old != NULL)
    {
      override.id = old->id;
      override.note = old->note;
    }
  return bl_board_edit (board, words_for (field, !isfinite (value)), put_override, &override);
}

typedef struct
{
  BlBoard *board;
  const char *const *lines;
  const char *const *fields;
} Back;

static gboolean
take_back (BlDesign *design, gpointer data, GError **error)
{
  const Back *back = data;

  for (guint i = 0; back->lines[i] != NULL; i++)
    for (guint k = 0; back->fields[k] != NULL; k++)
      {
        const BlOverride *old = find_override (back->board, back->lines[i], back->fields[k]);

        if (old != NULL && !bl_design_remove (design, "override", old->id, error))
          return FALSE;
      }
  return TRUE;
}

/* The form of a line. */

static void
quantity_given_cb (GtkWidget *entry, gpointer data)
{
  Form *form = data;
  double value;

  if (!form->updating && bl_sheet_read_number (form->board, entry, NAN, &value))
    bl_form_set_wrong (entry, !bl_board_put_override (form->board, form->key, "quantity",
                                                      value * form->si));
}

static void
rate_given_cb (GtkWidget *entry, gpointer data)
{
  Form *form = data;
  g_autofree char *text = g_strstrip (g_strdup (bl_form_get_text (entry)));
  g_autoptr (GError) error = NULL;
  gint64 minor = 0;

  if (form->updating)
    return;
  if (text[0] != '\0' && !bl_money_parse (text, form->currency, &minor, &error))
    {
      bl_form_set_wrong (entry, TRUE);
      bl_board_report (form->board, error);
      return;
    }
  bl_form_set_wrong (entry, !bl_board_put_override (form->board, form->key, "rate",
                                                    text[0] == '\0' ? NAN
                                                                    : (double)minor / form->si));
}

static void
choice_cb (GtkSwitch *choice, GParamSpec *pspec, Form *form)
{
  if (!form->updating)
    bl_board_put_override (form->board, form->key, "optional",
                           gtk_switch_get_active (choice) ? 1 : NAN);
}

static void
back_cb (GtkButton *button, Form *form)
{
  const char *const lines[] = { form->key, NULL };
  const char *const fields[] = { "quantity", "rate", NULL };
  Back back = { form->board, lines, fields };

  bl_board_edit (form->board, _("Back to the computed figures"), take_back, &back);
}

/* Back to the drawing: the plantings of a plant's line, the beds of any other. */
static void
show_cb (GtkButton *button, Form *form)
{
  const BlModel *model = bl_board_get_model (form->board);
  gint64 alternative = bl_board_get_alternative (form->board);
  gboolean plants = g_str_has_prefix (form->key, "plant:"), any = FALSE;
  const char *slug = form->key + strlen ("plant:"), *bar = strchr (form->key, '|');

  for (guint i = 0; plants && bar != NULL && i < model->plantings->len; i++)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i);
      const BlPlant *plant = bl_model_plant (model, planting->slug);
      const char *size = planting->size != NULL ? planting->size
                         : plant != NULL && plant->n_sizes > 0 ? plant->sizes[0].name : "";

      if (planting->alternative_id != alternative || !g_str_equal (size, bar + 1)
          || strlen (planting->slug) != (gsize) (bar - slug)
          || strncmp (planting->slug, slug, (gsize) (bar - slug)) != 0)
        continue;
      bl_board_select (form->board, BL_PICK_PLANTING, planting->id, any);
      any = TRUE;
    }
  for (guint i = 0; !plants && i < model->beds->len; i++)
    {
      bl_board_select (form->board, BL_PICK_BED, ((const BlBed *) model->beds->pdata[i])->id, any);
      any = TRUE;
    }
}

static gboolean
is_sum (const BlEstimateLine *line)
{
  return line->section == BL_SECTION_ADJUST || line->section == BL_SECTION_TAX;
}

static Form *
make (GtkWidget *box, BlBoard *board, const BlEstimateLine *line, const char *currency)
{
  Form *form = g_new0 (Form, 1);
  GtkWidget *quantity, *rate, *choice;
  GtkWidget *find = bl_form_button (_("Show it in the drawing"), "bl-eye-symbolic", NULL);
  g_autofree char *quantity_words = g_strdup_printf (_("Your quantity, %s"), line->unit);
  g_autofree char *rate_words
      = is_sum (line) ? g_strdup_printf (_("Your amount, %s"), currency)
                      : g_strdup_printf (_("Your price, %s"), currency);

  form->board = g_object_ref (board);
  form->quantity = bl_form_entry (NULL);
  form->rate = bl_form_entry (NULL);
  quantity = bl_form_field (quantity_words, form->quantity);
  rate = bl_form_field (rate_words, form->rate);
  choice = bl_form_switch (_("The client may choose"), &form->choice);
  form->back = bl_form_button (_("Back to the computed figures"), NULL, NULL);
  g_object_set_data_full (G_OBJECT (box), "bl-form", form, form_free);
  bl_form_on_commit (form->quantity, quantity_given_cb, form);
  bl_form_on_commit (form->rate, rate_given_cb, form);
  g_signal_connect (form->choice, "notify::active", G_CALLBACK (choice_cb), form);
  g_signal_connect (form->back, "clicked", G_CALLBACK (back_cb), form);
  g_signal_connect (find, "clicked", G_CALLBACK (show_cb), form);
  gtk_widget_set_visible (find, !is_sum (line));
  gtk_box_append (GTK_BOX (box), find);
  gtk_box_append (GTK_BOX (box), is_sum (line) ? rate : bl_form_pair (quantity, rate));
  if (is_sum (line))
    g_object_ref_sink (quantity), g_object_unref (quantity), form->quantity = NULL;
  gtk_box_append (GTK_BOX (box), choice);
  gtk_widget_set_visible (choice, !is_sum (line));
  gtk_box_append (GTK_BOX (box), form->back);
  return form;
}

/* The person's figure stands in the field; a computed one shows through where none is given. */
static void
show (GtkWidget *entry, const BlOverride *own, const char *own_text, const char *computed)
{
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), computed);
  bl_form_set_text (entry, own != NULL ? own_text : "");
}

GtkWidget *
bl_cost_line_form (GtkWidget *box, BlBoard *board, const BlEstimateLine *line, const char *currency)
{
  Form *form = box != NULL ? g_object_get_data (G_OBJECT (box), "bl-form") : NULL;
  const BlOverride *quantity = find_override (board, line->key, "quantity");
  const BlOverride *rate = find_override (board, line->key, "rate");
  double si = line->si > 0 ? line->si : 1;
  g_autofree char *computed = g_strdup_printf ("%.10g", line->quantity);
  g_autofree char *price
      = bl_money_plain (is_sum (line) ? line->amount : line->rate, currency);
  g_autofree char *own = quantity != NULL ? g_strdup_printf ("%.8g", quantity->value / si) : NULL;
  g_autofree char *own_price
      = rate != NULL ? bl_money_plain (llround (rate->value * si), currency) : NULL;

  if (form == NULL || form->board != board)
    {
      box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
      form = make (box, board, line, currency);
    }
  form->updating = TRUE;
  g_free (form->key);
  g_free (form->currency);
  form->key = g_strdup (line->key);
  form->currency = g_strdup (currency);
  form->si = si;
  if (form->quantity != NULL)
    show (form->quantity, quantity, own, computed);
  show (form->rate, rate, own_price, price);
  gtk_switch_set_active (GTK_SWITCH (form->choice), FALSE);
  gtk_widget_set_visible (form->back, quantity != NULL || rate != NULL);
  form->updating = FALSE;
  return box;
}

/* The form of what the client may choose. */

typedef struct
{
  BlBoard *board;
  char **lines; /* keys */
  GtkWidget *name;
  gboolean updating;
} Option;

static void
option_free (gpointer data)
{
  Option *option = data;

  g_object_unref (option->board);
  g_strfreev (option->lines);
  g_free (option);
}

static void
option_back_cb (GtkButton *button, Option *option)
{
  const char *const fields[] = { "optional", NULL };
  Back back = { option->board, (const char *const *) option->lines, fields };

  bl_board_edit (option->board, words_for ("optional", TRUE), take_back, &back);
}

static gboolean
put_name (BlDesign *design, gpointer data, GError **error)
{
  const Option *option = data;
  g_autofree char *name = g_strstrip (g_strdup (bl_form_get_text (option->name)));

  for (guint i = 0; option->lines[i] != NULL; i++)
    {
      const BlOverride *old = find_override (option->board, option->lines[i], "optional");
      BlOverride mark;

      if (old == NULL)
        continue;
      mark = *old;
      mark.note = name[0] != '\0' ? name : NULL;
      if (!bl_design_put_override (design, &mark, error))
        return FALSE;
    }
  return TRUE;
}

static void
name_given_cb (GtkWidget *entry, gpointer data)
{
  Option *option = data;

  if (!option->updating)
    bl_form_set_wrong (entry, !bl_board_edit (option->board, _("Name an option"), put_name, option));
}

static GtkWidget *
make_option (BlBoard *board)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *back = bl_form_button (_("Put it back into the price"), NULL, NULL);
  Option *option = g_new0 (Option, 1);

  option->board = g_object_ref (board);
  option->name = bl_form_entry (NULL);
  g_object_set_data_full (G_OBJECT (box), "bl-option", option, option_free);
  bl_form_on_commit (option->name, name_given_cb, option);
  g_signal_connect (back, "clicked", G_CALLBACK (option_back_cb), option);
  gtk_box_append (GTK_BOX (box),
                  bl_form_field (_("Its name; options of one name are one"), option->name));
  gtk_box_append (GTK_BOX (box), back);
  return box;
}

GtkWidget *
bl_cost_option_form (GtkWidget *form, BlBoard *board, const BlEstimateOption *shown)
{
  Option *option = form != NULL ? g_object_get_data (G_OBJECT (form), "bl-option") : NULL;
  g_autoptr (GPtrArray) keys = g_ptr_array_new ();

  if (option == NULL || option->board != board)
    {
      form = make_option (board);
      option = g_object_get_data (G_OBJECT (form), "bl-option");
    }
  for (guint i = 0; i < shown->lines->len; i++)
    g_ptr_array_add (keys, g_strdup (g_array_index (shown->lines, BlEstimateLine, i).key));
  g_ptr_array_add (keys, NULL);
  g_strfreev (option->lines);
  option->lines = (char **) g_ptr_array_steal (keys, NULL);
  option->updating = TRUE;
  bl_form_set_text (option->name, shown->name);
  option->updating = FALSE;
  return form;
}
