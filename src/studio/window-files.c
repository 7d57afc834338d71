/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's files: new, open, photos, copies, and what is given to others. */

#include "config.h"

#include "studio/window-private.h"

#include "base/file.h"
#include "studio/form.h"
#include "studio/price-book.h"
#include "studio/sheets.h"
#include "studio/work.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>

#define SLIP_AFTER (300 * G_TIME_SPAN_MILLISECOND)

/* Long work: one slip with words, a bar and a way to cancel. */

static void
cancel_job_cb (BlWindow *self)
{
  if (self->job != NULL)
    g_cancellable_cancel (self->job);
  gtk_label_set_text (GTK_LABEL (self->job_words), _("Stopping…"));
}

GtkWidget *
bl_window_make_job_slip (BlWindow *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *cancel = gtk_button_new_with_label (_("Cancel"));

  self->job_slip = gtk_revealer_new ();
  gtk_revealer_set_transition_type (GTK_REVEALER (self->job_slip),
                                    GTK_REVEALER_TRANSITION_TYPE_SLIDE_UP);
  self->job_words = gtk_label_new ("");
  self->job_bar = gtk_progress_bar_new ();
  gtk_widget_set_hexpand (self->job_bar, TRUE);
  gtk_widget_set_valign (self->job_bar, GTK_ALIGN_CENTER);
  bl_form_call (self->job_bar, _("Progress"));
  gtk_widget_add_css_class (box, "banner");
  gtk_box_append (GTK_BOX (box), self->job_words);
  gtk_box_append (GTK_BOX (box), self->job_bar);
  gtk_box_append (GTK_BOX (box), cancel);
  g_signal_connect_swapped (cancel, "clicked", G_CALLBACK (cancel_job_cb), self);
  gtk_revealer_set_child (GTK_REVEALER (self->job_slip), box);
  return self->job_slip;
}

static gboolean
job_tick_cb (gpointer data)
{
  BlWindow *self = data;
  int done = g_atomic_int_get (&self->job_progress);

  /* What is soon over needs no slip. */
  if (g_get_monotonic_time () - self->job_start > SLIP_AFTER)
    gtk_revealer_set_reveal_child (GTK_REVEALER (self->job_slip), TRUE);

  if (done > 0)
    gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->job_bar), done / 1000.0);
  else
    gtk_progress_bar_pulse (GTK_PROGRESS_BAR (self->job_bar));
  return G_SOURCE_CONTINUE;
}

gboolean
bl_window_begin_job (BlWindow *self, const char *words)
{
  if (self->job != NULL)
    {
      bl_window_say (self, _ ("Other work is still going on: wait for it or cancel it first"), TRUE,
                     NULL, NULL);
      return FALSE;
    }
  self->job = g_cancellable_new ();
  g_atomic_int_set (&self->job_progress, 0);
  gtk_label_set_text (GTK_LABEL (self->job_words), words);
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->job_bar), 0);
  self->job_start = g_get_monotonic_time ();
  self->job_tick = g_timeout_add (100, job_tick_cb, self);
  return TRUE;
}

void
bl_window_end_job (BlWindow *self)
{
  g_clear_handle_id (&self->job_tick, g_source_remove);
  g_clear_object (&self->job);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->job_slip), FALSE);
}

