/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a stored thing must be: site, photo, tape, texts, prices, care, plants. */
#include "config.h"

#include "design/check.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "design/check-private.h"

gboolean
bl_check_override (const BlOverride *override,
                   GError          **error)
{
  if (override->alternative_id <= 0)
    return bl_refuse (error, "the own figure belongs to no alternative");
  if (g_strcmp0 (override->field, "quantity") != 0 && g_strcmp0 (override->field, "rate") != 0
      && g_strcmp0 (override->field, "optional") != 0)
    return bl_refuse (
        error, "an own figure replaces a quantity or a rate or makes a line optional, not “%s”",
        bl_shown (override->field));
  return bl_check_name (override->line, "the estimate line of an own figure", error)
         && bl_check_range (override->value, -1e12, 1e12, "an own figure", "", error)
         && bl_check_string (override->note, BL_MAX_TEXT, TRUE, "the note of an own figure", error);
}

static gboolean
check_day (BlDay       day,
           const char *what,
           GError    **error)
{
  if (day == 0 || (g_date_valid_julian (day) && day <= 1200000)) /* about the year 3286 */
    return TRUE;
  return bl_refuse (error, "%s is not a date", _(what));
}

gboolean
bl_check_care_mark (const BlCareMark *mark,
                    GError          **error)
{
  return bl_check_name (mark->uid, "the care task of a mark", error)
         && check_day (mark->done, "the day a task was done", error)
         && check_day (mark->moved, "the day a task was moved to", error);
}

gboolean
bl_check_own_task (const BlOwnTask *task,
                   GError         **error)
{
  if (task->day == 0)
    return bl_refuse (error, "the task “%s” has no day", bl_shown (task->title));
  return bl_check_name (task->title, "the task's title", error)
         && check_day (task->day, "the task's day", error)
         && bl_check_range (task->hours, 0, 10000, "the task's hours", "", error);
}

gboolean
bl_check_plant (const BlPlant *plant,
                GError       **error)
{
  if (!bl_check_name (plant->slug, "the plant's key", error))
    return FALSE;
  if (plant->text == NULL || plant->text[0] == '\0')
    return bl_refuse (error, "the plant “%s” has no record", plant->slug);
  return bl_check_string (plant->text, BL_MAX_RECORD, TRUE, "the plant's record", error);
}

static gboolean
check_tape_points (const BlTape *tape,
                   GError      **error)
{
  g_autoptr(GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < tape->points->len; i++)
    {
      const BlTapePoint *point = &g_array_index (tape->points, BlTapePoint, i);

      if (!bl_check_name (point->name, "a tape point's name", error))
        return FALSE;
      if (!g_hash_table_add (seen, point->name))
        return bl_refuse (error, "two tape points are called “%s”; give one another name",
                          point->name);
      if (point->fixed
          && !(fabs (point->at.x) <= BL_MAX_METRES && fabs (point->at.y) <= BL_MAX_METRES))
        return bl_refuse (error, "tape point “%s” is fixed out of reach", point->name);
    }
  return TRUE;
}

gboolean
bl_check_tape (const BlTape *tape,
               GError      **error)
{
  if (tape->points->len == 0)
    return bl_refuse (error, "the tape has no points");
  if (tape->points->len > BL_MAX_POINTS || tape->distances->len > BL_MAX_POINTS)
    return bl_refuse (error, "the tape has more than %d points or distances", BL_MAX_POINTS);
  if (!check_tape_points (tape, error))
    return FALSE;
  for (guint i = 0; i < tape->distances->len; i++)
    {
      const BlTapeDistance *d = &g_array_index (tape->distances, BlTapeDistance, i);

      if (d->from >= tape->points->len || d->to >= tape->points->len || d->from == d->to)
        return bl_refuse (error, "taped distance %u does not join two points", i + 1);
      if (!(d->distance > 0 && d->distance <= BL_MAX_METRES))
        return bl_refuse (error, "taped distance %u must be more than nothing and at most %g m",
                          i + 1, BL_MAX_METRES);
      if (!bl_check_range (d->sd, 0, 1000, "a taped distance's standard deviation", "m", error))
        return FALSE;
    }
  return TRUE;
}

gboolean
bl_check_price_item (const BlPriceItem *item,
                     GError           **error)
{
  if ((guint) item->kind >= BL_PRICE_N)
    return bl_refuse (error, "the price is of an unknown kind");
  if (!bl_check_name (item->key, "the price's key", error)
      || !bl_check_name (item->name, "the price's name", error)
      || !bl_check_name (item->unit, "the price's unit", error)
      || !bl_check_string (item->supplier, BL_MAX_NAME, FALSE, "the supplier", error))
    return FALSE;
  if (item->price < 0 || item->price > BL_MAX_MINOR)
    return bl_refuse (
        error, "the price of “%s” must be between nothing and %lld minor units", item->key,
        (long long) BL_MAX_MINOR);
  return bl_check_range (item->amount, 0, 1e9, "a price's amount", "", error);
}

static gboolean
check_or_unknown (double      value,
                  double      low,
                  double      high,
                  const char *what,
                  GError    **error)
{
  return isnan (value) || bl_check_range (value, low, high, what, "", error);
}

static gboolean
check_month_day (BlMonthDay  md,
                 const char *what,
                 GError    **error)
{
  static const guint8 days[] = { 31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };

  if (md.month == 0)
    return TRUE;
  if (md.month > 12 || md.day < 1 || md.day > days[md.month - 1])
    return bl_refuse (error, "%s is not a day of the year", _(what));
  return TRUE;
}

