/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plain values of a record: numbers, words, lengths, months, zones, sets of words. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "plants/parse-private.h"
#include "plants/words.h"

gboolean
bl_parse_refuse (GError **error, const BlParseField *field, const char *message, ...)
{
  va_list args;
  g_autofree char *text = NULL;

  va_start (args, message);
  text = g_strdup_vprintf (_(message), args);
  va_end (args);
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT, _("key “%s”: %s"), field->key, text);
  return FALSE;
}

/* Words between blanks. */
GStrv
bl_parse_split (const char *value)
{
  g_auto (GStrv) rough = g_strsplit_set (value, " \t", -1);
  GStrvBuilder *builder = g_strv_builder_new ();
  GStrv words = NULL;
  guint i = 0;

  for (i = 0; rough[i] != NULL; i++)
    if (rough[i][0] != '\0')
      g_strv_builder_add (builder, rough[i]);
  words = g_strv_builder_end (builder);
  g_strv_builder_unref (builder);
  return words;
}

/* Parts between @separator, trimmed, empty ones left out. */
GStrv
bl_parse_split_list (const char *value, const char *separator)
{
  g_auto (GStrv) rough = g_strsplit (value, separator, -1);
  GStrvBuilder *builder = g_strv_builder_new ();
  GStrv parts = NULL;
  guint i = 0;

  for (i = 0; rough[i] != NULL; i++)
    if (g_strstrip (rough[i])[0] != '\0')
      g_strv_builder_add (builder, rough[i]);
  parts = g_strv_builder_end (builder);
  g_strv_builder_unref (builder);
  return parts;
}

gboolean
bl_parse_to_number (const char *word, double *number)
{
  char *end = NULL;

  *number = g_ascii_strtod (word, &end);
  return end != word && *end == '\0' && isfinite (*number);
}

/* Exactly @n numbers within @low .. @high. */
gboolean
bl_parse_numbers (const BlParseField *field, const char *value, guint n, double *out, double low,
                  double high, const char *what, GError **error)
{
  g_auto (GStrv) words = bl_parse_split (value);
  guint i = 0;

  if (g_strv_length (words) != n)
    return bl_parse_refuse (error, field, "“%s” should be %s", value, _(what));
  for (i = 0; i < n; i++)
    if (!bl_parse_to_number (words[i], &out[i]) || out[i] < low || out[i] > high)
      return bl_parse_refuse (error, field, "“%s” in “%s” is not a number from %g to %g; write %s",
                              words[i], value, low, high, _(what));
  return TRUE;
}

gboolean
bl_read_text (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  char **at = AT (char *, plant, field);

  if (!g_utf8_validate (value, -1, NULL))
    return bl_parse_refuse (error, field, "is not UTF-8 text");
  g_free (*at);
  *at = g_strdup (value);
  return TRUE;
}

gboolean
bl_read_word (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  int i = bl_word_index (field->words, value);

  if (i < 0)
    {
      g_autofree char *known = bl_words_join (field->words);

      return bl_parse_refuse (error, field, "“%s” is not one of %s", value, known);
    }
  *AT (guint, plant, field) = (guint) i;
  return TRUE;
}

gboolean
bl_read_flag (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  if (strcmp (value, "yes") != 0 && strcmp (value, "no") != 0)
    return bl_parse_refuse (error, field, "“%s” is neither yes nor no", value);
  *AT (gboolean, plant, field) = value[0] == 'y';
  return TRUE;
}

/* Low, high and design value in centimetres, ordered. */
gboolean
bl_read_sizes3 (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  double *at = AT (double, plant, field);
  double v[3] = { 0 };

  if (!bl_parse_numbers (field, value, 3, v, 1, 6000, "low, high and design value in centimetres",
                         error))
    return FALSE;
  if (!(v[0] <= v[2] && v[2] <= v[1]))
    return bl_parse_refuse (error, field,
                            "“%s”: the design value (last) must lie between low and high", value);
  at[0] = v[0] * CM;
  at[1] = v[1] * CM;
  at[2] = v[2] * CM;
  return TRUE;
}

gboolean
bl_read_cm (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  double v = 0;

  if (!bl_parse_numbers (field, value, 1, &v, 0.5, 6000, "one length in centimetres", error))
    return FALSE;
  *AT (double, plant, field) = v * CM;
  return TRUE;
}

gboolean
bl_read_years (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  return bl_parse_numbers (field, value, 1, AT (double, plant, field), 0.25, 60,
                           "years to mature size", error);
}

