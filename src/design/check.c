/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a stored thing must be: outlines, beds, features, knowns, plantings. */
#include "config.h"

#include "design/check.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "design/check-private.h"

gboolean
bl_refuse (GError    **error,
           const char *format,
           ...)
{
  va_list args;

  va_start (args, format);
  if (error != NULL)
    *error = g_error_new_valist (BL_ERROR, BL_ERROR_INPUT, _(format), args);
  va_end (args);
  return FALSE;
}

const char *
bl_shown (const char *name)
{
  return name != NULL && name[0] != '\0' ? name : "unnamed";
}

/* No control characters but, where @lines is set, tab and line feed. */
gboolean
bl_check_string (const char *text,
                 gsize       most,
                 gboolean    lines,
                 const char *what,
                 GError    **error)
{
  gsize length;

  if (text == NULL)
    return TRUE;
  length = strlen (text);
  if (length > most)
    return bl_refuse (error,
                      "%s is too long: at most %lu bytes, not %lu", _(what), (gulong) most,
                      (gulong) length);
  if (!g_utf8_validate (text, (gssize) length, NULL))
    return bl_refuse (error, "%s is not readable text (UTF-8)", _(what));
  for (const char *c = text; *c != '\0'; c++)
    {
      gboolean allowed = lines && (*c == '\n' || *c == '\t');

      if (((guchar) *c < 0x20 && !allowed) || *c == 0x7f)
        return bl_refuse (error, "%s holds a control character; take it out", _(what));
    }
  return TRUE;
}

gboolean
bl_check_name (const char *name,
               const char *what,
               GError    **error)
{
  if (name == NULL || name[strspn (name, " ")] == '\0')
    return bl_refuse (error, "%s is empty; give one", _(what));
  return bl_check_string (name, BL_MAX_NAME, FALSE, what, error);
}

gboolean
bl_check_range (double      value,
                double      low,
                double      high,
                const char *what,
                const char *unit,
                GError    **error)
{
  if (value >= low && value <= high)
    return TRUE;
  return bl_refuse (error, "%s must lie between %g and %g%s%s", _(what), low, high, *unit ? " " : "",
                    unit);
}

/* ---- outlines ---- */

static gboolean
check_points (const BlOutline *outline,
              guint            least,
              double           most,
              GError         **error)
{
  guint n = outline->points->len;

  if (n < least)
    return bl_refuse (error, "the outline has %u points and needs at least %u", n, least);
  if (n > BL_MAX_POINTS)
    return bl_refuse (error, "the outline has %u points; at most %d can be stored", n,
                      BL_MAX_POINTS);
  for (guint i = 0; i < n; i++)
    {
      BlPoint p = bl_points_at (outline->points, i);

      if (!(fabs (p.x) <= most && fabs (p.y) <= most))
        return bl_refuse (error, "point %u of the outline is not a number or is out of reach",
                          i + 1);
    }
  return TRUE;
}

static gboolean
check_outline (const BlOutline *outline,
               guint            least,
               BlSource         source,
               gboolean         thorough,
               GError         **error)
{
  double most = source == BL_FROM_PLAN ? BL_MAX_METRES : BL_MAX_PIXELS;

  if (outline == NULL)
    return bl_refuse (error, "the outline is missing; trace it");
  if (!check_points (outline, least, most, error))
    return FALSE;
  if (thorough && outline->points->len >= 2)
    return bl_outline_check (outline, error);
  return TRUE;
}

static gboolean
check_tape_points (const BlBed *bed,
                   GError     **error)
{
  guint n = bed->tape_points != NULL ? g_strv_length (bed->tape_points) : 0;

  if (bed->outline != NULL)
    return bl_refuse (error, "a bed from tape points has no outline of its own");
  if (n < 3)
    return bl_refuse (error, "a bed from tape points needs at least three of them");
  if (n > BL_MAX_POINTS)
    return bl_refuse (error, "the bed has %u tape points; at most %d can be stored", n,
                      BL_MAX_POINTS);
  for (guint i = 0; i < n; i++)
    if (!bl_check_name (bed->tape_points[i], "a tape point's name", error))
      return FALSE;
  return TRUE;
}

