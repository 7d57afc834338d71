/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything that can be done, by name: the one table behind keys, menus, shortcuts and search. */
#pragma once

#include <glib.h>

typedef struct
{
  const char *action;   /* detailed: "win.hand::row" */
  const char *group;    /* heading in the shortcuts window, untranslated */
  const char *title;    /* untranslated */
  const char *words;    /* other words by which one would look for it, untranslated; may be NULL */
  const char *keys[3];  /* accelerators */
} BlVerb;

const BlVerb *bl_verbs (guint *n);
/* Verbs whose title or words hold all the words of @text, best first: (element-type BlVerb). */
GPtrArray *bl_verbs_find (const char *text);
