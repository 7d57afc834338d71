/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shelf's finer sieve: any combination of a plant's facts. */

#include "config.h"

#include "studio/narrow.h"

#include "studio/form.h"
#include "studio/sheets.h"
#include "studio/sunshine.h"

#include <glib/gi18n.h>
#include <math.h>

typedef enum
{
  ONLY_SPRAY,
  ONLY_SNOW,
  ONLY_WIND,
  ONLY_WALNUT,
  ONLY_RABBITS,
  ONLY_SMOOTH,
  ONLY_PEOPLE,
  ONLY_DOGS,
  ONLY_CATS,
  ONLY_LIVESTOCK,
  ONLY_HEAT,
  ONLY_N
} Only;

#define BL_TYPE_NARROW (bl_narrow_get_type ())
G_DECLARE_FINAL_TYPE (BlNarrow, bl_narrow, BL, NARROW, GtkBox)

struct _BlNarrow
{
  GtkBox parent_instance;

  GtkWidget *type, *light, *moisture, *soil, *color, *from, *to, *zone, *ph, *tall_from, *tall_to,
      *wide_from, *wide_to, *only[ONLY_N];
  void (*changed) (gpointer data);
  gpointer data;
};

G_DEFINE_FINAL_TYPE (BlNarrow, bl_narrow, GTK_TYPE_BOX)

/* As they stand in the records. */
static const char *const colors[] = { NULL,     "white", "yellow", "orange", "red",
                                      "pink", "purple", "blue", "green" };

const BlBed *
bl_narrow_bed (BlBoard *board)
{
  const BlModel *model = bl_board_get_model (board);
  const GArray *picks = bl_board_get_selection (board);
  const BlBed *bed = NULL;

  for (guint i = 0; i < picks->len && bed == NULL; i++)
    if (g_array_index (picks, BlPick, i).kind == BL_PICK_BED)
      bed = bl_model_bed (model, g_array_index (picks, BlPick, i).id);
  if (bed == NULL)
    bed = bl_model_bed (model, bl_board_get_pen (board)->bed_id);
  return bed != NULL || model->beds->len == 0 ? bed : g_ptr_array_index (model->beds, 0);
}

BlLight
bl_narrow_light (BlBoard *board)
{
  const BlSite *site = &bl_board_get_model (board)->site;
  const BlBed *bed = bl_narrow_bed (board);
  const BlSunlight *sunlight = bl_board_get_sunlight (board, NULL);
  BlLightRule rule = bl_site_light_rule (site);
  double hours = bed != NULL && !isnan (bed->sun_hours) ? bed->sun_hours : site->sun_hours;

  for (guint i = 0; isnan (hours) && sunlight != NULL && bed != NULL && i < sunlight->beds->len; i++)
    if (g_array_index (sunlight->beds, BlBedSun, i).bed_id == bed->id)
      hours = g_array_index (sunlight->beds, BlBedSun, i).season;
  if (isnan (hours) && bed != NULL)
    {
      g_autoptr (BlShade) shade = bl_shade_new (bl_board_get_model (board));

      hours = bl_shade_season_hours (shade, site, bed->ring);
    }
  return isnan (hours) ? BL_LIGHT_UNKNOWN : bl_light_from_hours_by (hours, &rule);
}

static guint
chosen (GtkWidget *drop)
{
  return gtk_drop_down_get_selected (GTK_DROP_DOWN (drop));
}

static gboolean
only (BlNarrow *self, Only which)
{
  return gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->only[which]));
}

static void
apply_sizes (BlNarrow *self, BlBoard *board, BlPlantQuery *query)
{
  g_autoptr (GError) error = NULL;
  const char *zone = bl_form_get_text (self->zone);

  if (zone[0] != '\0')
    query->zone = bl_zone_parse (zone, &error);
  bl_form_set_wrong (self->zone, error != NULL);
  bl_board_report (board, error);
  bl_sheet_read_number (board, self->ph, 0, &query->ph);
  bl_sheet_read_length (board, self->tall_from, 0, &query->height_low);
  bl_sheet_read_length (board, self->tall_to, 0, &query->height_high);
  bl_sheet_read_length (board, self->wide_from, 0, &query->spread_low);
  bl_sheet_read_length (board, self->wide_to, 0, &query->spread_high);
}

