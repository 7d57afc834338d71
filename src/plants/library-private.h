/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The library's insides: two databases of one schema, and the facts of all plants in memory. */
#pragma once

#include <sqlite3.h>

#include "plants/library.h"

#define BL_LIBRARY_APPLICATION_ID 0x426c5031 /* "BlP1" */
#define BL_LIBRARY_VERSION 1

/* What the finder compares, read from the columns at opening so that a search parses only the
 * records that it returns. */
typedef struct
{
  char *slug, *name, *common, *color;
  char *folded, *folded_common, *folded_es; /* see bl_library_fold() */
  gint64 id;         /* in its database */
  gboolean own, hidden, in_stock;
  BlPlantType type;
  BlZone zone_low, zone_high;
  guint light, moisture, soil;
  BlGrade soil_salt, spray_salt, drought, snow_load;
  BlBrowse deer;
  BlHarm harm_people, harm_dogs;
  gboolean native, evergreen;
  double height, spread;
  int flower_from, flower_to;
  BlPlant *plant;    /* parsed when first asked for */
} BlFacts;

struct _BlLibrary
{
  sqlite3 *shipped, *own; /* own is NULL until it exists */
  sqlite3_stmt *record[2], *match[2]; /* [0] shipped, [1] own */
  char *own_path;
  GPtrArray *facts;       /* BlFacts, own ones shadowing ours */
  GHashTable *by_slug;    /* slug → BlFacts */
  GHashTable *by_id[2];   /* id → BlFacts */
  GHashTable *hidden;     /* set of slugs */
  GHashTable *shipped_slugs; /* set: those of ours, shadowed or not */
  GHashTable *undressed;  /* name without its dress → slug of the facts; NULL = not needed yet */
  BlStock *stock;         /* NULL = no list */
};

typedef sqlite3_stmt BlStatement;

static inline void
bl_statement_rest (BlStatement **statement)
{
  if (*statement != NULL)
    {
      sqlite3_reset (*statement);
      sqlite3_clear_bindings (*statement);
    }
}

/* A prepared statement that is kept: reset when the scope ends. */
#define BL_STATEMENT_IN_USE __attribute__ ((cleanup (bl_statement_rest))) BlStatement

/* A name without regard to case and accents, for comparing. */
char *bl_library_fold (const char *text);
/* Sets @error to what SQLite says about @db, after @doing ("The plant library cannot be read"). */
gboolean bl_sqlite_error (sqlite3 *db, const char *doing, GError **error);
gboolean bl_sqlite_exec (sqlite3 *db, const char *sql, const char *doing, GError **error);
/* Creates the tables, the index of names and the marks of the file in an empty database. */
gboolean bl_library_create_tables (sqlite3 *db, GError **error);
gboolean bl_library_insert (sqlite3 *db, const BlPlant *plant, GError **error);
/* The tables that own plants have beyond those of ours; harmless where they are there. */
gboolean bl_library_create_own_tables (sqlite3 *db, GError **error);
/* A plant of the own database, in place of the one of its slug. */
gboolean bl_library_replace (sqlite3 *db, const BlPlant *plant, GError **error);
/* Around writes to the own database: @ok FALSE takes everything back; else the memory follows. */
gboolean bl_library_begin (BlLibrary *library, GError **error);
gboolean bl_library_end (BlLibrary *library, gboolean ok, GError **error);
/* The list of the own database, NULL when there is none. */
BlStock *bl_library_load_stock (sqlite3 *db);
/* Reads the facts of both databases again. */
gboolean bl_library_reload (BlLibrary *library, GError **error);
/* Opens the own database for writing, creating it where needed. */
gboolean bl_library_need_own (BlLibrary *library, GError **error);
/* @facts' record, parsed once. (transfer none) */
BlPlant *bl_library_plant_of (BlLibrary *library, BlFacts *facts, GError **error);
