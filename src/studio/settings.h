/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the program remembers for the person: units, language, look, window, recent designs. */
#pragma once

#include <gio/gio.h>

#include "base/units.h"

#define BL_TYPE_SETTINGS (bl_settings_get_type ())
G_DECLARE_FINAL_TYPE (BlSettings, bl_settings, BL, SETTINGS, GObject)

/* @path NULL: $XDG_CONFIG_HOME/bedline/studio.ini. Signal "changed" (const char *key). */
BlSettings *bl_settings_new (const char *path);
char *bl_settings_get (BlSettings *settings, const char *key); /* NULL = never set */
void bl_settings_set (BlSettings *settings, const char *key, const char *value);
int bl_settings_get_int (BlSettings *settings, const char *key, int fallback);
void bl_settings_set_int (BlSettings *settings, const char *key, int value);
/* "system", "light", "dark" or "contrast". */
char *bl_settings_get_look (BlSettings *settings);
BlUnits bl_settings_get_units (BlSettings *settings);

typedef struct
{
  char *path, *title;
} BlRecent;
void bl_recent_free (BlRecent *recent);
/* (transfer full) (element-type BlRecent): newest first; files that are gone are left out. */
GPtrArray *bl_settings_recent (BlSettings *settings);
void bl_settings_add_recent (BlSettings *settings, const char *path, const char *title);
void bl_settings_forget_recent (BlSettings *settings, const char *path);
/* Where the small picture of a design for the start page is kept. */
char *bl_settings_thumbnail_path (const char *design_path);
/* Favourite plants. */
gboolean bl_settings_is_favourite (BlSettings *settings, const char *slug);
void bl_settings_set_favourite (BlSettings *settings, const char *slug, gboolean favourite);
