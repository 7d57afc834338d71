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
months_meet (int from, int to, int first, int last)
{
  return bl_months_include (from, to, first) || bl_months_include (first, last, from);
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

/* What is asked more rarely and stands in the record alone. */
static gboolean
asks_record (const BlPlantQuery *q)
{
  return q->no_cat_report || q->no_livestock_report || q->rabbit_rarely || q->no_thorns
         || q->min_wind != BL_GRADE_UNKNOWN || q->min_juglone != BL_GRADE_UNKNOWN
         || q->hot_days > 0 || q->ph > 0;
}

static gboolean
record_passes (const BlPlant *p, const BlPlantQuery *q)
{
  if ((q->no_cat_report && p->harm_cats != BL_HARM_NO_REPORT)
      || (q->no_livestock_report && p->harm_livestock != BL_HARM_NO_REPORT)
      || (q->rabbit_rarely && p->rabbit != BL_BROWSE_RARELY) || (q->no_thorns && p->thorns)
      || p->wind < q->min_wind || p->juglone < q->min_juglone)
    return FALSE;
  /* Limits that are not known leave nothing out. */
  if (q->hot_days > 0 && p->heat_high > 0 && bl_heat_zone_for_days (q->hot_days) > p->heat_high)
    return FALSE;
  return q->ph <= 0 || p->ph_low <= 0 || (q->ph >= p->ph_low - 0.05 && q->ph <= p->ph_high + 0.05);
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

/* Without regard to case and accents, with single spaces between words: as names are kept for
 * comparing. The index of names folds accents by itself. */
char *
bl_library_fold (const char *text)
{
  g_autofree char *apart = g_utf8_normalize (text, -1, G_NORMALIZE_NFD);
  g_autofree char *lower = apart != NULL ? g_utf8_casefold (apart, -1) : NULL;
  GString *out = g_string_new (NULL);
  gboolean gap = FALSE;
  const char *c = lower != NULL ? lower : "";

  for (; *c != '\0'; c = g_utf8_next_char (c))
    {
      gunichar letter = g_utf8_get_char (c);

      if (g_unichar_ismark (letter))
        continue;
      gap = gap || !g_unichar_isalnum (letter);
      if (!g_unichar_isalnum (letter))
        continue;
      if (gap && out->len > 0)
        g_string_append_c (out, ' ');
      gap = FALSE;
      g_string_append_unichar (out, letter);
    }
  return g_string_free (out, FALSE);
}

/* How @typed lies in @name, both folded: all of it, its last words (what the thing is called), its
 * first words, words within, the beginning of its first word, or not at all. */
static double
closeness (const char *name, const char *typed)
{
  gsize length = strlen (name), wanted = strlen (typed);
  const char *at = name;
  double best = 0;

  if (wanted == 0 || wanted > length)
    return 0;
  for (at = strstr (name, typed); at != NULL; at = strstr (at + 1, typed))
    {
      gboolean starts = at == name || at[-1] == ' ', ends = at[wanted] == '\0';
      gboolean whole = starts && (ends || at[wanted] == ' ');

      if (whole && at == name && ends)
        return 500;
      best = MAX (best, whole && ends          ? 400
                        : whole && at == name  ? 300
                        : whole                ? 200
                        : starts && at == name ? 100
                                               : 0);
    }
  return best;
}

/* A genus is what the whole of a botanical name is about: "salvia" is as good there as at the end of
 * a common name. */
static double
name_score (const BlFacts *f, const char *typed)
{
  double botanical = closeness (f->folded, typed);

  botanical = botanical == 300 ? 400 : botanical;
  return MAX (botanical, MAX (closeness (f->folded_common, typed), closeness (f->folded_es, typed)));
}

/* How well the plant suits the place that is worked on, for the order alone: everything known of the
 * site takes something off where the plant does not bear it. */
static double
suits_here (const BlFacts *f, const BlSite *site, BlLight light)
{
  double score = 0;

  if (site->zone != 0 && f->type != BL_TYPE_ANNUAL)
    score -= 3.0 * CLAMP (f->zone_low - site->zone, 0, 4)
             + 1.5 * CLAMP (site->zone - f->zone_high, 0, 4);
  if (light != BL_LIGHT_UNKNOWN)
    score += !(f->light & BL_LIGHT_BIT (light)) ? -4.0 : f->light == BL_LIGHT_BIT (light) ? 0.5 : 0;
  if (site->moisture != BL_MOISTURE_UNKNOWN && !(f->moisture & BL_MOISTURE_BIT (site->moisture)))
    score -= 3.0;
  if (site->soil != BL_SOIL_UNKNOWN && !(f->soil & BL_SOIL_BIT (site->soil)))
    score -= 1.5;
  if (site->salt_edge)
    score += f->soil_salt == BL_GRADE_HIGH ? 0.5 : f->soil_salt == BL_GRADE_LOW ? -3.0 : 0;
  if (site->deer)
    score += f->deer == BL_BROWSE_RARELY ? 0.5 : f->deer == BL_BROWSE_OFTEN ? -3.0 : 0;
  if (site->children && f->harm_people >= BL_HARM_TOXIC)
    score -= f->harm_people == BL_HARM_SEVERE ? 6.0 : 2.0;
  if (site->pets && f->harm_dogs >= BL_HARM_TOXIC)
    score -= f->harm_dogs == BL_HARM_SEVERE ? 6.0 : 2.0;
  return score;
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
  folded = bl_library_fold (valid);
  for (i = 0; i < hits->len; i++)
    g_array_index (hits, Hit, i).score += name_score (g_array_index (hits, Hit, i).facts, folded);
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
      if (asks_record (query))
        {
          const BlPlant *plant = bl_library_plant_of (library, hit.facts, error);

          if (plant == NULL)
            return NULL;
          if (!record_passes (plant, query))
            continue;
        }
      hit.score += suitability (hit.facts, query);
      if (query->here != NULL)
        hit.score += suits_here (hit.facts, query->here, query->light_here);
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
