/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Encodings, document types and comments by which two parsers could see different elements. */
#include "survey/svg-source.h"

#include <string.h>

gboolean
bl_svg_is_text (const char *text,
                gsize       length)
{
  return g_utf8_validate (text, (gssize) length, NULL);
}

/* Every byte below 0x80 stands for itself; "utf-7" for one spells brackets with other letters. */
static gboolean
keeps_ascii (const char *declaration)
{
  static const char *const known[] = { "utf-8", "utf8", "us-ascii", "ascii", "iso-8859-", "windows-125" };
  const char *at = strstr (declaration, "encoding");

  if (at == NULL)
    return TRUE;
  at += strlen ("encoding");
  at += strspn (at, " \t\r\n=\"'");
  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    if (g_str_has_prefix (at, known[i]))
      return TRUE;
  return FALSE;
}

gboolean
bl_svg_passage_is_plain (const char *passage,
                         gsize       length)
{
  g_autofree char *text = g_strndup (passage, length), *lower = g_ascii_strdown (text, -1);

  /* GMarkup ends "<!-->" where it begins, others at the next "-->". */
  if (g_str_has_prefix (lower, "<!--"))
    return length >= strlen ("<!---->");
  /* GMarkup counts brackets, also those within quotes. */
  if (g_str_has_prefix (lower, "<!doctype"))
    return strpbrk (lower + 1, "<[") == NULL;
  if (g_str_has_prefix (lower, "<?xml-stylesheet"))
    return FALSE;
  return !g_str_has_prefix (lower, "<?xml") || keeps_ascii (lower);
}

/* "none" and an element of the drawing, which is looked at where it stands, are no effects. */
static gboolean
is_effect (const char *value)
{
  value += strspn (value, " \t\r\n");
  return !g_str_has_prefix (value, "none") && !g_str_has_prefix (value, "url(#")
         && !g_str_has_prefix (value, "inherit");
}

gboolean
bl_svg_has_effect (const char *name,
                   const char *css)
{
  g_autofree char *lower = g_ascii_strdown (css, -1);

  if (name != NULL && strcmp (name, "filter") == 0)
    return is_effect (lower) || strchr (lower, ')') != strrchr (lower, ')');
  if (name != NULL && strcmp (name, "style") != 0)
    return FALSE;
  if (strchr (lower, '\\') != NULL || strstr (lower, "/*") != NULL)
    return TRUE;
  for (const char *at = strstr (lower, "filter"); at != NULL; at = strstr (at + 6, "filter"))
    {
      const char *next = at + 6 + strspn (at + 6, " \t\r\n");
      g_autofree char *value = g_strndup (next + 1, *next == ':' ? strcspn (next + 1, ";}") : 0);

      if (*next == ':' && (is_effect (value) || strchr (value, ')') != strrchr (value, ')')))
        return TRUE;
    }
  return FALSE;
}
