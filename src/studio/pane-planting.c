/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The planting list: the drawing as a list, with the same selection. */

#include "config.h"

#include "studio/canvas-private.h"
#include "studio/form.h"
#include "studio/panes.h"
#include "studio/sheets.h"

#include <glib/gi18n.h>

#define NOTES_HEIGHT 220 /* pixels, of what could not be laid out */

/* A row: one planting. */

#define BL_TYPE_PLANTING_ITEM (bl_planting_item_get_type ())
G_DECLARE_FINAL_TYPE (BlPlantingItem, bl_planting_item, BL, PLANTING_ITEM, GObject)

struct _BlPlantingItem
{
  GObject parent_instance;

  gint64 id;
  char *markup, *words, *spoken, *count;
};

G_DEFINE_FINAL_TYPE (BlPlantingItem, bl_planting_item, G_TYPE_OBJECT)

static void
bl_planting_item_finalize (GObject *object)
{
  BlPlantingItem *self = BL_PLANTING_ITEM (object);

  g_free (self->markup);
  g_free (self->words);
  g_free (self->spoken);
  g_free (self->count);
  G_OBJECT_CLASS (bl_planting_item_parent_class)->finalize (object);
}

static void
bl_planting_item_class_init (BlPlantingItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bl_planting_item_finalize;
}

static void
bl_planting_item_init (BlPlantingItem *self)
{
}

/* The pane. */

#define BL_TYPE_PANE_PLANTING (bl_pane_planting_get_type ())
G_DECLARE_FINAL_TYPE (BlPanePlanting, bl_pane_planting, BL, PANE_PLANTING, BlPart)

struct _BlPanePlanting
{
  BlPart parent_instance;

  GListStore *store;
  GtkMultiSelection *selection;
  GtkWidget *total, *messages, *notes;
  gboolean syncing;
};

G_DEFINE_FINAL_TYPE (BlPanePlanting, bl_pane_planting, BL_TYPE_PART)

static guint
count_of (BlLayout *layout, gint64 id)
{
  guint n = 0;

  for (guint i = 0; layout != NULL && i < layout->placed->len; i++)
    n += g_array_index (layout->placed, BlPlaced, i).planting_id == id;
  return n;
}

static BlPlantingItem *
make_item (BlBoard *board, const BlPlanting *planting)
{
  const BlModel *model = bl_board_get_model (board);
  BlPlantingItem *item = g_object_new (BL_TYPE_PLANTING_ITEM, NULL);
  BlPlant *plant = bl_model_plant (model, planting->slug);
  g_autofree char *spacing
      = bl_spacing_format (bl_planting_spacing (model, planting), model->units);
  const BlBed *bed = bl_model_bed (model, planting->bed_id);

  item->id = planting->id;
  item->markup
      = plant != NULL ? bl_plant_name_markup (plant) : g_markup_escape_text (planting->slug, -1);
  item->count = g_strdup_printf ("%u", count_of (bl_board_get_layout (board), planting->id));
  item->words = planting->form == BL_PLANTING_SPECIMEN
    ? g_strdup_printf ("%s · %s%s", bl_form_title (planting->form), bed != NULL ? bed->name : "",
                       planting->locked ? _(" · locked") : "")
    : g_strdup_printf (_("%s, %s apart · %s%s"), bl_form_title (planting->form), spacing,
                       bed != NULL ? bed->name : "", planting->locked ? _(" · locked") : "");
  item->spoken = bl_board_describe_planting (board, planting->id);
  return item;
}

static void
show_selection (BlPanePlanting *self, BlBoard *board)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->store));
  g_autoptr (GtkBitset) selected = gtk_bitset_new_empty ();
  g_autoptr (GtkBitset) mask = gtk_bitset_new_range (0, n);

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (BlPlantingItem) item = g_list_model_get_item (G_LIST_MODEL (self->store), i);

      if (bl_board_is_selected (board, BL_PICK_PLANTING, item->id))
        gtk_bitset_add (selected, i);
    }
  self->syncing = TRUE;
  gtk_selection_model_set_selection (GTK_SELECTION_MODEL (self->selection), selected, mask);
  self->syncing = FALSE;
}

static void
fill (BlPanePlanting *self, BlBoard *board)
{
  const BlModel *model = bl_board_get_model (board);
  BlLayout *layout = bl_board_get_layout (board);
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);
  g_autofree char *total = NULL;
  guint n = layout != NULL ? layout->placed->len : 0;
  GString *messages = g_string_new (NULL);

  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i);

      if (planting->alternative_id == bl_board_get_alternative (board))
        g_ptr_array_add (items, make_item (board, planting));
    }
  self->syncing = TRUE;
  g_list_store_splice (self->store, 0, g_list_model_get_n_items (G_LIST_MODEL (self->store)),
                       items->pdata, items->len);
  self->syncing = FALSE;
  total = items->len == 0
              ? g_strdup (_ ("Nothing planted in this alternative yet. Pick a plant on the shelf "
                             "and a planting hand."))
              : g_strdup_printf (ngettext ("%u plant in all", "%u plants in all", n), n);
  gtk_label_set_text (GTK_LABEL (self->total), total);
  for (guint i = 0; layout != NULL && i < layout->messages->len; i++)
    g_string_append_printf (messages, "%s%s", i > 0 ? "\n" : "",
                            (const char *) g_ptr_array_index (layout->messages, i));
  gtk_label_set_text (GTK_LABEL (self->messages), messages->str);
  gtk_widget_set_visible (self->notes, messages->len > 0);
  g_string_free (messages, TRUE);
}

