/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The finder: names through the full-text index, facts in memory, best fit first. */
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "plants/library-private.h"

typedef struct
{
  BlFacts *facts;
  double score; /* higher is better */
} Hit;

/* Each word as a prefix, all of them needed: "rud gold" → "rud"* "gold"*. */
static char *
match_expression (const char *text)
{
  GString *out = g_string_new (NULL);
  const char *c = text;

  while (*c != '\0')
    {
      const char *start = c;

      while (*c != '\0'
             && (g_unichar_isalnum (g_utf8_get_char (c)) || g_unichar_ismark (g_utf8_get_char (c))))
        c = g_utf8_next_char (c);
      if (c > start)
        g_string_append_printf (out, "\"%.*s\"* ", (int) (c - start), start);
      else
        c = g_utf8_next_char (c);
    }
  return g_string_free (out, FALSE);
}

static gboolean
match_names (BlLibrary *library, gboolean own, const char *expression, GArray *hits, GError **error)
{
  BL_STATEMENT_IN_USE *s = library->match[own];
  sqlite3 *db = own ? library->own : library->shipped;
  int code = SQLITE_DONE;

  if (s == NULL)
    return TRUE;
  sqlite3_bind_text (s, 1, expression, -1, SQLITE_TRANSIENT);
  while ((code = sqlite3_step (s)) == SQLITE_ROW)
    {
      gint64 id = sqlite3_column_int64 (s, 0);
      Hit hit = { g_hash_table_lookup (library->by_id[own], &id), -sqlite3_column_double (s, 1) };

      if (hit.facts != NULL)
        g_array_append_val (hits, hit);
    }
  return code == SQLITE_DONE || bl_sqlite_error (db, "The names cannot be searched", error);
}

static gboolean
is_outside (double value, double low, double high)
{
  return (low > 0 && value < low - 1e-9) || (high > 0 && value > high + 1e-9);
}

/* Do two spans of months, each of which may pass over the year's end, share a month? */
static gboolean
months_meet (int from, int to, int other_from, int other_to)
{
  return bl_months_include (from, to, other_from) || bl_months_include (other_from, other_to, from);
}

static gboolean
facts_pass (const BlFacts *f, const BlPlantQuery *q)
{
  if (f->hidden || (q->in_stock && !f->in_stock) || (q->own && !f->own)
      || (q->type != 0 && (int) f->type != q->type - 1)
      || (q->zone != 0 && (q->zone < f->zone_low || q->zone > f->zone_high))
      || (q->light != BL_LIGHT_UNKNOWN && !(f->light & BL_LIGHT_BIT (q->light)))
      || (q->moisture != BL_MOISTURE_UNKNOWN && !(f->moisture & BL_MOISTURE_BIT (q->moisture)))
      || (q->soil != BL_SOIL_UNKNOWN && !(f->soil & BL_SOIL_BIT (q->soil))))
    return FALSE;
  /* An unknown grade is below every grade asked for. */
  if (f->soil_salt < q->min_soil_salt || f->spray_salt < q->min_spray_salt
      || f->drought < q->min_drought || f->snow_load < q->min_snow_load
      || (q->deer_rarely && f->deer != BL_BROWSE_RARELY) || (q->native && !f->native)
      || (q->evergreen && !f->evergreen) || (q->no_dog_report && f->harm_dogs != BL_HARM_NO_REPORT)
      || (q->no_people_report && f->harm_people != BL_HARM_NO_REPORT))
    return FALSE;
  if (is_outside (f->height, q->height_low, q->height_high)
      || is_outside (f->spread, q->spread_low, q->spread_high))
    return FALSE;
  if (q->month_from != 0
      && !months_meet (f->flower_from, f->flower_to, q->month_from,
                       q->month_to != 0 ? q->month_to : q->month_from))
    return FALSE;
  return q->color == NULL || q->color[0] == '\0'
         || (f->color != NULL && strstr (f->color, q->color) != NULL);
}

