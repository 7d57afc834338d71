/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Short JSON arrays as they stand in a cell: numbers that read back exactly, and names. */
#pragma once

#include "geometry/point.h"

/* "[1,2.5,3,4]": x and y in turn; each number the shortest text that reads back exactly. */
char *bl_points_to_text (const BlPoints *points);
/* NULL with BL_ERROR_INPUT on anything that is not such an array of finite numbers, or has more
 * than @most points. */
BlPoints *bl_points_from_text (const char *text, guint most, GError **error);
/* Which flags are set, as "[0,3]"; NULL when none is. */
char *bl_flags_to_text (const gboolean *flags, guint n);
/* NULL @text gives NULL flags. FALSE with @error when an index is not below @n or not ascending. */
gboolean bl_flags_from_text (const char *text, guint n, gboolean **flags, GError **error);
/* "[\"A\",\"B\"]". */
char *bl_names_to_text (const char *const *names);
char **bl_names_from_text (const char *text, guint most, GError **error);
/* Appends @text as a JSON string with its quotes. */
void bl_json_append_string (GString *out, const char *text);