gboolean
bl_window_is_stopped (const GError *error)
{
  return g_error_matches (error, BL_ERROR, BL_ERROR_CANCELLED)
         || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

/* Opening and making designs. */

static gboolean
prepare (BlDesign *design, gpointer data, GError **error)
{
  BlSettings *settings = data;
  BlAlternative first = { 0, 0, (char *) "A", (char *) "", (char *) "" };
  g_autofree char *language = bl_settings_get (settings, "language");

  if (bl_design_get_model (design)->alternatives->len == 0
      && !bl_design_put_alternative (design, &first, error))
    return FALSE;
  if (language != NULL && language[0] != '\0'
      && !bl_design_put_text (design, "language", language, error))
    return FALSE;
  return bl_design_put_text (design, "units", bl_units_name (bl_settings_get_units (settings)),
                             error);
}

static gboolean
focus_cb (gpointer data)
{
  BlWindow *self = data;

  if (self->board != NULL && self->canvas != NULL)
    gtk_widget_grab_focus (self->canvas);
  return G_SOURCE_REMOVE;
}

void
bl_window_show_design (BlWindow *self, BlDesign *design, gboolean fresh, BlStage stage)
{
  g_autoptr (BlBoard) board = bl_board_new (design, bl_app_get_library (self->app, NULL));
  const char *path = bl_design_get_path (design);
  const char *reason = bl_design_read_only_reason (design);

  if (fresh)
    bl_board_set_stage (board, stage);
  bl_window_set_board (self, board);
  if (path != NULL)
    {
      g_autofree char *base = g_path_get_basename (path);
      const char *title = bl_design_get_model (design)->title;

      bl_settings_add_recent (bl_app_get_settings (self->app), path,
                              title[0] != '\0' ? title : base);
    }
  if (reason != NULL)
    bl_window_say (self, reason, TRUE, _("Save a copy…"), "win.save-copy");
  /* Only what is on show can take the focus. */
  g_idle_add_full (G_PRIORITY_LOW, focus_cb, g_object_ref (self), g_object_unref);
}

static char *
free_path (const char *wanted)
{
  const char *folder = g_get_user_special_dir (G_USER_DIRECTORY_DOCUMENTS);
  g_autofree char *home
      = g_build_filename (folder != NULL ? folder : g_get_user_data_dir (), "Bedline", NULL);
  g_autofree char *base = g_strdelimit (g_strdup (wanted), "/\\:", '-');

  g_mkdir_with_parents (home, 0755);
  for (int i = 1;; i++)
    {
      g_autofree char *name = i == 1 ? g_strdup_printf ("%s.bedline", base)
                                     : g_strdup_printf ("%s %d.bedline", base, i);
      char *path = g_build_filename (home, name, NULL);

      if (!g_file_test (path, G_FILE_TEST_EXISTS))
        return path;
      g_free (path);
    }
}

static BlDesign *
make_design (BlWindow *self, const char *name)
{
  g_autofree char *path = free_path (name);
  g_autoptr (GError) error = NULL;
  g_autoptr (BlDesign) design = bl_design_create (path, &error);
  g_autofree char *trouble = NULL;

  if (design == NULL || !bl_design_begin (design, _("Start the design"), &error))
    {
      bl_window_say (self, error->message, TRUE, NULL, NULL);
      return NULL;
    }
  if (!prepare (design, bl_app_get_settings (self->app), &error)
      || !bl_design_begin_with_firm_prices (design, &trouble, &error))
    {
      bl_design_rollback (design);
      bl_window_say (self, error->message, TRUE, NULL, NULL);
      return NULL;
    }
  if (!bl_design_commit (design, &error))
    {
      bl_window_say (self, error->message, TRUE, NULL, NULL);
      return NULL;
    }
  if (trouble != NULL)
    bl_window_say (self, trouble, TRUE, NULL, NULL);
  return g_steal_pointer (&design);
}

void
bl_window_new_design (BlWindow *self, BlStage stage)
{
  g_autoptr (BlDesign) design = make_design (self, _("New design"));

  if (design != NULL)
    bl_window_show_design (self, design, TRUE, stage);
}

/* Photos: read and decoded on another thread before anything is stored, so that what is no
 * picture changes nothing. */

typedef struct
{
  char *path;
  GBytes *bytes;
  gboolean new_design;
} PhotoJob;

static void
photo_job_free (gpointer data)
{
  PhotoJob *job = data;

  g_clear_pointer (&job->bytes, g_bytes_unref);
  g_free (job->path);
  g_free (job);
}

static void
read_photo (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  PhotoJob *job = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (BlImage) image = NULL;
  char *contents = NULL;
  gsize length = 0;

  if (!bl_file_read (job->path, BL_IMAGE_MAX_BYTES, &contents, &length, &error))
    {
      g_task_return_error (task, g_steal_pointer (&error));
      return;
    }
  job->bytes = g_bytes_new_take (contents, length);
  image = bl_image_decode (job->bytes, cancellable, &error);
  if (image == NULL)
    g_task_return_error (task, g_steal_pointer (&error));
  else
    g_task_return_boolean (task, TRUE);
}

static gboolean
put_photo (BlDesign *design, gpointer data, GError **error)
{
  PhotoJob *job = data;
  g_autofree char *name = g_path_get_basename (job->path);

  return bl_design_put_photo (design, job->bytes, name, error);
}

static void
photo_read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  BlWindow *self = BL_WINDOW (source);
  PhotoJob *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  gboolean good = g_task_propagate_boolean (G_TASK (result), &error);

  bl_window_end_job (self);
  if (!good)
    {
      if (!bl_window_is_stopped (error))
        bl_window_say (self, error->message, TRUE, NULL, NULL);
      return;
    }
  if (job->new_design || self->board == NULL)
    {
      g_autofree char *base = g_path_get_basename (job->path);
      char *dot = strrchr (base, '.');
      g_autoptr (BlDesign) design = NULL;

      if (dot != NULL && dot != base)
        *dot = '\0';
      design = make_design (self, base);
      if (design == NULL)
        return;
      bl_window_show_design (self, design, TRUE, BL_STAGE_KNOWN);
    }
  if (bl_board_edit (self->board, _("Take a photo"), put_photo, job))
    {
      bl_board_set_view (self->board, BL_VIEW_PHOTO);
      gtk_widget_activate_action (GTK_WIDGET (self), "win.known", "s", "rectangle");
    }
}

