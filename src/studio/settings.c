/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the program remembers for the person: units, language, look, window, recent designs. */

#include "config.h"

#include "studio/settings.h"

#define GROUP "studio"
#define RECENT "recent"
#define MAX_RECENT 12

struct _BlSettings
{
  GObject parent_instance;

  char *path;
  GKeyFile *file;
};

G_DEFINE_FINAL_TYPE (BlSettings, bl_settings, G_TYPE_OBJECT)

static guint changed_signal;

static void
bl_settings_finalize (GObject *object)
{
  BlSettings *self = BL_SETTINGS (object);

  g_free (self->path);
  g_key_file_unref (self->file);
  G_OBJECT_CLASS (bl_settings_parent_class)->finalize (object);
}

static void
bl_settings_class_init (BlSettingsClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bl_settings_finalize;
  changed_signal = g_signal_new ("changed", BL_TYPE_SETTINGS, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
bl_settings_init (BlSettings *self)
{
  self->file = g_key_file_new ();
}

BlSettings *
bl_settings_new (const char *path)
{
  BlSettings *self = g_object_new (BL_TYPE_SETTINGS, NULL);
  g_autoptr (GError) error = NULL;

  self->path = path != NULL
                   ? g_strdup (path)
                   : g_build_filename (g_get_user_config_dir (), "bedline", "studio.ini", NULL);
  if (!g_key_file_load_from_file (self->file, self->path, G_KEY_FILE_NONE, &error)
      && !g_error_matches (error, G_FILE_ERROR, G_FILE_ERROR_NOENT))
    g_message ("Settings start afresh: %s", error->message);
  return self;
}

static void
save (BlSettings *self, const char *key)
{
  g_autofree char *folder = g_path_get_dirname (self->path);
  g_autoptr (GError) error = NULL;

  g_mkdir_with_parents (folder, 0700);
  if (!g_key_file_save_to_file (self->file, self->path, &error))
    g_message ("Settings could not be kept: %s", error->message);
  g_signal_emit (self, changed_signal, 0, key);
}

char *
bl_settings_get (BlSettings *self, const char *key)
{
  return g_key_file_get_string (self->file, GROUP, key, NULL);
}

void
bl_settings_set (BlSettings *self, const char *key, const char *value)
{
  g_autofree char *old = bl_settings_get (self, key);

  if (g_strcmp0 (old, value) == 0)
    return;
  g_key_file_set_string (self->file, GROUP, key, value);
  save (self, key);
}

int
bl_settings_get_int (BlSettings *self, const char *key, int fallback)
{
  g_autoptr (GError) error = NULL;
  int value = g_key_file_get_integer (self->file, GROUP, key, &error);

  return error == NULL ? value : fallback;
}

void
bl_settings_set_int (BlSettings *self, const char *key, int value)
{
  if (bl_settings_get_int (self, key, G_MININT) == value)
    return;
  g_key_file_set_integer (self->file, GROUP, key, value);
  save (self, key);
}

char *
bl_settings_get_look (BlSettings *self)
{
  char *look = bl_settings_get (self, "look");

  return look != NULL ? look : g_strdup ("system");
}

BlUnits
bl_settings_get_units (BlSettings *self)
{
  g_autofree char *name = bl_settings_get (self, "units");
  BlUnits units;

  return name != NULL && bl_units_from_name (name, &units, NULL) ? units : BL_UNITS_FEET;
}

void
bl_recent_free (BlRecent *recent)
{
  g_free (recent->path);
  g_free (recent->title);
  g_free (recent);
}

GPtrArray *
bl_settings_recent (BlSettings *self)
{
  GPtrArray *list = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_recent_free);
  g_auto (GStrv) paths = g_key_file_get_string_list (self->file, RECENT, "paths", NULL, NULL);
  g_auto (GStrv) titles = g_key_file_get_string_list (self->file, RECENT, "titles", NULL, NULL);
  guint n_titles = titles != NULL ? g_strv_length (titles) : 0;

  for (guint i = 0; paths != NULL && paths[i] != NULL; i++)
    {
      BlRecent *recent;

      if (!g_file_test (paths[i], G_FILE_TEST_EXISTS))
        continue;
      recent = g_new0 (BlRecent, 1);
      recent->path = g_strdup (paths[i]);
      recent->title = i < n_titles && titles[i][0] != '\0' ? g_strdup (titles[i])
                                                           : g_path_get_basename (paths[i]);
      g_ptr_array_add (list, recent);
    }
  return list;
}

static void
write_recent (BlSettings *self, GPtrArray *list)
{
  g_autoptr (GPtrArray) paths = g_ptr_array_new ();
  g_autoptr (GPtrArray) titles = g_ptr_array_new ();

  for (guint i = 0; i < list->len && i < MAX_RECENT; i++)
    {
      BlRecent *recent = g_ptr_array_index (list, i);

      g_ptr_array_add (paths, recent->path);
      g_ptr_array_add (titles, recent->title);
    }
  g_key_file_set_string_list (self->file, RECENT, "paths", (const char *const *)paths->pdata,
                              paths->len);
  g_key_file_set_string_list (self->file, RECENT, "titles", (const char *const *) titles->pdata,
                              titles->len);
  save (self, "recent");
}

static void
drop_path (GPtrArray *list, const char *path)
{
  for (guint i = list->len; i > 0; i--)
    if (g_str_equal (((BlRecent *) g_ptr_array_index (list, i - 1))->path, path))
      g_ptr_array_remove_index (list, i - 1);
}

void
bl_settings_add_recent (BlSettings *self, const char *path, const char *title)
{
  g_autoptr (GPtrArray) list = bl_settings_recent (self);
  BlRecent *recent = g_new0 (BlRecent, 1);

  drop_path (list, path);
  recent->path = g_strdup (path);
  recent->title = g_strdup (title != NULL ? title : "");
  g_ptr_array_insert (list, 0, recent);
  write_recent (self, list);
}

void
bl_settings_forget_recent (BlSettings *self, const char *path)
{
  g_autoptr (GPtrArray) list = bl_settings_recent (self);

  drop_path (list, path);
  write_recent (self, list);
}

char *
bl_settings_thumbnail_path (const char *design_path)
{
  g_autofree char *sum = g_compute_checksum_for_string (G_CHECKSUM_SHA256, design_path, -1);
  g_autofree char *name = g_strdup_printf ("%.32s.png", sum);

  return g_build_filename (g_get_user_cache_dir (), "bedline", "designs", name, NULL);
}

gboolean
bl_settings_is_favourite (BlSettings *self, const char *slug)
{
  return g_key_file_get_boolean (self->file, "favourites", slug, NULL);
}

void
bl_settings_set_favourite (BlSettings *self, const char *slug, gboolean favourite)
{
  if (favourite)
    g_key_file_set_boolean (self->file, "favourites", slug, TRUE);
  else
    g_key_file_remove_key (self->file, "favourites", slug, NULL);
  save (self, "favourites");
}
