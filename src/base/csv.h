/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Comma-separated values as RFC 4180: writing, and reading with the line and field of a mistake. */
#pragma once

#include <glib.h>

#define BL_CSV_MOST (32 * 1024 * 1024) /* bytes of a table that is brought in */

/* Appends one record with CRLF at its end; @fields is NULL-terminated. A cell that a spreadsheet
 * would run as a formula (first sign = + - @, tab or carriage return, and not a plain number) gets
 * an apostrophe before it. */
void bl_csv_append (GString *out, const char *const *fields);
void bl_csv_append_list (GString *out, ...) G_GNUC_NULL_TERMINATED;

/**
 * bl_csv_parse:
 * @text: UTF-8 text, CRLF or LF between records, byte order mark allowed
 * Returns: (transfer full) (element-type GStrv): one GStrv a record; NULL with @error naming line
 *   and column on a stray quote, an open quote or text that is not UTF-8
 */
GPtrArray *bl_csv_parse (const char *text, gsize length, GError **error);
/* The same; the line on which each record begins is appended to @lines (element-type guint). */
GPtrArray *bl_csv_parse_lines (const char *text, gsize length, GArray *lines, GError **error);
