/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small seeded random generator. */
#include "base/rng.h"

#include <math.h>

BlRng
bl_rng (guint64 seed)
{
  return (BlRng) { seed };
}

guint64
bl_rng_next (BlRng *rng)
{
  guint64 z = (rng->state += G_GUINT64_CONSTANT (0x9E3779B97F4A7C15));

  z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT (0xBF58476D1CE4E5B9);
  z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT (0x94D049BB133111EB);
  return z ^ (z >> 31);
}

double
bl_rng_unit (BlRng *rng)
{
  return (double) (bl_rng_next (rng) >> 11) * 0x1.0p-53;
}

double
bl_rng_range (BlRng *rng, double low, double high)
{
  return low + (high - low) * bl_rng_unit (rng);
}

double
bl_rng_normal (BlRng *rng)
{
  double u, v, s;

  do
    {
      u = bl_rng_range (rng, -1, 1);
      v = bl_rng_range (rng, -1, 1);
      s = u * u + v * v;
    }
  while (s >= 1 || s == 0);
  return u * sqrt (-2 * log (s) / s);
}

guint
bl_rng_int (BlRng *rng, guint n)
{
  return n == 0 ? 0 : (guint) (bl_rng_unit (rng) * n);
}

guint64
bl_rng_mix (guint64 seed, guint64 value)
{
  BlRng rng = { seed ^ (value * G_GUINT64_CONSTANT (0xD6E8FEB86659FD93)) };

  return bl_rng_next (&rng);
}
