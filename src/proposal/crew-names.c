/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the crew pack calls things: points by capital letters, plants by key and number, corners by key
 * and small letters. */
#include <math.h>
#include <string.h>

#include "proposal/crew.h"

char *
bl_crew_tape (const BlBook *book, double metres)
{
  static const char *const quarters[] = { "", "¼", "½", "¾" };
  const char *minus = metres < -1e-6 ? "−" : "";
  long n;

  if (book->model->units == BL_UNITS_METRES)
    {
      g_autofree char *figure = bl_fixed_format (fabs (metres), 2);

      return g_strconcat (minus, figure, " m", NULL);
    }
  n = lround (fabs (metres) / (BL_METRES_PER_INCH / 4));
  return g_strdup_printf ("%s%ld′ %ld%s″", minus, n / 48, n % 48 / 4, quarters[n % 4]);
}

static void
add_number (GArray *numbers, guint n)
{
  for (guint i = 0; i < numbers->len; i++)
    if (g_array_index (numbers, guint, i) == n)
      return;
  g_array_append_val (numbers, n);
}

static void
add_tape_points (const GArray *rows, GArray *used)
{
  for (guint i = 0; i < rows->len; i++)
    {
      add_number (used, g_array_index (rows, BlSetoutRow, i).a);
      add_number (used, g_array_index (rows, BlSetoutRow, i).b);
    }
}

GArray *
bl_crew_points (const BlSetout *setout, BlSetoutWays ways)
{
  GArray *used = g_array_new (FALSE, FALSE, sizeof (guint));

  if (ways & BL_SETOUT_TAPES)
    {
      add_tape_points (setout->corners, used);
      add_tape_points (setout->rows, used);
    }
  for (guint i = 0; (ways & BL_SETOUT_OFFSETS) && i < setout->offsets->len; i++)
    {
      add_number (used, g_array_index (setout->offsets, BlOffsetRow, i).a);
      add_number (used, g_array_index (setout->offsets, BlOffsetRow, i).b);
    }
  return used;
}

/* "A" ... "Z", "AA" ...; small letters from @first 'a'. */
static void
write_letters (guint i, char first, char letters[4])
{
  if (i < 26)
    g_snprintf (letters, 4, "%c", (char) (first + (char) i));
  else
    g_snprintf (letters, 4, "%c%c", (char) (first + (char) (i / 26 - 1) % 26),
                (char) (first + (char) (i % 26)));
}

void
bl_crew_letter (const GArray *used, guint point, char letter[4])
{
  letter[0] = '\0';
  for (guint i = 0; i < used->len; i++)
    if (g_array_index (used, guint, i) == point)
      write_letters (i, 'A', letter);
}

GArray *
bl_crew_marks (const BlSetout *setout, BlSetoutWays ways)
{
  GArray *marks = g_array_new (FALSE, TRUE, sizeof (BlPlanMark));
  g_autoptr (GArray) used = bl_crew_points (setout, ways);

  for (guint i = 0; i < used->len; i++)
    {
      guint point = g_array_index (used, guint, i);
      BlPlanMark mark
          = { .at = g_array_index (setout->fixed, BlFixedPoint, point).at, .square = TRUE };
      char letter[4];

      write_letters (i, 'A', letter);
      g_strlcpy (mark.text, letter, sizeof mark.text);
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

/* How many corners of its kind come before those of each drift: (planting id, count + 1). */
static GHashTable *
corners_before (const BlBookPart *part, const BlSetout *setout)
{
  const GPtrArray *plantings = part->layout->model->plantings;
  GHashTable *before = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, NULL);
  g_autoptr (GHashTable) sums = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < plantings->len; i++)
    {
      BlPlanting *planting = plantings->pdata[i];
      guint sum = GPOINTER_TO_UINT (g_hash_table_lookup (sums, planting->slug)), n = 0;

      for (guint k = 0; k < setout->corners->len; k++)
        n += g_array_index (setout->corners, BlSetoutRow, k).planting_id == planting->id;
      if (n == 0)
        continue;
      g_hash_table_insert (before, &planting->id, GUINT_TO_POINTER (sum));
      g_hash_table_insert (sums, planting->slug, GUINT_TO_POINTER (sum + n));
    }
  return before;
}

GPtrArray *
bl_crew_corner_names (const BlBookPart *part, const BlSetout *setout)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GHashTable) before = corners_before (part, setout);

  for (guint i = 0; i < setout->corners->len; i++)
    {
      const BlSetoutRow *row = &g_array_index (setout->corners, BlSetoutRow, i);
      const BlPlanting *planting = bl_model_planting (part->layout->model, row->planting_id);
      g_autofree char *key = planting != NULL ? bl_book_key (part, planting->slug) : NULL;
      char letters[4];

      if (planting == NULL)
        {
          g_ptr_array_add (names, g_strdup_printf ("%u", row->corner));
          continue;
        }
      write_letters (GPOINTER_TO_UINT (g_hash_table_lookup (before, &row->planting_id))
                         + row->corner - 1,
                     'a', letters);
      g_ptr_array_add (names, g_strdup_printf ("%s %s", key, letters));
    }
  return names;
}
