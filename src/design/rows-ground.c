/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of what lies on the ground: knowns, tape, features, beds. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "design/check.h"
#include "design/numbers.h"
#include "design/rows.h"

/* Frees @item and gives NULL when the row has a problem or @error says one. */
#define SETTLE(row, item, error, free_item) \
  G_STMT_START { \
    if ((error) != NULL) \
      bl_row_wrong ((row), (error)->message); \
    if ((row)->problem != NULL) \
      g_clear_pointer (&(item), free_item); \
  } G_STMT_END

gpointer
bl_known_read (BlRow *row)
{
  g_autoptr(GError) error = NULL;
  BlKnown *known = bl_known_new (BL_KNOWN_LENGTH);
  const char *kind = bl_row_peek (row, 1, BL_MAX_NAME);
  const char *px = bl_row_peek (row, 2, 64 * BL_MAX_POINTS);
  BlPoints *points = px != NULL ? bl_points_from_text (px, BL_MAX_POINTS, &error) : NULL;

  known->id = bl_row_int (row, 0, 1, G_MAXINT64);
  if (!bl_known_kind_from_name (kind, &known->kind))
    bl_row_wrong (row, _("its kind is unknown"));
  if (points != NULL)
    {
      g_array_unref (known->px);
      known->px = points;
    }
  else
    bl_row_wrong (row, _("its clicks cannot be read"));
  known->size[0] = bl_row_real (row, 3);
  known->size[1] = bl_row_real (row, 4);
  known->sd = bl_row_real (row, 5);
  known->click_px = bl_row_real (row, 6);
  known->name = bl_row_text_or_null (row, 7, BL_MAX_NAME);
  if (row->problem == NULL)
    bl_check_known (known, &error);
  SETTLE (row, known, error, bl_known_free);
  return known;
}

gboolean
bl_known_write (BlStore *store,
                BlKnown *known,
                GError **error)
{
  g_auto(BlUse) use = { NULL };
  g_autofree char *px = NULL;

  if (!bl_check_known (known, error))
    return FALSE;
  use = bl_rows_put (store, BL_TABLE_KNOWN, known->id, error);
  if (use.stmt == NULL)
    return FALSE;
  px = bl_points_to_text (known->px);
  bl_bind_text (&use, 2, bl_known_kind_name (known->kind));
  bl_bind_text (&use, 3, px);
  bl_bind_real (&use, 4, known->size[0]);
  bl_bind_real (&use, 5, known->size[1]);
  bl_bind_real (&use, 6, known->sd);
  bl_bind_real (&use, 7, known->click_px);
  bl_bind_text (&use, 8, known->name);
  return bl_rows_finish (store, BL_TABLE_KNOWN, &use, &known->id, error);
}

/* ---- features ---- */

gpointer
bl_feature_read (BlRow *row)
{
  g_autoptr(GError) error = NULL;
  BlFeature *feature = bl_feature_new ();

  feature->id = bl_row_int (row, 0, 1, G_MAXINT64);
  if (!bl_feature_kind_from_name (bl_row_peek (row, 1, BL_MAX_NAME), &feature->kind))
    bl_row_wrong (row, _("its kind is unknown"));
  feature->name = bl_row_text_or_null (row, 2, BL_MAX_NAME);
  if (!bl_source_from_name (bl_row_peek (row, 3, BL_MAX_NAME), &feature->source))
    bl_row_wrong (row, _("the space of its outline is unknown"));
  feature->outline = bl_row_outline (row, 4, 5, 6, 7);
  feature->height = bl_row_real (row, 8);
  feature->tolerance = bl_row_real (row, 9);
  if (row->problem == NULL)
    bl_check_feature (feature, FALSE, &error);
  SETTLE (row, feature, error, bl_feature_free);
  return feature;
}

gboolean
bl_feature_write (BlStore   *store,
                  BlFeature *feature,
                  GError   **error)
{
  g_auto(BlUse) use = { NULL };

  if (!bl_check_feature (feature, TRUE, error))
    return FALSE;
  use = bl_rows_put (store, BL_TABLE_FEATURE, feature->id, error);
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 2, bl_feature_kind_name (feature->kind));
  bl_bind_text (&use, 3, feature->name);
  bl_bind_text (&use, 4, bl_source_name (feature->source));
  bl_bind_outline (&use, feature->outline, 5, 6, 7, 8);
  bl_bind_real (&use, 9, feature->height);
  bl_bind_real (&use, 10, feature->tolerance);
  return bl_rows_finish (store, BL_TABLE_FEATURE, &use, &feature->id, error);
}

/* ---- beds ---- */

