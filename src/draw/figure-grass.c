/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Grasses and sedges: hundreds of blades from one crown, culms with their heads above. */
#include "draw/figure-private.h"

typedef struct
{
  double top;    /* metres, of the blades */
  double crown;  /* share of the half spread at the ground */
  double reach;  /* share of the half spread at the tips */
  double drop;   /* how far tips fall back: 0 upright .. 1 to the ground */
  double fine;   /* blade width, relative */
  double many;
  double radial; /* 0: blades rise and part; 1: they stand out from the middle like bristles */
} Blades;

static void
blades (Fig *f, const Blades *b)
{
  double width = MAX (CLAMP (f->plant->leaf_size * 0.012, 0.0022, 0.012) * b->fine, 1.15 * f->px);
  guint n = (guint) CLAMP (f->half * 2 * f->detail * 0.95 * b->many * (0.35 + 0.65 * f->full), 22,
                           250);

  fig_cloud (f, 2, 0, b->top * 0.17, f->half * MAX (b->crown, 0.2) * 0.95, b->top * 0.15,
             b->top * 0.3, 1.2, f->leaf, 0.14);
  for (guint i = 0; i < n; i++)
    {
      double u = 2 * fig_share (f, i) - 1, z = -1 + 2.0 * i / n, sharp, h, ex, ey, cx, cy, v,
        foot;

      /* A fountain's blades fall to all sides, the near ones towards the viewer. */
      if (b->drop > 0.8 && i % 3)
        u = (u < 0 ? -1 : 1) * (0.16 + 0.84 * fabs (u)) * (1 - 0.35 * MAX (0, z));
      else
        u = u * (0.55 + 0.45 * fabs (u));
      sharp = fig_range (f, 0.72, 1.0) * (i % 4 == 0 ? fig_range (f, 0.35, 0.7) : 1);
      h = b->top * sharp * (1 - (0.10 + 0.34 * b->drop) * u * u);
      ex = u * f->half * b->reach * fig_range (f, 0.72, 1.02);
      ey = h * (1 - b->drop * fig_range (f, 0.2, 1.0) * fabs (u));
      cx = u * f->half * (b->crown + (b->reach - b->crown) * (0.24 + 0.26 * b->drop));
      cy = h * (1.02 + 0.26 * b->drop * fabs (u)) * fig_range (f, 0.86, 1.04);
      foot = f->ground * (0.5 + 0.5 * z) * sqrt (MAX (0, 1 - u * u));
      v = 0.22 + 0.36 * (z + 1) / 2 + 0.20 * u * f->lx + 0.12 * (sharp - 0.8) + fig_sway (f, 0.24);
      if (b->radial > 0)
        {
          double w = G_PI / 2 - 1.42 * u, l = fig_range (f, 0.72, 1.0);

          ex += b->radial * (cos (w) * f->half * l - ex);
          ey += b->radial * (sin (w) * b->top * l - ey);
          cx += b->radial * (0.5 * ex - cx), cy += b->radial * (0.5 * ey + 0.10 * b->top - cy);
        }
      fig_blade (f, 4 + (int) (9 * (z + 1) / 2 * 3),
                 (double[8]) { u * f->half * b->crown + fig_sway (f, 0.05 * f->half), foot, cx, cy,
                               ex, ey,
                 width * fig_range (f, 0.8, 1.25), width * 0.2 }, f->leaf, v);
    }
  if (b->radial <= 0)
    fig_stubs (f, 32, f->half * b->crown, 0.13 * b->top, 0.28);
  fig_snow_among (f, 25, 13, f->half * (0.42 + 0.3 * b->crown), b->top * (0.70 - 0.30 * b->drop));
  fig_snow_among (f, 3, 5, f->half * (0.24 + 0.3 * b->crown), b->top * 0.05);
}

