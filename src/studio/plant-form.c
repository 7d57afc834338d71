/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window in which a plant of the person's own is written. The record as typed is checked by the
 * library's own checks and drawn as it will stand; nothing is kept until it is whole. */

#include "config.h"

#include "studio/plant-form.h"

#include "studio/form.h"
#include "studio/plant-field.h"
#include "studio/plant-picture.h"
#include "studio/plant-preview.h"

#include <glib/gi18n.h>
#include <string.h>

#define DRAFT "new" /* key of what has none yet */
#define NEAR 6      /* plants offered to start from */

typedef struct
{
  GtkWidget *window, *title, *search, *near, *groups, *pages, *preview, *picture, *status, *keep,
      *leave, *stay;
  GtkWidget *counts[BL_GROUP_N]; /* beside the groups: things to be put right */
  GPtrArray *fields;             /* BlPlantField */
  BlBoard *board;
  char *slug;                    /* the plant that is changed; NULL: one is added */
  BlPlantKept kept;
  gpointer data;
  guint check;
  gboolean touched, tried, leaving;
} Form;

static void
form_free (gpointer data)
{
  Form *form = data;

  g_clear_handle_id (&form->check, g_source_remove);
  g_ptr_array_unref (form->fields);
  g_object_unref (form->board);
  g_free (form->slug);
  g_free (form);
}

/* The record. */

/* The design height as typed, metres; for a picture that states none. */
static double
usual_height (const char *record)
{
  const char *at = strstr (record, "height=");
  double usual = 0;

  /* Low, high, design height; a record has the point whatever the person's language. */
  if (at != NULL)
    at += strlen ("height=");
  for (guint i = 0; at != NULL && i < 3; i++)
    {
      char *end = NULL;

      usual = g_ascii_strtod (at, &end);
      at = end > at ? end : NULL;
    }
  return at != NULL && usual > 0 ? usual / 100 : 1;
}

static char *
record_of (Form *form)
{
  GString *record = g_string_new (NULL);
  g_autofree char *picture = NULL;

  for (guint i = 0; i < form->fields->len; i++)
    {
      BlPlantField *field = form->fields->pdata[i];
      g_autofree char *value = bl_plant_field_get (field);

      if (value != NULL && value[0] != '\0')
        g_string_append_printf (record, "%s=%s\n", field->info->key, value);
    }
  picture = bl_plant_picture_value (BL_PLANT_PICTURE (form->picture), usual_height (record->str));
  if (picture != NULL)
    g_string_append_printf (record, "picture=%s\n", picture);
  return g_string_free (record, FALSE);
}

/* Two plants of one name would be one and the same on every list. */
static void
check_name (Form *form, const BlPlant *plant, GHashTable *faults)
{
  g_autofree char *slug = bl_plant_name_slug (plant);
  BlLibrary *library = bl_board_get_library (form->board);
  g_autoptr (BlPlant) other = library != NULL ? bl_library_get (library, slug, NULL) : NULL;

  if (form->slug == NULL && other != NULL)
    g_hash_table_insert (faults, g_strdup ("cultivar"),
                         g_strdup (_("The shelf has a plant of this name: give this one a cultivar of "
                                     "its own, or change that one")));
}

/* Telling. */

static BlFieldGroup
group_of (Form *form, const char *key)
{
  for (guint i = 0; i < form->fields->len; i++)
    if (g_str_equal (((BlPlantField *) form->fields->pdata[i])->info->key, key))
      return ((BlPlantField *) form->fields->pdata[i])->info->group;
  return BL_GROUP_PICTURE;
}

/* What was not yet filled in is not held against the person before the first try to keep it. */
static void
tell_faults (Form *form, GHashTable *faults)
{
  guint counts[BL_GROUP_N] = { 0 };

  for (guint i = 0; i < form->fields->len; i++)
    {
      BlPlantField *field = form->fields->pdata[i];
      const char *fault = g_hash_table_lookup (faults, field->info->key);
      gboolean shown = fault != NULL
                       && (form->tried || field->touched || !g_str_equal (fault, "is missing"));

      bl_plant_field_tell (field, shown ? bl_field_sentence (field->info, fault) : NULL);
      counts[field->info->group] += shown;
    }
  counts[BL_GROUP_PICTURE] += g_hash_table_contains (faults, "picture");
  for (guint g = 0; g < BL_GROUP_N; g++)
    {
      g_autofree char *text = g_strdup_printf ("%u", counts[g]);

      gtk_label_set_text (GTK_LABEL (form->counts[g]), counts[g] > 0 ? text : "");
    }
}

