/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Comma-separated values as RFC 4180: writing, and reading with the line and field of a mistake. */
#include "config.h"

#include "base/csv.h"

#include <glib/gi18n-lib.h>
#include <stdarg.h>
#include <string.h>

#include "base/error.h"

static gboolean
is_plain_number (const char *cell)
{
  const char *p = cell;
  gboolean digits = FALSE;

  if (*p == '+' || *p == '-')
    p++;
  for (; g_ascii_isdigit (*p); p++)
    digits = TRUE;
  if (*p == '.' || *p == ',')
    for (p++; g_ascii_isdigit (*p); p++)
      digits = TRUE;
  if (digits && (*p == 'e' || *p == 'E'))
    {
      p++;
      if (*p == '+' || *p == '-')
        p++;
      if (!g_ascii_isdigit (*p))
        return FALSE;
      while (g_ascii_isdigit (*p))
        p++;
    }
  return digits && *p == '\0';
}

/* What a table is split at: where the list separator is a semicolon, a spreadsheet opens a file of
 * commas by that, and knows nothing of the quotation marks in the midst of what it then takes for a
 * cell (RFC 4180 puts them only around a whole one). */
static gboolean
parts_cells (char c)
{
  return c == ';' || c == '\t' || c == '\r' || c == '\n';
}

/* Quotation marks before it may be eaten by such a reader; with apostrophes, one more is put to what
 * stands there, so that it can be taken off again. */
static gboolean
would_run (const char *p)
{
  p += strspn (p, "'\"");
  return *p != '\0' && strchr ("=+-@\t\r", *p) != NULL;
}

char *
bl_csv_guard (const char *cell)
{
  GString *out;

  g_return_val_if_fail (cell != NULL, NULL);

  if (is_plain_number (cell))
    return g_strdup (cell);
  out = g_string_sized_new (strlen (cell) + 8);
  for (const char *p = cell; *p != '\0'; p++)
    {
      if ((p == cell || parts_cells (p[-1])) && would_run (p))
        g_string_append_c (out, '\'');
      g_string_append_c (out, *p);
    }
  return g_string_free (out, FALSE);
}

char *
bl_csv_unguard (char *cell)
{
  char *to = cell;
  gboolean begins = TRUE;

  g_return_val_if_fail (cell != NULL, NULL);

  for (const char *p = cell; *p != '\0'; p++)
    {
      if (begins && *p == '\'' && would_run (p))
        p++;
      begins = parts_cells (*p);
      *to++ = *p;
    }
  *to = '\0';
  return cell;
}

char *
bl_csv_tabbed (const char *first, ...)
{
  GString *out = g_string_new (NULL);
  va_list args;

  va_start (args, first);
  for (const char *cell = first; cell != NULL; cell = va_arg (args, const char *))
    {
      g_autofree char *guarded = bl_csv_guard (cell);

      if (cell != first)
        g_string_append_c (out, '\t');
      g_string_append (out, g_strdelimit (guarded, "\t\r\n", ' '));
    }
  va_end (args);
  return g_string_free (out, FALSE);
}

static void
append_cell (GString *out, const char *text)
{
  g_autofree char *cell = bl_csv_guard (text);
  gboolean quoted = strpbrk (cell, ",\"\r\n") != NULL || cell[0] == ' '
                    || (cell[0] != '\0' && cell[strlen (cell) - 1] == ' ');

  if (quoted)
    g_string_append_c (out, '"');
  for (const char *p = cell; *p != '\0'; p++)
    {
      if (*p == '"')
        g_string_append_c (out, '"');
      g_string_append_c (out, *p);
    }
  if (quoted)
    g_string_append_c (out, '"');
}

void
bl_csv_append (GString *out, const char *const *fields)
{
  g_return_if_fail (out != NULL);
  g_return_if_fail (fields != NULL);

  for (guint i = 0; fields[i] != NULL; i++)
    {
      if (i > 0)
        g_string_append_c (out, ',');
      append_cell (out, fields[i]);
    }
  g_string_append (out, "\r\n");
}

