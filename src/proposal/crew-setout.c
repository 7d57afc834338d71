/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The set-out table on paper: fixed points by letter, then pair by pair the tapes of each plant. */
#include <math.h>

#include "proposal/crew.h"

char *
bl_crew_tape (const BlBook *book, double metres)
{
  static const char *const quarters[] = { "", "¼", "½", "¾" };
  long n;

  if (book->model->units == BL_UNITS_METRES)
    return g_strdup_printf ("%.2f m", metres);
  n = lround (metres / (BL_METRES_PER_INCH / 4));
  return g_strdup_printf ("%ld′ %ld%s″", n / 48, n % 48 / 4, quarters[n % 4]);
}

static gboolean
has_number (const GArray *numbers, guint n)
{
  for (guint i = 0; i < numbers->len; i++)
    if (g_array_index (numbers, guint, i) == n)
      return TRUE;
  return FALSE;
}

GArray *
bl_crew_points (const BlSetout *setout)
{
  GArray *used = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < setout->rows->len; i++)
    {
      const BlSetoutRow *row = &g_array_index (setout->rows, BlSetoutRow, i);

      if (!has_number (used, row->a))
        g_array_append_val (used, row->a);
      if (!has_number (used, row->b))
        g_array_append_val (used, row->b);
    }
  return used;
}

/* "A" ... "Z", "AA" ... */
static void
letter_of (const GArray *used, guint point, char letter[4])
{
  for (guint i = 0; i < used->len; i++)
    if (g_array_index (used, guint, i) == point)
      {
        if (i < 26)
          g_snprintf (letter, 4, "%c", (char) ('A' + i));
        else
          g_snprintf (letter, 4, "%c%c", (char) ('A' + i / 26 - 1), (char) ('A' + i % 26));
      }
}

GArray *
bl_crew_marks (const BlSetout *setout)
{
  GArray *marks = g_array_new (FALSE, TRUE, sizeof (BlPlanMark));
  g_autoptr (GArray) used = bl_crew_points (setout);

  for (guint i = 0; i < used->len; i++)
    {
      guint point = g_array_index (used, guint, i);
      BlPlanMark mark
          = { .at = g_array_index (setout->fixed, BlFixedPoint, point).at, .square = TRUE };

      letter_of (used, point, mark.text);
      g_array_append_val (marks, mark);
    }
  return marks;
}

GPtrArray *
bl_crew_names (const BlBookPart *part, const BlSetout *setout)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GHashTable) keys = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  g_autoptr (GHashTable) counts = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < setout->rows->len; i++)
    {
      const BlSetoutRow *row = &g_array_index (setout->rows, BlSetoutRow, i);
      BlPlant *plant = g_array_index (part->layout->placed, BlPlaced, row->placed).plant;
      guint n = GPOINTER_TO_UINT (g_hash_table_lookup (counts, plant)) + 1;

      if (!g_hash_table_contains (keys, plant))
        g_hash_table_insert (keys, plant, bl_book_key (part, plant->slug));
      g_hash_table_insert (counts, plant, GUINT_TO_POINTER (n));
      g_ptr_array_add (
          names, g_strdup_printf ("%s %u", (const char *)g_hash_table_lookup (keys, plant), n));
    }
  return names;
}

static char *
point_name (const BlBook *book, const BlFixedPoint *point)
{
  if (point->peg)
    return g_strdup_printf (BL_W (book, "peg %u, to be driven on the bed line first"),
                            point->corner);
  if (point->corner > 0)
    return g_strdup_printf (BL_W (book, "%s, corner %u"), BL_W (book, point->name), point->corner);
  return g_strdup (BL_W (book, point->name));
}

static void
set_points (BlBook *book, const BlSetout *setout, const GArray *used)
{
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  BlPressColumn columns[] = { { BL_W (book, "Point"), 0.12, BL_ALIGN_LEFT },
                              { BL_W (book, "Where to hook the tape"), 0.88, BL_ALIGN_LEFT } };

  for (guint i = 0; i < used->len; i++)
    {
      guint point = g_array_index (used, guint, i);
      char letter[4] = "";
      g_autofree char *name
          = point_name (book, &g_array_index (setout->fixed, BlFixedPoint, point));

      letter_of (used, point, letter);
      bl_press_table_add (table, BL_ROW_PLAIN, g_strdup_printf ("<b>%s</b>", letter),
                          bl_book_escape (name), NULL);
    }
  bl_press_table_set (press, table, columns, 2, press->left, press->right - press->left);
}

