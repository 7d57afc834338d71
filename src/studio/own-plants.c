/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person's own plants: kept, hidden, taken out and back, in and out as tables. */

#include "config.h"

#include "studio/own-plants.h"

#include "base/csv.h"
#include "base/file.h"

#include <glib/gi18n.h>

typedef struct
{
  char *slug, *record; /* record NULL: there was no own one */
  gboolean hidden;
} Before;

struct _BlOwnStep
{
  GPtrArray *plants; /* Before */
};

static void
before_free (gpointer data)
{
  Before *before = data;

  g_free (before->slug);
  g_free (before->record);
  g_free (before);
}

static BlOwnStep *
step_new (void)
{
  BlOwnStep *step = g_new0 (BlOwnStep, 1);

  step->plants = g_ptr_array_new_with_free_func (before_free);
  return step;
}

void
bl_own_step_free (BlOwnStep *step)
{
  if (step == NULL)
    return;
  g_ptr_array_unref (step->plants);
  g_free (step);
}

static void
remember (BlOwnStep *step, BlLibrary *library, const char *slug)
{
  Before *before = g_new0 (Before, 1);
  g_autoptr (BlPlant) plant
      = bl_library_is_own (library, slug) ? bl_library_get (library, slug, NULL) : NULL;

  before->slug = g_strdup (slug);
  before->record = plant != NULL ? g_strdup (plant->text) : NULL;
  before->hidden = bl_library_is_hidden (library, slug);
  g_ptr_array_add (step->plants, before);
}

static BlLibrary *
library_of (BlBoard *board)
{
  BlLibrary *library = bl_board_get_library (board);

  if (library == NULL)
    bl_board_say (board, _("The plant library could not be opened."));
  return library;
}

/* Ends what was tried: tells of an error, or lets the parts know and gives the way back. */
static gboolean
settle (BlBoard *board, GError *error, BlOwnStep **from, BlOwnStep **to)
{
  bl_board_report (board, error);
  if (error != NULL)
    return FALSE;
  if (to != NULL)
    *to = g_steal_pointer (from);
  bl_board_emit (board, BL_BOARD_LIBRARY);
  return TRUE;
}

static gboolean
put_plant (BlDesign *design, gpointer plant, GError **error)
{
  return bl_design_put_plant (design, plant, error);
}

/* A design that has the plant takes over what the library now says of it. */
static gboolean
follow_in_design (BlBoard *board, const char *slug)
{
  BlPlant *old = bl_model_plant (bl_board_get_model (board), slug);
  g_autoptr (BlPlant) plant = bl_library_get (bl_board_get_library (board), slug, NULL);
  g_autofree char *name = plant != NULL ? bl_plant_name (plant) : NULL, *label = NULL;

  if (old == NULL || plant == NULL || g_strcmp0 (old->text, plant->text) == 0
      || bl_design_read_only_reason (bl_board_get_design (board)) != NULL)
    return TRUE;
  label = g_strdup_printf (_("Change the plant %s"), name);
  return bl_board_edit (board, label, put_plant, plant);
}

gboolean
bl_board_keep_plant (BlBoard *board, const char *slug, const char *record, GBytes *picture,
                     BlOwnStep **step)
{
  BlLibrary *library = library_of (board);
  g_autoptr (BlOwnStep) before = step_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *sha256 = NULL;

  if (library == NULL)
    return FALSE;
  remember (before, library, slug);
  if (picture != NULL)
    sha256 = bl_library_keep_picture (library, picture, &error);
  if (error == NULL)
    bl_library_put_own (library, slug, record, &error);
  return settle (board, error, &before, step) && follow_in_design (board, slug);
}

gboolean
bl_board_hide_plant (BlBoard *board, const char *slug, gboolean hidden, BlOwnStep **step)
{
  BlLibrary *library = library_of (board);
  g_autoptr (BlOwnStep) before = step_new ();
  g_autoptr (GError) error = NULL;

  if (library == NULL)
    return FALSE;
  remember (before, library, slug);
  bl_library_set_hidden (library, slug, hidden, &error);
  return settle (board, error, &before, step);
}

gboolean
bl_board_drop_plant (BlBoard *board, const char *slug, BlOwnStep **step)
{
  BlLibrary *library = library_of (board);
  g_autoptr (BlOwnStep) before = step_new ();
  g_autoptr (GError) error = NULL;

  if (library == NULL)
    return FALSE;
  remember (before, library, slug);
  bl_library_remove_own (library, slug, &error);
  return settle (board, error, &before, step);
}

gboolean
bl_board_take_plants (BlBoard *board, const char *path, guint *n, BlOwnStep **step)
{
  BlLibrary *library = library_of (board);
  g_autoptr (BlOwnStep) before = step_new ();
  g_autoptr (GPtrArray) plants = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  gsize length;

  if (library == NULL)
    return FALSE;
  if (bl_file_read (path, BL_CSV_MOST, &text, &length, &error))
    plants = bl_plants_read_csv (text, length, &error);
  for (guint i = 0; plants != NULL && i < plants->len; i++)
    remember (before, library, ((const BlPlant *) plants->pdata[i])->slug);
  if (plants != NULL)
    bl_library_import_own (library, text, length, n, &error);
  if (!settle (board, error, &before, step))
    return FALSE;
  for (guint i = 0; plants != NULL && i < plants->len; i++)
    follow_in_design (board, ((const BlPlant *) plants->pdata[i])->slug);
  return TRUE;
}

gboolean
bl_board_step_back (BlBoard *board, const BlOwnStep *step)
{
  BlLibrary *library = library_of (board);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; library != NULL && error == NULL && i < step->plants->len; i++)
    {
      const Before *before = step->plants->pdata[i];

      if (before->record != NULL)
        bl_library_put_own (library, before->slug, before->record, &error);
      else if (bl_library_is_own (library, before->slug))
        bl_library_remove_own (library, before->slug, &error);
      if (error == NULL && bl_library_is_hidden (library, before->slug) != before->hidden)
        bl_library_set_hidden (library, before->slug, before->hidden, &error);
    }
  if (library == NULL || !settle (board, error, NULL, NULL))
    return FALSE;
  for (guint i = 0; i < step->plants->len; i++)
    follow_in_design (board, ((const Before *) step->plants->pdata[i])->slug);
  return TRUE;
}

gboolean
bl_board_write_plants (BlBoard *board, const char *path)
{
  BlLibrary *library = library_of (board);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = library != NULL ? bl_library_export_own (library, &error) : NULL;

  if (text != NULL)
    g_file_set_contents (path, text, -1, &error);
  bl_board_report (board, error);
  return text != NULL && error == NULL;
}
