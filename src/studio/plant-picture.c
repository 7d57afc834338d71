/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page of a plant's form for its own cut-out picture: the file, how high the plant in it stands,
 * where it meets the ground, and in which months it stands for the drawn figure. */

#include "config.h"

#include "studio/plant-picture.h"

#include "base/file.h"
#include "draw/cutout.h"
#include "photo/image.h"
#include "studio/form.h"
#include "studio/plant-field.h"
#include "studio/work.h"

#include <glib/gi18n.h>

#define SIDE 260

struct _BlPlantPicture
{
  GtkBox parent_instance;

  GtkWidget *choose, *remove, *area, *height, *from, *to, *note, *spinner, *details;
  BlUnits units;
  GBytes *bytes;
  BlPlant *shown;   /* a plant that has nothing but this picture */
  BlCutoutShape shape;
  GtkNativeDialog *native;
  GCancellable *job;
  gboolean setting;
};

G_DEFINE_FINAL_TYPE (BlPlantPicture, bl_plant_picture, GTK_TYPE_BOX)

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void
changed (BlPlantPicture *self)
{
  gtk_widget_queue_draw (self->area);
  if (!self->setting)
    g_signal_emit (self, signals[CHANGED], 0);
}

static void
tell (BlPlantPicture *self, const char *sentence, gboolean wrong)
{
  gtk_label_set_text (GTK_LABEL (self->note), sentence != NULL ? sentence : "");
  gtk_widget_set_visible (self->note, sentence != NULL);
  if (wrong)
    gtk_widget_add_css_class (self->note, "wrong");
  else
    gtk_widget_remove_css_class (self->note, "wrong");
}

static void
show_state (BlPlantPicture *self)
{
  gboolean busy = self->job != NULL, has = self->bytes != NULL;
  const char *label = busy  ? _("Stop reading it")
                      : has ? _("Choose another picture…")
                            : _("Choose a picture…");

  gtk_button_set_label (GTK_BUTTON (self->choose), label);
  bl_form_call (self->choose, label);
  gtk_widget_set_visible (self->spinner, busy);
  gtk_spinner_set_spinning (GTK_SPINNER (self->spinner), busy);
  gtk_widget_set_sensitive (self->remove, has && !busy);
  gtk_widget_set_visible (self->details, has);
}

/* Takes over a picture that was read, or none. */
static void
hold (BlPlantPicture *self, GBytes *bytes, const BlCutoutShape *shape)
{
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_clear_pointer (&self->shown, bl_plant_unref);
  if (bytes != NULL)
    {
      self->bytes = g_bytes_ref (bytes);
      self->shape = *shape;
      self->shown = g_new0 (BlPlant, 1);
      g_atomic_ref_count_init (&self->shown->refs);
      self->shown->cutout = g_new0 (BlCutout, 1);
      g_mutex_init (&self->shown->cutout->lock);
      self->shown->cutout->sha256 = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
      self->shown->cutout->bytes = g_bytes_ref (bytes);
    }
  show_state (self);
  changed (self);
}

/* The picture's rectangle in its area. */
static graphene_rect_t
place (BlPlantPicture *self)
{
  double h = SIDE - 16, w = h * self->shape.aspect;

  if (w > SIDE - 16)
    w = SIDE - 16, h = w / self->shape.aspect;
  return GRAPHENE_RECT_INIT ((float) ((SIDE - w) / 2), (float) ((SIDE - h) / 2), (float) w, (float) h);
}

