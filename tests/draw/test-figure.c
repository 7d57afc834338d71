/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Standing figures: size, sameness, seasons, and the contact sheet of every growth form. */
#include "canvas.h"
#include "draw/figure-head.h"
#include "draw/figure-pen.h"

#include <stdlib.h>
#include <string.h>

#define CELL 120
#define WHITE 0xffffffffu

static const BlFigureLight light = { -0.6, 1, { 1, 1, 1, 1 } };

static void
draw (cairo_surface_t *surface, double x, double y, double scale, const BlPlant *plant,
      const BlLook *look, guint64 seed)
{
  cairo_t *cr = cairo_create (surface);

  cairo_translate (cr, x, y);
  cairo_scale (cr, scale, scale);
  bl_figure_draw (cr, plant, look, seed, &light, scale);
  cairo_destroy (cr);
}

static BlLook
in_month (const BlPlant *plant, double month)
{
  return bl_plant_look (plant, NULL, 0, (BlMoment) { month, MAX (plant->years, 3) });
}

static void
test_every_form (void)
{
  g_autoptr (GPtrArray) plants = canvas_plants ();
  gboolean seen[BL_FORM_N] = { FALSE };

  for (guint i = 0; i < plants->len; i++)
    seen[((BlPlant *) plants->pdata[i])->form] = TRUE;
  for (guint i = 0; i < BL_FORM_N; i++)
    g_assert_true (seen[i]);
}

/* What is inked is as high and as wide as the look says. */
static void
test_size (void)
{
  g_autoptr (GPtrArray) plants = canvas_plants ();

  for (guint i = 0; i < plants->len; i++)
    for (double month = 1.5; month < 13; month += 2)
      {
        const BlPlant *plant = plants->pdata[i];
        BlLook look = in_month (plant, month);
        double scale = 300 / MAX (look.height, look.spread);
        cairo_surface_t *s;
        int x0, y0, x1, y1;

        if (look.height < 0.03)
          continue;
        s = canvas_new (640, 400);
        draw (s, 320, 380, scale, plant, &look, 5);
        if (canvas_ink (s, WHITE, &x0, &y0, &x1, &y1))
          {
            g_test_message ("%s in month %.1f: %d px for %.0f high, %d for %.0f wide", plant->slug,
                            month, 380 - y0,
                            look.height * scale, x1 - x0 + 1, look.spread * scale);
            g_assert_cmpfloat_with_epsilon (380 - y0, look.height * scale,
                                            0.02 * look.height * scale + 3);
            g_assert_cmpfloat (x1 - x0 + 1, <, look.spread * scale * 1.08 + 4);
            g_assert_cmpfloat (x1 - x0 + 1, >, look.spread * scale * 0.80 - 4);
            g_assert_cmpint (y1, <, 380 + 300 * 0.07);
          }
        else
          g_assert_not_reached ();
        cairo_surface_destroy (s);
      }
}

static gboolean
same_pixels (cairo_surface_t *a, cairo_surface_t *b)
{
  cairo_surface_flush (a);
  cairo_surface_flush (b);
  return memcmp (cairo_image_surface_get_data (a), cairo_image_surface_get_data (b),
                 (gsize) cairo_image_surface_get_stride (a)
                   * cairo_image_surface_get_height (a)) == 0;
}

static void
test_same_seed (void)
{
  g_autoptr (GPtrArray) plants = canvas_plants ();

  for (guint i = 0; i < plants->len; i++)
    {
      const BlPlant *plant = plants->pdata[i];
      BlLook look = in_month (plant, plant->spring_only ? 4.3 : 7.5);
      double scale = 150 / MAX (look.height, look.spread);
      cairo_surface_t *s[3];

      for (int k = 0; k < 3; k++)
        {
          s[k] = canvas_new (220, 200);
          draw (s[k], 110, 190, scale, plant, &look, k == 2 ? 99 : 7);
        }
      g_assert_true (same_pixels (s[0], s[1]));
      g_assert_false (same_pixels (s[0], s[2]));
      for (int k = 0; k < 3; k++)
        cairo_surface_destroy (s[k]);
    }
}

