/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Money at the edge: integer minor units, read and written with the currency's decimals. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/units.h"

#define MAX_AMOUNT G_GINT64_CONSTANT (9007199254740992) /* 2^53: exact as a double too */

static const struct
{
  const char *code, *sign;
} signs[] = { { "USD", "$" }, { "EUR", "€" }, { "GBP", "£" }, { "JPY", "¥" } };

/* ISO 4217: the currencies whose minor unit is not 2 (from memory of the standard's table A.1). */
int
bl_money_digits (const char *currency)
{
  static const char *const none[] = { "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG",
                                      "RWF", "UGX", "UYI", "VND", "VUV", "XAF", "XOF", "XPF",
                                      NULL };
  static const char *const three[] = { "BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND", NULL };

  if (currency == NULL)
    return 2;
  if (g_strv_contains (none, currency))
    return 0;
  return g_strv_contains (three, currency) ? 3 : 2;
}

static const char *
sign_of (const char *currency)
{
  for (guint i = 0; i < G_N_ELEMENTS (signs); i++)
    if (g_strcmp0 (signs[i].code, currency) == 0)
      return signs[i].sign;
  return NULL;
}

static guint64
minor_per_major (const char *currency)
{
  guint64 scale = 1;

  for (int i = bl_money_digits (currency); i > 0; i--)
    scale *= 10;
  return scale;
}

char *
bl_money_format (gint64 minor, const char *currency)
{
  guint64 amount = minor < 0 ? -(guint64) minor : (guint64) minor;
  guint64 scale = minor_per_major (currency);
  g_autofree char *whole = g_strdup_printf ("%" G_GUINT64_FORMAT, amount / scale);
  const char *sign = sign_of (currency);
  GString *out = g_string_new (minor < 0 ? "-" : "");
  gsize n = strlen (whole);

  if (sign != NULL)
    g_string_append (out, sign);
  else if (currency != NULL && currency[0] != '\0')
    g_string_append_printf (out, "%s ", currency);
  for (gsize i = 0; i < n; i++)
    {
      if (i > 0 && (n - i) % 3 == 0)
        g_string_append_c (out, ',');
      g_string_append_c (out, whole[i]);
    }
  if (scale > 1)
    g_string_append_printf (out, ".%0*" G_GUINT64_FORMAT, bl_money_digits (currency),
                            amount % scale);
  return g_string_free (out, FALSE);
}

/* The amount's own characters: sign, currency and spaces taken off. NULL when the currency is
 * another one. */
static char *
bare_amount (const char *text, const char *currency, gboolean *negative)
{
  GString *bare = g_string_new (NULL);
  const char *sign = sign_of (currency);

  *negative = FALSE;
  for (const char *p = text; *p != '\0';)
    {
      gunichar c = g_utf8_get_char (p);

      if (sign != NULL && g_str_has_prefix (p, sign))
        {
          p += strlen (sign);
          continue;
        }
      if (currency != NULL && currency[0] != '\0'
          && g_ascii_strncasecmp (p, currency, strlen (currency)) == 0)
        {
          p += strlen (currency);
          continue;
        }
      if ((c == '-' || c == 0x2212) && bare->len == 0 && !*negative)
        *negative = TRUE;
      else if (g_ascii_isdigit (*p) || *p == '.' || *p == ',')
        g_string_append_c (bare, *p);
      else if (!g_unichar_isspace (c) && !(*p == '\'' && bare->len > 0))
        {
          g_string_free (bare, TRUE);
          return NULL;
        }
      p = g_utf8_next_char (p);
    }
  return g_string_free (bare, FALSE);
}

/* Where the decimals begin, or the end of @bare. The last mark is the decimal one unless it is a
 * comma before three digits, or a mark that comes twice. */
static const char *
decimal_mark (const char *bare, int digits)
{
  const char *end = bare + strlen (bare);
  const char *last = end;

  for (const char *p = bare; *p != '\0'; p++)
    if (*p == '.' || *p == ',')
      last = p;
  if (*last == '\0')
    return end;
  if (*last == ',' && strlen (last + 1) == 3)
    return memchr (bare, '.', (gsize) (last - bare)) != NULL && digits == 3 ? last : end;
  return memchr (bare, *last, (gsize) (last - bare)) != NULL ? end : last;
}

/* Digits in groups of three after the first mark. */
static gboolean
whole_part (const char *bare, const char *end, guint64 *value)
{
  guint since_mark = 0;
  char mark = '\0';

  *value = 0;
  for (const char *p = bare; p < end; p++)
    {
      if (g_ascii_isdigit (*p))
        {
          *value = *value * 10 + (guint64) (*p - '0');
          since_mark++;
          if (*value > (guint64) MAX_AMOUNT)
            return FALSE;
          continue;
        }
      if ((mark != '\0' && (*p != mark || since_mark != 3))
          || (mark == '\0' && (since_mark == 0 || since_mark > 3)))
        return FALSE;
      mark = *p;
      since_mark = 0;
    }
  return mark == '\0' || since_mark == 3;
}

gboolean
bl_money_parse (const char *text, const char *currency, gint64 *minor, GError **error)
{
  g_autofree char *bare = NULL;
  int digits = bl_money_digits (currency);
  guint64 scale = minor_per_major (currency), whole, part = 0;
  gboolean negative, ok = FALSE;

  g_return_val_if_fail (minor != NULL, FALSE);
  if (text != NULL && g_utf8_validate (text, -1, NULL) && strlen (text) < 64)
    bare = bare_amount (text, currency, &negative);
  if (bare != NULL && strpbrk (bare, "0123456789") != NULL)
    {
      const char *mark = decimal_mark (bare, digits);
      const char *decimals = *mark == '\0' ? mark : mark + 1;

      ok = whole_part (bare, mark, &whole) && (int) strlen (decimals) <= digits
           && strpbrk (decimals, ".,") == NULL;
      for (int i = 0; ok && i < digits; i++)
        part = part * 10 + (*decimals != '\0' ? (guint64) (*decimals++ - '0') : 0);
      ok = ok && whole <= (guint64) MAX_AMOUNT / scale;
    }
  if (!ok)
    {
      g_autofree char *shown = g_utf8_make_valid (text != NULL ? text : "", -1);
      g_autofree char *like = bl_money_format (123450, currency);

      g_set_error (error, BL_ERROR, BL_ERROR_INPUT, _("“%s” is not an amount: write it like %s."),
                   shown, like);
      return FALSE;
    }
  *minor = (gint64) (whole * scale + part);
  if (negative)
    *minor = -*minor;
  return TRUE;
}

/* A factor such as 0.35 is a hair under its decimal as a double; the nudge keeps 150 × 0.35 =
 * 52.5 a half. */
gint64
bl_money_scale (gint64 amount, double factor)
{
  long double product = (long double) amount * factor;

  product += product * 2.3e-16L;
  if (isnan ((double) product))
    return 0;
  if (product >= (long double) G_MAXINT64)
    return G_MAXINT64;
  if (product <= (long double) G_MININT64)
    return G_MININT64;
  return (gint64) roundl (product);
}
