/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plan symbols: SVG drawings with named parts, recoloured by a stylesheet for the plant and its
 * season.
 *
 * Parts (classes): wash, shade, light = leaves; ink, fine = lines; flower, centre = flowers. The
 * drawing fills a square of 100 units about its middle. A person's own drawing with these parts
 * replaces ours: bedline/symbols/SLUG.svg or NAME.svg in the user's data folder. It may hold
 * shapes and gradients,
 * and nothing that draws by reference. */
#include "draw/figure.h"
#include "draw/symbol.h"

#include <glib/gstdio.h>
#include <librsvg/rsvg.h>
#include <string.h>

#include "survey/svg-dashes.h"
#include "survey/svg-source.h"

#define MOST_DEPTH 200 /* elements within elements */

GResource *bl_draw_get_resource (void); /* from the resource compiler */

void
bl_draw_ensure_resources (void)
{
  /* Registers once however often it is called. */
  bl_draw_get_resource ();
}

static const char *const by_form[BL_FORM_N] = {
  [BL_FORM_UPRIGHT_CLUMP] = "clump",
  [BL_FORM_MOUND] = "mound",
  [BL_FORM_MAT] = "mat",
  [BL_FORM_CUSHION] = "cushion",
  [BL_FORM_FOUNTAIN_GRASS] = "grass-fountain",
  [BL_FORM_UPRIGHT_GRASS] = "grass-upright",
  [BL_FORM_TUSSOCK] = "tussock",
  [BL_FORM_VASE_SHRUB] = "shrub",
  [BL_FORM_GLOBE_SHRUB] = "shrub",
  [BL_FORM_ARCHING_SHRUB] = "shrub-arching",
  [BL_FORM_COLUMN] = "conifer-column",
  [BL_FORM_CONE_CONIFER] = "conifer",
  [BL_FORM_SPREADING_CONIFER] = "conifer-spreading",
  [BL_FORM_MOUND_CONIFER] = "conifer-mound",
  [BL_FORM_MULTISTEM_TREE] = "tree-multistem",
  [BL_FORM_ROUND_TREE] = "tree-round",
  [BL_FORM_SPIRE_CLUMP] = "spires",
  [BL_FORM_STRAP_CLUMP] = "straps",
  [BL_FORM_ROSETTE_WANDS] = "rosette",
  [BL_FORM_DAISY_CLUMP] = "daisy",
  [BL_FORM_UMBEL_CLUMP] = "umbels",
  [BL_FORM_BULB] = "bulbs",
  [BL_FORM_FERN] = "fern",
  [BL_FORM_CLIMBER] = "climber",
  [BL_FORM_HEDGE] = "hedge",
};

const char *
bl_symbol_name (const BlPlant *plant)
{
  gboolean evergreen = plant->leaves == BL_LEAVES_EVERGREEN;
  const char *name;

  if (plant->form >= BL_FORM_N)
    return "mound";
  name = by_form[plant->form];
  /* The leaf tells shrubs apart: evergreen ones are closed, deciduous ones show branches. */
  if ((plant->form == BL_FORM_GLOBE_SHRUB || plant->form == BL_FORM_VASE_SHRUB) && evergreen)
    return "shrub-evergreen";
  if (plant->form == BL_FORM_COLUMN && !evergreen)
    return "tree-round";
  return name;
}

const char *const *
bl_symbol_names (void)
{
  static const char *const names[] = {
    "tree-round", "tree-multistem", "shrub", "shrub-arching", "shrub-evergreen", "hedge", "conifer",
      "conifer-column",
    "conifer-spreading", "conifer-mound", "grass-fountain", "grass-upright", "tussock", "clump",
      "mound", "daisy", "spires",
    "umbels", "straps", "rosette", "mat", "cushion", "fern", "bulbs", "climber", NULL
  };

  return names;
}

