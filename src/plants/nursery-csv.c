/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A nursery's list as it comes, matched to the plants of the library by botanical name and size. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/csv.h"
#include "base/error.h"
#include "base/units.h"
#include "plants/library-private.h"

#define MAX_STOCK 10000000

typedef enum { NAME, SIZE, PRICE, STOCK, FROM, NURSERY, N_COLUMNS } Column;

/* As nurseries head these columns; the first word is ours. */
static const char *const headings[N_COLUMNS][4] = {
  [NAME] = { "botanical name", "botanical", "name", NULL },
  [SIZE] = { "size", "container", NULL },
  [PRICE] = { "price", "price each", "unit price", NULL },
  [STOCK] = { "in stock", "stock", "quantity", NULL },
  [FROM] = { "available from", "available", "ready", NULL },
  [NURSERY] = { "nursery", "supplier", NULL },
};

typedef struct
{
  int at[N_COLUMNS]; /* -1 = there is none */
  GStrv cells;
  guint line, n;
  BlLibrary *library;
  BlStock *stock;
  GPtrArray *unmatched;
  GHashTable *seen;  /* "slug|size" → line */
} Reading;

/* A botanical name without what lists write differently: case, quotes, the hybrid sign, "ssp." and
 * spaces. */
static char *
undressed (const char *name)
{
  g_autofree char *folded = g_utf8_casefold (name, -1);
  g_auto (GStrv) words = g_strsplit_set (folded, " \t", -1);
  GString *out = g_string_new (NULL);

  for (guint i = 0; words[i] != NULL; i++)
    {
      const char *c = words[i];

      if (strcmp (c, "x") == 0)
        continue;
      if (out->len > 0 && c[0] != '\0' && out->str[out->len - 1] != ' ')
        g_string_append_c (out, ' ');
      if (strcmp (c, "ssp.") == 0)
        c = "subsp.";
      for (; *c != '\0'; c = g_utf8_next_char (c))
        {
          gunichar u = g_utf8_get_char (c);

          if (u != 0xd7 && u != '\'' && u != '"' && u != 0x2018 && u != 0x2019 && u != 0x201c
              && u != 0x201d)
            g_string_append_unichar (out, u);
        }
    }
  g_strchomp (out->str);
  return g_string_free (out, FALSE);
}

/* "1 gal" and "No. 1" are the container class #1 (ANSI Z60.1 writes it so). */
static char *
trade_size (const char *text)
{
  g_autofree char *lower = g_utf8_strdown (text, -1);
  char *end = NULL;
  const char *start = g_strstrip (lower);
  guint64 n;

  if (g_str_has_prefix (start, "no."))
    start += 3;
  while (*start == ' ' || *start == '#')
    start++;
  n = g_ascii_strtoull (start, &end, 10);
  if (end == start || n == 0 || n > 200)
    return g_strstrip (g_strdup (text));
  while (*end == ' ')
    end++;
  if (*end == '\0' || strcmp (end, "gal") == 0 || strcmp (end, "gal.") == 0
      || strcmp (end, "gallon") == 0 || strcmp (end, "gallons") == 0)
    return g_strdup_printf ("#%" G_GUINT64_FORMAT, n);
  return g_strstrip (g_strdup (text));
}

static gboolean
refuse (const Reading *r, Column column, const char *sentence, GError **error)
{
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "Line %u, column %d (“%s”): %s", r->line,
               r->at[column] + 1, headings[column][0], sentence);
  return FALSE;
}

static const char *
cell (const Reading *r, Column column)
{
  return r->at[column] >= 0 ? g_strstrip (r->cells[r->at[column]]) : "";
}

static gboolean
read_headings (Reading *r, GError **error)
{
  r->n = g_strv_length (r->cells);
  for (int c = 0; c < N_COLUMNS; c++)
    {
      r->at[c] = -1;
      for (guint i = 0; i < r->n && r->at[c] < 0; i++)
        {
          g_autofree char *lower = g_utf8_strdown (g_strstrip (r->cells[i]), -1);

          if (g_strv_contains (headings[c], lower))
            r->at[c] = (int) i;
        }
    }
  if (r->at[NAME] >= 0 && r->at[SIZE] >= 0 && (r->at[PRICE] >= 0 || r->at[STOCK] >= 0))
    return TRUE;
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
               _("Line 1: there is no heading “%s”; a nursery's list is headed: botanical name, size, "
               "price, in stock, available from, nursery"),
               r->at[NAME] < 0 ? "botanical name" : r->at[SIZE] < 0 ? "size" : "price");
  return FALSE;
}

/* The number, price and date of a row; what is empty is not said. */
static gboolean
read_offer (Reading *r, BlOffer *offer, GError **error)
{
  const char *price = cell (r, PRICE), *stock = cell (r, STOCK), *from = cell (r, FROM);
  char *end = NULL;
  gint64 number;

  *offer = (BlOffer) { .price = -1, .stock = -1 };
  if (price[0] != '\0'
      && (!bl_money_parse (price, r->stock->currency, &offer->price, NULL) || offer->price < 0))
    return refuse (r, PRICE, _("this is no price, such as 12.50"), error);
  if (stock[0] != '\0')
    {
      number = g_ascii_strtoll (stock, &end, 10);
      if (*end != '\0' || number < 0 || number > MAX_STOCK)
        return refuse (r, STOCK, _("this is no count of plants, such as 48"), error);
      offer->stock = (int) number;
    }
  if (from[0] != '\0' && (offer->from = bl_day_parse (from, NULL)) == 0)
    return refuse (r, FROM, _("this is no date, such as 2027-04-15"), error);
  return TRUE;
}