/* The share of a picture's ink nearer to @color than @reach (CIEDE2000). */
static double
share_near (cairo_surface_t *s, BlColor color, double reach)
{
  int w = cairo_image_surface_get_width (s), h = cairo_image_surface_get_height (s), near = 0,
    ink = 0;
  BlLab want = bl_color_to_lab (color);

  cairo_surface_flush (s);
  for (int y = 0; y < h; y += 2)
    for (int x = 0; x < w; x += 2)
      {
        guint32 v = ((guint32 *) (void *) (cairo_image_surface_get_data (s) + (gsize) y
                                           * cairo_image_surface_get_stride (s)))[x];
        BlColor c = { (v >> 16 & 255) / 255.0, (v >> 8 & 255) / 255.0, (v & 255) / 255.0, 1 };

        if (v == WHITE)
          continue;
        ink++;
        near += bl_color_difference (bl_color_to_lab (c), want) < reach;
      }
  return ink ? (double) near / ink : 0;
}

static double
ink_near (const BlPlant *plant, const BlLook *look, BlColor color)
{
  cairo_surface_t *s = canvas_new (400, 330);
  double share;

  draw (s, 200, 315, 280 / MAX (look->height, look->spread), plant, look, 3);
  share = share_near (s, color, 14);
  cairo_surface_destroy (s);
  return share;
}

/* In flower the flower's colour is there to see; out of flower it is not. */
static void
test_flower_colour (void)
{
  static const char *const shows[] = { "echinacea-purpurea", "phlox-subulata", "armeria-maritima",
                                       "forsythia-x-intermedia-lynwood",
                                       "salvia-nemorosa-ostfriesland", "hemerocallis-stella-de-oro",
                                         "hylotelephium-herbstfreude",
                                       "narcissus-february-gold", "nepeta-x-faassenii" };
  g_autoptr (GPtrArray) plants = canvas_plants ();

  for (guint i = 0; i < G_N_ELEMENTS (shows); i++)
    {
      const BlPlant *plant = canvas_plant (plants, shows[i]);
      BlLook open = in_month (plant, plant->flower_from + 0.7), shut = open;

      shut.bloom = 0;
      g_test_message ("%s: %.3f of the ink in flower, %.3f out of it", plant->slug,
                      ink_near (plant, &open, open.flower_color),
                      ink_near (plant, &shut, open.flower_color));
      g_assert_cmpfloat (open.bloom, >, 0.3);
      g_assert_cmpfloat (ink_near (plant, &open, open.flower_color), >, 0.012);
      g_assert_cmpfloat (ink_near (plant, &open, open.flower_color), >, 2.5 * ink_near (plant,
          &shut, open.flower_color));
    }
}

/* How heads are built, as a flora's key tells them apart (the words for kinds of inflorescence:
 * common practice in botany; each plant's from memory). */
