/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Months in the papers' language; May is the same word long and short in English, but not elsewhere. */
#include "proposal/months.h"

#include <string.h>

static const char *const months_en[] = { "January", "February", "March", "April", "May", "June",
                                         "July", "August", "September", "October", "November",
                                         "December" };
static const char *const months_es[] = { "enero", "febrero", "marzo", "abril", "mayo", "junio",
                                         "julio", "agosto", "septiembre", "octubre", "noviembre",
                                         "diciembre" };
static const char *const short_en[] = { "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug",
                                        "Sep", "Oct", "Nov", "Dec" };
static const char *const short_es[] = { "ene", "feb", "mar", "abr", "may", "jun", "jul", "ago",
                                        "sep", "oct", "nov", "dic" };

static gboolean
is_spanish (const char *language)
{
  return language != NULL && strncmp (language, "es", 2) == 0;
}

const char *
bl_month_name (const char *language, int month, gboolean is_short)
{
  int i = CLAMP (month, 1, 12) - 1;

  if (is_spanish (language))
    return is_short ? short_es[i] : months_es[i];
  return is_short ? short_en[i] : months_en[i];
}
