/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The place and what was found: measures with their intervals, and the site in plain words. */
#include "proposal/book.h"

#include <math.h>

static const char *
frost_word (const BlBook *book, BlMonthDay md, char **text)
{
  if (md.month == 0)
    return BL_W (book, "not stated");
  *text = g_strdup_printf ("%d %s (%s)", md.day, bl_month_name (book->language, md.month, FALSE),
                           BL_W (book, "median"));
  return *text;
}

static gboolean
has_feature (const BlModel *model, BlFeatureKind kind)
{
  for (guint i = 0; i < model->features->len; i++)
    if (((const BlFeature *) model->features->pdata[i])->kind == kind)
      return TRUE;
  return FALSE;
}

static void
add_fact (BlPressTable *table, const char *name, const char *value)
{
  bl_press_table_add (table, BL_ROW_PLAIN, bl_book_escape (name), bl_book_escape (value), NULL);
}

static void
add_bed_facts (BlBook *book, BlPressTable *table)
{
  for (guint i = 0; i < book->model->beds->len; i++)
    {
      const BlBed *bed = book->model->beds->pdata[i];
      g_autofree char *area = NULL;
      g_autofree char *line = NULL;

      bl_press_table_add (table, BL_ROW_SECTION, bl_book_escape (bed->name), NULL);
      if (bed->ground == NULL)
        {
          add_fact (table, BL_W (book, "Area"), bed->problem);
          continue;
        }
      area = bl_area_format_interval (bed->area.value, bed->area.sd, book->model->units, book->language);
      line = bl_length_format_decimal (bed->perimeter.value, book->model->units, 1);
      add_fact (table, BL_W (book, "Area"), area);
      add_fact (table, BL_W (book, "Bed line"), line);
    }
}

static void
add_site_facts (BlBook *book, BlPressTable *table)
{
  const BlSite *site = &book->model->site;
  g_autofree char *zone = site->zone != 0 ? bl_zone_format (site->zone) : NULL;
  g_autofree char *hours = isnan (site->sun_hours) ? NULL : bl_fixed_format (site->sun_hours, 1);
  g_autofree char *sun
      = hours != NULL ? g_strdup_printf (BL_W (book, "%s hours a day"), hours) : NULL;
  g_autofree char *last = NULL;
  g_autofree char *first = NULL;
  const char *unknown = BL_W (book, "not stated");

  bl_press_table_add (table, BL_ROW_SECTION, bl_book_escape (BL_W (book, "The site")), NULL);
  add_fact (table, BL_W (book, "Hardiness zone"), zone != NULL ? zone : unknown);
  add_fact (table, BL_W (book, "Last spring frost"), frost_word (book, site->last_frost, &last));
  add_fact (table, BL_W (book, "First autumn frost"), frost_word (book, site->first_frost, &first));
  add_fact (table, BL_W (book, "Direct sun"), sun != NULL ? sun : unknown);
  add_fact (table, BL_W (book, "Soil"),
            site->soil != BL_SOIL_UNKNOWN ? BL_W (book, bl_soil_name (site->soil)) : unknown);
  add_fact (table, BL_W (book, "Moisture"),
            site->moisture != BL_MOISTURE_UNKNOWN ? BL_W (book, bl_moisture_words (site->moisture))
                                                  : unknown);
  if (site->wind != BL_WIND_UNKNOWN)
    add_fact (table, BL_W (book, "Wind"), BL_W (book, bl_wind_words (site->wind)));
  if (!isnan (site->hot_days))
    {
      g_autofree char *hot
          = g_strdup_printf (BL_W (book, "about %.0f a year above 30 °C (86 °F)"), site->hot_days);

      add_fact (table, BL_W (book, "Hot days"), hot);
    }
  add_fact (table, BL_W (book, "Road salt"),
            site->salt_edge ? BL_W (book, "the whole strip")
            : has_feature (book->model, BL_FEATURE_SALTED_EDGE)
                ? BL_W (book, "along the marked edge") : BL_W (book, "none marked"));
  add_fact (table, BL_W (book, "Ploughed snow"),
            has_feature (book->model, BL_FEATURE_SNOW_PILE) ? BL_W (book, "piled where marked")
                                                            : BL_W (book, "none marked"));
  add_fact (table, BL_W (book, "Deer"),
            site->deer ? BL_W (book, "browse here") : BL_W (book, "not reported"));
}

/* Names of the numbers on the plan, in two columns. */
static void
set_legend (BlBook *book, GPtrArray *names)
{
  BlPress *press = book->press;
  double gap = 14, width = (press->right - press->left - gap) / 2, y = press->y;
  guint half = (names->len + 1) / 2;

  for (guint i = 0; i < names->len && i < 24; i++)
    {
      guint column = i / half;
      g_autofree char *text = g_strdup_printf ("%u   %s", i + 1, (const char *) names->pdata[i]);

      bl_press_set_plain (press, BL_TYPE_STYLE_SMALL, press->left + column * (width + gap),
                          y + (i % half) * 11, width, BL_ALIGN_LEFT, 1, text);
    }
  press->y += half * 11 + 8;
}

static void
set_method (BlBook *book, double width)
{
  BlPress *press = book->press;
  const BlCamera *camera = bl_model_camera (book->model);
  g_autofree char *eye = NULL;
  g_autofree char *text = NULL;

  bl_press_subhead (press, BL_W (book, "How the area was measured"));
  if (camera == NULL)
    {
      bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width,
                           BL_W (book, "The bed's outline was stated by measurements on site."));
      return;
    }
  eye = bl_length_format_decimal (camera->eye, book->model->units, 1);
  text = g_strdup_printf (
      BL_W (book, "The bed was measured from one photo. From what is known on it the camera was "
                  "solved: it stood %s above the ground and looked %.0f° down. The figure after "
                  "± is half of the interval that holds the true value in 19 cases of 20."),
      eye, camera->pitch * 180 / G_PI);
  bl_press_flow_plain (press, BL_TYPE_STYLE_BODY, press->left, width, text);
}

void
bl_page_place (BlBook *book)
{
  BlPress *press = book->press;
  const BlBookPart *part = bl_book_part (book, 0);
  double width = press->right - press->left;
  g_autoptr (BlPressTable) table = bl_press_table_new ();
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) marks = NULL;
  BlPressColumn columns[] = { { "", 0.36, BL_ALIGN_LEFT }, { "", 0.64, BL_ALIGN_LEFT } };
  BlPlanSetup setup = { .scene = BL_SCENE_BARE, .moment = { 7.5, 0 }, .bleed = TRUE,
                        .window = bl_book_beds (book->model, 1.0) };
  BlRect plan;

  bl_press_page (press, BL_W (book, "The place, and what was found"),
                 BL_W (book, "The place, and what was found"));
  plan = (BlRect) { press->left, press->y + 2, press->right, press->y + 2 + press->height * 0.30 };
  marks = bl_book_feature_marks (book, bl_book_plan_seen (book, plan, &setup), names);
  setup.marks = marks;
  bl_book_plan (book, part, plan, &setup);
  press->y = plan.y1 + 4;
  set_legend (book, names);
  add_bed_facts (book, table);
  add_site_facts (book, table);
  bl_press_table_set (press, table, columns, G_N_ELEMENTS (columns), press->left, width);
  set_method (book, width);
}
