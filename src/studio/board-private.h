/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The board's inside, shared by its files. */
#pragma once

#include "studio/board.h"

typedef enum
{
  BL_PICTURES_PHOTO,
  BL_PICTURES_DRAWING,
  BL_PICTURES_N
} BlPictures;

struct _BlBoard
{
  GObject parent_instance;

  BlDesign *design;
  BlLibrary *library;
  BlImage *pictures[BL_PICTURES_N];
  gint64 drawing_shown; /* under which number the decoded base drawing is kept */
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
  GCancellable *picture_jobs[BL_PICTURES_N];
};

/* Drops what the model does not have any more; TRUE when something was dropped. Says nothing. */
gboolean bl_board_prune_selection (BlBoard *board);

/* Decodes a picture of the design on another thread, or drops the one there is. */
void bl_board_ask_for_picture (BlBoard *board, BlPictures which);
/* Lets go of all pictures and of the work on them. */
void bl_board_drop_pictures (BlBoard *board);
/* Computes the scene anew. */
void bl_board_ask_for_scene (BlBoard *board);