void
bl_narrow_apply (GtkWidget *narrow, BlBoard *board, BlPlantQuery *query)
{
  static const BlLight lights[]
      = { BL_LIGHT_UNKNOWN, BL_LIGHT_FULL, BL_LIGHT_PART, BL_LIGHT_SHADE };
  BlNarrow *self = BL_NARROW (narrow);
  const BlSite *site = &bl_board_get_model (board)->site;

  query->here = site;
  query->light_here = bl_narrow_light (board);
  if (chosen (self->type) != 0)
    query->type = (int) chosen (self->type);
  if (chosen (self->light) != 0)
    query->light = lights[chosen (self->light)];
  if (chosen (self->moisture) != 0)
    query->moisture = (BlMoisture) chosen (self->moisture);
  if (chosen (self->soil) != 0)
    query->soil = (BlSoil) chosen (self->soil);
  query->color = colors[chosen (self->color)];
  if (chosen (self->from) != 0 || chosen (self->to) != 0)
    {
      query->month_from = (int) (chosen (self->from) != 0 ? chosen (self->from) : chosen (self->to));
      query->month_to = (int) (chosen (self->to) != 0 ? chosen (self->to) : chosen (self->from));
    }
  apply_sizes (self, board, query);
  query->min_spray_salt = only (self, ONLY_SPRAY) ? BL_GRADE_MEDIUM : BL_GRADE_UNKNOWN;
  query->min_snow_load = only (self, ONLY_SNOW) ? BL_GRADE_MEDIUM : BL_GRADE_UNKNOWN;
  query->min_wind = only (self, ONLY_WIND) ? BL_GRADE_HIGH : BL_GRADE_UNKNOWN;
  query->min_juglone = only (self, ONLY_WALNUT) ? BL_GRADE_HIGH : BL_GRADE_UNKNOWN;
  query->rabbit_rarely = only (self, ONLY_RABBITS);
  query->no_thorns = only (self, ONLY_SMOOTH);
  query->no_people_report = only (self, ONLY_PEOPLE);
  query->no_dog_report = only (self, ONLY_DOGS);
  query->no_cat_report = only (self, ONLY_CATS);
  query->no_livestock_report = only (self, ONLY_LIVESTOCK);
  if (only (self, ONLY_HEAT) && !isnan (site->hot_days))
    query->hot_days = site->hot_days;
}

static void
changed_cb (BlNarrow *self)
{
  self->changed (self->data);
}

static void
given_cb (GtkWidget *entry, gpointer data)
{
  changed_cb (data);
}

static GtkWidget *
choice (BlNarrow *self, GtkWidget **drop, const char *label, const char *const *words)
{
  *drop = bl_form_choice (words);
  g_signal_connect_swapped (*drop, "notify::selected", G_CALLBACK (changed_cb), self);
  return bl_form_field (label, *drop);
}

static GtkWidget *
entry (BlNarrow *self, GtkWidget **field, const char *label)
{
  *field = bl_form_entry (_("any"));
  bl_form_on_commit (*field, given_cb, self);
  return bl_form_field (label, *field);
}

static void
bl_narrow_class_init (BlNarrowClass *klass)
{
}

