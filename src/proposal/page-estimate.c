/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The estimate: sections or every line, terms, and where to sign. */
#include "proposal/book.h"

#include <math.h>

#define ACCEPTANCE 178.0 /* points */

static char *
quantity_text (const BlEstimateLine *line)
{
  if (fabs (line->quantity - round (line->quantity)) < 1e-6)
    return bl_fixed_format (line->quantity, 0);
  return bl_fixed_format (line->quantity, 2);
}

static void
add_line (BlBook *book, BlPressTable *table, const BlEstimateLine *line)
{
  g_autofree char *amount = bl_book_money (book, line->amount);
  g_autofree char *rate = line->rate != 0 ? bl_book_money (book, line->rate) : g_strdup ("");
  g_autofree char *name
      = g_strconcat (line->name, line->overridden ? " *" : "", NULL);

  bl_press_table_add (table, BL_ROW_PLAIN, bl_book_escape (name), quantity_text (line),
                      bl_book_escape (line->unit), bl_book_escape (rate),
                      bl_book_escape (amount), NULL);
}

static void
fill_table (BlBook *book, const BlBookPart *part, BlPressTable *table)
{
  const BlEstimate *estimate = part->estimate;
  g_autofree char *total = bl_book_money (book, estimate->total);
  int section = -1;

  for (guint i = 0; i < estimate->lines->len; i++)
    {
      const BlEstimateLine *line = &g_array_index (estimate->lines, BlEstimateLine, i);

      if ((int) line->section != section)
        bl_press_table_add (table, BL_ROW_SECTION,
                            bl_book_escape (bl_section_name (line->section, book->language)), NULL);
      section = (int) line->section;
      add_line (book, table, line);
    }
  bl_press_table_add (table, BL_ROW_TOTAL, bl_book_escape (BL_W (book, "Total")), g_strdup (""),
                      g_strdup (""), g_strdup (""), bl_book_escape (total), NULL);
}

typedef gint64 (*AmountFunc) (const BlEstimate *estimate, int section);

static gint64
amount_of_section (const BlEstimate *estimate, int section)
{
  return estimate->section_total[section];
}

static gint64
amount_of_total (const BlEstimate *estimate, int section)
{
  return estimate->total;
}

static gint64
amount_of_deposit (const BlEstimate *estimate, int section)
{
  return estimate->deposit;
}

/* One row of the summary: the same amount of each alternative. */
static void
add_summary_row (BlBook *book, BlPressTable *table, BlPressRowKind kind, const char *name,
                 AmountFunc amount, int section)
{
  BlPressRow row = { kind, g_new0 (char *, book->parts->len + 2) };
  gboolean any = FALSE;

  row.cells[0] = bl_book_escape (BL_W (book, name));
  for (guint i = 0; i < book->parts->len; i++)
    {
      gint64 minor = amount (bl_book_part (book, i)->estimate, section);
      g_autofree char *text = bl_book_money (book, minor);

      any |= minor != 0;
      row.cells[i + 1] = bl_book_escape (text);
    }
  if (any || kind == BL_ROW_TOTAL)
    g_array_append_val (table->rows, row);
  else
    g_strfreev (row.cells);
}

static void
add_range_row (BlBook *book, BlPressTable *table)
{
  BlPressRow row = { BL_ROW_PLAIN, g_new0 (char *, book->parts->len + 2) };

  row.cells[0] = bl_book_escape (BL_W (book, "Range, by the measured area"));
  for (guint i = 0; i < book->parts->len; i++)
    {
      const BlEstimate *estimate = bl_book_part (book, i)->estimate;
      g_autofree char *low = bl_book_money (book, estimate->total_low);
      g_autofree char *high = bl_book_money (book, estimate->total_high);
      g_autofree char *text = g_strdup_printf ("%s\n– %s", low, high);

      row.cells[i + 1] = bl_book_escape (text);
    }
  g_array_append_val (table->rows, row);
}

/* All alternatives in columns, section by section. */
static void
set_summary (BlBook *book)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  g_autofree BlPressColumn *columns = g_new0 (BlPressColumn, book->parts->len + 1);

  columns[0] = (BlPressColumn) { "", 1.6, BL_ALIGN_LEFT };
  for (guint i = 0; i < book->parts->len; i++)
    columns[i + 1]
        = (BlPressColumn){ bl_book_part (book, i)->alternative->name, 1, BL_ALIGN_RIGHT };
  for (int s = 0; s < BL_SECTION_N; s++)
    add_summary_row (book, table, BL_ROW_PLAIN, bl_section_name ((BlSection)s, book->language), amount_of_section,
                     s);
  add_summary_row (book, table, BL_ROW_TOTAL, "Total", amount_of_total, 0);
  add_range_row (book, table);
  add_summary_row (book, table, BL_ROW_PLAIN, "Deposit", amount_of_deposit, 0);
  bl_press_table_set (press, table, columns, book->parts->len + 1, press->left,
                      press->right - press->left);
}

