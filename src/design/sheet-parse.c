/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading values of a design sheet, each mistake with its place. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "design/check.h"
#include "design/sheet-private.h"

/* ---- places and mistakes ---- */

static void
append_place (GString       *out,
              const BlPlace *place)
{
  if (place == NULL)
    return;
  append_place (out, place->parent);
  if (place->key == NULL)
    g_string_append_printf (out, "[%u]", place->index);
  else
    {
      g_autofree char *key = g_utf8_make_valid (place->key, (gssize) MIN (strlen (place->key), 60));

      g_string_append_printf (out, "%s%s", out->len > 0 ? "." : "", key);
    }
}

static void
set_mistake (BlSheet       *sheet,
             const BlPlace *place,
             int            code,
             const char    *what)
{
  g_autoptr(GString) text = g_string_new (NULL);
  /* The parser takes "\202" in a text as a byte, so that what is quoted need not be UTF-8. */
  g_autofree char *tail = g_utf8_make_valid (what, -1);

  append_place (text, place);
  if (text->len == 0)
    g_string_append (text, "the sheet");
  /* After a place a sentence goes on in small letters; a name or a quotation stays as it is. */
  if (g_ascii_isupper (tail[0]) && (g_ascii_islower (tail[1]) || tail[1] == ' '))
    tail[0] = g_ascii_tolower (tail[0]);
  if (g_str_has_suffix (tail, "."))
    tail[strlen (tail) - 1] = '\0';
  g_string_append_printf (text, ": %s", tail);
  g_set_error_literal (&sheet->error, BL_ERROR, code, text->str);
}

void
bl_sheet_refuse (BlSheet       *sheet,
                 const BlPlace *place,
                 const char    *format,
                 ...)
{
  g_autofree char *what = NULL;
  va_list args;

  if (sheet->error != NULL)
    return;
  va_start (args, format);
  what = g_strdup_vprintf (_(format), args);
  va_end (args);
  set_mistake (sheet, place, BL_ERROR_INPUT, what);
}

void
bl_sheet_take (BlSheet       *sheet,
               const BlPlace *place,
               GError        *problem)
{
  if (problem == NULL)
    return;
  if (sheet->error == NULL)
    {
      gboolean system
          = problem->domain == BL_ERROR
            && (problem->code == BL_ERROR_FAILED || problem->code == BL_ERROR_CANCELLED);

      if (system)
        g_propagate_error (&sheet->error, g_steal_pointer (&problem));
      else
        set_mistake (sheet, place, BL_ERROR_INPUT, problem->message);
    }
  g_clear_error (&problem);
}

/* ---- members ---- */

gboolean
bl_sheet_has (JsonObject *object,
              const char *key)
{
  return json_object_has_member (object, key);
}

void
bl_sheet_keys (BlSheet       *sheet,
               const BlPlace *place,
               JsonObject    *object,
               const char    *keys)
{
  g_auto(GStrv) known = g_strsplit (keys, " ", -1);
  g_autoptr(GList) members = json_object_get_members (object);

  for (GList *member = members; member != NULL; member = member->next)
    if (!g_strv_contains ((const char *const *) known, member->data))
      {
        BlPlace here = BL_PLACE_KEY (place, member->data);
        g_autofree char *list = g_strjoinv (", ", known);

        bl_sheet_refuse (sheet, &here, "is not a key that can stand here; these can: %s", list);
      }
}

static JsonNode *
member (BlSheet    *sheet,
        JsonObject *object,
        const char *key)
{
  return sheet->error == NULL ? json_object_get_member (object, key) : NULL;
}

static gboolean
is_number (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node)
         && (json_node_get_value_type (node) == G_TYPE_INT64
             || json_node_get_value_type (node) == G_TYPE_DOUBLE);
}

static gboolean
is_text (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_STRING;
}

static double
number_of (BlSheet       *sheet,
           const BlPlace *place,
           JsonNode      *node)
{
  double value;

  if (sheet->error != NULL)
    return 0;
  if (node == NULL || !is_number (node))
    {
      bl_sheet_refuse (sheet, place, "must be a number");
      return 0;
    }
  value = json_node_get_double (node);
  if (isfinite (value))
    return value;
  bl_sheet_refuse (sheet, place, "is too large to be a number");
  return 0;
}

const char *
bl_sheet_text (BlSheet       *sheet,
               const BlPlace *place,
               JsonObject    *object,
               const char    *key,
               const char    *fallback)
{
  JsonNode *node = member (sheet, object, key);
  BlPlace here = BL_PLACE_KEY (place, key);

  if (node == NULL)
    return fallback;
  if (!is_text (node))
    {
      bl_sheet_refuse (sheet, &here, "must be a text");
      return fallback;
    }
  return json_node_get_string (node);
}

