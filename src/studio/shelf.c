/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plants' shelf: the four planting hands, the finder, the plants as cards. */

#include "config.h"

#include "fit/fit.h"
#include "studio/form.h"
#include "studio/icon.h"
#include "studio/narrow.h"
#include "studio/pen-form.h"
#include "studio/plant-facts.h"
#include "studio/plant-item.h"
#include "studio/plant-view.h"
#include "studio/shelf-menu.h"
#include "studio/sheets.h"

#include <glib/gi18n.h>
#include <string.h>

#define CARDS_FIRST 16
#define CARDS_MORE 8

#define BL_TYPE_SHELF (bl_shelf_get_type ())
G_DECLARE_FINAL_TYPE (BlShelf, bl_shelf, BL, SHELF, BlPart)

typedef enum
{
  FACET_FITS,
  FACET_FAVOURITES,
  FACET_IN_DESIGN,
  FACET_EVERGREEN,
  FACET_NATIVE,
  FACET_SALT,
  FACET_DEER,
  FACET_DROUGHT,
  FACET_BLOOMS,
  FACET_STOCK,
  FACET_OWN,
  FACET_N
} Facet;

struct _BlShelf
{
  BlPart parent_instance;

  BlSettings *settings;
  GtkWidget *search, *facets[FACET_N], *narrow, *count, *view, *pen;
  GListStore *store;
  GtkSingleSelection *selection;
  GPtrArray *found; /* of BlPlantItem; the store gets them bit by bit */
  guint refind, filling;
  gboolean selecting;
};

G_DEFINE_FINAL_TYPE (BlShelf, bl_shelf, BL_TYPE_PART)

static gboolean
facet (BlShelf *self, Facet which)
{
  return gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->facets[which]));
}

static BlPlantQuery
query_of (BlShelf *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  const BlSite *site = &bl_board_get_model (board)->site;
  BlPlantQuery query = { .text = gtk_editable_get_text (GTK_EDITABLE (self->search)) };

  if (facet (self, FACET_FITS))
    {
      query.zone = site->zone;
      query.moisture = site->moisture;
      query.soil = site->soil;
      query.light = bl_narrow_light (board);
    }
  /* What is chosen there goes before what fits the site. */
  bl_narrow_apply (self->narrow, board, &query);
  if (facet (self, FACET_SALT))
    query.min_soil_salt = BL_GRADE_MEDIUM;
  if (facet (self, FACET_DROUGHT))
    query.min_drought = BL_GRADE_MEDIUM;
  query.deer_rarely = facet (self, FACET_DEER);
  query.evergreen = facet (self, FACET_EVERGREEN);
  query.native = facet (self, FACET_NATIVE);
  query.in_stock = facet (self, FACET_STOCK);
  query.own = facet (self, FACET_OWN);
  if (facet (self, FACET_BLOOMS))
    query.month_from = query.month_to = (int) bl_board_get_moment (board).month;
  return query;
}

static gboolean
is_wanted (BlShelf *self, const BlModel *model, const BlPlant *plant)
{
  if (facet (self, FACET_FAVOURITES) && !bl_settings_is_favourite (self->settings, plant->slug))
    return FALSE;
  return !facet (self, FACET_IN_DESIGN) || bl_model_plant (model, plant->slug) != NULL;
}

/* The first cards fill the shelf at once; two hundred of them, made in one go, would hold the window for
 * a seventh of a second. */
static gboolean
add_cards (BlShelf *self, guint n)
{
  guint at = g_list_model_get_n_items (G_LIST_MODEL (self->store));
  guint end = MIN (at + n, self->found->len);
  const char *in_hand = bl_board_get_pen (bl_part_get_board (BL_PART (self)))->slug;

  self->selecting = TRUE;
  if (end > at)
    g_list_store_splice (self->store, at, 0, self->found->pdata + at, end - at);
  if (at == 0)
    gtk_single_selection_set_selected (self->selection, GTK_INVALID_LIST_POSITION);
  for (guint i = at; i < end; i++)
    if (g_strcmp0 (bl_plant_item_get_plant (g_ptr_array_index (self->found, i))->slug, in_hand) == 0)
      gtk_single_selection_set_selected (self->selection, i);
  self->selecting = FALSE;
  return end < self->found->len;
}

static gboolean
fill_cb (gpointer data)
{
  BlShelf *self = data;

  if (bl_part_get_board (BL_PART (self)) != NULL && add_cards (self, CARDS_MORE))
    return G_SOURCE_CONTINUE;
  self->filling = 0;
  return G_SOURCE_REMOVE;
}