static void
element_begun_cb (GMarkupParseContext *context, const char *element, const char **names,
                  const char **values,
                  gpointer data, GError **error)
{
  static const char *const refused[] = {
    "clipPath", "filter", "foreignObject", "image", "marker", "mask", "pattern", "script", "use",
      "include", NULL
  };
  const char *colon = strchr (element, ':');

  if (g_slist_length ((GSList *) g_markup_parse_context_get_element_stack (context)) > MOST_DEPTH)
    {
      g_set_error_literal (error, G_MARKUP_ERROR, G_MARKUP_ERROR_INVALID_CONTENT, element);
      return;
    }
  if (g_strv_contains (refused, colon != NULL ? colon + 1 : element))
    {
      g_set_error (error, G_MARKUP_ERROR, G_MARKUP_ERROR_INVALID_CONTENT, "%s", element);
      return;
    }
  for (guint i = 0; names[i] != NULL; i++)
    if (bl_svg_has_effect (names[i], values[i]))
      {
        g_set_error_literal (error, G_MARKUP_ERROR, G_MARKUP_ERROR_INVALID_CONTENT, "filter");
        return;
      }
}

/* Comments and sections cut a style sheet anywhere, so its pieces are gathered. */
static void
text_cb (GMarkupParseContext *context, const char *text, gsize length, gpointer data, GError **error)
{
  const GSList *stack = g_markup_parse_context_get_element_stack (context);

  for (; stack != NULL; stack = stack->next)
    if (g_str_has_suffix (stack->data, "style"))
      {
        g_string_append_len (data, text, (gssize) length);
        return;
      }
}

static void
passed_through_cb (GMarkupParseContext *context, const char *text, gsize length, gpointer data,
                   GError **error)
{
  if (!bl_svg_passage_is_plain (text, length))
    g_set_error_literal (error, G_MARKUP_ERROR, G_MARKUP_ERROR_INVALID_CONTENT, "ENTITY");
}

/* Shapes and gradients only: what draws by reference can fetch, repeat itself without end or take
 * minutes (a few kilobytes of nested uses, a noise filter of a million octaves). */
gboolean
bl_drawing_is_plain (const char *text, gsize length, char **what)
{
  static const GMarkupParser parser = { .start_element = element_begun_cb, .text = text_cb,
                                        .passthrough = passed_through_cb };
  g_autoptr (GString) style = g_string_new (NULL);
  g_autoptr (GMarkupParseContext) context
      = g_markup_parse_context_new (&parser, G_MARKUP_TREAT_CDATA_AS_TEXT, style, NULL);
  g_autoptr (GError) why = NULL;

  if (!bl_svg_is_text (text, length))
    return FALSE;
  if (g_markup_parse_context_parse (context, text, (gssize) length, &why)
      && g_markup_parse_context_end_parse (context, &why))
    {
      if (!bl_svg_has_effect (NULL, style->str))
        return TRUE;
      g_set_error_literal (&why, G_MARKUP_ERROR, G_MARKUP_ERROR_INVALID_CONTENT, "filter");
    }
  if (what != NULL && g_error_matches (why, G_MARKUP_ERROR, G_MARKUP_ERROR_INVALID_CONTENT))
    *what = g_strdup (why->message);
  return FALSE;
}

static RsvgHandle *
open_own (const char *name)
{
  g_autofree char *path = bl_symbol_own_path (name);
  g_autofree char *text = NULL;
  gsize length = 0;
  GStatBuf info;

  /* A drawing that can't be read is as good as none: ours is shown. Without a place to start from,
   * a drawing finds no other file either. */
  if (g_stat (path, &info) != 0 || !S_ISREG (info.st_mode) || info.st_size > BL_MAX_SYMBOL
      || !g_file_get_contents (path, &text, &length, NULL) || !bl_drawing_is_plain (text, length, NULL))
    return NULL;
  return rsvg_handle_new_from_data ((const guint8 *) text, length, NULL);
}

static RsvgHandle *
open_symbol (const BlPlant *plant)
{
  const char *name = bl_symbol_name (plant);
  RsvgHandle *handle = plant->slug != NULL ? open_own (plant->slug) : NULL;
  g_autofree char *path = NULL;
  g_autoptr (GBytes) bytes = NULL;

  if (handle == NULL)
    handle = open_own (name);
  if (handle != NULL)
    return handle;
  path = g_strdup_printf ("/org/bedline/symbols/%s.svg", name);
  bytes = g_resource_lookup_data (bl_draw_get_resource (), path, G_RESOURCE_LOOKUP_FLAGS_NONE,
                                  NULL);
  if (bytes == NULL)
    return NULL;
  return rsvg_handle_new_from_data (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), NULL);
}

