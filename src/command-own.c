/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The commands of the person's own: their plants, and their nursery's list. */
#include "command.h"

#include <stdio.h>
#include <string.h>

#include "base/error.h"
#include "design/pricebook-stock.h"
#include "draw/cutout.h"

/* ---- own plants ---- */

typedef struct
{
  char *output, *table, *hide, *show, *picture, *slug;
  double height;
} OwnOptions;

static void
own_options_clear (OwnOptions *o)
{
  g_free (o->output);
  g_free (o->table);
  g_free (o->hide);
  g_free (o->show);
  g_free (o->picture);
  g_free (o->slug);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OwnOptions, own_options_clear)

/* The record with its own picture in place of the one it may have. */
static char *
with_picture (const BlPlant *plant, const char *sha256, const BlCutoutShape *shape, double height)
{
  g_auto (GStrv) lines = g_strsplit (plant->text, "\n", -1);
  GString *record = g_string_new (NULL);
  char x[G_ASCII_DTOSTR_BUF_SIZE], cm[G_ASCII_DTOSTR_BUF_SIZE];

  for (guint i = 0; lines[i] != NULL; i++)
    if (lines[i][0] != '\0' && lines[i][0] != '[' && !g_str_has_prefix (lines[i], "picture="))
      g_string_append_printf (record, "%s\n", lines[i]);
  g_string_append_printf (record, "picture=%s %s %s 1 0 0\n", sha256,
                          g_ascii_formatd (cm, sizeof cm, "%.0f", height * 100),
                          g_ascii_formatd (x, sizeof x, "%.3f", shape->foot_x));
  return g_string_free (record, FALSE);
}

static gboolean
attach (BlLibrary *library, const OwnOptions *o, GError **error)
{
  g_autoptr (BlPlant) plant = bl_library_get (library, o->slug, error);
  g_autofree char *data = NULL, *sha256 = NULL, *record = NULL;
  g_autoptr (GBytes) bytes = NULL, kept = NULL;
  BlCutoutShape shape;
  gsize length;

  if (plant == NULL || !bl_command_read (o->picture, &data, &length, error))
    return FALSE;
  bytes = g_bytes_new (data, length);
  kept = bl_cutout_take (bytes, &shape, error);
  if (kept == NULL)
    {
      g_prefix_error (error, "“%s”: ", o->picture);
      return FALSE;
    }
  sha256 = bl_library_keep_picture (library, kept, error);
  if (sha256 == NULL)
    return FALSE;
  record = with_picture (plant, sha256, &shape, o->height > 0 ? o->height : plant->height);
  return bl_library_put_own (library, o->slug, record, error);
}

static gboolean
take_plants (BlLibrary *library, const char *table, GError **error)
{
  g_autofree char *text = NULL;
  gsize length;
  guint n = 0;

  if (!bl_command_read (table, &text, &length, error))
    return FALSE;
  if (!bl_library_import_own (library, text, length, &n, error))
    {
      g_prefix_error (error, "“%s”: ", table);
      return FALSE;
    }
  printf ("%u %s taken in\n", n, n == 1 ? "plant" : "plants");
  return TRUE;
}

static gboolean
check_own_options (const OwnOptions *o, GError **error)
{
  if ((o->picture != NULL) != (o->slug != NULL))
    g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                         "--picture and --plant go together: the file, and the plant it shows.");
  else if (o->output == NULL && o->table == NULL && o->hide == NULL && o->show == NULL
           && o->picture == NULL)
    g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                         "say what to do with your own plants: -o X.csv writes them, --take X.csv "
                         "takes a table in, --hide and --show a plant, --picture gives it one.");
  else if (o->height < 0 || o->height > 60)
    g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                         "--height is the height of the plant in the picture, up to 60 metres.");
  else
    return TRUE;
  return FALSE;
}

