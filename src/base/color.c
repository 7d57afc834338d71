/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colours: sRGB, CIELAB and the colour difference CIEDE2000. */
#include "base/color.h"

#include <math.h>

/* The sRGB primaries under D65 (IEC 61966-2-1); the white is the sum of the columns, so that
 * (1, 1, 1) is exactly L = 100, a = b = 0. */
static const double to_xyz[3][3] = { { 0.4124564, 0.3575761, 0.1804375 },
                                     { 0.2126729, 0.7151522, 0.0721750 },
                                     { 0.0193339, 0.1191920, 0.9503041 } };
static const double from_xyz[3][3] = { { 3.2404542, -1.5371385, -0.4985314 },
                                       { -0.9692660, 1.8760108, 0.0415560 },
                                       { 0.0556434, -0.2040259, 1.0572252 } };

static double
linear_of (double c)
{
  return c <= 0.04045 ? c / 12.92 : pow ((c + 0.055) / 1.055, 2.4);
}

static double
encoded_of (double c)
{
  c = CLAMP (c, 0, 1);
  return c <= 0.0031308 ? c * 12.92 : 1.055 * pow (c, 1 / 2.4) - 0.055;
}

static double
white_of (int row)
{
  return to_xyz[row][0] + to_xyz[row][1] + to_xyz[row][2];
}

static double
lab_f (double t)
{
  return t > 216.0 / 24389 ? cbrt (t) : (24389.0 / 27 * t + 16) / 116;
}

static double
lab_f_inverse (double f)
{
  return f > 6.0 / 29 ? f * f * f : (116 * f - 16) * 27 / 24389;
}

gboolean
bl_color_parse (const char *hex, BlColor *color)
{
  int digit[6];
  int n = 0;

  g_return_val_if_fail (color != NULL, FALSE);
  if (hex == NULL || hex[0] != '#')
    return FALSE;
  for (const char *p = hex + 1; *p != '\0'; p++)
    {
      if (n == 6 || !g_ascii_isxdigit (*p))
        return FALSE;
      digit[n++] = g_ascii_xdigit_value (*p);
    }
  if (n == 3)
    *color = (BlColor) { digit[0] / 15.0, digit[1] / 15.0, digit[2] / 15.0, 1 };
  else if (n == 6)
    *color = (BlColor) { (digit[0] * 16 + digit[1]) / 255.0, (digit[2] * 16 + digit[3]) / 255.0,
                         (digit[4] * 16 + digit[5]) / 255.0, 1 };
  else
    return FALSE;
  return TRUE;
}

static int
byte_of (double c)
{
  return (int) lround (CLAMP (c, 0, 1) * 255);
}

char *
bl_color_format (BlColor color)
{
  return g_strdup_printf ("#%02x%02x%02x", byte_of (color.r), byte_of (color.g), byte_of (color.b));
}

BlColor
bl_color_mix (BlColor a, BlColor b, double t)
{
  t = CLAMP (t, 0, 1);
  return (BlColor) { encoded_of (linear_of (a.r) * (1 - t) + linear_of (b.r) * t),
                     encoded_of (linear_of (a.g) * (1 - t) + linear_of (b.g) * t),
                     encoded_of (linear_of (a.b) * (1 - t) + linear_of (b.b) * t),
                     a.a * (1 - t) + b.a * t };
}

BlColor
bl_color_lighten (BlColor c, double amount)
{
  BlLab lab = bl_color_to_lab (c);
  double keep, target;
  BlColor result;

  amount = CLAMP (amount, -1, 1);
  target = amount > 0 ? 100 : 0;
  keep = 1 - fabs (amount);
  result = bl_color_from_lab ((BlLab) { target + (lab.L - target) * keep, lab.a * keep,
                                        lab.b * keep });
  result.a = c.a;
  return result;
}

BlColor
bl_color_saturate (BlColor c, double factor)
{
  BlLab lab = bl_color_to_lab (c);
  BlColor result;

  factor = MAX (factor, 0);
  result = bl_color_from_lab ((BlLab) { lab.L, lab.a * factor, lab.b * factor });
  result.a = c.a;
  return result;
}

