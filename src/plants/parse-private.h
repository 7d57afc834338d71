/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The readers of a record's keys. */
#pragma once

#include "plants/plant.h"

typedef struct _BlParseField BlParseField;
/* Reads @value, which is not empty, into @plant. */
typedef gboolean (*BlParseReader) (BlPlant *plant,
                                   const BlParseField *field,
                                   const char *value,
                                   GError **error);

struct _BlParseField
{
  const char *key;
  gboolean required;
  BlParseReader read;
  gsize offset;             /* of the member that it fills */
  const char *const *words; /* for words */
};

#define AT(type, plant, field) ((type *) (void *) ((char *) (plant) + (field)->offset))
#define CM 0.01

/* Sets @error to the sentence with the key in front; always FALSE. */
gboolean bl_parse_refuse (GError **error, const BlParseField *field, const char *message, ...)
  G_GNUC_PRINTF (3, 4);
GStrv bl_parse_split (const char *value);
GStrv bl_parse_split_list (const char *value, const char *separator);
gboolean bl_parse_to_number (const char *word, double *number);
gboolean bl_parse_numbers (const BlParseField *field, const char *value, guint n, double *out,
                           double low, double high, const char *what, GError **error);

gboolean bl_read_text (BlPlant *plant, const BlParseField *field, const char *value,
                       GError **error);
gboolean bl_read_word (BlPlant *plant, const BlParseField *field, const char *value,
                       GError **error);
gboolean bl_read_flag (BlPlant *plant, const BlParseField *field, const char *value,
                       GError **error);
gboolean bl_read_sizes3 (BlPlant *plant, const BlParseField *field, const char *value,
                         GError **error);
gboolean bl_read_cm (BlPlant *plant, const BlParseField *field, const char *value,
                     GError **error);
gboolean bl_read_years (BlPlant *plant, const BlParseField *field, const char *value,
                        GError **error);
gboolean bl_read_month (BlPlant *plant, const BlParseField *field, const char *value,
                        GError **error);
gboolean bl_read_months (BlPlant *plant, const BlParseField *field, const char *value,
                         GError **error);
gboolean bl_read_heat (BlPlant *plant, const BlParseField *field, const char *value,
                       GError **error);
gboolean bl_read_divide (BlPlant *plant, const BlParseField *field, const char *value,
                         GError **error);
gboolean bl_read_zones (BlPlant *plant, const BlParseField *field, const char *value,
                        GError **error);
gboolean bl_read_light (BlPlant *plant, const BlParseField *field, const char *value,
                        GError **error);
gboolean bl_read_moisture (BlPlant *plant, const BlParseField *field, const char *value,
                           GError **error);
gboolean bl_read_soil (BlPlant *plant, const BlParseField *field, const char *value,
                       GError **error);
gboolean bl_read_ph (BlPlant *plant, const BlParseField *field, const char *value,
                     GError **error);
gboolean bl_read_leaf (BlPlant *plant, const BlParseField *field, const char *value,
                       GError **error);
gboolean bl_read_flower (BlPlant *plant, const BlParseField *field, const char *value,
                         GError **error);
gboolean bl_read_containers (BlPlant *plant, const BlParseField *field, const char *value,
                             GError **error);
gboolean bl_read_spreads (BlPlant *plant, const BlParseField *field, const char *value,
                          GError **error);
gboolean bl_read_harm (BlPlant *plant, const BlParseField *field, const char *value,
                       GError **error);
gboolean bl_read_regulated (BlPlant *plant, const BlParseField *field, const char *value,
                            GError **error);
gboolean bl_read_color (BlPlant *plant, const BlParseField *field, const char *value,
                        GError **error);
gboolean bl_read_leaf_colors (BlPlant *plant, const BlParseField *field, const char *value,
                              GError **error);
gboolean bl_read_flower_colors (BlPlant *plant, const BlParseField *field, const char *value,
                                GError **error);
gboolean bl_read_fruit (BlPlant *plant, const BlParseField *field, const char *value,
                        GError **error);
gboolean bl_read_support (BlPlant *plant, const BlParseField *field, const char *value,
                          GError **error);
gboolean bl_read_slugs (BlPlant *plant, const BlParseField *field, const char *value,
                        GError **error);
gboolean bl_read_picture (BlPlant *plant, const BlParseField *field, const char *value,
                          GError **error);