void
bl_window_take_photo (BlWindow *self, const char *path, gboolean new_design)
{
  g_autoptr (GTask) task = NULL;
  PhotoJob *job;

  if (!bl_window_begin_job (self, _("Reading the photo…")))
    return;
  job = g_new0 (PhotoJob, 1);
  job->path = g_strdup (path);
  job->new_design = new_design;
  task = bl_work_new (self, self->job, photo_read_cb, NULL);
  g_task_set_source_tag (task, bl_window_take_photo);
  g_task_set_task_data (task, job, photo_job_free);
  g_task_run_in_thread (task, read_photo);
}

void
bl_window_new_from_photo (BlWindow *self, const char *path)
{
  bl_window_take_photo (self, path, TRUE);
}

/* Choosers. */

typedef struct
{
  BlWindow *window;
  GtkFileChooserNative *native;
  void (*chosen) (BlWindow *self, const char *path, int kind);
  int kind;
} Choice;

static void
responded_cb (GtkNativeDialog *native, int response, Choice *choice)
{
  if (response == GTK_RESPONSE_ACCEPT)
    {
      g_autoptr (GFile) file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (native));
      g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;
      g_autofree char *folder = path != NULL ? g_path_get_dirname (path) : NULL;

      if (path != NULL)
        {
          bl_settings_set (bl_app_get_settings (choice->window->app), "folder", folder);
          choice->chosen (choice->window, path, choice->kind);
        }
      else
        bl_window_say (choice->window,
                       _ ("Only files on this machine can be used: copy it here first"), TRUE, NULL,
                       NULL);
    }
  g_object_unref (choice->native);
  g_object_unref (choice->window);
  g_free (choice);
}

void
bl_window_choose (BlWindow *self, const char *title, const char *name, const char *filter_name,
                  const char *const *patterns, int kind,
                  void (*chosen) (BlWindow *, const char *, int))
{
  Choice *choice = g_new0 (Choice, 1);
  GtkFileChooserAction action
      = name != NULL ? GTK_FILE_CHOOSER_ACTION_SAVE : GTK_FILE_CHOOSER_ACTION_OPEN;
  g_autofree char *folder = bl_settings_get (bl_app_get_settings (self->app), "folder");
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();

  choice->window = g_object_ref (self);
  choice->chosen = chosen;
  choice->kind = kind;
  choice->native = gtk_file_chooser_native_new (title, GTK_WINDOW (self), action, NULL, NULL);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (choice->native), TRUE);
  for (guint i = 0; patterns[i] != NULL; i++)
    gtk_file_filter_add_suffix (filter, patterns[i] + 2);
  gtk_file_filter_set_name (filter, filter_name);
  if (patterns[0] != NULL)
    gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (choice->native), filter);
  if (folder != NULL && g_file_test (folder, G_FILE_TEST_IS_DIR))
    {
      g_autoptr (GFile) file = g_file_new_for_path (folder);

      gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (choice->native), file, NULL);
    }
  if (name != NULL)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (choice->native), name);
  g_signal_connect (choice->native, "response", G_CALLBACK (responded_cb), choice);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (choice->native));
}

static void
photo_chosen (BlWindow *self, const char *path, int new_design)
{
  bl_window_take_photo (self, path, new_design);
}

void
bl_window_choose_photo (BlWindow *self, gboolean new_design)
{
  static const char *const patterns[] = { "*.jpg", "*.jpeg", "*.png", NULL };

  bl_window_choose (self, _("Choose a photo"), NULL, _("Photos"), patterns, new_design, photo_chosen);
}

static void
design_chosen (BlWindow *self, const char *path, int kind)
{
  bl_window_open (self, path);
}

