/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How deep the brackets of a JSON text go, and whether there is more after the last. */
#include "base/brackets.h"

gsize
bl_bracket_depth (const char *json, gsize length, gboolean *rest)
{
  gboolean in_text = FALSE;
  gsize depth = 0, most = 0;

  *rest = FALSE;
  for (gsize i = 0; i < length; i++)
    {
      char c = json[i];

      if (most > 0 && depth == 0 && !g_ascii_isspace (c))
        *rest = TRUE;
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
  return most;
}