static void
say (Form *form, const char *sentence, gboolean wrong)
{
  gtk_label_set_text (GTK_LABEL (form->status), sentence != NULL ? sentence : "");
  if (wrong)
    gtk_widget_add_css_class (form->status, "wrong");
  else
    gtk_widget_remove_css_class (form->status, "wrong");
}

static GHashTable *
check (Form *form, char **record, BlPlant **plant)
{
  GHashTable *faults;

  *record = record_of (form);
  faults = bl_plant_faults (form->slug != NULL ? form->slug : DRAFT, *record);
  *plant = g_hash_table_size (faults) == 0
               ? bl_plant_parse (form->slug != NULL ? form->slug : DRAFT, *record, NULL) : NULL;
  if (*plant != NULL)
    {
      bl_plant_lend_picture (*plant, bl_plant_picture_bytes (BL_PLANT_PICTURE (form->picture)));
      check_name (form, *plant, faults);
    }
  tell_faults (form, faults);
  bl_plant_preview_set (BL_PLANT_PREVIEW (form->preview), *plant);
  return faults;
}

static gboolean
check_cb (gpointer data)
{
  Form *form = data;
  g_autofree char *record = NULL;
  g_autoptr (BlPlant) plant = NULL;
  g_autoptr (GHashTable) faults = NULL;

  form->check = 0;
  faults = check (form, &record, &plant);
  if (form->tried && g_hash_table_size (faults) == 0)
    say (form, NULL, FALSE);
  return G_SOURCE_REMOVE;
}

static void
ask_check (Form *form)
{
  form->touched = TRUE;
  if (form->check == 0)
    form->check = g_timeout_add (120, check_cb, form);
}

static void
field_changed_cb (BlPlantField *field, gpointer data)
{
  ask_check (data);
}

/* Filling. */

static void
fill (Form *form, const BlPlant *plant)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();

  if (plant != NULL)
    g_key_file_load_from_data (file, plant->text, strlen (plant->text), G_KEY_FILE_NONE, NULL);
  for (guint i = 0; i < form->fields->len; i++)
    {
      BlPlantField *field = form->fields->pdata[i];
      g_autofree char *value = plant != NULL ? g_key_file_get_value (file, plant->slug,
                                                                     field->info->key, NULL) : NULL;

      bl_plant_field_set (field, value);
    }
  bl_plant_picture_set (BL_PLANT_PICTURE (form->picture), plant);
  check_cb (form);
}

static void
start_from (Form *form, const BlPlant *plant)
{
  g_autofree char *name = bl_plant_name (plant);
  g_autofree char *sentence = g_strdup_printf (_("A copy of %s: change what is different, its name "
                                                 "first"), name);

  g_clear_handle_id (&form->check, g_source_remove);
  form->tried = FALSE;
  fill (form, plant);
  say (form, sentence, FALSE);
}

static void
near_activated_cb (GtkListBox *list, GtkListBoxRow *row, Form *form)
{
  g_autoptr (BlPlant) plant = bl_plant_ref (g_object_get_data (G_OBJECT (row), "plant"));

  gtk_editable_set_text (GTK_EDITABLE (form->search), "");
  form->touched = TRUE;
  start_from (form, plant);
}

static void
offer_near_cb (Form *form)
{
  const char *text = bl_form_get_text (form->search);
  BlPlantQuery query = { .text = text, .limit = NEAR };
  BlLibrary *library = bl_board_get_library (form->board);
  g_autoptr (GPtrArray) found
      = text[0] != '\0' && library != NULL ? bl_library_find (library, &query, NULL) : NULL;
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (form->near)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (form->near), child);
  for (guint i = 0; found != NULL && i < found->len; i++)
    {
      BlPlant *plant = found->pdata[i];
      GtkWidget *row = gtk_list_box_row_new (), *label = bl_form_text ("", "botanical");
      g_autofree char *markup = bl_plant_name_markup (plant), *name = bl_plant_name (plant);

      gtk_label_set_markup (GTK_LABEL (label), markup);
      gtk_label_set_max_width_chars (GTK_LABEL (label), 20);
      gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), label);
      bl_form_call (row, name);
      g_object_set_data_full (G_OBJECT (row), "plant", bl_plant_ref (plant),
                              (GDestroyNotify) bl_plant_unref);
      gtk_list_box_append (GTK_LIST_BOX (form->near), row);
    }
  gtk_widget_set_visible (form->near, found != NULL && found->len > 0);
}

