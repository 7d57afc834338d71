/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calendar's dates against the rules they follow, reckoned by hand from the frost dates. */
#include "care/care.h"
#include "scene.h"

/* Minneapolis, NOAA 1981-2010 medians: last freeze 25 April, first freeze 10 October. */
static BlModel *
minneapolis (void)
{
  BlModel *model = scene_new ();

  model->site.zone = bl_zone_parse ("5a", NULL);
  model->site.last_frost = (BlMonthDay){ 4, 25 };
  model->site.first_frost = (BlMonthDay){ 10, 10 };
  model->planting_day = bl_day (2026, 5, 12);
  return model;
}

static BlCare *
care_of (BlModel *model)
{
  g_autoptr (BlLayout) layout = bl_layout_compute (model, 1);

  g_assert_cmpuint (layout->messages->len, ==, 0);
  return bl_care_compute (layout, bl_day (2026, 3, 1), NULL);
}

static const BlTask *
task_of (const BlCare *care, const char *kind, const char *slug, int year)
{
  guint i = 0;

  for (i = 0; i < care->tasks->len; i++)
    {
      const BlTask *t = &g_array_index (care->tasks, BlTask, i);

      if (strcmp (t->kind, kind) == 0 && (slug == NULL || g_strcmp0 (t->slug, slug) == 0)
          && t->year == year)
        return t;
    }
  return NULL;
}

static void
assert_window (const BlTask *task, const char *from, const char *to)
{
  g_autofree char *f = NULL;
  g_autofree char *t = NULL;

  g_assert_nonnull (task);
  f = bl_day_format_iso (task->from);
  t = bl_day_format_iso (task->to);
  g_assert_cmpstr (f, ==, from);
  g_assert_cmpstr (t, ==, to);
}

/* plants.md, groups of pruning and cutback; each window reckoned from 25 April 2027 (last frost)
 * or 10 October (first frost):
 *   H1 LSF - 6 to - 2 weeks, G1 LSF - 8 to - 3, G2 LSF - 10 to - 6, H2 FFF to FFF + 5 weeks,
 *   H3 LSF - 5 weeks to LSF, P2 LSF - 8 to - 2 weeks. */
static void
test_groups (void)
{
  g_autoptr (BlModel) model = minneapolis ();
  g_autoptr (BlCare) care = NULL;

  scene_put (model, scene_plant ("h1", NULL), 1, 2, 3, 0.5);
  scene_put (model, scene_plant ("h2", "care", "H2", NULL), 3, 2, 1, 0);
  scene_put (model, scene_plant ("h3", "care", "H3", NULL), 4, 2, 1, 0);
  scene_put (model,
             scene_plant ("g1", "type", "grass", "form", "upright-grass", "care", "G1", NULL), 5, 2,
             1, 0);
  scene_put (model,
             scene_plant ("g2", "type", "grass", "form", "upright-grass", "care", "G2", NULL), 6, 2,
             1, 0);
  scene_put (model, scene_plant ("p2", "type", "shrub", "form", "vase-shrub", "care", "P2", NULL),
             7, 2, 1, 0);
  care = care_of (model);
  assert_window (task_of (care, "cut-back", "h1", 1), "2027-03-14", "2027-04-11");
  assert_window (task_of (care, "cut-back", "g1", 1), "2027-02-28", "2027-04-04");
  g_assert_cmpstr (task_of (care, "cut-back", "g1", 1)->title, ==,
                   "Cut back purple coneflower to 10 cm (1)");
  assert_window (task_of (care, "cut-back", "g2", 1), "2027-02-14", "2027-03-14");
  assert_window (task_of (care, "cut-back", "h2", 0), "2026-10-10", "2026-11-14");
  assert_window (task_of (care, "cut-back", "h3", 1), "2027-03-21", "2027-04-25");
  assert_window (task_of (care, "prune", "p2", 1), "2027-02-28", "2027-04-11");
  g_assert_null (task_of (care, "cut-back", "h1", 0));
  g_assert_true (g_str_has_prefix (task_of (care, "cut-back", "h1", 1)->title,
                                   "Cut back purple coneflower (3)"));
}

/* Spring bloomers: from the end of the flowers, six weeks, and not after early July. Bulbs: leaves
 * off four to six weeks after the flowers. Repeat bloomers: five weeks after the first flower. */
