/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plan from elsewhere: scaling a drawing, and reading polygons in projected metres. */
#include "config.h"

#include "survey/basemap.h"

#include "base/brackets.h"
#include "base/error.h"

#include <glib/gi18n-lib.h>
#include <json-glib/json-glib.h>
#include <string.h>

#define MAX_POINTS 100000
#define LEAST_LENGTH 0.001   /* metres */
#define MOST_LENGTH 100000.0 /* metres */
#define MOST_PIXELS 1e7
#define MAX_DEPTH 64 /* brackets within brackets */

gboolean
bl_basemap_scale (BlPoint    a,
                  BlPoint    b,
                  double     metres,
                  double     sd,
                  double     click_px,
                  BlPoint    a_plan,
                  double     direction,
                  BlBasemap *map,
                  GError   **error)
{
  double length = bl_dist (a, b);
  BlPoint at;

  if (!(metres >= LEAST_LENGTH && metres <= MOST_LENGTH) || !(length > 1.0 && length <= MOST_PIXELS))
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           length > 1.0 ? _("The known length of the drawing must lie between 1 mm and 100 km.")
                                        : _("The two ends of the known length lie on the same spot of the "
                                          "drawing; move one of them."));
      return FALSE;
    }
  map->scale = metres / length;
  /* The drawing's y runs down. */
  map->turn = isfinite (direction) ? remainder (direction - atan2 (-(b.y - a.y), b.x - a.x),
                                                2.0 * G_PI) : 0.0;
  map->scale_sd = hypot ((sd > 0.0 ? sd : 0.01 + metres / 1000.0) / metres,
                         G_SQRT2 * click_px / length);
  map->origin = BL_POINT (0.0, 0.0);
  at = bl_basemap_to_plan (map, a);
  map->origin = bl_sub (a_plan, at);
  return TRUE;
}

BlPoint
bl_basemap_to_plan (const BlBasemap *map,
                    BlPoint          px)
{
  double x = map->scale * px.x, y = -map->scale * px.y, c = cos (map->turn), s = sin (map->turn);

  return BL_POINT (map->origin.x + c * x - s * y, map->origin.y + s * x + c * y);
}

BlPoint
bl_basemap_to_drawing (const BlBasemap *map,
                       BlPoint          plan)
{
  double x = (plan.x - map->origin.x) / map->scale, y = (plan.y - map->origin.y) / map->scale;
  double c = cos (map->turn), s = sin (map->turn);

  return BL_POINT (c * x + s * y, -(-s * x + c * y));
}

static void
free_shape (gpointer data)
{
  BlBaseShape *shape = data;

  g_free (shape->name);
  bl_outline_free (shape->outline);
  g_free (shape);
}

typedef struct
{
  GPtrArray *shapes;
  guint n_points;
  GError **error;
} Reading;

static gboolean
refuse (Reading    *reading,
        const char *sentence)
{
  g_set_error_literal (reading->error, BL_ERROR, BL_ERROR_FILE, sentence);
  return FALSE;
}

static gboolean
is_array (JsonNode *node)
{
  return node != NULL && JSON_NODE_HOLDS_ARRAY (node);
}

static gboolean
read_position (Reading  *reading,
               JsonNode *node,
               BlPoint  *p)
{
  JsonArray *pair = is_array (node) ? json_node_get_array (node) : NULL;

  if (pair == NULL || json_array_get_length (pair) < 2)
    return refuse (reading, _("A coordinate of the map is not a pair of numbers."));
  for (guint k = 0; k < 2; k++)
    {
      JsonNode *number = json_array_get_element (pair, k);

      if (!JSON_NODE_HOLDS_VALUE (number) || (json_node_get_value_type (number) != G_TYPE_INT64
                                              && json_node_get_value_type (number) != G_TYPE_DOUBLE))
        return refuse (reading, _("A coordinate of the map is not a pair of numbers."));
    }
  *p = BL_POINT (json_array_get_double_element (pair, 0), json_array_get_double_element (pair, 1));
  if (!(fabs (p->x) < 1e9 && fabs (p->y) < 1e9))
    return refuse (reading, _("A coordinate of the map is not a finite number of metres."));
  if (++reading->n_points > MAX_POINTS)
    return refuse (reading, _("The map has more than 100,000 points; cut out the part you need."));
  return TRUE;
}

