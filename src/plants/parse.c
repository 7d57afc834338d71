/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads one plant record; every mistake names the slug and the key. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "plants/parse-private.h"
#include "plants/words.h"

#define MAX_SLUG 120 /* bytes */

/* "x faassenii" or "× faassenii" is a hybrid; the sign is taken off. */
static gboolean
take_hybrid_sign (char **name)
{
  const char *rest = NULL;
  char *bare = NULL;

  if (g_str_has_prefix (*name, "x ") || g_str_has_prefix (*name, "\303\227"))
    rest = *name + 2;
  if (rest == NULL)
    return FALSE;
  bare = g_strstrip (g_strdup (rest));
  g_free (*name);
  *name = bare;
  return TRUE;
}

static gboolean
read_genus (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  if (!bl_read_text (plant, field, value, error))
    return FALSE;
  plant->hybrid_genus = take_hybrid_sign (&plant->genus);
  return TRUE;
}

static gboolean
read_species (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  if (!bl_read_text (plant, field, value, error))
    return FALSE;
  plant->hybrid_species = take_hybrid_sign (&plant->species);
  return TRUE;
}

static gboolean
read_infra (BlPlant *plant, const BlParseField *field, const char *value, GError **error)
{
  g_auto (GStrv) words = bl_parse_split (value);

  if (g_strv_length (words) != 2)
    return bl_parse_refuse (error, field,
                            "“%s” should be a rank and an epithet, such as var. fulgida", value);
  plant->rank = g_strdup (words[0]);
  plant->infra = g_strdup (words[1]);
  return TRUE;
}

#define F(key, required, read, member)                                                             \
  {                                                                                                \
    key, required, read, G_STRUCT_OFFSET (BlPlant, member), NULL                                   \
  }
#define W(key, member, words)                                                                      \
  {                                                                                                \
    key, TRUE, bl_read_word, G_STRUCT_OFFSET (BlPlant, member), words                              \
  }

static const BlParseField fields[] = {
  F ("genus", TRUE, read_genus, genus),
  F ("species", FALSE, read_species, species),
  F ("infra", FALSE, read_infra, infra),
  F ("cultivar", FALSE, bl_read_text, cultivar),
  F ("common", TRUE, bl_read_text, common),
  F ("common_es", FALSE, bl_read_text, common_es),
  W ("type", type, bl_type_words),
  W ("form", form, bl_form_words),
  { "leaf", TRUE, bl_read_leaf, 0, bl_leaf_words },
  F ("height", TRUE, bl_read_sizes3, height_low),
  F ("spread", TRUE, bl_read_sizes3, spread_low),
  F ("foliage_height", FALSE, bl_read_cm, foliage_height),
  F ("years", TRUE, bl_read_years, years),
  W ("growth", growth, bl_growth_words),
  F ("sizes", TRUE, bl_read_containers, sizes),
  F ("zones", TRUE, bl_read_zones, zone_low),
  F ("heat", FALSE, bl_read_heat, heat_low),
  F ("light", TRUE, bl_read_light, light),
  F ("moisture", TRUE, bl_read_moisture, moisture),
  F ("soil", TRUE, bl_read_soil, soil),
  F ("ph", TRUE, bl_read_ph, ph_low),
  W ("drought", drought, bl_grade_words),
  W ("soil_salt", soil_salt, bl_grade_words),
  W ("spray_salt", spray_salt, bl_grade_words),
  W ("snow_load", snow_load, bl_grade_words),
  W ("wind", wind, bl_grade_words),
  W ("deer", deer, bl_browse_words),
  W ("rabbit", rabbit, bl_browse_words),
  W ("juglone", juglone, bl_grade_words),
  W ("root_risk", root_risk, bl_grade_words),
  F ("spreads", FALSE, bl_read_spreads, runs),
  F ("thorns", TRUE, bl_read_flag, thorns),
  F ("harm", TRUE, bl_read_harm, harm_people),
  F ("harm_note", FALSE, bl_read_text, harm_note),
  F ("allergen", FALSE, bl_read_text, allergen),
  F ("regulated", FALSE, bl_read_regulated, regulations),
  F ("invasive", FALSE, bl_read_text, invasive),
  F ("native", TRUE, bl_read_flag, native),
  F ("origin", TRUE, bl_read_text, origin),
  W ("leaves", leaves, bl_leaves_words),
  F ("emerges", TRUE, bl_read_month, emerges),
  F ("spring_only", TRUE, bl_read_flag, spring_only),
  F ("leaf_colors", TRUE, bl_read_leaf_colors, leaf_spring),
  F ("stem", TRUE, bl_read_color, stem),
  { "flower", TRUE, bl_read_flower, 0, bl_flower_words },
  F ("flower_colors", FALSE, bl_read_flower_colors, flower_colors),
  F ("flower_color_name", FALSE, bl_read_text, flower_color_name),
  F ("flower_months", TRUE, bl_read_months, flower_from),
  F ("seed_color", FALSE, bl_read_color, seed_color),
  F ("fruit", FALSE, bl_read_fruit, fruit_color),
  F ("winter_interest", FALSE, bl_read_text, winter_interest),
  F ("wildlife", FALSE, bl_read_text, wildlife),
  F ("spacing", TRUE, bl_read_cm, spacing),
  F ("support", FALSE, bl_read_support, support),
  F ("companions", FALSE, bl_read_slugs, companions),
  F ("avoid", FALSE, bl_read_slugs, avoid),
  W ("care", care, bl_care_words),
  F ("care_note", FALSE, bl_read_text, care_note),
  F ("divide", TRUE, bl_read_divide, divide_low),
  F ("picture", FALSE, bl_read_picture, cutout),
  F ("basis", TRUE, bl_read_text, basis),
};

