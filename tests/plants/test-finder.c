/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The finder over the shipped library: what is meant comes first, with and without accents. */
#include <string.h>

#include "plants/library.h"

static BlLibrary *library;

static GPtrArray *
find (BlPlantQuery query)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *found = bl_library_find (library, &query, &error);

  g_assert_no_error (error);
  return found;
}

static const BlPlant *
at (GPtrArray *found, guint i)
{
  return g_ptr_array_index (found, i);
}

static gboolean
ends_with_word (const char *name, const char *word)
{
  return g_str_has_suffix (name, word)
         && (strlen (name) == strlen (word) || name[strlen (name) - strlen (word) - 1] == ' ');
}

/* A common name ends with what the thing is: "purple coneflower" is a coneflower. All of them come
 * before what merely has the letters. */
static void
test_head_word (void)
{
  static const char *const words[] = { "coneflower", "aster", "sedge", "phlox", "rose", "fern" };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      g_autoptr (GPtrArray) found = find ((BlPlantQuery){ .text = words[i] });
      gboolean over = FALSE;
      guint heads = 0;

      for (guint k = 0; k < found->len; k++)
        {
          const BlPlant *p = at (found, k);
          gboolean head = ends_with_word (p->common, words[i])
                          || g_ascii_strcasecmp (p->genus, words[i]) == 0
                          || (p->common_es != NULL && ends_with_word (p->common_es, words[i]));

          heads += head;
          if (head && over)
            g_error ("%s: “%s” comes after what is no %s", words[i], p->common, words[i]);
          over = over || !head;
        }
      g_assert_cmpuint (heads, >, 0);
    }
}

static void
test_whole_name (void)
{
  g_autoptr (GPtrArray) latin = find ((BlPlantQuery){ .text = "Echinacea purpurea" });
  g_autoptr (GPtrArray) common = find ((BlPlantQuery){ .text = "purple coneflower" });
  g_autoptr (GPtrArray) half = find ((BlPlantQuery){ .text = "echin" });

  g_assert_cmpstr (at (latin, 0)->slug, ==, "echinacea-purpurea");
  g_assert_cmpstr (at (common, 0)->common, ==, "purple coneflower");
  g_assert_cmpstr (at (half, 0)->genus, ==, "Echinacea");
}

/* Written with or without accents the same plants are found in the same order; a name that is
 * written without finds the record that has them, and the other way about. */
static void
test_accents (void)
{
  static const char *const pairs[][2] = { { "equinacea purpura", "equinácea púrpura" },
                                          { "salvia rusa", "sálvia rusa" },
                                          { "lirio de dia", "lirio de día" },
                                          { "ECHINACÉA", "echinacea" } };

  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    {
      g_autoptr (GPtrArray) plain = find ((BlPlantQuery){ .text = pairs[i][0] });
      g_autoptr (GPtrArray) marked = find ((BlPlantQuery){ .text = pairs[i][1] });

      if (plain->len == 0)
        g_error ("“%s” finds nothing", pairs[i][0]);
      g_assert_cmpuint (plain->len, ==, marked->len);
      for (guint k = 0; k < plain->len; k++)
        g_assert_true (at (plain, k) == at (marked, k));
    }
}

/* Nothing is left out for the place, but what does not bear it comes last. */
static void
test_here (void)
{
  BlSite site;
  g_autoptr (GPtrArray) all = find ((BlPlantQuery){ 0 });
  g_autoptr (GPtrArray) found = NULL;
  guint cold = 0, n = 0;

  bl_site_init (&site);
  site.zone = bl_zone_parse ("5b", NULL);
  site.salt_edge = TRUE;
  found = find ((BlPlantQuery){ .here = &site, .light_here = BL_LIGHT_FULL });
  g_assert_cmpuint (found->len, ==, all->len);
  for (guint i = 0; i < found->len; i++)
    {
      /* Winter does not try what is planted for one summer. */
      gboolean fits = (at (found, i)->type == BL_TYPE_ANNUAL
                       || (at (found, i)->zone_low <= site.zone
                           && at (found, i)->zone_high >= site.zone))
                      && (at (found, i)->light & BL_LIGHT_BIT (BL_LIGHT_FULL));

      n += fits;
      cold += i < 100 && !fits;
    }
  g_assert_cmpuint (n, >, 150);
  g_assert_cmpuint (cold, ==, 0);
  bl_site_clear (&site);
}

static void
test_records (void)
{
  g_autoptr (GPtrArray) cats = find ((BlPlantQuery){ .no_cat_report = TRUE });
  g_autoptr (GPtrArray) hot = find ((BlPlantQuery){ .hot_days = 100 });
  g_autoptr (GPtrArray) smooth
    = find ((BlPlantQuery){ .no_thorns = TRUE, .type = BL_TYPE_SHRUB + 1, .ph = 5.0 });

  g_assert_cmpuint (cats->len, >, 100);
  for (guint i = 0; i < cats->len; i++)
    g_assert_cmpint (at (cats, i)->harm_cats, ==, BL_HARM_NO_REPORT);
  g_assert_cmpuint (hot->len, >, 100);
  for (guint i = 0; i < hot->len; i++)
    g_assert_true (at (hot, i)->heat_high == 0 || at (hot, i)->heat_high >= 8);
  g_assert_cmpuint (smooth->len, >, 10);
  for (guint i = 0; i < smooth->len; i++)
    {
      g_assert_false (at (smooth, i)->thorns);
      g_assert_true (at (smooth, i)->ph_low <= 0 || at (smooth, i)->ph_low <= 5.05);
    }
}

int
main (int argc, char **argv)
{
  g_autofree char *path = NULL;
  g_autoptr (GError) error = NULL;
  int code = 0;

  g_test_init (&argc, &argv, NULL);
  path = bl_library_default_path ();
  library = bl_library_open (path, NULL, &error);
  g_assert_no_error (error);
  g_test_add_func ("/plants/finder/head-word", test_head_word);
  g_test_add_func ("/plants/finder/whole-name", test_whole_name);
  g_test_add_func ("/plants/finder/accents", test_accents);
  g_test_add_func ("/plants/finder/here", test_here);
  g_test_add_func ("/plants/finder/records", test_records);
  code = g_test_run ();
  bl_library_free (library);
  return code;
}
