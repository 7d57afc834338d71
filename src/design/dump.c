/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything a design has decided as one plain text: two designs are the same when theirs is. */
#include "design/dump.h"

#include "base/units.h"
#include "design/numbers.h"

typedef struct
{
  GString *out;
  gboolean ids;
} Dump;

static void
put_text (Dump       *dump,
          const char *name,
          const char *value)
{
  g_string_append_printf (dump->out, " %s=", name);
  if (value == NULL)
    g_string_append (dump->out, "-");
  else
    bl_json_append_string (dump->out, value);
}

static void
put_number (Dump       *dump,
            const char *name,
            double      value)
{
  g_autofree char *text = isnan (value) ? g_strdup ("-") : bl_double_format (value);

  g_string_append_printf (dump->out, " %s=%s", name, text);
}

static void
put_id (Dump       *dump,
        const char *name,
        gint64      id)
{
  if (dump->ids)
    g_string_append_printf (dump->out, " %s=%" G_GINT64_FORMAT, name, id);
}

static void
put_flags (Dump           *dump,
           const gboolean *flags,
           guint           n)
{
  g_autofree char *text = bl_flags_to_text (flags, n);

  g_string_append_printf (dump->out, " sharp=%s", text != NULL ? text : "-");
}

static void
put_outline (Dump            *dump,
             const BlOutline *outline)
{
  g_autofree char *points = NULL;

  if (outline == NULL)
    {
      g_string_append (dump->out, " outline=-");
      return;
    }
  points = bl_points_to_text (outline->points);
  g_string_append_printf (dump->out, " outline=%s%s%s", points,
                          outline->straight ? " straight" : "", outline->open ? " open" : "");
  put_flags (dump, outline->sharp, outline->points->len);
}

static void
begin_row (Dump       *dump,
           const char *table,
           gint64      id)
{
  g_string_append (dump->out, table);
  put_id (dump, "id", id);
}

#define end_row(dump) g_string_append_c ((dump)->out, '\n')

static void
dump_site (Dump          *dump,
           const BlModel *model)
{
  const BlSite *site = &model->site;

  begin_row (dump, "site", 1);
  put_number (dump, "latitude", site->latitude);
  put_number (dump, "longitude", site->longitude);
  put_number (dump, "north", site->north);
  put_number (dump, "zone", site->zone);
  put_number (dump, "last_frost", site->last_frost.month * 100 + site->last_frost.day);
  put_number (dump, "first_frost", site->first_frost.month * 100 + site->first_frost.day);
  put_number (dump, "soil", site->soil);
  put_number (dump, "ph", site->ph);
  put_number (dump, "moisture", site->moisture);
  put_number (dump, "sun_hours", site->sun_hours);
  put_number (dump, "flags",
              !!site->salt_edge + 2 * !!site->children + 4 * !!site->pets + 8 * !!site->deer);
  put_text (dump, "state", site->state);
  put_number (dump, "wind", site->wind);
  put_number (dump, "hot_days", site->hot_days);
  put_number (dump, "fire_zone", !!site->fire_zone);
  put_number (dump, "full_from", site->full_from);
  put_number (dump, "part_from", site->part_from);
  end_row (dump);
}

static void
dump_head (Dump          *dump,
           const BlModel *model)
{
  begin_row (dump, "texts", 1);
  put_text (dump, "title", model->title);
  put_text (dump, "client", model->client);
  put_text (dump, "place", model->place);
  put_text (dump, "designer", model->designer);
  put_text (dump, "notes", model->notes);
  put_text (dump, "units", bl_units_name (model->units));
  put_text (dump, "currency", model->currency);
  put_text (dump, "language", model->language);
  put_number (dump, "planting_day", model->planting_day);
  end_row (dump);
  dump_site (dump, model);
  begin_row (dump, "photo", 1);
  put_text (dump, "name", model->photo.name);
  put_number (dump, "width", model->photo.width);
  put_number (dump, "height", model->photo.height);
  put_number (dump, "focal_35mm", model->photo.focal_35mm);
  put_number (dump, "click_px", model->photo.click_px);
  put_number (dump, "slope", model->photo.slope);
  put_number (dump, "slope_direction", model->photo.slope_direction);
  end_row (dump);
}