gboolean
bl_check_bed (const BlBed *bed,
              gboolean     thorough,
              GError     **error)
{
  if (!bl_check_name (bed->name, "the bed's name", error)
      || !bl_check_string (bed->edging, BL_MAX_NAME, FALSE, "the edging", error)
      || !bl_check_range (bed->mulch_depth, 0, 1, "the depth of mulch", "m", error)
      || !bl_check_range (bed->soil_depth, 0, 3, "the depth of soil", "m", error)
      || !bl_check_range (bed->edging_share, 0, 1, "the share that is edged", "", error)
      || (!isnan (bed->sun_hours)
          && !bl_check_range (bed->sun_hours, 0, 24, "the hours of sun", "h", error)))
    return FALSE;
  if ((guint) bed->source > BL_FROM_DRAWING)
    return bl_refuse (error, "the outline is in an unknown space");
  if ((guint) bed->cover > BL_COVER_GRAVEL)
    return bl_refuse (error, "what covers the bed is of an unknown kind");
  if (bed->source == BL_FROM_TAPE)
    return check_tape_points (bed, error);
  if (bed->tape_points != NULL || bed->tape_sharp != NULL)
    return bl_refuse (error, "only a bed from the tape has tape points");
  if (bed->outline != NULL && bed->outline->open)
    return bl_refuse (error, "a bed line is closed; this one is open");
  return check_outline (bed->outline, 3, bed->source, thorough, error);
}

gboolean
bl_check_feature (const BlFeature *feature,
                  gboolean         thorough,
                  GError         **error)
{
  guint n = feature->outline != NULL ? feature->outline->points->len : 0;

  if ((guint) feature->kind >= BL_FEATURE_N)
    return bl_refuse (error, "the feature is of an unknown kind");
  if (!bl_check_string (feature->name, BL_MAX_NAME, FALSE, "the feature's name", error)
      || !bl_check_range (feature->height, 0, 500, "the feature's height", "m", error)
      || !bl_check_range (feature->tolerance, 0, 100, "the feature's tolerance", "m", error))
    return FALSE;
  if ((guint) feature->source > BL_FROM_DRAWING || feature->source == BL_FROM_TAPE)
    return bl_refuse (error, "a feature is outlined on the plan, the base drawing or in the photo");
  if (feature->kind == BL_FEATURE_IN_FRONT && feature->source == BL_FROM_DRAWING)
    return bl_refuse (error, "what stands in front is outlined in the photo");
  if (n == 2 && !feature->outline->open)
    return bl_refuse (error,
                      "the outline has 2 points: a closed one needs three, a line is marked open");
  /* A traced object in front of the plants may fold over itself in places; that does no harm. */
  return check_outline (feature->outline, 1, feature->source, thorough && n >= 2
                        && feature->kind != BL_FEATURE_IN_FRONT, error);
}

gboolean
bl_check_known (const BlKnown *known,
                GError       **error)
{
  if ((guint) known->kind >= BL_KNOWN_N)
    return bl_refuse (error, "the known is of an unknown kind");
  if (!bl_check_string (known->name, BL_MAX_NAME, FALSE, "the known's name", error))
    return FALSE;
  if (known->px == NULL || known->px->len > BL_MAX_POINTS)
    return bl_refuse (error, "the known has too many clicks; at most %d can be stored",
                      BL_MAX_POINTS);
  if (!isfinite (known->size[0]) || !isfinite (known->size[1]))
    return bl_refuse (error, "the known's size is not a number");
  if (!bl_check_range (known->sd, 0, 1000, "the known's standard deviation", "m", error)
      || !bl_check_range (known->click_px, 0, 1000, "the clicks' standard deviation", "px", error))
    return FALSE;
  return bl_known_check (known, error);
}

/* ---- alternatives and plantings ---- */

gboolean
bl_check_alternative (const BlAlternative *alternative,
                      GError             **error)
{
  if (alternative->position < 0 || alternative->position > BL_MAX_ROWS)
    return bl_refuse (error, "the alternative's place in the order must be between 0 and %d",
                      BL_MAX_ROWS);
  return bl_check_name (alternative->name, "the alternative's name", error)
         && bl_check_string (alternative->idea, BL_MAX_TEXT, TRUE, "the alternative's idea", error)
         && bl_check_string (alternative->colors, BL_MAX_TEXT, TRUE, "the alternative's colours",
                             error);
}

