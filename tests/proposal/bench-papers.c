/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long the demo's proposal takes: twelve pages with three pictures on the photo, beside a floor
 * of as many plain pages with the photo's JPEG placed three times; and crew packs of many plants.
 */
#include <cairo-pdf.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

#include "papers.h"

#define RUNS 5
#define MOST_SECONDS 1.5
#define MOST_BYTES (6.0 * 1024 * 1024)

/* Of the processor: other work on the machine does not count. */
static gint64
now (void)
{
  struct timespec t;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &t);
  return (gint64) t.tv_sec * 1000000 + t.tv_nsec / 1000;
}

static double
seconds_since (gint64 start)
{
  return (double) (now () - start) / 1e6;
}

static double
size_of (const char *path)
{
  GStatBuf buf;

  return g_stat (path, &buf) == 0 ? (double) buf.st_size : NAN;
}

static double
proposal (BlDesign *design, GBytes *photo, const char *path)
{
  BlProposalOptions options = papers_options ();
  g_autoptr (GError) error = NULL;
  gint64 start = now ();

  options.pages = BL_PAGE_PLACE | BL_PAGE_ALTERNATIVES | BL_PAGE_SCHEDULE | BL_PAGE_ESTIMATE
                  | BL_PAGE_CARE | BL_PAGE_CAUTIONS;
  if (!bl_proposal_write (bl_design_get_model (design), photo, path, &options, &error))
    g_error ("%s", error->message);
  return seconds_since (start);
}

/* The same number of pages with nothing to do but decode the photo and place it. */
static double
floor_pages (GBytes *photo, const char *path, int pages)
{
  gint64 start = now ();
  g_autoptr (GError) error = NULL;
  g_autoptr (BlImage) image = bl_image_decode (photo, NULL, &error);
  int width, height;
  g_autoptr (GBytes) jpeg = bl_image_to_jpeg (image, 1360, 88, &width, &height, &error);
  cairo_surface_t *pdf = cairo_pdf_surface_create (path, 612, 792);
  cairo_t *cr = cairo_create (pdf);

  for (int i = 0; i < pages; i++)
    {
      cairo_surface_t *picture = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);

      cairo_surface_set_mime_data (picture, CAIRO_MIME_TYPE_JPEG, g_bytes_get_data (jpeg, NULL),
                                   g_bytes_get_size (jpeg), NULL, NULL);
      cairo_save (cr);
      cairo_scale (cr, 490.0 / width, 490.0 / width);
      cairo_set_source_surface (cr, picture, 0, 0);
      if (i < 3)
        cairo_paint (cr);
      cairo_restore (cr);
      cairo_show_page (cr);
      cairo_surface_destroy (picture);
    }
  cairo_destroy (cr);
  cairo_surface_finish (pdf);
  cairo_surface_destroy (pdf);
  return seconds_since (start);
}

static double
resident_megabytes (void)
{
  struct rusage usage;

  getrusage (RUSAGE_SELF, &usage);
  return usage.ru_maxrss / 1024.0;
}

/* A fill of small plants in a bed of the size for about @plants. */
static void
crew_of (guint plants)
{
  PapersWish wish
      = { "A bed", "", "A place", "", "", "", "", BL_UNITS_FEET, 1, 1, 0, 0, FALSE, TRUE };
  g_autoptr (BlDesign) design = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = papers_file ("crew.pdf");
  BlProposalOptions options = papers_options ();
  double before = resident_megabytes ();
  gint64 start;

  wish.fill = "carex-pensylvanica";
  wish.length = wish.depth = sqrt (plants * 0.3 * 0.3 * 0.87);
  design = papers_design (&wish);
  start = now ();
  if (!bl_crew_write (bl_design_get_model (design), NULL, path, &options, &error))
    g_error ("%s", error->message);
  printf ("crew pack of about %u plants: %.2f s, %.1f MB, memory grew by %.0f MB\n", plants,
          seconds_since (start), size_of (path) / 1048576, resident_megabytes () - before);
}

int
main (int argc, char **argv)
{
  g_autoptr (BlDesign) design = papers_demo (argc > 1 ? argv[1] : ".");
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) photo = bl_design_photo_bytes (design, &error);
  g_autofree char *path = papers_file ("proposal.pdf");
  g_autofree char *plain = papers_file ("plain.pdf");
  g_autofree char *pages = NULL;
  double best = INFINITY, floor_best = INFINITY;

  for (int i = 0; i < RUNS; i++)
    {
      best = fmin (best, proposal (design, photo, path));
      if (pages == NULL)
        pages = papers_info (path, "Pages");
      floor_best = fmin (floor_best, floor_pages (photo, plain, atoi (pages)));
    }
  printf ("proposal of %s pages with three pictures: %.2f s, %.2f MB; floor of plain pages %.2f s; "
          "ratio %.1f\n",
          pages, best, size_of (path) / 1048576, floor_best, best / floor_best);
  crew_of (500);
  crew_of (5000);
  return best <= MOST_SECONDS && size_of (path) <= MOST_BYTES && atoi (pages) >= 12 ? 0 : 1;
}