static void
update (BlPart *part, guint what)
{
  BlPanePlanting *self = BL_PANE_PLANTING (part);
  BlBoard *board = bl_part_get_board (part);

  if ((what & (BL_BOARD_MODEL | BL_BOARD_SCENE | BL_BOARD_ALTERNATIVE)) != 0)
    fill (self, board);
  if ((what & (BL_BOARD_MODEL | BL_BOARD_SCENE | BL_BOARD_SELECTION | BL_BOARD_ALTERNATIVE)) != 0)
    show_selection (self, board);
}

static void
selection_changed_cb (BlPanePlanting *self)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  g_autoptr (GArray) picks = NULL;
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->store));

  if (self->syncing || board == NULL)
    return;
  picks = g_array_new (FALSE, FALSE, sizeof (BlPick));
  for (guint i = 0; i < n; i++)
    if (gtk_selection_model_is_selected (GTK_SELECTION_MODEL (self->selection), i))
      {
        g_autoptr (BlPlantingItem) item = g_list_model_get_item (G_LIST_MODEL (self->store), i);
        BlPick pick = { BL_PICK_PLANTING, item->id };

        g_array_append_val (picks, pick);
      }
  bl_board_set_selection (board, picks);
}

static void
setup_cb (GtkSignalListItemFactory *factory, GtkListItem *row, gpointer data)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8),
            *left = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *name = gtk_label_new (""), *words = gtk_label_new (""), *count = gtk_label_new ("");

  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_label_set_xalign (GTK_LABEL (words), 0);
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_END);
  gtk_label_set_ellipsize (GTK_LABEL (words), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (name, "botanical");
  gtk_widget_add_css_class (words, "facts");
  gtk_widget_add_css_class (count, "figure");
  gtk_widget_set_hexpand (left, TRUE);
  gtk_box_append (GTK_BOX (left), name);
  gtk_box_append (GTK_BOX (left), words);
  gtk_box_append (GTK_BOX (box), left);
  gtk_box_append (GTK_BOX (box), count);
  gtk_list_item_set_child (row, box);
}

static void
bind_cb (GtkSignalListItemFactory *factory, GtkListItem *row, gpointer data)
{
  BlPlantingItem *item = gtk_list_item_get_item (row);
  GtkWidget *box = gtk_list_item_get_child (row), *left = gtk_widget_get_first_child (box);

  gtk_label_set_markup (GTK_LABEL (gtk_widget_get_first_child (left)), item->markup);
  gtk_label_set_text (GTK_LABEL (gtk_widget_get_last_child (left)), item->words);
  gtk_label_set_text (GTK_LABEL (gtk_widget_get_last_child (box)), item->count);
  gtk_widget_set_tooltip_text (box, item->spoken);
  bl_form_call (box, item->spoken);
}

static void
bl_pane_planting_dispose (GObject *object)
{
  g_clear_object (&BL_PANE_PLANTING (object)->store);
  G_OBJECT_CLASS (bl_pane_planting_parent_class)->dispose (object);
}

static void
bl_pane_planting_class_init (BlPanePlantingClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
  G_OBJECT_CLASS (klass)->dispose = bl_pane_planting_dispose;
}

static void
bl_pane_planting_init (BlPanePlanting *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkWidget *scroller = gtk_scrolled_window_new (), *view;

  self->store = g_list_store_new (BL_TYPE_PLANTING_ITEM);
  self->selection = gtk_multi_selection_new (G_LIST_MODEL (g_object_ref (self->store)));
  g_signal_connect (factory, "setup", G_CALLBACK (setup_cb), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), NULL);
  g_signal_connect_swapped (self->selection, "selection-changed", G_CALLBACK (selection_changed_cb),
                            self);
  view = gtk_list_view_new (GTK_SELECTION_MODEL (self->selection), factory);
  gtk_widget_add_css_class (view, "cards");
  bl_form_call (view, _("Plantings"));
  self->total = bl_form_text ("", "figure");
  gtk_widget_add_css_class (self->total, "over-cards");
  self->messages = bl_form_text ("", "advice");
  /* However much there is to say, the list below keeps its room. */
  self->notes = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->notes), self->messages);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->notes), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (self->notes), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (self->notes), NOTES_HEIGHT);
  gtk_box_append (GTK_BOX (self), self->total);
  gtk_box_append (GTK_BOX (self), self->notes);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), view);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_box_append (GTK_BOX (self), scroller);
}

GtkWidget *
bl_pane_planting_new (void)
{
  return g_object_new (BL_TYPE_PANE_PLANTING, NULL);
}
