/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints a scene's calendar as iCalendar and then, after a line of dashes, our own list of days:
 * care-dump SCENE [TITLE], with SCENE north, south or leap. */
#include <stdio.h>

#include "care/care.h"
#include "scene.h"

static BlModel *
model_of (const char *name, const char *title)
{
  static const double kerb[] = { 0, 0, 10, 0 };
  BlModel *model = scene_new ();
  gboolean south = strcmp (name, "south") == 0;
  BlOwnTask *own = g_new0 (BlOwnTask, 1);

  g_free (model->id);
  model->id = g_strdup ("5eed0f7a1e3b9c24");
  g_free (model->title);
  model->title = g_strdup (title != NULL ? title :
    "Strip, with a comma; a semicolon, and a long name that must be folded: naïve façade – Größe");
  model->site.latitude = south ? -41 : 44;
  model->site.last_frost = south ? (BlMonthDay){ 10, 10 } : (BlMonthDay){ 4, 25 };
  model->site.first_frost = south ? (BlMonthDay){ 4, 25 } : (BlMonthDay){ 10, 10 };
  model->site.deer = TRUE;
  model->planting_day
    = south ? bl_day (2026, 10, 20) : bl_day (strcmp (name, "leap") == 0 ? 2027 : 2026, 5, 12);
  g_free (((BlBed *) g_ptr_array_index (model->beds, 0))->name);
  ((BlBed *) g_ptr_array_index (model->beds, 0))->name = g_strdup ("Größe, „Nord“; \\ strip");
  scene_feature (model, BL_FEATURE_SALTED_EDGE, 2, kerb, 0);
  scene_put (model, scene_plant ("near", "deer", "often", NULL), 1, 0.5, 3, 0.5);
  scene_put (model,
             scene_plant ("shrub", "type", "shrub", "form", "vase-shrub", "care", "P3", NULL), 5,
             3.4, 2, 1);
  scene_put (model, scene_plant ("summer", "type", "annual", "care", "A", NULL), 7, 2, 3, 0.5);
  scene_put (model,
             scene_plant ("grass", "type", "grass", "form", "upright-grass", "care", "G1", NULL), 4,
             3.2, 1, 0);
  own->id = 1;
  own->title = g_strdup ("Look at the bench");
  own->day = bl_day (2028, 2, 29);
  own->yearly = TRUE;
  own->hours = 1;
  g_ptr_array_add (model->own_tasks, own);
  return model;
}

int
main (int argc, char **argv)
{
  g_autoptr (BlModel) model = model_of (argc > 1 ? argv[1] : "north", argc > 2 ? argv[2] : NULL);
  g_autoptr (BlLayout) layout = bl_layout_compute (model, 1);
  g_autoptr (BlCare) care = bl_care_compute (layout, bl_day (2026, 3, 1), NULL);
  g_autofree char *ics = bl_care_to_ics (care, model, "20261125T120000Z");
  int year = 0;
  guint i = 0, k = 0;

  bl_day_split (model->planting_day, &year, NULL, NULL);
  fputs (ics, stdout);
  printf ("--------\n%d\n", year);
  for (i = 0; i < care->tasks->len; i++)
    {
      const BlTask *task = &g_array_index (care->tasks, BlTask, i);
      g_autoptr (GArray) days = bl_task_days (task, bl_day (year, 1, 1), bl_day (year + 8, 12, 31));

      for (k = 0; k < days->len; k++)
        {
          g_autofree char *day = bl_day_format_iso (g_array_index (days, BlDay, k));

          printf ("%s\t%s\n", day, task->title);
        }
    }
  return 0;
}
