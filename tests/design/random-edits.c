/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random edits, and what the design should then be, kept in plain memory. Of every kind but pictures and
 * copies of alternatives, which need more than rows. */
#include "random-edits.h"

#define STRAY 40.0
/* So many parts of a kind a busy design has; without an end every step would take longer than the last. */
#define MOST_PARTS 40

RandomEdits *
random_edits_new (guint64  seed,
                  gboolean keep)
{
  RandomEdits *edits = g_new0 (RandomEdits, 1);

  edits->rng = bl_rng (seed);
  /* A design just made is empty, with the starting prices. */
  if (keep)
    {
      edits->expected = bl_model_new ();
      bl_price_book_free (edits->expected->prices);
      edits->expected->prices = bl_price_book_defaults ();
    }
  return edits;
}

void
random_edits_free (RandomEdits *edits)
{
  g_clear_pointer (&edits->expected, bl_model_unref);
  g_free (edits);
}

/* ---- the plain model ---- */

/* All kinds of parts begin with their id. */
static gint64
id_of (gconstpointer part)
{
  return *(const gint64 *) part;
}

static void
keep_part (GPtrArray *parts,
           gpointer   part)
{
  guint at = 0;

  while (at < parts->len && id_of (g_ptr_array_index (parts, at)) < id_of (part))
    at++;
  if (at < parts->len && id_of (g_ptr_array_index (parts, at)) == id_of (part))
    g_ptr_array_remove_index (parts, at);
  g_ptr_array_insert (parts, (int) at, part);
}

static void
drop_part (GPtrArray *parts,
           gint64     id)
{
  for (guint i = 0; i < parts->len; i++)
    if (id_of (g_ptr_array_index (parts, i)) == id)
      {
        g_ptr_array_remove_index (parts, i);
        return;
      }
}

static void
drop_plantings (BlModel *model,
                gint64   bed,
                gint64   alternative)
{
  for (guint i = model->plantings->len; i > 0; i--)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i - 1);

      if (planting->bed_id == bed || planting->alternative_id == alternative)
        g_ptr_array_remove_index (model->plantings, i - 1);
    }
}

static void
drop_overrides (BlModel *model,
                gint64   alternative)
{
  for (guint i = model->overrides->len; i > 0; i--)
    if (((const BlOverride *) g_ptr_array_index (model->overrides, i - 1))->alternative_id
        == alternative)
      g_ptr_array_remove_index (model->overrides, i - 1);
}

static void
copy_parts (GPtrArray       *to,
            const GPtrArray *from,
            gpointer       (*copy) (gconstpointer))
{
  g_ptr_array_set_size (to, 0);
  for (guint i = 0; i < from->len; i++)
    g_ptr_array_add (to, copy (g_ptr_array_index (from, i)));
}

#define COPY(field, function) \
  copy_parts (mine->field, plain->field, (gpointer (*) (gconstpointer)) (GCallback) function)

static char *
again (char       *old,
       const char *text)
{
  g_free (old);
  return g_strdup (text);
}

static void
copy_facts (BlModel       *mine,
            const BlModel *plain)
{
  mine->title = again (mine->title, plain->title);
  mine->client = again (mine->client, plain->client);
  mine->place = again (mine->place, plain->place);
  mine->designer = again (mine->designer, plain->designer);
  mine->notes = again (mine->notes, plain->notes);
  mine->currency = again (mine->currency, plain->currency);
  mine->language = again (mine->language, plain->language);
  mine->units = plain->units;
  mine->planting_day = plain->planting_day;
  bl_site_copy (&mine->site, &plain->site);
  mine->photo = plain->photo;
  mine->photo.name = g_strdup (plain->photo.name);
  mine->drawing = plain->drawing;
  mine->drawing.name = g_strdup (plain->drawing.name);
  bl_price_book_free (mine->prices);
  mine->prices = bl_price_book_copy (plain->prices);
  if (plain->tape != NULL)
    mine->tape = bl_tape_copy (plain->tape);
}

BlModel *
random_edits_copy (const BlModel *plain)
{
  BlModel *mine = bl_model_new ();
  GHashTableIter iter;
  gpointer slug, plant;

  copy_facts (mine, plain);
  COPY (knowns, bl_known_copy);
  COPY (features, bl_feature_copy);
  COPY (beds, bl_bed_copy);
  COPY (alternatives, bl_alternative_copy);
  COPY (plantings, bl_planting_copy);
  COPY (overrides, bl_override_copy);
  COPY (care_marks, bl_care_mark_copy);
  COPY (own_tasks, bl_own_task_copy);
  g_hash_table_iter_init (&iter, plain->plants);
  while (g_hash_table_iter_next (&iter, &slug, &plant))
    g_hash_table_insert (mine->plants, g_strdup (slug), bl_plant_ref (plant));
  return mine;
}