/* Part sun begins below full sun, also where only one of them is stated. */
static gboolean
check_light_limits (const BlSite *site,
                    GError      **error)
{
  BlLightRule rule = bl_site_light_rule (site);

  if (!check_or_unknown (site->full_from, 0, 24, "the hours that full sun begins at", error)
      || !check_or_unknown (site->part_from, 0, 24, "the hours that part sun begins at", error))
    return FALSE;
  if (rule.part_from > rule.full_from)
    return bl_refuse (error, "part sun must begin at fewer hours than full sun");
  return TRUE;
}

gboolean
bl_check_site (const BlSite *site,
               GError      **error)
{
  if ((guint) site->soil > BL_SOIL_CLAY || (guint) site->moisture > BL_MOISTURE_WET
      || (guint) site->wind > BL_WIND_WINDY)
    return bl_refuse (error, "the soil, its moisture or the wind is of an unknown kind");
  if (site->zone != 0 && (site->zone < 2 || site->zone > 27))
    return bl_refuse (error, "the hardiness zone must lie between 1a and 13b");
  if (site->ph != 0 && !bl_check_range (site->ph, 2, 12, "the soil's pH", "", error))
    return FALSE;
  return check_or_unknown (site->latitude, -90, 90, "the latitude", error)
         && check_or_unknown (site->longitude, -180, 180, "the longitude", error)
         && check_or_unknown (site->north, -360, 360, "the direction of north", error)
         && check_or_unknown (site->sun_hours, 0, 24, "the hours of sun", error)
         && check_or_unknown (site->hot_days, 0, 366, "the number of hot days", error)
         && check_light_limits (site, error)
         && check_month_day (site->last_frost, "the last frost", error)
         && check_month_day (site->first_frost, "the first frost", error)
         && bl_check_string (site->state, 8, FALSE, "the state or province", error);
}

gboolean
bl_check_photo (const BlPhotoInfo *photo,
                GError           **error)
{
  if ((photo->width == 0) != (photo->height == 0))
    return bl_refuse (error, "the photo needs both a width and a height");
  return bl_check_range (photo->width, 0, 100000, "the photo's width", "px", error)
         && bl_check_range (photo->height, 0, 100000, "the photo's height", "px", error)
         && bl_check_range (photo->focal_35mm, 0, 10000, "the focal length", "mm", error)
         && bl_check_range (photo->click_px, 0, 1000, "the error of a click", "px", error)
         && bl_check_range (photo->slope, 0, 2, "the fall of the ground", "", error)
         && bl_check_range (photo->slope_direction, -7, 7, "the direction of the fall", "rad",
                            error)
         && bl_check_string (photo->name, BL_MAX_NAME, FALSE, "the photo's name", error);
}

gboolean
bl_check_drawing (const BlDrawing *drawing,
                  GError         **error)
{
  if (drawing->width == 0)
    return bl_refuse (error, "there is no base drawing");
  return bl_drawing_check (drawing, error)
         && bl_check_string (drawing->name, BL_MAX_NAME, FALSE, "the base drawing's name", error);
}

/* ---- texts ---- */

static const char *const text_names[] = {
  "title", "client",   "place",    "designer",     "notes",
  "units", "currency", "language", "planting_day", "id", NULL,
};

const char *const *
bl_text_names (void)
{
  return text_names;
}

/* It goes into identifiers of calendars as it is. */
static gboolean
check_id (const char *value,
          GError    **error)
{
  gsize length = strspn (value, "0123456789abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ-");

  if (length >= 1 && length <= 64 && value[length] == '\0')
    return TRUE;
  return bl_refuse (error, "the design's id must be 1 to 64 letters, digits and hyphens");
}

static gboolean
all_between (const char *text,
             gsize       length,
             char        low,
             char        high)
{
  if (strlen (text) != length)
    return FALSE;
  for (gsize i = 0; i < length; i++)
    if (text[i] < low || text[i] > high)
      return FALSE;
  return TRUE;
}

gboolean
bl_check_text (const char *name,
               const char *value,
               GError    **error)
{
  BlUnits units;

  if (!g_strv_contains (text_names, name))
    return bl_refuse (error, "a design has no text called “%s”", name);
  if (strcmp (name, "notes") == 0 || strcmp (name, "client") == 0 || strcmp (name, "place") == 0
      || strcmp (name, "designer") == 0)
    return bl_check_string (value, BL_MAX_TEXT, TRUE, name, error);
  if (strcmp (name, "id") == 0)
    return check_id (value, error);
  if (!bl_check_string (value, BL_MAX_NAME, FALSE, name, error))
    return FALSE;
  if (strcmp (name, "units") == 0)
    return bl_units_from_name (value, &units, error);
  if (strcmp (name, "currency") == 0 && !all_between (value, 3, 'A', 'Z'))
    return bl_refuse (error,
                      "the currency must be three capital letters such as USD (ISO 4217), not “%s”",
                      value);
  if (strcmp (name, "language") == 0 && strcmp (value, "en") != 0 && strcmp (value, "es") != 0)
    return bl_refuse (error, "the language must be en or es, not “%s”", value);
  if (strcmp (name, "planting_day") == 0 && value[0] != '\0')
    return bl_day_parse (value, error) != 0;
  return TRUE;
}
