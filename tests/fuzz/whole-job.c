/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a design that was accepted must bear. */
#include "whole-job.h"

#include <math.h>

#include "takeoff/takeoff.h"

#define MOST_PLANTS 200000 /* a job of more is a fault of the bounds on spacing and beds */

void
whole_job_run (BlDesign *design)
{
  BlModel *model = bl_design_get_model (design);

  for (guint i = 0; i < model->alternatives->len; i++)
    {
      const BlAlternative *alternative = g_ptr_array_index (model->alternatives, i);
      g_autoptr (BlLayout) layout = bl_layout_compute (model, alternative->id);
      g_autoptr (BlTakeoff) takeoff = bl_takeoff_compute (layout, NULL);
      g_autofree char *order = bl_takeoff_order_csv (takeoff);

      g_assert_nonnull (order);
      g_assert_cmpuint (layout->placed->len, <=, MOST_PLANTS);
      for (guint k = 0; k < layout->placed->len; k++)
        {
          const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, k);

          g_assert_true (isfinite (placed->at.x) && isfinite (placed->at.y));
        }
      g_assert_true (isfinite (takeoff->hours) && isfinite (takeoff->mass));
    }
}
