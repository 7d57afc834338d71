/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Design files written by each version, kept for ever: every one opens, undoes and says the same. */
#include <float.h>
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <json-glib/json-glib.h>

#include "random-edits.h"

#define EDITS 40
#define UNDONE 12 /* at least, in each file */

/* TRUE when all that @old says stands in @now too; what is new beside it does not matter. */
static gboolean
still_says (JsonNode *old,
            JsonNode *now,
            GString  *where)
{
  gsize length = where->len;

  if (JSON_NODE_TYPE (old) != JSON_NODE_TYPE (now))
    return FALSE;
  if (JSON_NODE_HOLDS_OBJECT (old))
    {
      JsonObjectIter iter;
      const char *name = NULL;
      JsonNode *value = NULL;

      json_object_iter_init (&iter, json_node_get_object (old));
      while (json_object_iter_next (&iter, &name, &value))
        {
          JsonNode *other = json_object_get_member (json_node_get_object (now), name);

          g_string_append_printf (where, ".%s", name);
          if (other == NULL || !still_says (value, other, where))
            return FALSE;
          g_string_truncate (where, length);
        }
      return TRUE;
    }
  if (JSON_NODE_HOLDS_ARRAY (old))
    {
      JsonArray *a = json_node_get_array (old), *b = json_node_get_array (now);

      for (guint i = 0; i < json_array_get_length (a); i++)
        {
          g_string_append_printf (where, "[%u]", i);
          if (json_array_get_length (a) != json_array_get_length (b)
              || !still_says (json_array_get_element (a, i), json_array_get_element (b, i), where))
            return FALSE;
          g_string_truncate (where, length);
        }
      return TRUE;
    }
  return json_node_equal (old, now);
}

static JsonNode *
parse (const char *text)
{
  g_autoptr(GError) error = NULL;
  JsonNode *node = json_from_string (text, &error);

  g_assert_no_error (error);
  return node;
}

/* FALSE where a long double is computed as a double, as valgrind does: a length's last digit differs then. */
static gboolean
is_precise (void)
{
  volatile long double fine = 1.0L;

  fine += LDBL_EPSILON;
  return fine != 1.0L;
}

/* Where numbers are not precise the sheet is written, but not compared: the test counts as skipped. */
static void
assert_says (BlDesign   *design,
             const char *frozen)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *sheet = bl_sheet_write (design, &error);
  g_autofree char *text = NULL;
  g_autoptr(GString) where = g_string_new ("sheet");
  g_autoptr(JsonNode) old = NULL;
  g_autoptr(JsonNode) now = NULL;

  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (frozen, &text, NULL, &error));
  old = parse (text);
  now = parse (sheet);
  if (!is_precise ())
    {
      g_test_skip ("sheets are not compared: a long double is computed as a double here, as valgrind does");
      return;
    }
  if (!still_says (old, now, where))
    g_error ("%s says something else than the file did", where->str);
}

static void
assert_verified (const char *path)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) breaches = bl_design_verify (path, &error);

  g_assert_no_error (error);
  if (breaches->len > 0)
    g_error ("%s: %s", path, (char *) g_ptr_array_index (breaches, 0));
}

/* Designs of version 1 had no id: they get what their calendars were marked with, and keep it. */
static void
assert_keeps_id (BlDesign *design)
{
  const BlModel *model = bl_design_get_model (design);
  g_autofree char *id = g_strdup (model->id);
  g_autofree char *first = bl_model_first_id (model->title, model->client, model->place);

  g_assert_cmpstr (id, ==, first);
  yard_begin (design, "Rename");
  bl_design_put_text (design, "title", "Renamed", NULL);
  yard_commit (design);
  g_assert_cmpstr (bl_design_get_model (design)->id, ==, id);
  g_assert_true (bl_design_undo (design, NULL));
  g_assert_cmpstr (bl_design_get_model (design)->id, ==, id);
}

