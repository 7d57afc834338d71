/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheet parts that lie on the ground: knowns, tape, features, beds. */
#include <string.h>

#include "base/error.h"
#include "design/check.h"
#include "design/sheet-private.h"

/* ---- knowns ---- */

static const char *
known_keys (BlKnownKind kind)
{
  switch (kind)
    {
    case BL_KNOWN_RECTANGLE:
      return "kind name px width depth sd click_px";
    case BL_KNOWN_LENGTH:
    case BL_KNOWN_HEIGHT:
    case BL_KNOWN_CHECK:
      return "kind name px value sd click_px";
    case BL_KNOWN_EYE:
      return "kind name value sd";
    case BL_KNOWN_POSITION:
      return "kind name px at sd click_px";
    case BL_KNOWN_RIGHT_ANGLE:
    case BL_KNOWN_PARALLEL:
    case BL_KNOWN_EQUAL_LENGTHS:
    case BL_KNOWN_HORIZON:
    case BL_KNOWN_STRAIGHT:
    case BL_KNOWN_N:
    default:
      return "kind name px sd click_px";
    }
}

static void
read_known_px (BlSheet       *sheet,
               const BlPlace *place,
               JsonObject    *object,
               BlKnown       *known)
{
  JsonArray *array = bl_sheet_array (sheet, place, object, "px");
  BlPlace here = BL_PLACE_KEY (place, "px");
  gboolean single;

  if (array == NULL)
    {
      if (bl_known_n_px (known->kind) > 0)
        bl_sheet_refuse (sheet, &here, "is missing");
      return;
    }
  /* A single click may stand without the outer brackets: [x, y]. */
  single = json_array_get_length (array) > 0
           && !JSON_NODE_HOLDS_ARRAY (json_array_get_element (array, 0));
  g_array_unref (known->px);
  if (single)
    {
      known->px = bl_points_new ();
      bl_points_add (known->px,
                     bl_sheet_point_of (sheet, &here, json_object_get_member (object, "px"), TRUE));
    }
  else
    known->px = bl_sheet_points (sheet, &here, array, TRUE);
}

static void
read_known_size (BlSheet       *sheet,
                 const BlPlace *place,
                 JsonObject    *object,
                 BlKnown       *known)
{
  BlPlace at = BL_PLACE_KEY (place, "at");
  BlPoint point;

  if (known->kind == BL_KNOWN_RECTANGLE)
    {
      known->size[0] = bl_sheet_length (sheet, place, object, "width", 0);
      known->size[1] = bl_sheet_length (sheet, place, object, "depth", 0);
    }
  else if (known->kind == BL_KNOWN_POSITION)
    {
      point = bl_sheet_point_of (sheet, &at, json_object_get_member (object, "at"), FALSE);
      known->size[0] = point.x;
      known->size[1] = point.y;
    }
  else
    known->size[0] = bl_sheet_length (sheet, place, object, "value", 0);
}

static void
read_known (BlSheet       *sheet,
            const BlPlace *here,
            JsonObject    *object)
{
  g_autoptr(BlKnown) known = bl_known_new (BL_KNOWN_LENGTH);
  const char *kind = bl_sheet_name (sheet, here, object, "kind");
  BlPlace at_kind = BL_PLACE_KEY (here, "kind");
  GError *problem = NULL;

  if (!bl_known_kind_from_name (kind, &known->kind))
    bl_sheet_refuse (sheet, &at_kind,
                     "must be rectangle, length, height, right_angle, parallel, equal_lengths, "
                     "position, horizon, straight, eye or check");
  bl_sheet_keys (sheet, here, object, known_keys (known->kind));
  known->name = g_strdup (bl_sheet_text (sheet, here, object, "name", NULL));
  read_known_px (sheet, here, object, known);
  read_known_size (sheet, here, object, known);
  known->sd = bl_sheet_length (sheet, here, object, "sd", 0);
  known->click_px = bl_sheet_number (sheet, here, object, "click_px", 0);
  if (sheet->error == NULL && !bl_design_put_known (sheet->design, known, &problem))
    bl_sheet_take (sheet, here, problem);
}

void
bl_sheet_read_knowns (BlSheet    *sheet,
                      JsonObject *root)
{
  JsonArray *array = bl_sheet_array (sheet, NULL, root, "known");
  BlPlace list = BL_PLACE_KEY (NULL, "known");

  for (guint i = 0; array != NULL && i < json_array_get_length (array) && sheet->error == NULL; i++)
    {
      BlPlace here = BL_PLACE_INDEX (&list, i);
      JsonObject *object = bl_sheet_element (sheet, &here, array, i);

      if (object != NULL)
        read_known (sheet, &here, object);
    }
}