const char *
bl_sheet_name (BlSheet       *sheet,
               const BlPlace *place,
               JsonObject    *object,
               const char    *key)
{
  const char *text = bl_sheet_text (sheet, place, object, key, "");
  BlPlace here = BL_PLACE_KEY (place, key);

  if (text[0] == '\0')
    bl_sheet_refuse (sheet, &here, "is missing");
  return text;
}

double
bl_sheet_number (BlSheet       *sheet,
                 const BlPlace *place,
                 JsonObject    *object,
                 const char    *key,
                 double         fallback)
{
  JsonNode *node = member (sheet, object, key);
  BlPlace here = BL_PLACE_KEY (place, key);

  return node != NULL ? number_of (sheet, &here, node) : fallback;
}

gint64
bl_sheet_whole (BlSheet       *sheet,
                const BlPlace *place,
                JsonObject    *object,
                const char    *key,
                gint64         fallback)
{
  double value = bl_sheet_number (sheet, place, object, key, (double) fallback);
  BlPlace here = BL_PLACE_KEY (place, key);

  if (value == floor (value) && fabs (value) <= 9007199254740992.0)
    return (gint64) value;
  bl_sheet_refuse (sheet, &here, "must be a whole number");
  return fallback;
}

gboolean
bl_sheet_switch (BlSheet       *sheet,
                 const BlPlace *place,
                 JsonObject    *object,
                 const char    *key,
                 gboolean       fallback)
{
  JsonNode *node = member (sheet, object, key);
  BlPlace here = BL_PLACE_KEY (place, key);

  if (node == NULL)
    return fallback;
  if (JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_BOOLEAN)
    return json_node_get_boolean (node);
  bl_sheet_refuse (sheet, &here, "must be true or false");
  return fallback;
}

double
bl_sheet_length_of (BlSheet       *sheet,
                    const BlPlace *place,
                    JsonNode      *node)
{
  GError *problem = NULL;
  double metres = 0;

  if (sheet->error != NULL)
    return 0;
  if (node != NULL && is_text (node))
    {
      if (!bl_length_parse (json_node_get_string (node), sheet->units, &metres, &problem))
        bl_sheet_take (sheet, place, problem);
      return metres;
    }
  if (node == NULL || !is_number (node))
    {
      bl_sheet_refuse (sheet, place, "must be a length: a number, or a text such as \"12' 6\\\"\"");
      return 0;
    }
  metres = number_of (sheet, place, node);
  if (sheet->units == BL_UNITS_FEET)
    metres = (double) ((long double) metres * 3048 / 10000);
  if (fabs (metres) > BL_MAX_METRES)
    bl_sheet_refuse (sheet, place, "is longer than %g m", BL_MAX_METRES);
  return metres;
}

double
bl_sheet_length (BlSheet       *sheet,
                 const BlPlace *place,
                 JsonObject    *object,
                 const char    *key,
                 double         fallback)
{
  JsonNode *node = member (sheet, object, key);
  BlPlace here = BL_PLACE_KEY (place, key);

  return node != NULL ? bl_sheet_length_of (sheet, &here, node) : fallback;
}

double
bl_sheet_angle (BlSheet       *sheet,
                const BlPlace *place,
                JsonObject    *object,
                const char    *key,
                double         fallback)
{
  JsonNode *node = member (sheet, object, key);
  BlPlace here = BL_PLACE_KEY (place, key);

  if (node != NULL && is_text (node))
    {
      const char *text = json_node_get_string (node);
      char *end = NULL;
      double radians = g_ascii_strtod (text, &end);

      if (end == text || strcmp (end, " rad") != 0 || !isfinite (radians))
        bl_sheet_refuse (sheet, &here,
                         "must be a number of degrees, or a text such as \"1.5 rad\"");
      return radians;
    }
  return node != NULL ? number_of (sheet, &here, node) * G_PI / 180 : fallback;
}

BlDay
bl_sheet_day (BlSheet       *sheet,
              const BlPlace *place,
              JsonObject    *object,
              const char    *key)
{
  const char *text = bl_sheet_text (sheet, place, object, key, NULL);
  BlPlace here = BL_PLACE_KEY (place, key);
  GError *problem = NULL;
  BlDay day;

  if (text == NULL)
    return 0;
  day = bl_day_parse (text, &problem);
  bl_sheet_take (sheet, &here, problem);
  return day;
}

JsonArray *
bl_sheet_array (BlSheet       *sheet,
                const BlPlace *place,
                JsonObject    *object,
                const char    *key)
{
  JsonNode *node = member (sheet, object, key);
  BlPlace here = BL_PLACE_KEY (place, key);

  if (node == NULL)
    return NULL;
  if (!JSON_NODE_HOLDS_ARRAY (node))
    {
      bl_sheet_refuse (sheet, &here, "must be a list: [ ... ]");
      return NULL;
    }
  if (json_array_get_length (json_node_get_array (node)) > BL_MAX_ROWS)
    bl_sheet_refuse (sheet, &here, "has more than %d elements", BL_MAX_ROWS);
  return json_node_get_array (node);
}

