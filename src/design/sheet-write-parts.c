/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet of a design: its lists, one line an item. */
#include <string.h>

#include "design/numbers.h"
#include "design/sheet-private.h"

#define end_item(out) g_string_append ((out)->out, " }")

/* ---- knowns and tape ---- */

static void
write_known (BlSheetOut    *out,
             const BlKnown *known)
{
  bl_out_text (out, "kind", bl_known_kind_name (known->kind));
  bl_out_text_if (out, "name", known->name);
  if (known->kind == BL_KNOWN_POSITION && known->px->len == 1)
    {
      bl_out_key (out, "px");
      bl_out_point (out, bl_points_at (known->px, 0), TRUE);
    }
  else if (known->px->len > 0)
    {
      bl_out_key (out, "px");
      bl_out_points (out, known->px, TRUE);
    }
  if (known->kind == BL_KNOWN_RECTANGLE)
    {
      bl_out_length (out, "width", known->size[0]);
      bl_out_length (out, "depth", known->size[1]);
    }
  else if (known->kind == BL_KNOWN_POSITION)
    {
      bl_out_key (out, "at");
      bl_out_point (out, BL_POINT (known->size[0], known->size[1]), FALSE);
    }
  else if (known->kind == BL_KNOWN_LENGTH || known->kind == BL_KNOWN_HEIGHT
           || known->kind == BL_KNOWN_EYE || known->kind == BL_KNOWN_CHECK)
    bl_out_length_if (out, "value", known->size[0]);
  bl_out_length_if (out, "sd", known->sd);
  bl_out_number_if (out, "click_px", known->click_px);
  end_item (out);
}

static void
write_tape_point (BlSheetOut        *out,
                  const BlTapePoint *point)
{
  bl_json_append_string (out->out, point->name);
  g_string_append (out->out, ": ");
  bl_out_point (out, point->at, FALSE);
}

static void
write_distance (BlSheetOut           *out,
                const BlTape         *tape,
                const BlTapeDistance *d)
{
  BlSheetOut inner = { out->out, out->units, TRUE };

  g_string_append_c (out->out, '[');
  bl_json_append_string (out->out, g_array_index (tape->points, BlTapePoint, d->from).name);
  g_string_append (out->out, ", ");
  bl_json_append_string (out->out, g_array_index (tape->points, BlTapePoint, d->to).name);
  g_string_append (out->out, ", ");
  bl_out_bare_length (&inner, d->distance);
  if (d->sd != 0)
    {
      g_string_append (out->out, ", ");
      bl_out_bare_length (&inner, d->sd);
    }
  g_string_append_c (out->out, ']');
}

static void
write_tape (BlSheetOut   *out,
            const BlTape *tape)
{
  gboolean any = FALSE;

  g_string_append (out->out, ",\n  \"tape\": {\n    \"points\": [");
  for (guint i = 0; i < tape->points->len; i++)
    {
      g_string_append (out->out, i > 0 ? ", " : "");
      bl_json_append_string (out->out, g_array_index (tape->points, BlTapePoint, i).name);
    }
  g_string_append (out->out, "]");
  for (guint i = 0; i < tape->points->len; i++)
    {
      const BlTapePoint *point = &g_array_index (tape->points, BlTapePoint, i);

      if (!point->fixed)
        continue;
      g_string_append (out->out, any ? ", " : ",\n    \"fixed\": { ");
      write_tape_point (out, point);
      any = TRUE;
    }
  g_string_append (out->out, any ? " }" : "");
  for (guint i = 0; i < tape->distances->len; i++)
    {
      g_string_append (out->out, i > 0 ? ", " : ",\n    \"distances\": [");
      write_distance (out, tape, &g_array_index (tape->distances, BlTapeDistance, i));
    }
  g_string_append (out->out, tape->distances->len > 0 ? "]\n  }" : "\n  }");
}

/* ---- features and beds ---- */

const char *
bl_out_outline_key (BlSource source)
{
  static const char *const keys[] = { [BL_FROM_PLAN] = "outline", [BL_FROM_PHOTO] = "outline_px",
                                      [BL_FROM_TAPE] = "outline_points",
                                      [BL_FROM_DRAWING] = "outline_drawing" };

  return keys[source];
}

static void
write_feature (BlSheetOut      *out,
               const BlFeature *feature)
{
  const BlOutline *outline = feature->outline;
  gboolean usual = bl_feature_kind_is_line (feature->kind) || outline->points->len == 2;

  bl_out_text (out, "kind", bl_feature_kind_name (feature->kind));
  bl_out_text_if (out, "name", feature->name);
  bl_out_outline (out, bl_out_outline_key (feature->source), outline,
                  feature->source != BL_FROM_PLAN);
  if (!outline->open != !usual)
    {
      bl_out_key (out, "open");
      g_string_append (out->out, outline->open ? "true" : "false");
    }
  bl_out_length_if (out, "height", feature->height);
  bl_out_length_if (out, "tolerance", feature->tolerance);
  end_item (out);
}