static void
find (BlShelf *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  BlLibrary *library = board != NULL ? bl_board_get_library (board) : NULL;
  g_autoptr (GPtrArray) found = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *count = NULL;
  BlPlantQuery query;

  if (library == NULL)
    {
      gtk_label_set_text (GTK_LABEL (self->count), _("The plant library could not be opened."));
      return;
    }
  query = query_of (self);
  found = bl_library_find (library, &query, &error);
  bl_board_report (board, error);
  g_ptr_array_set_size (self->found, 0);
  for (guint i = 0; found != NULL && i < found->len; i++)
    if (is_wanted (self, bl_board_get_model (board), g_ptr_array_index (found, i)))
      g_ptr_array_add (self->found, bl_plant_item_new (g_ptr_array_index (found, i)));
  g_clear_handle_id (&self->filling, g_source_remove);
  self->selecting = TRUE;
  g_list_store_remove_all (self->store);
  self->selecting = FALSE;
  if (add_cards (self, CARDS_FIRST))
    self->filling = g_idle_add_full (G_PRIORITY_LOW, fill_cb, self, NULL);
  count = g_strdup_printf (ngettext ("%u plant", "%u plants", self->found->len), self->found->len);
  gtk_label_set_text (GTK_LABEL (self->count), count);
}

static gboolean
refind_cb (gpointer data)
{
  BlShelf *self = data;

  self->refind = 0;
  find (self);
  return G_SOURCE_REMOVE;
}

static void
ask_find (BlShelf *self)
{
  if (self->refind == 0 && bl_part_get_board (BL_PART (self)) != NULL)
    self->refind = g_timeout_add (60, refind_cb, self);
}

static void
picked_cb (BlShelf *self)
{
  BlPlantItem *item = gtk_single_selection_get_selected_item (self->selection);
  BlBoard *board = bl_part_get_board (BL_PART (self));
  GActionGroup *actions = G_ACTION_GROUP (gtk_widget_get_root (GTK_WIDGET (self)));
  g_autoptr (GVariant) state = NULL;
  const GArray *selection;
  const char *hand;

  if (item == NULL || board == NULL || self->selecting)
    return;
  bl_board_set_plant (board, bl_plant_item_get_plant (item)->slug);
  selection = bl_board_get_selection (board);
  state = G_IS_ACTION_GROUP (actions) ? g_action_group_get_action_state (actions, "hand") : NULL;
  hand = state != NULL ? g_variant_get_string (state, NULL) : "";
  /* A selected planting stays so: it can be swapped for what is now in hand. */
  if (g_str_equal (hand, "select") && selection->len > 0
      && g_array_index (selection, BlPick, 0).kind == BL_PICK_PLANTING)
    return;
  bl_board_clear_selection (board); /* what is in hand is shown instead */
  /* A plant in hand wants a planting hand. */
  if (!g_strv_contains ((const char *const[]) { "row", "drift", "fill", NULL }, hand))
    gtk_widget_activate_action (GTK_WIDGET (self), "win.hand", "s", "specimen");
}

/* Enter takes the first plant found for what is typed (the finding may still be to come) to the
 * drawing. */
static void
take_first_cb (BlShelf *self)
{
  if (bl_part_get_board (BL_PART (self)) == NULL)
    return;
  g_clear_handle_id (&self->refind, g_source_remove);
  find (self);
  if (g_list_model_get_n_items (G_LIST_MODEL (self->store)) > 0)
    {
      gtk_single_selection_set_selected (self->selection, 0);
      gtk_widget_activate_action (GTK_WIDGET (self), "win.focus-canvas", NULL);
    }
}

/* Down goes from the field into the cards. */
static gboolean
search_key_cb (GtkEventControllerKey *controller, guint keyval, guint code, GdkModifierType state,
               BlShelf *self)
{
  return keyval == GDK_KEY_Down && gtk_widget_child_focus (self->view, GTK_DIR_TAB_FORWARD);
}

/* Cards. */

static void
favourite_cb (GtkToggleButton *button, BlShelf *self)
{
  BlPlantItem *item = g_object_get_data (G_OBJECT (button), "item");

  bl_icon_put (GTK_WIDGET (button), gtk_toggle_button_get_active (button) ? "bl-star-full-symbolic"
                                                                          : "bl-star-symbolic");
  if (item != NULL && !self->selecting)
    bl_settings_set_favourite (self->settings, bl_plant_item_get_plant (item)->slug,
                               gtk_toggle_button_get_active (button));
}