static void
take_near_cb (Form *form)
{
  GtkListBoxRow *first;

  offer_near_cb (form);
  first = gtk_list_box_get_row_at_index (GTK_LIST_BOX (form->near), 0);
  if (first != NULL)
    near_activated_cb (GTK_LIST_BOX (form->near), first, form);
}

/* Keeping and leaving. */

static void
show_group (Form *form, BlFieldGroup group)
{
  gtk_list_box_select_row (GTK_LIST_BOX (form->groups),
                           gtk_list_box_get_row_at_index (GTK_LIST_BOX (form->groups), (int) group));
}

static void
show_first_fault (Form *form, GHashTable *faults)
{
  guint n = g_hash_table_size (faults);
  g_autofree char *sentence
      = g_strdup_printf (ngettext ("%u thing is still to be put right: it is told beside its field",
                                   "%u things are still to be put right: each is told beside its field",
                                   n), n);
  BlFieldGroup first = BL_GROUP_PICTURE;
  GHashTableIter iter;
  gpointer key;

  g_hash_table_iter_init (&iter, faults);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    first = MIN (first, group_of (form, key));
  show_group (form, first);
  say (form, sentence, TRUE);
}

static void
leave (Form *form)
{
  form->leaving = TRUE;
  gtk_window_close (GTK_WINDOW (form->window));
}

static void
keep_cb (Form *form)
{
  g_autofree char *record = NULL, *slug = NULL, *name = NULL;
  g_autoptr (BlPlant) plant = NULL;
  g_autoptr (GHashTable) faults = NULL;
  BlOwnStep *step = NULL;

  if (bl_plant_picture_is_busy (BL_PLANT_PICTURE (form->picture)))
    {
      say (form, _("The picture is still being read"), TRUE);
      return;
    }
  form->tried = TRUE;
  faults = check (form, &record, &plant);
  if (g_hash_table_size (faults) > 0 || plant == NULL)
    {
      show_first_fault (form, faults);
      return;
    }
  slug = form->slug != NULL ? g_strdup (form->slug) : bl_plant_name_slug (plant);
  if (!bl_board_keep_plant (form->board, slug, record,
                            bl_plant_picture_bytes (BL_PLANT_PICTURE (form->picture)), &step))
    return;
  name = bl_plant_name (plant);
  form->kept (name, step, form->data);
  leave (form);
}

/* What was written is not lost by a slip of the hand. */
static gboolean
close_cb (Form *form)
{
  if (!form->touched || form->leaving)
    return FALSE;
  say (form, _("Leave without keeping what you wrote?"), TRUE);
  gtk_widget_set_visible (form->leave, TRUE);
  gtk_widget_set_visible (form->stay, TRUE);
  gtk_widget_grab_focus (form->stay);
  return TRUE;
}

static void
stay_cb (Form *form)
{
  say (form, NULL, FALSE);
  gtk_widget_set_visible (form->leave, FALSE);
  gtk_widget_set_visible (form->stay, FALSE);
}

static gboolean
escape_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  gtk_window_close (GTK_WINDOW (widget));
  return TRUE;
}

static void
group_selected_cb (GtkListBox *list, GtkListBoxRow *row, Form *form)
{
  g_autofree char *name = NULL;

  if (row == NULL)
    return;
  name = g_strdup_printf ("%d", gtk_list_box_row_get_index (row));
  gtk_stack_set_visible_child_name (GTK_STACK (form->pages), name);
}

/* Building. */

static GtkWidget *
scrolled (GtkWidget *child)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();

  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), child);
  gtk_widget_set_hexpand (scroller, TRUE);
  gtk_widget_set_vexpand (scroller, TRUE);
  return scroller;
}

