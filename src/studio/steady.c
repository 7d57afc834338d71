/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A page in the middle of what scrolls, whose width belongs to no height. */

#include "config.h"

#include "studio/steady.h"

#define BL_TYPE_STEADY (bl_steady_get_type ())
G_DECLARE_FINAL_TYPE (BlSteady, bl_steady, BL, STEADY, GtkWidget)

struct _BlSteady
{
  GtkWidget parent_instance;

  GtkWidget *child;
};

G_DEFINE_FINAL_TYPE (BlSteady, bl_steady, GTK_TYPE_WIDGET)

static GtkSizeRequestMode
bl_steady_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

/* No wider than it wants to be. */
static int
child_width (BlSteady *self, int width)
{
  int natural;

  gtk_widget_measure (self->child, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  return width < 0 ? natural : MIN (width, natural);
}

static void
bl_steady_measure (GtkWidget *widget,
                   GtkOrientation orientation,
                   int for_size,
                   int *minimum,
                   int *natural,
                   int *minimum_baseline,
                   int *natural_baseline)
{
  BlSteady *self = BL_STEADY (widget);

  gtk_widget_measure (self->child, orientation,
                      orientation == GTK_ORIENTATION_HORIZONTAL ? -1 : child_width (self, for_size),
                      minimum, natural, minimum_baseline, natural_baseline);
}

static void
bl_steady_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  BlSteady *self = BL_STEADY (widget);
  int own = child_width (self, width), least, margin = (width - own) / 2;
  graphene_point_t left = { (float) margin, 0 };

  gtk_widget_measure (self->child, GTK_ORIENTATION_VERTICAL, own, &least, NULL, NULL, NULL);
  gtk_widget_allocate (self->child, own, MAX (height, least), baseline,
                       gsk_transform_translate (NULL, &left));
}

static void
bl_steady_dispose (GObject *object)
{
  g_clear_pointer (&BL_STEADY (object)->child, gtk_widget_unparent);
  G_OBJECT_CLASS (bl_steady_parent_class)->dispose (object);
}

static void
bl_steady_class_init (BlSteadyClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bl_steady_dispose;
  widget_class->get_request_mode = bl_steady_get_request_mode;
  widget_class->measure = bl_steady_measure;
  widget_class->size_allocate = bl_steady_size_allocate;
}

static void
bl_steady_init (BlSteady *self)
{
}

GtkWidget *
bl_steady_new (GtkWidget *child)
{
  BlSteady *self = g_object_new (BL_TYPE_STEADY, NULL);

  self->child = child;
  gtk_widget_set_parent (child, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
