/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small seeded random generator, so that the same seed gives the same drawing everywhere. */
#pragma once

#include <glib.h>

typedef struct
{
  guint64 state;
} BlRng;

BlRng bl_rng (guint64 seed);
/* 64 random bits (splitmix64, Steele, Lea and Flood 2014). */
guint64 bl_rng_next (BlRng *rng);
/* Uniform in [0, 1). */
double bl_rng_unit (BlRng *rng);
/* Uniform in [@low, @high). */
double bl_rng_range (BlRng *rng, double low, double high);
/* Normal with mean 0 and standard deviation 1 (polar method). */
double bl_rng_normal (BlRng *rng);
/* A whole number in [0, @n). */
guint bl_rng_int (BlRng *rng, guint n);
/* Mixes @value into @seed: seeds for parts of a whole. */
guint64 bl_rng_mix (guint64 seed, guint64 value);