static GdkContentProvider *
drag_prepare_cb (GtkDragSource *source, double x, double y, GtkListItem *row)
{
  BlPlantItem *item = gtk_list_item_get_item (row);
  g_autofree char *text = NULL;

  if (item == NULL)
    return NULL;
  text = g_strconcat ("bedline-plant:", bl_plant_item_get_plant (item)->slug, NULL);
  return gdk_content_provider_new_typed (G_TYPE_STRING, text);
}

static void
setup_cb (GtkSignalListItemFactory *factory, GtkListItem *row, BlShelf *self)
{
  GtkWidget *card = bl_form_line (10);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *figure = bl_figure_view_new (58, 72), *ribbon = bl_ribbon_view_new ();
  GtkWidget *name = gtk_label_new (""), *common = gtk_label_new (""), *facts = gtk_label_new ("");
  GtkWidget *fit = gtk_label_new (""), *star = gtk_toggle_button_new (), *own = gtk_label_new ("");
  GtkWidget *beside = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *menu = bl_card_menu_new ();
  GtkWidget *all = bl_plant_facts_button_new ();
  GtkDragSource *drag = gtk_drag_source_new ();
  GtkWidget *labels[] = { common, name, facts, own, fit };

  gtk_widget_add_css_class (card, "plant-card");
  gtk_widget_add_css_class (name, "botanical");
  gtk_widget_add_css_class (common, "plant-name");
  gtk_widget_add_css_class (facts, "facts");
  gtk_widget_add_css_class (own, "facts");
  gtk_widget_add_css_class (fit, "fit");
  gtk_widget_add_css_class (star, "flat");
  gtk_widget_set_valign (star, GTK_ALIGN_START);
  bl_icon_put (star, "bl-star-symbolic");
  bl_form_call (star, _("Favourite"));
  gtk_widget_set_hexpand (words, TRUE);
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  for (guint i = 0; i < G_N_ELEMENTS (labels); i++)
    {
      gtk_label_set_xalign (GTK_LABEL (labels[i]), 0);
      gtk_label_set_ellipsize (GTK_LABEL (labels[i]), PANGO_ELLIPSIZE_END);
      gtk_box_append (GTK_BOX (words), labels[i]);
    }
  gtk_label_set_wrap (GTK_LABEL (fit), TRUE);
  gtk_label_set_lines (GTK_LABEL (fit), 2);
  gtk_box_insert_child_after (GTK_BOX (words), ribbon, facts);
  bl_form_line_add (card, figure);
  bl_form_line_add (card, words);
  gtk_box_append (GTK_BOX (beside), star);
  gtk_box_append (GTK_BOX (beside), menu);
  gtk_box_append (GTK_BOX (beside), all);
  bl_form_line_add (card, beside);
  g_object_set_data (G_OBJECT (row), "figure", figure);
  g_object_set_data (G_OBJECT (row), "ribbon", ribbon);
  g_object_set_data (G_OBJECT (row), "name", name);
  g_object_set_data (G_OBJECT (row), "common", common);
  g_object_set_data (G_OBJECT (row), "facts", facts);
  g_object_set_data (G_OBJECT (row), "fit", fit);
  g_object_set_data (G_OBJECT (row), "own", own);
  g_object_set_data (G_OBJECT (row), "star", star);
  g_object_set_data (G_OBJECT (row), "menu", menu);
  g_object_set_data (G_OBJECT (row), "all", all);
  g_signal_connect (star, "toggled", G_CALLBACK (favourite_cb), self);
  g_signal_connect (drag, "prepare", G_CALLBACK (drag_prepare_cb), row);
  gtk_widget_add_controller (card, GTK_EVENT_CONTROLLER (drag));
  gtk_list_item_set_child (row, card);
}

static void
tell_fit (GtkLabel *label, BlBoard *board, const BlPlant *plant)
{
  const BlModel *model = bl_board_get_model (board);
  const BlBed *bed = bl_narrow_bed (board);
  g_autoptr (BlFit) fit = bl_fit_plant (model, plant, bed != NULL ? bed->id : 0, bl_say_window (), NULL);

  gtk_widget_remove_css_class (GTK_WIDGET (label), "wrong");
  if (fit == NULL || fit->findings->len == 0)
    {
      const char *text = model->site.zone != 0 ? _("Nothing against it here") : NULL;

      gtk_label_set_text (label, text != NULL ? text : "");
      gtk_widget_set_tooltip_text (GTK_WIDGET (label), text);
      return;
    }
  {
    const BlFinding *finding = &g_array_index (fit->findings, BlFinding, 0);
    g_autofree char *text = g_strdup_printf ("⚠ %s", finding->sentence);

    gtk_label_set_text (label, text);
    gtk_widget_set_tooltip_text (GTK_WIDGET (label), finding->sentence);
    if (finding->severity != BL_SEVERITY_CAUTION)
      gtk_widget_add_css_class (GTK_WIDGET (label), "wrong");
  }
}