gboolean
bl_read_month (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  double v = 0;

  if (!bl_parse_numbers (field, value, 1, &v, 1, 12, "one month from 1 to 12", error))
    return FALSE;
  *AT (int, plant, field) = (int) v;
  return TRUE;
}

/* Two whole numbers, kept in @offset and the member after it. */
static gboolean
read_pair (BlPlant *plant, const BlParseField *field, const char *value, double high,
           gboolean ordered, const char *what, GError **error)
{
  int *at = AT (int, plant, field);
  double v[2] = { 0 };

  if (!bl_parse_numbers (field, value, 2, v, 0, high, what, error))
    return FALSE;
  if (v[0] != floor (v[0]) || v[1] != floor (v[1]) || (v[0] == 0) != (v[1] == 0)
      || (ordered && v[0] > v[1]))
    return bl_parse_refuse (error, field, "“%s” should be %s", value, _(what));
  at[0] = (int) v[0];
  at[1] = (int) v[1];
  return TRUE;
}

gboolean
bl_read_months (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  return read_pair (plant, field, value, 12, FALSE, "first and last month from 1 to 12, or 0 0",
                    error);
}

gboolean
bl_read_heat (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  return read_pair (plant, field, value, 12, TRUE, "coolest and hottest heat zone from 1 to 12",
                    error);
}

gboolean
bl_read_divide (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  return read_pair (plant, field, value, 30, TRUE, "fewest and most years, or 0 0", error);
}

gboolean
bl_read_zones (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  g_auto (GStrv) words = bl_parse_split (value);
  g_autoptr (GError) why = NULL;

  if (g_strv_length (words) != 2)
    return bl_parse_refuse (error, field,
                            "“%s” should be two half zones, coldest first, such as 4a 8b", value);
  plant->zone_low = bl_zone_parse (words[0], &why);
  if (why == NULL)
    plant->zone_high = bl_zone_parse (words[1], &why);
  if (why != NULL)
    return bl_parse_refuse (error, field, "%s", why->message);
  if (plant->zone_low > plant->zone_high)
    return bl_parse_refuse (error, field, "“%s”: the colder zone comes first", value);
  return TRUE;
}

typedef gboolean (*FromName) (const char *name, guint *value);

static gboolean
light_from (const char *name, guint *value)
{
  BlLight light = BL_LIGHT_UNKNOWN;
  gboolean ok = bl_light_from_name (name, &light);

  *value = (guint) light;
  return ok;
}

static gboolean
moisture_from (const char *name, guint *value)
{
  BlMoisture moisture = BL_MOISTURE_UNKNOWN;
  gboolean ok = bl_moisture_from_name (name, &moisture);

  *value = (guint) moisture;
  return ok;
}

static gboolean
soil_from (const char *name, guint *value)
{
  BlSoil soil = BL_SOIL_UNKNOWN;
  gboolean ok = bl_soil_from_name (name, &soil);

  *value = (guint) soil;
  return ok;
}

static gboolean
read_set (BlPlant *plant, const BlParseField *field, const char *value, FromName from,
          const char *known, GError **error)
{
  g_auto (GStrv) words = bl_parse_split (value);
  guint bits = 0, i = 0, bit = 0;

  for (i = 0; words[i] != NULL; i++)
    {
      if (!from (words[i], &bit) || bit == 0)
        return bl_parse_refuse (error, field, "“%s” is not one of %s", words[i], known);
      bits |= 1u << bit;
    }
  if (bits == 0)
    return bl_parse_refuse (error, field, "needs at least one of %s", known);
  *AT (guint, plant, field) = bits;
  return TRUE;
}

gboolean
bl_read_light (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  return read_set (plant, field, value, light_from, "full, part or shade", error);
}

gboolean
bl_read_moisture (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  return read_set (plant, field, value, moisture_from, "dry, medium or wet", error);
}

gboolean
bl_read_soil (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  return read_set (plant, field, value, soil_from, "sand, loam or clay", error);
}

gboolean
bl_read_ph (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  double v[2] = { 0 };

  if (strcmp (value, "unknown") == 0)
    return TRUE;
  if (!bl_parse_numbers (field, value, 2, v, 3, 10, "lowest and highest pH, or unknown", error))
    return FALSE;
  if (v[0] > v[1])
    return bl_parse_refuse (error, field, "“%s”: the lower pH comes first", value);
  plant->ph_low = v[0];
  plant->ph_high = v[1];
  return TRUE;
}
