/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colours against the published CIEDE2000 test data and the contrast formula of WCAG 2. */
#include "base/color.h"

#include <math.h>

/* Sharma, Wu and Dalal 2005, Table 1: pair number, the two colours, the difference printed. */
static void
test_sharma (void)
{
  static const struct
  {
    int pair;
    BlLab a, b;
    double printed;
  } rows[] = {
    { 1, { 50, 2.6772, -79.7751 }, { 50, 0, -82.7485 }, 2.0425 },
    { 2, { 50, 3.1571, -77.2803 }, { 50, 0, -82.7485 }, 2.8615 },
    { 3, { 50, 2.8361, -74.0200 }, { 50, 0, -82.7485 }, 3.4412 },
    { 4, { 50, -1.3802, -84.2814 }, { 50, 0, -82.7485 }, 1.0000 },
    { 7, { 50, 0, 0 }, { 50, -1, 2 }, 2.3669 },
    { 9, { 50, 2.49, -0.001 }, { 50, -2.49, 0.0009 }, 7.1792 },
    { 10, { 50, 2.49, -0.001 }, { 50, -2.49, 0.0010 }, 7.1792 },
    { 11, { 50, 2.49, -0.001 }, { 50, -2.49, 0.0011 }, 7.2195 },
    { 12, { 50, 2.49, -0.001 }, { 50, -2.49, 0.0012 }, 7.2195 },
    { 13, { 50, -0.001, 2.49 }, { 50, 0.0009, -2.49 }, 4.8045 },
    { 15, { 50, -0.001, 2.49 }, { 50, 0.0011, -2.49 }, 4.7461 },
    { 16, { 50, 2.5, 0 }, { 50, 0, -2.5 }, 4.3065 },
    { 17, { 50, 2.5, 0 }, { 73, 25, -18 }, 27.1492 },
    { 25, { 60.2574, -34.0099, 36.2677 }, { 60.4626, -34.1751, 39.4387 }, 1.2644 },
    { 26, { 63.0109, -31.0961, -5.8663 }, { 62.8187, -29.7946, -4.0864 }, 1.2630 },
    { 27, { 61.2901, 3.7196, -5.3901 }, { 61.4292, 2.2480, -4.9620 }, 1.8731 },
    { 34, { 2.0776, 0.0795, -1.1350 }, { 0.9033, -0.0636, -0.5514 }, 0.9082 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double d = bl_color_difference (rows[i].a, rows[i].b);

      g_test_message ("pair %d: %.5f, printed %.4f", rows[i].pair, d, rows[i].printed);
      g_assert_cmpfloat_with_epsilon (d, rows[i].printed, 5e-5);
      g_assert_cmpfloat_with_epsilon (d, bl_color_difference (rows[i].b, rows[i].a), 1e-12);
    }
}

/* Ratios on white computed from WCAG 2.1's definition; the 4.5 and 3 borders lie between the
 * neighbouring greys. */
static void
test_contrast (void)
{
  static const struct
  {
    const char *hex;
    double ratio;
  } rows[] = { { "#000000", 21.0 },   { "#767676", 4.5422 }, { "#777777", 4.4781 },
               { "#949494", 3.0335 }, { "#959595", 2.9953 }, { "#FF0000", 3.9985 },
               { "#0000FF", 8.5925 }, { "#008000", 5.1374 }, { "#228B22", 4.3895 },
               { "#ffffff", 1.0 } };
  BlColor white, c;

  g_assert_true (bl_color_parse ("#fff", &white));
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_assert_true (bl_color_parse (rows[i].hex, &c));
      g_assert_cmpfloat_with_epsilon (bl_color_contrast (c, white), rows[i].ratio, 5e-5);
      g_assert_cmpfloat_with_epsilon (bl_color_contrast (white, c), rows[i].ratio, 5e-5);
    }
}

/* Lab to sRGB samples of a public colour checker data file (D65). */
static void
test_lab_samples (void)
{
  static const struct
  {
    BlLab lab;
    int r, g, b;
  } rows[] = {
    { { 36.657, 8.250, 12.270 }, 106, 81, 67 },   { { 64.202, 9.433, 14.710 }, 182, 149, 130 },
    { { 43.637, -12.265, 20.263 }, 95, 108, 69 }, { { 56.556, -29.605, 32.966 }, 101, 148, 76 },
    { { 80.527, -4.273, 70.711 }, 228, 199, 55 }, { { 95.095, -0.589, 2.575 }, 242, 241, 236 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      BlColor c = bl_color_from_lab (rows[i].lab);
      BlLab back = bl_color_to_lab (c);

      g_assert_cmpint ((int) lround (c.r * 255), ==, rows[i].r);
      g_assert_cmpint ((int) lround (c.g * 255), ==, rows[i].g);
      g_assert_cmpint ((int) lround (c.b * 255), ==, rows[i].b);
      g_assert_cmpfloat_with_epsilon (back.L, rows[i].lab.L, 1e-3);
      g_assert_cmpfloat_with_epsilon (back.a, rows[i].lab.a, 1e-3);
      g_assert_cmpfloat_with_epsilon (back.b, rows[i].lab.b, 1e-3);
    }
}

static void
test_white_and_ends (void)
{
  BlColor c, green;
  BlLab white = bl_color_to_lab ((BlColor) { 1, 1, 1, 1 });
  g_autofree char *end = NULL, *other = NULL;

  g_assert_cmpfloat_with_epsilon (white.L, 100, 1e-9);
  g_assert_cmpfloat_with_epsilon (white.a, 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (white.b, 0, 1e-9);
  g_assert_true (bl_color_parse ("#3a7d44", &green));
  c = bl_color_lighten (green, 1);
  end = bl_color_format (c);
  g_assert_cmpstr (end, ==, "#ffffff");
  c = bl_color_lighten (green, -1);
  other = bl_color_format (c);
  g_assert_cmpstr (other, ==, "#000000");
  c = bl_color_saturate (green, 0);
  g_assert_cmpfloat_with_epsilon (c.r, c.g, 1e-3);
  g_assert_cmpfloat_with_epsilon (c.g, c.b, 1e-3);
  c = bl_color_mix (green, (BlColor) { 1, 1, 1, 0 }, 0.5);
  g_assert_cmpfloat_with_epsilon (c.a, 0.5, 1e-12);
  /* Half black and half white light is a grey of 188, not 128: mixing is in linear light. */
  c = bl_color_mix ((BlColor) { 0, 0, 0, 1 }, (BlColor) { 1, 1, 1, 1 }, 0.5);
  g_assert_cmpint ((int) lround (c.r * 255), ==, 188);
}

static void
test_parse (void)
{
  static const char *const bad[] = { NULL, "", "#", "#12", "#1234", "#12345", "#1234567",
                                     "#12345g", "123456", "#12 456", "red" };
  BlColor c;

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    g_assert_false (bl_color_parse (bad[i], &c));
  for (int v = 0; v < 256; v++)
    {
      g_autofree char *hex = g_strdup_printf ("#%02x%02x%02x", v, 255 - v, v / 2);
      g_autofree char *back = NULL;

      g_assert_true (bl_color_parse (hex, &c));
      back = bl_color_format (c);
      g_assert_cmpstr (back, ==, hex);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/color/sharma-2005", test_sharma);
  g_test_add_func ("/color/wcag-contrast", test_contrast);
  g_test_add_func ("/color/lab-samples", test_lab_samples);
  g_test_add_func ("/color/ends", test_white_and_ends);
  g_test_add_func ("/color/parse", test_parse);
  return g_test_run ();
}