int
bl_command_own (int argc, char **argv, GError **error)
{
  g_auto (OwnOptions) o = { 0 };
  g_autoptr (BlLibrary) library = NULL;
  GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o.output, "Write them as a table", "X.csv" },
    { "take", 0, 0, G_OPTION_ARG_FILENAME, &o.table, "Take a table in, wholly or not at all", "X.csv" },
    { "hide", 0, 0, G_OPTION_ARG_STRING, &o.hide, "Leave a plant out of every search", "KEY" },
    { "show", 0, 0, G_OPTION_ARG_STRING, &o.show, "Bring it back", "KEY" },
    { "picture", 0, 0, G_OPTION_ARG_FILENAME, &o.picture, "A cut-out picture, PNG or SVG", "FILE" },
    { "plant", 0, 0, G_OPTION_ARG_STRING, &o.slug, "The plant that it shows", "KEY" },
    { "height", 0, 0, G_OPTION_ARG_DOUBLE, &o.height, "How high that stands, metres", "H" },
    { NULL }
  };

  if (!bl_command_parse (&argc, &argv, bl_command_find ("own"), entries, 0, error)
      || !check_own_options (&o, error) || (library = bl_command_library (error)) == NULL
      || (o.table != NULL && !take_plants (library, o.table, error))
      || (o.hide != NULL && !bl_library_set_hidden (library, o.hide, TRUE, error))
      || (o.show != NULL && !bl_library_set_hidden (library, o.show, FALSE, error))
      || (o.picture != NULL && !attach (library, &o, error)))
    return BL_EXIT_INPUT;
  if (o.output != NULL)
    {
      g_autofree char *text = bl_library_export_own (library, error);

      if (text == NULL || !bl_command_write (o.output, text, -1, error))
        return BL_EXIT_INPUT;
    }
  return BL_EXIT_DONE;
}

/* ---- the nursery ---- */

static gboolean
take_list (BlLibrary *library, const char *path, const char *currency, gboolean *all, GError **error)
{
  g_autofree char *text = NULL, *name = g_path_get_basename (path);
  g_autoptr (GPtrArray) unmatched = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (BlStock) stock = NULL;
  gsize length;

  if (!bl_command_read (path, &text, &length, error))
    return FALSE;
  stock = bl_library_read_stock (library, text, length, name, currency, unmatched, error);
  if (stock == NULL)
    {
      g_prefix_error (error, "“%s”: ", path);
      return FALSE;
    }
  if (!bl_library_put_stock (library, stock, error))
    return FALSE;
  printf ("%s: offers taken in: %u; lines left out: %u\n", stock->nursery, stock->offers->len,
          unmatched->len);
  for (guint i = 0; i < unmatched->len; i++)
    printf ("  %s\n", (const char *) unmatched->pdata[i]);
  *all = unmatched->len == 0;
  return TRUE;
}

static gboolean
price_design (BlLibrary *library, const char *path, GError **error)
{
  const BlStock *stock = bl_library_get_stock (library);
  g_autoptr (BlDesign) design = bl_command_open (path, error);
  g_autoptr (BlPriceBook) book = NULL;
  const BlModel *model;
  guint n;

  if (design == NULL)
    return FALSE;
  model = bl_design_get_model (design);
  if (stock == NULL)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           "there is no nursery's list yet: take one in with --take");
      return FALSE;
    }
  if (g_strcmp0 (stock->currency, model->currency) != 0)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   "the nursery's list is in %s and “%s” in %s", stock->currency, path,
                   model->currency);
      return FALSE;
    }
  book = bl_price_book_copy (model->prices);
  n = bl_price_book_take_stock (book, stock, library);
  if (!bl_command_put_prices (design, book, error))
    return FALSE;
  printf ("%s: prices now in “%s”: %u\n", stock->nursery, path, n);
  return TRUE;
}

int
bl_command_nursery (int argc, char **argv, GError **error)
{
  g_autofree char *list = NULL, *currency = NULL;
  g_autoptr (BlLibrary) library = NULL;
  gboolean forget = FALSE, all = TRUE;
  GOptionEntry entries[] = {
    { "take", 0, 0, G_OPTION_ARG_FILENAME, &list, "Take a nursery's list in", "X.csv" },
    { "currency", 0, 0, G_OPTION_ARG_STRING, &currency, "Of its prices; USD unless said", "CODE" },
    { "forget", 0, 0, G_OPTION_ARG_NONE, &forget, "Forget the list", NULL },
    { NULL }
  };

  if (!bl_command_parse (&argc, &argv, bl_command_find ("nursery"), entries, -1, error))
    return BL_EXIT_INPUT;
  if (argc > 2 || (list == NULL && !forget && argc == 1))
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_INPUT,
                           "say what to do: --take X.csv takes a list in, --forget forgets it, a "
                           "design's name puts its prices into that design.");
      return BL_EXIT_INPUT;
    }
  library = bl_command_library (error);
  if (library == NULL
      || (list != NULL
          && !take_list (library, list, currency != NULL ? currency : "USD", &all, error))
      || (forget && !bl_library_put_stock (library, NULL, error))
      || (argc == 2 && !price_design (library, argv[1], error)))
    return BL_EXIT_INPUT;
  return all ? BL_EXIT_DONE : BL_EXIT_FOUND;
}
