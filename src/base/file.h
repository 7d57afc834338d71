/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a file that a person chose, whole and no more than is reasonable. */
#pragma once

#include <glib.h>

#define BL_MEGABYTE ((gsize) 1024 * 1024)

/**
 * bl_file_read:
 * @path: a file's name, as the system spells it
 * @most: bytes that are taken at the most
 * @text: (out) (transfer full): its bytes, followed by a nul
 * @length: (out) (optional): how many they are
 *
 * Only a regular file is read: a pipe or a device would keep the program waiting, or never end.
 *
 * Returns: FALSE with BL_ERROR_FILE and a sentence naming the file.
 */
gboolean bl_file_read (const char *path, gsize most, char **text, gsize *length, GError **error);
