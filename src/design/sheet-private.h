/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading and writing the parts of a design sheet, shared by the files that do it. */
#pragma once

#include <json-glib/json-glib.h>

#include "design/design-private.h"
#include "design/sheet.h"

/* Where in the sheet something stands: a chain from the inside out, made into words only for
 * a message. A place with a key is that member of its parent, one without that element. */
typedef struct _BlPlace BlPlace;
struct _BlPlace
{
  const BlPlace *parent; /* NULL = the sheet itself */
  const char *key;
  guint index;
};
#define BL_PLACE_KEY(parent_, key_) ((BlPlace) { (parent_), (key_), 0 })
#define BL_PLACE_INDEX(parent_, index_) ((BlPlace) { (parent_), NULL, (index_) })

/* A sheet being read. The first mistake stays in @error; after it every reader gives its fallback
 * and does nothing, so that readers are straight lines of code and are asked once, at the end. */
typedef struct
{
  GError *error;
  BlUnits units;
  char *currency;
  const char *folder;
  BlLibrary *library;
  BlDesign *design;     /* in memory, within one edit */
  BlPriceBook *prices;
  GHashTable *plants;   /* slug -> BlPlant: those put into the design */
  GHashTable *beds;     /* name -> id (GINT64 boxed as pointer to gint64) */
  GPtrArray *bed_names; /* in order */
} BlSheet;

void
bl_sheet_refuse (BlSheet *sheet, const BlPlace *place, const char *format, ...)
    G_GNUC_PRINTF (3, 4);
/* Takes over @problem (and frees it) as the mistake at @place; does nothing when it is NULL. */
void bl_sheet_take (BlSheet *sheet, const BlPlace *place, GError *problem);

/* @keys: names separated by spaces; anything else in @object is refused. */
void bl_sheet_keys (BlSheet *sheet, const BlPlace *place, JsonObject *object, const char *keys);
gboolean bl_sheet_has (JsonObject *object, const char *key);
const char *
bl_sheet_text (BlSheet *sheet,
               const BlPlace *place,
               JsonObject *object,
               const char *key,
               const char *fallback);
/* As text, but not empty and there. Never NULL. */
const char *
bl_sheet_name (BlSheet *sheet, const BlPlace *place, JsonObject *object, const char *key);
double
bl_sheet_number (
    BlSheet *sheet, const BlPlace *place, JsonObject *object, const char *key, double fallback);
gint64
bl_sheet_whole (
    BlSheet *sheet, const BlPlace *place, JsonObject *object, const char *key, gint64 fallback);
gboolean
bl_sheet_switch (
    BlSheet *sheet, const BlPlace *place, JsonObject *object, const char *key, gboolean fallback);
/* Metres, from a number in the sheet's units or a text. */
double
bl_sheet_length (
    BlSheet *sheet, const BlPlace *place, JsonObject *object, const char *key, double fallback);
double bl_sheet_length_of (BlSheet *sheet, const BlPlace *place, JsonNode *node);
/* Radians, from a number of degrees or a text "1.5 rad". */
double
bl_sheet_angle (
    BlSheet *sheet, const BlPlace *place, JsonObject *object, const char *key, double fallback);
BlDay bl_sheet_day (BlSheet *sheet, const BlPlace *place, JsonObject *object, const char *key);
/* NULL when absent. */
JsonArray *
bl_sheet_array (BlSheet *sheet, const BlPlace *place, JsonObject *object, const char *key);
JsonObject *
bl_sheet_object (BlSheet *sheet, const BlPlace *place, JsonObject *object, const char *key);
/* The object that is element @index; NULL with a mistake when it is none. */
JsonObject *bl_sheet_element (BlSheet *sheet, const BlPlace *place, JsonArray *array, guint index);
BlPoint bl_sheet_point_of (BlSheet *sheet, const BlPlace *place, JsonNode *node, gboolean pixels);
/* A list of points; never NULL. */
BlPoints *bl_sheet_points (BlSheet *sheet, const BlPlace *place, JsonArray *array, gboolean pixels);
/* Outline @key with the "corners" and "straight" beside it, checked; NULL after a mistake. */
BlOutline *
bl_sheet_outline (BlSheet *sheet,
                  const BlPlace *place,
                  JsonObject *object,
                  const char *key,
                  gboolean pixels,
                  gboolean open);
