/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet of a design: texts, site, photo, what lies on the ground, plant records. */
#include <string.h>

#include "base/error.h"
#include "design/check.h"
#include "design/numbers.h"
#include "design/sheet-private.h"

static void
top_text (BlSheetOut *out,
          const char *key,
          const char *value)
{
  if (value == NULL || value[0] == '\0')
    return;
  g_string_append (out->out, ",\n  ");
  bl_json_append_string (out->out, key);
  g_string_append (out->out, ": ");
  bl_json_append_string (out->out, value);
}

static void
write_texts (BlSheetOut    *out,
             const BlModel *model)
{
  g_autofree char *day = model->planting_day != 0 ? bl_day_format_iso (model->planting_day) : NULL;

  top_text (out, "title", model->title);
  top_text (out, "client", model->client);
  top_text (out, "place", model->place);
  top_text (out, "designer", model->designer);
  top_text (out, "notes", model->notes);
  top_text (out, "units", bl_units_name (model->units));
  top_text (out, "currency", model->currency);
  top_text (out, "language", model->language);
  top_text (out, "planting_day", day);
  top_text (out, "id", model->id);
}

static void
begin_group (BlSheetOut *out,
             const char *key)
{
  g_string_append (out->out, ",\n  ");
  bl_json_append_string (out->out, key);
  g_string_append (out->out, ": {");
  out->first = TRUE;
}

static void
write_site (BlSheetOut   *out,
            const BlSite *site)
{
  g_autofree char *zone = site->zone != 0 ? bl_zone_format (site->zone) : NULL;
  g_autofree char *last
      = site->last_frost.month > 0 ? bl_month_day_format (site->last_frost) : NULL;
  g_autofree char *first
      = site->first_frost.month > 0 ? bl_month_day_format (site->first_frost) : NULL;

  begin_group (out, "site");
  if (!isnan (site->latitude))
    bl_out_number (out, "latitude", site->latitude);
  if (!isnan (site->longitude))
    bl_out_number (out, "longitude", site->longitude);
  if (!isnan (site->north))
    bl_out_number (out, "north", site->north);
  bl_out_text_if (out, "zone", zone);
  bl_out_text_if (out, "last_frost", last);
  bl_out_text_if (out, "first_frost", first);
  if (site->soil != BL_SOIL_UNKNOWN)
    bl_out_text (out, "soil", bl_soil_name (site->soil));
  bl_out_number_if (out, "ph", site->ph);
  if (site->moisture != BL_MOISTURE_UNKNOWN)
    bl_out_text (out, "moisture", bl_moisture_name (site->moisture));
  if (!isnan (site->sun_hours))
    bl_out_number (out, "sun_hours", site->sun_hours);
  bl_out_switch_if (out, "salt_edge", site->salt_edge);
  bl_out_switch_if (out, "children", site->children);
  bl_out_switch_if (out, "pets", site->pets);
  bl_out_switch_if (out, "deer", site->deer);
  bl_out_text_if (out, "state", site->state);
  if (site->wind != BL_WIND_UNKNOWN)
    bl_out_text (out, "wind", bl_wind_name (site->wind));
  if (!isnan (site->hot_days))
    bl_out_number (out, "hot_days", site->hot_days);
  bl_out_switch_if (out, "fire_zone", site->fire_zone);
  if (!isnan (site->full_from))
    bl_out_number (out, "full_from", site->full_from);
  if (!isnan (site->part_from))
    bl_out_number (out, "part_from", site->part_from);
  g_string_append (out->out, " }");
}

static gboolean
write_photo (BlSheetOut *out,
             BlDesign   *design,
             GError    **error)
{
  const BlPhotoInfo *photo = &bl_design_get_model (design)->photo;
  gint64 picture = 0;

  if (photo->width == 0)
    return TRUE;
  if (!bl_store_number (design->store, "SELECT coalesce(max(picture), 0) FROM photo", &picture,
                        error))
    return FALSE;
  begin_group (out, "photo");
  /* A picture that came without a name is looked for under one that says so. */
  if (picture != 0)
    bl_out_text (out, "file",
                 photo->name != NULL && photo->name[0] != '\0' ? photo->name : "photo.jpg");
  bl_out_whole_if (out, "width", photo->width);
  bl_out_whole_if (out, "height", photo->height);
  /* Always stated, so that reading the picture's metadata again cannot change it. */
  bl_out_number (out, "focal_35mm", photo->focal_35mm);
  bl_out_number_if (out, "click_px", photo->click_px);
  bl_out_number_if (out, "slope", photo->slope);
  bl_out_angle_if (out, "slope_direction", photo->slope_direction);
  g_string_append (out->out, " }");
  return TRUE;
}

