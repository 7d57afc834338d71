/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looking through an SVG before it is drawn: what it holds, what it refers to, how much it is. */
#include "config.h"

#include "survey/drawing-private.h"

#include "base/error.h"
#include "survey/svg-dashes.h"
#include "survey/svg-source.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define MOST_DEPTH 200        /* elements within elements */
#define MOST_DRAWN 200000.0   /* elements, those used again counted each time */
#define MOST_ELEMENTS 100000  /* elements written down */
#define MOST_DASHES 1e6       /* a second of drawing, and a hundred megabytes */
#define LAYER 400.0           /* elements that take as long as a picture laid over all of it */

typedef struct
{
  double elements, length, letters; /* length: of outlines, user units */
} Amount;

/* An element: where its descendants end, and what it draws again. */
typedef struct
{
  guint end;    /* index after its last descendant */
  GArray *uses; /* Use */
  gboolean is_text;
  enum { UNCOUNTED, COUNTING, COUNTED } state;
  Amount own, drawn; /* by itself; with all it holds and uses, once counted */
} Node;

typedef struct
{
  char *id;
  double times;
} Use;

typedef struct
{
  GPtrArray *nodes;    /* Node, the root first */
  GArray *open;        /* guint, the elements not yet ended */
  GHashTable *by_name; /* id -> Node index + 1 */
  gboolean in_style;
  BlSvgDashes dashes;
  GString *style; /* of the style element that is open */
} Screen;

static void
clear_use (gpointer data)
{
  g_free (((Use *) data)->id);
}

static void
node_free (gpointer data)
{
  Node *node = data;

  g_array_unref (node->uses);
  g_free (node);
}

static gboolean G_GNUC_PRINTF (2, 3)
refuse (GError    **error,
        const char *format,
        ...)
{
  g_autofree char *sentence = NULL, *whole = NULL;
  va_list args;

  va_start (args, format);
  sentence = g_strdup_vprintf (format, args);
  va_end (args);
  /* What is quoted may have been cut within a letter. */
  whole = g_utf8_make_valid (sentence, -1);
  g_set_error_literal (error, BL_ERROR, BL_ERROR_FILE, whole);
  return FALSE;
}

static gboolean
is_allowed (const char *element,
            GError    **error)
{
  static const char *const drawn[] = {
    "svg", "g", "defs", "symbol", "use", "switch", "a", "title", "desc", "metadata", "style", "path",
    "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "tspan", "linearGradient",
    "radialGradient", "stop", "clipPath", "marker", "view", NULL
  };
  static const char *const pictures[] = { "image", "feImage", NULL };
  static const char *const running[] = {
    "script", "foreignObject", "animate", "animateTransform", "animateMotion", "set", "iframe",
    "audio", "video", "handler", NULL
  };

  if (g_strv_contains (drawn, element))
    return TRUE;
  if (g_strv_contains (pictures, element))
    return refuse (error, _("The SVG has a picture inside (%s); bring that picture itself, as a PNG or "
                   "JPEG, or save the whole drawing as a PNG."), element);
  if (g_strv_contains (running, element))
    return refuse (error, _("The SVG holds something that runs (%s), which a drawing does not need; save "
                   "it as plain SVG or as a PNG."), element);
  return refuse (error, _("The SVG has something in it that is not drawn here (%s); save it without "
                 "effects and patterns, or as a PNG."), element);
}

/* Only "svg:" and no prefix at all name the vocabulary of SVG, and what includes other files or data is
 * of none that is needed. */
static gboolean
check_vocabulary (const char  *element,
                  const char **names,
                  const char **values,
                  GError     **error)
{
  const char *colon = strchr (element, ':');

  for (guint i = 0; names[i] != NULL; i++)
    if (g_str_has_prefix (names[i], "xmlns:") && strcmp (names[i], "xmlns:svg") != 0
        && strcmp (values[i], "http://www.w3.org/2000/svg") == 0)
      return is_allowed (names[i], error);
  return colon == NULL || strcmp (colon + 1, "include") != 0 || is_allowed (element, error);
}

/* "url(#name)" of an attribute or a style; anything else in url() leads outside. @lower: @value in small
 * letters. */
