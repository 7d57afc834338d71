/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The base drawing under the plan: its known length stated and changed, each an edit. */

#include "config.h"

#include "studio/underlay.h"

#include <glib/gi18n.h>

const BlDrawing *
bl_board_get_proposed_drawing (BlBoard *board)
{
  return g_object_get_data (G_OBJECT (board), "proposed-drawing");
}

static void
drawing_free (gpointer data)
{
  BlDrawing *drawing = data;

  g_free (drawing->name);
  g_free (drawing);
}

void
bl_board_propose_drawing (BlBoard *board, const BlDrawing *drawing)
{
  BlDrawing *copy = drawing != NULL ? g_memdup2 (drawing, sizeof *drawing) : NULL;

  if (copy == NULL && bl_board_get_proposed_drawing (board) == NULL)
    return;
  if (copy != NULL)
    copy->name = g_strdup (drawing->name);
  g_object_set_data_full (G_OBJECT (board), "proposed-drawing", copy, drawing_free);
  bl_board_emit (board, BL_BOARD_PENDING);
}

static gboolean
put_info (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_put_drawing_info (design, data, error);
}

gboolean
bl_board_put_drawing (BlBoard *board, const char *label, const BlDrawing *drawing)
{
  return bl_board_edit (board, label, put_info, (gpointer) drawing);
}

typedef struct
{
  GBytes *bytes;
  const char *name;
} Taking;

static gboolean
take (BlDesign *design, gpointer data, GError **error)
{
  Taking *taking = data;

  return bl_design_put_drawing (design, taking->bytes, taking->name, error);
}

gboolean
bl_board_take_drawing (BlBoard *board, GBytes *bytes, const char *name)
{
  Taking taking = { bytes, name };

  bl_board_propose_drawing (board, NULL);
  if (!bl_board_edit (board, _("Bring in a base drawing"), take, &taking))
    return FALSE;
  bl_board_set_view (board, BL_VIEW_PLAN);
  return TRUE;
}

static gboolean
take_away (BlDesign *design, gpointer data, GError **error)
{
  return bl_design_remove_drawing (design, error);
}

gboolean
bl_board_remove_drawing (BlBoard *board)
{
  bl_board_propose_drawing (board, NULL);
  return bl_board_edit (board, _("Take the base drawing away"), take_away, NULL);
}
