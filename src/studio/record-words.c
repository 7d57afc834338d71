/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plant's record in words, fact by fact. */

#include "config.h"

#include "studio/record-words.h"

#include "base/say.h"
#include "base/units.h"

#include <glib/gi18n.h>
#include <math.h>

typedef struct
{
  GPtrArray *words;
  gboolean metres;
} Page;

static const char *const months[]
    = { N_ ("January"),   N_ ("February"), N_ ("March"),    N_ ("April"),
        N_ ("May"),       N_ ("June"),     N_ ("July"),     N_ ("August"),
        N_ ("September"), N_ ("October"),  N_ ("November"), N_ ("December") };

static const char *
month_word (int month)
{
  return _(months[CLAMP (month, 1, 12) - 1]);
}

/* A fact; one without a value says that it is not known. */
static void
put (Page *page, const char *what, const char *value)
{
  g_ptr_array_add (page->words, g_strdup (what));
  g_ptr_array_add (page->words, g_strdup (value != NULL && *value != '\0' ? value
                                                                          : _("not known")));
}

static void
put_take (Page *page, const char *what, char *value)
{
  put (page, what, value);
  g_free (value);
}

/* A record's own words in the window's language; may be NULL. */
static const char *
said (const char *words)
{
  return words != NULL ? bl_say (bl_say_window (), words) : NULL;
}

/* Only where there is something to say. */
static void
put_if (Page *page, const char *what, const char *value)
{
  if (value != NULL && *value != '\0')
    put (page, what, value);
}

static char *
length (const Page *page, double metres)
{
  if (metres < 0.9)
    return page->metres ? g_strdup_printf (_("%.0f cm"), metres * 100)
                        : g_strdup_printf (_("%.0f in"), metres / BL_METRES_PER_INCH);
  return bl_length_format (metres, page->metres ? BL_UNITS_METRES : BL_UNITS_FEET);
}

static void
put_range (Page *page, const char *what, double low, double high, double usual)
{
  g_autofree char *a = length (page, low), *b = length (page, high), *c = length (page, usual);

  /* Translators: smallest to largest, and the size that is drawn. */
  put_take (page, what, g_strdup_printf (_("%s to %s; drawn as %s"), a, b, c));
}

static const char *
grade_word (BlGrade grade)
{
  static const char *const words[] = { N_ ("not known"), N_ ("low"), N_ ("medium"), N_ ("high") };

  return _(words[grade]);
}

static const char *
harm_word (BlHarm harm)
{
  static const char *const words[] = { N_ ("not known"), N_ ("no report"), N_ ("mild"),
                                       N_ ("poisonous"), N_ ("severely poisonous") };

  return _(words[harm]);
}

static const char *
browse_word (BlBrowse browse)
{
  static const char *const words[]
      = { N_ ("not known"), N_ ("rarely browsed"), N_ ("sometimes browsed"), N_ ("often browsed") };

  return _(words[browse]);
}

/* The words of the bits that are set, from bit 1 on. */
static char *
bit_words (guint bits, const char *const words[3])
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < 3; i++)
    if (bits & (1u << (i + 1)))
      g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", _(words[i]));
  return g_string_free (text, FALSE);
}

static void
put_growth (Page *page, const BlPlant *p)
{
  static const char *const speeds[]
      = { N_ ("not known"), N_ ("slow"), N_ ("medium"), N_ ("fast") };
  static const char *const spreads[]
      = { N_ ("stays where it is"), N_ ("by runners"), N_ ("by seed"), N_ ("by runners and seed") };

  put_range (page, _("Height"), p->height_low, p->height_high, p->height);
  put_range (page, _("Spread"), p->spread_low, p->spread_high, p->spread);
  if (p->foliage_height < p->height)
    put_take (page, _("Height of the leaves"), length (page, p->foliage_height));
  put_take (page, _("Planted apart"), length (page, p->spacing));
  put_take (page, _("Full size after"),
            g_strdup_printf (ngettext ("%.0f year", "%.0f years", (gulong)p->years), p->years));
  put (page, _("Growth"), _(speeds[p->growth]));
  put (page, _("Spreads"), _(spreads[(p->runs ? 1 : 0) + (p->seeds ? 2 : 0)]));
  put (page, _("Roots near pavement"), p->root_risk == BL_GRADE_UNKNOWN ? NULL
       : p->root_risk == BL_GRADE_LOW      ? _ ("seldom lift it")
       : p->root_risk == BL_GRADE_MEDIUM   ? _ ("may lift it")
                                           : _ ("lift it"));
  put (page, _("Origin"), p->origin);
  put (page, _("Native to eastern or central North America"), p->native ? _("yes") : _("no"));
}

static char *
heat_words (const BlPlant *p)
{
  double low = 0, high = 0;

  if (p->heat_high <= 0)
    return NULL;
  bl_heat_zone_days (p->heat_high, &low, &high);
  return isfinite (high)
             ? g_strdup_printf (_("up to %.0f days a year above 30 °C (86 °F)"), high)
             : g_strdup_printf (_("more than %.0f days a year above 30 °C (86 °F)"), low);
}