/* Opens a copy of @frozen: it says what it did, all steps go back and forth, and it can be edited. */
static void
test_old_file (gconstpointer data)
{
  const char *frozen = data;
  g_autofree char *folder = yard_folder ();
  g_autofree char *path = yard_path (folder, "old.bedline");
  g_autofree char *sheet = g_strconcat (frozen, ".json", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = NULL;
  g_autoptr(GDir) left = NULL;
  guint redone = 0, undone = 0;

  yard_copy_file (frozen, path);
  design = bl_design_open (path, &error);
  g_assert_no_error (error);
  g_assert_null (bl_design_read_only_reason (design));
  assert_says (design, sheet);
  while (bl_design_redo_label (design) != NULL && ++redone < 1000)
    g_assert_true (bl_design_redo (design, &error));
  while (bl_design_undo_label (design) != NULL && ++undone < 1000)
    g_assert_true (bl_design_undo (design, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (redone, >=, UNDONE);
  g_assert_cmpuint (undone, >, redone);
  for (guint i = 0; i < undone - redone; i++)
    g_assert_true (bl_design_redo (design, &error));
  assert_says (design, sheet);
  if (strstr (frozen, "version-1.") != NULL)
    assert_keeps_id (design);
  yard_begin (design, "Rename");
  bl_design_put_text (design, "title", "Grown", NULL);
  yard_commit (design);
  yard_assert_sound (design);
  g_clear_object (&design);
  assert_verified (path);
  /* Nothing is left beside it. */
  left = g_dir_open (folder, 0, NULL);
  g_assert_cmpstr (g_dir_read_name (left), ==, "old.bedline");
  g_assert_null (g_dir_read_name (left));
  g_clear_pointer (&left, g_dir_close);
  yard_remove_folder (g_steal_pointer (&folder));
}

static void
check_read_only (const char *path,
                 const char *sheet)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = bl_design_open (path, &error);

  g_assert_no_error (error);
  g_assert_nonnull (bl_design_read_only_reason (design));
  assert_says (design, sheet);
}

/* One that cannot be written is shown as it is, and its bytes stay. */
static void
test_old_file_read_only (gconstpointer data)
{
  const char *frozen = data;
  g_autofree char *folder = yard_folder ();
  g_autofree char *path = yard_path (folder, "old.bedline");
  g_autofree char *sheet = g_strconcat (frozen, ".json", NULL);
  g_autofree char *before = NULL, *after = NULL;
  gsize n_before = 0, n_after = 0;

  yard_copy_file (frozen, path);
  g_assert_true (g_file_get_contents (path, &before, &n_before, NULL));
  g_assert_cmpint (g_chmod (folder, 0755), ==, 0);
  g_assert_cmpint (g_chmod (path, 0444), ==, 0);
  yard_without_rights (check_read_only, path, sheet);
  g_assert_true (g_file_get_contents (path, &after, &n_after, NULL));
  g_assert_cmpmem (before, n_before, after, n_after);
  yard_remove_folder (g_steal_pointer (&folder));
}

static GBytes *
plain_picture (int         width,
               int         height,
               const char *type)
{
  g_autoptr(GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, width, height);
  g_autoptr(GError) error = NULL;
  char *data = NULL;
  gsize length = 0;

  gdk_pixbuf_fill (pixbuf, 0x80a080ff);
  gdk_pixbuf_save_to_buffer (pixbuf, &data, &length, type, &error, NULL);
  g_assert_no_error (error);
  return g_bytes_new_take (data, length);
}

/* The design of the sheet that uses every key. */
static BlDesign *
draft_every_key (const char *path)
{
  g_autofree char *from = g_test_build_filename (G_TEST_DIST, "design", "every-key.sheet.json", NULL);
  g_autofree char *text = NULL;
  g_autoptr(GError) error = NULL;
  BlDesign *design;

  g_assert_true (g_file_get_contents (from, &text, NULL, &error));
  design = bl_sheet_draft (text, -1, NULL, yard_library (), path, &error);
  g_assert_no_error (error);
  return design;
}

/* Pictures of the sizes that the sheet states: what lies on them stays where it is. */
static void
put_pictures (BlDesign *design)
{
  g_autoptr(BlModel) first = bl_model_ref (bl_design_get_model (design));
  g_autoptr(GBytes) photo = plain_picture (first->photo.width, first->photo.height, "jpeg");
  g_autoptr(GBytes) plan = plain_picture (first->drawing.width, first->drawing.height, "png");
  g_autoptr(GError) error = NULL;
  BlDrawing drawing = first->drawing;

  yard_begin (design, "Bring in the pictures");
  bl_design_put_photo (design, photo, "walk.jpg", &error);
  bl_design_put_drawing (design, plan, "plan.png", &error);
  g_assert_no_error (error);
  yard_commit (design);
  drawing.name = (char *) "plan.png";
  yard_begin (design, "State the drawing's known length");
  bl_design_put_drawing_info (design, &drawing, &error);
  g_assert_no_error (error);
  yard_commit (design);
}

/* @n steps of the history: an edit that changes nothing is none. */
static void
edit_at_random (BlDesign    *design,
                RandomEdits *edits,
                guint        n)
{
  g_autoptr(GError) error = NULL;

  for (guint done = 0; done < n;)
    {
      guint64 revision = bl_design_get_model (design)->revision;

      g_assert_true (random_edits_next (edits, design, &error));
      done += bl_design_get_model (design)->revision != revision;
    }
}

/* Writes a file of the present version that holds everything a design may hold, with many edits undone,
 * and its sheet. */
static int
write_frozen (const char *path)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = draft_every_key (path);
  g_autoptr(RandomEdits) edits = random_edits_new (1, FALSE);
  g_autofree char *sheet_path = g_strconcat (path, ".json", NULL);
  g_autofree char *sheet = NULL;

  put_pictures (design);
  edit_at_random (design, edits, EDITS);
  for (guint i = 0; i < EDITS; i++)
    g_assert_true (bl_design_undo (design, &error));
  yard_assert_sound (design);
  sheet = bl_sheet_write (design, &error);
  g_assert_no_error (error);
  g_assert_true (g_file_set_contents (sheet_path, sheet, -1, &error));
  yard_end ();
  return 0;
}

int
main (int    argc,
      char **argv)
{
  g_autofree char *folder = NULL;
  g_autoptr(GDir) dir = NULL;
  const char *name = NULL;
  guint n = 0;
  int result;

  g_setenv ("BEDLINE_CHECK", "1", TRUE);
  g_test_init (&argc, &argv, NULL);
  if (argc == 3 && strcmp (argv[1], "--write") == 0)
    return write_frozen (argv[2]);
  folder = g_test_build_filename (G_TEST_DIST, "design", "frozen", NULL);
  dir = g_dir_open (folder, 0, NULL);
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".bedline"))
      {
        char *path = g_build_filename (folder, name, NULL);
        g_autofree char *writable = g_strdup_printf ("/frozen/%s/opens", name);
        g_autofree char *read_only = g_strdup_printf ("/frozen/%s/read-only", name);

        g_test_add_data_func_full (writable, path, test_old_file, g_free);
        g_test_add_data_func_full (read_only, g_strdup (path), test_old_file_read_only, g_free);
        n++;
      }
  g_assert_cmpuint (n, ==, BL_DESIGN_VERSION);
  for (int version = 1; version <= BL_DESIGN_VERSION; version++)
    {
      g_autofree char *path = g_strdup_printf ("%s/version-%d.bedline", folder, version);

      g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));
    }
  result = g_test_run ();
  yard_end ();
  return result;
}
