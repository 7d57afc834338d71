/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The composed values of a record: shapes, sizes bought, harm, regulations, colours, slugs. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "plants/parse-private.h"
#include "plants/words.h"

/* A shape and, unless it is "none", a length in centimetres. */
static gboolean
read_shape (const BlParseField *field, const char *value, guint *shape, double *size,
            GError **error)
{
  g_auto (GStrv) words = bl_parse_split (value);
  guint n = g_strv_length (words);
  int i = n > 0 ? bl_word_index (field->words, words[0]) : -1;
  g_autofree char *known = bl_words_join (field->words);

  if (i < 0)
    return bl_parse_refuse (error, field, "“%s” does not begin with one of %s", value, known);
  *shape = (guint) i;
  *size = 0;
  if (strcmp (field->words[i], "none") == 0)
    return TRUE;
  if (n != 2 || !bl_parse_to_number (words[1], size) || *size <= 0 || *size > 500)
    return bl_parse_refuse (error, field, "“%s” should be a shape and its length in centimetres",
                            value);
  *size *= CM;
  return TRUE;
}

gboolean
bl_read_leaf (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  guint shape = 0;

  if (!read_shape (field, value, &shape, &plant->leaf_size, error))
    return FALSE;
  plant->leaf = (BlLeafShape) shape;
  return TRUE;
}

gboolean
bl_read_flower (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  guint shape = 0;

  if (!read_shape (field, value, &shape, &plant->flower_size, error))
    return FALSE;
  plant->flower = (BlFlowerShape) shape;
  return TRUE;
}

static gboolean
read_size (const BlParseField *field, const char *part, BlPlantSize *size, GError **error)
{
  g_auto (GStrv) cells = bl_parse_split_list (part, ":");
  double v[3] = { 0 };
  guint i = 0;

  if (g_strv_length (cells) != 4)
    return bl_parse_refuse (error, field,
                            "“%s” should be size:height:spread:price, such as #1:35:25:1450", part);
  for (i = 0; i < 3; i++)
    if (!bl_parse_to_number (cells[i + 1], &v[i]) || v[i] < 0 || (i < 2 && v[i] > 1500))
      return bl_parse_refuse (error, field, "“%s” in “%s” is not a %s", cells[i + 1], part,
                              i == 2 ? _("price in cents") : _("length in centimetres"));
  size->name = g_strdup (cells[0]);
  size->height = v[0] * CM;
  size->spread = v[1] * CM;
  size->price = (gint64) llround (v[2]);
  return TRUE;
}

gboolean
bl_read_containers (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  g_auto (GStrv) parts = bl_parse_split_list (value, ";");
  guint n = g_strv_length (parts);
  guint i = 0;

  if (n == 0 || n > BL_MAX_SIZES)
    return bl_parse_refuse (error, field, "names %u sizes; one to %d are allowed", n, BL_MAX_SIZES);
  for (i = 0; i < n; i++)
    {
      if (!read_size (field, parts[i], &plant->sizes[i], error))
        return FALSE;
      plant->n_sizes = i + 1;
    }
  return TRUE;
}

gboolean
bl_read_spreads (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  plant->runs = strcmp (value, "runner") == 0 || strcmp (value, "both") == 0;
  plant->seeds = strcmp (value, "seed") == 0 || strcmp (value, "both") == 0;
  if (!plant->runs && !plant->seeds)
    return bl_parse_refuse (error, field, "“%s” is not runner, seed or both", value);
  return TRUE;
}

gboolean
bl_read_harm (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  g_auto (GStrv) words = bl_parse_split (value);
  BlHarm *to[]
    = { &plant->harm_people, &plant->harm_dogs, &plant->harm_cats, &plant->harm_livestock };
  guint i = 0;

  if (g_strv_length (words) != 4)
    return bl_parse_refuse (error, field,
                            "“%s” should be four words: for people, dogs, cats, livestock", value);
  for (i = 0; i < 4; i++)
    {
      int harm = bl_word_index (bl_harm_words, words[i]);

      if (harm < 0)
        {
          g_autofree char *known = bl_words_join (bl_harm_words);

          return bl_parse_refuse (error, field, "“%s” is not one of %s", words[i], known);
        }
      *to[i] = (BlHarm) harm;
    }
  return TRUE;
}

gboolean
bl_read_regulated (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  g_auto (GStrv) parts = bl_parse_split_list (value, ";");
  guint n = g_strv_length (parts);
  guint i = 0;

  plant->regulations = g_new0 (BlRegulation, MAX (n, 1));
  for (i = 0; i < n; i++)
    {
      g_auto (GStrv) cells = bl_parse_split_list (parts[i], "|");

      if (g_strv_length (cells) != 4)
        return bl_parse_refuse (error, field, "“%s” should be where|what|by whom|as of", parts[i]);
      plant->regulations[i].where = g_strdup (cells[0]);
      plant->regulations[i].what = g_strdup (cells[1]);
      plant->regulations[i].by = g_strdup (cells[2]);
      plant->regulations[i].when = g_strdup (cells[3]);
      plant->n_regulations = i + 1;
    }
  return TRUE;
}

