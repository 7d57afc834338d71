/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words in a stated language, whatever the machine speaks: what is reckoned for a design or a paper. */
#pragma once

#include <glib.h>

/* The program's own windows and errors speak the person's language, through gettext. What follows
 * from a design (lines of an estimate, tasks, findings) goes on papers in the design's language and
 * is therefore looked up by name of language, in the same catalogues (po/), compiled in. */

/* The words for @english in @language ("es", "es_MX"); @english itself where there are none, and
 * for "en" and NULL. */
const char *bl_say (const char *language, const char *english) G_GNUC_FORMAT (2);
/* One of two forms by @n, as ngettext. */
const char *bl_say_n (const char *language, const char *one, const char *many, guint64 n)
  G_GNUC_FORMAT (2) G_GNUC_FORMAT (3);
