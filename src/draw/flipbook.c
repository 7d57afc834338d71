/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The flip-book: a series of PNG pictures. */
#include "config.h"

#include "draw/flipbook.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#include "base/error.h"

guint
bl_flip_moments (BlFlipSeries series, BlMoment fixed, BlMoment moments[12])
{
  static const double years[] = { 0, 1, 3, 5, 10 };
  guint n = series == BL_FLIP_MONTHS ? 12 : G_N_ELEMENTS (years);

  for (guint i = 0; i < n; i++)
    moments[i] = series == BL_FLIP_MONTHS ? (BlMoment) { i + 1.5, fixed.years }
      : (BlMoment) { fixed.month, years[i] };
  return n;
}

gboolean
bl_flipbook_write (BlLayout *layout, BlImage *photo, const char *directory,
                   const BlFlipOptions *options,
                   GCancellable *cancellable, GError **error)
{
  BlMoment moments[12];
  guint n;

  g_return_val_if_fail (layout != NULL && directory != NULL && options != NULL, FALSE);
  if (g_mkdir_with_parents (directory, 0755) != 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE, _("the folder “%s” can't be made: %s."), directory,
                   g_strerror (errno));
      return FALSE;
    }
  n = bl_flip_moments (options->series, options->fixed, moments);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *name = options->series == BL_FLIP_MONTHS
                                ? g_strdup_printf ("month-%02u.png", i + 1)
                                : g_strdup_printf ("year-%02.0f.png", moments[i].years);
      g_autofree char *path = g_build_filename (directory, name, NULL);
      g_autoptr (BlScene) scene = bl_scene_new (options->view, layout, photo, moments[i],
                                                options->options);

      if (!bl_scene_export (scene, path, options->width, cancellable, error))
        return FALSE;
      if (options->progress != NULL)
        options->progress (i + 1, n, options->data);
    }
  return TRUE;
}
