/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writing values of a design sheet so that reading them gives the very same ones. */
#include <string.h>

#include "design/numbers.h"
#include "design/sheet-private.h"

void
bl_out_key (BlSheetOut *out,
            const char *key)
{
  g_string_append (out->out, out->first ? " " : ", ");
  bl_json_append_string (out->out, key);
  g_string_append (out->out, ": ");
  out->first = FALSE;
}

void
bl_out_text (BlSheetOut *out,
             const char *key,
             const char *value)
{
  bl_out_key (out, key);
  bl_json_append_string (out->out, value);
}

void
bl_out_text_if (BlSheetOut *out,
                const char *key,
                const char *value)
{
  if (value != NULL && value[0] != '\0')
    bl_out_text (out, key, value);
}

static void
append_number (GString *out,
               double   value)
{
  g_autofree char *text = bl_double_format (value == 0 ? 0 : value);

  g_string_append (out, text);
}

void
bl_out_number (BlSheetOut *out,
               const char *key,
               double      value)
{
  bl_out_key (out, key);
  append_number (out->out, value);
}

void
bl_out_number_if (BlSheetOut *out,
                  const char *key,
                  double      value)
{
  if (value != 0 && !isnan (value))
    bl_out_number (out, key, value);
}

void
bl_out_whole_if (BlSheetOut *out,
                 const char *key,
                 gint64      value)
{
  if (value == 0)
    return;
  bl_out_key (out, key);
  g_string_append_printf (out->out, "%" G_GINT64_FORMAT, value);
}

void
bl_out_switch_if (BlSheetOut *out,
                  const char *key,
                  gboolean    value)
{
  if (!value)
    return;
  bl_out_key (out, key);
  g_string_append (out->out, "true");
}

/* The shortest decimal of a double near @guess that @back turns into exactly @wanted; FALSE when
 * there is none, because the doubles lie wider apart in the other unit. */
static gboolean
append_exact (GString *out,
              double   guess,
              double   wanted,
              double (*back) (double))
{
  for (int digits = 13; digits <= 17; digits++)
    {
      char format[16], text[64];
      double value;

      g_snprintf (format, sizeof format, "%%.%dg", digits);
      g_ascii_formatd (text, sizeof text, format, guess);
      value = g_ascii_strtod (text, NULL);
      if (back (value) == wanted)
        {
          append_number (out, value);
          return TRUE;
        }
    }
  for (int step = -3; step <= 3; step++)
    {
      double value = guess;

      for (int i = 0; i < ABS (step); i++)
        value = nextafter (value, step < 0 ? -INFINITY : INFINITY);
      if (back (value) == wanted)
        {
          append_number (out, value);
          return TRUE;
        }
    }
  return FALSE;
}

static double
metres_of_feet (double feet)
{
  return (double) ((long double) feet * 3048 / 10000);
}

static double
radians_of_degrees (double degrees)
{
  return degrees * G_PI / 180;
}

void
bl_out_bare_length (BlSheetOut *out,
                    double      metres)
{
  if (out->units == BL_UNITS_METRES || metres == 0)
    append_number (out->out, metres);
  else if (!append_exact (out->out, (double) ((long double)metres * 10000 / 3048), metres,
                          metres_of_feet))
    {
      g_autofree char *text = bl_double_format (metres);

      g_string_append_printf (out->out, "\"%s m\"", text);
    }
}

void
bl_out_length (BlSheetOut *out,
               const char *key,
               double      metres)
{
  bl_out_key (out, key);
  bl_out_bare_length (out, metres);
}

void
bl_out_length_if (BlSheetOut *out,
                  const char *key,
                  double      metres)
{
  if (metres != 0)
    bl_out_length (out, key, metres);
}

void
bl_out_angle_if (BlSheetOut *out,
                 const char *key,
                 double      radians)
{
  if (radians == 0)
    return;
  bl_out_key (out, key);
  if (!append_exact (out->out, radians * 180 / G_PI, radians, radians_of_degrees))
    {
      g_autofree char *text = bl_double_format (radians);

      g_string_append_printf (out->out, "\"%s rad\"", text);
    }
}

/* ---- points ---- */

static void
append_coordinate (BlSheetOut *out,
                   double      value,
                   gboolean    pixels)
{
  if (pixels)
    append_number (out->out, value);
  else
    bl_out_bare_length (out, value);
}

void
bl_out_point (BlSheetOut *out,
              BlPoint     point,
              gboolean    pixels)
{
  g_string_append_c (out->out, '[');
  append_coordinate (out, point.x, pixels);
  g_string_append (out->out, ", ");
  append_coordinate (out, point.y, pixels);
  g_string_append_c (out->out, ']');
}

void
bl_out_points (BlSheetOut     *out,
               const BlPoints *points,
               gboolean        pixels)
{
  g_string_append_c (out->out, '[');
  for (guint i = 0; i < points->len; i++)
    {
      if (i > 0)
        g_string_append (out->out, ", ");
      bl_out_point (out, bl_points_at (points, i), pixels);
    }
  g_string_append_c (out->out, ']');
}

void
bl_out_corners (BlSheetOut     *out,
                const gboolean *sharp,
                guint           n)
{
  g_autofree char *text = bl_flags_to_text (sharp, n);

  if (text == NULL)
    return;
  bl_out_key (out, "corners");
  g_string_append (out->out, text);
}

void
bl_out_outline (BlSheetOut      *out,
                const char      *key,
                const BlOutline *outline,
                gboolean         pixels)
{
  bl_out_key (out, key);
  bl_out_points (out, outline->points, pixels);
  if (outline->straight)
    bl_out_switch_if (out, "straight", TRUE);
  else
    bl_out_corners (out, outline->sharp, outline->points->len);
}

/* ---- lists ---- */

void
bl_out_list_begin (BlSheetOut *out,
                   const char *key,
                   guint       n)
{
  if (n == 0)
    return;
  g_string_append (out->out, ",\n  ");
  bl_json_append_string (out->out, key);
  g_string_append (out->out, ": [");
}

void
bl_out_element (BlSheetOut *out,
                guint       index,
                const char *indent)
{
  g_string_append_printf (out->out, "%s\n%s{", index > 0 ? "," : "", indent);
  out->first = TRUE;
}

void
bl_out_list_end (BlSheetOut *out,
                 guint       n,
                 const char *indent)
{
  if (n > 0)
    g_string_append_printf (out->out, "\n%s]", indent);
}