/* ---- what there is to edit ---- */

static gint64
any_id (RandomEdits     *edits,
        const GPtrArray *parts)
{
  return parts->len > 0 ? id_of (g_ptr_array_index (parts, bl_rng_int (&edits->rng, parts->len)))
                        : 0;
}

/* A new part more often than an old one, until there are many. */
static gint64
new_or_old (RandomEdits     *edits,
            const GPtrArray *parts)
{
  return parts->len < MOST_PARTS && bl_rng_int (&edits->rng, 3) > 0 ? 0 : any_id (edits, parts);
}

static BlPoint
any_point (RandomEdits *edits)
{
  return BL_POINT (bl_rng_range (&edits->rng, -STRAY, STRAY),
                   bl_rng_range (&edits->rng, -STRAY, STRAY));
}

/* A star-shaped outline never crosses itself. */
static BlOutline *
any_outline (RandomEdits *edits)
{
  BlPoints *points = bl_points_new ();
  BlPoint middle = any_point (edits);
  guint n = 3 + bl_rng_int (&edits->rng, 6);
  BlOutline *outline;

  for (guint i = 0; i < n; i++)
    {
      double angle = 2 * G_PI * i / n, radius = bl_rng_range (&edits->rng, 1, 1.3);

      bl_points_add (points,
                     bl_add (middle, BL_POINT (radius * cos (angle), radius * sin (angle))));
    }
  outline = bl_outline_new_take (points, bl_rng_int (&edits->rng, 2) == 0);
  if (!outline->straight && bl_rng_int (&edits->rng, 2) == 0)
    bl_outline_set_sharp (outline, bl_rng_int (&edits->rng, n), TRUE);
  return outline;
}

static BlOutline *
any_line (RandomEdits *edits)
{
  BlOutline *line = bl_outline_new ();

  bl_points_add (line->points, any_point (edits));
  bl_points_add (line->points, any_point (edits));
  line->open = TRUE;
  return line;
}

/* ---- the edits ---- */

/* Each gives FALSE with @error when the design refused. @now is the design's model as it was when
 * the edit began: parts made or removed within the edit are not in it. */
typedef gboolean (*Action) (RandomEdits *edits,
                            BlDesign *design,
                            const BlModel *now,
                            GError **error);

static gboolean
put_bed (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  g_autoptr(BlBed) bed = bl_bed_new ();

  bed->id = new_or_old (edits, now->beds);
  g_free (bed->name);
  bed->name = g_strdup_printf ("Bed %08x", (guint) bl_rng_next (&edits->rng));
  bed->outline = any_outline (edits);
  bed->mulch_depth = bl_rng_unit (&edits->rng) / 10;
  bed->edging = bl_rng_int (&edits->rng, 2) ? g_strdup ("edging-steel") : NULL;
  if (!bl_design_put_bed (design, bed, error))
    return FALSE;
  if (edits->expected != NULL)
    keep_part (edits->expected->beds, bl_bed_copy (bed));
  return TRUE;
}

static gboolean
put_feature (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  g_autoptr(BlFeature) feature = bl_feature_new ();

  feature->id = new_or_old (edits, now->features);
  feature->kind = (BlFeatureKind) bl_rng_int (&edits->rng, BL_FEATURE_N);
  feature->name = bl_rng_int (&edits->rng, 2) ? g_strdup ("a thing") : NULL;
  feature->outline = bl_rng_int (&edits->rng, 2) ? any_line (edits) : any_outline (edits);
  feature->height = bl_rng_range (&edits->rng, 0, 5);
  if (!bl_design_put_feature (design, feature, error))
    return FALSE;
  if (edits->expected != NULL)
    keep_part (edits->expected->features, bl_feature_copy (feature));
  return TRUE;
}