static void
test_head_kinds (void)
{
  static const struct
  {
    const char *genus;
    BlPlantType type;
    BlForm form;
    BlFlowerShape flower;
    FigHeadKind kind;
  } cases[] = {
    { "Agapanthus", BL_TYPE_PERENNIAL, BL_FORM_STRAP_CLUMP, BL_FLOWER_UMBEL, FIG_HEAD_TRUMPETS },
    { "Allium", BL_TYPE_BULB, BL_FORM_BULB, BL_FLOWER_GLOBE, FIG_HEAD_GLOBE },
    { "Achillea", BL_TYPE_PERENNIAL, BL_FORM_UMBEL_CLUMP, BL_FLOWER_UMBEL, FIG_HEAD_FLAT },
    { "Sambucus", BL_TYPE_SHRUB, BL_FORM_ARCHING_SHRUB, BL_FLOWER_UMBEL, FIG_HEAD_FLAT },
    { "Phormium", BL_TYPE_PERENNIAL, BL_FORM_STRAP_CLUMP, BL_FLOWER_PANICLE, FIG_HEAD_OPEN },
    { "Syringa", BL_TYPE_SHRUB, BL_FORM_VASE_SHRUB, BL_FLOWER_PANICLE, FIG_HEAD_CONICAL },
    { "Wisteria", BL_TYPE_VINE, BL_FORM_CLIMBER, BL_FLOWER_PANICLE, FIG_HEAD_HANGING },
    { "Heuchera", BL_TYPE_PERENNIAL, BL_FORM_ROSETTE_WANDS, BL_FLOWER_PANICLE, FIG_HEAD_AIRY },
    { "Panicum", BL_TYPE_GRASS, BL_FORM_UPRIGHT_GRASS, BL_FLOWER_PANICLE, FIG_HEAD_HAZE },
    { "Calamagrostis", BL_TYPE_GRASS, BL_FORM_UPRIGHT_GRASS, BL_FLOWER_PLUME, FIG_HEAD_SPEAR },
    { "Astilbe", BL_TYPE_PERENNIAL, BL_FORM_UPRIGHT_CLUMP, BL_FLOWER_PLUME, FIG_HEAD_FROTH },
    { "Salvia", BL_TYPE_PERENNIAL, BL_FORM_SPIRE_CLUMP, BL_FLOWER_SPIKE, FIG_HEAD_WHORLS },
    { "Kniphofia", BL_TYPE_PERENNIAL, BL_FORM_STRAP_CLUMP, BL_FLOWER_SPIKE, FIG_HEAD_TORCH },
    { "Baptisia", BL_TYPE_PERENNIAL, BL_FORM_SPIRE_CLUMP, BL_FLOWER_SPIKE, FIG_HEAD_RACEME },
    { "Digitalis", BL_TYPE_PERENNIAL, BL_FORM_SPIRE_CLUMP, BL_FLOWER_BELL, FIG_HEAD_BELLS },
    { "Echinacea", BL_TYPE_PERENNIAL, BL_FORM_DAISY_CLUMP, BL_FLOWER_DAISY, FIG_HEAD_CONE },
    { "Coreopsis", BL_TYPE_PERENNIAL, BL_FORM_DAISY_CLUMP, BL_FLOWER_DAISY, FIG_HEAD_DAISY },
    { "Iris", BL_TYPE_PERENNIAL, BL_FORM_STRAP_CLUMP, BL_FLOWER_CUP, FIG_HEAD_IRIS },
    { "Tulipa", BL_TYPE_BULB, BL_FORM_BULB, BL_FLOWER_CUP, FIG_HEAD_GOBLET },
    { "Corylus", BL_TYPE_SHRUB, BL_FORM_VASE_SHRUB, BL_FLOWER_CATKIN, FIG_HEAD_CATKIN },
    { NULL, BL_TYPE_PERENNIAL, BL_FORM_MOUND, BL_FLOWER_NONE, FIG_HEAD_NONE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      char genus[32] = "";
      BlPlant plant = { .genus = cases[i].genus ? genus : NULL, .type = cases[i].type,
                        .form = cases[i].form, .flower = cases[i].flower, .height = 1,
                        .foliage_height = 0.5, .flower_size = 0.1 };

      g_strlcpy (genus, cases[i].genus ? cases[i].genus : "", sizeof genus);
      g_test_message ("%s", genus);
      g_assert_cmpint (fig_head_kind (&plant), ==, cases[i].kind);
    }
}

/* Does anything in row @y of a picture stand out from @paper? */
static gboolean
row_shows (cairo_surface_t *s, int y, BlColor paper)
{
  const guint32 *row = (const guint32 *) (const void *) (cairo_image_surface_get_data (s) + (gsize) y
    * cairo_image_surface_get_stride (s));
  BlLab ground = bl_color_to_lab (paper);

  for (int x = 0; x < cairo_image_surface_get_width (s); x++)
    {
      BlColor c = { (row[x] >> 16 & 255) / 255.0, (row[x] >> 8 & 255) / 255.0,
                    (row[x] & 255) / 255.0, 1 };

      /* Two units of CIEDE2000 are noticed by one who looks closely, five at a glance (common
       * practice in colour work). */
      if (bl_color_difference (bl_color_to_lab (c), ground) > 5)
        return TRUE;
    }
  return FALSE;
}

/* However far away, no head floats: from the foot to the top each row shows a stem, before a lawn as
 * before a brick wall. */
static void
test_heads_stand (void)
{
  static const char *const shows[] = { "echinacea-purpurea", "yucca-filamentosa",
                                       "calamagrostis-x-acutiflora-karl-foerster",
                                       "hemerocallis-stella-de-oro", "narcissus-february-gold" };
  static const BlColor papers[] = { { 0.42, 0.50, 0.28, 1 }, { 0.52, 0.29, 0.23, 1 } };
  g_autoptr (GPtrArray) plants = canvas_plants ();

  for (guint i = 0; i < G_N_ELEMENTS (shows) * 6; i++)
    {
      const BlPlant *plant = canvas_plant (plants, shows[i / 6]);
      const BlColor *paper = &papers[i % 2];
      BlLook look = in_month (plant, plant->flower_from + 0.7);
      int high = 50 + 40 * (int) (i % 6 / 2), gaps = 0;
      cairo_surface_t *s = canvas_new (260, 160);
      cairo_t *cr = cairo_create (s);

      cairo_set_source_rgb (cr, paper->r, paper->g, paper->b);
      cairo_paint (cr);
      cairo_destroy (cr);
      draw (s, 130, 150, high / look.height, plant, &look, 4);
      cairo_surface_flush (s);
      for (int y = 150 - high + 3; y < 149; y++)
        gaps += !row_shows (s, y, *paper);
      g_test_message ("%s, %d px high: %d rows without", plant->slug, high, gaps);
      g_assert_cmpint (gaps, ==, 0);
      cairo_surface_destroy (s);
    }
}

/* Leaf colour follows the season: summer green in summer, the record's autumn colour in autumn. */
static void
test_seasons (void)
{
  static const char *const shows[] = { "amelanchier-x-grandiflora", "ilex-verticillata",
                                       "hydrangea-arborescens-annabelle" };
  g_autoptr (GPtrArray) plants = canvas_plants ();

  for (guint i = 0; i < G_N_ELEMENTS (shows); i++)
    {
      const BlPlant *plant = canvas_plant (plants, shows[i]);
      BlLook summer = in_month (plant, 7.9), autumn = in_month (plant, 10.4),
        winter = in_month (plant, 1.5);

      g_assert_cmpint (autumn.state, ==, BL_STATE_AUTUMN);
      g_assert_cmpint (winter.state, ==, BL_STATE_BARE);
      g_assert_cmpfloat (ink_near (plant, &summer, summer.leaf_color), >, 0.10);
      g_assert_cmpfloat (ink_near (plant, &autumn, autumn.leaf_color), >, 0.10);
      g_assert_cmpfloat (ink_near (plant, &winter, summer.leaf_color), <, 0.02);
    }
}

/* Mean difference of two pictures, of 255. */
static double
mean_difference (cairo_surface_t *a, cairo_surface_t *b)
{
  gsize n = (gsize) cairo_image_surface_get_stride (a) * cairo_image_surface_get_height (a);
  const guchar *p = cairo_image_surface_get_data (a), *q = cairo_image_surface_get_data (b);
  double sum = 0;

  for (gsize i = 0; i < n; i++)
    sum += abs (p[i] - q[i]);
  return sum / (double) n;
}

/* One mark's pixels are those of cairo's own fill: shapes inside the picture, over its edges, with
 * two rings, and thin ones. */
static void
test_pen (void)
{
  static const double shapes[][8] = { { 5.3, 4.2, 40.7, 9.9, 33.1, 41.4, 8.8, 30.6 },
                                      { -20.5, 12.2, 30.1, -14.7, 90.4, 30.3, 20.8, 75.9 },
                                      { 10.1, 10.0, 10.9, 10.0, 50.4, 50.5, 49.6, 50.5 },
                                      { 3, 20, 60, 20.3, 60, 20.9, 3, 20.6 } };
  cairo_matrix_t same;

  cairo_matrix_init_identity (&same);
  for (guint i = 0; i < G_N_ELEMENTS (shapes); i++)
    {
      cairo_surface_t *s[2];
      cairo_t *cr;

      for (int k = 0; k < 2; k++)
        s[k] = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 64, 64);
      cr = cairo_create (s[1]);
      cairo_set_antialias (cr, CAIRO_ANTIALIAS_BEST);
      for (int k = 0; k < 2; k++)
        {
          FigPen *pen = fig_pen_new (cr, k ? NULL : s[0], &same);

          fig_pen_move (pen, shapes[i][0], shapes[i][1]);
          fig_pen_line (pen, shapes[i][2], shapes[i][3]);
          fig_pen_line (pen, shapes[i][4], shapes[i][5]);
          fig_pen_curve (pen, 30, 50, 20, 40, shapes[i][6], shapes[i][7]);
          fig_pen_close (pen);
          fig_pen_move (pen, 50, 50);
          fig_pen_line (pen, 50.5, 60);
          fig_pen_line (pen, 40.2, 60);
          fig_pen_close (pen);
          fig_pen_fill (pen, 0.3, 0.6, 0.2, 1);
          fig_pen_free (pen);
        }
      cairo_destroy (cr);
      cairo_surface_flush (s[1]);
      g_test_message ("shape %u: mean difference %.3f", i, mean_difference (s[0], s[1]));
      g_assert_cmpfloat (mean_difference (s[0], s[1]), <, 0.3);
      cairo_surface_destroy (s[0]);
      cairo_surface_destroy (s[1]);
    }
}