static void
draw (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  BlPlantPicture *self = data;
  graphene_rect_t at;
  double x, y;

  if (self->shown == NULL)
    return;
  at = place (self);
  x = at.origin.x + self->shape.foot_x * at.size.width;
  y = at.origin.y + self->shape.foot_y * at.size.height;
  self->shown->cutout->foot_x = self->shape.foot_x;
  self->shown->cutout->foot_y = self->shape.foot_y;
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, at.size.height, at.size.height);
  /* From the foot to the top it is as high as the foot lies down. */
  bl_cutout_draw (cr, self->shown, &(BlLook) { .cutout = MAX (self->shape.foot_y, 0.2) }, 0,
                  at.size.height * gtk_widget_get_scale_factor (GTK_WIDGET (area)));
  cairo_restore (cr);
  for (int pass = 0; pass < 2; pass++)
    {
      cairo_set_source_rgb (cr, pass ? 0.75 : 1, pass ? 0.2 : 1, pass ? 0.15 : 1);
      cairo_set_line_width (cr, pass ? 1.4 : 3.4);
      cairo_move_to (cr, at.origin.x - 6, y);
      cairo_line_to (cr, at.origin.x + at.size.width + 6, y);
      cairo_move_to (cr, x, y - 9);
      cairo_line_to (cr, x, y + 9);
      cairo_stroke (cr);
    }
}

static void
move_foot (BlPlantPicture *self, double x, double y)
{
  graphene_rect_t at;

  if (self->shown == NULL)
    return;
  at = place (self);
  self->shape.foot_x = CLAMP ((x - at.origin.x) / at.size.width, 0, 1);
  self->shape.foot_y = CLAMP ((y - at.origin.y) / at.size.height, 0.2, 1);
  changed (self);
}

static void
pressed_cb (GtkGestureClick *gesture, int n, double x, double y, BlPlantPicture *self)
{
  gtk_widget_grab_focus (self->area);
  move_foot (self, x, y);
}

static void
dragged_cb (GtkGestureDrag *gesture, double dx, double dy, BlPlantPicture *self)
{
  double x, y;

  if (gtk_gesture_drag_get_start_point (gesture, &x, &y))
    move_foot (self, x + dx, y + dy);
}

static gboolean
key_cb (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state,
        BlPlantPicture *self)
{
  double dx = key == GDK_KEY_Left ? -1 : key == GDK_KEY_Right ? 1 : 0;
  double dy = key == GDK_KEY_Up ? -1 : key == GDK_KEY_Down ? 1 : 0;
  graphene_rect_t at;

  if (self->shown == NULL || (dx == 0 && dy == 0))
    return FALSE;
  at = place (self);
  move_foot (self, at.origin.x + self->shape.foot_x * at.size.width + dx,
             at.origin.y + self->shape.foot_y * at.size.height + dy);
  return TRUE;
}

/* Reading a file. */

typedef struct
{
  char *path;
  BlCutoutShape shape;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;

  g_free (job->path);
  g_free (job);
}

static void
read_it (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = NULL;
  GBytes *kept = NULL;
  char *text;
  gsize length;

  if (bl_file_read (job->path, BL_IMAGE_MAX_BYTES, &text, &length, &error))
    {
      bytes = g_bytes_new_take (text, length);
      kept = bl_cutout_take (bytes, &job->shape, &error);
    }
  if (g_task_return_error_if_cancelled (task))
    g_clear_pointer (&kept, g_bytes_unref);
  else if (kept == NULL)
    g_task_return_error (task, g_steal_pointer (&error));
  else
    g_task_return_pointer (task, kept, (GDestroyNotify) g_bytes_unref);
}

static void
was_read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  BlPlantPicture *self = BL_PLANT_PICTURE (source);
  GTask *task = G_TASK (result);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_task_propagate_pointer (task, &error);

  if (self->job != g_task_get_cancellable (task))
    return;
  g_clear_object (&self->job);
  tell (self, error != NULL ? error->message : NULL, TRUE);
  if (bytes != NULL)
    hold (self, bytes, &((Job *) g_task_get_task_data (task))->shape);
  else
    show_state (self);
}

static void
stop (BlPlantPicture *self)
{
  if (self->job != NULL)
    g_cancellable_cancel (self->job);
  g_clear_object (&self->job);
}

void
bl_plant_picture_take (BlPlantPicture *self, const char *path)
{
  g_autoptr (GTask) task = NULL;
  Job *job = g_new0 (Job, 1);

  stop (self);
  self->job = g_cancellable_new ();
  job->path = g_strdup (path);
  task = bl_work_new (self, self->job, was_read_cb, NULL);
  g_task_set_source_tag (task, bl_plant_picture_take);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, read_it);
  tell (self, NULL, FALSE);
  show_state (self);
}

