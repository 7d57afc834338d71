/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The commands of money and water that stand beside a design: prices, water. */
#include "command.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/error.h"
#include "takeoff/year-water.h"

/* ---- prices ---- */

/* The book of the design, else the firm's, else the starting one; and its currency. */
static BlPriceBook *
book_of (BlDesign *design, char **currency, GError **error)
{
  g_autofree char *path = bl_price_book_firm_path ();
  g_autoptr (GError) local = NULL;
  BlPriceBook *book;

  if (design != NULL)
    {
      const BlModel *model = bl_design_get_model (design);

      *currency = g_strdup (model->currency);
      return bl_price_book_copy (model->prices);
    }
  book = bl_price_book_load_firm (path, currency, &local);
  if (local != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&local));
      return NULL;
    }
  if (book == NULL)
    {
      *currency = g_strdup ("USD");
      book = bl_price_book_defaults ();
    }
  return book;
}

static gboolean
take_table (const char *table, const char *currency, BlPriceBook **book, GError **error)
{
  g_autofree char *text = NULL;
  BlPriceBook *taken;
  gsize length;

  if (!bl_command_read (table, &text, &length, error))
    return FALSE;
  taken = bl_price_book_from_csv_in (text, (gssize) length, currency, error);
  if (taken == NULL)
    {
      g_prefix_error (error, "“%s”: ", table);
      return FALSE;
    }
  bl_price_book_free (*book);
  *book = taken;
  return TRUE;
}

int
bl_command_prices (int argc, char **argv, GError **error)
{
  g_autofree char *output = NULL, *table = NULL, *currency = NULL;
  gboolean keep = FALSE;
  g_autoptr (BlDesign) design = NULL;
  g_autoptr (BlPriceBook) book = NULL;
  GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, "Write the book as a table", "X.csv" },
    { "take", 0, 0, G_OPTION_ARG_FILENAME, &table, "Take the prices of a table", "X.csv" },
    { "keep", 0, 0, G_OPTION_ARG_NONE, &keep, "Make it the firm's book, for new designs", NULL },
    { NULL }
  };

  if (!bl_command_parse (&argc, &argv, bl_command_find ("prices"), entries, -1, error))
    return BL_EXIT_INPUT;
  if (argc > 2 || (output == NULL && table == NULL && !keep))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   "say what to do with the prices of at most one design: -o X.csv writes them, "
                   "--take X.csv replaces them, --keep makes them the firm's.");
      return BL_EXIT_INPUT;
    }
  if (argc == 2 && (design = bl_command_open (argv[1], error)) == NULL)
    return BL_EXIT_INPUT;
  book = book_of (design, &currency, error);
  if (book == NULL || (table != NULL && !take_table (table, currency, &book, error)))
    return BL_EXIT_INPUT;
  if (table != NULL && design != NULL && !bl_command_put_prices (design, book, error))
    return BL_EXIT_INPUT;
  if (keep || (table != NULL && design == NULL))
    {
      g_autofree char *path = bl_price_book_firm_path ();

      if (!bl_price_book_save_firm (book, currency, path, error))
        return BL_EXIT_INPUT;
    }
  if (output != NULL)
    {
      g_autofree char *text = bl_price_book_to_csv_in (book, currency);

      if (!bl_command_write (output, text, -1, error))
        return BL_EXIT_INPUT;
    }
  return BL_EXIT_DONE;
}

/* ---- water ---- */

/* Twelve numbers, or twelve pairs "low/high", with commas between. */
static gboolean
read_months (const char *text, gboolean pairs, double *low, double *high, GError **error)
{
  g_auto (GStrv) parts = g_strsplit (text, ",", -1);
  guint n = g_strv_length (parts);

  for (guint i = 0; i < MIN (n, 12); i++)
    {
      char *end, *start = g_strstrip (parts[i]);

      low[i] = g_ascii_strtod (start, &end);
      if (pairs && end != start && *end == '/')
        {
          start = end + 1;
          high[i] = g_ascii_strtod (start, &end);
        }
      else if (pairs)
        end = start;
      if (end == start || *end != '\0' || !(fabs (low[i]) < 1e4)
          || (pairs ? !(high[i] >= low[i]) || !(high[i] < 100) : low[i] < 0))
        n = 0;
    }
  if (n == 12)
    return TRUE;
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "“%s” is not twelve months, January first, with "
               "commas between: %s.", text,
               pairs ? "daily lowest and highest temperature in °C, as -9/-1,-7/1,..."
                     : "reference evapotranspiration in mm, as 30,40,70,...");
  return FALSE;
}

typedef struct
{
  char *eto, *temperatures, *name, *use;
  double efficiency;
  gboolean json;
} WaterWishes;

