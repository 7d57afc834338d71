/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawing board: one open design with everything that is looked at and worked on in it. */
#pragma once

#include "design/design.h"
#include "draw/scene.h"
#include "base/error.h"
#include "plants/library.h"

typedef enum
{
  BL_STAGE_PHOTO,
  BL_STAGE_KNOWN,
  BL_STAGE_BED,
  BL_STAGE_SITE,
  BL_STAGE_PLANTS,
  BL_STAGE_COMPARE,
  BL_STAGE_GIVE,
  BL_STAGE_N
} BlStage;

typedef enum
{
  BL_BOARD_MODEL = 1 << 0,       /* the design changed */
  BL_BOARD_SCENE = 1 << 1,       /* a new scene arrived */
  BL_BOARD_SELECTION = 1 << 2,
  BL_BOARD_MOMENT = 1 << 3,
  BL_BOARD_VIEW = 1 << 4,
  BL_BOARD_ALTERNATIVE = 1 << 5,
  BL_BOARD_PHOTO = 1 << 6,       /* pixels arrived or went */
  BL_BOARD_PEN = 1 << 7,         /* what the hands will draw with */
  BL_BOARD_STAGE = 1 << 8,
  BL_BOARD_PENDING = 1 << 9,     /* a known waits for its sizes */
  BL_BOARD_LIFT = 1 << 10,       /* something is being dragged */
  BL_BOARD_RECKON = 1 << 11,     /* take-off, estimate, care and fit were worked out anew */
  BL_BOARD_TRIAL = 1 << 12,      /* a known is being moved: see trial.h */
  BL_BOARD_FOLLOW = 1 << 13,     /* figures that follow a drag: see follow.h */
  BL_BOARD_SUN = 1 << 14,        /* hours of sun: see sunshine.h */
  BL_BOARD_LIBRARY = 1 << 15,    /* the person's own plants or their nursery's list: see own-plants.h */
  BL_BOARD_ALL = (1 << 16) - 1
} BlBoardChange;

typedef enum
{
  BL_PICK_PLANTING,
  BL_PICK_BED,
  BL_PICK_FEATURE,
  BL_PICK_KNOWN
} BlPickKind;

typedef struct
{
  BlPickKind kind;
  gint64 id;
} BlPick;

/* What the hands draw with. */
typedef struct
{
  char *slug;              /* plant in hand; NULL = none */
  double spacing;          /* metres; 0 = the record's */
  gboolean square;
  gint64 bed_id;           /* the bed last worked in; 0 = find by place */
  BlKnownKind known;
  BlFeatureKind feature;
  double feature_height;   /* metres */
} BlPen;

/* The rasterised figures that all canvases of a program share. */
typedef struct
{
  BlFigureCache *cache;
} BlStamps;
BlStamps *bl_stamps_new (void);
BlStamps *bl_stamps_ref (BlStamps *stamps);
void bl_stamps_unref (BlStamps *stamps);

#define BL_TYPE_BOARD (bl_board_get_type ())
G_DECLARE_FINAL_TYPE (BlBoard, bl_board, BL, BOARD, GObject)

/* Signals: "changed" (guint BlBoardChange bits), "problem" (char *sentence). */
BlBoard *bl_board_new (BlDesign *design, BlLibrary *library);

BlDesign *bl_board_get_design (BlBoard *board);
BlModel *bl_board_get_model (BlBoard *board);
BlLibrary *bl_board_get_library (BlBoard *board);
BlImage *bl_board_get_photo (BlBoard *board);      /* NULL while decoding or none */
BlImage *bl_board_get_drawing (BlBoard *board);    /* the base drawing, likewise */
BlStamps *bl_board_get_stamps (BlBoard *board);
/* The latest scene that was finished; may lag behind the model for a moment; NULL at first. */
BlScene *bl_board_get_scene (BlBoard *board);
/* The layout of the shown alternative as of the latest scene. */
BlLayout *bl_board_get_layout (BlBoard *board);
/* TRUE when scene, photo and model agree. */
gboolean bl_board_is_settled (BlBoard *board);

gint64 bl_board_get_alternative (BlBoard *board);
void bl_board_set_alternative (BlBoard *board, gint64 id);
BlView bl_board_get_view (BlBoard *board);
void bl_board_set_view (BlBoard *board, BlView view);
BlMoment bl_board_get_moment (BlBoard *board);
void bl_board_set_moment (BlBoard *board, BlMoment moment);
BlStage bl_board_get_stage (BlBoard *board);
void bl_board_set_stage (BlBoard *board, BlStage stage);
guint bl_board_get_options (BlBoard *board);
void bl_board_set_options (BlBoard *board, guint options);

const BlPen *bl_board_get_pen (BlBoard *board);
void bl_board_set_plant (BlBoard *board, const char *slug);
void bl_board_set_spacing (BlBoard *board, double metres, gboolean square);
void bl_board_set_known_kind (BlBoard *board, BlKnownKind kind);
void bl_board_set_feature_kind (BlBoard *board, BlFeatureKind kind, double height);
/* The record of the plant in hand, from the design or the library; (transfer full). */
BlPlant *bl_board_dup_plant (BlBoard *board, const char *slug);

/* Selection. */
const GArray *bl_board_get_selection (BlBoard *board); /* BlPick */
gboolean bl_board_is_selected (BlBoard *board, BlPickKind kind, gint64 id);
void bl_board_select (BlBoard *board, BlPickKind kind, gint64 id, gboolean add);
void bl_board_toggle (BlBoard *board, BlPickKind kind, gint64 id);
void bl_board_select_all (BlBoard *board);
void bl_board_clear_selection (BlBoard *board);
void bl_board_set_selection (BlBoard *board, const GArray *picks);

/* A known that waits for its sizes; the board takes it. */
const BlKnown *bl_board_get_pending (BlBoard *board);
void bl_board_set_pending (BlBoard *board, BlKnown *known);

/* What is being dragged: its planting is left out of the baked picture. */
void bl_board_lift (BlBoard *board, gint64 planting_id, BlPoint by);
gint64 bl_board_get_lift (BlBoard *board, BlPoint *by);

/* Lets parts know of something that others worked out. */
void bl_board_emit (BlBoard *board, guint what);

/* Tells the person; emits "problem". @error may be NULL, then nothing is said. */
void bl_board_report (BlBoard *board, const GError *error);
void bl_board_say (BlBoard *board, const char *sentence);
/* One step forward of the path in words, with the stage it belongs to; never NULL. */
char *bl_board_missing (BlBoard *board, BlStage *stage);
/* 0 nothing yet, 1 begun, 2 done. */
int bl_board_stage_state (BlBoard *board, BlStage stage);