static void
responded_cb (GtkNativeDialog *native, int response, BlPlantPicture *self)
{
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT
                               ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (native)) : NULL;
  g_autofree char *path = file != NULL ? g_file_get_path (file) : NULL;

  if (path != NULL)
    bl_plant_picture_take (self, path);
  else if (file != NULL)
    tell (self, _("Only files on this machine can be used: copy it here first"), TRUE);
  g_clear_object (&self->native);
}

static void
choose_cb (BlPlantPicture *self)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();

  if (self->job != NULL)
    {
      stop (self);
      show_state (self);
      return;
    }
  g_clear_object (&self->native);
  self->native = GTK_NATIVE_DIALOG (gtk_file_chooser_native_new (
      _("A cut-out picture of the plant"), GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))),
      GTK_FILE_CHOOSER_ACTION_OPEN, NULL, NULL));
  gtk_file_filter_add_suffix (filter, "png");
  gtk_file_filter_add_suffix (filter, "svg");
  gtk_file_filter_set_name (filter, _("Pictures, PNG or SVG"));
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (self->native), filter);
  gtk_native_dialog_set_modal (self->native, TRUE);
  g_signal_connect (self->native, "response", G_CALLBACK (responded_cb), self);
  gtk_native_dialog_show (self->native);
}

static void
remove_cb (BlPlantPicture *self)
{
  hold (self, NULL, NULL);
}

/* In and out. */

void
bl_plant_picture_set (BlPlantPicture *self, const BlPlant *plant)
{
  const BlCutout *cutout = plant != NULL ? plant->cutout : NULL;
  BlCutoutShape shape;
  gboolean has = cutout != NULL && cutout->bytes != NULL && bl_cutout_measure (cutout->bytes, &shape);
  g_autofree char *shown = NULL;

  self->setting = TRUE;
  stop (self);
  tell (self, NULL, FALSE);
  if (has)
    {
      shape.foot_x = cutout->foot_x;
      shape.foot_y = cutout->foot_y;
      shown = bl_length_format (cutout->height, self->units);
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->from), (guint) cutout->from);
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->to), (guint) cutout->to);
    }
  gtk_editable_set_text (GTK_EDITABLE (self->height), shown != NULL ? shown : "");
  hold (self, has ? cutout->bytes : NULL, &shape);
  self->setting = FALSE;
}

gboolean
bl_plant_picture_is_busy (BlPlantPicture *self)
{
  return self->job != NULL;
}

GBytes *
bl_plant_picture_bytes (BlPlantPicture *self)
{
  return self->bytes;
}

char *
bl_plant_picture_value (BlPlantPicture *self, double usual)
{
  const char *text = bl_form_get_text (self->height);
  char cm[G_ASCII_DTOSTR_BUF_SIZE], x[G_ASCII_DTOSTR_BUF_SIZE], y[G_ASCII_DTOSTR_BUF_SIZE];
  guint from = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->from));
  guint to = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->to));
  double height = usual;

  if (self->bytes == NULL)
    return NULL;
  if (text[0] != '\0' && !bl_length_parse (text, self->units, &height, NULL))
    height = 0; /* the check says what is wrong */
  bl_form_set_wrong (self->height, !(height >= 0.01 && height <= 60));
  return g_strdup_printf ("%s %s %s %s %u %u", self->shown->cutout->sha256,
                          g_ascii_formatd (cm, sizeof cm, "%.1f", height * 100),
                          g_ascii_formatd (x, sizeof x, "%.4f", self->shape.foot_x),
                          g_ascii_formatd (y, sizeof y, "%.4f", self->shape.foot_y),
                          from == 0 ? to : from, to == 0 ? from : to);
}

static void
bl_plant_picture_dispose (GObject *object)
{
  BlPlantPicture *self = BL_PLANT_PICTURE (object);

  stop (self);
  g_clear_object (&self->native);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_clear_pointer (&self->shown, bl_plant_unref);
  G_OBJECT_CLASS (bl_plant_picture_parent_class)->dispose (object);
}

