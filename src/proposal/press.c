/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The PDF itself: opening, pages, running titles, closing. */
#include "config.h"

#include "proposal/press.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "proposal/press-type.h"

static const struct
{
  const char *name;
  double width, height; /* points */
} papers[BL_PAPER_N] = {
  [BL_PAPER_LETTER] = { "Letter", 612, 792 },
  [BL_PAPER_TABLOID] = { "Tabloid", 792, 1224 },
  [BL_PAPER_A4] = { "A4", 595.276, 841.890 },
  [BL_PAPER_A3] = { "A3", 841.890, 1190.551 },
};

const char *
bl_paper_name (BlPaperSize size)
{
  return papers[size].name;
}

void
bl_paper_size (BlPaperSize size, double *width, double *height)
{
  *width = papers[size].width;
  *height = papers[size].height;
}

gboolean
bl_paper_from_name (const char *name, BlPaperSize *size)
{
  for (int i = 0; i < BL_PAPER_N; i++)
    if (g_ascii_strcasecmp (name, papers[i].name) == 0)
      {
        *size = (BlPaperSize) i;
        return TRUE;
      }
  return FALSE;
}

BlColor
bl_press_ink (void)
{
  return (BlColor) { 0.13, 0.12, 0.11, 1 };
}

BlColor
bl_press_faint (void)
{
  return (BlColor) { 0.42, 0.40, 0.37, 1 };
}

BlColor
bl_press_accent (void)
{
  return (BlColor) { 0.16, 0.36, 0.33, 1 };
}

static void
set_metadata (cairo_surface_t *surface, const BlPressSetup *setup)
{
  g_autofree char *day = setup->day != 0 ? bl_day_format_iso (setup->day) : NULL;
  g_autofree char *stamp = g_strdup_printf ("%sT12:00:00Z", day != NULL ? day : "2000-01-01");
  struct { cairo_pdf_metadata_t key; const char *value; } texts[] = {
    { CAIRO_PDF_METADATA_TITLE, setup->title }, { CAIRO_PDF_METADATA_AUTHOR, setup->author },
    { CAIRO_PDF_METADATA_SUBJECT, setup->subject },
    { CAIRO_PDF_METADATA_KEYWORDS, setup->keywords },
    { CAIRO_PDF_METADATA_CREATOR, "Bedline" }, { CAIRO_PDF_METADATA_CREATE_DATE, stamp },
    { CAIRO_PDF_METADATA_MOD_DATE, stamp },
  };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    if (texts[i].value != NULL && *texts[i].value != '\0')
      cairo_pdf_surface_set_metadata (surface, texts[i].key, texts[i].value);
}

BlColor
bl_press_hair (void)
{
  return (BlColor) { 0.80, 0.78, 0.74, 1 };
}

/* Sheets larger than Letter and A4 carry the same page enlarged: type grows with the distance from
 * which a large sheet is read. */
static double
zoom_of (BlPaperSize paper)
{
  return paper == BL_PAPER_TABLOID ? 792.0 / 612.0 : paper == BL_PAPER_A3 ? sqrt (2) : 1;
}

static void
lay_out (BlPress *press, gboolean turned)
{
  double w = papers[press->paper].width / press->zoom,
         h = papers[press->paper].height / press->zoom;

  press->width = turned ? h : w;
  press->height = turned ? w : h;
  /* The left margin leaves room for a punched binding; a turned page is bound at its top. */
  press->left = turned ? 44 : 72;
  press->right = press->width - (turned ? 44 : 50);
  press->top = turned ? 84 : 78;
  press->bottom = press->height - (turned ? 58 : 66);
}

static void
mark_clear (gpointer data)
{
  g_free (((BlPressMark *) data)->title);
}

static gboolean
has_svg_ending (const char *path)
{
  g_autofree char *low = g_ascii_strdown (path, -1);

  return g_str_has_suffix (low, ".svg");
}

/* An SVG is begun when its page's size is known, a PDF at once; without a file, it only measures. */
static cairo_surface_t *
open_pdf (const BlPress *press)
{
  double width = papers[press->paper].width, height = papers[press->paper].height;

  if (press->file == NULL || has_svg_ending (press->path))
    return cairo_pdf_surface_create (NULL, width, height);
  return cairo_pdf_surface_create_for_stream (bl_fresh_file_write, press->file, width, height);
}

