/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The small checks that the larger ones are made of. */
#pragma once

#include <glib.h>

/* All return FALSE with BL_ERROR_INPUT when they refuse. */
gboolean bl_refuse (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);
gboolean
bl_check_string (const char *text, gsize most, gboolean lines, const char *what, GError **error);
gboolean bl_check_name (const char *name, const char *what, GError **error);
gboolean bl_check_range (double value, double low, double high, const char *what, const char *unit,
                         GError **error);
