/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A designer's mark, which a base drawing's SVG is looked through alike: refused, or drawn small. */
#include "fuzz.h"

#include <cairo.h>
#include <math.h>

#include "proposal/mark.h"

#define SIDE 48 /* pixels of the paper */

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  g_autoptr (GBytes) bytes = g_bytes_new_static (data, size);
  g_autoptr (GError) error = NULL;
  g_autoptr (BlMark) mark = bl_mark_read (bytes, &error);
  cairo_surface_t *surface;
  cairo_t *cr;
  double aspect;

  if (mark == NULL)
    {
      fuzz_check_error (error);
      return 0;
    }
  aspect = bl_mark_aspect (mark);
  g_assert_true (isfinite (aspect) && aspect > 0.0);
  surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, SIDE, SIDE);
  cr = cairo_create (surface);
  bl_mark_draw (mark, cr, 4.0, 4.0, MIN (SIDE - 8.0, (SIDE - 8.0) * aspect));
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return 0;
}
