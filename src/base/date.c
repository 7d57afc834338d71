/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days of the year and calendar dates, on top of GDate's day numbers. */
#include "config.h"

#include "base/date.h"

#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>

#include "base/error.h"

BlDay
bl_day (int year, int month, int day)
{
  GDate date;

  if (year < 1 || year > 9999 || month < 1 || month > 12 || day < 1 || day > 31
      || !g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year))
    return 0;
  g_date_clear (&date, 1);
  g_date_set_dmy (&date, (GDateDay) day, (GDateMonth) month, (GDateYear) year);
  return g_date_get_julian (&date);
}

void
bl_day_split (BlDay day, int *year, int *month, int *mday)
{
  GDate date;

  g_date_clear (&date, 1);
  if (day != 0)
    g_date_set_julian (&date, day);
  if (year != NULL)
    *year = day == 0 ? 0 : g_date_get_year (&date);
  if (month != NULL)
    *month = day == 0 ? 0 : (int) g_date_get_month (&date);
  if (mday != NULL)
    *mday = day == 0 ? 0 : g_date_get_day (&date);
}

static int
two_digits (const char *p)
{
  if (!g_ascii_isdigit (p[0]) || !g_ascii_isdigit (p[1]))
    return -1;
  return (p[0] - '0') * 10 + (p[1] - '0');
}

BlDay
bl_day_parse (const char *iso, GError **error)
{
  BlDay day = 0;

  if (iso != NULL && strlen (iso) == 10 && iso[4] == '-' && iso[7] == '-'
      && two_digits (iso) >= 0 && two_digits (iso + 2) >= 0)
    day = bl_day (two_digits (iso) * 100 + two_digits (iso + 2), two_digits (iso + 5),
                  two_digits (iso + 8));
  if (day == 0)
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                 _("“%s” is not a date of the calendar: write year, month and day like 2026-05-12."),
                 iso != NULL ? iso : "");
  return day;
}

char *
bl_day_format_iso (BlDay day)
{
  int y, m, d;

  bl_day_split (day, &y, &m, &d);
  return day == 0 ? g_strdup ("") : g_strdup_printf ("%04d-%02d-%02d", y, m, d);
}

BlDay
bl_day_today (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();

  return bl_day (g_date_time_get_year (now), g_date_time_get_month (now),
                 g_date_time_get_day_of_month (now));
}

gboolean
bl_month_day_parse (const char *text, BlMonthDay *md, GError **error)
{
  int month = 0, day = 0;

  g_return_val_if_fail (md != NULL, FALSE);
  if (text != NULL && strlen (text) == 5 && text[2] == '-')
    {
      month = two_digits (text);
      day = two_digits (text + 3);
    }
  /* 2000 was a leap year, so every day that any year has is accepted. */
  if (bl_day (2000, month, day) == 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("“%s” is not a day of the year: write month and day like 05-12."),
                   text != NULL ? text : "");
      return FALSE;
    }
  *md = (BlMonthDay) { (guint8) month, (guint8) day };
  return TRUE;
}

char *
bl_month_day_format (BlMonthDay md)
{
  return md.month == 0 ? g_strdup ("") : g_strdup_printf ("%02d-%02d", md.month, md.day);
}

BlDay
bl_month_day_in (BlMonthDay md, int year)
{
  if (md.month == 2 && md.day == 29 && bl_day (year, 2, 29) == 0)
    return bl_day (year, 2, 28);
  return bl_day (year, md.month, md.day);
}
