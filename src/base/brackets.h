/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How deep the brackets of a JSON text go, and what stands outside them: to be asked before it is
 * parsed. */
#pragma once

#include <glib.h>

/* The most brackets that are open at once; text in quotation marks is left out. The parser goes down
 * a level of its own stack for each, so that a text of brackets alone would end the program.
 * @outside: (out): whether anything but space stands before the first bracket or after the one that
 * closes it; FALSE in a text without brackets. Of two values the parser would take the second and
 * let go of the first. */
gsize bl_bracket_depth (const char *json, gsize length, gboolean *outside);
