/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One plant record: read, or refused; what is read is kept word for word and looks like something. */
#include "fuzz.h"

#include <math.h>
#include <string.h>

#include "plants/season.h"

static void
check_looks (const BlPlant *plant)
{
  for (int month = 1; month <= 12; month++)
    {
      BlMoment moment = { month + 0.5, month - 1.0 };
      BlLook look = bl_plant_look (plant, NULL, 0, moment);

      g_assert_true (isfinite (look.height) && isfinite (look.spread));
      g_assert_true (look.height >= 0.0 && look.height < 1000.0);
    }
}

/* What stands in a name must not end the markup round it. */
static void
check_markup (const char *markup)
{
  static const GMarkupParser parser = { 0 };
  g_autoptr (GMarkupParseContext) context = g_markup_parse_context_new (&parser, 0, NULL, NULL);
  g_autofree char *whole = g_strconcat ("<span>", markup, "</span>", NULL);

  g_assert_true (g_markup_parse_context_parse (context, whole, -1, NULL)
                 && g_markup_parse_context_end_parse (context, NULL));
}

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  g_autofree char *text = fuzz_text (data, size);
  const char *close = strchr (text, ']');
  g_autofree char *slug = text[0] == '[' && close != NULL
                          ? g_strndup (text + 1, (gsize) (close - text - 1)) : g_strdup ("a-plant");
  g_autoptr (GError) error = NULL;
  g_autoptr (BlPlant) plant = NULL, again = NULL;
  g_autofree char *name = NULL, *markup = NULL;

  if (!g_utf8_validate (text, -1, NULL))
    return 0;
  plant = bl_plant_parse (slug, text, &error);
  if (plant == NULL)
    {
      fuzz_check_error (error);
      return 0;
    }
  name = bl_plant_name (plant);
  markup = bl_plant_name_markup (plant);
  check_markup (markup);
  check_looks (plant);
  again = bl_plant_parse (slug, plant->text, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (again->text, ==, plant->text);
  return 0;
}
