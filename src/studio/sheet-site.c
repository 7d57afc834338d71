/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet of the site: cold, frost, sun, soil, and who lives with the bed. */

#include "config.h"

#include "studio/form.h"
#include "studio/sheets.h"

#include <glib/gi18n.h>
#include <string.h>

#define BL_TYPE_SHEET_SITE (bl_sheet_site_get_type ())
G_DECLARE_FINAL_TYPE (BlSheetSite, bl_sheet_site, BL, SHEET_SITE, BlPart)

struct _BlSheetSite
{
  BlPart parent_instance;

  GtkWidget *zone, *last_frost, *first_frost, *latitude, *longitude, *north, *soil, *moisture, *sun,
      *ph, *state, *salt, *children, *pets, *deer;
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (BlSheetSite, bl_sheet_site, BL_TYPE_PART)

static char *
number_text (double value)
{
  return isfinite (value) ? bl_double_format (value) : g_strdup ("");
}

static void
set_number (GtkWidget *entry, double value)
{
  g_autofree char *text = number_text (value);

  bl_form_set_text (entry, text);
}

static void
set_month_day (GtkWidget *entry, BlMonthDay day)
{
  g_autofree char *text = day.month > 0 ? bl_month_day_format (day) : g_strdup ("");

  bl_form_set_text (entry, text);
}

static void
update (BlPart *part, guint what)
{
  BlSheetSite *self = BL_SHEET_SITE (part);
  const BlSite *site = &bl_board_get_model (bl_part_get_board (part))->site;
  g_autofree char *zone = NULL;

  if ((what & BL_BOARD_MODEL) == 0)
    return;
  zone = site->zone != 0 ? bl_zone_format (site->zone) : g_strdup ("");
  self->updating = TRUE;
  bl_form_set_text (self->zone, zone);
  set_month_day (self->last_frost, site->last_frost);
  set_month_day (self->first_frost, site->first_frost);
  set_number (self->latitude, site->latitude);
  set_number (self->longitude, site->longitude);
  set_number (self->north, site->north);
  set_number (self->sun, site->sun_hours);
  set_number (self->ph, site->ph > 0 ? site->ph : NAN);
  bl_form_set_text (self->state, site->state);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->soil), site->soil);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->moisture), site->moisture);
  gtk_switch_set_active (GTK_SWITCH (self->salt), site->salt_edge);
  gtk_switch_set_active (GTK_SWITCH (self->children), site->children);
  gtk_switch_set_active (GTK_SWITCH (self->pets), site->pets);
  gtk_switch_set_active (GTK_SWITCH (self->deer), site->deer);
  self->updating = FALSE;
}

static gboolean
read_zone (BlBoard *board, GtkWidget *entry, BlSite *site)
{
  g_autoptr (GError) error = NULL;
  const char *text = bl_form_get_text (entry);

  site->zone = text[0] == '\0' ? 0 : bl_zone_parse (text, &error);
  bl_form_set_wrong (entry, error != NULL);
  bl_board_report (board, error);
  return error == NULL;
}

static gboolean
read_month_day (BlBoard *board, GtkWidget *entry, BlMonthDay *day)
{
  g_autoptr (GError) error = NULL;
  const char *text = bl_form_get_text (entry);
  gboolean good = TRUE;

  *day = (BlMonthDay) { 0, 0 };
  if (text[0] != '\0')
    good = bl_month_day_parse (text, day, &error);
  bl_form_set_wrong (entry, !good);
  bl_board_report (board, error);
  return good;
}