/* The paths that a page gets make the same picture as the pixels do. */
static void
test_paths_and_pixels (void)
{
  g_autoptr (GPtrArray) plants = canvas_plants ();

  for (guint i = 0; i < plants->len; i++)
    {
      const BlPlant *plant = plants->pdata[i];
      BlLook look = in_month (plant, plant->spring_only ? 4.3 : 7.5);
      double scale = 150 / MAX (look.height, look.spread);
      cairo_surface_t *s[2],
        *paths = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
      cairo_t *cr;

      for (int k = 0; k < 2; k++)
        s[k] = canvas_new (220, 200);
      draw (s[0], 110, 190, scale, plant, &look, 7);
      draw (paths, 110, 190, scale, plant, &look, 7);
      cr = cairo_create (s[1]);
      cairo_set_source_surface (cr, paths, 0, 0);
      cairo_paint (cr);
      cairo_destroy (cr);
      cairo_surface_flush (s[1]);
      g_test_message ("%s: mean difference %.2f", plant->slug, mean_difference (s[0], s[1]));
      g_assert_cmpfloat (mean_difference (s[0], s[1]), <, 1.5);
      cairo_surface_destroy (paths);
      cairo_surface_destroy (s[0]);
      cairo_surface_destroy (s[1]);
    }
}

