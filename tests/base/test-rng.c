/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The seeded generator: the published sequence, and moments of its distributions. */
#include "base/rng.h"

#include <math.h>

/* The first outputs of splitmix64 for seed 1234567, as listed in public tests of the generator
 * (value from memory). */
static void
test_sequence (void)
{
  static const guint64 expected[] = {
    G_GUINT64_CONSTANT (6457827717110365317), G_GUINT64_CONSTANT (3203168211198807973),
    G_GUINT64_CONSTANT (9817491932198370423), G_GUINT64_CONSTANT (4593380528125082431),
    G_GUINT64_CONSTANT (16408922859458223821),
  };
  BlRng rng = bl_rng (1234567);

  for (guint i = 0; i < G_N_ELEMENTS (expected); i++)
    g_assert_cmpuint (bl_rng_next (&rng), ==, expected[i]);
}

static void
test_moments (void)
{
  const int n = 200000;
  BlRng rng = bl_rng (7);
  double sum = 0, sum2 = 0, unit = 0;

  for (int i = 0; i < n; i++)
    {
      double z = bl_rng_normal (&rng), u = bl_rng_unit (&rng);

      g_assert_true (u >= 0 && u < 1);
      sum += z;
      sum2 += z * z;
      unit += u;
      g_assert_cmpuint (bl_rng_int (&rng, 6), <, 6);
    }
  /* Five standard errors of each mean. */
  g_assert_cmpfloat (fabs (sum / n), <, 5 / sqrt (n));
  g_assert_cmpfloat (fabs (sum2 / n - 1), <, 5 * sqrt (2.0 / n));
  g_assert_cmpfloat (fabs (unit / n - 0.5), <, 5 * sqrt (1.0 / 12 / n));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rng/splitmix64", test_sequence);
  g_test_add_func ("/rng/moments", test_moments);
  return g_test_run ();
}