/* "corners" of an outline with @n points. */
gboolean *bl_sheet_corners (BlSheet *sheet, const BlPlace *place, JsonObject *object, guint n);

/* The parts, each reading its key of the sheet and putting it into the design. */
void bl_sheet_read_texts (BlSheet *sheet, JsonObject *root);
void bl_sheet_read_site (BlSheet *sheet, JsonObject *root);
void bl_sheet_read_photo (BlSheet *sheet, JsonObject *root);
void bl_sheet_read_drawing (BlSheet *sheet, JsonObject *root);
/* The bytes of a picture in the sheet's own folder; NULL with a mistake at @place. */
GBytes *bl_sheet_picture (BlSheet *sheet, const BlPlace *place, const char *file);
void bl_sheet_read_knowns (BlSheet *sheet, JsonObject *root);
void bl_sheet_read_tape (BlSheet *sheet, JsonObject *root);
void bl_sheet_read_features (BlSheet *sheet, JsonObject *root);
void bl_sheet_read_beds (BlSheet *sheet, JsonObject *root);
void bl_sheet_read_plants (BlSheet *sheet, JsonObject *root);
void bl_sheet_read_alternatives (BlSheet *sheet, JsonObject *root);
void bl_sheet_read_prices (BlSheet *sheet, JsonObject *root);
void bl_sheet_read_care (BlSheet *sheet, JsonObject *root);

/* Writing: one line an item, "{ "key": value, ... }". */
typedef struct
{
  GString *out;
  BlUnits units;
  gboolean first; /* no member of the present object written yet */
} BlSheetOut;

void bl_out_key (BlSheetOut *out, const char *key);
void bl_out_text (BlSheetOut *out, const char *key, const char *value);
/* Left out when empty or NULL. */
void bl_out_text_if (BlSheetOut *out, const char *key, const char *value);
void bl_out_number (BlSheetOut *out, const char *key, double value);
void bl_out_number_if (BlSheetOut *out, const char *key, double value); /* left out when 0 or NAN */
void bl_out_whole_if (BlSheetOut *out, const char *key, gint64 value);
void bl_out_switch_if (BlSheetOut *out, const char *key, gboolean value);
void bl_out_length (BlSheetOut *out, const char *key, double metres);
void bl_out_length_if (BlSheetOut *out, const char *key, double metres);
/* Without a key, for lists. */
void bl_out_bare_length (BlSheetOut *out, double metres);
void bl_out_angle_if (BlSheetOut *out, const char *key, double radians);
void bl_out_point (BlSheetOut *out, BlPoint point, gboolean pixels);
void bl_out_points (BlSheetOut *out, const BlPoints *points, gboolean pixels);
/* The outline under @key and its corners. */
void bl_out_outline (BlSheetOut *out, const char *key, const BlOutline *outline, gboolean pixels);
void bl_out_corners (BlSheetOut *out, const gboolean *sharp, guint n);
/* The key under which an outline of @source stands: "outline_px". */
const char *bl_out_outline_key (BlSource source);
void bl_out_ground (BlSheetOut *out, const BlModel *model);
void bl_out_alternatives (BlSheetOut *out, const BlModel *model);
void bl_out_prices (BlSheetOut *out, const BlModel *model);
void bl_out_care (BlSheetOut *out, const BlModel *model);
/* A list at the top of the sheet: begin, an element each, end; nothing is written for an empty one.
 */
void bl_out_list_begin (BlSheetOut *out, const char *key, guint n);
void bl_out_element (BlSheetOut *out, guint index, const char *indent);
void bl_out_list_end (BlSheetOut *out, guint n, const char *indent);