void
bl_window_choose_design (BlWindow *self)
{
  static const char *const patterns[] = { "*.bedline", NULL };

  bl_window_choose (self, _("Open a design"), NULL, _("Bedline designs"), patterns, 0, design_chosen);
}

static void
copy_chosen (BlWindow *self, const char *path, int kind)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *words = NULL;
  g_autofree char *full = g_str_has_suffix (path, ".bedline")
                              ? g_strdup (path)
                              : g_strconcat (path, ".bedline", NULL);

  if (self->board == NULL)
    return;
  if (!bl_design_save_copy (bl_board_get_design (self->board), full, &error))
    {
      bl_window_say (self, error->message, TRUE, NULL, NULL);
      return;
    }
  words = g_strdup_printf (_("Copied to %s"), full);
  bl_window_say (self, words, FALSE, NULL, NULL);
}

void
bl_window_choose_copy (BlWindow *self)
{
  static const char *const patterns[] = { "*.bedline", NULL };
  g_autofree char *base = bl_window_get_path (self) != NULL
                              ? g_path_get_basename (bl_window_get_path (self))
                              : g_strdup ("design.bedline");
  g_autofree char *name = g_strdup_printf (_("Copy of %s"), base);

  bl_window_choose (self, _("Save a copy"), name, _("Bedline designs"), patterns, 0, copy_chosen);
}

/* The person's mark. */

static void
mark_chosen (BlWindow *self, const char *path, int kind)
{
  g_autoptr (GError) error = NULL;

  if (!bl_papers_keep_mark (bl_app_get_settings (self->app), path, &error))
    bl_window_say (self, error->message, TRUE, NULL, NULL);
}

void
bl_window_choose_mark (BlWindow *self)
{
  static const char *const patterns[] = { "*.svg", "*.png", "*.jpg", "*.jpeg", NULL };

  bl_window_choose (self, _("Choose your mark"), NULL, _("Pictures"), patterns, 0, mark_chosen);
}

void
bl_window_forget_mark (BlWindow *self)
{
  bl_papers_keep_mark (bl_app_get_settings (self->app), NULL, NULL);
}

/* Giving. */

static void
given_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (BlWindow) self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = bl_give_finish (result, &error);
  g_autofree char *words = NULL;
  guint n;

  bl_window_end_job (self);
  if (path == NULL)
    {
      if (!bl_window_is_stopped (error))
        bl_window_say (self, error->message, TRUE, NULL, NULL);
      return;
    }
  n = bl_give_n_short (result);
  words = n == 0 ? g_strdup_printf (_("Written to %s"), path)
                 : g_strdup_printf (ngettext ("Written to %s; %u kind of plant is short at the nursery, "
                                              "see its columns there",
                                              "Written to %s; %u kinds of plants are short at the "
                                              "nursery, see its columns there", n), path, n);
  bl_window_say (self, words, n > 0, NULL, NULL);
}

static void
gift_chosen (BlWindow *self, const char *path, int kind)
{
  const char *const *patterns = bl_give_patterns ((BlGiveKind) kind);
  g_autoptr (GArray) ids = bl_sheet_compare_chosen (self->compare_sheet);
  g_autofree char *full = NULL;
  g_autofree char *words = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BlPapersWishes) wishes = bl_papers_wishes_new (bl_app_get_settings (self->app), &error);
  gboolean has_ending = FALSE;

  if (self->board == NULL)
    return;
  for (guint i = 0; patterns[i] != NULL; i++)
    has_ending = has_ending || g_str_has_suffix (path, patterns[i] + 1);
  full = has_ending || patterns[0] == NULL ? g_strdup (path) : g_strconcat (path, patterns[0] + 1, NULL);
  if (wishes == NULL)
    {
      bl_window_say (self, error->message, TRUE, NULL, NULL);
      return;
    }
  words = g_strdup_printf (_("Writing: %s"), bl_give_title ((BlGiveKind) kind));
  if (!bl_window_begin_job (self, words))
    return;
  bl_give_async (self->board, (BlGiveKind) kind, full, ids, g_steal_pointer (&wishes), self->job,
                 &self->job_progress, given_cb, g_object_ref (self));
}

void
bl_window_choose_gift (BlWindow *self, BlGiveKind kind)
{
  g_autofree char *name = bl_give_suggest (self->board, kind);

  bl_window_choose (self, bl_give_title (kind), name, bl_give_title (kind), bl_give_patterns (kind), kind,
          gift_chosen);
}