JsonObject *
bl_sheet_object (BlSheet       *sheet,
                 const BlPlace *place,
                 JsonObject    *object,
                 const char    *key)
{
  JsonNode *node = member (sheet, object, key);
  BlPlace here = BL_PLACE_KEY (place, key);

  if (node == NULL)
    return NULL;
  if (JSON_NODE_HOLDS_OBJECT (node))
    return json_node_get_object (node);
  bl_sheet_refuse (sheet, &here, "must be a group of keys: { ... }");
  return NULL;
}

JsonObject *
bl_sheet_element (BlSheet       *sheet,
                  const BlPlace *place,
                  JsonArray     *array,
                  guint          index)
{
  JsonNode *node = sheet->error == NULL ? json_array_get_element (array, index) : NULL;

  if (node == NULL)
    return NULL;
  if (JSON_NODE_HOLDS_OBJECT (node))
    return json_node_get_object (node);
  bl_sheet_refuse (sheet, place, "must be a group of keys: { ... }");
  return NULL;
}

/* ---- points and outlines ---- */

BlPoint
bl_sheet_point_of (BlSheet       *sheet,
                   const BlPlace *place,
                   JsonNode      *node,
                   gboolean       pixels)
{
  double xy[2] = { 0, 0 };
  JsonArray *pair
      = node != NULL && JSON_NODE_HOLDS_ARRAY (node) ? json_node_get_array (node) : NULL;

  if (pair == NULL || json_array_get_length (pair) != 2)
    {
      bl_sheet_refuse (sheet, place, "must be a point: [x, y]");
      return BL_POINT (0, 0);
    }
  for (guint i = 0; i < 2; i++)
    {
      BlPlace here = BL_PLACE_INDEX (place, i);
      JsonNode *element = json_array_get_element (pair, i);

      xy[i]
          = pixels ? number_of (sheet, &here, element) : bl_sheet_length_of (sheet, &here, element);
    }
  return BL_POINT (xy[0], xy[1]);
}

BlPoints *
bl_sheet_points (BlSheet       *sheet,
                 const BlPlace *place,
                 JsonArray     *array,
                 gboolean       pixels)
{
  BlPoints *points = bl_points_new ();
  guint n = array != NULL ? json_array_get_length (array) : 0;

  if (n > BL_MAX_POINTS)
    bl_sheet_refuse (sheet, place, "has %u points; at most %d can be stored", n, BL_MAX_POINTS);
  for (guint i = 0; i < n && sheet->error == NULL; i++)
    {
      BlPlace here = BL_PLACE_INDEX (place, i);

      bl_points_add (points,
                     bl_sheet_point_of (sheet, &here, json_array_get_element (array, i), pixels));
    }
  return points;
}

gboolean *
bl_sheet_corners (BlSheet       *sheet,
                  const BlPlace *place,
                  JsonObject    *object,
                  guint          n)
{
  JsonArray *array = bl_sheet_array (sheet, place, object, "corners");
  BlPlace list = BL_PLACE_KEY (place, "corners");
  gboolean *sharp;

  if (array == NULL || json_array_get_length (array) == 0)
    return NULL;
  sharp = g_new0 (gboolean, MAX (n, 1));
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      BlPlace here = BL_PLACE_INDEX (&list, i);
      double index = number_of (sheet, &here, json_array_get_element (array, i));

      if (index < 0 || index >= n || index != floor (index))
        bl_sheet_refuse (sheet, &here, "must be the index of a point of the outline, 0 to %d",
                         (int) n - 1);
      else if (sheet->error == NULL)
        sharp[(guint) index] = TRUE;
    }
  return sharp;
}

BlOutline *
bl_sheet_outline (BlSheet       *sheet,
                  const BlPlace *place,
                  JsonObject    *object,
                  const char    *key,
                  gboolean       pixels,
                  gboolean       open)
{
  JsonArray *array = bl_sheet_array (sheet, place, object, key);
  BlPlace here = BL_PLACE_KEY (place, key);
  g_autoptr(BlOutline) outline = NULL;
  GError *problem = NULL;

  if (array == NULL)
    {
      bl_sheet_refuse (sheet, &here, "is missing");
      return NULL;
    }
  outline = bl_outline_new_take (bl_sheet_points (sheet, &here, array, pixels), FALSE);
  outline->open = open;
  outline->straight = bl_sheet_switch (sheet, place, object, "straight", FALSE);
  outline->sharp = bl_sheet_corners (sheet, place, object, outline->points->len);
  if (sheet->error != NULL)
    return NULL;
  if (outline->points->len > 1 && !bl_outline_check (outline, &problem))
    bl_sheet_take (sheet, &here, problem);
  return sheet->error == NULL ? g_steal_pointer (&outline) : NULL;
}
