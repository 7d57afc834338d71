/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an SVG may hold to become a base drawing. */
#pragma once

#include <glib.h>

/* Shapes, texts, gradients, and parts used again within bounds; nothing from outside, nothing that
 * runs, nothing that takes minutes. FALSE with one sentence (BL_ERROR_FILE). @solid: (out): whether its
 * dashes are so many that it is to be drawn with BL_SVG_SOLID. */
gboolean bl_svg_screen (const char *text, gsize length, gboolean *solid, GError **error);
