/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A picture's or paper's file that takes the old one's place only when it is whole. */
#pragma once

#include <cairo.h>
#include <glib.h>

/* Written beside its target under a name that nothing has. One thread at a time. */
typedef struct _BlFreshFile BlFreshFile;

/* NULL when nothing can be made in the folder of @path. */
BlFreshFile *bl_fresh_file_new (const char *path);
/* A cairo_write_func_t; @fresh_file: a BlFreshFile. */
cairo_status_t bl_fresh_file_write (void *fresh_file, const unsigned char *data,
                                    unsigned int length);
/* All is written, and the surface that wrote it is finished. The first thing that went wrong since it
 * was made, the disk being full among others. */
cairo_status_t bl_fresh_file_close (BlFreshFile *self);
/* Once closed: puts it in the place of @path and frees it; FALSE when that cannot be replaced. */
gboolean bl_fresh_file_keep (BlFreshFile *self);
/* Takes it away, and leaves what stands at @path. */
void bl_fresh_file_drop (BlFreshFile *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlFreshFile, bl_fresh_file_drop)
