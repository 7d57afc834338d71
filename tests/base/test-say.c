/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words in a stated language: found, not found, and in number. */
#include "base/say.h"

static void
test_one (void)
{
  /* Common words of the trade; the Spanish is that of po/es.po. */
  g_assert_cmpstr (bl_say ("es", "Plants"), ==, "Plantas");
  g_assert_cmpstr (bl_say ("es_MX", "Plants"), ==, "Plantas");
  g_assert_cmpstr (bl_say ("es-419", "Plants"), ==, "Plantas");
  g_assert_cmpstr (bl_say ("en", "Plants"), ==, "Plants");
  g_assert_cmpstr (bl_say ("et", "Plants"), ==, "Plants");
  g_assert_cmpstr (bl_say ("", "Plants"), ==, "Plants");
  g_assert_cmpstr (bl_say (NULL, "Plants"), ==, "Plants");
  g_assert_cmpstr (bl_say ("es", "no such words %d"), ==, "no such words %d");
  g_assert_cmpstr (bl_say ("es", ""), ==, "");
  g_assert_cmpstr (bl_say ("es", NULL), ==, NULL);
}

/* Without a catalogue for gettext the window is English. */
static void
test_window (void)
{
  g_assert_cmpstr (bl_say_window (), ==, "en");
  g_assert_cmpstr (bl_say (BL_SAY_BY_GETTEXT, "Plants"), ==, "Plants");
  g_assert_cmpstr (bl_say_n (BL_SAY_BY_GETTEXT, "%u plant", "%u plants", 2), ==, "%u plants");
}

/* Spanish grammar: "a" and "de" grow together with "el", not with the "El" of a name. */
static void
test_join (void)
{
  static const struct
  {
    const char *language, *apart, *joined;
  } cases[] = {
    { "es", "a 2 m de el muro", "a 2 m del muro" },
    { "es_MX", "junto a el nogal de el patio", "junto al nogal del patio" },
    { "es", "a 2 m de El Prado", "a 2 m de El Prado" },
    { "es", "de ella", "de ella" },
    { NULL, "de el muro", "de el muro" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *joined = bl_say_join (cases[i].language, g_strdup (cases[i].apart));

      g_assert_cmpstr (joined, ==, cases[i].joined);
    }
}

static void
test_number (void)
{
  for (guint n = 0; n < 4; n++)
    {
      const char *spanish = bl_say_n ("es", "%u plant in all", "%u plants in all", n);

      g_assert_cmpstr (spanish, ==, n == 1 ? "%u planta en total" : "%u plantas en total");
      g_assert_cmpstr (bl_say_n (NULL, "%u plant", "%u plants", n), ==,
                       n == 1 ? "%u plant" : "%u plants");
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/say/one", test_one);
  g_test_add_func ("/say/number", test_number);
  g_test_add_func ("/say/window", test_window);
  g_test_add_func ("/say/join", test_join);
  return g_test_run ();
}
