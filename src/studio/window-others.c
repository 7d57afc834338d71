/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Other programs that write to the open design: what they changed is shown, and said, at once; never
 * in the middle of a drag, whose edit is then refused as one made on what is no longer there. */

#include "config.h"

#include "studio/window-private.h"

#include "base/error.h"
#include "studio/canvas.h"

#include <glib/gi18n.h>

#define SETTLE_MS 300 /* a commit touches the file some times */

/* FALSE when it has to be tried again. */
static gboolean
look (BlWindow *self)
{
  BlHand *hand = bl_canvas_get_hand (BL_CANVAS (self->canvas));
  g_autoptr (GError) error = NULL;

  if (hand != NULL && hand->pressed)
    return FALSE;
  if (bl_design_refresh (bl_board_get_design (self->board), &error))
    bl_window_say (self, _("Another program has changed this design; this is how it is now."), FALSE,
                   NULL, NULL);
  if (g_error_matches (error, BL_ERROR, BL_ERROR_BUSY))
    return FALSE;
  if (g_error_matches (error, BL_ERROR, BL_ERROR_READ_ONLY))
    {
      gboolean other = g_file_test (bl_design_get_path (bl_board_get_design (self->board)),
                                    G_FILE_TEST_EXISTS);

      bl_window_say (self, error->message, TRUE, other ? _("Open it again") : _("Save a copy…"),
                     other ? "win.open-again" : "win.save-copy");
      return TRUE;
    }
  bl_board_report (self->board, error);
  return TRUE;
}

static gboolean
look_cb (gpointer data)
{
  BlWindow *self = data;

  if (self->board != NULL && !look (self))
    return G_SOURCE_CONTINUE;
  self->others_tick = 0;
  return G_SOURCE_REMOVE;
}

void
bl_window_look_for_others (BlWindow *self)
{
  if (self->board != NULL && self->others_tick == 0)
    self->others_tick = g_timeout_add (SETTLE_MS, look_cb, self);
}

void
bl_window_open_again (BlWindow *self)
{
  g_autofree char *path = g_strdup (bl_design_get_path (bl_board_get_design (self->board)));

  if (path != NULL)
    bl_window_open (self, path);
}

void
bl_window_watch_file (BlWindow *self)
{
  const char *path = self->board != NULL ? bl_design_get_path (bl_board_get_design (self->board)) : NULL;
  g_autoptr (GFile) file = path != NULL ? g_file_new_for_path (path) : NULL;

  g_clear_handle_id (&self->others_tick, g_source_remove);
  if (self->others != NULL)
    g_file_monitor_cancel (self->others);
  g_clear_object (&self->others);
  /* Where a folder cannot be watched, what was changed is seen when the window is next looked at. */
  if (file != NULL)
    self->others = g_file_monitor_file (file, G_FILE_MONITOR_NONE, NULL, NULL);
  if (self->others != NULL)
    g_signal_connect_object (self->others, "changed", G_CALLBACK (bl_window_look_for_others), self,
                             G_CONNECT_SWAPPED);
}
