/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the window's panes share its width: a narrow one, or one with large text, keeps it for the drawing,
 * and the ledger steps aside until it is called. */

#include "config.h"

#include "studio/window-private.h"

#include "studio/compare.h"
#include "studio/start.h"

#define NARROW 1040 /* with text of the usual size */
#define SHEET_WIDE 346
#define SHEET_NARROW 232

/* Text against the usual 96 dots an inch; the person may have doubled it. */
static double
text_size (BlWindow *self)
{
  int dpi = -1;

  g_object_get (gtk_widget_get_settings (GTK_WIDGET (self)), "gtk-xft-dpi", &dpi, NULL);
  return dpi > 0 ? dpi / (96.0 * PANGO_SCALE) : 1;
}

static gboolean
is_narrow (BlWindow *self, int width)
{
  return width < NARROW * text_size (self);
}

static int
ledger_width (BlWindow *self)
{
  int least = 0;

  gtk_widget_measure (self->ledger, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return least;
}

static gboolean
is_ledger_cut (BlWindow *self)
{
  int width = gtk_widget_get_width (self->ledger_paned);
  int ledger = gtk_widget_get_visible (self->ledger) ? ledger_width (self) : 0;

  return ledger > 0 && width > 2 * ledger
         && width - gtk_paned_get_position (GTK_PANED (self->ledger_paned)) < ledger;
}

void
bl_window_suit_sheet (BlWindow *self, GtkWidget *page)
{
  gtk_widget_set_size_request (page, self->narrow ? SHEET_NARROW : SHEET_WIDE, -1);
}

static void
suit (BlWindow *self, gboolean narrow)
{
  self->narrow = narrow;
  if (narrow)
    self->ledger_wide = gtk_widget_get_visible (self->ledger);
  gtk_widget_set_visible (self->ledger, narrow ? FALSE : self->ledger_wide);
  for (GtkWidget *page = gtk_widget_get_first_child (self->sheets); page != NULL;
       page = gtk_widget_get_next_sibling (page))
    bl_window_suit_sheet (self, page);
  bl_start_suit (self->start, narrow);
  if (self->compare != NULL)
    bl_compare_suit (BL_COMPARE (self->compare), narrow);
  bl_window_update_actions (self);
}

static gboolean
suit_cb (gpointer data)
{
  BlWindow *self = data;
  gboolean narrow = is_narrow (self, gtk_widget_get_width (GTK_WIDGET (self)));

  self->suit_idle = 0;
  if (narrow != self->narrow && !self->comparing)
    suit (self, narrow);
  /* The paned may shrink the ledger so that the window can get narrow at all; as long as there is
   * room the ledger keeps its width. */
  if (is_ledger_cut (self))
    gtk_paned_set_position (GTK_PANED (self->ledger_paned),
                            gtk_widget_get_width (self->ledger_paned) - ledger_width (self) - 1);
  return G_SOURCE_REMOVE;
}

void
bl_window_suit_width (BlWindow *self, int width)
{
  if (self->suit_idle == 0 && (is_narrow (self, width) != self->narrow || is_ledger_cut (self)))
    self->suit_idle = g_idle_add (suit_cb, self);
}
