/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One key of a plant's record as a field of a form. */
#pragma once

#include <gtk/gtk.h>

#include "base/units.h"

typedef enum
{
  BL_FIELD_TEXT,
  BL_FIELD_WORD,       /* one of several */
  BL_FIELD_SET,        /* some of several */
  BL_FIELD_FLAG,
  BL_FIELD_LENGTH,
  BL_FIELD_RANGE,      /* lowest, highest and usual length */
  BL_FIELD_NUMBER,
  BL_FIELD_PAIR,       /* two numbers */
  BL_FIELD_SHAPE,      /* one of several, and a length */
  BL_FIELD_MONTH,
  BL_FIELD_MONTHS,     /* first and last */
  BL_FIELD_ZONES,
  BL_FIELD_COLOR,
  BL_FIELD_COLORS,     /* one to four */
  BL_FIELD_SEASONS,    /* four colours */
  BL_FIELD_FRUIT,      /* a colour and its months */
  BL_FIELD_HARM,       /* people, dogs, cats, livestock */
  BL_FIELD_CONTAINERS, /* sizes sold, with size and price */
  BL_FIELD_N
} BlFieldKind;

typedef enum
{
  BL_GROUP_NAME,
  BL_GROUP_SIZE,
  BL_GROUP_PLACE,
  BL_GROUP_YEAR,
  BL_GROUP_CARE,
  BL_GROUP_CAUTION,
  BL_GROUP_TRADE,
  BL_GROUP_PICTURE, /* has no keys of its own here */
  BL_GROUP_N
} BlFieldGroup;

typedef struct
{
  const char *word, *title; /* in a record; for the person, to be translated */
} BlFieldWord;

typedef struct
{
  const char *key;
  BlFieldGroup group;
  BlFieldKind kind;
  const char *label;        /* to be translated */
  const BlFieldWord *words; /* ends with a NULL word */
  const char *empty;        /* what a record says when nothing is filled in; NULL: the key is left out */
  const char *hint;         /* to be translated; NULL = none */
} BlFieldInfo;

/* All keys but the picture's, by group; @n of them. */
const BlFieldInfo *bl_field_infos (guint *n);
const char *bl_field_group_title (BlFieldGroup group); /* translated */
/* What the library found wrong with a key, in the form's own terms where a record's are others. */
const char *bl_field_sentence (const BlFieldInfo *info, const char *fault);
const char *const *bl_field_month_titles (void);       /* "–" and twelve names, to be translated */

#define BL_FIELD_WIDGETS 24

typedef struct _BlPlantField BlPlantField;
typedef void (*BlFieldChanged) (BlPlantField *field, gpointer data);

struct _BlPlantField
{
  const BlFieldInfo *info;
  GtkWidget *box;                  /* label, widgets and note */
  GtkWidget *w[BL_FIELD_WIDGETS];  /* by kind */
  GtkWidget *note;
  char *given, *shown; /* what was set, and what that reads back as: untouched, it stays as given */
  BlUnits units;
  char *currency;
  gboolean setting, touched;
  BlFieldChanged changed;
  gpointer data;
};

BlPlantField *bl_plant_field_new (const BlFieldInfo *info, BlUnits units, const char *currency,
                                  BlFieldChanged changed, gpointer data);
void bl_plant_field_free (BlPlantField *field);
/* As a record has it; NULL or "" for a key that is not there. */
void bl_plant_field_set (BlPlantField *field, const char *value);
/* (transfer full): NULL when the key is to be left out. */
char *bl_plant_field_get (BlPlantField *field);
/* One sentence beside the field, or NULL. */
void bl_plant_field_tell (BlPlantField *field, const char *sentence);

/* For the kinds' own files. */
typedef struct
{
  GtkWidget *(*build) (BlPlantField *field);
  void (*set) (BlPlantField *field, const char *value); /* "" for nothing */
  char *(*compose) (BlPlantField *field);               /* "" for nothing */
} BlFieldClass;

extern const BlFieldClass bl_field_color, bl_field_colors, bl_field_seasons, bl_field_fruit,
    bl_field_containers;
/* For the widgets of a field: tells of a change by the person. */
void bl_plant_field_touched (BlPlantField *field);
/* @name: what it is called, where it is not the only one under its label (NULL). */
GtkWidget *bl_field_entry (BlPlantField *field, int at, int width, const char *name);
GtkWidget *bl_field_months (BlPlantField *field, int at, const char *name, gboolean none);
/* Words of @value between blanks; at least @n, the missing ones empty. */
GStrv bl_field_words (const char *value, guint n);
/* An entry with a length of a record in it. */
void bl_field_put_length (BlPlantField *field, int at, const char *cm);
char *bl_field_read_length (BlPlantField *field, int at);
/* Centimetres of a record as the person's length, and back; what is no length stays as it is. */
char *bl_field_length_shown (const BlPlantField *field, const char *cm);
char *bl_field_length_read (const BlPlantField *field, const char *text);