/* Culms rise through the blades; @lean of the half spread at their tips. */
static void
culms (Fig *f, guint n, double crown, double lean, double nod)
{
  double size = fig_head_size (f), thick = MIN (0.0035, 0.006 * f->height);
  /* Under ripe heads a culm stays green as long as the leaves do. */
  gboolean ripe = f->look->state == BL_STATE_AUTUMN || f->look->state == BL_STATE_STANDING
                  || f->leaf_amount < 0.5;

  if (!fig_has_heads (f))
    return;
  for (guint i = 0; i < n; i++)
    {
      double u = n > 1 ? 2 * (i + 0.5) / n - 1 + fig_sway (f, 1.0 / n) : 0, z = fig_range (f, -1,
          1);
      FigStage stage = fig_stage (f, i);
      double top = f->height * (1 - 0.20 * u * u * (0.5 + nod) - 0.13 * fig_unit (f)
                                * (i != n / 2)), x = u * f->half * lean;
      double len = size * fig_range (f, 0.85, 1.1), hx, hy, a;
      int layer = 34 + (int) (10 * (z + 1));

      if (stage == FIG_STAGE_NONE)
        continue;
      a = G_PI / 2 - u * (0.10 + nod) - 0.04;
      hx = x - len * 0.8 * cos (a), hy = top - len * sin (a) * 0.95;
      fig_blade (f, 4 + (int) (13 * (z + 1)), (double[8]) { u * f->half * crown, 0,
                                             u * f->half * (crown + (lean - crown) * 0.35),
                 hy * 0.7, hx, hy, MAX (thick, 1.3 * f->px), MAX (0.6 * thick, 1.1 * f->px) },
                   stage == FIG_STAGE_SEED && ripe ? f->seed_tones : f->stalk,
                 0.40 + 0.16 * z + 0.12 * u * f->lx);
      fig_head (f, layer, stage, hx, hy, a, len, 0.44 + 0.16 * z + 0.2 * u * f->lx);
    }
}

static double
blade_top (const Fig *f)
{
  return fig_has_heads (f) ? MIN (f->foliage, f->height * 0.92) : f->height;
}

/* Cut down or not yet grown: a tuft of stubble. */
static gboolean
stubble (Fig *f)
{
  guint n = (guint) CLAMP (f->half * 2 * f->detail / 2.5, 8, 60);

  if (f->look->state != BL_STATE_DORMANT || f->leaf_amount > 0.05)
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      double u = fig_range (f, -1, 1);

      fig_tuft (f, 3 + (int) (i % 8), 3, u * f->half * 0.8, 0, G_PI / 2 - u * 0.35,
                f->height * fig_range (f, 0.6, 1), 0.4,
                1.0 * f->px, f->leaf, fig_range (f, 0.25, 0.8));
    }
  return TRUE;
}

void
fig_form_fountain_grass (Fig *f)
{
  guint n = (guint) CLAMP ((5 + 34 * f->half * 2) * (0.3 + 0.7 * f->full), 3,
                           MIN (44, 4 + f->half * f->detail / 3));

  if (stubble (f))
    return;
  blades (f, &(Blades) { .top = blade_top (f) * 1.04, .crown = 0.10, .reach = 1.0, .drop = 0.92, .fine = 1,
                         .many = 1.1 });
  fig_part (f, 41);
  culms (f, n, 0.12, 0.92, 0.42);
}

void
fig_form_upright_grass (Fig *f)
{
  guint n = (guint) CLAMP ((5 + 42 * f->half * 2) * (0.3 + 0.7 * f->full), 4,
                           MIN (48, 4 + f->half * f->detail / 2.4));

  if (stubble (f))
    return;
  blades (f, &(Blades) { .top = blade_top (f), .crown = 0.42, .reach = 0.98, .drop = 0.34,
                         .fine = 1.15, .many = 1.2 });
  fig_part (f, 42);
  culms (f, n, 0.36, 0.66, 0.10);
}

void
fig_form_tussock (Fig *f)
{
  guint n = (guint) CLAMP (6 + 30 * f->half * 2 * f->full, 3, 20);

  if (stubble (f))
    return;
  blades (f, &(Blades) { .top = blade_top (f), .crown = 0.20, .reach = 1.0, .drop = 0.6,
                         .fine = 0.7, .many = 1.35, .radial = 0.85 });
  fig_part (f, 43);
  culms (f, n, 0.14, 0.7, 0.3);
}
