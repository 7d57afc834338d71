/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables that break between rows and repeat their heads. */
#include "proposal/press.h"

#include <stdarg.h>

#define GAP 9.0
#define PAD 2.7
#define LEAST_PAD 1.3

BlPressTable *
bl_press_table_new (void)
{
  BlPressTable *table = g_new0 (BlPressTable, 1);

  table->rows = g_array_new (FALSE, TRUE, sizeof (BlPressRow));
  table->pad = PAD;
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
  double x, width, pad;
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
    return bl_press_measure (press, BL_TYPE_STYLE_CAPTION, frame->width, row->cells[0])
           + 3 * frame->pad;
  for (guint i = 0; i < frame->n_columns && row->cells[i] != NULL; i++)
    height = MAX (height, bl_press_measure (press, row_style (row), column_width (frame, i),
                                            row->cells[i]));
  return MIN (height + 2 * frame->pad, press->bottom - press->top - 30);
}

static gboolean
has_heads (const Frame *frame)
{
  for (guint i = 0; i < frame->n_columns; i++)
    if (frame->columns[i].title[0] != '\0')
      return TRUE;
  return FALSE;
}

static void
set_heads (BlPress *press, const Frame *frame)
{
  double x = frame->x;
  double height = 0;

  if (!has_heads (frame))
    return;
  for (guint i = 0; i < frame->n_columns; i++)
    {
      double width = column_width (frame, i);
      g_autofree char *upper = g_utf8_strup (frame->columns[i].title, -1);

      double used = bl_press_set_plain (press, BL_TYPE_STYLE_LABEL, x, press->y, width,
                                        frame->columns[i].align, 2, upper);

      height = MAX (height, used);
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
  /* A row higher than a page is cut: only a text that nobody can mean is as long. */
  int most_lines = height >= press->bottom - press->top - 30.5 ? (int) (height / 11.5) : 0;

  if (row->kind == BL_ROW_SECTION)
    {
      bl_press_set (press, BL_TYPE_STYLE_CAPTION, x, press->y + 2 * frame->pad, frame->width,
                    BL_ALIGN_LEFT, 1, row->cells[0]);
      press->y += height;
      return;
    }
  if (row->kind == BL_ROW_TOTAL)
    bl_press_rule (press, frame->x, frame->x + frame->width, press->y, 0.8);
  for (guint i = 0; i < frame->n_columns && row->cells[i] != NULL; i++)
    {
      double width = column_width (frame, i);

      bl_press_set (press, row_style (row), x, press->y + frame->pad, width,
                    frame->columns[i].align, most_lines, row->cells[i]);
      x += width + GAP;
    }
  press->y += height;
  bl_press_rule (press, frame->x, frame->x + frame->width, press->y, 0.25);
}

/* Rows in lanes: where the next row goes, and how far a lane may reach. */
typedef struct
{
  BlPress *press;
  const BlPressTable *table;
  Frame frame;
  guint lanes, lane;
  double left, top, limit, deepest;
  double *heights;
} Run;

static double
heads_height (BlPress *press, const Frame *frame)
{
  double height = 0;

  if (!has_heads (frame))
    return 0;
  for (guint i = 0; i < frame->n_columns; i++)
    {
      g_autofree char *upper = g_utf8_strup (frame->columns[i].title, -1);
      g_autofree char *markup = g_markup_escape_text (upper, -1);

      height = MAX (height, bl_press_measure (press, BL_TYPE_STYLE_LABEL, column_width (frame, i),
                                              markup));
    }
  return height + PAD + 1;
}

/* What is left goes evenly over the lanes that are left, if it fits on this page at all. */
static void
limit_lane (Run *run, guint from)
{
  double rest = 0, even;
  guint lanes = run->lanes - run->lane;

  run->limit = run->press->bottom;
  if (run->lanes == 1)
    return;
  for (guint i = from; i < run->table->rows->len; i++)
    rest += run->heights[i];
  even = run->press->y + rest / lanes + 14;
  run->limit = MIN (run->limit, even);
}

static void
start_lane (Run *run, guint from)
{
  run->frame.x = run->left + run->lane * (run->frame.width + 2 * GAP);
  run->press->y = run->top;
  set_heads (run->press, &run->frame);
  limit_lane (run, from);
}

static void
next_lane (Run *run, guint from)
{
  run->deepest = MAX (run->deepest, run->press->y);
  run->lane++;
  if (run->lane == run->lanes)
    {
      bl_press_page (run->press, NULL, NULL);
      run->lane = 0;
      run->top = run->deepest = run->press->y;
    }
  start_lane (run, from);
}

static void
set_rows (Run *run)
{
  GArray *rows = run->table->rows;
  gboolean fresh = TRUE;

  for (guint i = 0; i < rows->len; i++)
    {
      const BlPressRow *row = &g_array_index (rows, BlPressRow, i);
      double keep = run->heights[i];

      if (row->kind == BL_ROW_SECTION && i + 1 < rows->len)
        keep += run->heights[i + 1];
      /* A total never stands alone on a page. */
      if (row->kind == BL_ROW_PLAIN && i + 1 < rows->len
          && g_array_index (rows, BlPressRow, i + 1).kind == BL_ROW_TOTAL)
        keep += run->heights[i + 1];
      if (run->press->y + keep > run->limit && !fresh)
        next_lane (run, i);
      set_row (run->press, &run->frame, row, run->heights[i]);
      fresh = FALSE;
    }
}

/* A table that would leave a few rows for the next page is set a little tighter instead. */
static void
save_page (Run *run)
{
  double room = bl_press_room (run->press) - heads_height (run->press, &run->frame), all = 0, pad;
  guint n = run->table->rows->len;

  for (guint i = 0; i < n; i++)
    all += run->heights[i];
  if (run->lanes > 1 || all <= room)
    return;
  pad = run->frame.pad - (all - room) / (2.0 * n) - 0.01;
  if (pad < LEAST_PAD)
    return;
  run->frame.pad = pad;
  for (guint i = 0; i < n; i++)
    run->heights[i] = row_height (run->press, &run->frame,
                                  &g_array_index (run->table->rows, BlPressRow, i));
}

static void
run_table (BlPress *press, const BlPressTable *table, const BlPressColumn *columns, guint n_columns,
           double x, double width, guint lanes)
{
  double lane_width = (width - 2 * GAP * (lanes - 1)) / lanes;
  Run run = { press, table, { columns, n_columns, x, lane_width, table->pad }, lanes, 0, x, 0, 0,
              0,     NULL };
  double first = 0;

  if (table->rows->len == 0)
    return;
  run.heights = g_new (double, table->rows->len);
  for (guint i = 0; i < table->rows->len; i++)
    run.heights[i] = row_height (press, &run.frame, &g_array_index (table->rows, BlPressRow, i));
  save_page (&run);
  for (guint i = 0; i < MIN (3, table->rows->len); i++)
    first += run.heights[i];
  bl_press_need (press, heads_height (press, &run.frame) + first);
  run.top = run.deepest = press->y;
  start_lane (&run, 0);
  set_rows (&run);
  press->y = MAX (run.deepest, press->y) + 6;
  g_free (run.heights);
}

void
bl_press_table_set (BlPress *press, const BlPressTable *table, const BlPressColumn *columns,
                    guint n_columns, double x, double width)
{
  run_table (press, table, columns, n_columns, x, width, 1);
}

void
bl_press_table_set_lanes (BlPress *press, const BlPressTable *table, const BlPressColumn *columns,
                          guint n_columns, guint lanes)
{
  run_table (press, table, columns, n_columns, press->left, press->right - press->left, lanes);
}

double
bl_press_table_height (BlPress *press, const BlPressTable *table, const BlPressColumn *columns,
                       guint n_columns, double width)
{
  Frame frame = { columns, n_columns, 0, width, table->pad };
  double height = heads_height (press, &frame) + 6;

  for (guint i = 0; i < table->rows->len; i++)
    height += row_height (press, &frame, &g_array_index (table->rows, BlPressRow, i));
  return height;
}
