/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calendar: seasons counted from the frosts, tasks of each, then marks, own tasks and visits.
 */
#include "care/care.h"

#include <math.h>
#include <string.h>

#include "care/care-private.h"
#include "geometry/polygon.h"

#define SEASONS 5 /* planting year, three more, and every year after */
/* Plants this near a salted edge are cut in autumn, before the salt and the plough. */
#define SALT_REACH 3.0

static void
clear_task (gpointer data)
{
  BlTask *task = data;

  g_free (task->uid);
  g_free (task->title);
  g_free (task->work);
  g_free (task->low);
  g_free (task->what);
  g_free (task->slug);
}

void
bl_care_free (BlCare *care)
{
  if (care == NULL)
    return;
  g_array_unref (care->tasks);
  g_free (care);
}

static gboolean
is_south (const BlSite *site)
{
  return site->latitude < 0;
}

static BlMonthDay
month_day_of (BlDay day)
{
  int month = 0, mday = 0;

  bl_day_split (day, NULL, &month, &mday);
  return (BlMonthDay){ (guint8) month, (guint8) mday };
}

void
bl_care_frosts (const BlSite *site, BlMonthDay *last, BlMonthDay *first, gboolean *assumed)
{
  double zones = site->zone != 0 ? (site->zone - 12.5) / 2.0 : 0.0;
  int half_year = is_south (site) ? 183 : 0;
  int spring = (int) lround (CLAMP (-15.0 * zones, -75, 45));
  int autumn = (int) lround (CLAMP (10.0 * zones, -40, 50));

  *assumed = site->last_frost.month == 0 || site->first_frost.month == 0;
  *last = site->last_frost;
  *first = site->first_frost;
  /* 2001 has no 29 February. */
  if (last->month == 0)
    *last = month_day_of ((BlDay) ((int) bl_day (2001, 4, 28) + spring + half_year));
  if (first->month == 0)
    *first = month_day_of ((BlDay) ((int) bl_day (2001, 10, 14) + autumn + half_year));
}

static BlCareSeason
season_of_year (const BlSite *site, int year)
{
  BlMonthDay last, first;
  gboolean assumed = FALSE;
  BlCareSeason season = { 0 };

  bl_care_frosts (site, &last, &first, &assumed);
  season.last_frost = bl_month_day_in (last, year);
  season.first_frost = bl_month_day_in (first, year);
  if (season.first_frost <= season.last_frost)
    season.first_frost = bl_month_day_in (first, year + 1);
  season.origin = is_south (site) ? bl_day (year, 7, 1) : bl_day (year, 1, 1);
  return season;
}

BlDay
bl_care_moment (const BlCareSeason *season, double month)
{
  return (BlDay) ((double) season->origin + lround ((month - 1.0) * 365.25 / 12.0));
}

gboolean
bl_care_bloom (const BlCareContext *context, const BlCareSeason *season, const BlPlant *plant,
               BlDay *first, BlDay *last)
{
  double from = 0, to = 0;

  if (!bl_plant_bloom (plant, context->zone, &from, &to))
    return FALSE;
  /* Flowers that go on into the next year began in the last. */
  if (to > 13.0)
    {
      from -= 12.0;
      to -= 12.0;
    }
  *first = bl_care_moment (season, from);
  *last = bl_care_moment (season, to) - 1;
  return TRUE;
}

/* Recurring every year, 29 February would fall out of three years in four. */
static BlDay
not_leap_day (BlDay day)
{
  BlMonthDay md = month_day_of (day);

  return md.month == 2 && md.day == 29 ? day - 1 : day;
}

static char *
uid_of (const BlCareDraft *draft, int number)
{
  return g_strdup_printf ("%s%s%s.%s%" G_GINT64_FORMAT ".%d", draft->kind,
                          draft->detail != NULL ? "-" : "",
                          draft->detail != NULL ? draft->detail : "",
                          draft->about != NULL ? draft->about->plant->slug : "bed",
                          draft->about != NULL ? 0 : draft->bed_id, number);
}