static void
test_bloom (void)
{
  g_autoptr (BlModel) model = minneapolis ();
  g_autoptr (BlCare) care = NULL;
  const BlTask *prune = NULL, *bulb = NULL, *shear = NULL;
  BlZone zone = bl_season_zone (&model->site);
  double from = 0, to = 0;
  BlPlant *p1 = scene_plant ("p1", "type", "shrub", "form", "arching-shrub", "care", "P1",
                             "flower_months", "4 4", NULL);
  BlPlant *late = scene_plant ("late", "type", "shrub", "form", "arching-shrub", "care", "P1",
                               "flower_months", "5 6", NULL);
  BlPlant *b1 = scene_plant ("b1", "type", "bulb", "form", "bulb", "care", "B1", "spring_only",
                             "yes", "emerges", "3", "flower_months", "4 4", NULL);
  BlPlant *h4 = scene_plant ("h4", "care", "H4", "flower_months", "6 9", NULL);

  scene_put (model, p1, 1, 2, 1, 0);
  scene_put (model, late, 3, 2, 1, 0);
  scene_put (model, b1, 5, 2, 1, 0);
  scene_put (model, h4, 7, 2, 1, 0);
  care = care_of (model);
  prune = task_of (care, "prune", "p1", 2);
  g_assert_true (bl_plant_bloom (p1, zone, &from, &to));
  /* The flowers end at moment @to of 2028. */
  g_assert_cmpint (prune->from, ==, bl_day (2028, 1, 1) + lround ((to - 1) * 365.25 / 12));
  g_assert_cmpint (prune->to - prune->from, ==, 6 * 7 - 1);
  /* What flowers until July has two weeks. */
  g_assert_cmpint (task_of (care, "prune", "late", 2)->to
                     - task_of (care, "prune", "late", 2)->from,
                   ==, 13);
  g_assert_null (task_of (care, "prune", "p1", 1));
  bulb = task_of (care, "bulb-leaves", "b1", 1);
  g_assert_cmpint (bulb->from - (bl_day (2027, 1, 1) + lround ((to - 1) * 365.25 / 12) - 1), ==,
                   28);
  g_assert_cmpint (bulb->to - bulb->from, ==, 14);
  /* Planted in May, the bulbs themselves go in in autumn. */
  assert_window (task_of (care, "plant", "b1", 0), "2026-09-19", "2026-11-07");
  shear = task_of (care, "shear", "h4", 1);
  bl_plant_bloom (h4, zone, &from, &to);
  g_assert_cmpint (shear->from, ==, bl_day (2027, 1, 1) + lround ((from - 1) * 365.25 / 12) + 35);
}

/* University of Minnesota Extension: weeks 1 and 2 daily, 3 to 12 every two to three days, then
 * weekly; shrubs one to two years. */
static void
test_water (void)
{
  g_autoptr (BlModel) model = minneapolis ();
  g_autoptr (BlCare) care = NULL;
  guint daily = 0, third = 0, weekly = 0, i = 0;

  scene_put (model, scene_plant ("s", "type", "shrub", "form", "vase-shrub", "care", "P2", NULL), 5,
             2, 1, 0);
  care = care_of (model);
  for (i = 0; i < care->tasks->len; i++)
    {
      const BlTask *t = &g_array_index (care->tasks, BlTask, i);

      if (strcmp (t->kind, "water") != 0 || t->year != 0)
        continue;
      if (t->every_days == 1)
        {
          assert_window (t, "2026-05-12", "2026-05-25");
          daily++;
        }
      else if (t->every_days == 3)
        {
          assert_window (t, "2026-05-26", "2026-08-03"); /* to the end of week 12 */
          third++;
        }
      else
        {
          assert_window (t, "2026-08-04",
                         "2026-12-05"); /* until the ground freezes, eight weeks after */
          g_assert_cmpint (t->every_days, ==, 7);
          weekly++;
        }
    }
  g_assert_cmpuint (daily, ==, 1);
  g_assert_cmpuint (third, ==, 1);
  g_assert_cmpuint (weekly, ==, 1);
  g_assert_nonnull (task_of (care, "water", NULL, 1));
  g_assert_null (task_of (care, "water", NULL, 3));
}

