/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The canvas's inside, shared by its drawing and its input. */
#pragma once

#include "studio/canvas.h"
#include "studio/tiles.h"

struct _BlCanvas
{
  GtkWidget parent_instance;

  BlBoard *board;
  gulong board_changed;
  BlScene *scene;        /* shown: the board's, or the one given */
  BlStamps *stamps;
  BlTiles *tiles;
  BlTiles *before;       /* the photo as it is, left of the divider; NULL = not shown */
  GtkWidget *divider;    /* our child */
  BlHand *hand;
  char *hint;
  BlViewport viewports[2];
  gboolean fitted[2];    /* was fitted once there was something to see */
  gboolean whole[2];     /* the person has not moved away from seeing the whole */
  guint settle;          /* timeout while the zoom still changes */
  BlMarks *standing;     /* cached marks that do not depend on the pointer */
  GskRenderNode *standing_node;
  GdkTexture *standing_texture; /* the lines among them, when there are many */
  graphene_rect_t standing_bounds;
  BlViewport standing_viewport; /* the node's or the texture's */
  struct _BlLifted *lifted;     /* picture of the planting that is dragged; NULL = none */
  GskRenderNode *sun_node; /* cached hours of sun; NULL = to be painted */
  BlViewport sun_viewport;

  /* Input. */
  BlPoint pointer;       /* widget coordinates */
  gboolean panning, space;
  BlPoint pan_from;
  guint32 press_time;
  BlPoint press_at;
  int n_press;
  GdkInputSource source; /* of the last press or motion */
  gboolean press_waits;  /* a finger or pen is down, but may still become a pinch or a long press */
  double pinch_zoom;
  BlPoint pinch_at;      /* middle between the fingers, widget coordinates */
  BlPoint nudge;         /* metres, collected until the keys rest */
  guint nudge_timer;
  BlPoint cross;         /* keyboard pointer, document units */
  gboolean cross_shown;
  gboolean no_loupe;     /* the person does without */
};

BlViewport *bl_canvas_viewport (BlCanvas *canvas);
/* The person moved or zoomed the view. */
void bl_canvas_looked (BlCanvas *canvas, gboolean zoomed);
void bl_canvas_update_hint (BlCanvas *canvas);
double bl_canvas_slack (BlCanvas *canvas);
void bl_canvas_add_controllers (BlCanvas *canvas);
void bl_canvas_add_keys (BlCanvas *canvas);
/* What the person points with; events that name no device leave it as it was. */
void bl_canvas_set_source (BlCanvas *canvas, GdkInputSource source);
guint bl_canvas_mods (GdkModifierType state);
/* The hand did something: its hint and marks are shown anew. */
void bl_canvas_acted (BlCanvas *canvas);
void bl_canvas_end_pan (BlCanvas *canvas);
/* Two fingers are down, with @at between them, in widget coordinates. */
void bl_canvas_begin_pinch (BlCanvas *canvas, BlPoint at);
void bl_canvas_commit_nudge (BlCanvas *canvas);

/* Draws marks in widget coordinates: lines, rings and ghosts; then handles and words over them. */
void bl_canvas_snapshot_marks (BlCanvas *canvas, GtkSnapshot *snapshot, const BlMarks *marks);
void bl_canvas_snapshot_lines (BlCanvas *canvas, GtkSnapshot *snapshot, const BlMarks *marks);
void bl_canvas_snapshot_handles (BlCanvas *canvas, GtkSnapshot *snapshot, const BlMarks *marks);
/* Lines and rings alone. */
void bl_canvas_draw_lines (BlCanvas *canvas, cairo_t *cr, const BlMarks *marks);
void bl_canvas_snapshot_standing (BlCanvas *canvas, GtkSnapshot *snapshot);
void bl_canvas_drop_standing (BlCanvas *canvas);
/* The photo around the pointer, magnified, while the hand takes points off it. */
void bl_canvas_snapshot_loupe (BlCanvas *canvas, GtkSnapshot *snapshot);
void bl_canvas_snapshot_lifted (BlCanvas *canvas, GtkSnapshot *snapshot);
void bl_canvas_drop_lifted (BlCanvas *canvas);
/* The hours of sun over the ground while they are on show, and their key in the corner. */
void bl_canvas_snapshot_sun (BlCanvas *canvas, GtkSnapshot *snapshot);
void bl_canvas_snapshot_sun_key (BlCanvas *canvas, GtkSnapshot *snapshot);
void bl_canvas_drop_sun (BlCanvas *canvas);
/* The divider is on and there is something to divide. */
gboolean bl_canvas_is_divided (BlCanvas *canvas);
void bl_canvas_snapshot_before (BlCanvas *canvas, GtkSnapshot *snapshot);
/* Clips to what is right of the divider, to be popped. */
void bl_canvas_push_after (BlCanvas *canvas, GtkSnapshot *snapshot);
void bl_canvas_allocate_divider (BlCanvas *canvas, int width, int height);
void bl_canvas_divider_take_scene (BlCanvas *canvas);
/* Bed lines, knowns, features and the selection, as the stage asks for them. */
BlMarks *bl_board_standing_marks (BlBoard *board, double slack);
/* What is on the canvas, in words for a screen reader; (transfer full). */
char *bl_board_describe (BlBoard *board);
/* One planting in words: "Echinacea purpurea, specimen, 0.4 m from the bed line, flowers ..." */
char *bl_board_describe_planting (BlBoard *board, gint64 id);
