/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tapes and traverses of any numbers: adjusted to finite places, or refused. */
#include "fuzz.h"

#include <math.h>

#include "survey/basemap.h"
#include "survey/tape.h"
#include "survey/traverse.h"

static void
try_tape (FuzzReader *reader)
{
  g_autoptr (BlTape) tape = bl_tape_new (), copy = NULL;
  g_autoptr (GError) error = NULL;
  guint n = 1 + fuzz_byte (reader) % 12;

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *name = g_strdup_printf ("P%u", i);
      guint p = bl_tape_add_point (tape, name), flags = fuzz_byte (reader);

      if (flags % 3 == 0)
        {
          double x = fuzz_number (reader), y = fuzz_number (reader);

          bl_tape_fix (tape, p, BL_POINT (x, y));
        }
    }
  for (guint k = 0; reader->left > 3 && k < 40; k++)
    {
      guint from = fuzz_byte (reader) % n, to = fuzz_byte (reader) % n;
      double distance = fuzz_number (reader);

      bl_tape_add_distance (tape, from, to, distance, k % 5 == 4 ? fuzz_number (reader) : 0.0);
    }
  copy = bl_tape_copy (tape);
  if (!bl_tape_adjust (copy, &error))
    {
      fuzz_check_error (error);
      return;
    }
  for (guint i = 0; i < copy->points->len; i++)
    {
      const BlTapePoint *p = &g_array_index (copy->points, BlTapePoint, i);

      g_assert_true (isfinite (p->at.x) && isfinite (p->at.y) && isfinite (p->sx) && isfinite (p->sy));
    }
}

static void
try_traverse (FuzzReader *reader)
{
  g_autoptr (GArray) legs = g_array_new (FALSE, TRUE, sizeof (BlTraverseLeg));
  BlTraverseRule rule = (BlTraverseRule) (fuzz_byte (reader) % 2);
  double x = fuzz_number (reader), y = fuzz_number (reader);

  while (reader->left > 3 && legs->len < 40)
    {
      BlTraverseLeg leg = { .bearing = fuzz_number (reader) };

      leg.distance = fuzz_number (reader);
      g_array_append_val (legs, leg);
    }
  g_autoptr (GError) error = NULL;
  g_autoptr (BlTraverse) traverse
    = bl_traverse_adjust (legs, BL_POINT (0, 0), BL_POINT (x, y), rule, &error);

  if (traverse == NULL)
    {
      fuzz_check_error (error);
      return;
    }
  for (guint i = 0; i < traverse->points->len; i++)
    g_assert_true (isfinite (bl_points_at (traverse->points, i).x)
                   && isfinite (bl_points_at (traverse->points, i).y));
}

static void
try_scale (FuzzReader *reader)
{
  double v[9]; /* what the program itself sets, the accuracies, stays plain */
  BlBasemap map;
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (v); i++)
    v[i] = i == 5 || i == 6 ? fuzz_byte (reader) / 16.0 : fuzz_number (reader);
  if (!bl_basemap_scale (BL_POINT (v[0], v[1]), BL_POINT (v[2], v[3]), v[4], v[5], v[6],
                         BL_POINT (v[7], v[8]), NAN, &map, &error))
    {
      fuzz_check_error (error);
      return;
    }
  g_assert_true (map.scale > 0.0 && isfinite (map.scale) && isfinite (map.scale_sd));
  bl_basemap_to_drawing (&map, bl_basemap_to_plan (&map, BL_POINT (1, 1)));
}

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  FuzzReader reader = { data, size };

  switch (fuzz_byte (&reader) % 3)
    {
    case 0:
      try_tape (&reader);
      break;
    case 1:
      try_traverse (&reader);
      break;
    default:
      try_scale (&reader);
    }
  return 0;
}