/* The side with salt and ploughed snow is cut in autumn instead of spring. */
static void
test_exposed (void)
{
  static const double kerb[] = { 0, 0, 10, 0 };
  g_autoptr (BlModel) model = minneapolis ();
  g_autoptr (BlCare) care = NULL;

  scene_feature (model, BL_FEATURE_SALTED_EDGE, 2, kerb, 0);
  scene_put (model, scene_plant ("both", NULL), 2, 0.5, 2, 1);
  {
    BlPlanting *far = bl_planting_copy (g_ptr_array_index (model->plantings, 0));

    far->id = 9;
    bl_points_at (far->shape->points, 0) = BL_POINT (5, 3.5);
    g_ptr_array_add (model->plantings, far);
  }
  care = care_of (model);
  /* Two within 3 m in the autumn of the planting year, the third in spring. */
  assert_window (task_of (care, "cut-back", "both", 0), "2026-10-10", "2026-11-14");
  g_assert_nonnull (
    strstr (task_of (care, "cut-back", "both", 0)->title, "(2), salt and snow side"));
  g_assert_nonnull (task_of (care, "flush", NULL, 1));
  {
    guint autumn = 0, spring = 0, i = 0;

    for (i = 0; i < care->tasks->len; i++)
      {
        const BlTask *t = &g_array_index (care->tasks, BlTask, i);

        if (strcmp (t->kind, "cut-back") != 0 || t->year != 2)
          continue;
        autumn += t->from == bl_day (2028, 10, 10);
        spring += t->to == bl_day (2028, 4, 11);
      }
    g_assert_cmpuint (autumn, ==, 1);
    g_assert_cmpuint (spring, ==, 1);
  }
}

/* Late frost in October, first frost in April: every window falls half a year on. */
static void
test_south (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlCare) care = NULL;
  const BlTask *weed = NULL;

  model->site.latitude = -41;
  model->site.last_frost = (BlMonthDay){ 10, 10 };
  model->site.first_frost = (BlMonthDay){ 4, 25 };
  model->planting_day = bl_day (2026, 10, 20);
  scene_put (model, scene_plant ("h1", NULL), 2, 2, 3, 0.5);
  scene_put (model, scene_plant ("h2", "care", "H2", NULL), 5, 2, 1, 0);
  scene_put (model, scene_plant ("h4", "care", "H4", NULL), 7, 2, 1, 0);
  care = care_of (model);
  assert_window (task_of (care, "cut-back", "h1", 1), "2027-08-29", "2027-09-26");
  assert_window (task_of (care, "cut-back", "h2", 0), "2027-04-25", "2027-05-30");
  weed = task_of (care, "weed", NULL, 1);
  assert_window (weed, "2027-09-12", "2028-04-25");
  /* June flowers of the north come in December. */
  g_assert_cmpint (task_of (care, "shear", "h4", 1)->from, >, bl_day (2027, 12, 20));
  g_assert_cmpint (task_of (care, "shear", "h4", 1)->from, <, bl_day (2028, 2, 1));
}

/* Planted in the autumn: the planting year has only what is left of it. */
static void
test_autumn (void)
{
  g_autoptr (BlModel) model = minneapolis ();
  g_autoptr (BlCare) care = NULL;
  guint i = 0;

  model->planting_day = bl_day (2026, 10, 5);
  scene_put (model, scene_plant ("h1", NULL), 2, 2, 3, 0.5);
  care = care_of (model);
  for (i = 0; i < care->tasks->len; i++)
    g_assert_cmpint (g_array_index (care->tasks, BlTask, i).from, >=, model->planting_day);
  g_assert_nonnull (task_of (care, "protect", "h1", 0));
  assert_window (task_of (care, "cut-back", "h1", 1), "2027-03-14", "2027-04-11");
}

/* Without frost dates those usual for the zone are taken, and it is said. */
static void
test_assumed (void)
{
  g_autoptr (BlModel) model = scene_new ();
  g_autoptr (BlCare) care = NULL;
  BlMonthDay last, first;
  gboolean assumed = FALSE;

  model->site.zone = bl_zone_parse ("5b", NULL);
  scene_put (model, scene_plant ("h1", NULL), 2, 2, 3, 0.5);
  care = care_of (model);
  bl_care_frosts (&model->site, &last, &first, &assumed);
  g_assert_true (assumed);
  g_assert_cmpint (last.month, ==, 5);
  g_assert_nonnull (
    strstr (g_array_index (care->tasks, BlTask, 0).what, "frost dates are not stated"));
  g_assert_nonnull (strstr (g_array_index (care->tasks, BlTask, 0).what, "2026-03-01 is taken"));
}