void
bl_care_add_take (BlCareContext *context, const BlCareSeason *season, const BlCareDraft *draft,
                  const char *object, char *what)
{
  BlTask task = { .kind = draft->kind,
                  .year = season->number,
                  .every_days = draft->every_days,
                  .count = draft->count,
                  .salt = draft->salt,
                  .what = what };

  if (draft->to < context->planting || draft->to < draft->from)
    {
      g_free (what);
      return;
    }
  task.title = bl_care_title (context, draft, object);
  task.work = g_strdup (bl_care_say (context, bl_care_work (draft->verb)));
  task.low = g_strdup (draft->low != NULL ? draft->low : "");
  task.from = MAX (draft->from, context->planting);
  task.to = draft->to;
  task.hours = bl_care_hours (context->model, draft->rate, draft->units, &task.invented);
  task.yearly = season->number == SEASONS - 1 && !draft->once;
  if (task.yearly)
    {
      task.from = not_leap_day (task.from);
      task.to = not_leap_day (task.to);
    }
  task.bed_id = draft->about != NULL ? draft->about->bed_id : draft->bed_id;
  task.slug = draft->about != NULL ? g_strdup (draft->about->plant->slug) : NULL;
  task.uid = uid_of (draft, season->number);
  g_array_append_val (context->care->tasks, task);
}

static double
distance_to (const BlFeature *feature, BlPoint p)
{
  const BlPoints *points = feature->ground->points;
  double least = INFINITY;
  guint i = 0;

  if (!feature->ground->open && points->len >= 3 && bl_polygon_contains (points, p))
    return 0.0;
  for (i = 0; i + 1 < points->len; i++)
    least = MIN (least, bl_segment_distance (p, bl_points_at (points, i),
                                             bl_points_at (points, i + 1), NULL));
  return least;
}

static gboolean
is_exposed (const BlModel *model, BlPoint p)
{
  guint i = 0;

  for (i = 0; i < model->features->len; i++)
    {
      const BlFeature *f = g_ptr_array_index (model->features, i);

      if (f->ground == NULL || f->ground->points->len < 2)
        continue;
      if ((f->kind == BL_FEATURE_SNOW_PILE && distance_to (f, p) <= 0.0)
          || (f->kind == BL_FEATURE_SALTED_EDGE && distance_to (f, p) <= SALT_REACH))
        return TRUE;
    }
  return FALSE;
}

static int
compare_kinds (gconstpointer pa, gconstpointer pb)
{
  const BlCareKind *a = pa, *b = pb;

  return strcmp (a->plant->slug, b->plant->slug);
}

static BlCareKind *
kind_for (GArray *kinds, const BlPlaced *p)
{
  BlCareKind fresh = { .plant = p->plant, .bed_id = p->bed_id };
  guint k = 0;

  for (k = 0; k < kinds->len; k++)
    if (strcmp (g_array_index (kinds, BlCareKind, k).plant->slug, p->plant->slug) == 0)
      return &g_array_index (kinds, BlCareKind, k);
  g_array_append_val (kinds, fresh);
  return &g_array_index (kinds, BlCareKind, k);
}

static GArray *
kinds_of (const BlModel *model, const BlLayout *layout)
{
  GArray *kinds = g_array_new (FALSE, FALSE, sizeof (BlCareKind));
  guint i = 0;

  for (i = 0; i < layout->placed->len; i++)
    {
      const BlPlaced *p = &g_array_index (layout->placed, BlPlaced, i);
      BlCareKind *kind = kind_for (kinds, p);

      kind->count++;
      kind->exposed += is_exposed (model, p->at);
      if (kind->bed_id != p->bed_id)
        kind->bed_id = 0;
    }
  g_array_sort (kinds, compare_kinds);
  return kinds;
}

