/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plant library: the compiled database, the person's own plants over it, and the finder. */
#pragma once

#include "plants/nursery.h"
#include "plants/plant.h"

typedef struct _BlLibrary BlLibrary;

/* Opens the compiled database @path read-only; @own_path (may be NULL, created when first written)
 * holds the person's plants, which shadow ours. Safe to use from one thread at a time. */
BlLibrary *bl_library_open (const char *path, const char *own_path, GError **error);
void bl_library_free (BlLibrary *library);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlLibrary, bl_library_free)
/* The installed or built database: $BEDLINE_DATA, the build tree, the install prefix, in order. */
char *bl_library_default_path (void);
char *bl_library_own_path (void);

guint bl_library_n_plants (BlLibrary *library);
/* Returns: (transfer full): BL_ERROR_NOT_FOUND names the nearest slugs. Cached. */
BlPlant *bl_library_get (BlLibrary *library, const char *slug, GError **error);

/* What to look for; zero-initialised = everything. */
typedef struct
{
  const char *text;       /* words of names in either language, prefixes count; may be NULL */
  BlZone zone;            /* 0 = any */
  BlLight light;          /* UNKNOWN = any */
  BlMoisture moisture;
  BlSoil soil;
  BlGrade min_soil_salt, min_spray_salt, min_drought, min_snow_load; /* UNKNOWN = any */
  gboolean deer_rarely;
  gboolean native;
  gboolean evergreen;
  gboolean no_dog_report, no_people_report; /* only taxa with NO_REPORT; unknown ones left out */
  gboolean no_cat_report, no_livestock_report, rabbit_rarely, no_thorns;
  BlGrade min_wind, min_juglone;
  double hot_days, ph;            /* borne, where the limits are known; 0 = any */
  double height_low, height_high; /* metres, 0 = open */
  double spread_low, spread_high;
  int month_from, month_to;       /* in flower within; 0 = any */
  const char *color;              /* word in the flower colour's name */
  int type;                       /* BlPlantType + 1; 0 = any */
  gboolean in_stock;              /* in some size at the person's nursery */
  gboolean own;                   /* the person's own records only */
  const BlSite *here;             /* leaves nothing out: what suits it comes first; may be NULL */
  BlLight light_here;             /* of the bed, likewise */
  guint limit;                    /* 0 = all */
} BlPlantQuery;

/* Returns: (transfer full) (element-type BlPlant): best match first. */
GPtrArray *bl_library_find (BlLibrary *library, const BlPlantQuery *query, GError **error);

/* Writes @record (key file group text) to the person's own plants. */
gboolean bl_library_put_own (BlLibrary *library, const char *slug, const char *record, GError **error);
gboolean bl_library_remove_own (BlLibrary *library, const char *slug, GError **error);

/* Leaves a plant, ours or the person's, out of every search (and puts it back); copies in designs
 * are not touched. */
gboolean bl_library_set_hidden (BlLibrary *library, const char *slug, gboolean hidden, GError **error);
gboolean bl_library_is_hidden (BlLibrary *library, const char *slug);
/* Whether @slug is the person's own record. */
gboolean bl_library_is_own (BlLibrary *library, const char *slug);
/* Whether a plant of ours lies under the person's own record. */
gboolean bl_library_is_shadowing (BlLibrary *library, const char *slug);
/* All slugs in alphabetical order, hidden ones left out. (transfer full) */
GStrv bl_library_slugs (BlLibrary *library);
/* Those left out of every search; those of the person's own records. (transfer full) */
GStrv bl_library_hidden_slugs (BlLibrary *library);
GStrv bl_library_own_slugs (BlLibrary *library);
/* A slug that no plant has, made from the one that the name calls for. (transfer full) */
char *bl_library_free_slug (BlLibrary *library, const char *wanted);

#define BL_MAX_PLANT_PICTURE 4000000 /* bytes of a plant's picture */
/* Keeps the picture (as bl_cutout_take() gives it) beside the person's own plants; its SHA-256, for
 * the key "picture" of a record. (transfer full) */
char *bl_library_keep_picture (BlLibrary *library, GBytes *bytes, GError **error);
/* (transfer full): NULL when there is none of that name. */
GBytes *bl_library_picture (BlLibrary *library, const char *sha256);

/* The person's own plants as CSV: "slug" and then the keys of a record. (transfer full) */
char *bl_library_export_own (BlLibrary *library, GError **error);
/* The plants of such a table; a mistake names its line and column. Columns may stand in any order;
 * one that no plant must have may be missing, and so may the slug, which then follows the name.
 * (transfer full) (element-type BlPlant) */
GPtrArray *bl_plants_read_csv (const char *csv, gsize length, GError **error);
/* Takes such a table in: all of it or, with the line and column of the first mistake, nothing.
 * @n_read (may be NULL) is the number of plants taken in. */
gboolean bl_library_import_own (BlLibrary *library, const char *csv, gsize length, guint *n_read,
                                GError **error);

/* The person's nursery and what it offers; NULL when there is no list. Borrowed, until the library is
 * written to. */
const BlStock *bl_library_get_stock (BlLibrary *library);
/* Keeps @stock in place of the list before; NULL forgets it. */
gboolean bl_library_put_stock (BlLibrary *library, const BlStock *stock, GError **error);
/* Reads a nursery's list (RFC 4180) with the headings "botanical name", "size", "price", "in stock",
 * "available from" and "nursery", in any order; the first two and one of the next two are needed. A
 * mistake names its line and column, and there is no list. Rows of plants or sizes that the library
 * does not have are left out and told in @unmatched (element-type utf8), with their lines. Prices are
 * in @currency. */
BlStock *bl_library_read_stock (BlLibrary *library, const char *csv, gsize length,
                                const char *nursery, const char *currency, GPtrArray *unmatched,
                                GError **error);

/* Reads every record of a *.plants file: an array of BlPlant, NULL with the file, the line of the
 * record, its slug and the key in @error. */
GPtrArray *bl_plants_read_file (const char *path, GError **error);

/* Compiles record files (*.plants) to a database; used by the build. */
gboolean bl_library_compile (const char *const *files, const char *database, GError **error);