static void
dump_drawing (Dump            *dump,
              const BlDrawing *drawing)
{
  if (drawing->width == 0)
    return;
  begin_row (dump, "drawing", 1);
  put_text (dump, "name", drawing->name);
  put_number (dump, "width", drawing->width);
  put_number (dump, "height", drawing->height);
  put_number (dump, "x1", drawing->ends[0].x);
  put_number (dump, "y1", drawing->ends[0].y);
  put_number (dump, "x2", drawing->ends[1].x);
  put_number (dump, "y2", drawing->ends[1].y);
  put_number (dump, "length", drawing->length);
  put_number (dump, "sd", drawing->sd);
  put_number (dump, "click_px", drawing->click_px);
  put_number (dump, "place_x", drawing->place.x);
  put_number (dump, "place_y", drawing->place.y);
  put_number (dump, "turn", drawing->turn);
  end_row (dump);
}

static void
dump_tape (Dump         *dump,
           const BlTape *tape)
{
  for (guint i = 0; tape != NULL && i < tape->points->len; i++)
    {
      const BlTapePoint *point = &g_array_index (tape->points, BlTapePoint, i);

      begin_row (dump, "tape_point", i + 1);
      put_text (dump, "name", point->name);
      if (point->fixed)
        {
          put_number (dump, "x", point->at.x);
          put_number (dump, "y", point->at.y);
        }
      end_row (dump);
    }
  for (guint i = 0; tape != NULL && i < tape->distances->len; i++)
    {
      const BlTapeDistance *d = &g_array_index (tape->distances, BlTapeDistance, i);

      begin_row (dump, "tape_distance", i + 1);
      put_number (dump, "from", d->from);
      put_number (dump, "to", d->to);
      put_number (dump, "distance", d->distance);
      put_number (dump, "sd", d->sd);
      end_row (dump);
    }
}

static void
dump_ground (Dump          *dump,
             const BlModel *model)
{
  for (guint i = 0; i < model->knowns->len; i++)
    {
      const BlKnown *known = g_ptr_array_index (model->knowns, i);
      g_autofree char *px = bl_points_to_text (known->px);

      begin_row (dump, "known", known->id);
      g_string_append_printf (dump->out, " kind=%s px=%s", bl_known_kind_name (known->kind), px);
      put_number (dump, "size0", known->size[0]);
      put_number (dump, "size1", known->size[1]);
      put_number (dump, "sd", known->sd);
      put_number (dump, "click_px", known->click_px);
      put_text (dump, "name", known->name);
      end_row (dump);
    }
  for (guint i = 0; i < model->features->len; i++)
    {
      const BlFeature *feature = g_ptr_array_index (model->features, i);

      begin_row (dump, "feature", feature->id);
      put_text (dump, "kind", bl_feature_kind_name (feature->kind));
      put_text (dump, "name", feature->name);
      put_text (dump, "source", bl_source_name (feature->source));
      put_outline (dump, feature->outline);
      put_number (dump, "height", feature->height);
      put_number (dump, "tolerance", feature->tolerance);
      end_row (dump);
    }
}

static void
dump_beds (Dump          *dump,
           const BlModel *model)
{
  for (guint i = 0; i < model->beds->len; i++)
    {
      const BlBed *bed = g_ptr_array_index (model->beds, i);
      g_autofree char *names = bl_names_to_text ((const char *const *) bed->tape_points);

      begin_row (dump, "bed", bed->id);
      put_text (dump, "name", bed->name);
      put_text (dump, "source", bl_source_name (bed->source));
      put_outline (dump, bed->outline);
      g_string_append_printf (dump->out, " tape=%s", names);
      if (bed->tape_points != NULL)
        put_flags (dump, bed->tape_sharp, g_strv_length (bed->tape_points));
      put_text (dump, "cover", bl_cover_name (bed->cover));
      put_number (dump, "mulch_depth", bed->mulch_depth);
      put_number (dump, "soil_depth", bed->soil_depth);
      put_number (dump, "sun_hours", bed->sun_hours);
      put_text (dump, "edging", bed->edging);
      put_number (dump, "edging_share", bed->edging_share);
      end_row (dump);
    }
}

