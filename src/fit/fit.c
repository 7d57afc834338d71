/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs the rules, sorts what they find, and writes it down. */
#include "config.h"

#include "fit/fit.h"

#include <glib/gi18n-lib.h>
#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "fit/fit-private.h"
#include "geometry/polygon.h"

static void
clear_substitute (gpointer data)
{
  BlSubstitute *s = data;

  g_free (s->slug);
  g_free (s->name);
  g_free (s->change);
}

static void
clear_finding (gpointer data)
{
  BlFinding *f = data;

  g_free (f->slug);
  g_free (f->sentence);
  g_free (f->source);
  if (f->substitutes != NULL)
    {
      g_array_set_clear_func (f->substitutes, clear_substitute);
      g_array_unref (f->substitutes);
    }
}

static BlFit *
fit_new (void)
{
  BlFit *fit = g_new0 (BlFit, 1);

  fit->findings = g_array_new (FALSE, TRUE, sizeof (BlFinding));
  g_array_set_clear_func (fit->findings, clear_finding);
  return fit;
}

void
bl_fit_free (BlFit *fit)
{
  if (fit == NULL)
    return;
  g_array_unref (fit->findings);
  g_free (fit);
}

static void
take_finding (BlFitContext *context, BlFinding finding, const char *source, const char *format,
              va_list args)
{
  const char *language = context->language;

  finding.source = g_strdup (bl_say (language, source));
  finding.sentence
    = bl_say_join (language, g_strdup_vprintf (bl_say (language, format), args));
  g_array_append_val (context->fit->findings, finding);
}

void
bl_fit_add (BlFitContext *context, const BlFitSubject *subject, const char *rule,
            BlSeverity severity, const char *source, const char *format, ...)
{
  va_list args;
  BlFinding finding = { .rule = rule, .severity = severity };

  if (context->fit == NULL)
    {
      context->worst = context->count == 0 ? severity : MAX (context->worst, severity);
      context->rules[MIN (context->count, BL_FIT_MAX_RULES - 1)] = rule;
      context->count++;
      return;
    }
  finding.planting_id = context->speaking != 0 ? context->speaking : subject->planting_id;
  finding.bed_id = subject->bed_id;
  finding.slug = g_strdup (subject->plant->slug);
  va_start (args, format);
  take_finding (context, finding, source, format, args);
  va_end (args);
}

void
bl_fit_add_bed (BlFitContext *context, gint64 bed_id, const char *rule, BlSeverity severity,
                const char *source, const char *format, ...)
{
  va_list args;
  BlFinding finding = { .rule = rule, .severity = severity, .bed_id = bed_id };

  va_start (args, format);
  take_finding (context, finding, source, format, args);
  va_end (args);
}

static int
compare_findings (gconstpointer pa, gconstpointer pb)
{
  const BlFinding *a = pa, *b = pb;
  int order = 0;

  if (a->severity != b->severity)
    return a->severity > b->severity ? -1 : 1;
  if (a->bed_id != b->bed_id)
    return a->bed_id < b->bed_id ? -1 : 1;
  order = g_strcmp0 (a->slug, b->slug);
  if (order == 0)
    order = strcmp (a->rule, b->rule);
  if (order == 0 && a->planting_id != b->planting_id)
    return a->planting_id < b->planting_id ? -1 : 1;
  return order;
}

static void
judge (BlFitContext *context, const BlFitSubject *subject)
{
  bl_fit_climate (context, subject);
  bl_fit_exposure (context, subject);
  bl_fit_harm (context, subject);
  bl_fit_clearance (context, subject);
}

BlFit *
bl_fit_check (const BlLayout *layout, BlLibrary *library, const char *language, GError **error)
{
  g_autoptr (BlFitContext) context = bl_fit_context_new (layout->model, layout, language);
  g_autoptr (BlFit) fit = fit_new ();
  guint i = 0;

  context->fit = fit;
  for (i = 0; i < context->subjects->len; i++)
    judge (context, &g_array_index (context->subjects, BlFitSubject, i));
  bl_fit_composition (context);
  bl_fit_look (context);
  g_array_sort (fit->findings, compare_findings);
  if (library != NULL && !bl_fit_substitute (context, library, error))
    return NULL;
  return g_steal_pointer (&fit);
}

BlFit *
bl_fit_plant (const BlModel *model, const BlPlant *plant, gint64 bed_id, const char *language,
              GError **error)
{
  g_autoptr (BlFitContext) context = NULL;
  const BlBed *bed = bl_model_bed (model, bed_id);
  BlFitSubject subject = { .plant = plant, .bed = bed, .bed_id = bed_id };
  BlPoint middle = BL_POINT (0, 0);
  BlFit *fit = NULL;

  if (bed == NULL)
    {
      g_set_error_literal (error, BL_ERROR, BL_ERROR_NOT_FOUND,
                           _("There is no such bed in the design: choose a bed first"));
      return NULL;
    }
  context = bl_fit_context_new (model, NULL, language);
  fit = context->fit = fit_new ();
  if (bed->ring != NULL && bed->ring->len >= 3)
    {
      middle = bl_polygon_centroid (bed->ring);
      subject.points = &middle;
      subject.n_points = 1;
    }
  judge (context, &subject);
  g_array_sort (fit->findings, compare_findings);
  return fit;
}

const char *
bl_severity_name (BlSeverity severity)
{
  static const char *const names[]
    = { BL_SAID ("caution"), BL_SAID ("unlikely to do well"), BL_SAID ("do not") };

  g_return_val_if_fail (severity < G_N_ELEMENTS (names), "");
  return names[severity];
}

static void
add_text (JsonBuilder *json, const char *name, const char *text)
{
  json_builder_set_member_name (json, name);
  if (text != NULL)
    json_builder_add_string_value (json, text);
  else
    json_builder_add_null_value (json);
}

static void
add_substitutes (JsonBuilder *json, const GArray *substitutes)
{
  guint i = 0;

  json_builder_set_member_name (json, "substitutes");
  json_builder_begin_array (json);
  for (i = 0; substitutes != NULL && i < substitutes->len; i++)
    {
      const BlSubstitute *s = &g_array_index (substitutes, BlSubstitute, i);

      json_builder_begin_object (json);
      add_text (json, "plant", s->slug);
      add_text (json, "name", s->name);
      add_text (json, "change", s->change);
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
}

char *
bl_fit_to_json (const BlFit *fit)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = NULL;
  guint i = 0;

  json_builder_begin_object (json);
  json_builder_set_member_name (json, "findings");
  json_builder_begin_array (json);
  for (i = 0; i < fit->findings->len; i++)
    {
      const BlFinding *f = &g_array_index (fit->findings, BlFinding, i);

      json_builder_begin_object (json);
      add_text (json, "rule", f->rule);
      add_text (json, "severity", bl_severity_name (f->severity));
      json_builder_set_member_name (json, "planting");
      json_builder_add_int_value (json, f->planting_id);
      json_builder_set_member_name (json, "bed");
      json_builder_add_int_value (json, f->bed_id);
      add_text (json, "plant", f->slug);
      add_text (json, "sentence", f->sentence);
      add_text (json, "source", f->source);
      add_substitutes (json, f->substitutes);
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
  json_builder_end_object (json);
  root = json_builder_get_root (json);
  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  return json_generator_to_data (generator, NULL);
}