const char *const *
bl_plant_keys (void)
{
  static const char *keys[G_N_ELEMENTS (fields) + 1];
  static gsize once = 0;
  guint i = 0;

  if (g_once_init_enter (&once))
    {
      for (i = 0; i < G_N_ELEMENTS (fields); i++)
        keys[i] = fields[i].key;
      g_once_init_leave (&once, 1);
    }
  return keys;
}

static const BlParseField *
field_named (const char *key)
{
  guint i = 0;

  for (i = 0; i < G_N_ELEMENTS (fields); i++)
    if (strcmp (fields[i].key, key) == 0)
      return &fields[i];
  return NULL;
}

static gboolean
read_fields (BlPlant *plant, GKeyFile *file, GString *text, GError **error)
{
  gsize n = 0, i = 0;
  g_auto (GStrv) keys = g_key_file_get_keys (file, plant->slug, &n, error);

  for (i = 0; keys != NULL && i < n; i++)
    if (field_named (keys[i]) == NULL)
      {
        g_set_error (error, BL_ERROR, BL_ERROR_INPUT, _("there is no key “%s”"), keys[i]);
        return FALSE;
      }
  for (i = 0; keys != NULL && i < G_N_ELEMENTS (fields); i++)
    {
      const BlParseField *field = &fields[i];
      g_autofree char *value = g_key_file_get_value (file, plant->slug, field->key, NULL);

      if (value != NULL)
        g_strstrip (value);
      if (value == NULL || value[0] == '\0')
        {
          if (!field->required)
            continue;
          return bl_parse_refuse (error, field, "is missing");
        }
      g_string_append_printf (text, "%s=%s\n", field->key, value);
      if (!field->read (plant, field, value, error))
        return FALSE;
    }
  return keys != NULL;
}

static gboolean
is_worse_than_no_report (const BlPlant *plant)
{
  return MAX (MAX (plant->harm_people, plant->harm_dogs),
              MAX (plant->harm_cats, plant->harm_livestock))
         >= BL_HARM_MILD;
}

/* What must hold between the keys of one record. */
static gboolean
check_together (BlPlant *plant, GError **error)
{
  const char *fault = NULL;

  if (plant->foliage_height == 0)
    plant->foliage_height = plant->height;
  if (plant->foliage_height > plant->height)
    fault = _("key “foliage_height”: is over the design height");
  else if (plant->growth == BL_GRADE_UNKNOWN)
    fault = _("key “growth”: must be slow, medium or fast");
  else if (plant->root_risk == BL_GRADE_UNKNOWN)
    fault = _("key “root_risk”: must be low, medium or high");
  else if (plant->flower != BL_FLOWER_NONE && plant->flower_from != 0
           && plant->n_flower_colors == 0)
    fault = _("key “flower_colors”: needed where there is a flower");
  else if (plant->flower == BL_FLOWER_NONE && plant->flower_from != 0)
    fault = _("key “flower_months”: must be 0 0 where the flower is none");
  else if (is_worse_than_no_report (plant) && plant->harm_note == NULL)
    fault = _("key “harm_note”: the usual caution is needed where harm is mild or worse");
  if (fault != NULL)
    g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT, fault);
  return fault == NULL;
}

