/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether an SVG means to everyone who reads it what its letters show. */
#pragma once

#include <glib.h>

/* What is looked through here is drawn by another parser; both must see the same elements. */

/* UTF-8 without NUL. */
gboolean bl_svg_is_text (const char *text, gsize length);
/* A passage between the elements (a declaration, a comment, an instruction) that changes nothing of
 * what they mean: no entities, default attributes, style sheets, nor an encoding in which their
 * brackets could be spelled otherwise. */
gboolean bl_svg_passage_is_plain (const char *passage, gsize length);
/* Whether CSS, or the value of the attribute @name (NULL in a style sheet), asks for an effect spelled out
 * in place, "blur(9) blur(9) ...", which may take minutes; or has escapes that could spell one. */
gboolean bl_svg_has_effect (const char *name, const char *css);
