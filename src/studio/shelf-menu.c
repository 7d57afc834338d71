/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The menus of the shelf: of one card, and of all the person's own plants. */

#include "config.h"

#include "studio/shelf-menu.h"

#include "studio/form.h"
#include "studio/icon.h"
#include "studio/own-plants.h"

#include <glib/gi18n.h>

static void
append (GMenu *menu, const char *label, const char *action, const char *slug)
{
  g_autoptr (GMenuItem) item = g_menu_item_new (label, NULL);

  g_menu_item_set_action_and_target (item, action, "s", slug);
  g_menu_append_item (menu, item);
}

static void
make_card_menu (GtkMenuButton *button, gpointer data)
{
  const char *slug = g_object_get_data (G_OBJECT (button), "slug");
  BlBoard *board = g_object_get_data (G_OBJECT (button), "board");
  BlLibrary *library = board != NULL ? bl_board_get_library (board) : NULL;
  g_autoptr (GMenu) menu = g_menu_new ();

  if (slug == NULL || library == NULL)
    return;
  append (menu, _("Change this plant…"), "win.plant-change", slug);
  append (menu, _("A plant of your own from a copy…"), "win.plant-copy", slug);
  append (menu, _("Hide from the shelf"), "win.plant-hide", slug);
  if (bl_library_is_own (library, slug))
    append (menu, bl_library_is_shadowing (library, slug) ? _("Back to the library's facts")
                                                          : _("Take out of your plants"),
            "win.plant-drop", slug);
  gtk_menu_button_set_menu_model (button, G_MENU_MODEL (menu));
}

static void
asked_cb (GtkGestureClick *gesture, int n, double x, double y, GtkMenuButton *button)
{
  gtk_menu_button_popup (button);
}

GtkWidget *
bl_card_menu_new (void)
{
  GtkWidget *button = gtk_menu_button_new ();

  bl_icon_put (button, "bl-more-symbolic");
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (button), make_card_menu, NULL, NULL);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_tooltip_text (button, _("What can be done with this plant"));
  return button;
}

static GtkGesture *
secondary_click (GtkWidget *menu)
{
  GtkGesture *click = gtk_gesture_click_new ();

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (click), GDK_BUTTON_SECONDARY);
  g_signal_connect_object (click, "pressed", G_CALLBACK (asked_cb), menu, 0);
  return click;
}

void
bl_card_menu_set (GtkWidget *menu, BlBoard *board, const BlPlant *plant)
{
  g_autofree char *name = bl_plant_name (plant);
  g_autofree char *spoken = g_strdup_printf (_("Menu of %s"), name);
  GtkWidget *card = gtk_widget_get_ancestor (menu, GTK_TYPE_BOX);

  g_object_set_data_full (G_OBJECT (menu), "slug", g_strdup (plant->slug), g_free);
  g_object_set_data_full (G_OBJECT (menu), "board", g_object_ref (board), g_object_unref);
  bl_form_call (menu, spoken);
  /* A card's secondary button opens it too. */
  while (card != NULL && !gtk_widget_has_css_class (card, "plant-card"))
    card = gtk_widget_get_parent (card);
  if (card != NULL && g_object_get_data (G_OBJECT (card), "menu") == NULL)
    {
      g_object_set_data (G_OBJECT (card), "menu", menu);
      gtk_widget_add_controller (card, GTK_EVENT_CONTROLLER (secondary_click (menu)));
    }
}

GtkWidget *
bl_own_menu_new (void)
{
  GtkWidget *button = gtk_menu_button_new ();
  g_autoptr (GMenu) menu = g_menu_new (), first = g_menu_new (), tables = g_menu_new (),
                    nursery = g_menu_new ();

  g_menu_append (first, _("Add a plant of your own…"), "win.add-plant");
  g_menu_append (first, _("Hidden plants, to show again…"), "win.hidden-plants");
  g_menu_append (tables, _("Bring in plants…"), "win.take-plants");
  g_menu_append (tables, _("Write my plants…"), "win.write-plants");
  g_menu_append (nursery, _("Bring in a nursery's prices and stock…"), "win.take-nursery");
  g_menu_append_section (menu, NULL, G_MENU_MODEL (first));
  g_menu_append_section (menu, NULL, G_MENU_MODEL (tables));
  g_menu_append_section (menu, NULL, G_MENU_MODEL (nursery));
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), _("Your plants"));
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), G_MENU_MODEL (menu));
  bl_form_call (button, _("Your plants"));
  return button;
}

char *
bl_card_own_words (BlBoard *board, const BlPlant *plant)
{
  BlLibrary *library = bl_board_get_library (board);
  gboolean own = library != NULL && bl_library_is_own (library, plant->slug);
  g_autofree char *stock = bl_board_stock_words (board, plant);

  if (own && stock != NULL)
    return g_strdup_printf ("%s · %s", _("your own"), stock);
  return own ? g_strdup (_("your own")) : g_steal_pointer (&stock);
}
