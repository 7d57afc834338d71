/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be worked in a window, and whether it has a name for those who do not see it. */
#pragma once

#include "studio/canvas.h"

#include <gtk/gtk.h>

/* Parts inside of the toolkit's own controls are named by those. */
static inline gboolean
wants_name (GtkWidget *widget)
{
  GtkWidget *parent = gtk_widget_get_parent (widget);

  return (GTK_IS_BUTTON (widget) || GTK_IS_ENTRY (widget) || GTK_IS_SWITCH (widget)
          || GTK_IS_SCALE (widget) || GTK_IS_LIST_VIEW (widget) || GTK_IS_DROP_DOWN (widget)
          || GTK_IS_SEARCH_ENTRY (widget) || GTK_IS_CHECK_BUTTON (widget)
          || GTK_IS_TEXT_VIEW (widget) || BL_IS_CANVAS (widget))
         && !GTK_IS_DROP_DOWN (parent) && !GTK_IS_MENU_BUTTON (parent)
         && gtk_widget_get_ancestor (widget, GTK_TYPE_WINDOW_CONTROLS) == NULL
         && gtk_widget_get_ancestor (widget, GTK_TYPE_POPOVER) == NULL
         && gtk_widget_get_ancestor (widget, GTK_TYPE_SHORTCUTS_WINDOW) == NULL;
}

static inline gboolean
has_name (GtkWidget *widget)
{
  GtkAccessible *accessible = GTK_ACCESSIBLE (widget);

  return gtk_test_accessible_has_property (accessible, GTK_ACCESSIBLE_PROPERTY_LABEL)
         || gtk_test_accessible_has_relation (accessible, GTK_ACCESSIBLE_RELATION_LABELLED_BY)
         || (GTK_IS_BUTTON (widget) && gtk_button_get_label (GTK_BUTTON (widget)) != NULL)
         || (GTK_IS_CHECK_BUTTON (widget)
             && gtk_check_button_get_label (GTK_CHECK_BUTTON (widget)) != NULL);
}