static void
water_wishes_clear (WaterWishes *wishes)
{
  g_free (wishes->eto);
  g_free (wishes->temperatures);
  g_free (wishes->name);
  g_free (wishes->use);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (WaterWishes, water_wishes_clear)

static gboolean
eto_of (const WaterWishes *wishes, const BlModel *model, double *eto, GError **error)
{
  double low[12], high[12];

  if ((wishes->eto != NULL) == (wishes->temperatures != NULL))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "give the twelve months either as --eto or as "
                   "--temperatures.");
      return FALSE;
    }
  if (wishes->eto != NULL)
    return read_months (wishes->eto, FALSE, eto, NULL, error);
  if (!read_months (wishes->temperatures, TRUE, low, high, error))
    return FALSE;
  if (!isfinite (model->site.latitude))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "the design does not say its latitude, which "
                   "temperatures need; state it in the site, or give --eto.");
      return FALSE;
    }
  bl_year_eto (model->site.latitude, low, high, eto);
  return TRUE;
}

static gboolean
check_wishes (const WaterWishes *wishes, GError **error)
{
  if (wishes->use != NULL && strcmp (wishes->use, "home") != 0
      && strcmp (wishes->use, "other") != 0)
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "the land's use is home or other, not “%s”.",
                 wishes->use);
  else if (!(wishes->efficiency > 0.1 && wishes->efficiency <= 1))
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "the efficiency of watering is a share from 0.1 "
                 "to 1: 0.81 for drip, 0.75 for spray.");
  else
    return TRUE;
  return FALSE;
}

static void
print_water (const BlYearWater *water, BlUnits units)
{
  double unit = units == BL_UNITS_FEET ? BL_LITRES_PER_US_GALLON : 1;
  const char *name = units == BL_UNITS_FEET ? "US gal" : "L";

  printf ("Reference evapotranspiration %.0f mm a year\n", water->eto_year);
  for (guint i = 0; i < BL_WATER_ZONES; i++)
    if (water->zones[i].count > 0)
      {
        g_autofree char *area = bl_area_format (water->zones[i].area, units, bl_say_window ());

        printf ("  need %s: %u plants, %s, factor %.1f\n", water->zones[i].name,
                water->zones[i].count, area, water->zones[i].factor);
      }
  printf ("Allowance (MAWA, factor %.2f): %.0f %s a year\n", water->factor,
          water->allowance / unit, name);
  printf ("Estimated use (ETWU, efficiency %.2f): %.0f %s a year%s\n", water->efficiency,
          water->use / unit, name,
          water->use > water->allowance ? ", more than the allowance" : "");
  printf ("An estimate by the method of 23 CCR 490-495; the local agency's own worksheet and "
          "figures rule.\n");
}

int
bl_command_water (int argc, char **argv, GError **error)
{
  g_auto (WaterWishes) wishes = { .efficiency = 0.81 };
  g_autoptr (BlDesign) design = NULL;
  g_autoptr (BlLayout) layout = NULL;
  g_autoptr (BlTakeoff) takeoff = NULL;
  const BlAlternative *alternative;
  BlModel *model;
  BlYearWater water;
  double eto[12];
  GOptionEntry entries[] = {
    { "eto", 0, 0, G_OPTION_ARG_STRING, &wishes.eto, "Twelve monthly sums, mm", "MM,..." },
    { "temperatures", 0, 0, G_OPTION_ARG_STRING, &wishes.temperatures,
      "Twelve mean daily lowest and highest temperatures, °C", "LOW/HIGH,..." },
    { "alternative", 0, 0, G_OPTION_ARG_STRING, &wishes.name, "By name", "A" },
    { "use", 0, 0, G_OPTION_ARG_STRING, &wishes.use, "home or other (of the land)", "USE" },
    { "efficiency", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.efficiency, "Of watering; drip 0.81", "E" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &wishes.json, "Machine-readable", NULL },
    { NULL }
  };

  if (!bl_command_parse (&argc, &argv, bl_command_find ("water"), entries, 1, error)
      || !check_wishes (&wishes, error))
    return BL_EXIT_INPUT;
  design = bl_command_open (argv[1], error);
  if (design == NULL)
    return BL_EXIT_INPUT;
  model = bl_design_get_model (design);
  alternative = bl_command_alternative (model, wishes.name, error);
  if (alternative == NULL || !eto_of (&wishes, model, eto, error))
    return BL_EXIT_INPUT;
  layout = bl_layout_compute (model, alternative->id);
  takeoff = bl_takeoff_compute (layout, NULL);
  bl_year_water (takeoff, eto, g_strcmp0 (wishes.use, "home") == 0 ? 0.55 : 0.45,
                 wishes.efficiency, &water);
  if (wishes.json)
    {
      g_autofree char *text = bl_year_water_to_json (&water);

      if (!bl_command_write (NULL, text, -1, error))
        return BL_EXIT_INPUT;
    }
  else
    print_water (&water, model->units);
  return water.use > water.allowance ? BL_EXIT_FOUND : BL_EXIT_DONE;
}