/* ---- tape ---- */

static const char *
element_text (BlSheet       *sheet,
              const BlPlace *here,
              JsonArray     *array,
              guint          index)
{
  JsonNode *node
      = index < json_array_get_length (array) ? json_array_get_element (array, index) : NULL;

  if (node != NULL && JSON_NODE_HOLDS_VALUE (node)
      && json_node_get_value_type (node) == G_TYPE_STRING)
    return json_node_get_string (node);
  bl_sheet_refuse (sheet, here, "must be a name");
  return "";
}

static void
read_tape_points (BlSheet       *sheet,
                  const BlPlace *place,
                  JsonObject    *object,
                  BlTape        *tape)
{
  JsonArray *names = bl_sheet_array (sheet, place, object, "points");
  BlPlace list = BL_PLACE_KEY (place, "points"), at_fixed = BL_PLACE_KEY (place, "fixed");
  JsonObject *fixed;
  g_autoptr(GList) members = NULL;

  if (names == NULL)
    bl_sheet_refuse (sheet, &list, "is missing");
  for (guint i = 0; names != NULL && i < json_array_get_length (names) && sheet->error == NULL; i++)
    {
      BlPlace here = BL_PLACE_INDEX (&list, i);
      const char *name = element_text (sheet, &here, names, i);

      if (bl_tape_find (tape, name) >= 0)
        bl_sheet_refuse (sheet, &here, "“%s” stands twice", name);
      else
        bl_tape_add_point (tape, name);
    }
  fixed = bl_sheet_object (sheet, place, object, "fixed");
  members = fixed != NULL ? json_object_get_members (fixed) : NULL;
  for (GList *name = members; name != NULL && sheet->error == NULL; name = name->next)
    {
      BlPlace here = BL_PLACE_KEY (&at_fixed, name->data);
      int at = bl_tape_find (tape, name->data);
      BlPoint point
          = bl_sheet_point_of (sheet, &here, json_object_get_member (fixed, name->data), FALSE);

      if (at < 0)
        bl_sheet_refuse (sheet, &here, "is not one of the tape's points");
      else
        bl_tape_fix (tape, (guint) at, point);
    }
}

static void
read_distance (BlSheet       *sheet,
               const BlPlace *here,
               JsonNode      *node,
               BlTape        *tape)
{
  JsonArray *row = JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;
  guint n = row != NULL ? json_array_get_length (row) : 0;
  int end[2] = { -1, -1 };
  double metres, sd;

  if (n != 3 && n != 4)
    {
      bl_sheet_refuse (sheet, here,
                       "must be [from, to, distance] or [from, to, distance, standard deviation]");
      return;
    }
  for (guint i = 0; i < 2; i++)
    {
      BlPlace at = BL_PLACE_INDEX (here, i);
      const char *name = element_text (sheet, &at, row, i);

      end[i] = bl_tape_find (tape, name);
      if (end[i] < 0)
        bl_sheet_refuse (sheet, &at, "“%s” is not one of the tape's points", name);
    }
  metres = bl_sheet_length_of (sheet, here, json_array_get_element (row, 2));
  sd = n == 4 ? bl_sheet_length_of (sheet, here, json_array_get_element (row, 3)) : 0;
  if (end[0] == end[1])
    bl_sheet_refuse (sheet, here, "measures from a point to itself");
  if (!(metres > 0) || sd < 0)
    bl_sheet_refuse (sheet, here, "must be a distance of more than nothing");
  if (sheet->error == NULL)
    bl_tape_add_distance (tape, (guint) end[0], (guint) end[1], metres, sd);
}

void
bl_sheet_read_tape (BlSheet    *sheet,
                    JsonObject *root)
{
  JsonObject *object = bl_sheet_object (sheet, NULL, root, "tape");
  BlPlace here = BL_PLACE_KEY (NULL, "tape"), list = BL_PLACE_KEY (&here, "distances");
  g_autoptr(BlTape) tape = NULL;
  JsonArray *rows;
  GError *problem = NULL;

  if (object == NULL)
    return;
  bl_sheet_keys (sheet, &here, object, "points fixed distances");
  tape = bl_tape_new ();
  read_tape_points (sheet, &here, object, tape);
  rows = bl_sheet_array (sheet, &here, object, "distances");
  for (guint i = 0; rows != NULL && i < json_array_get_length (rows) && sheet->error == NULL; i++)
    {
      BlPlace at = BL_PLACE_INDEX (&list, i);

      read_distance (sheet, &at, json_array_get_element (rows, i), tape);
    }
  if (sheet->error == NULL && !bl_design_put_tape (sheet->design, tape, &problem))
    bl_sheet_take (sheet, &here, problem);
}

