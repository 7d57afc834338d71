/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The application: the plant library, the settings, the look, the windows. */

#include "config.h"

#include "studio/app.h"

#include "studio/verbs.h"
#include "studio/window.h"

#include <glib/gi18n.h>
#include <string.h>

#define RESOURCES "/org/bedline/Studio/"

struct _BlApp
{
  GtkApplication parent_instance;

  BlSettings *settings;
  BlLibrary *library;
  char *library_problem;
  gboolean exit_after_startup;
  GtkCssProvider *colors;
};

G_DEFINE_FINAL_TYPE (BlApp, bl_app, GTK_TYPE_APPLICATION)

BlSettings *
bl_app_get_settings (BlApp *self)
{
  return self->settings;
}

static void
open_library (BlApp *self)
{
  g_autofree char *path = bl_library_default_path ();
  g_autofree char *own = bl_library_own_path ();
  g_autoptr (GError) error = NULL;

  self->library = path != NULL ? bl_library_open (path, own, &error) : NULL;
  if (self->library == NULL)
    self->library_problem = g_strdup (error != NULL ? error->message
                                      : _("The plant library is missing: install Bedline again"));
}

BlLibrary *
bl_app_get_library (BlApp *self, const char **problem)
{
  if (self->library == NULL && self->library_problem == NULL)
    open_library (self);
  if (problem != NULL)
    *problem = self->library_problem;
  return self->library;
}

/* Light, dark or high contrast: the colours are one small style sheet each. */
static void
apply_look (BlApp *self)
{
  g_autofree char *look = bl_settings_get_look (self->settings);
  GtkSettings *gtk = gtk_settings_get_default ();
  g_autofree char *theme = NULL;
  gboolean prefer_dark = FALSE, was_dark = FALSE;
  const char *file;

  if (g_str_equal (look, "system"))
    {
      g_object_get (gtk, "gtk-theme-name", &theme, NULL);
      prefer_dark = theme != NULL && g_str_has_suffix (theme, "-dark");
      if (theme != NULL && strstr (theme, "HighContrast") != NULL)
        file = RESOURCES "contrast.css";
      else
        file = prefer_dark ? RESOURCES "dark.css" : RESOURCES "light.css";
    }
  else
    {
      prefer_dark = g_str_equal (look, "dark");
      file = prefer_dark ? RESOURCES "dark.css"
             : g_str_equal (look, "contrast") ? RESOURCES "contrast.css" : RESOURCES "light.css";
    }
  /* Stating it anew reads the whole theme again, a tenth of the way to the first frame. */
  g_object_get (gtk, "gtk-application-prefer-dark-theme", &was_dark, NULL);
  if (was_dark != prefer_dark)
    g_object_set (gtk, "gtk-application-prefer-dark-theme", prefer_dark, NULL);
  gtk_css_provider_load_from_resource (self->colors, file);
}

static void
settings_changed_cb (BlSettings *settings, const char *key, BlApp *self)
{
  if (g_str_equal (key, "look"))
    apply_look (self);
}

static void
load_style (BlApp *self)
{
  g_autoptr (GtkCssProvider) style = gtk_css_provider_new ();
  GdkDisplay *display = gdk_display_get_default ();

  self->colors = gtk_css_provider_new ();
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (self->colors),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  gtk_css_provider_load_from_resource (style, RESOURCES "style.css");
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (style),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 1);
  apply_look (self);
}

static void
set_keys (BlApp *self)
{
  guint n;
  const BlVerb *verbs = bl_verbs (&n);

  for (guint i = 0; i < n; i++)
    if (verbs[i].keys[0] != NULL)
      gtk_application_set_accels_for_action (GTK_APPLICATION (self), verbs[i].action,
                                             verbs[i].keys);
}

static void
quit_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  GList *windows;

  while ((windows = gtk_application_get_windows (data)) != NULL)
    gtk_window_destroy (windows->data);
}

static void
bl_app_startup (GApplication *application)
{
  BlApp *self = BL_APP (application);
  static const GActionEntry entries[] = { { .name = "quit", .activate = quit_cb } };

  G_APPLICATION_CLASS (bl_app_parent_class)->startup (application);
  gtk_window_set_default_icon_name ("org.bedline.Studio");
  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
  g_signal_connect_object (self->settings, "changed", G_CALLBACK (settings_changed_cb), self, 0);
  load_style (self);
  set_keys (self);
}

