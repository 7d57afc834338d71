/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Work that waits until the first frame is on the screen. */

#include "config.h"

#include "studio/later.h"

typedef struct
{
  GtkWidget *widget; /* owned once the frame was painted */
  guint ms;
  void (*work) (GtkWidget *widget);
  gulong painted;
} Later;

static gboolean
rested_cb (gpointer data)
{
  Later *later = data;

  /* Whoever closed the window meanwhile waits for nothing of it. */
  if (gtk_widget_get_realized (later->widget))
    later->work (later->widget);
  return G_SOURCE_REMOVE;
}

static void
done_cb (gpointer data)
{
  Later *later = data;

  g_object_unref (later->widget);
  g_free (later);
}

static void
painted_cb (GdkFrameClock *clock, Later *later)
{
  Later *own = g_memdup2 (later, sizeof *later);

  g_object_ref (own->widget);
  g_timeout_add_full (G_PRIORITY_LOW, own->ms, rested_cb, own, done_cb);
  /* Frees @later. */
  g_signal_handler_disconnect (clock, later->painted);
}

static void
free_later (gpointer data, GClosure *closure)
{
  g_free (data);
}

static void
realized_cb (GtkWidget *widget, Later *later)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (widget);
  Later *own = g_memdup2 (later, sizeof *later);
  GClosure *closure = g_cclosure_new (G_CALLBACK (painted_cb), own, free_later);

  /* The clock may outlive the widget, not the other way round. */
  g_object_watch_closure (G_OBJECT (widget), closure);
  own->painted = g_signal_connect_closure (clock, "after-paint", closure, TRUE);
  g_signal_handlers_disconnect_by_func (widget, realized_cb, later);
}

void
bl_later (GtkWidget *widget, guint ms, void (*work) (GtkWidget *widget))
{
  Later *later = g_new0 (Later, 1);

  later->widget = widget;
  later->ms = ms;
  later->work = work;
  g_signal_connect_data (widget, "realize", G_CALLBACK (realized_cb), later, free_later, 0);
}