static void
read_tape_names (BlRow *row,
                 BlBed *bed)
{
  g_autoptr(GError) error = NULL;
  const char *names = bl_row_peek (row, 6, 16 * BL_MAX_POINTS);

  if (names == NULL)
    return;
  bed->tape_points = bl_names_from_text (names, BL_MAX_POINTS, &error);
  if (bed->tape_points == NULL
      || !bl_flags_from_text (bl_row_peek (row, 4, 16 * BL_MAX_POINTS),
                              g_strv_length (bed->tape_points), &bed->tape_sharp, &error))
    bl_row_wrong (row, error->message);
}

gpointer
bl_bed_read (BlRow *row)
{
  g_autoptr(GError) error = NULL;
  BlBed *bed = bl_bed_new ();

  bed->id = bl_row_int (row, 0, 1, G_MAXINT64);
  g_free (bed->name);
  bed->name = bl_row_text (row, 1, BL_MAX_NAME);
  if (!bl_source_from_name (bl_row_peek (row, 2, BL_MAX_NAME), &bed->source))
    bl_row_wrong (row, _("the space of its outline is unknown"));
  if (bed->source == BL_FROM_TAPE)
    read_tape_names (row, bed);
  else
    bed->outline = bl_row_outline (row, 3, 4, 5, -1);
  bed->mulch_depth = bl_row_real (row, 7);
  bed->soil_depth = bl_row_real (row, 8);
  bed->edging = bl_row_text_or_null (row, 9, BL_MAX_NAME);
  bed->edging_share = bl_row_real (row, 10);
  bed->sun_hours = bl_row_real_or_nan (row, 11);
  if (!bl_cover_from_name (bl_row_peek (row, 12, BL_MAX_NAME), &bed->cover))
    bl_row_wrong (row, _("what covers it is of an unknown kind"));
  if (row->problem == NULL)
    bl_check_bed (bed, FALSE, &error);
  SETTLE (row, bed, error, bl_bed_free);
  return bed;
}

gboolean
bl_bed_write (BlStore *store,
              BlBed   *bed,
              GError **error)
{
  g_auto(BlUse) use = { NULL };

  if (!bl_check_bed (bed, TRUE, error))
    return FALSE;
  use = bl_rows_put (store, BL_TABLE_BED, bed->id, error);
  if (use.stmt == NULL)
    return FALSE;
  bl_bind_text (&use, 2, bed->name);
  bl_bind_text (&use, 3, bl_source_name (bed->source));
  bl_bind_outline (&use, bed->outline, 4, 5, 6, -1);
  if (bed->source == BL_FROM_TAPE)
    {
      g_autofree char *names = bl_names_to_text ((const char *const *) bed->tape_points);
      g_autofree char *sharp = bl_flags_to_text (bed->tape_sharp, g_strv_length (bed->tape_points));

      bl_bind_text (&use, 5, sharp);
      bl_bind_text (&use, 7, names);
    }
  bl_bind_real (&use, 8, bed->mulch_depth);
  bl_bind_real (&use, 9, bed->soil_depth);
  bl_bind_text (&use, 10, bed->edging);
  bl_bind_real (&use, 11, bed->edging_share);
  bl_bind_real (&use, 12, bed->sun_hours);
  bl_bind_text (&use, 13, bl_cover_name (bed->cover));
  return bl_rows_finish (store, BL_TABLE_BED, &use, &bed->id, error);
}

/* ---- tape ---- */

/* A tape point and a taped distance as they stand in their rows, before they are put together. */
typedef struct
{
  gint64 id, start, finish;
  BlTapePoint point;
  BlTapeDistance distance;
} TapeRow;

static void
free_tape_row (TapeRow *row)
{
  g_free (row->point.name);
  g_free (row);
}

static gpointer
read_tape_point (BlRow *row)
{
  TapeRow *item = g_new0 (TapeRow, 1);

  item->id = bl_row_int (row, 0, 1, G_MAXINT64);
  item->point.name = bl_row_text (row, 1, BL_MAX_NAME);
  item->point.fixed = bl_row_switch (row, 2);
  item->point.at = BL_POINT (bl_row_real (row, 3), bl_row_real (row, 4));
  if (row->problem != NULL)
    g_clear_pointer (&item, free_tape_row);
  return item;
}

static gpointer
read_tape_distance (BlRow *row)
{
  TapeRow *item = g_new0 (TapeRow, 1);

  item->id = bl_row_int (row, 0, 1, G_MAXINT64);
  item->start = bl_row_int (row, 1, 1, G_MAXINT64);
  item->finish = bl_row_int (row, 2, 1, G_MAXINT64);
  item->distance.distance = bl_row_real (row, 3);
  item->distance.sd = bl_row_real (row, 4);
  if (row->problem != NULL)
    g_clear_pointer (&item, free_tape_row);
  return item;
}

static int
place_of (const GPtrArray *points,
          gint64           id)
{
  for (guint i = 0; i < points->len; i++)
    if (((TapeRow *) g_ptr_array_index (points, i))->id == id)
      return (int) i;
  return -1;
}

