/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the person wishes of the papers, as the settings keep it. */

#include "config.h"

#include "base/error.h"
#include "proposal/mark.h"
#include "studio/papers-form.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>

static char *
mark_path (void)
{
  return g_build_filename (g_get_user_config_dir (), "bedline", "mark", NULL);
}

/* A setting, NULL where it is empty. */
static char *
text_of (BlSettings *settings, const char *key)
{
  char *text = bl_settings_get (settings, key);

  if (text != NULL && *text == '\0')
    g_clear_pointer (&text, g_free);
  return text;
}

static GBytes *
read_file (const char *path, GError **error)
{
  char *data = NULL;
  gsize length;
  GStatBuf info;

  if (g_stat (path, &info) != 0 || !S_ISREG (info.st_mode))
    {
      g_set_error (error, BL_ERROR, BL_ERROR_NOT_FOUND,
                   _ ("Your mark can't be read any more: choose it again or remove it"));
      return NULL;
    }
  if (info.st_size > BL_MARK_MAX_BYTES)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FILE,
                   _ ("The mark is larger than 2 MB: save it smaller first"));
      return NULL;
    }
  return g_file_get_contents (path, &data, &length, error) ? g_bytes_new_take (data, length) : NULL;
}

BlPapersWishes *
bl_papers_wishes_new (BlSettings *settings, GError **error)
{
  g_autoptr (BlPapersWishes) wishes = g_new0 (BlPapersWishes, 1);
  g_autofree char *paper = text_of (settings, "paper");
  g_autofree char *path = mark_path ();

  if (paper == NULL || !bl_paper_from_name (paper, &wishes->paper))
    wishes->paper = BL_PAPER_LETTER;
  wishes->language = text_of (settings, "paper-language");
  wishes->units = text_of (settings, "paper-units");
  wishes->designer = text_of (settings, "designer");
  wishes->pages = (BlProposalPages) bl_settings_get_int (settings, "paper-pages", BL_PAGE_ALL);
  wishes->setout = (BlSetoutWays) bl_settings_get_int (settings, "paper-setout", BL_SETOUT_TAPES);
  wishes->detailed = bl_settings_get_int (settings, "paper-detailed", 1) != 0;
  if (bl_settings_get_int (settings, "mark", 0) == 0)
    return g_steal_pointer (&wishes);
  wishes->mark = read_file (path, error);
  return wishes->mark != NULL ? g_steal_pointer (&wishes) : NULL;
}

void
bl_papers_wishes_free (BlPapersWishes *wishes)
{
  g_free (wishes->language);
  g_free (wishes->units);
  g_free (wishes->designer);
  g_clear_pointer (&wishes->mark, g_bytes_unref);
  g_free (wishes);
}

gboolean
bl_papers_keep_mark (BlSettings *settings, const char *path, GError **error)
{
  g_autofree char *kept = mark_path ();
  g_autofree char *folder = g_path_get_dirname (kept);
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (BlMark) mark = NULL;

  if (path == NULL)
    {
      bl_settings_set_int (settings, "mark", 0);
      g_unlink (kept);
      return TRUE;
    }
  bytes = read_file (path, error);
  mark = bytes != NULL ? bl_mark_read (bytes, error) : NULL;
  if (mark == NULL)
    return FALSE;
  g_mkdir_with_parents (folder, 0700);
  if (!g_file_set_contents (kept, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes),
                            error))
    return FALSE;
  /* A number that differs each time tells who shows it. */
  bl_settings_set_int (settings, "mark", bl_settings_get_int (settings, "mark", 0) % 1000 + 1);
  return TRUE;
}