/* Fields that need the whole width. */
static gboolean
is_wide (const BlFieldInfo *info)
{
  return info->kind == BL_FIELD_HARM || info->kind == BL_FIELD_CONTAINERS
         || info->kind == BL_FIELD_SEASONS || info->kind == BL_FIELD_SET
         || g_strv_contains ((const char *const[]) { "form", "care", "care_note", "harm_note",
                                                     "basis", "regulated", "invasive", NULL },
                             info->key);
}

static GtkWidget *
make_page (Form *form, BlFieldGroup group)
{
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *grid = gtk_grid_new ();
  int row = 0, column = 0;

  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 16);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 12);
  gtk_box_append (GTK_BOX (page), bl_form_heading (bl_field_group_title (group)));
  for (guint i = 0; i < form->fields->len; i++)
    {
      BlPlantField *field = form->fields->pdata[i];
      gboolean wide = is_wide (field->info);

      if (field->info->group != group)
        continue;
      if (wide && column == 1)
        row++, column = 0;
      gtk_widget_set_valign (field->box, field->info->kind == BL_FIELD_FLAG ? GTK_ALIGN_END
                                                                           : GTK_ALIGN_START);
      gtk_grid_attach (GTK_GRID (grid), field->box, column, row, wide ? 2 : 1, 1);
      column = wide ? 0 : 1 - column;
      row += column == 0;
    }
  if (group == BL_GROUP_PICTURE)
    gtk_box_append (GTK_BOX (page), form->picture);
  else
    gtk_box_append (GTK_BOX (page), grid);
  if (group == BL_GROUP_PICTURE)
    g_object_unref (g_object_ref_sink (grid));
  gtk_widget_add_css_class (page, "sheet");
  return scrolled (page);
}

static GtkWidget *
make_groups (Form *form)
{
  form->groups = gtk_list_box_new ();
  form->pages = gtk_stack_new ();
  gtk_widget_add_css_class (form->groups, "cards");
  bl_form_call (form->groups, _("Parts of the form"));
  for (guint g = 0; g < BL_GROUP_N; g++)
    {
      GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
      GtkWidget *title = bl_form_text (bl_field_group_title (g), NULL);
      g_autofree char *name = g_strdup_printf ("%u", g);

      form->counts[g] = gtk_label_new ("");
      gtk_widget_add_css_class (form->counts[g], "wrong");
      gtk_widget_add_css_class (form->counts[g], "figure");
      gtk_widget_set_hexpand (title, TRUE);
      gtk_box_append (GTK_BOX (box), title);
      gtk_box_append (GTK_BOX (box), form->counts[g]);
      gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
      bl_form_call (row, bl_field_group_title (g));
      gtk_list_box_append (GTK_LIST_BOX (form->groups), row);
      gtk_stack_add_named (GTK_STACK (form->pages), make_page (form, g), name);
    }
  g_signal_connect (form->groups, "row-selected", G_CALLBACK (group_selected_cb), form);
  return form->groups;
}

static GtkWidget *
make_left (Form *form)
{
  GtkWidget *left = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);

  form->search = gtk_search_entry_new ();
  g_object_set (form->search, "placeholder-text", _("Start from a copy of…"), NULL);
  bl_form_call (form->search, _("Start from a copy of"));
  form->near = gtk_list_box_new ();
  gtk_widget_add_css_class (form->near, "cards");
  bl_form_call (form->near, _("Plants to start from"));
  gtk_widget_set_visible (form->near, FALSE);
  g_signal_connect_swapped (form->search, "search-changed", G_CALLBACK (offer_near_cb), form);
  g_signal_connect_swapped (form->search, "activate", G_CALLBACK (take_near_cb), form);
  g_signal_connect (form->near, "row-activated", G_CALLBACK (near_activated_cb), form);
  gtk_widget_set_visible (form->search, form->slug == NULL);
  gtk_box_append (GTK_BOX (left), form->search);
  gtk_box_append (GTK_BOX (left), form->near);
  gtk_box_append (GTK_BOX (left), make_groups (form));
  gtk_widget_add_css_class (left, "sheet");
  gtk_widget_set_size_request (left, 200, -1);
  return left;
}

static GtkWidget *
button_of (Form *form, const char *label, void (*run) (Form *))
{
  GtkWidget *button = bl_form_button (label, NULL, NULL);

  g_signal_connect_swapped (button, "clicked", G_CALLBACK (run), form);
  return button;
}

static void cancel_cb (Form *form) { gtk_window_close (GTK_WINDOW (form->window)); }

