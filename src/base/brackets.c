/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How deep the brackets of a JSON text go. */
#include "base/brackets.h"

gsize
bl_bracket_depth (const char *json, gsize length)
{
  gboolean in_text = FALSE;
  gsize depth = 0, most = 0;

  for (gsize i = 0; i < length; i++)
    {
      char c = json[i];

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
