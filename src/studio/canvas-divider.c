/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The canvas divided: left of the divider the photo as it is, right of it as proposed. */

#include "config.h"

#include "studio/canvas-private.h"
#include "studio/divider.h"

gboolean
bl_canvas_is_divided (BlCanvas *self)
{
  return self->divider != NULL && self->scene != NULL && self->scene->photo != NULL
         && self->scene->view == BL_VIEW_PHOTO && bl_canvas_viewport (self)->view == BL_VIEW_PHOTO;
}

static void
ready (gpointer data, gpointer unused)
{
  gtk_widget_queue_draw (data);
}

static void
divider_moved_cb (BlCanvas *self)
{
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
bl_canvas_set_divided (BlCanvas *self, gboolean divided)
{
  if (divided == (self->divider != NULL))
    return;
  if (!divided)
    {
      g_clear_pointer (&self->before, bl_tiles_free);
      g_clear_pointer (&self->divider, gtk_widget_unparent);
    }
  else if (self->board != NULL)
    {
      self->before = bl_tiles_new (self->stamps, ready, self);
      bl_tiles_set_photo_only (self->before);
      bl_tiles_set_scene (self->before, self->scene);
      self->divider = bl_divider_new ();
      g_signal_connect_object (self->divider, "moved", G_CALLBACK (divider_moved_cb), self,
                               G_CONNECT_SWAPPED);
      gtk_widget_set_parent (self->divider, GTK_WIDGET (self));
      gtk_widget_set_child_visible (self->divider, bl_canvas_is_divided (self));
    }
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

gboolean
bl_canvas_get_divided (BlCanvas *self)
{
  return self->divider != NULL;
}

GtkWidget *
bl_canvas_get_divider (BlCanvas *self)
{
  return self->divider;
}

void
bl_canvas_snapshot_before (BlCanvas *self, GtkSnapshot *snapshot)
{
  int sf = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  int height = gtk_widget_get_height (GTK_WIDGET (self));
  double x = round (width * bl_divider_get_share (BL_DIVIDER (self->divider)));

  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float)x, (float)height));
  bl_tiles_snapshot (self->before, snapshot, bl_canvas_viewport (self), width * sf, height * sf, sf,
                     self->settle == 0);
  gtk_snapshot_pop (snapshot);
}

void
bl_canvas_push_after (BlCanvas *self, GtkSnapshot *snapshot)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  double x = round (width * bl_divider_get_share (BL_DIVIDER (self->divider)));

  gtk_snapshot_push_clip (snapshot,
                          &GRAPHENE_RECT_INIT ((float)x, 0, (float)(width - x),
                                               (float)gtk_widget_get_height (GTK_WIDGET (self))));
}

void
bl_canvas_allocate_divider (BlCanvas *self, int width, int height)
{
  double share;
  int x;

  if (self->divider == NULL)
    return;
  share = bl_divider_get_share (BL_DIVIDER (self->divider));
  x = (int)round (width * share) - BL_DIVIDER_WIDTH / 2;
  gtk_widget_size_allocate (self->divider, &(GtkAllocation){ x, 0, BL_DIVIDER_WIDTH, height }, -1);
}

void
bl_canvas_divider_take_scene (BlCanvas *self)
{
  if (self->divider == NULL)
    return;
  bl_tiles_set_scene (self->before, self->scene);
  gtk_widget_set_child_visible (self->divider, bl_canvas_is_divided (self));
}