/* A slug is a heading of a record and the name of a drawing's file: nothing else may stand in it. */
static gboolean
check_slug (const char *slug, GError **error)
{
  gsize n = strspn (slug, "abcdefghijklmnopqrstuvwxyz0123456789-");
  g_autofree char *shown = NULL;

  if (n > 0 && n <= MAX_SLUG && slug[n] == '\0')
    return TRUE;
  shown = g_utf8_make_valid (slug, (gssize) MIN (strlen (slug), MAX_SLUG));
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
               _("“%s” cannot be a plant's key: write up to %d small letters a to z, digits and hyphens"),
               shown, MAX_SLUG);
  return FALSE;
}

/* A record may come without its heading line. */
static char *
with_heading (const char *heading, const char *record)
{
  while (g_ascii_isspace (*record))
    record++;
  return *record == '[' ? g_strdup (record) : g_strconcat (heading, record, NULL);
}

/* FNV-1a, 64 bits. */
static guint64
mark_of (const char *text)
{
  guint64 mark = G_GUINT64_CONSTANT (0xcbf29ce484222325);

  for (const char *c = text; *c != '\0'; c++)
    mark = (mark ^ (guchar) *c) * G_GUINT64_CONSTANT (0x100000001b3);
  return mark;
}

BlPlant *
bl_plant_parse (const char *slug, const char *record, GError **error)
{
  g_autoptr (BlPlant) plant = g_new0 (BlPlant, 1);
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *headed = NULL;

  g_atomic_ref_count_init (&plant->refs);
  if (!check_slug (slug, error))
    return NULL;
  plant->slug = g_strdup (slug);
  g_string_append_printf (text, "[%s]\n", slug);
  headed = with_heading (text->str, record);
  if (!g_key_file_load_from_data (file, headed, strlen (headed), G_KEY_FILE_NONE, error)
      || !read_fields (plant, file, text, error) || !bl_plant_name_check (plant, error)
      || !check_together (plant, error))
    {
      g_prefix_error (error, "%s: ", slug);
      if (error != NULL && *error != NULL && (*error)->domain != BL_ERROR)
        {
          g_autofree char *message = g_strdup ((*error)->message);

          g_clear_error (error);
          g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT, message);
        }
      return NULL;
    }
  if (plant->seed_color.a == 0)
    plant->seed_color = plant->leaf_winter;
  plant->text = g_string_free (g_steal_pointer (&text), FALSE);
  plant->mark = mark_of (plant->text);
  return g_steal_pointer (&plant);
}

/* Takes the sentence out of "key “x”: sentence" and files it under x, else under @key. */
static void
keep_fault (GHashTable *faults, const char *key, GError **why)
{
  static const char lead[] = "key “";
  const char *message = (*why)->message;
  const char *end = g_str_has_prefix (message, lead) ? strstr (message, "”: ") : NULL;
  g_autofree char *named = end != NULL ? g_strndup (message + strlen (lead),
                                                    (gsize) (end - message) - strlen (lead))
                                       : g_strdup (key);

  if (!g_hash_table_contains (faults, named))
    g_hash_table_insert (faults, g_strdup (named),
                         g_strdup (end != NULL ? end + strlen ("”: ") : message));
  g_clear_error (why);
}

GHashTable *
bl_plant_faults (const char *slug, const char *record)
{
  g_autoptr (GHashTable) faults = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (BlPlant) plant = g_new0 (BlPlant, 1);
  g_autoptr (GError) why = NULL;
  g_autofree char *heading = g_strdup_printf ("[%s]\n", slug);
  g_autofree char *headed = with_heading (heading, record);
  guint i = 0;

  g_atomic_ref_count_init (&plant->refs);
  plant->slug = g_strdup (slug);
  if (!check_slug (slug, &why)
      || !g_key_file_load_from_data (file, headed, strlen (headed), G_KEY_FILE_NONE, &why))
    keep_fault (faults, "genus", &why);
  for (i = 0; i < G_N_ELEMENTS (fields); i++)
    {
      g_autofree char *value = g_key_file_get_value (file, slug, fields[i].key, NULL);

      if (value != NULL)
        g_strstrip (value);
      if (value == NULL || value[0] == '\0')
        {
          if (fields[i].required)
            g_hash_table_insert (faults, g_strdup (fields[i].key), g_strdup ("is missing"));
        }
      else if (!fields[i].read (plant, &fields[i], value, &why))
        keep_fault (faults, fields[i].key, &why);
    }
  if (!g_hash_table_contains (faults, "genus") && !bl_plant_name_check (plant, &why))
    keep_fault (faults, "genus", &why);
  if (g_hash_table_size (faults) == 0 && !check_together (plant, &why))
    keep_fault (faults, "genus", &why);
  return g_steal_pointer (&faults);
}