/* The one page of an SVG. */
static void
open_svg (BlPress *press)
{
  cairo_destroy (press->cr);
  cairo_surface_destroy (press->surface);
  press->surface = cairo_svg_surface_create_for_stream (
      bl_fresh_file_write, press->file, press->width * press->zoom, press->height * press->zoom);
  press->cr = cairo_create (press->surface);
}

BlPress *
bl_press_new (const char *path, const BlPressSetup *setup, GError **error)
{
  BlPress *press = g_new0 (BlPress, 1);

  press->path = g_strdup (path);
  press->file = path != NULL ? bl_fresh_file_new (path) : NULL;
  press->paper = setup->paper;
  press->zoom = zoom_of (setup->paper);
  lay_out (press, FALSE);
  press->running = g_strdup (setup->running);
  press->footer = g_strdup (setup->footer);
  press->n_pages = setup->n_pages;
  press->boxes = setup->boxes != NULL ? g_array_ref (setup->boxes) : NULL;
  press->marks = g_array_new (FALSE, FALSE, sizeof (BlPressMark));
  g_array_set_clear_func (press->marks, mark_clear);
  press->surface = open_pdf (press);
  if ((path != NULL && press->file == NULL)
      || cairo_surface_status (press->surface) != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FAILED,
                   _("“%s” can't be written; choose a folder that exists and that you may write to."),
                   path);
      bl_press_abandon (press);
      return NULL;
    }
  cairo_pdf_surface_restrict_to_version (press->surface, CAIRO_PDF_VERSION_1_5);
  set_metadata (press->surface, setup);
  press->cr = cairo_create (press->surface);
  press->is_svg = path != NULL && has_svg_ending (path);
  return press;
}

BlPress *
bl_press_borrow (cairo_t *cr, double width, double height)
{
  BlPress *press = g_new0 (BlPress, 1);

  press->cr = cairo_reference (cr);
  press->zoom = 1;
  press->width = press->right = width;
  press->height = press->bottom = height;
  return press;
}

gboolean
bl_press_is_dry (const BlPress *press)
{
  return press->surface != NULL && press->file == NULL;
}

static void
press_free (BlPress *press)
{
  g_clear_pointer (&press->cr, cairo_destroy);
  g_clear_pointer (&press->surface, cairo_surface_destroy);
  g_clear_object (&press->cancellable);
  g_clear_pointer (&press->boxes, g_array_unref);
  g_clear_pointer (&press->marks, g_array_unref);
  g_free (press->running);
  g_free (press->footer);
  g_clear_pointer (&press->file, bl_fresh_file_drop);
  g_free (press->path);
  g_free (press);
}

void
bl_press_abandon (BlPress *press)
{
  if (press->surface != NULL)
    cairo_surface_finish (press->surface);
  press_free (press);
}

static void
end_page (BlPress *press)
{
  if (press->page == 0)
    return;
  if (!press->bare)
    {
      g_autofree char *number = press->n_pages > 0
                                    ? g_strdup_printf ("%d / %d", press->page, press->n_pages)
                                    : g_strdup_printf ("%d", press->page);
      double y = press->height - 44;

      bl_press_rule (press, press->left, press->right, 50, 0.4);
      if (press->running != NULL)
        bl_press_set_plain (press, BL_TYPE_STYLE_CAPTION, press->left, 34,
                            press->right - press->left, BL_ALIGN_LEFT, 1, press->running);
      bl_press_set_plain (press, BL_TYPE_STYLE_SMALL, press->right - 60, y, 60, BL_ALIGN_RIGHT, 1,
                          number);
      if (press->footer != NULL)
        bl_press_set_plain (press, BL_TYPE_STYLE_SMALL, press->left, y,
                            press->right - press->left - 70, BL_ALIGN_LEFT, 1, press->footer);
    }
  cairo_show_page (press->cr);
}

/* The page's number in the reader's margin; its name in the outline and in the contents. */
static void
mark_page (BlPress *press, const char *bookmark)
{
  g_autofree char *label = g_strdup_printf ("%d", press->page);
  g_autofree char *link = g_strdup_printf ("page=%d pos=[0 0]", press->page);
  BlPressMark mark = { NULL, press->page };

  cairo_pdf_surface_set_page_label (press->surface, label);
  if (bookmark == NULL)
    return;
  mark.title = g_strdup (bookmark);
  cairo_pdf_surface_add_outline (press->surface, CAIRO_PDF_OUTLINE_ROOT, bookmark, link, 0);
  g_array_append_val (press->marks, mark);
}