static gboolean
read_line (Reading    *reading,
           JsonNode   *node,
           gboolean    ring,
           const char *name)
{
  JsonArray *list = is_array (node) ? json_node_get_array (node) : NULL;
  g_autoptr (BlPoints) points = bl_points_new ();
  BlBaseShape *shape;

  for (guint i = 0; list != NULL && i < json_array_get_length (list); i++)
    {
      BlPoint p;

      if (!read_position (reading, json_array_get_element (list, i), &p))
        return FALSE;
      if (points->len == 0 || bl_dist (bl_points_at (points, points->len - 1), p) > 1e-9)
        bl_points_add (points, p);
    }
  if (ring && points->len > 1
      && bl_dist (bl_points_at (points, 0), bl_points_at (points, points->len - 1)) < 1e-9)
    g_array_set_size (points, points->len - 1);
  if (points->len < (ring ? 3 : 2))
    return refuse (reading, _("A shape of the map has too few points."));
  shape = g_new0 (BlBaseShape, 1);
  /* The parser takes "\202" as a byte. */
  shape->name = name != NULL ? g_utf8_make_valid (name, -1) : NULL;
  shape->outline = bl_outline_new_take (g_steal_pointer (&points), TRUE);
  shape->outline->open = !ring;
  g_ptr_array_add (reading->shapes, shape);
  return TRUE;
}

/* The outer ring; holes are not beds. */
static gboolean
read_polygon (Reading    *reading,
              JsonNode   *node,
              const char *name)
{
  JsonArray *rings = is_array (node) ? json_node_get_array (node) : NULL;

  if (rings == NULL || json_array_get_length (rings) == 0)
    return refuse (reading, _("A polygon of the map has no ring."));
  return read_line (reading, json_array_get_element (rings, 0), TRUE, name);
}

static gboolean
read_many (Reading    *reading,
           JsonNode   *node,
           gboolean    polygons,
           const char *name)
{
  JsonArray *list = is_array (node) ? json_node_get_array (node) : NULL;

  for (guint i = 0; list != NULL && i < json_array_get_length (list); i++)
    {
      JsonNode *item = json_array_get_element (list, i);

      if (!(polygons ? read_polygon (reading, item, name) : read_line (reading, item, FALSE, name)))
        return FALSE;
    }
  return TRUE;
}

static const char *
text_member (JsonObject *object,
             const char *member)
{
  JsonNode *node = json_object_get_member (object, member);

  return node != NULL && JSON_NODE_HOLDS_VALUE (node)
         && json_node_get_value_type (node) == G_TYPE_STRING ? json_node_get_string (node) : NULL;
}

static gboolean
read_geometry (Reading    *reading,
               JsonObject *geometry,
               const char *name)
{
  const char *type = text_member (geometry, "type");
  JsonNode *coordinates = json_object_get_member (geometry, "coordinates");

  if (g_strcmp0 (type, "Polygon") == 0)
    return read_polygon (reading, coordinates, name);
  if (g_strcmp0 (type, "MultiPolygon") == 0)
    return read_many (reading, coordinates, TRUE, name);
  if (g_strcmp0 (type, "LineString") == 0)
    return read_line (reading, coordinates, FALSE, name);
  if (g_strcmp0 (type, "MultiLineString") == 0)
    return read_many (reading, coordinates, FALSE, name);
  /* Points and anything else have no outline. */
  return TRUE;
}

static gboolean
read_feature (Reading    *reading,
              JsonObject *feature)
{
  JsonNode *geometry = json_object_get_member (feature, "geometry");
  JsonNode *properties = json_object_get_member (feature, "properties");
  const char *name = NULL;

  if (properties != NULL && JSON_NODE_HOLDS_OBJECT (properties))
    name = text_member (json_node_get_object (properties), "name");
  if (geometry == NULL || !JSON_NODE_HOLDS_OBJECT (geometry))
    return TRUE;
  return read_geometry (reading, json_node_get_object (geometry), name);
}

