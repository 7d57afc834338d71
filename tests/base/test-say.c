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
  return g_test_run ();
}