static void
begin_page (BlPress *press, const char *bookmark, gboolean bare, gboolean turned)
{
  end_page (press);
  lay_out (press, turned);
  if (press->is_svg && press->page == 0)
    open_svg (press);
  else if (!press->is_svg)
    cairo_pdf_surface_set_size (press->surface, press->width * press->zoom,
                                press->height * press->zoom);
  cairo_identity_matrix (press->cr);
  cairo_scale (press->cr, press->zoom, press->zoom);
  /* Only now: setting the size throws away what was recorded for the page. */
  if (press->page == 0)
    cairo_tag_begin (press->cr, "Document", NULL);
  press->page++;
  press->bare = bare;
  press->y = press->top;
  if (!press->is_svg)
    mark_page (press, bookmark);
}

static void
set_heading (BlPress *press, const char *heading)
{
  if (heading == NULL)
    return;
  cairo_tag_begin (press->cr, "H1", NULL);
  press->y += bl_press_set_plain (press, BL_TYPE_STYLE_HEADING, press->left, press->y,
                                  press->right - press->left, BL_ALIGN_LEFT, 2, heading);
  cairo_tag_end (press->cr, "H1");
  press->y += 10;
}

void
bl_press_page (BlPress *press, const char *bookmark, const char *heading)
{
  begin_page (press, bookmark, FALSE, FALSE);
  set_heading (press, heading);
}

void
bl_press_turned_page (BlPress *press, const char *bookmark, const char *heading)
{
  begin_page (press, bookmark, FALSE, TRUE);
  set_heading (press, heading);
}

int
bl_press_mark_page (const GArray *marks, const char *title)
{
  for (guint i = 0; marks != NULL && i < marks->len; i++)
    if (strcmp (g_array_index (marks, BlPressMark, i).title, title) == 0)
      return g_array_index (marks, BlPressMark, i).page;
  return 0;
}

void
bl_press_link (BlPress *press, BlRect box, int page)
{
  double x = box.x0, y = box.y0, w = box.x1 - box.x0, h = box.y1 - box.y0;
  g_autofree char *link = NULL;

  if (page < 1 || bl_press_is_dry (press))
    return;
  cairo_user_to_device (press->cr, &x, &y);
  cairo_user_to_device_distance (press->cr, &w, &h);
  link = g_strdup_printf ("rect=[%d %d %d %d] page=%d pos=[0 0]", (int)x, (int)y, (int)w, (int)h,
                          page);
  cairo_tag_begin (press->cr, CAIRO_TAG_LINK, link);
  cairo_tag_end (press->cr, CAIRO_TAG_LINK);
}

void
bl_press_bare_page (BlPress *press, const char *bookmark)
{
  begin_page (press, bookmark, TRUE, FALSE);
}

double
bl_press_room (const BlPress *press)
{
  return press->bottom - press->y;
}

gboolean
bl_press_need (BlPress *press, double points)
{
  if (bl_press_room (press) >= points)
    return FALSE;
  begin_page (press, NULL, FALSE, FALSE);
  return TRUE;
}

gboolean
bl_press_go_on (BlPress *press, double share, GError **error)
{
  if (press->progress != NULL)
    press->progress (share, press->progress_data);
  if (press->cancellable == NULL || !g_cancellable_is_cancelled (press->cancellable))
    return TRUE;
  g_set_error (error, BL_ERROR, BL_ERROR_CANCELLED, _("Cancelled; no file was written."));
  return FALSE;
}

gboolean
bl_press_finish (BlPress *press, GError **error)
{
  cairo_status_t status;
  gboolean done;

  end_page (press);
  if (press->page > 0)
    cairo_tag_end (press->cr, "Document");
  status = cairo_status (press->cr);
  cairo_surface_finish (press->surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (press->surface);
  if (status == CAIRO_STATUS_SUCCESS && press->file != NULL)
    status = bl_fresh_file_close (press->file);
  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_FAILED,
                   _("“%s” could not be written (%s); check that the disk has room."), press->path,
                   cairo_status_to_string (status));
      bl_press_abandon (press);
      return FALSE;
    }
  done = press->file == NULL || bl_fresh_file_keep (g_steal_pointer (&press->file));
  if (!done)
    g_set_error (error, BL_ERROR, BL_ERROR_FAILED,
                 _("“%s” can't be replaced; close it elsewhere or choose another name."),
                 press->path);
  press_free (press);
  return done;
}