static gboolean
leave_cb (gpointer data)
{
  quit_cb (NULL, NULL, data);
  return G_SOURCE_REMOVE;
}

/* The first frame is on the screen; with a design to open, the first crisp picture of it. */
static void
painted_cb (GdkFrameClock *clock, BlApp *self)
{
  GList *windows = gtk_application_get_windows (GTK_APPLICATION (self));
  BlWindow *window = windows != NULL && BL_IS_WINDOW (windows->data) ? windows->data : NULL;

  if (window == NULL || bl_window_is_opening (window)
      || (bl_window_get_board (window) != NULL
          && !bl_canvas_is_fresh (bl_window_get_canvas (window))))
    return;
  g_signal_handlers_disconnect_by_func (clock, painted_cb, self);
  gdk_display_sync (gtk_widget_get_display (GTK_WIDGET (window)));
  g_idle_add (leave_cb, self);
}

static void
shown_cb (GtkWidget *window, BlApp *self)
{
  g_signal_connect_object (gtk_widget_get_frame_clock (window), "after-paint",
                           G_CALLBACK (painted_cb), self, G_CONNECT_AFTER);
}

static GtkWidget *
add_window (BlApp *self)
{
  GtkWidget *window = bl_window_new (self);

  if (self->exit_after_startup)
    g_signal_connect (window, "realize", G_CALLBACK (shown_cb), self);
  gtk_window_present (GTK_WINDOW (window));
  return window;
}

static void
bl_app_activate (GApplication *application)
{
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (application));

  if (window != NULL)
    gtk_window_present (window);
  else
    add_window (BL_APP (application));
}

/* The same design twice would be two windows on one file: the first one comes forward instead. */
static BlWindow *
window_on (BlApp *self, const char *path)
{
  for (GList *l = gtk_application_get_windows (GTK_APPLICATION (self)); l != NULL; l = l->next)
    if (BL_IS_WINDOW (l->data) && g_strcmp0 (bl_window_get_path (l->data), path) == 0)
      return l->data;
  return NULL;
}

static void
bl_app_open (GApplication *application, GFile **files, int n_files, const char *hint)
{
  BlApp *self = BL_APP (application);

  for (int i = 0; i < n_files; i++)
    {
      g_autofree char *path = g_file_get_path (files[i]);
      BlWindow *window = path != NULL ? window_on (self, path) : NULL;

      if (window != NULL)
        {
          gtk_window_present (GTK_WINDOW (window));
          continue;
        }
      window = BL_WINDOW (add_window (self));
      if (path != NULL)
        bl_window_open (window, path);
      else
        bl_window_say (window, _ ("Only files on this machine can be opened: copy it here first"),
                       TRUE, NULL, NULL);
    }
}

static int
bl_app_handle_local_options (GApplication *application, GVariantDict *options)
{
  BlApp *self = BL_APP (application);

  self->exit_after_startup = g_variant_dict_contains (options, "exit-after-startup");
  return -1;
}

static void
bl_app_finalize (GObject *object)
{
  BlApp *self = BL_APP (object);

  g_clear_object (&self->settings);
  g_clear_object (&self->colors);
  g_clear_pointer (&self->library, bl_library_free);
  g_free (self->library_problem);
  G_OBJECT_CLASS (bl_app_parent_class)->finalize (object);
}

static void
bl_app_class_init (BlAppClass *klass)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bl_app_finalize;
  application_class->startup = bl_app_startup;
  application_class->activate = bl_app_activate;
  application_class->open = bl_app_open;
  application_class->handle_local_options = bl_app_handle_local_options;
}

static void
bl_app_init (BlApp *self)
{
  static const GOptionEntry options[] = {
    { "exit-after-startup", 0, G_OPTION_FLAG_HIDDEN, G_OPTION_ARG_NONE, NULL, NULL, NULL },
    { NULL }
  };

  self->settings = bl_settings_new (NULL);
  g_application_add_main_option_entries (G_APPLICATION (self), options);
}

BlApp *
bl_app_new (void)
{
  return g_object_new (BL_TYPE_APP, "application-id", "org.bedline.Studio",
                       "resource-base-path", "/org/bedline/Studio",
                       "flags", G_APPLICATION_HANDLES_OPEN | G_APPLICATION_NON_UNIQUE, NULL);
}