static void
test_marks (void)
{
  g_autoptr (BlModel) model = minneapolis ();
  g_autoptr (BlCare) before = NULL;
  g_autoptr (BlCare) after = NULL;
  BlCareMark *moved = g_new0 (BlCareMark, 1), *done = g_new0 (BlCareMark, 1),
             *dropped = g_new0 (BlCareMark, 1);
  BlOwnTask *own = g_new0 (BlOwnTask, 1);

  scene_put (model, scene_plant ("h1", NULL), 2, 2, 3, 0.5);
  before = care_of (model);
  moved->uid = g_strdup (task_of (before, "cut-back", "h1", 1)->uid);
  moved->moved = bl_day (2027, 4, 20);
  done->uid = g_strdup (task_of (before, "mulch", NULL, 1)->uid);
  done->done = bl_day (2027, 4, 12);
  dropped->uid = g_strdup (task_of (before, "cut-back", "h1", 2)->uid);
  dropped->dropped = TRUE;
  g_ptr_array_add (model->care_marks, moved);
  g_ptr_array_add (model->care_marks, done);
  g_ptr_array_add (model->care_marks, dropped);
  own->id = 7;
  own->title = g_strdup ("Check the bench");
  own->day = bl_day (2028, 2, 29);
  own->yearly = TRUE;
  own->hours = 0.5;
  g_ptr_array_add (model->own_tasks, own);
  after = care_of (model);
  assert_window (task_of (after, "cut-back", "h1", 1), "2027-04-20", "2027-04-20");
  g_assert_true (task_of (after, "cut-back", "h1", 1)->moved);
  g_assert_true (task_of (after, "mulch", NULL, 1)->done);
  g_assert_null (task_of (after, "cut-back", "h1", 2));
  assert_window (task_of (after, "own", NULL, 2), "2028-02-28", "2028-02-28");
  g_assert_cmpuint (after->tasks->len, ==, before->tasks->len);
}

/* UIDs are unique, and the same again for the same design. */
static void
test_uids (void)
{
  static const double kerb[] = { 0, 0, 10, 0 };
  g_autoptr (BlModel) model = minneapolis ();
  g_autoptr (BlCare) one = NULL;
  g_autoptr (BlCare) two = NULL;
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  guint i = 0;

  scene_feature (model, BL_FEATURE_SALTED_EDGE, 2, kerb, 0);
  scene_put (model, scene_plant ("near", NULL), 2, 0.5, 3, 0.5);
  scene_put (model,
             scene_plant ("shrub", "type", "shrub", "form", "vase-shrub", "care", "P3", NULL), 5,
             3.4, 2, 1);
  scene_put (model, scene_plant ("summer", "type", "annual", "care", "A", NULL), 7, 2, 3, 0.5);
  one = care_of (model);
  two = care_of (model);
  g_assert_cmpuint (one->tasks->len, ==, two->tasks->len);
  for (i = 0; i < one->tasks->len; i++)
    {
      const BlTask *t = &g_array_index (one->tasks, BlTask, i);

      g_assert_true (g_hash_table_add (seen, t->uid));
      g_assert_cmpstr (t->uid, ==, g_array_index (two->tasks, BlTask, i).uid);
      g_assert_cmpint (t->to, >=, t->from);
      g_assert_cmpfloat (t->hours, >, 0);
      g_assert_cmpuint (strlen (t->title), >, 5);
      if (i > 0)
        g_assert_cmpint (g_array_index (one->tasks, BlTask, i - 1).from, <=, t->from);
    }
}

/* Every task of a visit is open on one common day; hours add up. */
static void
test_visits (void)
{
  g_autoptr (BlModel) model = minneapolis ();
  g_autoptr (BlCare) care = NULL;
  double hours = 0;
  int last = 0, visit = 0;
  guint i = 0;

  scene_put (model, scene_plant ("h1", NULL), 1, 2, 9, 0.5);
  scene_put (model,
             scene_plant ("g1", "type", "grass", "form", "upright-grass", "care", "G1", NULL), 7, 2,
             3, 0.7);
  care = care_of (model);
  for (i = 0; i < care->tasks->len; i++)
    last = MAX (last, g_array_index (care->tasks, BlTask, i).visit);
  for (visit = 1; visit <= last; visit++)
    {
      BlDay open = 0, close = G_MAXUINT32;

      for (i = 0; i < care->tasks->len; i++)
        {
          const BlTask *t = &g_array_index (care->tasks, BlTask, i);

          if (t->visit != visit)
            continue;
          open = MAX (open, t->from);
          close = MIN (close, t->to);
        }
      g_assert_cmpint (open, <=, close);
      g_assert_cmpint (open, >, 0);
    }
  for (i = 0; i < care->tasks->len; i++)
    {
      const BlTask *t = &g_array_index (care->tasks, BlTask, i);
      g_autoptr (GArray) days = bl_task_days (t, model->planting_day, model->planting_day + 364);

      hours += t->hours * days->len;
      g_assert_true (t->visit > 0 || t->every_days > 0 || strcmp (t->kind, "water") == 0);
    }
  g_assert_cmpfloat_with_epsilon (care->hours_first_year, hours, 1e-9);
  g_assert_cmpfloat (care->hours_later, >, 0);
  g_assert_cmpfloat (care->hours_later, <, care->hours_first_year);
  g_assert_cmpint (care->visits_first_year, >, 3);
}

