/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet of the site: cold, heat, sun, soil, and who lives with the bed. */

#include "config.h"

#include "studio/form.h"
#include "studio/sheets.h"
#include "studio/sun-form.h"

#include <glib/gi18n.h>
#include <string.h>

#define BL_TYPE_SHEET_SITE (bl_sheet_site_get_type ())
G_DECLARE_FINAL_TYPE (BlSheetSite, bl_sheet_site, BL, SHEET_SITE, BlPart)

struct _BlSheetSite
{
  BlPart parent_instance;

  GtkWidget *zone, *last_frost, *first_frost, *hot_days, *latitude, *longitude, *north, *soil,
      *moisture, *sun, *ph, *state, *salt, *children, *pets, *deer, *wind, *fire, *light_rule, *full,
      *part, *light_source, *sunlight;
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

/* Who says so, in the order of bl_light_rules(); the last is the design itself. */
static const char *
rule_title (guint at)
{
  static const char *const titles[]
      = { N_ ("Common practice"), N_ ("North Carolina State Extension"),
          N_ ("Kansas State Extension"), N_ ("Colorado State Extension"),
          N_ ("Strict practice of the trade"), N_ ("Stated for this design") };

  return _(titles[MIN (at, G_N_ELEMENTS (titles) - 1)]);
}

/* The rule in force among the known ones; their number when it is the design's own. */
static guint
rule_at (const BlLightRule *rule)
{
  guint n = 0, i = 0;
  const BlLightRule *rules = bl_light_rules (&n);

  for (i = 0; i < n; i++)
    if (g_str_equal (rules[i].name, rule->name))
      break;
  return i;
}

static void
show_light (BlSheetSite *self, const BlSite *site)
{
  BlLightRule rule = bl_site_light_rule (site);
  /* Translators: who says where part sun and full sun begin. */
  g_autofree char *source
      = g_strdup_printf (_("Source: %s. The sources disagree below six hours."),
                         rule_title (rule_at (&rule)));

  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->light_rule), rule_at (&rule));
  set_number (self->full, rule.full_from);
  set_number (self->part, rule.part_from);
  gtk_label_set_text (GTK_LABEL (self->light_source), source);
}

static void
update (BlPart *part, guint what)
{
  BlSheetSite *self = BL_SHEET_SITE (part);
  const BlSite *site = &bl_board_get_model (bl_part_get_board (part))->site;
  g_autofree char *zone = NULL;

  bl_sun_form_update (self->sunlight, bl_part_get_board (part), what);
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
  set_number (self->hot_days, site->hot_days);
  show_light (self, site);
  set_number (self->ph, site->ph > 0 ? site->ph : NAN);
  bl_form_set_text (self->state, site->state);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->soil), site->soil);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->moisture), site->moisture);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->wind), site->wind);
  gtk_switch_set_active (GTK_SWITCH (self->fire), site->fire_zone);
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

/* What the usual rule says need not be kept: the fields show it by themselves. */
static void
forget_usual_light (BlSite *site)
{
  guint n = 0;
  const BlLightRule *usual = bl_light_rules (&n);

  if (site->full_from == usual->full_from && site->part_from == usual->part_from)
    site->full_from = site->part_from = NAN;
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
         && bl_sheet_read_number (board, self->hot_days, NAN, &site.hot_days)
         && bl_sheet_read_number (board, self->full, NAN, &site.full_from)
         && bl_sheet_read_number (board, self->part, NAN, &site.part_from)
         && bl_sheet_read_number (board, self->ph, 0, &site.ph);
  forget_usual_light (&site);
  site.soil = (BlSoil) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->soil));
  site.moisture = (BlMoisture) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->moisture));
  site.wind = (BlWind) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->wind));
  site.fire_zone = gtk_switch_get_active (GTK_SWITCH (self->fire));
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

