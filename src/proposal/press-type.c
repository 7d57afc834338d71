/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Type: a display face, a text face, and how each style uses them. */
#include "proposal/press-type.h"

#include <string.h>

#define DISPLAY "EB Garamond, EB Garamond 12, serif"
#define TEXT "Lato, sans-serif"

static const struct
{
  const char *font;
  double size;      /* points */
  double leading;   /* line height over size */
  const char *features;
  double spacing;   /* letter spacing, points: over a tenth of the size readers see many words */
} styles[BL_TYPE_STYLE_N] = {
  [BL_TYPE_STYLE_TITLE] = { DISPLAY, 38, 1.06, "liga=1,onum=1", 0 },
  [BL_TYPE_STYLE_HEADING] = { DISPLAY, 23, 1.1, "liga=1,onum=1", 0 },
  [BL_TYPE_STYLE_SUBHEAD] = { DISPLAY " Italic", 14.5, 1.15, "liga=1,onum=1", 0 },
  [BL_TYPE_STYLE_LABEL] = { TEXT " Bold", 6.9, 1.3, "lnum=1", 0.55 },
  [BL_TYPE_STYLE_BODY] = { TEXT, 9.3, 1.42, "liga=1,onum=1,pnum=1", 0 },
  [BL_TYPE_STYLE_SMALL] = { TEXT, 7.6, 1.35, "lnum=1", 0 },
  [BL_TYPE_STYLE_TIGHT] = { TEXT, 7.2, 1.2, "lnum=1", 0 },
  [BL_TYPE_STYLE_NUMBER] = { TEXT " Bold", 5.2, 1.0, "lnum=1,tnum=1", 0 },
  [BL_TYPE_STYLE_TABLE] = { TEXT, 8.3, 1.3, "lnum=1,tnum=1", 0 },
  [BL_TYPE_STYLE_STRONG] = { TEXT " Bold", 8.3, 1.3, "lnum=1,tnum=1", 0 },
  [BL_TYPE_STYLE_CAPTION] = { DISPLAY " Italic", 9.6, 1.2, "liga=1,onum=1", 0 },
  [BL_TYPE_STYLE_FIGURE] = { DISPLAY, 19, 1.1, "lnum=1", 0 },
  [BL_TYPE_STYLE_LARGE] = { TEXT, 10.8, 1.36, "lnum=1", 0 },
  [BL_TYPE_STYLE_BIG] = { TEXT, 12.5, 1.42, "lnum=1", 0 },
};

BlColor
bl_press_style_color (BlTypeStyle style)
{
  if (style == BL_TYPE_STYLE_LABEL)
    return bl_press_accent ();
  if (style == BL_TYPE_STYLE_SMALL || style == BL_TYPE_STYLE_CAPTION)
    return bl_press_faint ();
  return bl_press_ink ();
}

void
bl_press_color (BlPress *press, BlColor color)
{
  cairo_set_source_rgba (press->cr, color.r, color.g, color.b, color.a);
}

/* The length of a typewriter's mark at @p, escaped or not; 0 = none. */
static gsize
mark_at (const char *p, gboolean *twice)
{
  static const struct
  {
    const char *mark;
    gboolean twice;
  } marks[]
      = { { "&#39;", FALSE }, { "&apos;", FALSE }, { "'", FALSE }, { "&quot;", TRUE }, { "\"", TRUE } };

  for (guint i = 0; i < G_N_ELEMENTS (marks); i++)
    if (g_str_has_prefix (p, marks[i].mark))
      {
        *twice = marks[i].twice;
        return strlen (marks[i].mark);
      }
  return 0;
}

static gboolean
is_figure (const char *text, const char *p)
{
  gunichar c = p > text ? g_utf8_get_char (g_utf8_prev_char (p)) : 0;

  return g_unichar_isdigit (c) || c == 0xBC || c == 0xBD || c == 0xBE;
}

/* Paper has marks of its own: feet and inches behind a figure, an apostrophe between letters. A tab
 * would leap over the column's edge, a control character has no place on paper at all. */