gboolean
bl_read_color (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  if (!bl_color_parse (value, AT (BlColor, plant, field)))
    return bl_parse_refuse (error, field, "“%s” is not a colour such as #4f7d3a", value);
  return TRUE;
}

/* Up to @most colours; their number, or -1 after an error. */
static int
read_colors (const BlParseField *field, const char *value, BlColor *colors, guint most,
             GError **error)
{
  g_auto (GStrv) words = bl_parse_split (value);
  guint n = g_strv_length (words);
  guint i = 0;

  if (n > most)
    {
      bl_parse_refuse (error, field, "has %u colours; at most %u are allowed", n, most);
      return -1;
    }
  for (i = 0; i < n; i++)
    if (!bl_color_parse (words[i], &colors[i]))
      {
        bl_parse_refuse (error, field, "“%s” is not a colour such as #4f7d3a", words[i]);
        return -1;
      }
  return (int) n;
}

gboolean
bl_read_leaf_colors (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  BlColor c[4];
  int n = read_colors (field, value, c, 4, error);

  if (n < 0)
    return FALSE;
  if (n != 4)
    return bl_parse_refuse (error, field, "needs four colours: spring, summer, autumn, winter");
  plant->leaf_spring = c[0];
  plant->leaf_summer = c[1];
  plant->leaf_autumn = c[2];
  plant->leaf_winter = c[3];
  return TRUE;
}

gboolean
bl_read_flower_colors (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  int n = read_colors (field, value, plant->flower_colors, BL_MAX_COLORS, error);

  plant->n_flower_colors = n > 0 ? (guint) n : 0;
  return n >= 0;
}

gboolean
bl_read_fruit (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  g_auto (GStrv) words = bl_parse_split (value);
  double from = 0, to = 0;

  if (g_strv_length (words) != 3 || !bl_color_parse (words[0], &plant->fruit_color)
      || !bl_parse_to_number (words[1], &from) || !bl_parse_to_number (words[2], &to) || from < 1
      || from > 12 || to < 1 || to > 12)
    return bl_parse_refuse (error, field,
                            "“%s” should be a colour and two months, such as #a02020 9 12", value);
  plant->has_fruit = TRUE;
  plant->fruit_from = (int) from;
  plant->fruit_to = (int) to;
  return TRUE;
}

gboolean
bl_read_support (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  if (strcmp (value, "stake") != 0 && strcmp (value, "trellis") != 0)
    return bl_parse_refuse (error, field, "“%s” is neither stake nor trellis", value);
  return bl_read_text (plant, field, value, error);
}

gboolean
bl_read_slugs (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  GStrv *at = AT (GStrv, plant, field);

  g_strfreev (*at);
  *at = bl_parse_split_list (value, ",");
  return TRUE;
}

static gboolean
is_sha256 (const char *word)
{
  return strlen (word) == 64 && strspn (word, "0123456789abcdef") == 64;
}

/* "sha256 height foot-x foot-y from to": centimetres, shares, months. */
gboolean
bl_read_picture (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  g_auto (GStrv) words = bl_parse_split (value);
  BlCutout **at = AT (BlCutout *, plant, field);
  BlCutout *cutout = NULL;
  double v[5] = { 0 };
  gboolean ok = g_strv_length (words) == 6 && is_sha256 (words[0]);

  for (guint i = 0; ok && i < 5; i++)
    ok = bl_parse_to_number (words[i + 1], &v[i]);
  ok = ok && v[0] >= 1 && v[0] <= 6000 && v[1] >= 0 && v[1] <= 1 && v[2] >= 0 && v[2] <= 1;
  for (guint i = 3; ok && i < 5; i++)
    ok = v[i] >= 0 && v[i] <= 12 && v[i] == floor (v[i]);
  if (!ok || (v[3] == 0) != (v[4] == 0))
    return bl_parse_refuse (error, field,
                            "“%s” should be the picture's SHA-256, its height in centimetres, its "
                            "foot as two shares, and its first and last month or 0 0", value);
  cutout = g_new0 (BlCutout, 1);
  g_mutex_init (&cutout->lock);
  cutout->sha256 = g_strdup (words[0]);
  cutout->height = v[0] * CM;
  cutout->foot_x = v[1];
  cutout->foot_y = v[2];
  cutout->from = (int) v[3];
  cutout->to = (int) v[4];
  *at = cutout;
  return TRUE;
}
