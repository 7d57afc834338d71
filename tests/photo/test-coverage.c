/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The long run: a thousand draws of every mix, inside the stated 95 % interval in 92 to 98 %. */
#include "yard-fixture.h"

static void
test_mix (gconstpointer data)
{
  const YardMix *mix = data;
  YardResult r = yard_monte_carlo (mix, 1000, 1.0, TRUE, 2026);

  g_test_message ("%s: rms %.2f %%, 95th percentile %.2f %%, stated %.2f %%, inside %.1f %%", mix->name,
                  100 * r.rms, 100 * r.p95, 100 * r.sd, 100 * r.covered);
  g_assert_cmpuint (r.failed, ==, 0);
  g_assert_cmpfloat (r.covered, >=, 0.92);
  g_assert_cmpfloat (r.covered, <=, 0.98);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  for (guint m = 0; m < yard_n_mixes; m++)
    {
      g_autofree char *path = g_strdup_printf ("/photo/coverage/%s", yard_mixes[m].name);

      g_test_add_data_func (path, &yard_mixes[m], test_mix);
    }
  return g_test_run ();
}