void
bl_csv_append_list (GString *out, ...)
{
  g_autoptr (GPtrArray) fields = g_ptr_array_new ();
  const char *field;
  va_list args;

  va_start (args, out);
  while ((field = va_arg (args, const char *)) != NULL)
    g_ptr_array_add (fields, (gpointer) field);
  va_end (args);
  g_ptr_array_add (fields, NULL);
  bl_csv_append (out, (const char *const *) fields->pdata);
}

typedef struct
{
  const char *p, *end;
  guint line; /* from 1 */
} Reader;

static void
skip_line_end (Reader *r)
{
  if (r->p < r->end && *r->p == '\r')
    r->p++;
  if (r->p < r->end && *r->p == '\n')
    r->p++;
  r->line++;
}

static gboolean
read_quoted (Reader *r, GString *cell, guint column, GError **error)
{
  guint from = r->line;

  for (r->p++; r->p < r->end; r->p++)
    {
      if (*r->p == '"')
        {
          if (r->p + 1 == r->end || r->p[1] != '"')
            break;
          r->p++;
        }
      if (*r->p == '\n')
        r->line++;
      g_string_append_c (cell, *r->p);
    }
  if (r->p == r->end)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("Line %u, column %u: the quotation mark is never closed; add the closing one."),
                   from, column);
      return FALSE;
    }
  r->p++;
  if (r->p < r->end && *r->p != ',' && *r->p != '\r' && *r->p != '\n')
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("Line %u, column %u: there is text after the closing quotation mark; write a "
                   "quotation mark inside a cell twice."),
                   r->line, column);
      return FALSE;
    }
  return TRUE;
}

static gboolean
read_bare (Reader *r, GString *cell, guint column, GError **error)
{
  for (; r->p < r->end && *r->p != ',' && *r->p != '\r' && *r->p != '\n'; r->p++)
    {
      if (*r->p == '"')
        {
          g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                       _("Line %u, column %u: a stray quotation mark; put the whole cell in "
                       "quotation marks and write the inner one twice."),
                       r->line, column);
          return FALSE;
        }
      g_string_append_c (cell, *r->p);
    }
  return TRUE;
}

static GStrv
read_record (Reader *r, GError **error)
{
  g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);

  for (;;)
    {
      g_autoptr (GString) cell = g_string_new (NULL);
      guint column = cells->len + 1;
      gboolean ok;

      if (r->p < r->end && *r->p == '"')
        ok = read_quoted (r, cell, column, error);
      else
        ok = read_bare (r, cell, column, error);
      if (!ok)
        return NULL;
      g_ptr_array_add (cells, g_strdup (bl_csv_unguard (cell->str)));
      if (r->p == r->end || *r->p != ',')
        break;
      r->p++;
    }
  if (r->p < r->end)
    skip_line_end (r);
  g_ptr_array_add (cells, NULL);
  return (GStrv) g_ptr_array_steal (cells, NULL);
}

static guint
line_of (const char *text, const char *at)
{
  guint line = 1;

  for (const char *p = text; p < at; p++)
    if (*p == '\n')
      line++;
  return line;
}

GPtrArray *
bl_csv_parse (const char *text, gsize length, GError **error)
{
  return bl_csv_parse_lines (text, length, NULL, error);
}

GPtrArray *
bl_csv_parse_lines (const char *text, gsize length, GArray *lines, GError **error)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  Reader reader = { .line = 1 };
  const char *bad = NULL;

  g_return_val_if_fail (text != NULL || length == 0, NULL);

  if (text == NULL)
    text = "";
  reader.p = text;
  reader.end = text + length;
  if (length > 0 && !g_utf8_validate (text, (gssize) length, &bad))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("Line %u: the text is not UTF-8; save the sheet as “CSV UTF-8” and try again."),
                   line_of (text, bad));
      return NULL;
    }
  if (length >= 3 && memcmp (text, "\xEF\xBB\xBF", 3) == 0)
    reader.p += 3;
  while (reader.p < reader.end)
    {
      guint line = reader.line;
      GStrv record = read_record (&reader, error);

      if (record == NULL)
        return NULL;
      if (lines != NULL)
        g_array_append_val (lines, line);
      g_ptr_array_add (records, record);
    }
  return g_steal_pointer (&records);
}