static char *
stylesheet (const BlLook *look, double pixels, gboolean monochrome)
{
  g_autofree char *leaf = NULL, *shade = NULL, *light = NULL, *flower = NULL, *ink = NULL,
    *eye = NULL;
  BlColor base = look->leaf > 0.08 ? look->leaf_color : bl_color_mix (look->stem_color,
                                                                      (BlColor) { 0.86, 0.83, 0.76,
                                                                          1 }, 0.45);
  gboolean open = look->bloom > 0.04, fruit = !open && look->fruit > 0.1, seed = !open && !fruit &&
    look->seed > 0.1;
  BlColor petal = open ? look->flower_color : fruit ? look->fruit_color : look->seed_color;
  /* Lines about 0.9 and 0.6 pixels, whatever the size. */
  double line = CLAMP (100 / MAX (pixels, 1), 0.22, 2.6), fine = line * 0.62;

  if (monochrome)
    return g_strdup_printf (".wash{fill:#fff;fill-opacity:1;stroke:none}"
                            ".shade{fill:#000;fill-opacity:.10;stroke:none}"
                            ".light{fill:#fff;fill-opacity:.55;stroke:none}"
                            ".ink{stroke:#000;stroke-width:%.2f;fill:none}"
                            ".fine{stroke:#000;stroke-width:%.2f;fill:none}"
                            ".flower{fill:#fff;stroke:#000;stroke-width:%.2f}"
                            ".centre{fill:#000;stroke:none}", line * 1.2, fine, fine);
  leaf = bl_color_format (bl_color_lighten (base, 0.12));
  shade = bl_color_format (bl_color_lighten (base, -0.30));
  light = bl_color_format (bl_color_lighten (base, 0.42));
  ink = bl_color_format (bl_color_lighten (bl_color_saturate (base, 0.6), -0.62));
  flower = bl_color_format (petal);
  eye = bl_color_format (bl_color_lighten (petal, -0.55));
  return g_strdup_printf (".wash{fill:%s;fill-opacity:%.2f;stroke:none}"
                            ".shade{fill:%s;fill-opacity:.5;stroke:none}"
                          ".light{fill:%s;fill-opacity:.55;stroke:none}"
                            ".ink{stroke:%s;stroke-width:%.2f;fill:none}"
                          ".fine{stroke:%s;stroke-width:%.2f;stroke-opacity:.8;fill:none}"
                          ".flower{fill:%s;fill-opacity:%.2f;stroke:%s;"
                          "stroke-width:%.2f;stroke-opacity:%.2f}"
                          ".centre{fill:%s;fill-opacity:%.2f;stroke:none}",
                          leaf, look->leaf > 0.08 ? 0.92 : 0.55, shade, light, ink, line, ink, fine,
                            flower,
                          open || fruit || seed ? 1.0 : 0.0, eye, fine * 0.8, open || fruit ||
                            seed ? 0.7 : 0.0,
                          open ? eye : ink, open ? 1.0 : 0.75);
}

/* A drawing's own style would win over ours (it is the author's, ours the user's): make ours
 * count. */
static char *
overriding (const char *css)
{
  GString *s = g_string_new (NULL);

  for (const char *c = css; *c; c++)
    {
      if (*c == ';' || *c == '}')
        g_string_append (s, " !important");
      g_string_append_c (s, *c);
    }
  return g_string_free (s, FALSE);
}

void
bl_symbol_draw (cairo_t *cr, const BlPlant *plant, const BlLook *look, double radius, guint64 seed,
                double detail,
                gboolean monochrome)
{
  RsvgHandle *handle;
  g_autofree char *plain = NULL, *ours = NULL, *css = NULL;
  RsvgRectangle box = { -radius, -radius, 2 * radius, 2 * radius };

  g_return_if_fail (plant != NULL && look != NULL && radius > 0);
  handle = open_symbol (plant);
  if (handle == NULL)
    return;
  plain = stylesheet (look, 2 * radius * detail, monochrome);
  ours = overriding (plain);
  /* No symbol needs dashes, and their number would have no bound. */
  css = g_strconcat (ours, BL_SVG_SOLID, NULL);
  rsvg_handle_set_stylesheet (handle, (const guint8 *) css, strlen (css), NULL);
  cairo_save (cr);
  /* No two quite alike; the light stays where it is, so the turn is small. */
  cairo_rotate (cr, plant->form == BL_FORM_HEDGE ? 0 : ((double) (seed % 12) - 5.5) / 5.5 * 0.42);
  rsvg_handle_render_document (handle, cr, &box, NULL);
  cairo_restore (cr);
  g_object_unref (handle);
}