static void
write_drawing (BlSheetOut      *out,
               const BlDrawing *drawing)
{
  if (drawing->width == 0)
    return;
  begin_group (out, "drawing");
  /* A picture that came without a name is looked for under one that says so. */
  if (drawing->picture != 0)
    bl_out_text (out, "file",
                 drawing->name != NULL && drawing->name[0] != '\0' ? drawing->name : "drawing.png");
  bl_out_whole_if (out, "width", drawing->width);
  bl_out_whole_if (out, "height", drawing->height);
  if (drawing->length > 0)
    {
      bl_out_key (out, "px");
      g_string_append_c (out->out, '[');
      bl_out_point (out, drawing->ends[0], TRUE);
      g_string_append (out->out, ", ");
      bl_out_point (out, drawing->ends[1], TRUE);
      g_string_append_c (out->out, ']');
      bl_out_length (out, "length", drawing->length);
      bl_out_length_if (out, "sd", drawing->sd);
    }
  bl_out_number_if (out, "click_px", drawing->click_px);
  if (!isnan (drawing->place.x))
    {
      bl_out_key (out, "at");
      bl_out_point (out, drawing->place, FALSE);
    }
  bl_out_angle_if (out, "turn", drawing->turn);
  g_string_append (out->out, " }");
}

/* ---- plant records ---- */

static gboolean
is_in_library (BlLibrary     *library,
               const BlPlant *plant)
{
  g_autoptr(BlPlant) ours = library != NULL ? bl_library_get (library, plant->slug, NULL) : NULL;

  return ours != NULL && g_strcmp0 (ours->text, plant->text) == 0;
}

static void
write_record (BlSheetOut    *out,
              const BlPlant *plant,
              gboolean       first)
{
  g_auto(GStrv) lines = g_strsplit (plant->text, "\n", -1);
  guint n = g_strv_length (lines);

  /* A record ends with its last line's end. */
  while (n > 0 && lines[n - 1][0] == '\0')
    n--;
  g_string_append_printf (out->out, "%s\n    ", first ? "" : ",");
  bl_json_append_string (out->out, plant->slug);
  g_string_append (out->out, ": [");
  for (guint i = 0; i < n; i++)
    {
      g_string_append_printf (out->out, "%s\n      ", i > 0 ? "," : "");
      bl_json_append_string (out->out, lines[i]);
    }
  g_string_append (out->out, "\n    ]");
}

static void
write_plants (BlSheetOut    *out,
              const BlModel *model,
              BlLibrary     *library)
{
  g_autoptr (GList) slugs
      = g_list_sort (g_hash_table_get_keys (model->plants), (GCompareFunc) g_strcmp0);
  gboolean any = FALSE;

  for (GList *slug = slugs; slug != NULL; slug = slug->next)
    {
      const BlPlant *plant = bl_model_plant (model, slug->data);

      if (is_in_library (library, plant))
        continue;
      if (!any)
        begin_group (out, "plants");
      write_record (out, plant, !any);
      any = TRUE;
    }
  if (any)
    g_string_append (out->out, "\n  }");
}

char *
bl_sheet_write_with (BlDesign  *design,
                     BlLibrary *library,
                     GError   **error)
{
  g_autoptr(GString) text = g_string_new ("{\n  \"design_sheet\": 1");
  BlModel *model;
  BlSheetOut out = { .out = text };

  g_return_val_if_fail (BL_IS_DESIGN (design), NULL);
  model = bl_design_get_model (design);
  out.units = model->units;
  write_texts (&out, model);
  write_site (&out, &model->site);
  if (!write_photo (&out, design, error))
    return NULL;
  write_drawing (&out, &model->drawing);
  bl_out_ground (&out, model);
  write_plants (&out, model, library);
  bl_out_alternatives (&out, model);
  bl_out_prices (&out, model);
  bl_out_care (&out, model);
  g_string_append (text, "\n}\n");
  return g_string_free (g_steal_pointer (&text), FALSE);
}

char *
bl_sheet_write (BlDesign *design,
                GError  **error)
{
  return bl_sheet_write_with (design, NULL, error);
}
