/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A hand: what a press, a drag and a key do on the canvas. No toolkit types, so that every hand
 * can be tried without a display. */
#pragma once

#include "geometry/lattice.h"
#include "photo/snap.h"
#include "studio/edits.h"
#include "studio/marks.h"

typedef enum
{
  BL_MOD_SHIFT = 1 << 0,
  BL_MOD_CTRL = 1 << 1,
  BL_MOD_ALT = 1 << 2
} BlMods;

typedef enum
{
  BL_KEY_ENTER,
  BL_KEY_ESCAPE,
  BL_KEY_BACKSPACE,
  BL_KEY_DELETE,
  BL_KEY_SMALLER, /* [ */
  BL_KEY_LARGER,  /* ] */
  BL_KEY_SHARP    /* S: corner or curve */
} BlHandKey;

/* Where the pointer is, in the view's document units. */
typedef struct
{
  BlPoint at;
  double slack;  /* document units of about 8 pixels on the screen */
  guint mods;
  int n_press;
} BlHandEvent;

typedef struct _BlHand BlHand;

typedef struct
{
  const char *name;      /* "select", "specimen" ... the action's target */
  const char *cursor;    /* CSS cursor name */
  gsize size;            /* of the hand's own structure */
  void (*clear) (BlHand *hand);
  void (*press) (BlHand *hand, const BlHandEvent *event);
  void (*drag) (BlHand *hand, const BlHandEvent *event); /* moved beyond the threshold, pressed */
  void (*release) (BlHand *hand, const BlHandEvent *event);
  void (*hover) (BlHand *hand, const BlHandEvent *event);
  void (*cancel) (BlHand *hand);                            /* gives up what is half done */
  void (*let_go) (BlHand *hand); /* the press was none: what earlier ones put stays; NULL = cancel */
  gboolean (*key) (BlHand *hand, BlHandKey key);
  void (*marks) (BlHand *hand, BlMarks *marks);
  char *(*hint) (BlHand *hand);                             /* one sentence: what to do next */
  gboolean (*aims) (BlHand *hand); /* takes points off the photo now: they snap, a loupe helps */
  gboolean (*nudge) (BlHand *hand, BlPoint by); /* moves the last point; FALSE: there is none */
  void (*rest) (BlHand *hand);                  /* the nudging came to rest: what it moved is kept */
} BlHandClass;

struct _BlHand
{
  const BlHandClass *klass;
  BlBoard *board;
  BlPoint press_at, at;  /* document units */
  BlSnap aim;            /* @at, or the corner or edge of the photo that it snaps to */
  double slack;
  guint mods;
  gboolean pressed, dragged, inside;
};

/* NULL for a name that no hand has. */
BlHand *bl_hand_new (const char *name, BlBoard *board);
void bl_hand_free (BlHand *hand);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlHand, bl_hand_free)
const char *const *bl_hand_names (void);

void bl_hand_press (BlHand *hand, BlHandEvent event);
/* A release without a drag before it is a click. */
void bl_hand_drag (BlHand *hand, BlHandEvent event);
void bl_hand_release (BlHand *hand, BlHandEvent event);
void bl_hand_hover (BlHand *hand, BlHandEvent event);
void bl_hand_leave (BlHand *hand);
void bl_hand_cancel (BlHand *hand);
/* The press that is going on comes to nothing. */
void bl_hand_let_go (BlHand *hand);
gboolean bl_hand_key (BlHand *hand, BlHandKey key);
gboolean bl_hand_aims (BlHand *hand);
gboolean bl_hand_nudge (BlHand *hand, BlPoint by);
void bl_hand_rest (BlHand *hand);
void bl_hand_marks (BlHand *hand, BlMarks *marks);
char *bl_hand_hint (BlHand *hand);

/* Document and plan; FALSE above the horizon or while the camera is unknown. */
gboolean bl_board_to_plan (BlBoard *board, BlPoint document, BlPoint *plan);
gboolean bl_board_from_plan (BlBoard *board, BlPoint plan, BlPoint *document);
/* In which space what is traced here belongs: the photo's, the base drawing's where all of it lies on
 * that, else the plan's. */
BlSource bl_board_source_at (BlBoard *board, const BlPoints *seen);
/* A point or an outline of @source's space as it is seen in the shown view, and back; FALSE or NULL
 * when it cannot be. */
gboolean bl_board_point_seen (BlBoard *board, BlPoint point, BlSource source, BlPoint *document);
gboolean bl_board_point_from_seen (BlBoard *board, BlPoint document, BlSource source, BlPoint *point);
BlOutline *bl_board_outline_seen (BlBoard *board, const BlOutline *outline, BlSource source);
BlOutline *bl_board_outline_from_seen (BlBoard *board, const BlOutline *seen, BlSource source);
/* A circle on the ground, as a polygon in document units; NULL when it cannot be seen. */
BlPoints *bl_board_ring_seen (BlBoard *board, BlPoint plan, double radius);

extern const BlHandClass bl_hand_select;
extern const BlHandClass bl_hand_reshape;
extern const BlHandClass bl_hand_known;
extern const BlHandClass bl_hand_scale;
extern const BlHandClass bl_hand_trace;
extern const BlHandClass bl_hand_feature;
extern const BlHandClass bl_hand_specimen;
extern const BlHandClass bl_hand_row;
extern const BlHandClass bl_hand_drift;
extern const BlHandClass bl_hand_fill;
