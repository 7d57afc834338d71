/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Comma-separated values as RFC 4180: writing, and reading with the line and field of a mistake. */
#pragma once

#include <glib.h>

#define BL_CSV_MOST (32 * 1024 * 1024) /* bytes of a table that is brought in */

/**
 * bl_csv_guard:
 * Returns: (transfer full): @cell with an apostrophe before each piece of it that a spreadsheet would
 *   run as a formula: at its start, or after a semicolon, tab, CR or LF, a first sign = + - @, tab or
 *   CR, be it after quotation marks or apostrophes. A plain number, such as -12.5, stays as it is.
 *   The signs and the separators are those of OWASP, "CSV Injection".
 */
char *bl_csv_guard (const char *cell);
/* Takes the apostrophes of bl_csv_guard() off again, within @cell, and returns it; the text that was
 * guarded comes back to the letter, apostrophes of its own included. */
char *bl_csv_unguard (char *cell);
/* The cells, guarded, as a line to paste into a table: parted by tabs, with those and the line ends
 * that stood in a cell as blanks. The arguments end with NULL. (transfer full) */
char *bl_csv_tabbed (const char *first, ...) G_GNUC_NULL_TERMINATED;

/* Appends one record with CRLF at its end, each cell guarded; @fields is NULL-terminated. */
void bl_csv_append (GString *out, const char *const *fields);
void bl_csv_append_list (GString *out, ...) G_GNUC_NULL_TERMINATED;

/**
 * bl_csv_parse:
 * @text: UTF-8 text, CRLF or LF between records, byte order mark allowed
 * Returns: (transfer full) (element-type GStrv): one GStrv a record, each cell unguarded; NULL with
 *   @error naming line and column on a stray quote, an open quote or text that is not UTF-8
 */
GPtrArray *bl_csv_parse (const char *text, gsize length, GError **error);
/* The same; the line on which each record begins is appended to @lines (element-type guint). */
GPtrArray *bl_csv_parse_lines (const char *text, gsize length, GArray *lines, GError **error);