static BlTape *
put_together (const GPtrArray *points,
              const GPtrArray *distances)
{
  g_autoptr(BlTape) tape = bl_tape_new ();

  for (guint i = 0; i < points->len; i++)
    {
      const BlTapePoint *point = &((TapeRow *) g_ptr_array_index (points, i))->point;
      guint at = bl_tape_add_point (tape, point->name);

      /* The same name twice gives the same place twice. */
      if (at != i)
        return NULL;
      if (point->fixed)
        bl_tape_fix (tape, at, point->at);
    }
  for (guint i = 0; i < distances->len; i++)
    {
      const TapeRow *row = g_ptr_array_index (distances, i);
      int from = place_of (points, row->start), to = place_of (points, row->finish);

      if (from < 0 || to < 0 || from == to || !(row->distance.distance > 0))
        return NULL;
      bl_tape_add_distance (tape, (guint) from, (guint) to, row->distance.distance,
                            row->distance.sd);
    }
  return g_steal_pointer (&tape);
}

gboolean
bl_tape_load (BlStore *store,
              BlTape **tape,
              GError **error)
{
  g_autoptr(GPtrArray) points = g_ptr_array_new_with_free_func ((GDestroyNotify) free_tape_row);
  g_autoptr(GPtrArray) distances = g_ptr_array_new_with_free_func ((GDestroyNotify) free_tape_row);
  g_autoptr(BlTape) read = NULL;
  g_autoptr(GError) problem = NULL;

  g_clear_pointer (tape, bl_tape_free);
  if (!bl_rows_load (store, BL_TABLE_TAPE_POINT, read_tape_point, points, error)
      || !bl_rows_load (store, BL_TABLE_TAPE_DISTANCE, read_tape_distance, distances, error))
    return FALSE;
  if (points->len == 0 && distances->len == 0)
    return TRUE;
  if (points->len > BL_MAX_POINTS || distances->len > BL_MAX_POINTS)
    return bl_rows_damaged (store, BL_TABLE_TAPE_POINT, BL_MAX_POINTS, _("there are too many of them"),
                            error);
  read = put_together (points, distances);
  if (read == NULL)
    return bl_rows_damaged (store, BL_TABLE_TAPE_DISTANCE, 1,
                            _("a distance or point does not fit the others"), error);
  if (!bl_check_tape (read, &problem))
    return bl_rows_damaged (store, BL_TABLE_TAPE_DISTANCE, 1, problem->message, error);
  *tape = g_steal_pointer (&read);
  return TRUE;
}

static gboolean
insert_tape_point (BlStore           *store,
                   const BlTapePoint *point,
                   gint64             id,
                   GError           **error)
{
  g_auto(BlUse) use = bl_rows_put (store, BL_TABLE_TAPE_POINT, 0, error);

  if (use.stmt == NULL)
    return FALSE;
  bl_bind_int (&use, 1, id);
  bl_bind_text (&use, 2, point->name);
  bl_bind_int (&use, 3, point->fixed != 0);
  /* Where a free point lies is worked out, not stored. */
  bl_bind_real (&use, 4, point->fixed ? point->at.x : 0);
  bl_bind_real (&use, 5, point->fixed ? point->at.y : 0);
  return bl_rows_finish (store, BL_TABLE_TAPE_POINT, &use, &id, error);
}

static gboolean
insert_tape_distance (BlStore              *store,
                      const BlTapeDistance *distance,
                      gint64                id,
                      GError              **error)
{
  g_auto(BlUse) use = bl_rows_put (store, BL_TABLE_TAPE_DISTANCE, 0, error);

  if (use.stmt == NULL)
    return FALSE;
  bl_bind_int (&use, 1, id);
  bl_bind_int (&use, 2, (gint64) distance->from + 1);
  bl_bind_int (&use, 3, (gint64) distance->to + 1);
  bl_bind_real (&use, 4, distance->distance);
  bl_bind_real (&use, 5, distance->sd);
  return bl_rows_finish (store, BL_TABLE_TAPE_DISTANCE, &use, &id, error);
}

gboolean
bl_tape_write (BlStore      *store,
               const BlTape *tape,
               GError      **error)
{
  if (tape != NULL && !bl_check_tape (tape, error))
    return FALSE;
  if (!bl_store_exec (store, "DELETE FROM tape_distance", error)
      || !bl_store_exec (store, "DELETE FROM tape_point", error))
    return FALSE;
  for (guint i = 0; tape != NULL && i < tape->points->len; i++)
    if (!insert_tape_point (store, &g_array_index (tape->points, BlTapePoint, i), (gint64) i + 1,
                            error))
      return FALSE;
  for (guint i = 0; tape != NULL && i < tape->distances->len; i++)
    if (!insert_tape_distance (store, &g_array_index (tape->distances, BlTapeDistance, i),
                               (gint64) i + 1, error))
      return FALSE;
  return TRUE;
}
