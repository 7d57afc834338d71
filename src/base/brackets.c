/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How deep the brackets of a JSON text go, and whether anything stands outside them. */
#include "base/brackets.h"

#include <string.h>

gsize
bl_bracket_depth (const char *json, gsize length, gboolean *outside)
{
  gboolean in_text = FALSE;
  gsize depth = 0, most = 0;

  *outside = FALSE;
  if (length >= 3 && memcmp (json, "\xEF\xBB\xBF", 3) == 0)
    {
      json += 3;
      length -= 3;
    }
  for (gsize i = 0; i < length; i++)
    {
      char c = json[i];

      if (depth == 0 && !g_ascii_isspace (c) && (most > 0 || (c != '[' && c != '{')))
        *outside = TRUE;
      if (in_text && c == '\\')
        i++;
      else if (c == '"')
        in_text = !in_text;
      else if (!in_text && (c == '[' || c == '{'))
        {
          depth++;
          most = MAX (most, depth);
        }
      else if (!in_text && (c == ']' || c == '}') && depth > 0)
        depth--;
    }
  *outside = *outside && most > 0;
  return most;
}
