/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Begins the tour: drafts its design from the demo on another thread, opens it, adds the slip. */

#include "config.h"

#include "studio/window-private.h"

#include "base/error.h"
#include "design/sheet.h"
#include "studio/tour.h"
#include "studio/work.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>

/* The tour's design, made anew each time, lies with the program's own data. */
static char *
tour_path (void)
{
  g_autofree char *folder = g_build_filename (g_get_user_data_dir (), "bedline", NULL);

  g_mkdir_with_parents (folder, 0700);
  return g_build_filename (folder, "tour.bedline", NULL);
}

static void
draft (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const char *path = data;
  g_autofree char *folder = bl_tour_folder ();
  g_autofree char *sheet = folder != NULL ? g_build_filename (folder, BL_TOUR_SHEET, NULL) : NULL;
  g_autofree char *plants = bl_library_default_path ();
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BlLibrary) library = NULL;
  g_autoptr (BlDesign) design = NULL;

  if (sheet == NULL)
    {
      g_task_return_new_error (task, BL_ERROR, BL_ERROR_NOT_FOUND,
                               _ ("The tour's design is not installed with this program."));
      return;
    }
  g_unlink (path);
  if (g_file_get_contents (sheet, &text, NULL, &error)
      && (library = bl_library_open (plants, NULL, &error)) != NULL
      && (design = bl_sheet_draft (text, -1, folder, library, path, &error)) != NULL)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, g_steal_pointer (&error));
}

static void
add_slip (BlWindow *self)
{
  gtk_box_append (GTK_BOX (self->design_page), bl_tour_new ());
}

static void
drafted_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  BlWindow *self = BL_WINDOW (source);
  g_autoptr (GError) error = NULL;

  bl_window_end_job (self);
  if (!g_task_propagate_boolean (G_TASK (result), &error))
    {
      if (!bl_window_is_stopped (error))
        bl_window_say (self, error->message, TRUE, NULL, NULL);
      return;
    }
  bl_window_open_then (self, g_task_get_task_data (G_TASK (result)), add_slip);
}

void
bl_window_start_tour (BlWindow *self)
{
  g_autoptr (GTask) task = NULL;

  if (!bl_window_begin_job (self, _("Making the tour's design…")))
    return;
  /* A design that is still open there would lose its file. */
  bl_window_set_board (self, NULL);
  task = bl_work_new (self, self->job, drafted_cb, NULL);
  g_task_set_return_on_cancel (task, FALSE);
  g_task_set_check_cancellable (task, TRUE);
  g_task_set_task_data (task, tour_path (), g_free);
  g_task_run_in_thread (task, draft);
}
