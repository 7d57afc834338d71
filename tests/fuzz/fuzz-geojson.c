/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A plan from elsewhere: outlines read in metres, flattened, or refused. */
#include "fuzz.h"

#include <math.h>

#include "survey/basemap.h"

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  BlPoint origin = BL_POINT (NAN, NAN);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) shapes = bl_geojson_read (size > 0 ? (const char *) data : "", (gssize) size, &origin, &error);

  if (shapes == NULL)
    {
      fuzz_check_error (error);
      return 0;
    }
  for (guint i = 0; i < shapes->len; i++)
    {
      const BlBaseShape *shape = g_ptr_array_index (shapes, i);
      g_autoptr (BlPoints) flat = bl_outline_flatten (shape->outline, 0.01);

      g_assert_true (shape->name == NULL || g_utf8_validate (shape->name, -1, NULL));
      for (guint k = 0; k < flat->len; k++)
        g_assert_true (isfinite (bl_points_at (flat, k).x) && isfinite (bl_points_at (flat, k).y));
      bl_outline_check (shape->outline, NULL);
    }
  return 0;
}
