/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How many dashes an SVG would be drawn with: every one costs time and memory, also those out of sight. */
#include "survey/svg-dashes.h"

#include <math.h>
#include <string.h>

#define LETTER 12.0 /* a letter's outline in sizes of its font, at the most */

/* ---- numbers ---- */

/* The next number of a list and what follows it; FALSE when there is none. What only C reads as one
 * ("inf", "0x1p9") is none. */
static gboolean
next_number (const char **at,
             double      *value)
{
  const char *c = *at + strspn (*at, " \t\r\n,"), *digits = c + strspn (c, "+-");
  char *end;

  if (digits - c > 1 || !(g_ascii_isdigit (*digits) || *digits == '.') || g_ascii_tolower (digits[1]) == 'x')
    return FALSE;
  *value = g_ascii_strtod (c, &end);
  if (end == c)
    return FALSE;
  *at = end;
  return TRUE;
}

/* User units, never too few; what is relative to something else cannot be told. */
static double
size_of (const char *text)
{
  static const char *const absolute[] = { "mm", "cm", "in", "pt", "pc", "q", NULL };
  g_autofree char *unit = NULL;
  double value = 0.0;

  if (!next_number (&text, &value))
    return 0.0;
  unit = g_ascii_strdown (text, (gssize) strspn (text, "%abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"));
  if (*unit == '\0' || strcmp (unit, "px") == 0)
    return fabs (value);
  return g_strv_contains (absolute, unit) ? fabs (value) * 96.0 : INFINITY;
}

/* ---- outlines ---- */

typedef struct
{
  double x, y;         /* where the pen is */
  double start_x, start_y;
  double turn_x, turn_y; /* the last control point */
  double length;
} Pen;

static void
go (Pen   *pen,
    double x,
    double y)
{
  pen->length += hypot (x - pen->x, y - pen->y);
  pen->x = x;
  pen->y = y;
}

/* One command's worth of numbers; a curve is no longer than its control polygon. */
static void
draw (Pen          *pen,
      char          command,
      const double *n)
{
  char upper = g_ascii_toupper (command);
  double dx = command == upper ? 0.0 : pen->x, dy = command == upper ? 0.0 : pen->y;
  double turn_x = 2 * pen->x - pen->turn_x, turn_y = 2 * pen->y - pen->turn_y;

  if (upper == 'M')
    {
      pen->x = pen->start_x = n[0] + dx;
      pen->y = pen->start_y = n[1] + dy;
    }
  else if (upper == 'H' || upper == 'V')
    go (pen, upper == 'H' ? n[0] + dx : pen->x, upper == 'V' ? n[0] + dy : pen->y);
  else if (upper == 'L')
    go (pen, n[0] + dx, n[1] + dy);
  else if (upper == 'A')
    {
      pen->length += 2 * G_PI * (fabs (n[0]) + fabs (n[1]) + hypot (n[5] + dx - pen->x, n[6] + dy - pen->y));
      go (pen, n[5] + dx, n[6] + dy);
    }
  else
    {
      guint count = upper == 'C' ? 3 : upper == 'T' ? 1 : 2;

      if (upper == 'S' || upper == 'T')
        go (pen, turn_x, turn_y);
      for (guint i = 0; i < count; i++)
        {
          if (i + 1 == count && count > 1)
            {
              turn_x = pen->x;
              turn_y = pen->y;
            }
          go (pen, n[2 * i] + dx, n[2 * i + 1] + dy);
        }
      pen->turn_x = turn_x;
      pen->turn_y = turn_y;
      return;
    }
  pen->turn_x = pen->x;
  pen->turn_y = pen->y;
}

/* The flags of an arc may stand without anything between them. */
static gboolean
next_argument (const char **at,
               char         command,
               guint        index,
               double      *value)
{
  const char *c = *at + strspn (*at, " \t\r\n,");

  if (g_ascii_toupper (command) != 'A' || (index != 3 && index != 4))
    return next_number (at, value);
  if (*c != '0' && *c != '1')
    return FALSE;
  *value = *c - '0';
  *at = c + 1;
  return TRUE;
}

/* Ends where the data are wrong, as drawing it does. @command: of the first numbers, 0 = stated there. */
static double
path_length (const char *data,
             char        command)
{
  static const char letters[] = "MLHVCSQTA";
  static const guint counts[] = { 2, 2, 1, 1, 6, 4, 4, 2, 7 };
  Pen pen = { 0 };

  for (const char *at = data + strspn (data, " \t\r\n,"); *at != '\0'; at += strspn (at, " \t\r\n,"))
    {
      double n[7] = { 0 };
      const char *known;

      if (g_ascii_isalpha (*at))
        command = *at++;
      if (g_ascii_toupper (command) == 'Z')
        {
          go (&pen, pen.start_x, pen.start_y);
          pen.turn_x = pen.x;
          pen.turn_y = pen.y;
          command = 0;
          continue;
        }
      known = command != 0 ? strchr (letters, g_ascii_toupper (command)) : NULL;
      if (known == NULL)
        break;
      for (guint i = 0; i < counts[known - letters]; i++)
        if (!next_argument (&at, command, i, &n[i]))
          return pen.length;
      draw (&pen, command, n);
      if (g_ascii_toupper (command) == 'M')
        command = command == 'M' ? 'L' : 'l';
    }
  return pen.length;
}