/* Nothing to draw, extreme detail, no light: no figure, no fault. */
static void
test_limits (void)
{
  g_autoptr (GPtrArray) plants = canvas_plants ();
  cairo_surface_t *s = canvas_new (64, 64);
  int x0, y0, x1, y1;

  for (guint i = 0; i < plants->len; i++)
    {
      BlLook none = in_month (plants->pdata[i], 6.5), look = none;
      BlRect box;

      none.height = none.spread = 0;
      draw (s, 32, 60, 30, plants->pdata[i], &none, 1);
      g_assert_false (canvas_ink (s, WHITE, &x0, &y0, &x1, &y1));
      box = bl_figure_box (plants->pdata[i], &look);
      g_assert_cmpfloat (box.x1 - box.x0, >, look.spread);
      g_assert_cmpfloat (-box.y0, >, look.height);
    }
  for (guint i = 0; i < plants->len; i++)
    {
      BlLook look = in_month (plants->pdata[i], 6.5);
      cairo_t *cr = cairo_create (s);

      for (double detail = 0.1; detail < 5000; detail *= 12)
        {
          cairo_save (cr);
          cairo_scale (cr, detail, detail);
          bl_figure_draw (cr, plants->pdata[i], &look, G_MAXUINT64, NULL, detail);
          cairo_restore (cr);
        }
      g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
      cairo_destroy (cr);
    }
  cairo_surface_destroy (s);
}

static void
sheet_row (cairo_surface_t *s, const BlPlant *plant, int row, double first, double years)
{
  static const double months[] = { 1.5, 4.5, 6.5, 8.5, 10.5 };
  double height, spread, scale;

  bl_plant_size_at (plant, NULL, 5, &height, &spread);
  scale = CELL * 0.86 / MAX (height, spread);
  for (guint m = 0; m < G_N_ELEMENTS (months); m++)
    {
      BlLook look = bl_plant_look (plant, NULL, 0, (BlMoment) { months[m], years });

      draw (s, (first + m + 0.5) * CELL, (row + 0.95) * CELL, scale, plant, &look,
            (guint64) row + 7);
    }
}

/* Every growth form in months 1, 4, 6, 8, 10 at ages 1 (left) and 5 (right). */
static void
test_contact_sheet (void)
{
  g_autoptr (GPtrArray) plants = canvas_plants ();

  for (guint page = 0; page * 9 < plants->len; page++)
    {
      guint n = MIN (9, plants->len - page * 9);
      cairo_surface_t *s = canvas_new (10 * CELL, (int) n * CELL);
      g_autofree char *name = g_strdup_printf ("figures-%u", page + 1);

      for (guint i = 0; i < n; i++)
        {
          sheet_row (s, plants->pdata[page * 9 + i], (int) i, 0, 1);
          sheet_row (s, plants->pdata[page * 9 + i], (int) i, 5, 5);
        }
      canvas_assert_golden (s, name);
      cairo_surface_destroy (s);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/figure/every-form", test_every_form);
  g_test_add_func ("/figure/size", test_size);
  g_test_add_func ("/figure/same-seed", test_same_seed);
  g_test_add_func ("/figure/flower-colour", test_flower_colour);
  g_test_add_func ("/figure/head-kinds", test_head_kinds);
  g_test_add_func ("/figure/heads-stand", test_heads_stand);
  g_test_add_func ("/figure/seasons", test_seasons);
  g_test_add_func ("/figure/pen", test_pen);
  g_test_add_func ("/figure/paths-and-pixels", test_paths_and_pixels);
  g_test_add_func ("/figure/limits", test_limits);
  g_test_add_func ("/figure/contact-sheet", test_contact_sheet);
  return g_test_run ();
}
