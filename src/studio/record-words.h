/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plant's record in words, fact by fact. */
#pragma once

#include "plants/plant.h"

typedef enum
{
  BL_RECORD_GROWTH,
  BL_RECORD_BEARS,
  BL_RECORD_HARM,
  BL_RECORD_LOOK,
  BL_RECORD_CARE,
  BL_RECORD_GROUPS
} BlRecordGroup;

const char *bl_record_group_title (BlRecordGroup group);
/* What and how, by turns: (transfer full) (element-type utf8). What is not known says so. */
GPtrArray *bl_record_words (const BlPlant *plant, BlRecordGroup group, gboolean metres);
