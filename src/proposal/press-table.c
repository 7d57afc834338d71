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

/* A row without the white around it. */
static double
text_height (BlPress *press, const Frame *frame, const BlPressRow *row)
{
  double height = 0;

  if (row->kind == BL_ROW_SECTION)
    return bl_press_measure (press, BL_TYPE_STYLE_CAPTION, frame->width, row->cells[0]);
  for (guint i = 0; i < frame->n_columns && row->cells[i] != NULL; i++)
    height = MAX (height, bl_press_measure (press, row_style (row), column_width (frame, i),
                                            row->cells[i]));
  return height;
}

static double
padded (const BlPress *press, const BlPressRow *row, double text, double pad)
{
  if (row->kind == BL_ROW_SECTION)
    return text + 3 * pad;
  return MIN (text + 2 * pad, press->bottom - press->top - 30);
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
  gboolean dry;                 /* only counting pages */
  guint pages;                  /* turned so far */
  double left, top, y, limit, deepest, heads;
  double *texts;                /* heights of the rows without padding */
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

static const BlPressRow *
row_at (const Run *run, guint i)
{
  return &g_array_index (run->table->rows, BlPressRow, i);
}

static double
height_at (const Run *run, guint i)
{
  return padded (run->press, row_at (run, i), run->texts[i], run->frame.pad);
}

/* What is left goes evenly over the lanes that are left, if it fits on this page at all. */
static void
limit_lane (Run *run, guint from)
{
  double rest = 0;

  run->limit = run->press->bottom;
  if (run->lanes == 1)
    return;
  for (guint i = from; i < run->table->rows->len; i++)
    rest += height_at (run, i);
  run->limit = MIN (run->limit, run->y + rest / (run->lanes - run->lane) + 14);
}

static void
start_lane (Run *run, guint from)
{
  run->frame.x = run->left + run->lane * (run->frame.width + 2 * GAP);
  run->y = run->top;
  if (run->dry)
    run->y += run->heads;
  else
    {
      run->press->y = run->y;
      set_heads (run->press, &run->frame);
      run->y = run->press->y;
    }
  limit_lane (run, from);
}

static void
next_lane (Run *run, guint from)
{
  run->deepest = MAX (run->deepest, run->y);
  run->lane++;
  if (run->lane == run->lanes)
    {
      run->pages++;
      if (!run->dry)
        bl_press_page (run->press, NULL, NULL);
      run->lane = 0;
      run->top = run->deepest = run->press->top;
    }
  start_lane (run, from);
}

/* The height that must be free for row @i: a title stays with its first row, a total with its last. */
static double
keep_at (const Run *run, guint i)
{
  double keep = height_at (run, i);
  guint n = run->table->rows->len;

  if (i + 1 < n
      && (row_at (run, i)->kind == BL_ROW_SECTION
          || (row_at (run, i)->kind == BL_ROW_PLAIN && row_at (run, i + 1)->kind == BL_ROW_TOTAL)))
    keep += height_at (run, i + 1);
  return keep;
}

static void
walk (Run *run)
{
  run->top = run->deepest = run->press->y;
  run->lane = run->pages = 0;
  start_lane (run, 0);
  for (guint i = 0; i < run->table->rows->len; i++)
    {
      double height = height_at (run, i);

      if (run->y + keep_at (run, i) > run->limit && i > 0)
        next_lane (run, i);
      if (!run->dry)
        {
          run->press->y = run->y;
          set_row (run->press, &run->frame, row_at (run, i), height);
        }
      run->y += height;
    }
  run->deepest = MAX (run->deepest, run->y);
}

static guint
pages_with (Run run, double pad)
{
  run.dry = TRUE;
  run.frame.pad = pad;
  walk (&run);
  return run.pages;
}

/* A table that would leave a few rows for a further page is set a little tighter instead. */
static double
choose_pad (Run *run)
{
  guint least = pages_with (*run, LEAST_PAD);
  double pad = run->frame.pad;

  while (pad > LEAST_PAD && pages_with (*run, pad) > least)
    pad -= 0.1;
  return MAX (pad, LEAST_PAD);
}

static void
run_table (BlPress *press, const BlPressTable *table, const BlPressColumn *columns, guint n_columns,
           double x, double width, guint lanes)
{
  double lane_width = (width - 2 * GAP * (lanes - 1)) / lanes, first = 0;
  Run run = { .press = press, .table = table, .frame = { columns, n_columns, x, lane_width, table->pad },
              .lanes = lanes, .left = x };

  if (table->rows->len == 0)
    return;
  run.texts = g_new (double, table->rows->len);
  run.heads = heads_height (press, &run.frame);
  for (guint i = 0; i < table->rows->len; i++)
    run.texts[i] = text_height (press, &run.frame, row_at (&run, i));
  for (guint i = 0; i < MIN (3, table->rows->len); i++)
    first += height_at (&run, i);
  bl_press_need (press, run.heads + first);
  run.frame.pad = choose_pad (&run);
  walk (&run);
  press->y = run.deepest + 6;
  g_free (run.texts);
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
    {
      const BlPressRow *row = &g_array_index (table->rows, BlPressRow, i);

      height += padded (press, row, text_height (press, &frame, row), table->pad);
    }
  return height;
}