static double
outline (const char *element,
         const char *name,
         const char *value)
{
  static const char *const sizes[] = { "r", "rx", "ry", "width", "height", "x1", "y1", "x2", "y2", NULL };
  static const char *const shapes[] = { "rect", "circle", "ellipse", "line", NULL };

  if (strcmp (element, "path") == 0)
    return strcmp (name, "d") == 0 ? path_length (value, 0) : 0.0;
  if (strcmp (element, "polyline") == 0 || strcmp (element, "polygon") == 0)
    return strcmp (name, "points") == 0 ? 2 * path_length (value, 'M') : 0.0;
  /* 2 pi r is the most that any of these adds. */
  return g_strv_contains (shapes, element) && g_strv_contains (sizes, name) ? 2 * G_PI * size_of (value) : 0.0;
}

/* ---- properties ---- */

static void
take_pattern (BlSvgDashes *self,
              const char  *list)
{
  double sum = 0.0, value;
  guint n = 0;

  for (; next_number (&list, &value); n++)
    {
      static const char *const relative[] = { "%", "em", "ex", "ch", "rem", "vw", "vh" };

      for (guint i = 0; i < G_N_ELEMENTS (relative); i++)
        if (g_ascii_strncasecmp (list, relative[i], strlen (relative[i])) == 0)
          self->density = INFINITY;
      list += strspn (list, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ%");
      sum += fabs (value);
    }
  if (sum > 0.0)
    self->density = MAX (self->density, n / sum);
}

/* "80%" and "1em" are no larger than what holds them. */
static void
take_font (BlSvgDashes *self,
           const char  *value)
{
  const char *rest = value;
  double number = 0.0, size = size_of (value);

  if (!next_number (&rest, &number))
    size = strstr (value, "larger") != NULL ? INFINITY : 64.0;
  else if (!isfinite (size) && number <= (*rest == '%' ? 100.0 : 1.0))
    size = 0.0;
  self->font = MAX (self->font, size);
}

/* TRUE when it sets a size that is otherwise read from the attributes. */
static gboolean
take_property (BlSvgDashes *self,
               const char  *name,
               const char  *value)
{
  static const char *const sizes[] = { "r", "rx", "ry", "width", "height", NULL };

  if (strcmp (name, "stroke-dasharray") == 0)
    take_pattern (self, value);
  else if (strcmp (name, "font-size") == 0)
    take_font (self, value);
  else if (strcmp (name, "font") == 0)
    self->font = INFINITY;
  else if (strcmp (name, "vector-effect") == 0 && strcmp (value, "none") != 0)
    self->unknown = INFINITY; /* dashes in pixels, whatever the scale */
  return g_strv_contains (sizes, name);
}

static gboolean
take_css (BlSvgDashes *self,
          const char  *css)
{
  g_autofree char *lower = g_ascii_strdown (css, -1);
  g_auto (GStrv) parts = g_strsplit_set (lower, ";{}", -1);
  gboolean sized = FALSE;

  for (guint i = 0; parts[i] != NULL; i++)
    {
      char *colon = strchr (parts[i], ':');

      if (colon == NULL)
        continue;
      *colon = '\0';
      sized |= take_property (self, g_strstrip (parts[i]), g_strstrip (colon + 1));
    }
  return sized;
}

double
bl_svg_dashes_take (BlSvgDashes *self,
                    const char  *element,
                    const char **names,
                    const char **values)
{
  double length = 0.0;

  for (guint i = 0; names[i] != NULL; i++)
    {
      length += outline (element, names[i], values[i]);
      if (strcmp (names[i], "style") != 0)
        take_property (self, names[i], values[i]);
      else if (take_css (self, values[i]))
        length = INFINITY;
    }
  return length;
}

void
bl_svg_dashes_take_sheet (BlSvgDashes *self,
                          const char  *css)
{
  if (take_css (self, css))
    self->unknown = INFINITY;
}

double
bl_svg_dashes_count (const BlSvgDashes *self,
                     double             length,
                     double             letters)
{
  double all = length + self->unknown;

  if (letters > 0.0)
    all += letters * LETTER * MAX (self->font, 16.0);
  return self->density > 0.0 && all > 0.0 ? self->density * all : 0.0;
}
