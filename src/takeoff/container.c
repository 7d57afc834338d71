/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Container classes and the production rate that fits a size. */
#include "takeoff/container.h"

#include "base/say.h"

#include <math.h>
#include <string.h>

#include "base/units.h"

#define CUBIC_INCH (BL_METRES_PER_INCH * BL_METRES_PER_INCH * BL_METRES_PER_INCH)

typedef struct
{
  const char *name;
  double low, high; /* in³ */
} Class;

/* ANSI Z60.2-2025, container classes. They do not touch: 252-319 in³ is no class. */
static const Class classes[] = {
  { "SP4", 31, 63 },       { "SP5", 64, 136 },      { "#1", 152, 251 },    { "#2", 320, 474 },
  { "#3", 628, 742 },      { "#5", 785, 1242 },     { "#7", 1337, 1790 },  { "#10", 2080, 2646 },
  { "#15", 2768, 3696 },   { "#20", 4520, 5152 },   { "#25", 5775, 6861 }, { "#45", 9356, 11434 },
  { "#65", 13514, 16517 }, { "#95", 20790, 25410 }, { "#100", 20790, 25410 },
};

/* Sold below the classes: usual volumes, common practice. */
static const Class small[] = {
  { BL_SAID ("plug"), 4, 8 }, { BL_SAID ("cell pack"), 4, 8 }, { "4 in", 31, 63 }, { BL_SAID ("quart"), 58, 67 },
  { BL_SAID ("bare root"), 152, 251 },
};

gboolean
bl_container_volume (const char *size, double *low_m3, double *high_m3)
{
  const Class *found = NULL;

  for (guint i = 0; size != NULL && i < G_N_ELEMENTS (classes); i++)
    if (strcmp (classes[i].name, size) == 0)
      found = &classes[i];
  for (guint i = 0; size != NULL && i < G_N_ELEMENTS (small); i++)
    if (strcmp (small[i].name, size) == 0)
      found = &small[i];
  *low_m3 = found != NULL ? found->low * CUBIC_INCH : 0;
  *high_m3 = found != NULL ? found->high * CUBIC_INCH : 0;
  return found != NULL;
}

const char *
bl_container_class (double m3)
{
  double volume = m3 / CUBIC_INCH;

  for (guint i = 0; i < G_N_ELEMENTS (classes); i++)
    if (volume >= classes[i].low - 1e-6 && volume <= classes[i].high + 1e-6)
      return classes[i].name;
  return NULL;
}

static const BlPriceItem *
rate_named (const BlPriceBook *book, const char *name)
{
  g_autofree char *key = g_strdup_printf ("plant-%s", name);
  const BlPriceItem *item = bl_price_book_find (book, key);

  return item != NULL && item->kind == BL_PRICE_LABOUR ? item : NULL;
}

/* "#10" between "#7" and "#15" of the book; beyond the largest, in proportion to it. */
static gboolean
between_neighbours (const BlPriceBook *book, const char *size, double *minutes)
{
  double n = g_ascii_strtod (size + 1, NULL), below = 0, above = INFINITY;
  double at_below = 0, at_above = 0;

  if (!(n > 0))
    return FALSE;
  for (guint i = 0; i < book->items->len; i++)
    {
      const BlPriceItem *item = book->items->pdata[i];
      double k = g_str_has_prefix (item->key, "plant-#") ? g_ascii_strtod (item->key + 7, NULL) : 0;

      if (k > 0 && k <= n && k > below)
        {
          below = k;
          at_below = item->amount;
        }
      if (k >= n && k < above)
        {
          above = k;
          at_above = item->amount;
        }
    }
  if (below == 0 && isinf (above))
    return FALSE;
  if (below == 0)
    *minutes = at_above;
  else if (isinf (above))
    *minutes = at_below * n / below;
  else
    *minutes = above > below ? at_below + (at_above - at_below) * (n - below) / (above - below)
                             : at_below;
  return TRUE;
}

gboolean
bl_planting_minutes (const BlPriceBook *book, const char *size, double *minutes, char **key)
{
  static const char *const like[][2] = { { BL_SAID ("corm"), BL_SAID ("bulb") }, { "cell pack", "plug" },
                                         { "4 in", "quart" }, { "bare root", "#1" } };
  const BlPriceItem *item;

  *key = NULL;
  if (size == NULL)
    return FALSE;
  item = rate_named (book, size);
  if (item == NULL && g_str_has_prefix (size, "B&B"))
    item = rate_named (book, "B&B");
  for (guint i = 0; item == NULL && i < G_N_ELEMENTS (like); i++)
    if (strcmp (size, like[i][0]) == 0)
      item = rate_named (book, like[i][1]);
  if (item != NULL)
    {
      *minutes = item->amount;
      *key = g_strdup (item->key);
      return TRUE;
    }
  if (size[0] != '#' || !between_neighbours (book, size, minutes))
    return FALSE;
  *key = g_strdup_printf ("plant-%s", size);
  return TRUE;
}
