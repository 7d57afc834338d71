/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sun on the board, without a display: it keeps up with the day and the design, and says why
 * there is none. What the hours must be is checked in tests/fit. */

#include "config.h"

#include "studio/edits.h"
#include "studio/narrow.h"
#include "studio/sunshine.h"
#include "tests/studio/dies.h"

typedef struct
{
  BlDesign *design;
  BlLibrary *library;
  BlBoard *board;
  guint told;
} Fixture;

static gboolean
start_design (BlDesign *design, gpointer data, GError **error)
{
  g_autoptr (BlBed) bed = bl_bed_new ();
  BlPoints *points = bl_points_new ();

  bl_points_add (points, BL_POINT (0, 0));
  bl_points_add (points, BL_POINT (6, 0));
  bl_points_add (points, BL_POINT (6, 3));
  bl_points_add (points, BL_POINT (0, 3));
  g_free (bed->name);
  bed->name = g_strdup ("Strip");
  bed->outline = bl_outline_new_take (points, TRUE);
  return bl_design_put_bed (design, bed, error);
}

static void
changed_cb (BlBoard *board, guint what, Fixture *f)
{
  if ((what & BL_BOARD_SUN) != 0)
    f->told++;
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = bl_library_default_path ();

  f->library = bl_library_open (path, NULL, &error);
  g_assert_no_error (error);
  f->design = bl_design_create (NULL, &error);
  g_assert_no_error (error);
  f->board = bl_board_new (f->design, f->library);
  g_assert_true (bl_board_edit (f->board, "Start", start_design, f));
  g_signal_connect (f->board, "changed", G_CALLBACK (changed_cb), f);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  assert_dies (f->board);
  g_object_unref (f->design);
  bl_library_free (f->library);
}

static void
settle (Fixture *f)
{
  gint64 end = g_get_monotonic_time () + 20 * G_TIME_SPAN_SECOND;

  while (!bl_board_is_sun_settled (f->board) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, FALSE);
  g_assert_true (bl_board_is_sun_settled (f->board));
}

static void
put_place (Fixture *f, double latitude)
{
  BlSite site;

  bl_site_init (&site);
  site.latitude = latitude;
  site.longitude = -88;
  site.north = 0;
  g_assert_true (bl_board_put_site (f->board, &site));
  bl_site_clear (&site);
}

static void
test_day (Fixture *f, gconstpointer data)
{
  const BlSunlight *sun = NULL;
  const char *problem = NULL;
  double june;

  put_place (f, 42);
  g_assert_null (bl_board_get_sunlight (f->board, NULL));
  bl_board_set_sun (f->board, TRUE);
  settle (f);
  sun = bl_board_get_sunlight (f->board, &problem);
  g_assert_nonnull (sun);
  g_assert_null (problem);
  june = sun->open_hours;
  /* The day is drawn along: only the last needs to be there in the end. */
  for (int day = 173; day <= 355; day += 13)
    bl_board_set_sun_day (f->board, day);
  bl_board_set_sun_day (f->board, 355);
  settle (f);
  sun = bl_board_get_sunlight (f->board, NULL);
  /* Day lengths at 42 degrees: 15.2 hours and 9.1, to a tenth (sun's upper edge, refraction). */
  g_assert_cmpfloat_with_epsilon (june, 15.2, 0.1);
  g_assert_cmpfloat_with_epsilon (sun->open_hours, 9.1, 0.1);
  g_assert_cmpuint (f->told, >, 3);
}

/* What is changed in the design is worked out again; while it is not shown nothing is. */
static void
test_design (Fixture *f, gconstpointer data)
{
  double before;

  put_place (f, 42);
  bl_board_set_sun (f->board, TRUE);
  settle (f);
  before = bl_board_get_sunlight (f->board, NULL)->open_hours;
  put_place (f, 60);
  settle (f);
  g_assert_cmpfloat (bl_board_get_sunlight (f->board, NULL)->open_hours, >, before + 2);
  bl_board_set_sun (f->board, FALSE);
  put_place (f, 10);
  g_assert_true (bl_board_is_sun_settled (f->board));
  g_assert_cmpfloat (bl_board_get_sunlight (f->board, NULL)->open_hours, >, before + 2);
}

static void
test_no_place (Fixture *f, gconstpointer data)
{
  const char *problem = NULL;

  bl_board_set_sun (f->board, TRUE);
  settle (f);
  g_assert_null (bl_board_get_sunlight (f->board, &problem));
  g_assert_nonnull (strstr (problem, "latitude"));
  put_place (f, 42);
  settle (f);
  g_assert_nonnull (bl_board_get_sunlight (f->board, &problem));
  g_assert_null (problem);
}

/* Stated for the bed, else for the site, else reckoned from the place. */
static void
test_light_of_bed (Fixture *f, gconstpointer data)
{
  BlSite site;
  g_autoptr (BlBed) bed = NULL;

  g_assert_cmpint (bl_narrow_light (f->board), ==, BL_LIGHT_UNKNOWN);
  put_place (f, 42);
  g_assert_cmpint (bl_narrow_light (f->board), ==, BL_LIGHT_FULL);
  bl_site_init (&site);
  site.sun_hours = 4;
  g_assert_true (bl_board_put_site (f->board, &site));
  g_assert_cmpint (bl_narrow_light (f->board), ==, BL_LIGHT_PART);
  bl_site_clear (&site);
  bed = bl_bed_copy (bl_narrow_bed (f->board));
  bed->sun_hours = 1;
  g_assert_true (bl_board_put_bed (f->board, "State the sun", bed));
  g_assert_cmpint (bl_narrow_light (f->board), ==, BL_LIGHT_SHADE);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/studio/sun/day", Fixture, NULL, set_up, test_day, tear_down);
  g_test_add ("/studio/sun/design", Fixture, NULL, set_up, test_design, tear_down);
  g_test_add ("/studio/sun/no-place", Fixture, NULL, set_up, test_no_place, tear_down);
  g_test_add ("/studio/sun/light-of-bed", Fixture, NULL, set_up, test_light_of_bed, tear_down);
  return g_test_run ();
}
