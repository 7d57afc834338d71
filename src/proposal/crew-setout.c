/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The set-out table on paper: fixed points by letter, then pair by pair the tapes of each corner and
 * plant, or their offsets from a baseline. */
#include "proposal/crew.h"

/* What is set out, and how it is called. */
typedef struct
{
  BlBook *book;
  const BlBookPart *part;
  const BlSetout *setout;
  GArray *used;                      /* fixed points in the order of their letters */
  GPtrArray *plants, *corners;       /* names of the rows */
} Crew;

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
set_points (const Crew *crew)
{
  BlBook *book = crew->book;
  BlPress *press = book->press;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  BlPressColumn columns[] = { { BL_W (book, "Point"), 0.12, BL_ALIGN_LEFT },
                              { BL_W (book, "Where to hook the tape"), 0.88, BL_ALIGN_LEFT } };

  for (guint i = 0; i < crew->used->len; i++)
    {
      guint point = g_array_index (crew->used, guint, i);
      char letter[4];
      g_autofree char *name
          = point_name (book, &g_array_index (crew->setout->fixed, BlFixedPoint, point));

      bl_crew_letter (crew->used, point, letter);
      bl_press_table_add (table, BL_ROW_PLAIN, g_strdup_printf ("<b>%s</b>", letter),
                          bl_book_escape (name), NULL);
    }
  bl_press_table_set (press, table, columns, 2, press->left, press->right - press->left);
}

/* What a row belongs to: a kind of plant, a drift of one, a bed's line. */
static char *
section_of (const Crew *crew, const BlSetoutRow *row)
{
  const BlModel *model = crew->part->layout->model;
  const BlPlanting *planting = bl_model_planting (model, row->planting_id);
  const BlBed *bed = bl_model_bed (model, row->bed_id);

  if (row->corner == 0)
    return g_strdup (bl_book_common (
        crew->book, g_array_index (crew->part->layout->placed, BlPlaced, row->placed).plant));
  if (planting != NULL)
    return g_strdup_printf (BL_W (crew->book, "Drift of %s"),
                            bl_book_common (crew->book, bl_model_plant (model, planting->slug)));
  return g_strdup_printf (BL_W (crew->book, "Bed line of “%s”"), bed != NULL ? bed->name : "");
}

/* A section's title when it is not the last one. */
static void
add_section (const Crew *crew, BlPressTable *table, const BlSetoutRow *row, char **last)
{
  g_autofree char *section = section_of (crew, row);

  if (g_strcmp0 (*last, section) == 0)
    return;
  bl_press_table_add (table, BL_ROW_SECTION, bl_book_escape (section), NULL);
  g_free (*last);
  *last = g_steal_pointer (&section);
}

static gboolean
same_pair (const GArray *rows, guint i, guint k)
{
  const BlSetoutRow *p = &g_array_index (rows, BlSetoutRow, i);
  const BlSetoutRow *q = &g_array_index (rows, BlSetoutRow, k);

  return p->a == q->a && p->b == q->b;
}

static void
add_row (BlBook *book, BlPressTable *table, const BlSetoutRow *row, const char *name)
{
  g_autofree char *from_a = bl_crew_tape (book, row->from_a);
  g_autofree char *from_b = bl_crew_tape (book, row->from_b);

  bl_press_table_add (table, BL_ROW_PLAIN, bl_book_escape (name), bl_book_escape (from_a),
                      bl_book_escape (from_b),
                      bl_book_escape (BL_W (book, row->left ? "left" : BL_SAID ("right"))),
                      g_strdup_printf ("%.0f°", row->crossing * 180 / G_PI), NULL);
}

static void
set_check (const Crew *crew, const char *title, guint a, guint b)
{
  BlPress *press = crew->book->press;
  char letter_a[4], letter_b[4];
  g_autofree char *base = bl_crew_tape (crew->book, bl_setout_base (crew->setout, a, b));
  g_autofree char *check = NULL;

  bl_crew_letter (crew->used, a, letter_a);
  bl_crew_letter (crew->used, b, letter_b);
  check = g_strdup_printf (BL_W (crew->book, "Closing check: from %s to %s the tape must read %s."),
                           letter_a, letter_b, base);
  bl_press_need (press, 120);
  bl_press_subhead (press, title);
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, press->right - press->left, check);
  press->y += 6;
}

/* Rows @from up to @to, all taped from one pair, in two lanes. */
static void
set_pair (const Crew *crew, const GArray *rows, const GPtrArray *names, guint from, guint to)
{
  BlBook *book = crew->book;
  const BlSetoutRow *first = &g_array_index (rows, BlSetoutRow, from);
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  char a[4], b[4];
  g_autofree char *title = NULL, *from_a = NULL, *from_b = NULL, *last = NULL;
  gboolean corners = first->corner > 0;

  bl_crew_letter (crew->used, first->a, a);
  bl_crew_letter (crew->used, first->b, b);
  title = g_strdup_printf (corners ? BL_W (book, "Corners, from %s and %s")
                                   : BL_W (book, "Plants, from %s and %s"),
                           a, b);
  from_a = g_strdup_printf (BL_W (book, "From %s"), a);
  from_b = g_strdup_printf (BL_W (book, "From %s"), b);
  {
    BlPressColumn columns[] = {
      { BL_W (book, corners ? "Corner" : "Plant"), 0.165, BL_ALIGN_LEFT },
      { from_a, 0.225, BL_ALIGN_RIGHT }, { from_b, 0.225, BL_ALIGN_RIGHT },
      { BL_W (book, "Side"), 0.215, BL_ALIGN_LEFT }, { BL_W (book, "Angle"), 0.17, BL_ALIGN_RIGHT },
    };

    for (guint i = from; i < to; i++)
      {
        const BlSetoutRow *row = &g_array_index (rows, BlSetoutRow, i);

        add_section (crew, table, row, &last);
        add_row (book, table, row, names->pdata[i]);
      }
    set_check (crew, title, first->a, first->b);
    bl_press_table_set_lanes (book->press, table, columns, G_N_ELEMENTS (columns), 2);
  }
}

