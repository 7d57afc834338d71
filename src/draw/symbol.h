/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The set of plan symbols. */
#pragma once

#include "plants/plant.h"

/* The compiled-in drawings; a static library must be told, or the linker leaves them out. */
void bl_draw_ensure_resources (void);
/* Which drawing stands for a plant: by leaf and form. */
const char *bl_symbol_name (const BlPlant *plant);
/* All of ours, NULL-terminated. */
const char *const *bl_symbol_names (void);
/* A drawing of shapes and gradients only. Otherwise the name of what it must not hold is put in @what,
 * which may be NULL. */
gboolean bl_drawing_is_plain (const char *text, gsize length, char **what);
