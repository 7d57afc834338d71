/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole pictures of a scene: PNG, SVG and PDF. */
#include "config.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <glib/gi18n-lib.h>
#include <pango/pangocairo.h>
#include <string.h>

#include "base/error.h"
#include "base/units.h"
#include "draw/fresh-file.h"
#include "draw/scene-private.h"

typedef enum { OUT_PNG, OUT_SVG, OUT_PDF } OutKind;

static gboolean
kind_of (const char *path, OutKind *kind, GError **error)
{
  static const char *const suffixes[] = { ".png", ".svg", ".pdf" };
  g_autofree char *low = g_ascii_strdown (path, -1);

  for (int i = 0; i < 3; i++)
    if (g_str_has_suffix (low, suffixes[i]))
      {
        *kind = (OutKind) i;
        return TRUE;
      }
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
               _("“%s” has no ending that says what to write; end the name in .png, .svg or .pdf."),
                 path);
  return FALSE;
}

typedef struct
{
  double width, height; /* pixels or points */
  double k;             /* of those, a document unit */
  double margin, foot;
} Page;

static Page
page_for (const BlScene *scene, int width)
{
  double w = MAX (1e-6, scene->extent.x1 - scene->extent.x0),
    h = MAX (1e-6, scene->extent.y1 - scene->extent.y0);
  Page page = { .width = width };

  if (scene->view == BL_VIEW_PLAN)
    page.margin = width * 0.03, page.foot = width * 0.055;
  page.k = (width - 2 * page.margin) / w;
  page.height = ceil (h * page.k + 2 * page.margin + page.foot);
  return page;
}

int
bl_scene_export_fit (const BlScene *scene, double width, double height)
{
  Page page = page_for (scene, 1000);

  /* Heights are rounded up. */
  return (int) floor (MIN (width, (height - 1) * 1000 / page.height));
}

static void
write_text (cairo_t *cr, double x, double y, double size, double align, const char *text)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  PangoFontDescription *font = pango_font_description_from_string ("Lato");
  int w, h;

  pango_font_description_set_absolute_size (font, size * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_text (layout, text, -1);
  pango_layout_get_pixel_size (layout, &w, &h);
  cairo_move_to (cr, x - align * w, y - h / 2.0);
  pango_cairo_show_layout (cr, layout);
  pango_font_description_free (font);
  g_object_unref (layout);
}

/* Alternating blocks of a round length, in the design's units. */
static void
scale_bar (cairo_t *cr, const BlScene *scene, const Page *page)
{
  static const double rounds[] = { 0.5, 1, 2, 5, 10, 20, 50, 100 };
  gboolean feet = scene->model->units == BL_UNITS_FEET;
  double unit = feet ? BL_METRES_PER_FOOT : 1, step = rounds[0], size = page->foot * 0.24;
  double x = page->margin, y = page->height - page->foot * 0.62, h = page->foot * 0.10;

  for (guint i = 0; i < G_N_ELEMENTS (rounds) && step * unit * page->k < page->width * 0.045; i++)
    step = rounds[i];
  cairo_set_source_rgb (cr, 0.17, 0.19, 0.17);
  cairo_set_line_width (cr, MAX (0.6, h * 0.12));
  for (int i = 0; i < 4; i++)
    {
      g_autofree char *number = g_strdup_printf ("%g%s", i * step, "");

      cairo_rectangle (cr, x + i * step * unit * page->k, y, step * unit * page->k, h);
      if (i % 2 == 0)
        cairo_fill_preserve (cr);
      cairo_stroke (cr);
      write_text (cr, x + i * step * unit * page->k, y + h + size * 0.9, size, 0.5, number);
    }
  {
    g_autofree char *last = g_strdup_printf ("%g %s", 4 * step, feet ? "ft" : "m");

    write_text (cr, x + 4 * step * unit * page->k, y + h + size * 0.9, size, 0.35, last);
  }
}

static void
north_arrow (cairo_t *cr, const BlScene *scene, const Page *page)
{
  double north = scene->model->site.north, r = page->foot * 0.36;

  if (!isfinite (north))
    return;
  cairo_save (cr);
  cairo_translate (cr, page->width - page->margin - r, page->height - page->foot * 0.55);
  cairo_rotate (cr, north * G_PI / 180);
  cairo_set_source_rgb (cr, 0.17, 0.19, 0.17);
  cairo_set_line_width (cr, MAX (0.7, r * 0.05));
  cairo_new_path (cr);
  cairo_arc (cr, 0, 0, r * 0.62, 0, 2 * G_PI);
  cairo_stroke (cr);
  cairo_move_to (cr, 0, -r);
  cairo_line_to (cr, r * 0.30, r * 0.48);
  cairo_line_to (cr, 0, r * 0.26);
  cairo_close_path (cr);
  cairo_fill (cr);
  cairo_move_to (cr, 0, -r);
  cairo_line_to (cr, -r * 0.30, r * 0.48);
  cairo_line_to (cr, 0, r * 0.26);
  cairo_close_path (cr);
  cairo_stroke (cr);
  write_text (cr, 0, -r * 1.32, r * 0.62, 0.5, "N");
  cairo_restore (cr);
}