/* ---- features and beds ---- */

/* Of which picture's pixels an outline is, by its key; BL_FROM_PLAN when of none. */
static BlSource
pixels_of (JsonObject *object)
{
  return bl_sheet_has (object, "outline_px")        ? BL_FROM_PHOTO
         : bl_sheet_has (object, "outline_drawing") ? BL_FROM_DRAWING
                                                    : BL_FROM_PLAN;
}

static void
read_feature (BlSheet       *sheet,
              const BlPlace *here,
              JsonObject    *object)
{
  g_autoptr(BlFeature) feature = bl_feature_new ();
  const char *kind = bl_sheet_name (sheet, here, object, "kind");
  BlPlace at_kind = BL_PLACE_KEY (here, "kind");
  BlSource source = pixels_of (object);
  const char *key = bl_out_outline_key (source);
  JsonArray *points = bl_sheet_array (sheet, here, object, key);
  GError *problem = NULL;

  bl_sheet_keys (sheet, here, object,
                 "kind name outline outline_px outline_drawing corners straight open height tolerance");
  if (!bl_feature_kind_from_name (kind, &feature->kind))
    bl_sheet_refuse (sheet, &at_kind, "“%s” is not a kind of feature", kind);
  if (bl_sheet_has (object, "outline") + bl_sheet_has (object, "outline_px")
          + bl_sheet_has (object, "outline_drawing") > 1)
    bl_sheet_refuse (sheet, here, "has more than one of outline, outline_px and outline_drawing; leave "
                     "one");
  feature->name = g_strdup (bl_sheet_text (sheet, here, object, "name", NULL));
  feature->source = source;
  feature->outline = bl_sheet_outline (
      sheet, here, object, key, source != BL_FROM_PLAN,
      bl_sheet_switch (sheet, here, object, "open",
                       bl_feature_kind_is_line (feature->kind)
                           || (points != NULL && json_array_get_length (points) == 2)));
  feature->height = bl_sheet_length (sheet, here, object, "height", 0);
  feature->tolerance = bl_sheet_length (sheet, here, object, "tolerance", 0);
  if (sheet->error == NULL && !bl_design_put_feature (sheet->design, feature, &problem))
    bl_sheet_take (sheet, here, problem);
}

void
bl_sheet_read_features (BlSheet    *sheet,
                        JsonObject *root)
{
  JsonArray *array = bl_sheet_array (sheet, NULL, root, "features");
  BlPlace list = BL_PLACE_KEY (NULL, "features");

  for (guint i = 0; array != NULL && i < json_array_get_length (array) && sheet->error == NULL; i++)
    {
      BlPlace here = BL_PLACE_INDEX (&list, i);
      JsonObject *object = bl_sheet_element (sheet, &here, array, i);

      if (object != NULL)
        read_feature (sheet, &here, object);
    }
}

static void
read_bed_points (BlSheet       *sheet,
                 const BlPlace *place,
                 JsonObject    *object,
                 BlBed         *bed)
{
  JsonArray *array = bl_sheet_array (sheet, place, object, "outline_points");
  BlPlace list = BL_PLACE_KEY (place, "outline_points");
  guint n = array != NULL ? json_array_get_length (array) : 0;
  const BlTape *tape = NULL;
  g_autoptr(BlTape) stored = NULL;
  GError *problem = NULL;

  if (!bl_tape_load (sheet->design->store, &stored, &problem))
    bl_sheet_take (sheet, place, problem);
  tape = stored;
  bed->source = BL_FROM_TAPE;
  bed->tape_points = g_new0 (char *, n + 1);
  for (guint i = 0; i < n && sheet->error == NULL; i++)
    {
      BlPlace here = BL_PLACE_INDEX (&list, i);
      const char *name = element_text (sheet, &here, array, i);

      if (tape == NULL || bl_tape_find (tape, name) < 0)
        bl_sheet_refuse (sheet, &here, "“%s” is not one of the tape's points", name);
      bed->tape_points[i] = g_strdup (name);
    }
  if (sheet->error != NULL)
    return;
  bed->tape_sharp = bl_sheet_corners (sheet, place, object, n);
  if (bl_sheet_switch (sheet, place, object, "straight", FALSE))
    {
      g_free (bed->tape_sharp);
      bed->tape_sharp = g_new (gboolean, MAX (n, 1));
      for (guint i = 0; i < n; i++)
        bed->tape_sharp[i] = TRUE;
    }
}

