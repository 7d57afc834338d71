/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days in words of the window's language, whatever the machine's own way of dates is. */

#include "config.h"

#include "studio/days.h"

#include <glib/gi18n.h>

static const char *const long_names[]
    = { N_ ("January"),   N_ ("February"), N_ ("March"),    N_ ("April"),
        N_ ("May"),       N_ ("June"),     N_ ("July"),     N_ ("August"),
        N_ ("September"), N_ ("October"),  N_ ("November"), N_ ("December") };
static const char *const short_names[]
    = { N_ ("Jan"), N_ ("Feb"), N_ ("Mar"), N_ ("Apr"), N_ ("May"), N_ ("Jun"),
        N_ ("Jul"), N_ ("Aug"), N_ ("Sep"), N_ ("Oct"), N_ ("Nov"), N_ ("Dec") };

char *
bl_day_words (int month, int day)
{
  /* Translators: day and name of the month. */
  return g_strdup_printf (C_("21 June", "%d %s"), day, _(long_names[CLAMP (month, 1, 12) - 1]));
}

char *
bl_day_words_short (int month, int day)
{
  /* Translators: day and short name of the month. */
  return g_strdup_printf (C_("21 Jun", "%d %s"), day, _(short_names[CLAMP (month, 1, 12) - 1]));
}

char *
bl_day_words_year (BlDay day)
{
  int year = 0, month = 0, mday = 0;

  bl_day_split (day, &year, &month, &mday);
  /* Translators: day, short name of the month, year. */
  return g_strdup_printf (C_("21 Jun 2026", "%d %s %d"), mday,
                          _(short_names[CLAMP (month, 1, 12) - 1]), year);
}