static void
dump_plantings (Dump          *dump,
                const BlModel *model)
{
  for (guint i = 0; i < model->alternatives->len; i++)
    {
      const BlAlternative *alternative = g_ptr_array_index (model->alternatives, i);

      begin_row (dump, "alternative", alternative->id);
      put_number (dump, "position", dump->ids ? alternative->position : (int) i);
      put_text (dump, "name", alternative->name);
      put_text (dump, "idea", alternative->idea);
      put_text (dump, "colors", alternative->colors);
      end_row (dump);
    }
  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i);
      const BlAlternative *alternative = bl_model_alternative (model, planting->alternative_id);
      const BlBed *bed = bl_model_bed (model, planting->bed_id);
      g_autofree char *stood = planting->stood != NULL ? bl_points_to_text (planting->stood) : NULL;

      begin_row (dump, "planting", planting->id);
      put_text (dump, "alternative", alternative != NULL ? alternative->name : NULL);
      put_text (dump, "bed", bed != NULL ? bed->name : NULL);
      put_text (dump, "plant", planting->slug);
      put_text (dump, "size", planting->size);
      put_text (dump, "form", bl_planting_form_name (planting->form));
      put_outline (dump, planting->shape);
      put_number (dump, "spacing", planting->spacing);
      put_number (dump, "flags", !!planting->square + 2 * !!planting->locked);
      put_number (dump, "group", (double) planting->group);
      put_text (dump, "note", planting->note);
      put_text (dump, "stood", stood);
      end_row (dump);
    }
}

static void
dump_plants (Dump          *dump,
             const BlModel *model)
{
  g_autoptr (GList) slugs
      = g_list_sort (g_hash_table_get_keys (model->plants), (GCompareFunc) g_strcmp0);

  for (GList *slug = slugs; slug != NULL; slug = slug->next)
    {
      const BlPlant *plant = g_hash_table_lookup (model->plants, slug->data);

      begin_row (dump, "plant", 0);
      put_text (dump, "slug", plant->slug);
      put_text (dump, "record", plant->text);
      end_row (dump);
    }
}

static void
dump_money (Dump          *dump,
            const BlModel *model)
{
  g_autofree char *prices = bl_price_book_to_csv (model->prices);

  for (guint i = 0; i < model->overrides->len; i++)
    {
      const BlOverride *override = g_ptr_array_index (model->overrides, i);
      const BlAlternative *alternative = bl_model_alternative (model, override->alternative_id);

      begin_row (dump, "override", override->id);
      put_text (dump, "alternative", alternative != NULL ? alternative->name : NULL);
      put_text (dump, "line", override->line);
      put_text (dump, "field", override->field);
      put_number (dump, "value", override->value);
      put_text (dump, "note", override->note);
      end_row (dump);
    }
  g_string_append (dump->out, prices);
}

static void
dump_care (Dump          *dump,
           const BlModel *model)
{
  for (guint i = 0; i < model->care_marks->len; i++)
    {
      const BlCareMark *mark = g_ptr_array_index (model->care_marks, i);

      begin_row (dump, "care_mark", mark->id);
      put_text (dump, "uid", mark->uid);
      put_number (dump, "done", mark->done);
      put_number (dump, "moved", mark->moved);
      put_number (dump, "dropped", !!mark->dropped);
      end_row (dump);
    }
  for (guint i = 0; i < model->own_tasks->len; i++)
    {
      const BlOwnTask *task = g_ptr_array_index (model->own_tasks, i);

      begin_row (dump, "own_task", task->id);
      put_text (dump, "title", task->title);
      put_number (dump, "day", task->day);
      put_number (dump, "yearly", !!task->yearly);
      put_number (dump, "hours", task->hours);
      end_row (dump);
    }
}

char *
bl_model_dump (const BlModel *model,
               gboolean       ids)
{
  Dump dump = { g_string_new (NULL), ids };

  dump_head (&dump, model);
  dump_drawing (&dump, &model->drawing);
  dump_tape (&dump, model->tape);
  dump_ground (&dump, model);
  dump_beds (&dump, model);
  dump_plantings (&dump, model);
  dump_plants (&dump, model);
  dump_money (&dump, model);
  dump_care (&dump, model);
  return g_string_free (dump.out, FALSE);
}
