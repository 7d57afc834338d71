/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JPEG by libjpeg itself, which says when a file is damaged instead of filling it in silently. */
#pragma once

#include "photo/image.h"

/* Size as stored, before any turning. */
gboolean bl_jpeg_size (GBytes *bytes, int *width, int *height, GError **error);
/* Pixels as stored. @pixels is given empty. */
gboolean bl_jpeg_decode (GBytes *bytes, GCancellable *cancellable, BlPixels *pixels, GError **error);
/* Packed RGB rows to a JPEG without metadata. */
GBytes *bl_jpeg_encode (const guchar *rgb, int width, int height, int stride, int quality,
                        GError **error);

/* Allocates @pixels; FALSE with a sentence when there is no memory. */
gboolean bl_pixels_alloc (BlPixels *pixels, int width, int height, GError **error);
gboolean bl_picture_check_size (double width, double height, GError **error);
gboolean bl_picture_check_bytes (GBytes *bytes, GError **error);
gboolean bl_picture_is_jpeg (GBytes *bytes);
gboolean bl_picture_is_png (GBytes *bytes);
/* Width and height of a PNG; with @whole also that it is complete to its last chunk. */
gboolean bl_png_size (GBytes *bytes, gboolean whole, int *width, int *height, GError **error);