static char *
for_paper (const char *markup)
{
  g_autofree char *text = g_utf8_make_valid (markup, -1);
  GString *paper = g_string_sized_new (strlen (text) + 8);
  gboolean in_tag = FALSE, twice = FALSE;

  for (const char *p = text; *p != '\0';)
    {
      gsize mark = in_tag ? 0 : mark_at (p, &twice);
      gboolean letters = mark > 0 && !twice && p > text && g_unichar_isalpha (g_utf8_get_char (p + mark))
                         && g_unichar_isalpha (g_utf8_get_char (g_utf8_prev_char (p)));

      in_tag = *p == '<' || (in_tag && *p != '>');
      if (mark > 0 && is_figure (text, p))
        g_string_append (paper, twice ? "″" : "′");
      else if (letters)
        g_string_append (paper, "’");
      else
        {
          mark = MAX (mark, 1);
          g_string_append_len (paper, p, (gssize) mark);
          if ((guchar) *p < 0x20 && *p != '\n')
            paper->str[paper->len - 1] = ' ';
        }
      p += mark;
    }
  return g_string_free (paper, FALSE);
}

PangoLayout *
bl_press_layout (BlPress *press, BlTypeStyle style, double width, BlAlign align,
                 const char *markup_as_given)
{
  g_autofree char *markup = for_paper (markup_as_given);
  PangoLayout *layout = pango_cairo_create_layout (press->cr);
  g_autoptr (PangoFontDescription) font = pango_font_description_from_string (styles[style].font);
  PangoAttrList *attrs = pango_attr_list_new ();

  /* On paper no letter is moved to a whole pixel. */
  pango_context_set_round_glyph_positions (pango_layout_get_context (layout), FALSE);
  pango_layout_context_changed (layout);
  pango_font_description_set_absolute_size (font, styles[style].size * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_line_spacing (layout, 0);
  if (pango_parse_markup (markup, -1, 0, NULL, NULL, NULL, NULL))
    pango_layout_set_markup (layout, markup, -1);
  else
    pango_layout_set_text (layout, markup, -1);
  if (pango_layout_get_attributes (layout) != NULL)
    {
      pango_attr_list_unref (attrs);
      attrs = pango_attr_list_copy (pango_layout_get_attributes (layout));
    }
  pango_attr_list_insert_before (attrs, pango_attr_font_features_new (styles[style].features));
  if (styles[style].spacing > 0)
    pango_attr_list_insert_before (
        attrs, pango_attr_letter_spacing_new ((int)(styles[style].spacing * PANGO_SCALE)));
  pango_attr_list_insert_before (
      attrs, pango_attr_line_height_new_absolute (
                 (int)(styles[style].size * styles[style].leading * PANGO_SCALE)));
  pango_layout_set_attributes (layout, attrs);
  pango_attr_list_unref (attrs);
  if (width > 0)
    pango_layout_set_width (layout, (int) (width * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_alignment (layout, align == BL_ALIGN_LEFT    ? PANGO_ALIGN_LEFT
                                      : align == BL_ALIGN_RIGHT ? PANGO_ALIGN_RIGHT
                                                                : PANGO_ALIGN_CENTER);
  return layout;
}

void
bl_press_remember (BlPress *press, BlRect box, BlRect ink)
{
  BlPressBox entry = { press->page, press->width, press->height, box, ink };

  if (press->boxes != NULL)
    g_array_append_val (press->boxes, entry);
}

static void
show_layout (BlPress *press, PangoLayout *layout, BlTypeStyle style, double x, double y,
             double width)
{
  PangoRectangle ink, logical;
  BlRect box, marks;

  pango_layout_get_pixel_extents (layout, &ink, &logical);
  bl_press_color (press, bl_press_style_color (style));
  cairo_move_to (press->cr, x, y);
  pango_cairo_show_layout (press->cr, layout);
  cairo_new_path (press->cr);
  box = (BlRect) { x, y, x + (width > 0 ? width : logical.width), y + logical.height };
  marks = (BlRect) { x + ink.x, y + ink.y, x + ink.x + ink.width, y + ink.y + ink.height };
  if (ink.width > 0)
    bl_press_remember (press, box, marks);
}

double
bl_press_set (BlPress *press, BlTypeStyle style, double x, double y, double width, BlAlign align,
              int max_lines, const char *markup)
{
  g_autoptr (PangoLayout) layout = bl_press_layout (press, style, width, align, markup);
  int w, h;

  if (max_lines > 0)
    {
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
      pango_layout_set_height (layout, -max_lines);
    }
  show_layout (press, layout, style, x, y, width);
  pango_layout_get_size (layout, &w, &h);
  return (double) h / PANGO_SCALE;
}

double
bl_press_set_plain (BlPress *press, BlTypeStyle style, double x, double y, double width,
                    BlAlign align, int max_lines, const char *text)
{
  g_autofree char *markup = g_markup_escape_text (text, -1);

  return bl_press_set (press, style, x, y, width, align, max_lines, markup);
}

double
bl_press_measure (BlPress *press, BlTypeStyle style, double width, const char *markup)
{
  g_autoptr (PangoLayout) layout = bl_press_layout (press, style, width, BL_ALIGN_LEFT, markup);
  int w, h;

  pango_layout_get_size (layout, &w, &h);
  return (double) h / PANGO_SCALE;
}

/* How many lines from @from fit into @room without leaving a single line on either side. */
static int
lines_that_fit (int n_lines, int from, double line_height, double room)
{
  int left = n_lines - from;
  int fit = MIN (left, (int) (room / line_height));

  if (fit == left)
    return fit;
  if (left - fit == 1)
    fit--;
  return fit < 2 ? 0 : fit;
}

void
bl_press_flow (BlPress *press, BlTypeStyle style, double x, double width, const char *markup)
{
  g_autoptr (PangoLayout) layout = bl_press_layout (press, style, width, BL_ALIGN_LEFT, markup);
  double line_height = styles[style].size * styles[style].leading;
  int n_lines = pango_layout_get_line_count (layout);

  cairo_tag_begin (press->cr, "P", NULL);
  for (int from = 0; from < n_lines;)
    {
      int fit = lines_that_fit (n_lines, from, line_height, bl_press_room (press));

      if (fit == 0)
        {
          gboolean fresh = press->y <= press->top + 1;

          fit = fresh ? 1 : 0;
          if (!fresh)
            bl_press_page (press, NULL, NULL);
        }
      for (int i = from; i < from + fit; i++)
        {
          PangoLayoutLine *line = pango_layout_get_line_readonly (layout, i);
          PangoRectangle ink, logical;
          double base;

          pango_layout_line_get_extents (line, &ink, &logical);
          base = press->y - (double) logical.y / PANGO_SCALE;
          bl_press_color (press, bl_press_style_color (style));
          cairo_move_to (press->cr, x, base);
          pango_cairo_show_layout_line (press->cr, line);
          cairo_new_path (press->cr);
          if (ink.width > 0)
            bl_press_remember (press, (BlRect) { x, press->y, x + width, press->y + line_height },
                               (BlRect) { x + (double) ink.x / PANGO_SCALE,
                                          base + (double) ink.y / PANGO_SCALE,
                                          x + (double) (ink.x + ink.width) / PANGO_SCALE,
                                          base + (double) (ink.y + ink.height) / PANGO_SCALE });
          press->y += line_height;
        }
      from += fit;
    }
  cairo_tag_end (press->cr, "P");
}

void
bl_press_flow_plain (BlPress *press, BlTypeStyle style, double x, double width, const char *text)
{
  g_autofree char *markup = g_markup_escape_text (text, -1);

  bl_press_flow (press, style, x, width, markup);
}

void
bl_press_subhead (BlPress *press, const char *text)
{
  bl_press_need (press, 70);
  press->y += 8;
  press->y += bl_press_set_plain (press, BL_TYPE_STYLE_SUBHEAD, press->left, press->y,
                                  press->right - press->left, BL_ALIGN_LEFT, 1, text);
  press->y += 4;
}

void
bl_press_rule (BlPress *press, double x0, double x1, double y, double weight)
{
  bl_press_color (press, weight < 0.4 ? bl_press_hair () : bl_press_faint ());
  cairo_set_line_width (press->cr, weight);
  cairo_move_to (press->cr, x0, y);
  cairo_line_to (press->cr, x1, y);
  cairo_stroke (press->cr);
}

void
bl_press_tick_box (BlPress *press, double x, double y, double side)
{
  cairo_rectangle (press->cr, x, y, side, side);
  bl_press_color (press, bl_press_ink ());
  cairo_set_line_width (press->cr, 0.8);
  cairo_stroke (press->cr);
}
