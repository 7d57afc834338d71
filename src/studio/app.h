/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The application: the plant library, the settings, the look, the windows. */
#pragma once

#include <gtk/gtk.h>

#include "plants/library.h"
#include "studio/settings.h"

#define BL_TYPE_APP (bl_app_get_type ())
G_DECLARE_FINAL_TYPE (BlApp, bl_app, BL, APP, GtkApplication)

BlApp *bl_app_new (void);
BlSettings *bl_app_get_settings (BlApp *app);
/* Opened when first asked for. NULL when it could not be opened; then @problem (may be NULL) says why. */
BlLibrary *bl_app_get_library (BlApp *app, const char **problem);