/* A known rule brings its hours; "own" leaves them as they are, to be changed. */
static void
rule_chosen_cb (BlSheetSite *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  guint n = 0, at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->light_rule));
  const BlLightRule *rules = bl_light_rules (&n);
  BlSite site;

  if (board == NULL || self->updating)
    return;
  if (at >= n)
    {
      gtk_widget_grab_focus (self->full);
      return;
    }
  bl_site_init (&site);
  bl_site_copy (&site, &bl_board_get_model (board)->site);
  /* The usual hours are what a site that says nothing has. */
  site.full_from = at == 0 ? NAN : rules[at].full_from;
  site.part_from = at == 0 ? NAN : rules[at].part_from;
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
add_sun (BlSheetSite *self, GtkBox *box)
{
  guint n = 0;
  const BlLightRule *rules = bl_light_rules (&n);
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < n; i++)
    /* Translators: who says so, and the hours where full and part sun begin. */
    g_ptr_array_add (words, g_strdup_printf (_("%s: %g and %g hours"), rule_title (i),
                                             rules[i].full_from, rules[i].part_from));
  g_ptr_array_add (words, g_strdup (_("Hours of my own")));
  g_ptr_array_add (words, NULL);
  gtk_box_append (box, bl_form_heading (_("Sun and place")));
  gtk_box_append (
      box, bl_form_pair (field (self, &self->sun, _ ("Hours of direct sun"), _ ("reckoned")),
                         field (self, &self->north, _ ("North, ° from straight ahead"), "25")));
  gtk_box_append (box, bl_form_pair (field (self, &self->latitude, _("Latitude"), "42.1"),
                                     field (self, &self->longitude, _("Longitude"), "-88.3")));
  self->sunlight = bl_sun_form_new ();
  gtk_box_append (box, self->sunlight);
  self->light_rule = bl_form_choice ((const char *const *) words->pdata);
  g_signal_connect_swapped (self->light_rule, "notify::selected", G_CALLBACK (rule_chosen_cb), self);
  gtk_box_append (box, bl_form_field (_("Where full and part sun begin"), self->light_rule));
  gtk_box_append (box, bl_form_pair (field (self, &self->full, _("Full sun from, hours"), "6"),
                                     field (self, &self->part, _("Part sun from, hours"), "3")));
  self->light_source = bl_form_text ("", "dim");
  gtk_box_append (box, self->light_source);
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
  const char *const winds[] = { _("Not known"), _("Sheltered by buildings, trees or hedges"),
                                _("Open like most gardens"), _("Windy: ridge, shore, roof"), NULL };
  struct { GtkWidget **the_switch; const char *label; } switches[] = {
    { &self->salt, _("Salt is spread beside it in winter") },
    { &self->deer, _("Deer come here") },
    { &self->children, _("Children play here") },
    { &self->pets, _("Dogs or cats are let out here") },
    { &self->fire, _("A fire authority's zone reaches here") },
  };

  gtk_box_append (box, bl_form_heading (_("Cold and heat")));
  gtk_box_append (box, bl_form_pair (field (self, &self->zone, _("Hardiness zone"), "5b"),
                                     field (self, &self->state, _("State or province"), "IL")));
  gtk_box_append (
      box, bl_form_pair (field (self, &self->last_frost, _ ("Last frost, month-day"), "05-05"),
                         field (self, &self->first_frost, _ ("First frost"), "10-08")));
  gtk_box_append (box, field (self, &self->hot_days, _("Days a year above 30 °C (86 °F)"), "20"));
  add_sun (self, box);
  gtk_box_append (box, bl_form_heading (_("Soil")));
  gtk_box_append (box, bl_form_pair (choice (self, &self->soil, _("Soil"), soils),
                                     choice (self, &self->moisture, _("Moisture"), moistures)));
  gtk_box_append (box, field (self, &self->ph, _("pH"), _("not known")));
  gtk_box_append (box, bl_form_heading (_("What it must put up with")));
  gtk_box_append (box, choice (self, &self->wind, _("Wind"), winds));
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