static void
commit (BlSheetSite *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  BlSite site;
  gboolean good;

  if (board == NULL || self->updating)
    return;
  bl_site_init (&site);
  bl_site_copy (&site, &bl_board_get_model (board)->site);
  good = read_zone (board, self->zone, &site)
         && read_month_day (board, self->last_frost, &site.last_frost)
         && read_month_day (board, self->first_frost, &site.first_frost)
         && bl_sheet_read_number (board, self->latitude, NAN, &site.latitude)
         && bl_sheet_read_number (board, self->longitude, NAN, &site.longitude)
         && bl_sheet_read_number (board, self->north, NAN, &site.north)
         && bl_sheet_read_number (board, self->sun, NAN, &site.sun_hours)
         && bl_sheet_read_number (board, self->ph, 0, &site.ph);
  site.soil = (BlSoil) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->soil));
  site.moisture = (BlMoisture) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->moisture));
  site.salt_edge = gtk_switch_get_active (GTK_SWITCH (self->salt));
  site.children = gtk_switch_get_active (GTK_SWITCH (self->children));
  site.pets = gtk_switch_get_active (GTK_SWITCH (self->pets));
  site.deer = gtk_switch_get_active (GTK_SWITCH (self->deer));
  g_free (site.state);
  site.state = bl_form_get_text (self->state)[0] != '\0'
                 ? g_ascii_strup (bl_form_get_text (self->state), -1) : NULL;
  if (good)
    bl_board_put_site (board, &site);
  bl_site_clear (&site);
}

static void
entry_given_cb (GtkWidget *entry, gpointer data)
{
  commit (data);
}

static void
notified_cb (BlSheetSite *self)
{
  commit (self);
}

static GtkWidget *
field (BlSheetSite *self, GtkWidget **entry, const char *label, const char *placeholder)
{
  *entry = bl_form_entry (placeholder);
  bl_form_on_commit (*entry, entry_given_cb, self);
  return bl_form_field (label, *entry);
}

static GtkWidget *
choice (BlSheetSite *self, GtkWidget **drop, const char *label, const char *const *words)
{
  *drop = bl_form_choice (words);
  g_signal_connect_swapped (*drop, "notify::selected", G_CALLBACK (notified_cb), self);
  return bl_form_field (label, *drop);
}

static void
bl_sheet_site_class_init (BlSheetSiteClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
}

static void
bl_sheet_site_init (BlSheetSite *self)
{
  GtkBox *box = GTK_BOX (self);
  const char *const soils[] = { _("Not known"), _("Sand"), _("Loam"), _("Clay"), NULL };
  const char *const moistures[] = { _("Not known"), _("Dry"), _("Medium"), _("Wet"), NULL };
  struct { GtkWidget **the_switch; const char *label; } switches[] = {
    { &self->salt, _("Salt is spread beside it in winter") },
    { &self->deer, _("Deer come here") },
    { &self->children, _("Children play here") },
    { &self->pets, _("Dogs or cats are let out here") },
  };

  gtk_box_append (box, bl_form_heading (_("Cold")));
  gtk_box_append (box, bl_form_pair (field (self, &self->zone, _("Hardiness zone"), "5b"),
                                     field (self, &self->state, _("State or province"), "IL")));
  gtk_box_append (
      box, bl_form_pair (field (self, &self->last_frost, _ ("Last frost, month-day"), "05-05"),
                         field (self, &self->first_frost, _ ("First frost"), "10-08")));
  gtk_box_append (box, bl_form_heading (_("Sun and place")));
  gtk_box_append (
      box, bl_form_pair (field (self, &self->sun, _ ("Hours of direct sun"), "8"),
                         field (self, &self->north, _ ("North, ° from straight ahead"), "25")));
  gtk_box_append (box, bl_form_pair (field (self, &self->latitude, _("Latitude"), "42.1"),
                                     field (self, &self->longitude, _("Longitude"), "-88.3")));
  gtk_box_append (box, bl_form_heading (_("Soil")));
  gtk_box_append (box, bl_form_pair (choice (self, &self->soil, _("Soil"), soils),
                                     choice (self, &self->moisture, _("Moisture"), moistures)));
  gtk_box_append (box, field (self, &self->ph, _("pH"), _("not known")));
  gtk_box_append (box, bl_form_heading (_("What it must put up with")));
  for (guint i = 0; i < G_N_ELEMENTS (switches); i++)
    {
      gtk_box_append (box, bl_form_switch (switches[i].label, switches[i].the_switch));
      g_signal_connect_swapped (*switches[i].the_switch, "notify::active", G_CALLBACK (notified_cb),
                                self);
    }
  gtk_box_append (
      box, bl_form_text (_ ("Where the salted edge runs, where snow is piled and where lines "
                            "are buried is traced on the Bed sheet, as features."),
                         "dim"));
}

GtkWidget *
bl_sheet_site_new (void)
{
  return g_object_new (BL_TYPE_SHEET_SITE, NULL);
}