static void
leave_out (const Reading *r, const char *format, const char *a, const char *b)
{
  g_autofree char *words = g_strdup_printf ("Line %u: %s%s%s", r->line, format, a, b);

  if (r->unmatched != NULL)
    g_ptr_array_add (r->unmatched, g_steal_pointer (&words));
}

/* Kept until the library is read again: to undress every name takes longer than to read a list. */
static GHashTable *
names_of (BlLibrary *library)
{
  if (library->undressed != NULL)
    return library->undressed;
  library->undressed = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < library->facts->len; i++)
    {
      const BlFacts *facts = library->facts->pdata[i];

      g_hash_table_insert (library->undressed, undressed (facts->name), facts->slug);
    }
  return library->undressed;
}

static const char *
slug_of (const Reading *r, const char *name)
{
  g_autofree char *bare = undressed (name);
  const BlFacts *facts = g_hash_table_lookup (r->library->by_slug, name);

  return facts != NULL ? facts->slug : g_hash_table_lookup (names_of (r->library), bare);
}

/* The size as the record writes it; NULL with a word on it when the plant has none of that name. */
static char *
size_of (const Reading *r, const char *name, const BlPlant *plant, const char *text)
{
  g_autofree char *wanted = trade_size (text);
  g_autoptr (GString) known = g_string_new (NULL);

  for (guint i = 0; i < plant->n_sizes; i++)
    {
      g_autofree char *own = trade_size (plant->sizes[i].name);

      if (g_ascii_strcasecmp (own, wanted) == 0)
        return g_strdup (plant->sizes[i].name);
      g_string_append_printf (known, "%s%s", i > 0 ? ", " : "", plant->sizes[i].name);
    }
  {
    g_autofree char *words = g_strdup_printf (_("%s is not kept in size “%s”, only in "), name, text);

    leave_out (r, words, known->str, "");
  }
  return NULL;
}

/* The last one named; lists are of one nursery. */
static void
take_nursery (Reading *r)
{
  const char *name = cell (r, NURSERY);

  if (name[0] == '\0')
    return;
  g_free (r->stock->nursery);
  r->stock->nursery = g_strdup (name);
}

static gboolean
take_row (Reading *r, GError **error)
{
  const char *name = cell (r, NAME), *slug = name[0] != '\0' ? slug_of (r, name) : NULL;
  g_autoptr (BlPlant) plant = NULL;
  g_autofree char *size = NULL;
  char *key = NULL;
  BlOffer offer;

  if (name[0] == '\0')
    return refuse (r, NAME, _("the plant's name is missing"), error);
  if (cell (r, SIZE)[0] == '\0')
    return refuse (r, SIZE, _("the size is missing"), error);
  if (!read_offer (r, &offer, error))
    return FALSE;
  if (slug == NULL)
    {
      leave_out (r, _("there is no "), name, _(" in the library"));
      return TRUE;
    }
  plant = bl_library_get (r->library, slug, error);
  if (plant == NULL)
    return FALSE;
  size = size_of (r, name, plant, cell (r, SIZE));
  if (size == NULL)
    return TRUE;
  key = g_strdup_printf ("%s|%s", slug, size);
  if (!g_hash_table_insert (r->seen, key, GUINT_TO_POINTER (r->line)))
    return refuse (r, NAME, _("this plant stands above in the same size"), error);
  offer.slug = (char *) slug;
  offer.size = size;
  bl_stock_put (r->stock, &offer);
  return TRUE;
}

static gboolean
take_rows (Reading *r, const GPtrArray *rows, const GArray *lines, GError **error)
{
  for (guint i = 0; i < rows->len; i++)
    {
      g_autofree char *all = g_strjoinv ("", rows->pdata[i]);

      r->cells = rows->pdata[i];
      r->line = g_array_index (lines, guint, i);
      if (i == 0 ? !read_headings (r, error) : FALSE)
        return FALSE;
      if (i == 0 || g_strstrip (all)[0] == '\0')
        continue;
      if (g_strv_length (r->cells) != r->n)
        {
          g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                       _("Line %u, column %u: %u cells stand under %u headings"), r->line,
                       MIN (g_strv_length (r->cells), r->n) + 1, g_strv_length (r->cells), r->n);
          return FALSE;
        }
      take_nursery (r);
      if (!take_row (r, error))
        return FALSE;
    }
  return TRUE;
}

BlStock *
bl_library_read_stock (BlLibrary *library, const char *csv, gsize length, const char *nursery,
                       const char *currency, GPtrArray *unmatched, GError **error)
{
  g_autoptr (GArray) lines = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GPtrArray) rows = bl_csv_parse_lines (csv, length, lines, error);
  g_autoptr (BlStock) stock = bl_stock_new (nursery, currency);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Reading reading = { .library = library, .stock = stock, .unmatched = unmatched, .seen = seen };

  if (rows == NULL)
    return NULL;
  if (rows->len == 0)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT, _("Line 1: the list is empty"));
      return NULL;
    }
  return take_rows (&reading, rows, lines, error) ? g_steal_pointer (&stock) : NULL;
}
