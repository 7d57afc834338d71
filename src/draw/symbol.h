/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The set of plan symbols. */
#pragma once

#include "plants/plant.h"

/* The compiled-in drawings; a static library must be told, or the linker leaves them out. */
void bl_draw_ensure_resources (void);
#define BL_MAX_SYMBOL (256 * 1024) /* bytes of a person's own symbol */
/* A person's own drawing for a kind, copied from @path into the user's data folder as SLUG.svg; the
 * error says why it cannot stand as a symbol. */
gboolean bl_symbol_keep_own (const BlPlant *plant, const char *path, GError **error);
/* Ours again; FALSE when there was no own one. */
gboolean bl_symbol_forget_own (const BlPlant *plant);
/* Changes when the own drawing of the plant or of its kind does; 0 = none. */
guint64 bl_symbol_own_mark (const BlPlant *plant);
char *bl_symbol_own_path (const char *name);
/* Which drawing stands for a plant: by leaf and form. */
const char *bl_symbol_name (const BlPlant *plant);
/* All of ours, NULL-terminated. */
const char *const *bl_symbol_names (void);
/* A drawing of shapes and gradients only. Otherwise the name of what it must not hold is put in @what,
 * which may be NULL. */
gboolean bl_drawing_is_plain (const char *text, gsize length, char **what);
