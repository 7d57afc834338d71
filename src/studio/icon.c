/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Our own icons, drawn from their outlines in the colour of the words beside them. */

#include "config.h"

#include "studio/icon.h"

#include <string.h>

#define FOLDER "/org/bedline/Studio/icons/scalable/actions/"
#define SIDE 16.0

typedef struct
{
  char step; /* M, L or Z */
  double x, y;
} Mark;

struct _BlIcon
{
  GObject parent_instance;

  char *name;
  GArray *outline; /* of Mark */
};

enum
{
  PROP_0,
  PROP_NAME,
  N_PROPS
};

static void
draw (BlIcon *self, GdkSnapshot *snapshot, double width, double height, const GdkRGBA *color)
{
  cairo_t *cr = gtk_snapshot_append_cairo (
      snapshot, &GRAPHENE_RECT_INIT (0, 0, (float)width, (float)height));

  cairo_scale (cr, width / SIDE, height / SIDE);
  for (guint i = 0; i < self->outline->len; i++)
    {
      const Mark *mark = &g_array_index (self->outline, Mark, i);

      if (mark->step == 'M')
        cairo_move_to (cr, mark->x, mark->y);
      else if (mark->step == 'L')
        cairo_line_to (cr, mark->x, mark->y);
      else
        cairo_close_path (cr);
    }
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
  gdk_cairo_set_source_rgba (cr, color);
  cairo_fill (cr);
  cairo_destroy (cr);
}

static void
snapshot_plain (GdkPaintable *paintable, GdkSnapshot *snapshot, double width, double height)
{
  draw (BL_ICON (paintable), snapshot, width, height, &(GdkRGBA) { 0, 0, 0, 1 });
}

static void
snapshot_symbolic (GtkSymbolicPaintable *paintable,
                   GdkSnapshot *snapshot,
                   double width,
                   double height,
                   const GdkRGBA *colors,
                   gsize n_colors)
{
  draw (BL_ICON (paintable), snapshot, width, height, &colors[GTK_SYMBOLIC_COLOR_FOREGROUND]);
}

static GdkPaintableFlags
get_flags (GdkPaintable *paintable)
{
  return GDK_PAINTABLE_STATIC_SIZE | GDK_PAINTABLE_STATIC_CONTENTS;
}

static int
get_side (GdkPaintable *paintable)
{
  return (int) SIDE;
}

static void
paintable_init (GdkPaintableInterface *iface)
{
  iface->snapshot = snapshot_plain;
  iface->get_flags = get_flags;
  iface->get_intrinsic_width = get_side;
  iface->get_intrinsic_height = get_side;
}

static void
symbolic_init (GtkSymbolicPaintableInterface *iface)
{
  iface->snapshot_symbolic = snapshot_symbolic;
}

G_DEFINE_FINAL_TYPE_WITH_CODE (BlIcon, bl_icon, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (GDK_TYPE_PAINTABLE, paintable_init)
                               G_IMPLEMENT_INTERFACE (GTK_TYPE_SYMBOLIC_PAINTABLE, symbolic_init))

static void
read_outline (BlIcon *self, const char *svg)
{
  const char *at = strstr (svg, " d=\"");

  for (at = at != NULL ? at + 4 : ""; *at != '\0' && *at != '"';)
    {
      Mark mark = { *at++, 0, 0 };
      char *end;

      if (mark.step == 'M' || mark.step == 'L')
        {
          mark.x = g_ascii_strtod (at, &end);
          mark.y = g_ascii_strtod (end, &end);
          at = end;
        }
      g_array_append_val (self->outline, mark);
    }
}

static void
set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  BlIcon *self = BL_ICON (object);
  g_autofree char *path = NULL;
  g_autoptr (GBytes) svg = NULL;
  g_autofree char *text = NULL;

  self->name = g_value_dup_string (value);
  path = g_strdup_printf (FOLDER "%s.svg", self->name);
  svg = g_resources_lookup_data (path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  g_return_if_fail (svg != NULL);
  text = g_strndup (g_bytes_get_data (svg, NULL), g_bytes_get_size (svg));
  read_outline (self, text);
}

static void
get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  g_value_set_string (value, BL_ICON (object)->name);
}

static void
finalize (GObject *object)
{
  BlIcon *self = BL_ICON (object);

  g_free (self->name);
  g_array_unref (self->outline);
  G_OBJECT_CLASS (bl_icon_parent_class)->finalize (object);
}

static void
bl_icon_class_init (BlIconClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->set_property = set_property;
  object_class->get_property = get_property;
  object_class->finalize = finalize;
  g_object_class_install_property (
      object_class, PROP_NAME,
      g_param_spec_string ("name", NULL, NULL, NULL,
                           G_PARAM_READWRITE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS));
}

static void
bl_icon_init (BlIcon *self)
{
  self->outline = g_array_new (FALSE, FALSE, sizeof (Mark));
}

GdkPaintable *
bl_icon_new (const char *name)
{
  return g_object_new (BL_TYPE_ICON, "name", name, NULL);
}

GtkWidget *
bl_icon_image (const char *name)
{
  g_autoptr (GdkPaintable) icon = bl_icon_new (name);

  return gtk_image_new_from_paintable (icon);
}

void
bl_icon_put (GtkWidget *button, const char *name)
{
  if (GTK_IS_MENU_BUTTON (button))
    {
      gtk_menu_button_set_child (GTK_MENU_BUTTON (button), bl_icon_image (name));
      button = gtk_widget_get_first_child (button);
    }
  else
    gtk_button_set_child (GTK_BUTTON (button), bl_icon_image (name));
  gtk_widget_add_css_class (button, "image-button");
}