static void
read_bed_outline (BlSheet       *sheet,
                  const BlPlace *here,
                  JsonObject    *object,
                  BlBed         *bed)
{
  gboolean plan = bl_sheet_has (object, "outline"), photo = bl_sheet_has (object, "outline_px");
  gboolean tape = bl_sheet_has (object, "outline_points");
  gboolean drawing = bl_sheet_has (object, "outline_drawing");

  if (plan + photo + tape + drawing != 1)
    bl_sheet_refuse (sheet, here,
                     "needs one of outline, outline_px, outline_drawing and outline_points");
  else if (tape)
    read_bed_points (sheet, here, object, bed);
  else
    {
      bed->source = pixels_of (object);
      bed->outline = bl_sheet_outline (sheet, here, object, bl_out_outline_key (bed->source), !plan,
                                       FALSE);
    }
}

static void
read_bed_amounts (BlSheet       *sheet,
                  const BlPlace *here,
                  JsonObject    *object,
                  BlBed         *bed)
{
  BlPlace at_edging = BL_PLACE_KEY (here, "edging"), at_cover = BL_PLACE_KEY (here, "cover");

  if (!bl_cover_from_name (bl_sheet_text (sheet, here, object, "cover", "bark"), &bed->cover))
    bl_sheet_refuse (sheet, &at_cover, "must be bark or gravel");
  bed->sun_hours = bl_sheet_number (sheet, here, object, "sun_hours", NAN);
  bed->mulch_depth = bl_sheet_length (sheet, here, object, "depth_mulch", 0);
  bed->soil_depth = bl_sheet_length (sheet, here, object, "depth_soil", 0);
  if (bl_sheet_has (object, "soil_depth"))
    bed->soil_depth = bl_sheet_length (sheet, here, object, "soil_depth", 0);
  bed->edging = g_strdup (bl_sheet_text (sheet, here, object, "edging", NULL));
  bed->edging_share = bl_sheet_number (sheet, here, object, "edging_share", 1);
  if (bed->edging != NULL && bl_price_book_find (sheet->prices, bed->edging) == NULL)
    bl_sheet_refuse (sheet, &at_edging, "“%s” is not in the price book; add it under prices.items",
                     bed->edging);
}

static void
read_bed (BlSheet       *sheet,
          const BlPlace *here,
          JsonObject    *object)
{
  g_autoptr(BlBed) bed = bl_bed_new ();
  BlPlace at_name = BL_PLACE_KEY (here, "name");
  GError *problem = NULL;

  bl_sheet_keys (sheet, here, object,
                 "name outline outline_px outline_drawing outline_points corners straight depth_mulch depth_soil "
                 "soil_depth edging edging_share sun_hours cover");
  g_free (bed->name);
  bed->name = g_strdup (bl_sheet_name (sheet, here, object, "name"));
  if (g_hash_table_contains (sheet->beds, bed->name))
    bl_sheet_refuse (sheet, &at_name, "another bed is called “%s” too; give one another name",
                     bed->name);
  read_bed_outline (sheet, here, object, bed);
  read_bed_amounts (sheet, here, object, bed);
  if (sheet->error != NULL)
    return;
  if (!bl_design_put_bed (sheet->design, bed, &problem))
    {
      bl_sheet_take (sheet, here, problem);
      return;
    }
  g_hash_table_insert (sheet->beds, g_strdup (bed->name), g_memdup2 (&bed->id, sizeof bed->id));
  g_ptr_array_add (sheet->bed_names, g_strdup (bed->name));
}

void
bl_sheet_read_beds (BlSheet    *sheet,
                    JsonObject *root)
{
  JsonArray *array = bl_sheet_array (sheet, NULL, root, "beds");
  BlPlace list = BL_PLACE_KEY (NULL, "beds");

  for (guint i = 0; array != NULL && i < json_array_get_length (array) && sheet->error == NULL; i++)
    {
      BlPlace here = BL_PLACE_INDEX (&list, i);
      JsonObject *object = bl_sheet_element (sheet, &here, array, i);

      if (object != NULL)
        read_bed (sheet, &here, object);
    }
}