static GtkWidget *
make_foot (Form *form)
{
  GtkWidget *foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  form->status = bl_form_text ("", NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (form->status), 70);
  gtk_widget_set_hexpand (form->status, TRUE);
  form->stay = button_of (form, _("Go on writing"), stay_cb);
  form->leave = button_of (form, _("Leave it"), leave);
  form->keep = button_of (form, _("Keep the plant"), keep_cb);
  gtk_widget_set_visible (form->stay, FALSE);
  gtk_widget_set_visible (form->leave, FALSE);
  gtk_widget_add_css_class (form->keep, "suggested-action");
  gtk_box_append (GTK_BOX (foot), form->status);
  gtk_box_append (GTK_BOX (foot), form->stay);
  gtk_box_append (GTK_BOX (foot), form->leave);
  gtk_box_append (GTK_BOX (foot), button_of (form, _("Cancel"), cancel_cb));
  gtk_box_append (GTK_BOX (foot), form->keep);
  gtk_widget_add_css_class (foot, "time");
  return foot;
}

static void
make_fields (Form *form)
{
  guint n;
  const BlFieldInfo *infos = bl_field_infos (&n);
  const BlModel *model = bl_board_get_model (form->board);

  form->fields = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_plant_field_free);
  for (guint i = 0; i < n; i++)
    g_ptr_array_add (form->fields, bl_plant_field_new (&infos[i], model->units, model->currency,
                                                       field_changed_cb, form));
  form->picture = bl_plant_picture_new (model->units);
  g_signal_connect_swapped (form->picture, "changed", G_CALLBACK (ask_check), form);
  form->preview = bl_plant_preview_new (model->units, model->site.zone);
  gtk_widget_add_css_class (form->preview, "sheet");
}

static void
build (Form *form)
{
  GtkWidget *all = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *halves = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkEventController *keys = gtk_shortcut_controller_new ();

  make_fields (form);
  gtk_box_append (GTK_BOX (halves), make_left (form));
  gtk_box_append (GTK_BOX (halves), gtk_separator_new (GTK_ORIENTATION_VERTICAL));
  gtk_box_append (GTK_BOX (halves), form->pages);
  gtk_box_append (GTK_BOX (halves), gtk_separator_new (GTK_ORIENTATION_VERTICAL));
  gtk_box_append (GTK_BOX (halves), form->preview);
  gtk_widget_set_vexpand (halves, TRUE);
  gtk_box_append (GTK_BOX (all), halves);
  gtk_box_append (GTK_BOX (all), make_foot (form));
  gtk_window_set_child (GTK_WINDOW (form->window), all);
  gtk_shortcut_controller_add_shortcut (
      GTK_SHORTCUT_CONTROLLER (keys),
      gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0),
                        gtk_callback_action_new (escape_cb, NULL, NULL)));
  gtk_widget_add_controller (form->window, keys);
  g_signal_connect_swapped (form->window, "close-request", G_CALLBACK (close_cb), form);
}

GtkWidget *
bl_plant_form_window_new (GtkWindow *parent, BlBoard *board, const char *slug, gboolean copy,
                          BlPlantKept kept, gpointer data)
{
  Form *form = g_new0 (Form, 1);
  g_autoptr (BlPlant) plant
      = slug != NULL ? bl_library_get (bl_board_get_library (board), slug, NULL) : NULL;

  form->board = g_object_ref (board);
  form->slug = plant != NULL && !copy ? g_strdup (slug) : NULL;
  form->kept = kept;
  form->data = data;
  form->window = gtk_window_new ();
  g_object_set_data_full (G_OBJECT (form->window), "plant-form", form, form_free);
  gtk_window_set_title (GTK_WINDOW (form->window),
                        form->slug != NULL ? _("Change a plant") : _("A plant of your own"));
  gtk_window_set_transient_for (GTK_WINDOW (form->window), parent);
  gtk_window_set_modal (GTK_WINDOW (form->window), TRUE);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (form->window), TRUE);
  gtk_window_set_default_size (GTK_WINDOW (form->window), 1040, 700);
  gtk_widget_add_css_class (form->window, "studio");
  build (form);
  show_group (form, BL_GROUP_NAME);
  if (plant != NULL && copy)
    start_from (form, plant);
  else
    fill (form, plant);
  form->touched = FALSE;
  return form->window;
}