static gboolean
take_urls (Node       *node,
           const char *value,
           const char *lower,
           double      times,
           GError    **error)
{
  for (const char *at = strstr (lower, "url("); at != NULL; at = strstr (at + 4, "url("))
    {
      const char *name = value + (at - lower) + 4 + strspn (at + 4, " \t\r\n\"'");
      Use use = { NULL, times };

      if (*name != '#')
        return refuse (error, _("The SVG refers to something outside itself (%.40s); save it as one "
                       "plain drawing, or as a PNG."), name);
      use.id = g_strndup (name + 1, strcspn (name + 1, ")\"'\t\r\n"));
      g_strchomp (use.id);
      g_array_append_val (node->uses, use);
    }
  return TRUE;
}

/* Whether an attribute is one of SVG's, whose value an escape or a comment could spell otherwise. */
static gboolean
is_disguised (const char *name,
              const char *value)
{
  const char *colon = strchr (name, ':');

  return (colon == NULL || g_str_has_prefix (name, "svg:")) && !g_str_has_prefix (name, "data-")
         && !g_str_has_prefix (name, "aria-")
         && (strchr (value, '\\') != NULL || strstr (value, "/*") != NULL);
}

/* What is laid over the drawing as a whole takes a picture of its size. @lower: the value in small letters. */
static gboolean
is_layer (const char *name,
          const char *lower)
{
  const char *at = lower;

  if (strcmp (name, "opacity") == 0)
    return g_ascii_strtod (lower, NULL) != 1.0 && strcmp (lower, "inherit") != 0;
  if (strcmp (name, "mix-blend-mode") == 0 || strcmp (name, "isolation") == 0)
    return TRUE;
  if (strcmp (name, "style") != 0)
    return FALSE;
  while ((at = strstr (at, "opacity")) != NULL)
    {
      const char *next = at + strlen ("opacity"), *colon = next + strspn (next, " \t\r\n");

      if ((at == lower || at[-1] != '-') && *colon == ':' && g_ascii_strtod (colon + 1, NULL) != 1.0)
        return TRUE;
      at = next;
    }
  return strstr (lower, "mix-blend-mode") != NULL || strstr (lower, "isolation") != NULL;
}

/* Vertices that a marker may stand on: every one has at least one letter, comma or space. */
static double
count_vertices (const char **names,
                const char **values)
{
  double n = 2.0;

  for (guint i = 0; names[i] != NULL; i++)
    if (strcmp (names[i], "d") == 0 || strcmp (names[i], "points") == 0)
      for (const char *c = values[i]; *c != '\0'; c++)
        n += g_ascii_isalpha (*c) || *c == ',' || g_ascii_isspace (*c) || *c == '-';
  return n;
}

static gboolean
take_attribute (Node        *node,
                const char  *element,
                const char  *name,
                const char  *value,
                double       vertices,
                GError     **error)
{
  const char *colon = strrchr (name, ':');
  const char *local = colon != NULL ? colon + 1 : name;
  g_autofree char *lower = g_ascii_strdown (value, -1);
  gboolean marks = strstr (lower, "marker") != NULL || g_str_has_prefix (local, "marker");
  Use use = { NULL, 1.0 };

  if (g_ascii_strncasecmp (local, "on", 2) == 0)
    return refuse (error, _("The SVG holds something that runs (%s), which a drawing does not need; save "
                   "it as plain SVG or as a PNG."), name);
  if (bl_svg_has_effect (name, value) || is_disguised (name, value))
    return is_allowed ("filter", error);
  if (is_layer (local, lower))
    node->own.elements = LAYER;
  if (strcmp (name, "xml:base") == 0)
    return refuse (error, _("The SVG refers to something outside itself (%.40s); save it as one plain "
                   "drawing, or as a PNG."), value);
  if (strcmp (local, "href") == 0 && strcmp (element, "a") != 0)
    {
      if (value[0] != '#')
        return refuse (error, _("The SVG refers to something outside itself (%.40s); save it as one plain "
                       "drawing, or as a PNG."), value);
      use.id = g_strdup (value + 1);
      g_array_append_val (node->uses, use);
    }
  return take_urls (node, value, lower, marks ? vertices : 1.0, error);
}

