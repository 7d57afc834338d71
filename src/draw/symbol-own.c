/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A person's own plan symbols: kept in the user's data folder, one file a kind of plant. */
#include "config.h"

#include "draw/symbol.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <librsvg/rsvg.h>

#include "base/error.h"
#include "base/file.h"

static char *
folder (void)
{
  return g_build_filename (g_get_user_data_dir (), "bedline", "symbols", NULL);
}

char *
bl_symbol_own_path (const char *name)
{
  g_autofree char *file = g_strconcat (name, ".svg", NULL), *home = folder ();

  return g_build_filename (home, file, NULL);
}

static guint64
mark_of (const char *name)
{
  g_autofree char *path = bl_symbol_own_path (name);
  GStatBuf info;

  if (g_stat (path, &info) != 0)
    return 0;
  return (guint64) info.st_mtim.tv_sec * 1000003 + (guint64) info.st_mtim.tv_nsec
         + (guint64) info.st_size * 7919 + 1;
}

guint64
bl_symbol_own_mark (const BlPlant *plant)
{
  return (plant->slug != NULL ? mark_of (plant->slug) : 0) * 31 + mark_of (bl_symbol_name (plant));
}

/* NULL and a sentence when it cannot stand as a symbol. */
static char *
read_drawing (const char *path, gsize *length, GError **error)
{
  g_autofree char *text = NULL, *what = NULL, *name = g_path_get_basename (path);
  g_autoptr (GError) why = NULL;
  RsvgHandle *handle;
  GStatBuf info;

  if (g_stat (path, &info) == 0 && S_ISREG (info.st_mode) && info.st_size > BL_MAX_SYMBOL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("“%s” is larger than 256 kilobytes; simplify the drawing."), name);
      return NULL;
    }
  if (!bl_file_read (path, BL_MAX_SYMBOL, &text, length, NULL))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT, _("“%s” cannot be read; check that it is there."),
                   name);
      return NULL;
    }
  if (!bl_drawing_is_plain (text, *length, &what))
    {
      if (what != NULL)
        g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                     _("“%s” holds “%s”; a plan symbol is made of shapes and gradients only."), name,
                     what);
      else
        g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                     _("“%s” is not an SVG drawing; choose a file that ends in .svg."), name);
      return NULL;
    }
  handle = rsvg_handle_new_from_data ((const guint8 *) text, *length, &why);
  if (handle == NULL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("“%s” is not an SVG drawing; choose a file that ends in .svg."), name);
      return NULL;
    }
  g_object_unref (handle);
  return g_steal_pointer (&text);
}

gboolean
bl_symbol_keep_own (const BlPlant *plant, const char *path, GError **error)
{
  gsize length = 0;
  g_autofree char *text = read_drawing (path, &length, error), *home = folder (),
    *own = bl_symbol_own_path (plant->slug);
  g_autoptr (GError) why = NULL;

  if (text == NULL)
    return FALSE;
  if (g_mkdir_with_parents (home, 0700) == 0
      && g_file_set_contents (own, text, (gssize) length, &why))
    return TRUE;
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT, _("The symbol cannot be kept in %s: %s."), home,
               why != NULL ? why->message : g_strerror (errno));
  return FALSE;
}

gboolean
bl_symbol_forget_own (const BlPlant *plant)
{
  g_autofree char *own = bl_symbol_own_path (plant->slug);

  return g_unlink (own) == 0;
}