static void
bl_plant_picture_class_init (BlPlantPictureClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bl_plant_picture_dispose;
  signals[CHANGED] = g_signal_new ("changed", BL_TYPE_PLANT_PICTURE, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
}

static GtkWidget *
make_area (BlPlantPicture *self)
{
  GtkGesture *click = gtk_gesture_click_new (), *drag = gtk_gesture_drag_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->area = gtk_drawing_area_new ();
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (self->area), SIDE);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (self->area), SIDE);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->area), draw, self, NULL);
  gtk_widget_set_halign (self->area, GTK_ALIGN_START);
  gtk_widget_set_focusable (self->area, TRUE);
  gtk_widget_add_css_class (self->area, "thumbnail");
  bl_form_call (self->area, _("Where the plant meets the ground: click, or move with the arrow keys"));
  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (dragged_cb), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (self->area, GTK_EVENT_CONTROLLER (click));
  gtk_widget_add_controller (self->area, GTK_EVENT_CONTROLLER (drag));
  gtk_widget_add_controller (self->area, keys);
  return self->area;
}

static GtkWidget *
make_month (BlPlantPicture *self, const char *name)
{
  const char *const *titles = bl_field_month_titles ();
  const char *words[14] = { NULL };
  GtkWidget *choice;

  for (guint i = 0; i <= 12; i++)
    words[i] = i == 0 ? _("All year") : _(titles[i]);
  choice = bl_form_choice (words);
  bl_form_call (choice, name);
  g_signal_connect_swapped (choice, "notify::selected", G_CALLBACK (changed), self);
  return choice;
}

static GtkWidget *
make_details (BlPlantPicture *self)
{
  GtkWidget *right = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);

  self->details = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18);
  self->height = bl_form_entry (_("as the plant's usual height"));
  g_signal_connect_swapped (self->height, "changed", G_CALLBACK (changed), self);
  self->from = make_month (self, _("Shown from"));
  self->to = make_month (self, _("Shown to"));
  gtk_box_append (GTK_BOX (right), bl_form_field (_("From the foot to the top it is"), self->height));
  gtk_box_append (GTK_BOX (right), bl_form_field (_("Shown from"), self->from));
  gtk_box_append (GTK_BOX (right), bl_form_field (_("Shown to"), self->to));
  gtk_box_append (GTK_BOX (right),
                  bl_form_text (_("In other months the drawn figure stands. A younger plant is drawn "
                                  "as much smaller as it is."), "dim"));
  gtk_widget_set_hexpand (right, TRUE);
  gtk_box_append (GTK_BOX (self->details), make_area (self));
  gtk_box_append (GTK_BOX (self->details), right);
  return self->details;
}

static void
bl_plant_picture_init (BlPlantPicture *self)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *what;

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 12);
  what = bl_form_text (_("Your own picture of the plant can stand in the scenes in place of the drawn "
                         "figure: cut out of its background, as PNG with transparency or as SVG."),
                       "dim");
  gtk_label_set_max_width_chars (GTK_LABEL (what), 60);
  self->choose = bl_form_button (_("Choose a picture…"), NULL, NULL);
  self->remove = bl_form_button (_("Take it away"), NULL, NULL);
  self->spinner = gtk_spinner_new ();
  self->note = bl_form_text ("", NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (self->note), 60);
  g_signal_connect_swapped (self->choose, "clicked", G_CALLBACK (choose_cb), self);
  g_signal_connect_swapped (self->remove, "clicked", G_CALLBACK (remove_cb), self);
  gtk_box_append (GTK_BOX (row), self->choose);
  gtk_box_append (GTK_BOX (row), self->remove);
  gtk_box_append (GTK_BOX (row), self->spinner);
  gtk_box_append (GTK_BOX (self), what);
  gtk_box_append (GTK_BOX (self), row);
  gtk_box_append (GTK_BOX (self), self->note);
  gtk_box_append (GTK_BOX (self), make_details (self));
  tell (self, NULL, FALSE);
  show_state (self);
}

GtkWidget *
bl_plant_picture_new (BlUnits units)
{
  BlPlantPicture *self = g_object_new (BL_TYPE_PLANT_PICTURE, NULL);

  self->units = units;
  return GTK_WIDGET (self);
}
