/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The board's inside, shared by its files. */
#pragma once

#include "studio/board.h"

struct _BlBoard
{
  GObject parent_instance;

  BlDesign *design;
  BlLibrary *library;
  BlImage *photo;
  BlStamps *stamps;
  BlScene *scene;
  gint64 alternative;
  BlView view;
  BlMoment moment;
  BlStage stage;
  guint options;
  BlPen pen;
  GArray *selection;
  BlKnown *pending;
  gint64 lifted;
  BlPoint lifted_by;
  GCancellable *scene_job; /* the latest one asked for */
  GCancellable *photo_job;
};

/* Drops what the model does not have any more; TRUE when something was dropped. Says nothing. */
gboolean bl_board_prune_selection (BlBoard *board);
