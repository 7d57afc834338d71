/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Charts: months in flower against the records, and the look of each chart. */
#include "canvas.h"

#include "draw/chart.h"

static BlLayout *
planted (void)
{
  static const double shrub[][2] = { { 8.6, 2.4 } }, tree[][2] = { { 10.2, 2.3 } },
    grass[][2] = { { 6.4, 2.5 } };
  static const double bulb[][2] = { { 7.6, 2.0 } };
  static const double front[][2] = { { 1.2, 1.4 }, { 4.6, 1.3 }, { 4.6, 2.1 }, { 1.2, 2.2 } };
  BlModel *model = canvas_model ();
  BlLayout *layout;

  canvas_planting (model, "hydrangea-arborescens-annabelle", BL_PLANTING_SPECIMEN, shrub, 1);
  canvas_planting (model, "amelanchier-x-grandiflora", BL_PLANTING_SPECIMEN, tree, 1);
  canvas_planting (model, "calamagrostis-x-acutiflora-karl-foerster", BL_PLANTING_SPECIMEN, grass,
                   1);
  canvas_planting (model, "narcissus-february-gold", BL_PLANTING_SPECIMEN, bulb, 1);
  canvas_planting (model, "echinacea-purpurea", BL_PLANTING_DRIFT, front, 4);
  canvas_planting (model, "nepeta-x-faassenii", BL_PLANTING_FILL, NULL, 0);
  layout = bl_layout_compute (model, 1);
  bl_model_unref (model);
  return layout;
}

/* In zone 6 a month of the record is a month of the chart. */
static void
test_months (void)
{
  static const double at[][2] = { { 4, 2 } };
  BlModel *model = canvas_model ();
  const BlPlant *plant = bl_model_plant (model, "echinacea-purpurea");
  g_autoptr (BlLayout) layout = NULL;
  guint months;

  model->site.zone = 12;
  canvas_planting (model, plant->slug, BL_PLANTING_SPECIMEN, at, 1);
  layout = bl_layout_compute (model, 1);
  months = bl_layout_bloom_months (layout);
  for (int m = 1; m <= 12; m++)
    {
      if (m > plant->flower_from && m < plant->flower_to)
        g_assert_true (months & 1u << m);
      if (m < plant->flower_from - 1 || m > plant->flower_to + 1)
        g_assert_false (months & 1u << m);
    }
  bl_model_unref (model);
}

static void
test_kinds (void)
{
  g_autoptr (BlLayout) layout = planted ();
  g_autoptr (GPtrArray) kinds = bl_layout_kinds (layout);
  double last = 0, from, to;

  g_assert_cmpuint (kinds->len, ==, 6);
  for (guint i = 0; i < kinds->len; i++)
    if (bl_plant_bloom (kinds->pdata[i], layout->model->site.zone, &from, &to))
      {
        g_assert_cmpfloat (from, >=, last);
        last = from;
      }
}

static void
test_look (void)
{
  g_autoptr (BlLayout) layout = planted ();
  cairo_surface_t *s = canvas_new (620, 620);
  cairo_t *cr = cairo_create (s);
  double used;

  cairo_translate (cr, 20, 16);
  used = bl_chart_bloom (cr, layout, 580, 20, 7.5, NULL);
  g_assert_cmpfloat (used, >, 6 * 20);
  g_assert_cmpfloat (used, <, 10 * 20);
  cairo_translate (cr, 0, 210);
  bl_chart_heights (cr, layout, (BlMoment) { 7.5, 5 }, 580, 210, NULL);
  cairo_translate (cr, 0, 230);
  bl_chart_colors (cr, layout, 580, 150, NULL);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  canvas_assert_golden (s, "charts");
  cairo_surface_destroy (s);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/months", test_months);
  g_test_add_func ("/chart/kinds", test_kinds);
  g_test_add_func ("/chart/look", test_look);
  return g_test_run ();
}
