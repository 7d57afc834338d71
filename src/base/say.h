/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words in a stated language, whatever the machine speaks: what is reckoned for a design or a paper. */
#pragma once

#include <glib.h>

/* The program's own windows and errors speak the person's language, through gettext. What follows
 * from a design (lines of an estimate, tasks, findings) is said in a stated language, for it also goes
 * on papers: it is looked up by name of language, in the same catalogues (po/), compiled in. */

/* Marks words for the catalogues that are said elsewhere, as N_() does. */
#define BL_SAID(text) text

/* A language of which only gettext has the catalogue. */
#define BL_SAY_BY_GETTEXT "*"

/* The language of the person at the machine, to be given to what computes: "es"; "en" where gettext
 * has no catalogue. */
const char *bl_say_window (void);
/* The words for @english in @language ("es", "es_MX"); @english itself where there are none, and
 * for "en" and NULL. Borrowed from the catalogue or from @english, which may be NULL. */
const char *bl_say (const char *language, const char *english) G_GNUC_FORMAT (2);
/* One of two forms by @n, as ngettext. */
const char *bl_say_n (const char *language, const char *one, const char *many, guint64 n)
  G_GNUC_FORMAT (2) G_GNUC_FORMAT (3);
/* @text (transfer full) with the words that grow together in @language: Spanish "a el" is "al".
 * Names after an article that is theirs ("El Prado") keep it. (transfer full) */
char *bl_say_join (const char *language, char *text);
