/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A part of the window that shows something of the board and keeps up with it. */

#include "config.h"

#include "studio/part.h"

typedef struct
{
  BlBoard *board;
  GSignalGroup *signals;
  guint what;
  guint idle;
} BlPartPrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (BlPart, bl_part, GTK_TYPE_BOX)

static BlPartPrivate *
get (BlPart *self)
{
  return bl_part_get_instance_private (self);
}

void
bl_part_flush (BlPart *self)
{
  BlPartPrivate *priv = get (self);
  guint what = priv->what;

  g_clear_handle_id (&priv->idle, g_source_remove);
  priv->what = 0;
  if (what != 0 && priv->board != NULL && BL_PART_GET_CLASS (self)->update != NULL)
    BL_PART_GET_CLASS (self)->update (self, what);
}

static gboolean
idle_cb (gpointer data)
{
  BlPart *self = data;

  get (self)->idle = 0;
  bl_part_flush (self);
  return G_SOURCE_REMOVE;
}

void
bl_part_touch (BlPart *self, guint what)
{
  BlPartPrivate *priv = get (self);

  priv->what |= what;
  if (priv->idle == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    priv->idle = g_idle_add_full (G_PRIORITY_HIGH_IDLE + 15, idle_cb, self, NULL);
}

static void
changed_cb (BlBoard *board, guint what, BlPart *self)
{
  bl_part_touch (self, what);
}

BlBoard *
bl_part_get_board (BlPart *self)
{
  return get (self)->board;
}

void
bl_part_set_board (BlPart *self, BlBoard *board)
{
  BlPartPrivate *priv = get (self);

  if (!g_set_object (&priv->board, board))
    return;
  g_signal_group_set_target (priv->signals, board);
  priv->what = 0;
  if (board != NULL)
    bl_part_touch (self, BL_BOARD_ALL);
}

static void
bl_part_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (bl_part_parent_class)->map (widget);
  bl_part_flush (BL_PART (widget));
}

static void
bl_part_dispose (GObject *object)
{
  BlPartPrivate *priv = get (BL_PART (object));

  g_clear_handle_id (&priv->idle, g_source_remove);
  g_signal_group_set_target (priv->signals, NULL);
  g_clear_object (&priv->board);
  G_OBJECT_CLASS (bl_part_parent_class)->dispose (object);
}

static void
bl_part_finalize (GObject *object)
{
  g_clear_object (&get (BL_PART (object))->signals);
  G_OBJECT_CLASS (bl_part_parent_class)->finalize (object);
}

static void
bl_part_class_init (BlPartClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bl_part_dispose;
  G_OBJECT_CLASS (klass)->finalize = bl_part_finalize;
  GTK_WIDGET_CLASS (klass)->map = bl_part_map;
}

static void
bl_part_init (BlPart *self)
{
  BlPartPrivate *priv = get (self);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  priv->signals = g_signal_group_new (BL_TYPE_BOARD);
  g_signal_group_connect (priv->signals, "changed", G_CALLBACK (changed_cb), self);
}