static void
bind_cb (GtkSignalListItemFactory *factory, GtkListItem *row, BlShelf *self)
{
  BlPlantItem *item = gtk_list_item_get_item (row);
  BlPlant *plant = bl_plant_item_get_plant (item);
  BlBoard *board = bl_part_get_board (BL_PART (self));
  const BlModel *model = bl_board_get_model (board);
  g_autofree char *markup = bl_plant_name_markup (plant);
  g_autofree char *facts
      = bl_plant_words (plant, model->site.zone, model->units == BL_UNITS_METRES);
  g_autofree char *plain = bl_plant_name (plant), *own = bl_card_own_words (board, plant);
  const char *common = bl_plant_common (plant, bl_say_window ());
  g_autofree char *spoken = g_strdup_printf ("%s, %s, %s%s%s", common, plain, facts,
                                             own != NULL ? ", " : "", own != NULL ? own : "");
  GtkWidget *star = g_object_get_data (G_OBJECT (row), "star");
  gboolean favourite = bl_settings_is_favourite (self->settings, plant->slug);

  bl_figure_view_set (g_object_get_data (G_OBJECT (row), "figure"), plant, model->site.zone, 0);
  bl_ribbon_view_set (g_object_get_data (G_OBJECT (row), "ribbon"), plant, model->site.zone, 0);
  gtk_label_set_markup (g_object_get_data (G_OBJECT (row), "name"), markup);
  gtk_widget_set_tooltip_markup (g_object_get_data (G_OBJECT (row), "name"), markup);
  gtk_label_set_text (g_object_get_data (G_OBJECT (row), "common"), common);
  gtk_label_set_text (g_object_get_data (G_OBJECT (row), "facts"), facts);
  gtk_label_set_text (g_object_get_data (G_OBJECT (row), "own"), own != NULL ? own : "");
  gtk_widget_set_visible (g_object_get_data (G_OBJECT (row), "own"), own != NULL);
  bl_plant_facts_set (g_object_get_data (G_OBJECT (row), "all"), board, plant);
  bl_card_menu_set (g_object_get_data (G_OBJECT (row), "menu"), board, plant);
  tell_fit (g_object_get_data (G_OBJECT (row), "fit"), board, plant);
  self->selecting = TRUE;
  g_object_set_data_full (G_OBJECT (star), "item", g_object_ref (item), g_object_unref);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (star), favourite);
  bl_icon_put (star, favourite ? "bl-star-full-symbolic" : "bl-star-symbolic");
  self->selecting = FALSE;
  bl_form_call (gtk_list_item_get_child (row), spoken);
}

static void
update (BlPart *part, guint what)
{
  BlShelf *self = BL_SHELF (part);

  if ((what & BL_BOARD_LIBRARY) != 0
      || ((what & BL_BOARD_MODEL) != 0 && facet (self, FACET_IN_DESIGN))
      || ((what & BL_BOARD_MOMENT) != 0 && facet (self, FACET_BLOOMS)))
    ask_find (self);
  bl_pen_form_update (self->pen, bl_part_get_board (part), what);
}

void
bl_shelf_focus (GtkWidget *shelf)
{
  gtk_widget_grab_focus (BL_SHELF (shelf)->search);
  gtk_editable_select_region (GTK_EDITABLE (BL_SHELF (shelf)->search), 0, -1);
}

static void
bl_shelf_dispose (GObject *object)
{
  BlShelf *self = BL_SHELF (object);

  g_clear_handle_id (&self->refind, g_source_remove);
  g_clear_handle_id (&self->filling, g_source_remove);
  g_clear_pointer (&self->found, g_ptr_array_unref);
  g_clear_object (&self->settings);
  g_clear_object (&self->store);
  G_OBJECT_CLASS (bl_shelf_parent_class)->dispose (object);
}

static void
bl_shelf_class_init (BlShelfClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
  G_OBJECT_CLASS (klass)->dispose = bl_shelf_dispose;
}

/* Gives way in a low window, and scrolls there. */
static GtkWidget *
low (GtkWidget *form)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();

  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), form);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scroller), TRUE);
  g_object_bind_property (form, "visible", scroller, "visible", G_BINDING_SYNC_CREATE);
  return scroller;
}

