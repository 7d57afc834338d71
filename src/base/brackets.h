/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How deep the brackets of a JSON text go, to be asked before it is parsed. */
#pragma once

#include <glib.h>

/* The parser goes down a level of its own stack for each bracket, so that a text of brackets alone
 * would end the program. The most brackets that are open at once; text in quotation marks is left
 * out. */
gsize bl_bracket_depth (const char *json, gsize length);
