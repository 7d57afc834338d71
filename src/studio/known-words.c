/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the knowns say of one another, in words and in the person's units. */

#include "config.h"

#include "studio/known-words.h"

#include <glib/gi18n.h>
#include <string.h>

static char *
exact (double metres, BlUnits units)
{
  return bl_length_format_decimal (metres, units, units == BL_UNITS_METRES ? 3 : 2);
}

const BlKnownResidual *
bl_known_residual (const BlSolution *solution, gint64 id)
{
  for (guint i = 0; solution != NULL && i < solution->residuals->len; i++)
    {
      const BlKnownResidual *r = &g_array_index (solution->residuals, BlKnownResidual, i);

      if (id == 0 ? r->known_index == G_MAXUINT : r->known_id == id)
        return r;
    }
  return NULL;
}

gint64
bl_known_worst (const BlSolution *solution)
{
  const BlKnownResidual *r;

  if (solution == NULL || solution->worst < 0
      || (guint) solution->worst >= solution->residuals->len)
    return -1;
  r = &g_array_index (solution->residuals, BlKnownResidual, solution->worst);
  return r->known_index == G_MAXUINT ? 0 : r->known_id;
}

char *
bl_known_sizes (const BlKnown *known, BlUnits units)
{
  g_autofree char *a = bl_length_format (known->size[0], units);
  g_autofree char *b = bl_length_format (known->size[1], units);

  if (known->kind == BL_KNOWN_RECTANGLE)
    return g_strdup_printf ("%s × %s", a, b);
  if (known->kind == BL_KNOWN_POSITION)
    return g_strdup_printf (_("%s right, %s away"), a, b);
  return known->size[0] > 0 ? g_strdup (a) : NULL;
}

char *
bl_measured_length_words (const BlMeasured *length, BlUnits units)
{
  int digits = units == BL_UNITS_METRES ? 3 : 2;
  double unit = units == BL_UNITS_METRES ? 1 : 0.3048;

  return g_strdup_printf (units == BL_UNITS_METRES ? "%.*f ± %.*f m" : "%.*f ± %.*f ft", digits,
                          length->value / unit, digits, 1.96 * length->sd / unit);
}

char *
bl_known_seen (const BlCamera *camera, BlKnownKind kind, BlPoint a, BlPoint b, double click_px,
               BlUnits units)
{
  BlMeasured seen;

  if (camera == NULL || !camera->scaled)
    return NULL;
  if (kind == BL_KNOWN_HEIGHT ? !bl_measure_height (camera, a, b, click_px, &seen, NULL)
                              : !bl_measure_length (camera, a, b, click_px, &seen, NULL))
    return NULL;
  return isfinite (seen.value) && isfinite (seen.sd) ? bl_measured_length_words (&seen, units)
                                                     : NULL;
}

static char *
check_words (const BlKnown *known, const BlSolution *solution, double click_px, BlUnits units)
{
  g_autofree char *seen
      = bl_known_seen (solution != NULL ? &solution->camera : NULL, known->kind,
                       bl_points_at (known->px, 0), bl_points_at (known->px, 1),
                       known->click_px > 0 ? known->click_px : click_px, units);
  g_autofree char *stated = NULL;
  BlMeasured length;
  double off;

  if (seen == NULL || known->size[0] <= 0)
    return seen != NULL ? g_strdup_printf (_("%s seen"), seen) : NULL;
  stated = exact (known->size[0], units);
  if (!bl_measure_length (&solution->camera, bl_points_at (known->px, 0),
                          bl_points_at (known->px, 1),
                          known->click_px > 0 ? known->click_px : click_px, &length, NULL))
    return NULL;
  off = length.sd > 0 ? fabs (length.value - known->size[0]) / length.sd : 0;
  return g_strdup_printf (_("%s taped, %s seen, %.1f sd"), stated, seen, off);
}

char *
bl_known_agreement (const BlKnown *known, const BlSolution *solution, double click_px,
                    BlUnits units)
{
  const BlKnownResidual *r = bl_known_residual (solution, known->id);
  g_autofree char *stated = NULL, *seen = NULL;
  double sd;

  if (known->kind == BL_KNOWN_CHECK)
    return check_words (known, solution, click_px, units);
  if (r == NULL || !isfinite (r->predicted))
    return NULL;
  sd = fabs (r->normalised);
  stated = exact (r->stated, units);
  seen = exact (r->predicted, units);
  switch (known->kind)
    {
    case BL_KNOWN_RECTANGLE:
      return g_strdup_printf (_("long side %s stated, %s seen, %.1f sd"), stated, seen, sd);
    case BL_KNOWN_LENGTH:
    case BL_KNOWN_HEIGHT:
    case BL_KNOWN_EYE:
      return g_strdup_printf (_("%s stated, %s seen, %.1f sd"), stated, seen, sd);
    case BL_KNOWN_RIGHT_ANGLE:
      return g_strdup_printf (_("90° stated, %.1f° seen, %.1f sd"), r->predicted, sd);
    case BL_KNOWN_PARALLEL:
      return g_strdup_printf (_("%.1f° apart, %.1f sd"), r->predicted, sd);
    case BL_KNOWN_EQUAL_LENGTHS:
      return g_strdup_printf (_("%s and %s seen, %.1f sd"), seen, stated, sd);
    case BL_KNOWN_POSITION:
      return g_strdup_printf (_("seen %s from its place, %.1f sd"), seen, sd);
    case BL_KNOWN_HORIZON:
      return g_strdup_printf (_("%.1f pixels off the horizon found, %.1f sd"), fabs (r->predicted),
                              sd);
    case BL_KNOWN_STRAIGHT:
      return g_strdup_printf (_("bends by %.1f pixels, %.1f sd"), fabs (r->predicted), sd);
    case BL_KNOWN_CHECK:
    case BL_KNOWN_N:
    default:
      return NULL;
    }
}

char *
bl_focal_agreement (const BlSolution *solution, double focal_35mm)
{
  const BlKnownResidual *r = bl_known_residual (solution, 0);

  if (r == NULL || r->stated <= 0 || focal_35mm <= 0)
    return NULL;
  return g_strdup_printf (_("%.1f mm by its data, %.1f mm found, %.1f sd"), focal_35mm,
                          focal_35mm * r->predicted / r->stated, fabs (r->normalised));
}

static gboolean
read_number (const char **text, double *value)
{
  char *end = NULL;

  *value = g_ascii_strtod (*text, &end);
  if (end == *text || !isfinite (*value))
    return FALSE;
  *text = end;
  while (g_ascii_isspace (**text))
    (*text)++;
  return TRUE;
}

gboolean
bl_fall_parse (const char *text, double *fall)
{
  g_autofree char *plain = g_strstrip (g_strdup (text));
  const char *at = plain;
  double rise, run = 100;

  *fall = 0;
  g_strdelimit (plain, ",", '.');
  if (plain[0] == '\0')
    return TRUE;
  if (!read_number (&at, &rise))
    return FALSE;
  if (*at == ':' || g_str_has_prefix (at, "in ") || g_str_has_prefix (at, _("in ")))
    {
      at += *at == ':' ? 1 : strcspn (at, " ");
      if (!read_number (&at, &run))
        return FALSE;
    }
  else if (*at == '%')
    at++;
  if (*at != '\0' || run <= 0 || rise < 0 || rise / run > 1)
    return FALSE;
  *fall = rise / run;
  return TRUE;
}

char *
bl_fall_format (double fall)
{
  return fall > 0 ? g_strdup_printf ("%.3g %%", fall * 100) : g_strdup ("");
}