static void
write_tape_outline (BlSheetOut  *out,
                    const BlBed *bed)
{
  guint n = g_strv_length (bed->tape_points);
  gboolean straight = bed->tape_sharp != NULL;

  bl_out_key (out, "outline_points");
  g_string_append_c (out->out, '[');
  for (guint i = 0; i < n; i++)
    {
      g_string_append (out->out, i > 0 ? ", " : "");
      bl_json_append_string (out->out, bed->tape_points[i]);
      straight = straight && bed->tape_sharp[i];
    }
  g_string_append_c (out->out, ']');
  if (straight)
    bl_out_switch_if (out, "straight", TRUE);
  else
    bl_out_corners (out, bed->tape_sharp, n);
}

static void
write_bed (BlSheetOut  *out,
           const BlBed *bed)
{
  bl_out_text (out, "name", bed->name);
  if (bed->source == BL_FROM_TAPE)
    write_tape_outline (out, bed);
  else
    bl_out_outline (out, bl_out_outline_key (bed->source), bed->outline,
                    bed->source != BL_FROM_PLAN);
  if (bed->cover != BL_COVER_BARK)
    bl_out_text (out, "cover", bl_cover_name (bed->cover));
  bl_out_length_if (out, "depth_mulch", bed->mulch_depth);
  bl_out_length_if (out, "depth_soil", bed->soil_depth);
  if (!isnan (bed->sun_hours))
    bl_out_number (out, "sun_hours", bed->sun_hours);
  bl_out_text_if (out, "edging", bed->edging);
  if (bed->edging_share != 1)
    bl_out_number (out, "edging_share", bed->edging_share);
  end_item (out);
}

void
bl_out_ground (BlSheetOut    *out,
               const BlModel *model)
{
  bl_out_list_begin (out, "known", model->knowns->len);
  for (guint i = 0; i < model->knowns->len; i++)
    {
      bl_out_element (out, i, "    ");
      write_known (out, g_ptr_array_index (model->knowns, i));
    }
  bl_out_list_end (out, model->knowns->len, "  ");
  if (model->tape != NULL)
    write_tape (out, model->tape);
  bl_out_list_begin (out, "features", model->features->len);
  for (guint i = 0; i < model->features->len; i++)
    {
      bl_out_element (out, i, "    ");
      write_feature (out, g_ptr_array_index (model->features, i));
    }
  bl_out_list_end (out, model->features->len, "  ");
  bl_out_list_begin (out, "beds", model->beds->len);
  for (guint i = 0; i < model->beds->len; i++)
    {
      bl_out_element (out, i, "    ");
      write_bed (out, g_ptr_array_index (model->beds, i));
    }
  bl_out_list_end (out, model->beds->len, "  ");
}

/* ---- alternatives ---- */

static void
write_planting (BlSheetOut       *out,
                const BlModel    *model,
                const BlPlanting *planting)
{
  bl_out_text (out, "plant", planting->slug);
  bl_out_text_if (out, "size", planting->size);
  bl_out_text (out, "form", bl_planting_form_name (planting->form));
  bl_out_text (out, "bed", bl_model_bed (model, planting->bed_id)->name);
  if (planting->form == BL_PLANTING_SPECIMEN)
    {
      bl_out_key (out, "at");
      bl_out_point (out, bl_points_at (planting->shape->points, 0), FALSE);
    }
  else if (planting->form == BL_PLANTING_ROW)
    bl_out_outline (out, "line", planting->shape, FALSE);
  else if (planting->form == BL_PLANTING_DRIFT)
    bl_out_outline (out, "outline", planting->shape, FALSE);
  bl_out_length_if (out, "spacing", planting->spacing);
  bl_out_switch_if (out, "square", planting->square);
  bl_out_switch_if (out, "locked", planting->locked);
  bl_out_whole_if (out, "group", planting->group);
  bl_out_text_if (out, "note", planting->note);
  if (planting->stood != NULL)
    {
      bl_out_key (out, "stood");
      bl_out_points (out, planting->stood, FALSE);
    }
  end_item (out);
}

static void
write_override (BlSheetOut       *out,
                const BlOverride *override)
{
  bl_out_text (out, "line", override->line);
  bl_out_text (out, "field", override->field);
  bl_out_number (out, "value", override->value);
  bl_out_text_if (out, "note", override->note);
  end_item (out);
}

static void
inner_list (BlSheetOut *out,
            const char *key,
            guint       index)
{
  if (index == 0)
    {
      out->first = FALSE;
      bl_out_key (out, key);
      g_string_append_c (out->out, '[');
    }
  bl_out_element (out, index, "        ");
}