static gboolean
same_pair (const BlSetout *setout, guint i, guint k)
{
  const BlSetoutRow *p = &g_array_index (setout->rows, BlSetoutRow, i);
  const BlSetoutRow *q = &g_array_index (setout->rows, BlSetoutRow, k);

  return p->a == q->a && p->b == q->b;
}

static void
add_row (BlBook *book, BlPressTable *table, const BlSetoutRow *row, const char *name)
{
  g_autofree char *from_a = bl_crew_tape (book, row->from_a);
  g_autofree char *from_b = bl_crew_tape (book, row->from_b);

  bl_press_table_add (table, BL_ROW_PLAIN, bl_book_escape (name), bl_book_escape (from_a),
                      bl_book_escape (from_b),
                      bl_book_escape (BL_W (book, row->left ? "left" : "right")),
                      g_strdup_printf ("%.0f°", row->crossing * 180 / G_PI), NULL);
}

/* Rows @from up to @to, all taped from one pair, in two lanes. */
static void
set_pair (BlBook *book,
          const BlBookPart *part,
          const BlSetout *setout,
          const GArray *used,
          guint from,
          guint to,
          const GPtrArray *names)
{
  BlPress *press = book->press;
  const BlSetoutRow *first = &g_array_index (setout->rows, BlSetoutRow, from);
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  char a[4] = "", b[4] = "";
  g_autofree char *base = bl_crew_tape (book, bl_setout_base (setout, first->a, first->b));
  g_autofree char *title = NULL, *check = NULL, *from_a = NULL, *from_b = NULL;
  const BlPlant *plant = NULL;

  letter_of (used, first->a, a);
  letter_of (used, first->b, b);
  title = g_strdup_printf (BL_W (book, "From %s and %s"), a, b);
  check = g_strdup_printf (BL_W (book, "Closing check: from %s to %s the tape must read %s."), a, b,
                           base);
  from_a = g_strdup_printf (BL_W (book, "From %s"), a);
  from_b = g_strdup_printf (BL_W (book, "From %s"), b);
  {
    BlPressColumn columns[] = {
      { BL_W (book, "Plant"), 0.165, BL_ALIGN_LEFT }, { from_a, 0.225, BL_ALIGN_RIGHT },
      { from_b, 0.225, BL_ALIGN_RIGHT }, { BL_W (book, "Side"), 0.215, BL_ALIGN_LEFT },
      { BL_W (book, "Angle"), 0.17, BL_ALIGN_RIGHT },
    };

    for (guint i = from; i < to; i++)
      {
        const BlSetoutRow *row = &g_array_index (setout->rows, BlSetoutRow, i);
        const BlPlaced *placed = &g_array_index (part->layout->placed, BlPlaced, row->placed);

        if (placed->plant != plant)
          bl_press_table_add (table, BL_ROW_SECTION,
                              bl_book_escape (bl_book_common (book, placed->plant)), NULL);
        plant = placed->plant;
        add_row (book, table, row, names->pdata[i]);
      }
    bl_press_need (press, 120);
    bl_press_subhead (press, title);
    bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, press->right - press->left, check);
    press->y += 6;
    bl_press_table_set_lanes (press, table, columns, G_N_ELEMENTS (columns), 2);
  }
}

void
bl_crew_setout (BlBook *book, const BlBookPart *part, const BlSetout *setout)
{
  BlPress *press = book->press;
  double width = press->right - press->left;
  g_autoptr (GArray) used = bl_crew_points (setout);
  g_autoptr (GPtrArray) names = bl_crew_names (part, setout);
  g_autofree char *text = NULL;
  guint from = 0;

  bl_press_page (press, BL_W (book, "Set-out table"), BL_W (book, "Set-out table"));
  text = g_strconcat (
      BL_W (book, "Hook one tape on each of the two points named and hold the plant where "
                  "the two readings meet."),
      " ", BL_W (book, "Sides are named as seen when looking from the first point to the second."),
      " ",
      BL_W (book, "The angle is the one at which the tapes cross: the nearer to 90°, the truer."),
      NULL);
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width, text);
  press->y += 8;
  set_points (book, setout, used);
  while (from < setout->rows->len)
    {
      guint to = from + 1;

      while (to < setout->rows->len && same_pair (setout, from, to))
        to++;
      set_pair (book, part, setout, used, from, to, names);
      from = to;
    }
}