static gboolean
put_planting (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  g_autoptr(BlPlanting) planting = bl_planting_new ();

  if (now->beds->len == 0 || now->alternatives->len == 0 || g_hash_table_size (now->plants) == 0)
    return TRUE;
  planting->id = new_or_old (edits, now->plantings);
  planting->bed_id = any_id (edits, now->beds);
  planting->alternative_id = any_id (edits, now->alternatives);
  planting->slug = g_strdup (yard_slugs[bl_rng_int (&edits->rng, YARD_PLANTS)]);
  planting->form = (BlPlantingForm) bl_rng_int (&edits->rng, 4);
  planting->spacing = bl_rng_range (&edits->rng, 0.1, 2);
  planting->group = bl_rng_int (&edits->rng, 5);
  planting->locked = bl_rng_int (&edits->rng, 2) != 0;
  if (planting->form == BL_PLANTING_ROW)
    planting->shape = any_line (edits);
  else if (planting->form == BL_PLANTING_DRIFT)
    planting->shape = any_outline (edits);
  else if (planting->form == BL_PLANTING_SPECIMEN)
    {
      planting->shape = bl_outline_new ();
      bl_points_add (planting->shape->points, any_point (edits));
    }
  if (!bl_design_put_planting (design, planting, error))
    return FALSE;
  if (edits->expected != NULL)
    keep_part (edits->expected->plantings, bl_planting_copy (planting));
  return TRUE;
}

static gboolean
put_alternative (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  g_autofree char *name = g_strdup_printf ("Alternative %08x", (guint) bl_rng_next (&edits->rng));
  BlAlternative alternative
      = { .position = -1, .name = name, .idea = (char *) "an idea", .colors = (char *) "" };

  if (now->alternatives->len > 4)
    return TRUE;
  if (!bl_design_put_alternative (design, &alternative, error))
    return FALSE;
  if (edits->expected != NULL)
    g_ptr_array_add (edits->expected->alternatives, bl_alternative_copy (&alternative));
  return TRUE;
}

static gboolean
put_text (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  g_autofree char *words = g_strdup_printf ("Words %u", bl_rng_int (&edits->rng, 100000));
  BlModel *mine = edits->expected;
  gboolean metric = bl_rng_int (&edits->rng, 2) != 0;
  /* What each text may say, and where the plain model keeps it. */
  const struct
  {
    const char *name, *value;
    char **kept;
  } texts[] = {
    { "title", words, mine != NULL ? &mine->title : NULL },
    { "client", words, mine != NULL ? &mine->client : NULL },
    { "place", words, mine != NULL ? &mine->place : NULL },
    { "designer", words, mine != NULL ? &mine->designer : NULL },
    { "notes", words, mine != NULL ? &mine->notes : NULL },
    { "currency", metric ? "EUR" : "USD", mine != NULL ? &mine->currency : NULL },
    { "language", metric ? "es" : "en", mine != NULL ? &mine->language : NULL },
    { "units", metric ? "m" : "ft", NULL },
    { "planting_day", metric ? "2027-04-19" : "", NULL },
  };
  guint i = bl_rng_int (&edits->rng, G_N_ELEMENTS (texts));

  if (!bl_design_put_text (design, texts[i].name, texts[i].value, error))
    return FALSE;
  if (mine == NULL)
    return TRUE;
  if (texts[i].kept != NULL)
    *texts[i].kept = again (*texts[i].kept, texts[i].value);
  else if (strcmp (texts[i].name, "units") == 0)
    mine->units = metric ? BL_UNITS_METRES : BL_UNITS_FEET;
  else
    mine->planting_day = metric ? bl_day (2027, 4, 19) : 0;
  return TRUE;
}

static gboolean
put_site (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  BlSite site;

  bl_site_init (&site);
  site.latitude = bl_rng_range (&edits->rng, 30, 50);
  site.longitude = bl_rng_range (&edits->rng, -120, -70);
  site.zone = 2 + (int) bl_rng_int (&edits->rng, 26);
  site.soil = (BlSoil) bl_rng_int (&edits->rng, BL_SOIL_CLAY + 1);
  site.moisture = (BlMoisture) bl_rng_int (&edits->rng, BL_MOISTURE_WET + 1);
  site.wind = (BlWind) bl_rng_int (&edits->rng, BL_WIND_WINDY + 1);
  site.hot_days = bl_rng_range (&edits->rng, 0, 200);
  site.deer = bl_rng_int (&edits->rng, 2) != 0;
  site.fire_zone = bl_rng_int (&edits->rng, 2) != 0;
  site.state = bl_rng_int (&edits->rng, 2) ? g_strdup ("IL") : NULL;
  if (bl_design_put_site (design, &site, error))
    {
      if (edits->expected != NULL)
        bl_site_copy (&edits->expected->site, &site);
      bl_site_clear (&site);
      return TRUE;
    }
  bl_site_clear (&site);
  return FALSE;
}