static void
write_alternative (BlSheetOut          *out,
                   const BlModel       *model,
                   const BlAlternative *alternative)
{
  guint n = 0;

  bl_out_text (out, "name", alternative->name);
  bl_out_text_if (out, "idea", alternative->idea);
  bl_out_text_if (out, "colors", alternative->colors);
  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i);

      if (planting->alternative_id != alternative->id)
        continue;
      inner_list (out, "plantings", n++);
      write_planting (out, model, planting);
    }
  bl_out_list_end (out, n, "      ");
  n = 0;
  for (guint i = 0; i < model->overrides->len; i++)
    {
      const BlOverride *override = g_ptr_array_index (model->overrides, i);

      if (override->alternative_id != alternative->id)
        continue;
      inner_list (out, "overrides", n++);
      write_override (out, override);
    }
  bl_out_list_end (out, n, "      ");
  end_item (out);
}

void
bl_out_alternatives (BlSheetOut    *out,
                     const BlModel *model)
{
  bl_out_list_begin (out, "alternatives", model->alternatives->len);
  for (guint i = 0; i < model->alternatives->len; i++)
    {
      bl_out_element (out, i, "    ");
      write_alternative (out, model, g_ptr_array_index (model->alternatives, i));
    }
  bl_out_list_end (out, model->alternatives->len, "  ");
}

/* ---- prices and care ---- */

static void
write_price (BlSheetOut        *out,
             const BlPriceItem *item,
             int                digits)
{
  g_autofree char *price = NULL;
  gint64 scale = 1;

  for (int i = 0; i < digits; i++)
    scale *= 10;
  price = digits == 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, item->price)
                      : g_strdup_printf ("%" G_GINT64_FORMAT ".%0*" G_GINT64_FORMAT,
                                         item->price / scale, digits, item->price % scale);
  bl_out_text (out, "key", item->key);
  bl_out_text (out, "kind", bl_price_kind_name (item->kind));
  bl_out_text (out, "name", item->name);
  bl_out_text (out, "unit", item->unit);
  bl_out_key (out, "price");
  g_string_append (out->out, price);
  bl_out_number_if (out, "amount", item->amount);
  bl_out_text_if (out, "supplier", item->supplier);
  bl_out_switch_if (out, "invented", item->invented);
  end_item (out);
}

static void
write_rules (BlSheetOut         *out,
             const BlPriceRules *rules)
{
  out->first = TRUE;
  g_string_append (out->out, ",\n    \"rules\": {");
  for (const char *const *name = bl_price_rule_names (); *name != NULL; name++)
    {
      g_autofree char *value = bl_price_rule_get (rules, *name);
      char *end = NULL;

      bl_out_key (out, *name);
      g_ascii_strtod (value, &end);
      if (end != value && *end == '\0' && g_ascii_isdigit (value[0]))
        g_string_append (out->out, value);
      else
        bl_json_append_string (out->out, value);
    }
  g_string_append (out->out, " }");
}

void
bl_out_prices (BlSheetOut    *out,
               const BlModel *model)
{
  g_autoptr(BlPriceBook) usual = bl_price_book_defaults ();
  const GPtrArray *items = model->prices->items;

  if (bl_price_book_equal (model->prices, usual))
    return;
  g_string_append (out->out, ",\n  \"prices\": {\n    \"whole\": true,\n    \"items\": [");
  for (guint i = 0; i < items->len; i++)
    {
      bl_out_element (out, i, "      ");
      write_price (out, g_ptr_array_index (items, i), bl_money_digits (model->currency));
    }
  g_string_append (out->out, items->len > 0 ? "\n    ]" : "]");
  write_rules (out, &model->prices->rules);
  g_string_append (out->out, "\n  }");
}

static void
write_day_if (BlSheetOut *out,
              const char *key,
              BlDay       day)
{
  g_autofree char *text = day != 0 ? bl_day_format_iso (day) : NULL;

  bl_out_text_if (out, key, text);
}

void
bl_out_care (BlSheetOut    *out,
             const BlModel *model)
{
  bl_out_list_begin (out, "care_marks", model->care_marks->len);
  for (guint i = 0; i < model->care_marks->len; i++)
    {
      const BlCareMark *mark = g_ptr_array_index (model->care_marks, i);

      bl_out_element (out, i, "    ");
      bl_out_text (out, "task", mark->uid);
      write_day_if (out, "done", mark->done);
      write_day_if (out, "moved", mark->moved);
      bl_out_switch_if (out, "dropped", mark->dropped);
      end_item (out);
    }
  bl_out_list_end (out, model->care_marks->len, "  ");
  bl_out_list_begin (out, "own_tasks", model->own_tasks->len);
  for (guint i = 0; i < model->own_tasks->len; i++)
    {
      const BlOwnTask *task = g_ptr_array_index (model->own_tasks, i);

      bl_out_element (out, i, "    ");
      bl_out_text (out, "title", task->title);
      write_day_if (out, "day", task->day);
      bl_out_switch_if (out, "yearly", task->yearly);
      bl_out_number_if (out, "hours", task->hours);
      end_item (out);
    }
  bl_out_list_end (out, model->own_tasks->len, "  ");
}
