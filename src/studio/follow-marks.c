/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a drag does to the plants, over the picture: those that stay are in it already, those that come
 * and those that must go are drawn on top. */

#include "config.h"

#include "studio/follow.h"

#include "base/rng.h"
#include "studio/hand.h"

#define MOST_GHOSTS 40 /* drawn as plants; further ones as rings */
#define RING 20

/* Kind and place, to a tenth of a millimetre. */
static gint64
key_of (const BlPlaced *placed)
{
  guint64 key = bl_rng_mix ((guint64) placed->planting_id, (guint64) llround (placed->at.x * 1e4));

  return (gint64) bl_rng_mix (key, (guint64) llround (placed->at.y * 1e4));
}

static GHashTable *
keys_of (const BlLayout *layout)
{
  GHashTable *keys = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);

  for (guint i = 0; i < layout->placed->len; i++)
    {
      gint64 key = key_of (&g_array_index (layout->placed, BlPlaced, i));

      g_hash_table_add (keys, g_memdup2 (&key, sizeof key));
    }
  return keys;
}

/* The plant's spread on the ground, as it is seen; NULL out of sight. */
static BlPoints *
ring_of (BlBoard *board, const BlPlaced *placed)
{
  g_autoptr (BlPoints) ring = bl_points_new ();
  double r = placed->plant->spread / 2;

  for (int i = 0; i < RING; i++)
    {
      double t = 2 * G_PI * i / RING;
      BlPoint seen;

      if (!bl_board_from_plan (board, bl_add (placed->at, BL_POINT (r * cos (t), r * sin (t))), &seen))
        return NULL;
      bl_points_add (ring, seen);
    }
  return g_steal_pointer (&ring);
}

static void
mark_going (BlBoard *board, BlMarks *marks, const BlPlaced *placed)
{
  BlPoints *ring = ring_of (board, placed);

  if (ring == NULL)
    return;
  for (int i = 0; i < 2; i++)
    {
      guint at = (guint) (RING / 8 + i * RING / 4);

      bl_marks_add_segment (marks, BL_INK_WRONG, FALSE, bl_points_at (ring, at),
                            bl_points_at (ring, at + RING / 2));
    }
  bl_marks_add (marks, BL_MARK_RING, BL_INK_WRONG, TRUE, ring);
}

static void
mark_coming (BlBoard *board, BlMarks *marks, const BlPlaced *placed, gboolean ghost)
{
  BlPoint seen;

  if (!ghost)
    bl_marks_add (marks, BL_MARK_RING, BL_INK_ACTIVE, FALSE, ring_of (board, placed));
  else if (bl_board_from_plan (board, placed->at, &seen))
    bl_marks_add_ghost (marks, placed->plant, seen, placed->at);
}

void
bl_board_mark_following (BlBoard *board, BlMarks *marks)
{
  const BlFollowing *following = bl_board_get_following (board);
  const BlLayout *before = bl_board_get_layout (board);
  g_autoptr (GHashTable) old = NULL, new = NULL;
  guint ghosts = 0;

  if (following == NULL || before == NULL
      || before->alternative_id != following->layout->alternative_id)
    return;
  old = keys_of (before);
  new = keys_of (following->layout);
  for (guint i = 0; i < before->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (before->placed, BlPlaced, i);
      gint64 key = key_of (placed);

      if (!g_hash_table_contains (new, &key))
        mark_going (board, marks, placed);
    }
  for (guint i = 0; i < following->layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (following->layout->placed, BlPlaced, i);
      gint64 key = key_of (placed);

      if (!g_hash_table_contains (old, &key))
        mark_coming (board, marks, placed, ghosts++ < MOST_GHOSTS);
    }
}