BlLab
bl_color_to_lab (BlColor color)
{
  double rgb[3] = { linear_of (color.r), linear_of (color.g), linear_of (color.b) };
  double f[3];

  for (int i = 0; i < 3; i++)
    f[i] = lab_f ((to_xyz[i][0] * rgb[0] + to_xyz[i][1] * rgb[1] + to_xyz[i][2] * rgb[2])
                  / white_of (i));
  return (BlLab) { 116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2]) };
}

BlColor
bl_color_from_lab (BlLab lab)
{
  double fy = (lab.L + 16) / 116;
  double xyz[3] = { lab_f_inverse (fy + lab.a / 500) * white_of (0),
                    lab_f_inverse (fy) * white_of (1),
                    lab_f_inverse (fy - lab.b / 200) * white_of (2) };
  double rgb[3];

  for (int i = 0; i < 3; i++)
    rgb[i] = encoded_of (from_xyz[i][0] * xyz[0] + from_xyz[i][1] * xyz[1]
                         + from_xyz[i][2] * xyz[2]);
  return (BlColor) { rgb[0], rgb[1], rgb[2], 1 };
}

static double
hue_degrees (double a, double b)
{
  double h;

  if (a == 0 && b == 0)
    return 0;
  h = atan2 (b, a) * 180 / G_PI;
  return h < 0 ? h + 360 : h;
}

static double
chroma_weight (double chroma)
{
  double c7 = pow (chroma, 7);

  return sqrt (c7 / (c7 + 6103515625.0)); /* 25^7 */
}

static double
cos_degrees (double degrees)
{
  return cos (degrees * G_PI / 180);
}

/* Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula", Color Research and Application
 * 30 (2005), equations 2 to 22. */
double
bl_color_difference (BlLab p, BlLab q)
{
  double g = 0.5 * (1 - chroma_weight ((hypot (p.a, p.b) + hypot (q.a, q.b)) / 2));
  double a1 = p.a * (1 + g), a2 = q.a * (1 + g);
  double c1 = hypot (a1, p.b), c2 = hypot (a2, q.b);
  double h1 = hue_degrees (a1, p.b), h2 = hue_degrees (a2, q.b);
  double dh = 0, h_mean = h1 + h2;
  double dl = q.L - p.L, dc = c2 - c1, dbigh;
  double l_mean = (p.L + q.L) / 2, c_mean = (c1 + c2) / 2;
  double t, sl, sc, sh, rt, l50;

  if (c1 * c2 != 0)
    {
      dh = h2 - h1;
      if (dh > 180)
        dh -= 360;
      else if (dh < -180)
        dh += 360;
      if (fabs (h1 - h2) > 180)
        h_mean += h1 + h2 < 360 ? 360 : -360;
      h_mean /= 2;
    }
  dbigh = 2 * sqrt (c1 * c2) * sin (dh * G_PI / 360);
  t = 1 - 0.17 * cos_degrees (h_mean - 30) + 0.24 * cos_degrees (2 * h_mean)
      + 0.32 * cos_degrees (3 * h_mean + 6) - 0.20 * cos_degrees (4 * h_mean - 63);
  l50 = (l_mean - 50) * (l_mean - 50);
  sl = 1 + 0.015 * l50 / sqrt (20 + l50);
  sc = 1 + 0.045 * c_mean;
  sh = 1 + 0.015 * c_mean * t;
  rt = -sin (60 * exp (-pow ((h_mean - 275) / 25, 2)) * G_PI / 180) * 2 * chroma_weight (c_mean);
  return sqrt (pow (dl / sl, 2) + pow (dc / sc, 2) + pow (dbigh / sh, 2)
               + rt * (dc / sc) * (dbigh / sh));
}

static double
luminance (BlColor c)
{
  return 0.2126 * linear_of (c.r) + 0.7152 * linear_of (c.g) + 0.0722 * linear_of (c.b);
}

double
bl_color_contrast (BlColor a, BlColor b)
{
  double la = luminance (a) + 0.05, lb = luminance (b) + 0.05;

  return la > lb ? la / lb : lb / la;
}