static void
set_rows (const Crew *crew, const GArray *rows, const GPtrArray *names)
{
  guint from = 0;

  while (from < rows->len)
    {
      guint to = from + 1;

      while (to < rows->len && same_pair (rows, from, to))
        to++;
      set_pair (crew, rows, names, from, to);
      from = to;
    }
}

static void
flow (BlBook *book, const char *text)
{
  BlPress *press = book->press;

  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, press->right - press->left, text);
  press->y += 8;
}

static void
set_tapes (const Crew *crew)
{
  BlBook *book = crew->book;
  g_autofree char *text = NULL;

  bl_press_page (book->press, BL_W (book, "Set-out table"), BL_W (book, "Set-out table"));
  text = g_strconcat (
      BL_W (book, "Hook one tape on each of the two points named and hold the plant where "
                  "the two readings meet."),
      " ", BL_W (book, "Sides are named as seen when looking from the first point to the second."),
      " ",
      BL_W (book, "The angle is the one at which the tapes cross: the nearer to 90°, the truer."),
      " ", BL_W (book, "Mark the corners first and join them with paint; the plan of outlines shows "
                       "how."),
      NULL);
  flow (book, text);
  set_points (crew);
  set_rows (crew, crew->setout->corners, crew->corners);
  set_rows (crew, crew->setout->rows, crew->plants);
}

static void
add_offset (const Crew *crew, BlPressTable *table, const BlOffsetRow *offset, char **last)
{
  BlBook *book = crew->book;
  const BlSetoutRow *row = &g_array_index (offset->corner ? crew->setout->corners : crew->setout->rows,
                                           BlSetoutRow, offset->row);
  const char *name = (offset->corner ? crew->corners : crew->plants)->pdata[offset->row];
  g_autofree char *along = bl_crew_tape (book, offset->along);
  g_autofree char *off = bl_crew_tape (book, offset->off);

  add_section (crew, table, row, last);
  bl_press_table_add (table, BL_ROW_PLAIN, bl_book_escape (name), bl_book_escape (along),
                      bl_book_escape (off),
                      bl_book_escape (BL_W (book, offset->left ? "left" : BL_SAID ("right"))), NULL);
}

/* Offsets @from up to @to, all from one baseline. */
static void
set_baseline (const Crew *crew, guint from, guint to)
{
  BlBook *book = crew->book;
  const GArray *offsets = crew->setout->offsets;
  const BlOffsetRow *first = &g_array_index (offsets, BlOffsetRow, from);
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  g_autofree char *title = NULL, *last = NULL;
  char a[4], b[4];
  BlPressColumn columns[] = {
    { BL_W (book, "Place"), 0.2, BL_ALIGN_LEFT }, { BL_W (book, "Along"), 0.28, BL_ALIGN_RIGHT },
    { BL_W (book, "Off"), 0.28, BL_ALIGN_RIGHT }, { BL_W (book, "Side"), 0.24, BL_ALIGN_LEFT },
  };

  bl_crew_letter (crew->used, first->a, a);
  bl_crew_letter (crew->used, first->b, b);
  title = g_strdup_printf (BL_W (book, "Baseline from %s to %s"), a, b);
  for (guint i = from; i < to; i++)
    add_offset (crew, table, &g_array_index (offsets, BlOffsetRow, i), &last);
  set_check (crew, title, first->a, first->b);
  bl_press_table_set_lanes (book->press, table, columns, G_N_ELEMENTS (columns), 2);
}

static void
set_offsets (const Crew *crew, gboolean with_points)
{
  BlBook *book = crew->book;
  const GArray *offsets = crew->setout->offsets;
  g_autofree char *text = NULL;
  guint from = 0;

  bl_press_page (book->press, BL_W (book, "Offsets from a baseline"),
                 BL_W (book, "Offsets from a baseline"));
  text = g_strconcat (
      BL_W (book, "Lay a tape from the first point to the second and leave it there. Go along it, "
                  "then square off it."),
      " ", BL_W (book, "A minus means before the first point."), " ",
      BL_W (book, "Sides are named as seen when looking from the first point to the second."), NULL);
  flow (book, text);
  if (with_points)
    set_points (crew);
  while (from < offsets->len)
    {
      const BlOffsetRow *first = &g_array_index (offsets, BlOffsetRow, from);
      guint to = from + 1;

      while (to < offsets->len && g_array_index (offsets, BlOffsetRow, to).a == first->a
             && g_array_index (offsets, BlOffsetRow, to).b == first->b)
        to++;
      set_baseline (crew, from, to);
      from = to;
    }
}

void
bl_crew_setout (BlBook *book, const BlBookPart *part, const BlSetout *setout, BlSetoutWays ways)
{
  g_autoptr (GArray) used = bl_crew_points (setout, ways);
  g_autoptr (GPtrArray) plants = bl_crew_names (part, setout);
  g_autoptr (GPtrArray) corners = bl_crew_corner_names (part, setout);
  Crew crew = { book, part, setout, used, plants, corners };

  if (ways & BL_SETOUT_TAPES)
    set_tapes (&crew);
  if (ways & BL_SETOUT_OFFSETS)
    set_offsets (&crew, (ways & BL_SETOUT_TAPES) == 0);
}
