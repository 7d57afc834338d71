/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The estimate: sections or every line, terms, and where to sign. */
#include "proposal/book.h"

#include <math.h>

static char *
quantity_text (const BlEstimateLine *line)
{
  if (fabs (line->quantity - round (line->quantity)) < 1e-6)
    return g_strdup_printf ("%.0f", line->quantity);
  return g_strdup_printf ("%.2f", line->quantity);
}

static void
add_line (BlBook *book, BlPressTable *table, const BlEstimateLine *line)
{
  g_autofree char *amount = bl_book_money (book, line->amount);
  g_autofree char *rate = line->rate != 0 ? bl_book_money (book, line->rate) : g_strdup ("");
  g_autofree char *name = line->overridden ? g_strconcat (line->name, " *", NULL)
                                           : g_strdup (line->name);

  bl_press_table_add (table, BL_ROW_PLAIN, bl_book_escape (name), quantity_text (line),
                      bl_book_escape (line->unit), bl_book_escape (rate), bl_book_escape (amount),
                      NULL);
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
                            bl_book_escape (BL_W (book, bl_section_name (line->section))), NULL);
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
    columns[i + 1] = (BlPressColumn) { bl_book_part (book, i)->alternative->name, 1, BL_ALIGN_RIGHT };
  for (int s = 0; s < BL_SECTION_N; s++)
    add_summary_row (book, table, BL_ROW_PLAIN, bl_section_name ((BlSection) s), amount_of_section, s);
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

static void
set_acceptance (BlBook *book)
{
  BlPress *press = book->press;
  double x = press->left;
  double gap = 18, width = (press->right - press->left - 2 * gap) / 3;
  const char *fields[] = { BL_W (book, "Name"), BL_W (book, "Signature"), BL_W (book, "Date") };

  bl_press_need (press, 120);
  bl_press_subhead (press, BL_W (book, "Acceptance"));
  bl_press_set_plain (press, BL_TYPE_STYLE_BODY, x, press->y, 126, BL_ALIGN_LEFT, 1,
                      BL_W (book, "I accept alternative"));
  x += 130;
  for (guint i = 0; i < book->parts->len; i++)
    {
      cairo_rectangle (press->cr, x, press->y + 1.5, 10, 10);
      bl_press_color (press, bl_press_ink ());
      cairo_set_line_width (press->cr, 0.8);
      cairo_stroke (press->cr);
      bl_press_set_plain (press, BL_TYPE_STYLE_BODY, x + 16, press->y, 70, BL_ALIGN_LEFT, 1,
                          bl_book_part (book, i)->alternative->name);
      x += 92;
    }
  press->y += 52;
  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    {
      double left = press->left + i * (width + gap);

      bl_press_rule (press, left, left + width, press->y, 0.8);
      bl_press_set_plain (press, BL_TYPE_STYLE_SMALL, left, press->y + 3, width, BL_ALIGN_LEFT, 1,
                          fields[i]);
    }
  press->y += 20;
}

void
bl_page_estimate (BlBook *book)
{
  BlPress *press = book->press;
  double width = press->right - press->left;
  gboolean invented = FALSE;

  bl_press_page (press, BL_W (book, "Estimate"), BL_W (book, "Estimate"));
  set_summary (book);
  for (guint i = 0; i < book->parts->len; i++)
    {
      if (book->options->detailed)
        set_part (book, bl_book_part (book, i));
      invented |= bl_book_part (book, i)->estimate->any_invented;
    }
  bl_press_subhead (press, BL_W (book, "Terms"));
  if (book->model->prices->rules.valid_days > 0)
    {
      g_autofree char *valid = g_strdup_printf (BL_W (book, "This offer is valid for %d days from its date."),
                                                book->model->prices->rules.valid_days);

      bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width, valid);
    }
  if (book->model->notes != NULL && *book->model->notes != '\0')
    bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width, book->model->notes);
  if (invented)
    bl_press_flow_plain (press, BL_TYPE_STYLE_SMALL, press->left, width,
                         BL_W (book, "Some prices here are invented figures that came with the "
                                     "program; replace them with your own before you sign."));
  set_acceptance (book);
}