static void
set_part (BlBook *book, const BlBookPart *part)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  g_autofree char *name = g_strdup_printf (BL_W (book, "Alternative %s"), part->alternative->name);
  BlPressColumn columns[] = {
    { BL_W (book, "Item"), 0.46, BL_ALIGN_LEFT }, { BL_W (book, "Quantity"), 0.12, BL_ALIGN_RIGHT },
    { BL_W (book, "Unit"), 0.1, BL_ALIGN_LEFT }, { BL_W (book, "Rate"), 0.14, BL_ALIGN_RIGHT },
    { BL_W (book, "Amount"), 0.18, BL_ALIGN_RIGHT },
  };

  bl_press_subhead (press, name);
  fill_table (book, part, table);
  bl_press_table_set (press, table, columns, G_N_ELEMENTS (columns), press->left,
                      press->right - press->left);
}

/* What may be ordered besides: hours of the calendar at the firm's hourly rate. */
static gint64
amount_of_care (const BlBook *book, const BlBookPart *part, gboolean first_year)
{
  double hours = first_year ? part->care->hours_first_year : part->care->hours_later;

  return bl_money_scale (book->model->prices->rules.labour_rate, hours);
}

static void
add_option (BlBook *book, BlPressTable *table, const char *name, gboolean first_year)
{
  BlPressRow row = { BL_ROW_PLAIN, g_new0 (char *, book->parts->len + 2) };
  gboolean any = FALSE;

  row.cells[0] = bl_book_escape (BL_W (book, name));
  for (guint i = 0; i < book->parts->len; i++)
    {
      gint64 amount = amount_of_care (book, bl_book_part (book, i), first_year);
      g_autofree char *money = bl_book_money (book, amount);
      g_autofree char *escaped = bl_book_escape (money);

      any |= amount != 0;
      row.cells[i + 1] = g_strdup_printf ("☐  %s", escaped);
    }
  if (any)
    g_array_append_val (table->rows, row);
  else
    g_strfreev (row.cells);
}

static const BlEstimateOption *
option_named (const BlEstimate *estimate, const char *name)
{
  for (guint i = 0; i < estimate->options->len; i++)
    if (g_strcmp0 (g_array_index (estimate->options, BlEstimateOption, i).name, name) == 0)
      return &g_array_index (estimate->options, BlEstimateOption, i);
  return NULL;
}

/* An option that some alternative offers, each once; the others have a dash. */
static void
add_engine_options (BlBook *book, BlPressTable *table)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < book->parts->len; i++)
    for (guint k = 0; k < bl_book_part (book, i)->estimate->options->len; k++)
      {
        char *name
            = g_array_index (bl_book_part (book, i)->estimate->options, BlEstimateOption, k).name;
        BlPressRow row = { BL_ROW_PLAIN, NULL };

        if (!g_hash_table_add (seen, name))
          continue;
        row.cells = g_new0 (char *, book->parts->len + 2);
        row.cells[0] = bl_book_escape (name);
        for (guint p = 0; p < book->parts->len; p++)
          {
            const BlEstimateOption *option = option_named (bl_book_part (book, p)->estimate, name);
            g_autofree char *money = option != NULL ? bl_book_money (book, option->price) : NULL;
            g_autofree char *escaped = bl_book_escape (money);

            row.cells[p + 1] = option != NULL ? g_strdup_printf ("☐  %s", escaped) : g_strdup ("–");
          }
        g_array_append_val (table->rows, row);
      }
}

static void
set_options (BlBook *book)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  g_autofree BlPressColumn *columns = g_new0 (BlPressColumn, book->parts->len + 1);
  g_autofree char *rate = bl_book_money (book, book->model->prices->rules.labour_rate);
  g_autofree char *text = NULL;

  columns[0] = (BlPressColumn) { "", 1.6, BL_ALIGN_LEFT };
  for (guint i = 0; i < book->parts->len; i++)
    columns[i + 1]
        = (BlPressColumn){ bl_book_part (book, i)->alternative->name, 1, BL_ALIGN_RIGHT };
  add_engine_options (book, table);
  add_option (book, table, BL_SAID ("Care by us through the first year"), TRUE);
  add_option (book, table, BL_SAID ("Care by us in each later year"), FALSE);
  if (table->rows->len == 0)
    return;
  bl_press_need (press, 110);
  bl_press_subhead (press, BL_W (book, "Options"));
  bl_press_table_set (press, table, columns, book->parts->len + 1, press->left,
                      press->right - press->left);
  text = g_strdup_printf (BL_W (book, "Tick what you want; none is in the price above. Care is the "
                                      "calendar's hours at %s an hour, before tax."),
                          rate);
  bl_press_flow_plain (press, BL_TYPE_STYLE_SMALL, press->left, press->right - press->left, text);
}