static gboolean
check_shape (const BlPlanting *planting,
             gboolean          thorough,
             GError          **error)
{
  const BlOutline *shape = planting->shape;

  if (planting->form == BL_PLANTING_FILL)
    return shape == NULL
           || bl_refuse (error, "a fill takes what is left of the bed and has no shape of its own");
  if (shape == NULL)
    return bl_refuse (error, "the %s has no place; set one",
                      _(bl_planting_form_name (planting->form)));
  if (planting->form == BL_PLANTING_SPECIMEN)
    {
      if (shape->points->len != 1)
        return bl_refuse (error, "a specimen stands at one point, not at %u", shape->points->len);
      return check_outline (shape, 1, BL_FROM_PLAN, FALSE, error);
    }
  if (planting->form == BL_PLANTING_ROW && !shape->open)
    return bl_refuse (error, "a row follows an open line");
  if (planting->form == BL_PLANTING_DRIFT && shape->open)
    return bl_refuse (error, "a drift fills a closed outline");
  return check_outline (shape, planting->form == BL_PLANTING_ROW ? 2 : 3, BL_FROM_PLAN, thorough,
                        error);
}

static gboolean
check_stood (const BlPlanting *planting,
             GError          **error)
{
  const BlPoints *stood = planting->stood;

  if (stood == NULL)
    return TRUE;
  if (planting->form != BL_PLANTING_DRIFT && planting->form != BL_PLANTING_FILL)
    return bl_refuse (error, "only the plants of a drift or a fill can have stood anywhere else");
  if (stood->len > BL_MAX_STOOD)
    return bl_refuse (error, "more than %d places where plants stood", BL_MAX_STOOD);
  for (guint i = 0; i < stood->len; i++)
    if (!(fabs (bl_points_at (stood, i).x) <= BL_MAX_METRES
          && fabs (bl_points_at (stood, i).y) <= BL_MAX_METRES))
      return bl_refuse (error, "place %u where a plant stood is out of reach", i + 1);
  return TRUE;
}

gboolean
bl_check_planting (const BlPlanting *planting,
                   gboolean          thorough,
                   GError          **error)
{
  if (planting->alternative_id <= 0 || planting->bed_id <= 0)
    return bl_refuse (error, "the planting belongs to no alternative or no bed");
  if ((guint) planting->form > BL_PLANTING_FILL)
    return bl_refuse (error, "the planting is of an unknown form");
  if (!bl_check_name (planting->slug, "the planting's plant", error)
      || !bl_check_string (planting->size, BL_MAX_NAME, FALSE, "the planting's size", error)
      || !bl_check_string (planting->note, BL_MAX_TEXT, TRUE, "the planting's note", error))
    return FALSE;
  if (planting->spacing != 0
      && !bl_check_range (planting->spacing, 0.02, 50, "the spacing", "m", error))
    return FALSE;
  if (planting->group < 0)
    return bl_refuse (error, "the planting's group is negative");
  if (!check_stood (planting, error))
    return FALSE;
  return check_shape (planting, thorough, error);
}

/* ---- the whole ---- */

static gboolean
check_unique (GHashTable *seen,
              const char *name,
              const char *what,
              GError    **error)
{
  if (g_hash_table_add (seen, (gpointer) name))
    return TRUE;
  return bl_refuse (error, "two %s are called “%s”; give one of them another name", _(what), name);
}

static gboolean
check_planting_parts (const BlModel *model,
                      GError       **error)
{
  gint64 bed = 0, alternative = 0;

  for (guint i = 0; i < model->plantings->len; i++)
    {
      const BlPlanting *planting = g_ptr_array_index (model->plantings, i);

      /* Neighbours mostly share bed and alternative. */
      if ((planting->bed_id != bed && bl_model_bed (model, planting->bed_id) == NULL)
          || (planting->alternative_id != alternative
              && bl_model_alternative (model, planting->alternative_id) == NULL)
          || bl_model_plant (model, planting->slug) == NULL)
        return bl_refuse (error,
                          "a planting of “%s” names a bed, alternative or plant that is not there",
                          bl_shown (planting->slug));
      bed = planting->bed_id;
      alternative = planting->alternative_id;
    }
  return TRUE;
}

gboolean
bl_check_whole (const BlModel *model,
                GError       **error)
{
  g_autoptr(GHashTable) beds = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr(GHashTable) alternatives = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < model->beds->len; i++)
    if (!check_unique (beds, ((BlBed *) g_ptr_array_index (model->beds, i))->name, "beds", error))
      return FALSE;
  for (guint i = 0; i < model->alternatives->len; i++)
    if (!check_unique (alternatives,
                       ((BlAlternative *) g_ptr_array_index (model->alternatives, i))->name,
                       "alternatives", error))
      return FALSE;
  return check_planting_parts (model, error);
}
