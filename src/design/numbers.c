/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Short JSON arrays as they stand in a cell: numbers that read back exactly, and names. */
#include "design/numbers.h"

#include <string.h>

#include "base/units.h"
#include "design/check-private.h"

char *
bl_points_to_text (const BlPoints *points)
{
  GString *out = g_string_new ("[");

  for (guint i = 0; i < points->len; i++)
    {
      BlPoint p = bl_points_at (points, i);
      g_autofree char *x = bl_double_format (p.x);
      g_autofree char *y = bl_double_format (p.y);

      g_string_append_printf (out, "%s%s,%s", i > 0 ? "," : "", x, y);
    }
  g_string_append_c (out, ']');
  return g_string_free (out, FALSE);
}

/* Reads one number at *@text and moves beyond it. Only the signs a JSON number is made of may
 * start it, so that "inf", "nan" and hexadecimal do not pass. */
static gboolean
read_number (const char **text,
             double      *value)
{
  char *end = NULL;
  gsize length = strspn (*text, "0123456789+-.eE");

  if (length == 0 || length > 40)
    return FALSE;
  *value = g_ascii_strtod (*text, &end);
  if (end != *text + length || !isfinite (*value))
    return FALSE;
  *text = end;
  return TRUE;
}

/* Appends the numbers of "[...]" to @values, a GArray of double. */
static gboolean
read_array (const char *text,
            guint       most,
            GArray     *values,
            GError    **error)
{
  const char *at = text;

  if (*at++ != '[')
    return bl_refuse (error, "an array of numbers does not begin with “[”");
  while (*at != ']')
    {
      double value;

      if (values->len > 0 && *at++ != ',')
        return bl_refuse (error, "an array of numbers lacks a comma");
      if (values->len >= most)
        return bl_refuse (error, "an array of numbers is longer than %u", most);
      if (!read_number (&at, &value))
        return bl_refuse (error, "an array of numbers holds something else");
      g_array_append_val (values, value);
    }
  if (at[1] != '\0')
    return bl_refuse (error, "an array of numbers goes on after its “]”");
  return TRUE;
}

BlPoints *
bl_points_from_text (const char *text,
                     guint       most,
                     GError    **error)
{
  g_autoptr(GArray) values = g_array_new (FALSE, FALSE, sizeof (double));
  BlPoints *points;

  if (!read_array (text, 2 * most, values, error))
    return NULL;
  if (values->len % 2 != 0)
    {
      bl_refuse (error, "an array of points has an x without its y");
      return NULL;
    }
  points = bl_points_new ();
  for (guint i = 0; i < values->len; i += 2)
    bl_points_add (points, BL_POINT (g_array_index (values, double, i),
                                     g_array_index (values, double, i + 1)));
  return points;
}

char *
bl_flags_to_text (const gboolean *flags,
                  guint           n)
{
  g_autoptr(GString) out = g_string_new ("[");

  for (guint i = 0; flags != NULL && i < n; i++)
    if (flags[i])
      g_string_append_printf (out, "%s%u", out->len > 1 ? "," : "", i);
  if (out->len == 1)
    return NULL;
  g_string_append_c (out, ']');
  return g_strdup (out->str);
}

gboolean
bl_flags_from_text (const char *text,
                    guint       n,
                    gboolean  **flags,
                    GError    **error)
{
  g_autoptr(GArray) values = g_array_new (FALSE, FALSE, sizeof (double));
  double last = -1;

  *flags = NULL;
  if (text == NULL)
    return TRUE;
  if (!read_array (text, n, values, error))
    return FALSE;
  for (guint i = 0; i < values->len; i++)
    {
      double index = g_array_index (values, double, i);

      if (index <= last || index >= n || index != floor (index))
        return bl_refuse (error, "a sharp corner is not one of the outline's points");
      last = index;
    }
  *flags = g_new0 (gboolean, MAX (n, 1));
  for (guint i = 0; i < values->len; i++)
    (*flags)[(guint) g_array_index (values, double, i)] = TRUE;
  return TRUE;
}

void
bl_json_append_string (GString    *out,
                       const char *text)
{
  g_string_append_c (out, '"');
  for (const char *c = text; *c != '\0'; c++)
    if (*c == '"' || *c == '\\')
      g_string_append_printf (out, "\\%c", *c);
    else if (*c == '\n')
      g_string_append (out, "\\n");
    else if (*c == '\t')
      g_string_append (out, "\\t");
    else if ((guchar) *c < 0x20 || *c == 0x7f)
      g_string_append_printf (out, "\\u%04x", (guint) (guchar) *c);
    else
      g_string_append_c (out, *c);
  g_string_append_c (out, '"');
}

char *
bl_names_to_text (const char *const *names)
{
  GString *out = g_string_new ("[");

  for (guint i = 0; names != NULL && names[i] != NULL; i++)
    {
      if (i > 0)
        g_string_append_c (out, ',');
      bl_json_append_string (out, names[i]);
    }
  g_string_append_c (out, ']');
  return g_string_free (out, FALSE);
}

/* The inverse of bl_json_append_string for the texts that may stand in a name: no control signs. */
static gboolean
read_name (const char **text,
           GString     *out)
{
  const char *at = *text;

  if (*at++ != '"')
    return FALSE;
  for (; *at != '"'; at++)
    {
      if (*at == '\\')
        {
          at++;
          if (*at != '"' && *at != '\\')
            return FALSE;
        }
      else if ((guchar) *at < 0x20 || *at == 0x7f)
        return FALSE;
      g_string_append_c (out, *at);
    }
  *text = at + 1;
  return TRUE;
}

char **
bl_names_from_text (const char *text,
                    guint       most,
                    GError    **error)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *at = text;
  gboolean ok = *at++ == '[';

  while (ok && *at != ']')
    {
      g_autoptr(GString) name = g_string_new (NULL);

      ok = (names->len == 0 || *at++ == ',') && names->len < most && read_name (&at, name);
      g_ptr_array_add (names, g_strdup (name->str));
    }
  if (!ok || at[1] != '\0')
    {
      bl_refuse (error, "a list of names is not one");
      return NULL;
    }
  g_ptr_array_add (names, NULL);
  return (char **) g_ptr_array_steal (names, NULL);
}