static void
put_bears (Page *page, const BlPlant *p)
{
  static const char *const lights[] = { N_ ("shade"), N_ ("part sun"), N_ ("full sun") };
  static const char *const moistures[] = { N_ ("dry"), N_ ("medium"), N_ ("wet") };
  static const char *const soils[] = { N_ ("sand"), N_ ("loam"), N_ ("clay") };
  g_autofree char *low = bl_zone_format (p->zone_low), *high = bl_zone_format (p->zone_high);

  put_take (page, _("Hardiness zones"), g_strdup_printf (_("%s to %s"), low, high));
  put_take (page, _("Heat"), heat_words (p));
  put_take (page, _("Light"), bit_words (p->light, lights));
  put_take (page, _("Moisture"), bit_words (p->moisture, moistures));
  put_take (page, _("Soil"), bit_words (p->soil, soils));
  put_take (page, _("pH"),
            p->ph_low > 0 ? g_strdup_printf (_("%.1f to %.1f"), p->ph_low, p->ph_high) : NULL);
  put (page, _("Drought, once established"), grade_word (p->drought));
  put (page, _("Salt in the soil"), grade_word (p->soil_salt));
  put (page, _("Salt spray"), grade_word (p->spray_salt));
  put (page, _("Load of snow"), grade_word (p->snow_load));
  put (page, _("Wind"), grade_word (p->wind));
  put (page, _("Walnut roots"), grade_word (p->juglone));
  put (page, _("Deer"), browse_word (p->deer));
  put (page, _("Rabbits"), browse_word (p->rabbit));
}

static void
put_harm (Page *page, const BlPlant *p)
{
  put (page, _("People"), harm_word (p->harm_people));
  put (page, _("Dogs"), harm_word (p->harm_dogs));
  put (page, _("Cats"), harm_word (p->harm_cats));
  put (page, _("Livestock"), harm_word (p->harm_livestock));
  put_if (page, _("Caution"), said (p->harm_note));
  put_if (page, _("Allergen"), p->allergen);
  put (page, _("Thorns"), p->thorns ? _("yes") : _("no"));
  for (guint i = 0; i < p->n_regulations; i++)
    {
      const BlRegulation *r = &p->regulations[i];

      /* Translators: state, what it is listed as, by whom, as of when. */
      put_take (page, _("Regulated"),
                g_strdup_printf (_("%s: %s (%s, as of %s); check your state's list"), r->where,
                                 r->what, r->by, r->when));
    }
  put_if (page, _("Reported to spread"), said (p->invasive));
}

static char *
span (int from, int to)
{
  return from == 0 ? NULL : g_strdup_printf (_("%s to %s"), month_word (from), month_word (to));
}

static void
put_look (Page *page, const BlPlant *p)
{
  static const char *const leaves[]
      = { N_ ("falls or dies down"), N_ ("half evergreen"), N_ ("evergreen") };
  g_autofree char *bloom = span (p->flower_from, p->flower_to);
  g_autofree char *fruit = p->has_fruit ? span (p->fruit_from, p->fruit_to) : NULL;

  put (page, _("Leaf"), _(leaves[p->leaves]));
  put (page, _("New growth shows"), month_word (p->emerges));
  if (p->spring_only)
    put (page, _("Gone by summer"), _("yes"));
  put (page, _("Flowers"), p->flower_color_name != NULL ? said (p->flower_color_name)
                                                                     : _("of no note"));
  if (bloom != NULL)
    /* Translators: months as seen in zone 6, before the shift by zone. */
    put (page, _("In flower, zone 6"), bloom);
  put_if (page, _("Fruit"), fruit);
  put_if (page, _("In winter"), p->winter_interest);
  put_if (page, _("Wildlife"), p->wildlife);
}

static char *
list (char **names)
{
  return names != NULL ? g_strjoinv (", ", names) : NULL;
}

static char *
sizes_words (const Page *page, const BlPlant *p)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < p->n_sizes; i++)
    {
      g_autofree char *tall = length (page, p->sizes[i].height);

      /* Translators: a container and how tall the plant in it is. */
      g_string_append_printf (text, _("%s%s (%s tall)"), i > 0 ? ", " : "", p->sizes[i].name, tall);
    }
  return g_string_free (text, FALSE);
}

static void
put_care (Page *page, const BlPlant *p)
{
  g_autofree char *with = list (p->companions), *without = list (p->avoid);
  const char *support = g_strcmp0 (p->support, "stake") == 0     ? _ ("a stake")
                        : g_strcmp0 (p->support, "trellis") == 0 ? _ ("something to climb")
                                                                 : _ ("none");

  put (page, _("Care group"), bl_care_group_name (p->care));
  put_if (page, _("Own rule"), said (p->care_note));
  put (page, _("Support"), support);
  put_take (page, _("Divide"),
            p->divide_low > 0 ? g_strdup_printf (_("every %d to %d years"), p->divide_low,
                                                 p->divide_high)
                              : g_strdup (_("not needed")));
  put_if (page, _("Goes with"), with);
  put_if (page, _("Not beside"), without);
  put_take (page, _("Sold as"), sizes_words (page, p));
  put (page, _("What this rests on"), p->basis);
}

const char *
bl_record_group_title (BlRecordGroup group)
{
  static const char *const titles[BL_RECORD_GROUPS]
      = { N_ ("Size and growth"), N_ ("What it bears"), N_ ("Harm it can do"),
          N_ ("Through the year"), N_ ("Care and trade") };

  return _(titles[group]);
}

GPtrArray *
bl_record_words (const BlPlant *plant, BlRecordGroup group, gboolean metres)
{
  static void (*const puts[BL_RECORD_GROUPS]) (Page *, const BlPlant *)
      = { put_growth, put_bears, put_harm, put_look, put_care };
  Page page = { g_ptr_array_new_with_free_func (g_free), metres };

  puts[group] (&page, plant);
  return page.words;
}
