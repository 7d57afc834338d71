/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is drawn over the baked picture: lines, dots, words, ghosts, as plain structures. */
#pragma once

#include "geometry/outline.h"
#include "plants/plant.h"

typedef enum
{
  BL_MARK_LINE,   /* through points, open */
  BL_MARK_RING,   /* closed */
  BL_MARK_DOT,    /* a filled handle at the first point */
  BL_MARK_CORNER, /* a square handle */
  BL_MARK_WORDS,  /* text beside the first point */
  BL_MARK_GHOST   /* a plant standing at the first point */
} BlMarkKind;

typedef enum
{
  BL_INK_QUIET,    /* bed lines and things that merely stand there */
  BL_INK_ACTIVE,   /* what is being made */
  BL_INK_SELECTED,
  BL_INK_HELD,     /* one of many selected */
  BL_INK_HOVER,
  BL_INK_WRONG     /* what would be refused, overlaps */
} BlInk;

typedef struct
{
  BlMarkKind kind;
  BlInk ink;
  gboolean dashed;
  gboolean filled;
  BlPoints *points; /* document units */
  char *text;       /* words */
  BlPlant *plant;   /* ghost */
  BlPoint plan;     /* ghost's place */
} BlMark;

typedef struct
{
  GArray *items; /* BlMark */
} BlMarks;

BlMarks *bl_marks_new (void);
void bl_marks_free (BlMarks *marks);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlMarks, bl_marks_free)
/* @points is taken; NULL is passed over. */
void bl_marks_add (BlMarks *marks, BlMarkKind kind, BlInk ink, gboolean dashed, BlPoints *points);
void bl_marks_add_filled (BlMarks *marks, BlInk ink, BlPoints *points);
void bl_marks_add_point (BlMarks *marks, BlMarkKind kind, BlInk ink, BlPoint at);
void bl_marks_add_segment (BlMarks *marks, BlInk ink, gboolean dashed, BlPoint a, BlPoint b);
/* @text is taken. */
void bl_marks_add_words (BlMarks *marks, BlInk ink, BlPoint at, char *text);
void bl_marks_add_ghost (BlMarks *marks, BlPlant *plant, BlPoint document, BlPoint plan);
void bl_marks_add_outline (BlMarks *marks, BlInk ink, gboolean dashed, const BlOutline *outline,
                           double tolerance);