static gboolean
is_other_vocabulary (const char *element)
{
  const char *colon = strchr (element, ':');

  return colon != NULL && !g_str_has_prefix (element, "svg:");
}

static gboolean
refuse_style (GError **error)
{
  return refuse (error, _("The style of the SVG refers to other things than colours and lines; save it as "
                 "plain SVG or as a PNG."));
}

static gboolean
check_style (const char *text,
             GError    **error)
{
  g_autofree char *style = g_ascii_strdown (text, -1);

  /* An escape could spell any of the words below. */
  return (strstr (style, "url(") == NULL && strchr (style, '@') == NULL && strchr (style, '\\') == NULL
          && strstr (style, "filter") == NULL && strstr (style, "marker") == NULL)
         || refuse_style (error);
}

/* Of two elements of one name, the first is meant. */
static void
take_id (Screen     *self,
         const char *id,
         guint       at)
{
  if (!g_hash_table_contains (self->by_name, id))
    g_hash_table_insert (self->by_name, g_strdup (id), GUINT_TO_POINTER (at + 1));
}

static void
element_begun_cb (GMarkupParseContext *context,
                  const char          *element,
                  const char         **names,
                  const char         **values,
                  gpointer             data,
                  GError             **error)
{
  Screen *self = data;
  const char *local = g_str_has_prefix (element, "svg:") ? element + 4 : element;
  double vertices = count_vertices (names, values);
  guint at = self->nodes->len;
  Node *node;

  if (at == 0 && strcmp (local, "svg") != 0)
    refuse (error, _("This is not an SVG drawing: it begins with %.40s."), element);
  /* What editors note down for themselves is not drawn. */
  else if (!check_vocabulary (element, names, values, error)
           || (!is_other_vocabulary (element) && !is_allowed (local, error)))
    return;
  else if (self->in_style)
    refuse_style (error);
  else if (at >= MOST_ELEMENTS || self->open->len >= MOST_DEPTH)
    refuse (error, _("The SVG has %s; leave out what is not needed, or save it as a PNG."),
            at >= MOST_ELEMENTS ? _("more than 100,000 parts") : _("parts 200 deep within one another"));
  if (error != NULL && *error != NULL)
    return;
  node = g_new0 (Node, 1);
  node->own.elements = 1.0;
  node->own.length = bl_svg_dashes_take (&self->dashes, local, names, values);
  node->uses = g_array_new (FALSE, FALSE, sizeof (Use));
  g_array_set_clear_func (node->uses, clear_use);
  g_ptr_array_add (self->nodes, node);
  g_array_append_val (self->open, at);
  self->in_style = strcmp (local, "style") == 0;
  node->is_text = strcmp (local, "text") == 0 || strcmp (local, "tspan") == 0 || strcmp (local, "a") == 0;
  for (guint i = 0; names[i] != NULL; i++)
    {
      if (strcmp (names[i], "id") == 0)
        take_id (self, values[i], at);
      if (!is_other_vocabulary (element)
          && !take_attribute (node, local, names[i], values[i], vertices, error))
        return;
    }
}

static void
element_ended_cb (GMarkupParseContext *context,
                  const char          *element,
                  gpointer             data,
                  GError             **error)
{
  Screen *self = data;

  guint at = g_array_index (self->open, guint, self->open->len - 1);

  ((Node *) g_ptr_array_index (self->nodes, at))->end = self->nodes->len;
  g_array_set_size (self->open, self->open->len - 1);
  if (self->in_style && check_style (self->style->str, error))
    bl_svg_dashes_take_sheet (&self->dashes, self->style->str);
  g_string_truncate (self->style, 0);
  self->in_style = FALSE;
}

static void
text_cb (GMarkupParseContext *context,
         const char          *text,
         gsize                length,
         gpointer             data,
         GError             **error)
{
  Screen *self = data;

  /* Comments and further sections cut it anywhere, so all of it is looked at when it ends. */
  if (self->in_style)
    g_string_append_len (self->style, text, (gssize) length);
  else if (self->open->len > 0)
    {
      guint at = g_array_index (self->open, guint, self->open->len - 1);
      Node *node = g_ptr_array_index (self->nodes, at);

      node->own.letters += node->is_text ? (double) length : 0.0;
    }
}

