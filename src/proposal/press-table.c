/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables that break between rows and repeat their heads. */
#include "proposal/press.h"

#include <stdarg.h>

#define GAP 9.0
#define PAD 3.2

BlPressTable *
bl_press_table_new (void)
{
  BlPressTable *table = g_new0 (BlPressTable, 1);

  table->rows = g_array_new (FALSE, TRUE, sizeof (BlPressRow));
  return table;
}

void
bl_press_table_free (BlPressTable *table)
{
  for (guint i = 0; i < table->rows->len; i++)
    g_strfreev (g_array_index (table->rows, BlPressRow, i).cells);
  g_array_unref (table->rows);
  g_free (table);
}

void
bl_press_table_add (BlPressTable *table, BlPressRowKind kind, ...)
{
  g_autoptr (GPtrArray) cells = g_ptr_array_new ();
  BlPressRow row = { kind, NULL };
  va_list args;

  va_start (args, kind);
  for (char *cell = va_arg (args, char *); cell != NULL; cell = va_arg (args, char *))
    g_ptr_array_add (cells, cell);
  va_end (args);
  g_ptr_array_add (cells, NULL);
  row.cells = (char **) g_ptr_array_free (g_steal_pointer (&cells), FALSE);
  g_array_append_val (table->rows, row);
}

typedef struct
{
  const BlPressColumn *columns;
  guint n_columns;
  double x, width;
} Frame;

static double
column_width (const Frame *frame, guint i)
{
  double total = 0;

  for (guint k = 0; k < frame->n_columns; k++)
    total += frame->columns[k].share;
  return (frame->width - GAP * (frame->n_columns - 1)) * frame->columns[i].share / total;
}

static BlTypeStyle
row_style (const BlPressRow *row)
{
  return row->kind == BL_ROW_PLAIN ? BL_TYPE_STYLE_TABLE : BL_TYPE_STYLE_STRONG;
}

static double
row_height (BlPress *press, const Frame *frame, const BlPressRow *row)
{
  double height = 0;

  if (row->kind == BL_ROW_SECTION)
    return bl_press_measure (press, BL_TYPE_STYLE_CAPTION, frame->width, row->cells[0]) + 3 * PAD;
  for (guint i = 0; i < frame->n_columns && row->cells[i] != NULL; i++)
    height = MAX (height, bl_press_measure (press, row_style (row), column_width (frame, i),
                                            row->cells[i]));
  return height + 2 * PAD;
}

static void
set_heads (BlPress *press, const Frame *frame)
{
  double x = frame->x;
  double height = 0;

  for (guint i = 0; i < frame->n_columns; i++)
    {
      double width = column_width (frame, i);
      g_autofree char *upper = g_utf8_strup (frame->columns[i].title, -1);

      height = MAX (height, bl_press_set_plain (press, BL_TYPE_STYLE_LABEL, x, press->y, width,
                                                frame->columns[i].align, 2, upper));
      x += width + GAP;
    }
  press->y += height + PAD;
  bl_press_rule (press, frame->x, frame->x + frame->width, press->y, 0.8);
  press->y += 1;
}

static void
set_row (BlPress *press, const Frame *frame, const BlPressRow *row, double height)
{
  double x = frame->x;

  if (row->kind == BL_ROW_SECTION)
    {
      bl_press_set (press, BL_TYPE_STYLE_CAPTION, x, press->y + 2 * PAD, frame->width,
                    BL_ALIGN_LEFT, 1, row->cells[0]);
      press->y += height;
      return;
    }
  if (row->kind == BL_ROW_TOTAL)
    bl_press_rule (press, frame->x, frame->x + frame->width, press->y, 0.8);
  for (guint i = 0; i < frame->n_columns && row->cells[i] != NULL; i++)
    {
      double width = column_width (frame, i);

      bl_press_set (press, row_style (row), x, press->y + PAD, width, frame->columns[i].align, 0,
                    row->cells[i]);
      x += width + GAP;
    }
  press->y += height;
  bl_press_rule (press, frame->x, frame->x + frame->width, press->y, 0.25);
}

void
bl_press_table_set (BlPress *press, const BlPressTable *table, const BlPressColumn *columns,
                    guint n_columns, double x, double width)
{
  Frame frame = { columns, n_columns, x, width };

  if (bl_press_room (press) < 60)
    bl_press_page (press, NULL, NULL);
  set_heads (press, &frame);
  for (guint i = 0; i < table->rows->len; i++)
    {
      const BlPressRow *row = &g_array_index (table->rows, BlPressRow, i);
      double height = row_height (press, &frame, row);
      double keep = height;

      if (row->kind == BL_ROW_SECTION && i + 1 < table->rows->len)
        keep += row_height (press, &frame, &g_array_index (table->rows, BlPressRow, i + 1));
      if (bl_press_room (press) < keep && press->y > press->top + 40)
        {
          bl_press_page (press, NULL, NULL);
          set_heads (press, &frame);
        }
      set_row (press, &frame, row, height);
    }
  press->y += 6;
}