/* The starting book holds every rate that a calendar asks for, all flagged as invented; put back
 * from a table with the firm's own figures, none is any more and the hours are the firm's. */
static void
test_rates (void)
{
  g_autoptr (BlModel) model = minneapolis ();
  g_autoptr (BlCare) bare = NULL, invented = NULL, some = NULL, all = NULL;
  BlPriceItem *item = NULL;
  guint i = 0;

  scene_put (model, scene_plant ("h1", NULL), 2, 2, 3, 0.5);
  bare = care_of (model);
  bl_price_book_free (model->prices);
  model->prices = bl_price_book_defaults ();
  invented = care_of (model);
  g_assert_true (bare->any_invented && invented->any_invented);
  g_assert_cmpfloat (bare->hours_first_year, ==, invented->hours_first_year);
  item = bl_price_item_copy (bl_price_book_find (model->prices, "care-weed"));
  g_assert_true (item->invented);
  item->amount = 6;
  item->invented = FALSE;
  bl_price_book_put_take (model->prices, item);
  some = care_of (model);
  /* 40 m² at 6 minutes. */
  g_assert_cmpfloat_with_epsilon (task_of (some, "weed", NULL, 1)->hours, 4.0, 1e-9);
  g_assert_false (task_of (some, "weed", NULL, 1)->invented);
  g_assert_true (task_of (some, "clean-up", NULL, 1)->invented);
  g_assert_true (some->any_invented);
  for (i = 0; i < model->prices->items->len; i++)
    ((BlPriceItem *) model->prices->items->pdata[i])->invented = FALSE;
  all = care_of (model);
  g_assert_false (all->any_invented);
}

/* A rate goes out in the price table and comes back changed; the calendar's own table says of each
 * task on whose figure its hours rest. */
static void
test_rates_in_tables (void)
{
  g_autoptr (BlModel) model = minneapolis ();
  g_autoptr (BlPriceBook) back = NULL;
  g_autoptr (BlCare) care = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) table = NULL;
  g_autofree char *csv = NULL;

  bl_price_book_free (model->prices);
  model->prices = bl_price_book_defaults ();
  csv = bl_price_book_to_csv (model->prices);
  table = g_string_new (csv);
  g_assert_cmpuint (g_string_replace (table, "weed between young plants,m2,0.00,1.6,,yes",
                                      "weed between young plants,m2,0.00,6,,no", 0), ==, 1);
  back = bl_price_book_from_csv (table->str, -1, &error);
  g_assert_no_error (error);
  bl_price_book_free (model->prices);
  model->prices = g_steal_pointer (&back);
  scene_put (model, scene_plant ("h1", NULL), 2, 2, 3, 0.5);
  care = care_of (model);
  g_assert_cmpfloat_with_epsilon (task_of (care, "weed", NULL, 1)->hours, 4.0, 1e-9);
  g_free (csv);
  csv = bl_care_to_csv (care, model);
  g_assert_nonnull (strstr (csv, ",4.00,own figure,"));
  g_assert_nonnull (strstr (csv, "invented rate,"));
}

static void
test_empty (void)
{
  g_autoptr (BlModel) model = minneapolis ();
  g_autoptr (BlCare) care = care_of (model);
  g_autofree char *ics = bl_care_to_ics (care, model, "20261125T120000Z");
  g_autofree char *csv = bl_care_to_csv (care, model);

  g_assert_cmpuint (care->tasks->len, ==, 0);
  g_assert_true (g_str_has_prefix (ics, "BEGIN:VCALENDAR\r\n"));
  g_assert_true (g_str_has_prefix (csv, "from,to,"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/care/groups", test_groups);
  g_test_add_func ("/care/bloom", test_bloom);
  g_test_add_func ("/care/water", test_water);
  g_test_add_func ("/care/exposed", test_exposed);
  g_test_add_func ("/care/south", test_south);
  g_test_add_func ("/care/autumn", test_autumn);
  g_test_add_func ("/care/assumed", test_assumed);
  g_test_add_func ("/care/marks", test_marks);
  g_test_add_func ("/care/uids", test_uids);
  g_test_add_func ("/care/visits", test_visits);
  g_test_add_func ("/care/rates", test_rates);
  g_test_add_func ("/care/rates-in-tables", test_rates_in_tables);
  g_test_add_func ("/care/empty", test_empty);
  return g_test_run ();
}
