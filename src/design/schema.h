/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tables of a design file, how they grew, and the test that a file has these and nothing else. */
#pragma once

#include <sqlite3.h>

#include "design/design.h"

/* The tables whose edits are recorded, parents before children. */
typedef enum
{
  BL_TABLE_TEXT, BL_TABLE_SITE, BL_TABLE_PHOTO, BL_TABLE_DRAWING, BL_TABLE_KNOWN,
  BL_TABLE_TAPE_POINT, BL_TABLE_TAPE_DISTANCE, BL_TABLE_FEATURE, BL_TABLE_BED, BL_TABLE_ALTERNATIVE, BL_TABLE_PLANT,
  BL_TABLE_PLANTING, BL_TABLE_PRICE_ITEM, BL_TABLE_PRICE_RULE, BL_TABLE_OVERRIDE,
  BL_TABLE_CARE_MARK, BL_TABLE_OWN_TASK,
  BL_TABLE_N
} BlTable;

typedef struct
{
  const char *name;
  const char *columns; /* after "id", comma separated, in the order of the schema */
  guint n_columns;     /* with "id" */
  BlTouched touched;
  const char *rows;    /* what its rows are called in a sentence: "beds" */
} BlTableInfo;

const BlTableInfo *bl_table_info (BlTable table);
/* How many columns it had in version 1, with "id". */
guint bl_table_first_columns (BlTable table);
/* BL_TABLE_N when there is none of that name. */
BlTable bl_table_named (const char *name);

/* Makes the tables of an empty design and stamps the file; within the caller's transaction. */
int bl_schema_create (sqlite3 *db);
/* Brings the tables of a file of @version to the present one and stamps it; within the caller's
 * transaction. */
int bl_schema_grow (sqlite3 *db, int version);
/* Are exactly the tables of @version there, word for word? FALSE with the first thing that differs,
 * or the SQLite result in @rc when the schema could not be read. A version newer than ours may have
 * more tables and columns, never code: triggers, views, virtual tables, generated columns, indexes
 * on expressions or of some rows only. */
gboolean bl_schema_matches (sqlite3 *db, int version, char **difference, int *rc);