/* How well the plant suits what was asked, beyond merely passing: zones to spare on the cold and
 * the warm side, and the asked condition being the heart of its range and not its edge. */
static double
suitability (const BlFacts *f, const BlPlantQuery *q)
{
  double score = 0;

  if (q->zone != 0)
    score += 0.5 * MIN (q->zone - f->zone_low, 2) + 0.25 * MIN (f->zone_high - q->zone, 2);
  if (q->light != BL_LIGHT_UNKNOWN)
    score += f->light == BL_LIGHT_BIT (q->light) ? 0.5 : 0.0;
  if (q->moisture != BL_MOISTURE_UNKNOWN)
    score += f->moisture == BL_MOISTURE_BIT (q->moisture) ? 0.25 : 0.0;
  if (q->min_soil_salt != BL_GRADE_UNKNOWN || q->min_spray_salt != BL_GRADE_UNKNOWN)
    score += 0.5 * f->soil_salt + 0.25 * f->spray_salt;
  if (q->min_drought != BL_GRADE_UNKNOWN)
    score += 0.5 * f->drought;
  if (q->min_snow_load != BL_GRADE_UNKNOWN)
    score += 0.5 * f->snow_load;
  return score;
}

static int
compare_hits (gconstpointer pa, gconstpointer pb)
{
  const Hit *a = pa, *b = pb;

  if (fabs (a->score - b->score) > 1e-9)
    return a->score > b->score ? -1 : 1;
  return strcmp (a->facts->name, b->facts->name);
}

/* A name that begins with what was typed comes before one that only has it inside. */
static double
beginning (const BlFacts *f, const char *folded)
{
  return g_str_has_prefix (f->folded, folded) || g_str_has_prefix (f->folded_common, folded) ? 100.0
                                                                                             : 0.0;
}

static GArray *
candidates (BlLibrary *library, const BlPlantQuery *q, GError **error)
{
  g_autoptr (GArray) hits = g_array_new (FALSE, FALSE, sizeof (Hit));
  g_autofree char *valid = q->text != NULL ? g_utf8_make_valid (q->text, -1) : NULL;
  g_autofree char *expression = valid != NULL ? match_expression (valid) : NULL;
  g_autofree char *folded = NULL;
  guint i = 0;

  if (expression == NULL || expression[0] == '\0')
    {
      for (i = 0; i < library->facts->len; i++)
        {
          Hit hit = { g_ptr_array_index (library->facts, i), 0.0 };

          g_array_append_val (hits, hit);
        }
      return g_steal_pointer (&hits);
    }
  if (!match_names (library, FALSE, expression, hits, error)
      || !match_names (library, TRUE, expression, hits, error))
    return NULL;
  folded = g_utf8_casefold (g_strstrip (valid), -1);
  for (i = 0; i < hits->len; i++)
    g_array_index (hits, Hit, i).score += beginning (g_array_index (hits, Hit, i).facts, folded);
  return g_steal_pointer (&hits);
}

GPtrArray *
bl_library_find (BlLibrary *library, const BlPlantQuery *query, GError **error)
{
  g_autoptr (GArray) hits = candidates (library, query, error);
  g_autoptr (GPtrArray) found = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_plant_unref);
  guint kept = 0, i = 0;

  if (hits == NULL)
    return NULL;
  for (i = 0; i < hits->len; i++)
    {
      Hit hit = g_array_index (hits, Hit, i);

      if (!facts_pass (hit.facts, query))
        continue;
      hit.score += suitability (hit.facts, query);
      g_array_index (hits, Hit, kept++) = hit;
    }
  g_array_set_size (hits, kept);
  g_array_sort (hits, compare_hits);
  if (query->limit != 0)
    kept = MIN (kept, query->limit);
  for (i = 0; i < kept; i++)
    {
      BlPlant *plant = bl_library_plant_of (library, g_array_index (hits, Hit, i).facts, error);

      if (plant == NULL)
        return NULL;
      g_ptr_array_add (found, bl_plant_ref (plant));
    }
  return g_steal_pointer (&found);
}