static gboolean
put_photo_info (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  BlPhotoInfo info = { .name = (char *) "walk.jpg", .width = 4032, .height = 3024 };

  info.focal_35mm = bl_rng_range (&edits->rng, 20, 60);
  info.click_px = bl_rng_range (&edits->rng, 0, 4);
  info.slope = bl_rng_range (&edits->rng, 0, 0.1);
  info.slope_direction = bl_rng_range (&edits->rng, -3, 3);
  if (!bl_design_put_photo_info (design, &info, error))
    return FALSE;
  if (edits->expected != NULL)
    {
      g_free (edits->expected->photo.name);
      edits->expected->photo = info;
      edits->expected->photo.name = g_strdup (info.name);
    }
  return TRUE;
}

static gboolean
put_drawing_info (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  BlDrawing drawing = { .name = (char *) "plan.png", .width = 3000, .height = 2000 };

  drawing.ends[0] = BL_POINT (bl_rng_range (&edits->rng, 0, 900), 100);
  drawing.ends[1] = BL_POINT (bl_rng_range (&edits->rng, 1000, 3000), 200);
  drawing.length = bl_rng_range (&edits->rng, 5, 40);
  drawing.place = any_point (edits);
  drawing.turn = bl_rng_range (&edits->rng, -3, 3);
  if (!bl_design_put_drawing_info (design, &drawing, error))
    return FALSE;
  if (edits->expected != NULL)
    {
      g_free (edits->expected->drawing.name);
      edits->expected->drawing = drawing;
      edits->expected->drawing.name = g_strdup (drawing.name);
    }
  return TRUE;
}

static gboolean
put_override (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  BlOverride override = { .id = new_or_old (edits, now->overrides),
                          .alternative_id = any_id (edits, now->alternatives),
                          .line = (char *) "mulch-bulk",
                          .field = (char *) (bl_rng_int (&edits->rng, 2) ? "quantity" : "rate"),
                          .value = bl_rng_range (&edits->rng, 0, 90) };

  if (override.alternative_id == 0)
    return TRUE;
  if (!bl_design_put_override (design, &override, error))
    return FALSE;
  if (edits->expected != NULL)
    keep_part (edits->expected->overrides, bl_override_copy (&override));
  return TRUE;
}

/* The starting book again, with another rule: what was put into the old one is gone. */
static gboolean
put_price_book (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  g_autoptr(BlPriceBook) book = bl_price_book_defaults ();

  book->rules.labour_rate = 5000 + bl_rng_int (&edits->rng, 2000);
  book->rules.lay_fabric = bl_rng_int (&edits->rng, 2) != 0;
  if (!bl_design_put_price_book (design, book, error))
    return FALSE;
  if (edits->expected != NULL)
    {
      bl_price_book_free (edits->expected->prices);
      edits->expected->prices = g_steal_pointer (&book);
    }
  return TRUE;
}

static gboolean
put_price (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  g_autofree char *key = g_strdup_printf ("own-%u", bl_rng_int (&edits->rng, 8));
  BlPriceItem item = { key,
                       BL_PRICE_MATERIAL,
                       (char *) "Own",
                       (char *) "m3",
                       bl_rng_int (&edits->rng, 10000),
                       bl_rng_unit (&edits->rng),
                       NULL,
                       FALSE };

  if (!bl_design_put_price_item (design, &item, error))
    return FALSE;
  if (edits->expected != NULL)
    bl_price_book_put_take (edits->expected->prices, bl_price_item_copy (&item));
  return TRUE;
}

static gboolean
put_care (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  g_autofree char *uid = g_strdup_printf ("task-%08x", (guint) bl_rng_next (&edits->rng));
  BlCareMark mark
      = { .id = new_or_old (edits, now->care_marks), .uid = uid, .done = bl_day (2027, 5, 1) };
  BlOwnTask task = { .id = new_or_old (edits, now->own_tasks),
                     .title = uid,
                     .day = bl_day (2026, 5, 2),
                     .hours = bl_rng_range (&edits->rng, 0, 9) };

  if (!bl_design_put_care_mark (design, &mark, error)
      || !bl_design_put_own_task (design, &task, error))
    return FALSE;
  if (edits->expected != NULL)
    {
      keep_part (edits->expected->care_marks, bl_care_mark_copy (&mark));
      keep_part (edits->expected->own_tasks, bl_own_task_copy (&task));
    }
  return TRUE;
}

static gboolean
put_known (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  g_autoptr(BlKnown) known = bl_known_new (BL_KNOWN_CHECK);

  known->id = new_or_old (edits, now->knowns);
  bl_points_add (known->px, any_point (edits));
  bl_points_add (known->px, any_point (edits));
  if (!bl_design_put_known (design, known, error))
    return FALSE;
  if (edits->expected != NULL)
    keep_part (edits->expected->knowns, bl_known_copy (known));
  return TRUE;
}