static void
set_signature_lines (BlBook *book)
{
  BlPress *press = book->press;
  double gap = 18, width = (press->right - press->left - 2 * gap) / 3;
  const char *fields[] = { BL_W (book, "Name"), BL_W (book, "Signature"), BL_W (book, "Date") };

  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    {
      double left = press->left + i * (width + gap);

      bl_press_rule (press, left, left + width, press->y, 0.8);
      bl_press_set_plain (press, BL_TYPE_STYLE_SMALL, left, press->y + 3, width, BL_ALIGN_LEFT, 1,
                          fields[i]);
    }
}

/* A box for each alternative, and lines for client and designer. */
static void
set_acceptance (BlBook *book)
{
  BlPress *press = book->press;
  double x = press->left;
  guint n = book->parts->len;
  double step = (press->right - press->left - 134) / MAX (n, 1);

  bl_press_need (press, ACCEPTANCE);
  /* Where papers are signed: at the foot. */
  press->y = press->bottom - ACCEPTANCE;
  bl_press_subhead (press, BL_W (book, "Acceptance"));
  bl_press_set_plain (press, BL_TYPE_STYLE_BODY, x, press->y, 130, BL_ALIGN_LEFT, 1,
                      BL_W (book, "I accept alternative"));
  x += 134;
  for (guint i = 0; i < n; i++)
    {
      bl_press_tick_box (press, x, press->y + 2, 9);
      bl_press_set_plain (press, BL_TYPE_STYLE_BODY, x + 15, press->y, step - 22, BL_ALIGN_LEFT, 1,
                          bl_book_part (book, i)->alternative->name);
      x += step;
    }
  for (int who = 0; who < 2; who++)
    {
      g_autofree char *upper
          = g_utf8_strup (BL_W (book, who == 0 ? "The client" : BL_SAID ("The designer")), -1);

      press->y += who == 0 ? 26 : 24;
      bl_press_set_plain (press, BL_TYPE_STYLE_LABEL, press->left, press->y, 200, BL_ALIGN_LEFT, 1,
                          upper);
      press->y += 34;
      set_signature_lines (book);
    }
  press->y += 18;
}

static void
set_terms (BlBook *book, double width)
{
  BlPress *press = book->press;
  const BlPriceRules *rules = &book->model->prices->rules;
  gboolean invented = FALSE;

  bl_press_subhead (press, BL_W (book, "Terms"));
  if (rules->valid_days > 0)
    {
      g_autofree char *last = bl_book_date (book, book->options->today + (BlDay) rules->valid_days);
      g_autofree char *valid = g_strdup_printf (
          BL_W (book, "This offer is valid for %d days from its date, until %s."),
          rules->valid_days, last);

      bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width, valid);
    }
  if (rules->deposit > 0)
    bl_press_flow_plain (
        press, BL_TYPE_STYLE_BODY, press->left, width,
        BL_W (book, "The deposit is asked for on acceptance and counts towards the total."));
  if (book->model->notes != NULL && *book->model->notes != '\0')
    bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width, book->model->notes);
  for (guint i = 0; i < book->parts->len; i++)
    invented |= bl_book_part (book, i)->estimate->any_invented
                || bl_book_part (book, i)->care->any_invented;
  press->y += 2;
  if (invented)
    bl_press_flow_plain (press, BL_TYPE_STYLE_SMALL, press->left, width,
                         BL_W (book, "Some prices here are invented figures that came with the "
                                     "program; replace them with your own before you sign."));
}

void
bl_page_estimate (BlBook *book)
{
  BlPress *press = book->press;
  double width = press->right - press->left;

  bl_press_page (press, BL_W (book, "Estimate"), BL_W (book, "Estimate"));
  set_summary (book);
  for (guint i = 0; book->options->detailed && i < book->parts->len; i++)
    set_part (book, bl_book_part (book, i));
  set_options (book);
  set_terms (book, width);
  set_acceptance (book);
}