static void
add_choices (BlNarrow *self, GtkBox *box)
{
  const char *const types[]
      = { _ ("Any"),    _ ("Perennial"), _ ("Grass or sedge"), _ ("Deciduous shrub"),
          _ ("Evergreen shrub"), _ ("Conifer"), _ ("Tree"), _ ("Ground cover"), _ ("Bulb"),
          _ ("Vine"), _ ("Annual"), _ ("Fern"), NULL };
  const char *const lights[] = { _ ("Any"), _ ("Full sun"), _ ("Part sun"), _ ("Shade"), NULL };
  const char *const moistures[] = { _ ("Any"), _ ("Dry"), _ ("Medium"), _ ("Wet"), NULL };
  const char *const soils[] = { _ ("Any"), _ ("Sand"), _ ("Loam"), _ ("Clay"), NULL };
  const char *const hues[] = { _ ("Any"), _ ("White"), _ ("Yellow"), _ ("Orange"), _ ("Red"),
                               _ ("Pink"), _ ("Purple"), _ ("Blue"), _ ("Green"), NULL };
  const char *const months[]
      = { _ ("Any"), _ ("January"), _ ("February"), _ ("March"), _ ("April"), _ ("May"),
          _ ("June"), _ ("July"), _ ("August"), _ ("September"), _ ("October"), _ ("November"),
          _ ("December"), NULL };

  gtk_box_append (box, bl_form_pair (choice (self, &self->type, _ ("Kind of plant"), types),
                                     choice (self, &self->color, _ ("Flower colour"), hues)));
  gtk_box_append (box, bl_form_pair (choice (self, &self->from, _ ("Flowers from"), months),
                                     choice (self, &self->to, _ ("to"), months)));
  gtk_box_append (box, bl_form_pair (choice (self, &self->light, _ ("Light"), lights),
                                     choice (self, &self->moisture, _ ("Moisture"), moistures)));
  gtk_box_append (box, bl_form_pair (choice (self, &self->soil, _ ("Soil"), soils),
                                     entry (self, &self->ph, _ ("pH"))));
}

static GtkWidget *
make_only (BlNarrow *self)
{
  static const char *const titles[ONLY_N]
      = { N_ ("Bears salt spray"),   N_ ("Bears snow on it"),  N_ ("Bears wind"),
          N_ ("Bears walnut roots"), N_ ("Rabbits pass by"),   N_ ("No thorns"),
          N_ ("No report: people"),  N_ ("No report: dogs"),   N_ ("No report: cats"),
          N_ ("No report: livestock"), N_ ("Bears the heat here") };
  GtkWidget *flow = gtk_flow_box_new ();

  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (flow), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (flow), 4);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (flow), 4);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (flow), 4);
  for (int i = 0; i < ONLY_N; i++)
    {
      self->only[i] = gtk_toggle_button_new_with_label (_(titles[i]));
      gtk_widget_add_css_class (self->only[i], "facet");
      g_signal_connect_swapped (self->only[i], "toggled", G_CALLBACK (changed_cb), self);
      gtk_flow_box_append (GTK_FLOW_BOX (flow), self->only[i]);
      gtk_widget_set_focusable (gtk_widget_get_parent (self->only[i]), FALSE);
    }
  return flow;
}

static void
bl_narrow_init (BlNarrow *self)
{
  GtkBox *box = GTK_BOX (self);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (box, 6);
  add_choices (self, box);
  gtk_box_append (box, bl_form_pair (entry (self, &self->tall_from, _("Taller than")),
                                     entry (self, &self->tall_to, _("No taller than"))));
  gtk_box_append (box, bl_form_pair (entry (self, &self->wide_from, _("Wider than")),
                                     entry (self, &self->wide_to, _("No wider than"))));
  gtk_box_append (box, entry (self, &self->zone, _("Hardy in zone")));
  gtk_box_append (box, make_only (self));
  gtk_box_append (box, bl_form_text (_("That no harm is reported does not make a plant harmless."),
                                     "dim"));
}

GtkWidget *
bl_narrow_new (void (*changed) (gpointer data), gpointer data)
{
  BlNarrow *self = g_object_new (BL_TYPE_NARROW, NULL);

  self->changed = changed;
  self->data = data;
  return GTK_WIDGET (self);
}