static gboolean
put_tape (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  g_autoptr(BlTape) tape = bl_rng_int (&edits->rng, 4) == 0 ? NULL : bl_tape_new ();

  if (tape != NULL)
    {
      bl_tape_add_point (tape, "A");
      bl_tape_add_point (tape, "B");
      bl_tape_fix (tape, 0, BL_POINT (0, 0));
      bl_tape_fix (tape, 1, BL_POINT (bl_rng_range (&edits->rng, 4, 9), 0));
      bl_tape_add_point (tape, "C");
      bl_tape_add_distance (tape, 0, 2, bl_rng_range (&edits->rng, 5, 9), 0.01);
      bl_tape_add_distance (tape, 1, 2, bl_rng_range (&edits->rng, 5, 9), 0);
    }
  if (!bl_design_put_tape (design, tape, error))
    return FALSE;
  if (edits->expected != NULL)
    {
      g_clear_pointer (&edits->expected->tape, bl_tape_free);
      edits->expected->tape = g_steal_pointer (&tape);
    }
  return TRUE;
}

static gboolean
remove_something (RandomEdits *edits, BlDesign *design, const BlModel *now, GError **error)
{
  static const char *const kinds[] = { "planting", "planting",  "planting", "feature",    "bed",
                                       "known",    "care_mark", "own_task", "override", "alternative" };
  guint k = bl_rng_int (&edits->rng, G_N_ELEMENTS (kinds));
  const GPtrArray *theirs[]
      = { now->plantings, now->plantings,  now->plantings, now->features,    now->beds,
          now->knowns,    now->care_marks, now->own_tasks, now->overrides,   now->alternatives };
  gint64 id = any_id (edits, theirs[k]);
  BlModel *mine = edits->expected;

  if (id == 0 || (k == 9 && now->alternatives->len < 2))
    return TRUE;
  if (!bl_design_remove (design, kinds[k], id, error))
    return FALSE;
  if (mine != NULL)
    {
      GPtrArray *ours[]
          = { mine->plantings, mine->plantings,  mine->plantings, mine->features,    mine->beds,
              mine->knowns,    mine->care_marks, mine->own_tasks, mine->overrides,   mine->alternatives };

      drop_part (ours[k], id);
      drop_plantings (mine, k == 4 ? id : -1, k == 9 ? id : -1);
      if (k == 9)
        drop_overrides (mine, id);
    }
  return TRUE;
}

static const Action actions[] = {
  put_bed, put_feature, put_planting, put_planting, put_planting, put_planting, put_alternative,
  put_text, put_site, put_price, put_care, put_known, put_tape, put_photo_info, put_drawing_info,
  put_override, put_price_book, remove_something,
};

static gboolean
put_plants (RandomEdits *edits, BlDesign *design, GError **error)
{
  for (guint i = 0; i < YARD_PLANTS; i++)
    {
      g_autoptr(BlPlant) plant = bl_library_get (yard_library (), yard_slugs[i], error);

      if (plant == NULL || !bl_design_put_plant (design, plant, error))
        return FALSE;
      if (edits->expected != NULL)
        g_hash_table_insert (edits->expected->plants, g_strdup (yard_slugs[i]),
                             bl_plant_ref (plant));
    }
  return TRUE;
}

gboolean
random_edits_first (RandomEdits *edits,
                    BlDesign    *design,
                    GError     **error)
{
  const BlModel *now = bl_design_get_model (design);

  return bl_design_begin (design, "Begin", error) && put_plants (edits, design, error)
         && put_bed (edits, design, now, error) && put_alternative (edits, design, now, error)
         && bl_design_commit (design, error);
}

gboolean
random_edits_next (RandomEdits *edits,
                   BlDesign    *design,
                   GError     **error)
{
  const BlModel *now = bl_design_get_model (design);
  /* What a removal takes away, another action of the same edit must not replace: one removal, or
   * several puts. */
  gboolean remove = bl_rng_int (&edits->rng, 6) == 0;
  guint n = remove ? 1 : 1 + bl_rng_int (&edits->rng, 4);

  if (!bl_design_begin (design, "Random edit", error))
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      Action action = remove ? remove_something
                             : actions[bl_rng_int (&edits->rng, G_N_ELEMENTS (actions) - 1)];

      if (!action (edits, design, now, error))
        return FALSE;
    }
  return bl_design_commit (design, error);
}