static void
narrowed (gpointer data)
{
  ask_find (data);
}

/* The quick sieve and, under it, the finer one. */
static GtkWidget *
make_facets (BlShelf *self)
{
  static const char *const titles[FACET_N] = {
    N_("Fits this site"), N_("Favourites"), N_("In this design"), N_("Evergreen"), N_("Native"),
    N_("Bears salt"), N_("Deer pass by"), N_("Bears drought"), N_("Flowers this month"), N_("In stock"), N_("Your own")
  };
  GtkWidget *flow = gtk_flow_box_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);

  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (flow), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (flow), 4);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (flow), 4);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (flow), 4);
  for (int i = 0; i < FACET_N; i++)
    {
      self->facets[i] = gtk_toggle_button_new_with_label (_(titles[i]));
      gtk_widget_add_css_class (self->facets[i], "facet");
      g_signal_connect_swapped (self->facets[i], "toggled", G_CALLBACK (ask_find), self);
      gtk_flow_box_append (GTK_FLOW_BOX (flow), self->facets[i]);
      gtk_widget_set_focusable (gtk_widget_get_parent (self->facets[i]), FALSE);
    }
  gtk_box_append (GTK_BOX (box), flow);
  self->narrow = bl_narrow_new (narrowed, self);
  gtk_box_append (GTK_BOX (box), self->narrow);
  return low (box);
}

static void
bl_shelf_init (BlShelf *self)
{
  GtkBox *box = GTK_BOX (self);
  GtkWidget *hands = bl_form_grid (3), *scroller = gtk_scrolled_window_new ();
  GtkWidget *more = gtk_expander_new (_("Narrow down"));
  GtkWidget *under = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  bl_form_grid_add (hands, bl_form_hand ("bl-select-symbolic", _("Select"), "win.hand", "select"));
  bl_form_grid_add (hands,
                    bl_form_hand ("bl-specimen-symbolic", _ ("Specimen"), "win.hand", "specimen"));
  bl_form_grid_add (hands, bl_form_hand ("bl-row-symbolic", _("Row"), "win.hand", "row"));
  bl_form_grid_add (hands, bl_form_hand ("bl-drift-symbolic", _("Drift"), "win.hand", "drift"));
  bl_form_grid_add (hands, bl_form_hand ("bl-fill-symbolic", _("Fill"), "win.hand", "fill"));
  bl_form_grid_add (hands,
                    bl_form_hand ("bl-reshape-symbolic", _ ("Reshape"), "win.hand", "reshape"));
  gtk_box_append (box, hands);
  self->pen = bl_pen_form_new ();
  gtk_box_append (box, low (self->pen));

  self->search = gtk_search_entry_new ();
  g_object_set (self->search, "placeholder-text", _("Find a plant"), NULL);
  bl_form_call (self->search, _("Find a plant"));
  g_signal_connect_swapped (self->search, "search-changed", G_CALLBACK (ask_find), self);
  g_signal_connect_swapped (self->search, "activate", G_CALLBACK (take_first_cb), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (search_key_cb), self);
  gtk_widget_add_controller (self->search, keys);
  gtk_box_append (box, self->search);
  gtk_expander_set_child (GTK_EXPANDER (more), make_facets (self));
  gtk_box_append (box, more);
  self->count = bl_form_text ("", "dim");
  gtk_widget_set_hexpand (self->count, TRUE);
  gtk_box_append (GTK_BOX (under), self->count);
  gtk_box_append (GTK_BOX (under), bl_own_menu_new ());
  gtk_box_append (box, under);

  self->found = g_ptr_array_new_with_free_func (g_object_unref);
  self->store = g_list_store_new (BL_TYPE_PLANT_ITEM);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->store)));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  g_signal_connect (factory, "setup", G_CALLBACK (setup_cb), self);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), self);
  self->view = gtk_list_view_new (GTK_SELECTION_MODEL (self->selection), factory);
  gtk_widget_add_css_class (self->view, "cards");
  bl_form_call (self->view, _("Plants found"));
  g_signal_connect_swapped (self->selection, "notify::selected-item", G_CALLBACK (picked_cb), self);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), self->view);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_widget_set_size_request (scroller, -1, 160);
  gtk_box_append (box, scroller);
}

GtkWidget *
bl_shelf_new (BlSettings *settings)
{
  BlShelf *self = g_object_new (BL_TYPE_SHELF, NULL);

  self->settings = g_object_ref (settings);
  return GTK_WIDGET (self);
}