static gboolean
draw_page (const BlScene *scene, cairo_t *cr, const Page *page, double dpi_scale,
           const BlPaintOptions *options,
           GCancellable *cancellable, GError **error)
{
  gboolean plan = scene->view == BL_VIEW_PLAN, ok;

  if (plan)
    {
      if (scene->options & BL_SCENE_MONOCHROME)
        cairo_set_source_rgb (cr, 1, 1, 1);
      else
        cairo_set_source_rgb (cr, 0.980, 0.972, 0.949);
      cairo_paint (cr);
    }
  cairo_save (cr);
  cairo_rectangle (cr, page->margin, page->margin, page->width - 2 * page->margin,
                   page->height - 2 * page->margin - page->foot);
  cairo_clip (cr);
  cairo_translate (cr, page->margin, page->margin);
  cairo_scale (cr, page->k, page->k);
  cairo_translate (cr, -scene->extent.x0, plan ? scene->extent.y1 : -scene->extent.y0);
  ok = bl_scene_paint (scene, cr, scene->extent, page->k * dpi_scale, options, cancellable, error);
  cairo_restore (cr);
  if (ok && plan)
    {
      scale_bar (cr, scene, page);
      north_arrow (cr, scene, page);
    }
  return ok;
}

static gboolean
check_surface (cairo_status_t status, const char *path, GError **error)
{
  if (status == CAIRO_STATUS_SUCCESS)
    return TRUE;
  g_set_error (error, BL_ERROR, status == CAIRO_STATUS_NO_MEMORY ? BL_ERROR_FAILED : BL_ERROR_FILE,
               _("“%s” can't be written (%s); check the folder and the space left, "
               "or choose a smaller width."), path,
               cairo_status_to_string (status));
  return FALSE;
}

static cairo_surface_t *
surface_on (BlFreshFile *file, OutKind kind, const Page *page)
{
  if (kind == OUT_SVG)
    return cairo_svg_surface_create_for_stream (bl_fresh_file_write, file, page->width, page->height);
  if (kind == OUT_PDF)
    return cairo_pdf_surface_create_for_stream (bl_fresh_file_write, file, page->width, page->height);
  return cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) page->width, (int) page->height);
}

/* What is drawn, into @file, which is closed. */
static cairo_status_t
put_down (cairo_surface_t *surface, OutKind kind, BlFreshFile *file)
{
  cairo_status_t status;

  if (kind == OUT_PNG)
    status = cairo_surface_write_to_png_stream (surface, bl_fresh_file_write, file);
  else
    {
      cairo_surface_finish (surface);
      status = cairo_surface_status (surface);
    }
  return status == CAIRO_STATUS_SUCCESS ? bl_fresh_file_close (file) : status;
}

static gboolean
export_to (const BlScene *scene, const char *path, OutKind kind, const Page *page,
           GCancellable *cancellable, GError **error)
{
  BlPaintOptions options = { .vector = kind != OUT_PNG };
  g_autoptr (GBytes) jpeg = NULL;
  g_autoptr (BlFreshFile) file = NULL;
  cairo_surface_t *surface;
  gboolean ok;
  cairo_t *cr;

  if (kind != OUT_PNG && scene->photo != NULL)
    {
      jpeg = bl_image_to_jpeg (scene->photo, MAX (scene->photo->width, scene->photo->height), 90,
                               NULL, NULL, error);
      if (jpeg == NULL)
        return FALSE;
      options.jpeg = jpeg;
    }
  file = bl_fresh_file_new (path);
  if (file == NULL)
    return check_surface (CAIRO_STATUS_WRITE_ERROR, path, error);
  surface = surface_on (file, kind, page);
  cr = cairo_create (surface);
  ok = check_surface (cairo_status (cr), path, error) &&
       draw_page (scene, cr, page, kind == OUT_PNG ? 1 : 300.0 / 72.0, &options, cancellable,
                  error);
  cairo_destroy (cr);
  ok = ok && check_surface (put_down (surface, kind, file), path, error);
  cairo_surface_finish (surface);
  bl_paint_forget_vectors (surface);
  cairo_surface_destroy (surface);
  return ok && (bl_fresh_file_keep (g_steal_pointer (&file))
                || check_surface (CAIRO_STATUS_WRITE_ERROR, path, error));
}

gboolean
bl_scene_export (const BlScene *scene, const char *path, int width, GCancellable *cancellable,
                 GError **error)
{
  OutKind kind;
  Page page;

  g_return_val_if_fail (scene != NULL && path != NULL, FALSE);
  if (!kind_of (path, &kind, error))
    return FALSE;
  if (width < 16 || width > 16384)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("a picture %d wide can't be drawn; choose a width from 16 to 16384."), width);
      return FALSE;
    }
  page = page_for (scene, width);
  if (page.height > 30000)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                   _("the picture would be %.0f high; choose a smaller width."), page.height);
      return FALSE;
    }
  return export_to (scene, path, kind, &page, cancellable, error);
}
