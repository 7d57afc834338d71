/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The papers' own words in each language: papers speak the design's language, not the machine's. */
#pragma once

#include <glib.h>

/* The words for @english in @language ("en", "es"); @english itself where none is listed. */
const char *bl_word (const char *language, const char *english) G_GNUC_FORMAT (2);
/* Name of a month, 1-12; short has three letters or so. */
const char *bl_month_name (const char *language, int month, gboolean is_short);
/* TRUE when every entry has all languages; for tests. (transfer none) NULL when complete. */
const char *bl_words_missing (void);
/* Iterates the table, for tests; NULL past the end. */
const char *bl_words_at (guint i, const char **spanish);