static void
passed_through_cb (GMarkupParseContext *context,
                   const char          *text,
                   gsize                length,
                   gpointer             data,
                   GError             **error)
{
  if (!bl_svg_passage_is_plain (text, length))
    refuse (error, _("The SVG declares %s; save it as plain SVG or as a PNG."),
            _("entities, style sheets or an encoding of its own"));
}

/* ---- how much is drawn ---- */

static void
add (Amount       *sum,
     const Amount *more,
     double        times)
{
  sum->elements += times * more->elements;
  sum->length += times * more->length;
  sum->letters += times * more->letters;
}

/* An element's descendants are written right after it, so what it draws is a run of nodes. INFINITY
 * when something is part of itself, or used through too many others. */
static Amount
count (Screen *self,
       guint   at,
       guint   depth)
{
  Node *node = g_ptr_array_index (self->nodes, at);
  Amount sum = { 0 };

  if (node->state == COUNTING || depth > MOST_DEPTH)
    return (Amount) { .elements = INFINITY };
  if (node->state == COUNTED)
    return node->drawn;
  node->state = COUNTING;
  for (guint k = at; k < node->end && sum.elements <= MOST_DRAWN; k++)
    {
      const Node *part = g_ptr_array_index (self->nodes, k);

      add (&sum, &part->own, 1.0);
      for (guint i = 0; i < part->uses->len; i++)
        {
          const Use *use = &g_array_index (part->uses, Use, i);
          guint target = GPOINTER_TO_UINT (g_hash_table_lookup (self->by_name, use->id));

          if (target > 0)
            {
              Amount used = count (self, target - 1, depth + 1);

              add (&sum, &used, use->times);
            }
        }
    }
  node->state = COUNTED;
  node->drawn = sum;
  return sum;
}

static void
screen_clear (Screen *self)
{
  g_ptr_array_unref (self->nodes);
  g_array_unref (self->open);
  g_string_free (self->style, TRUE);
  g_hash_table_unref (self->by_name);
}

static gboolean
read_all (Screen     *self,
          const char *text,
          gsize       length,
          GError    **error)
{
  static const GMarkupParser parser = { element_begun_cb, element_ended_cb, text_cb, passed_through_cb,
                                        NULL };
  g_autoptr (GMarkupParseContext) context
      = g_markup_parse_context_new (&parser, G_MARKUP_TREAT_CDATA_AS_TEXT, self, NULL);
  g_autoptr (GError) problem = NULL;
  g_autofree char *why = NULL;

  if (!bl_svg_is_text (text, length))
    return refuse (error, _("The SVG declares %s; save it as plain SVG or as a PNG."),
                   _("entities, style sheets or an encoding of its own"));
  if (g_markup_parse_context_parse (context, text, (gssize) length, &problem)
      && g_markup_parse_context_end_parse (context, &problem))
    return TRUE;
  if (problem->domain == BL_ERROR)
    {
      g_propagate_error (error, g_steal_pointer (&problem));
      return FALSE;
    }
  why = g_utf8_make_valid (problem->message, MIN (200, (gssize) strlen (problem->message)));
  return refuse (error, _("The SVG cannot be read: %s"), why);
}

gboolean
bl_svg_screen (const char *text,
               gsize       length,
               gboolean   *solid,
               GError    **error)
{
  Screen self = { g_ptr_array_new_with_free_func (node_free), g_array_new (FALSE, FALSE, sizeof (guint)),
                  g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL), FALSE,
                  { 0 }, g_string_new (NULL) };
  gboolean ok = read_all (&self, text, length, error);
  Amount all = { 0 };

  /* Declarations alone end well for the parser. */
  if (ok && self.nodes->len == 0)
    ok = refuse (error, _("This is not an SVG drawing: there is nothing in it."));
  if (ok)
    all = count (&self, 0, 0);
  if (!(all.elements <= MOST_DRAWN))
    ok = refuse (error, _("The SVG repeats its parts so often that drawing it would not end; save it as "
                 "a PNG."));
  *solid = !(bl_svg_dashes_count (&self.dashes, all.length, all.letters) <= MOST_DASHES);
  screen_clear (&self);
  return ok;
}