static gboolean
read_root (Reading    *reading,
           JsonObject *root)
{
  const char *type = text_member (root, "type");
  JsonNode *features = json_object_get_member (root, "features");

  if (g_strcmp0 (type, "Feature") == 0)
    return read_feature (reading, root);
  if (g_strcmp0 (type, "FeatureCollection") != 0)
    return read_geometry (reading, root, NULL);
  for (guint i = 0; is_array (features)
       && i < json_array_get_length (json_node_get_array (features)); i++)
    {
      JsonNode *item = json_array_get_element (json_node_get_array (features), i);

      if (!JSON_NODE_HOLDS_OBJECT (item) || !read_feature (reading, json_node_get_object (item)))
        return reading->error != NULL && *reading->error != NULL
               ? FALSE : refuse (reading, _("A feature of the map is not an object."));
    }
  return TRUE;
}

/* Longitude and latitude are not metres: a whole map within ±180 and ±90 that is less than half a
 * unit across shows a place of some kilometres in degrees, not a bed of half a metre. */
static gboolean
settle_origin (Reading *reading,
               BlPoint *origin)
{
  BlRect all = BL_RECT_EMPTY;

  for (guint i = 0; i < reading->shapes->len; i++)
    {
      const BlBaseShape *shape = g_ptr_array_index (reading->shapes, i);

      all = bl_rect_union (all, bl_rect_of (shape->outline->points));
    }
  if (bl_rect_is_empty (all))
    return refuse (reading, _("The map has no polygon and no line in it."));
  if (all.x0 >= -180.0 && all.x1 <= 180.0 && all.y0 >= -90.0 && all.y1 <= 90.0
      && all.x1 - all.x0 < 0.5 && all.y1 - all.y0 < 0.5)
    return refuse (reading, _("The map's coordinates look like degrees; save it in a projected system in "
                   "metres, such as the UTM zone of the place."));
  if (!isfinite (origin->x) || !isfinite (origin->y))
    *origin = BL_POINT (floor (all.x0), floor (all.y0));
  for (guint i = 0; i < reading->shapes->len; i++)
    {
      const BlBaseShape *shape = g_ptr_array_index (reading->shapes, i);

      for (guint k = 0; k < shape->outline->points->len; k++)
        bl_points_at (shape->outline->points, k)
          = bl_sub (bl_points_at (shape->outline->points, k), *origin);
    }
  return TRUE;
}

GPtrArray *
bl_geojson_read (const char *text,
                 gssize      length,
                 BlPoint    *origin,
                 GError    **error)
{
  gsize size = length < 0 ? strlen (text) : (gsize) length;
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GPtrArray) shapes = g_ptr_array_new_with_free_func (free_shape);
  g_autoptr (GError) local = NULL;
  Reading reading = { .shapes = shapes, .error = &local };
  gboolean outside;
  JsonNode *root;

  if (!g_utf8_validate (text, (gssize) size, NULL))
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_FILE,
                           _("The map is not GeoJSON: it is not readable text (UTF-8)."));
      return NULL;
    }
  if (bl_bracket_depth (text, size, &outside) > MAX_DEPTH)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                   _("The map has more than %d brackets within brackets; GeoJSON needs far fewer."), MAX_DEPTH);
      return NULL;
    }
  if (outside)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_FILE,
                           _("The map is not GeoJSON: something stands outside its outermost brackets."));
      return NULL;
    }
  if (!json_parser_load_from_data (parser, text, (gssize) size, &local))
    {
      g_autofree char *why = g_utf8_make_valid (local->message, -1);

      g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("The map is not GeoJSON: %s"), why);
      return NULL;
    }
  root = json_parser_get_root (parser);
  if (root == NULL || !JSON_NODE_HOLDS_OBJECT (root))
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_FILE, _("The map is not GeoJSON: it is no object."));
      return NULL;
    }
  if (!read_root (&reading, json_node_get_object (root)) || !settle_origin (&reading, origin))
    {
      g_propagate_error (error, g_steal_pointer (&local));
      return NULL;
    }
  return g_steal_pointer (&shapes);
}