static void
add_own_tasks (BlCareContext *context)
{
  guint i = 0;

  for (i = 0; i < context->model->own_tasks->len; i++)
    {
      const BlOwnTask *own = g_ptr_array_index (context->model->own_tasks, i);
      BlTask task = { .kind = "own", .own = TRUE, .yearly = own->yearly, .hours = own->hours };
      int year = 0, first = 0;

      if (own->day == 0)
        continue;
      bl_day_split (own->day, &year, NULL, NULL);
      bl_day_split (context->planting, &first, NULL, NULL);
      task.from = task.to = own->yearly ? not_leap_day (own->day) : own->day;
      task.year = CLAMP (year - first, 0, SEASONS - 1);
      task.uid = g_strdup_printf ("own.%" G_GINT64_FORMAT, own->id);
      task.title = g_strdup (own->title);
      task.work = g_strdup (own->title);
      task.low = g_strdup ("");
      task.what = g_strdup ("");
      g_array_append_val (context->care->tasks, task);
    }
}

static void
apply_marks (BlCareContext *context)
{
  GArray *tasks = context->care->tasks;
  guint i = 0, k = 0;

  for (i = 0; i < context->model->care_marks->len; i++)
    {
      const BlCareMark *mark = g_ptr_array_index (context->model->care_marks, i);

      for (k = 0; k < tasks->len; k++)
        {
          BlTask *task = &g_array_index (tasks, BlTask, k);

          if (strcmp (task->uid, mark->uid) != 0)
            continue;
          if (mark->dropped)
            {
              g_array_remove_index (tasks, k);
              break;
            }
          task->done = mark->done != 0;
          if (mark->moved != 0)
            {
              task->to = mark->moved + (task->every_days > 0 ? task->to - task->from : 0);
              task->from = mark->moved;
              task->moved = TRUE;
            }
          break;
        }
    }
}

static int
compare_tasks (gconstpointer pa, gconstpointer pb)
{
  const BlTask *a = pa, *b = pb;

  if (a->from != b->from)
    return a->from < b->from ? -1 : 1;
  if (a->to != b->to)
    return a->to < b->to ? -1 : 1;
  return strcmp (a->uid, b->uid);
}

/* What had to be assumed is told in the first task. */
static void
tell_assumptions (BlCareContext *context)
{
  BlTask *first
    = context->care->tasks->len > 0 ? &g_array_index (context->care->tasks, BlTask, 0) : NULL;
  g_autofree char *day = bl_day_format_iso (context->planting);
  GString *what;

  if (first == NULL)
    return;
  what = g_string_new (first->what);
  if (context->planting_assumed)
    g_string_append_printf (
      what, bl_care_say (context, " No planting day is set: %s is taken."), day);
  if (context->frosts_assumed)
    g_string_append (what, bl_care_say (context, " The site's frost dates are not stated: those "
                                                 "usual for its zone are taken."));
  g_free (first->what);
  first->what = g_strstrip (g_string_free (what, FALSE));
}

BlCare *
bl_care_compute (const BlLayout *layout, BlDay today, const char *language)
{
  BlCare *care = g_new0 (BlCare, 1);
  BlCareContext context = { care, layout->model, layout, language };
  const BlSite *site = &layout->model->site;
  BlMonthDay last, first;
  int year = 0, number = 0;

  care->tasks = g_array_new (FALSE, TRUE, sizeof (BlTask));
  g_array_set_clear_func (care->tasks, clear_task);
  context.planting_assumed = layout->model->planting_day == 0;
  context.planting = context.planting_assumed ? today : layout->model->planting_day;
  context.zone = bl_season_zone (site);
  context.kinds = kinds_of (layout->model, layout);
  bl_care_frosts (site, &last, &first, &context.frosts_assumed);
  bl_day_split (context.planting, &year, NULL, NULL);
  /* The season that the planting falls in: the first whose winter work is still ahead. */
  for (year--; season_of_year (site, year).first_frost + 8 * BL_WEEK < context.planting; year++)
    ;
  for (number = 0; number < SEASONS && layout->placed->len > 0; number++)
    {
      BlCareSeason season = season_of_year (site, year + number);

      season.number = number;
      bl_care_water (&context, &season);
      bl_care_plants (&context, &season);
      bl_care_beds (&context, &season);
    }
  add_own_tasks (&context);
  apply_marks (&context);
  g_array_sort (care->tasks, compare_tasks);
  tell_assumptions (&context);
  bl_care_visits (care, context.planting);
  g_array_unref (context.kinds);
  return care;
}
