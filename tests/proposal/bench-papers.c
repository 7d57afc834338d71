/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long the demo's proposal takes: twelve pages with three pictures on the photo, beside a floor
 * of as many plain pages with the photo's JPEG placed three times; and the memory that papers of many
 * plants take. */
#include <cairo-pdf.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "../bench/bench.h"
#include "papers.h"

#define RUNS 5
#define MOST_BYTES (6.0 * 1024 * 1024)
#define MOST_GROWTH 1.5 /* memory for 5,000 plants over that for 50 */

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

/* A bed filled with about @plants small ones. */
static BlDesign *
filled (guint plants)
{
  PapersWish wish
      = { "A bed", "", "A place", "", "", "", "", BL_UNITS_FEET, 1, 1, 0, 0, FALSE, TRUE };

  wish.fill = "carex-pensylvanica";
  wish.length = wish.depth = sqrt (plants * 0.3 * 0.3 * 0.87);
  return papers_design (&wish);
}

typedef struct
{
  double seconds, megabytes; /* of the processor; highest resident, of the whole process */
  double size;
} Cost;

/* In a process of its own, whose highest memory is its own. @crew: the crew pack, else the proposal;
 * without plants: only the design. */
static Cost
cost_of (guint plants, gboolean crew, gboolean write)
{
  g_autofree char *path = papers_file ("filled.pdf");
  struct rusage usage;
  int status;
  pid_t child = fork ();

  if (child == 0)
    {
      g_autoptr (BlDesign) design = filled (plants);
      BlProposalOptions options = papers_options ();
      g_autoptr (GError) error = NULL;
      BlModel *model = bl_design_get_model (design);

      if (write && !(crew ? bl_crew_write (model, NULL, path, &options, &error)
                          : bl_proposal_write (model, NULL, path, &options, &error)))
        g_error ("%s", error->message);
      _exit (0);
    }
  if (child < 0 || wait4 (child, &status, 0, &usage) != child || status != 0)
    g_error ("a measured process failed");
  return (Cost) { (double) usage.ru_utime.tv_sec + (double) usage.ru_utime.tv_usec / 1e6,
                  (double) usage.ru_maxrss / 1024, size_of (path) / 1048576 };
}

/* What writing takes beside what the design itself does. Returns the memory of the largest over that of
 * the smallest; @times is the time for 5,000 plants over that for 500. */
static double
measure_growth (gboolean crew, double *times)
{
  static const guint sizes[] = { 50, 500, 5000 };
  double least = 0, most = 0, before = 0;

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      Cost bare = cost_of (sizes[i], crew, FALSE), whole = cost_of (sizes[i], crew, TRUE);
      double grown = whole.megabytes - bare.megabytes;

      printf ("%s of about %u plants: %.2f s, %.1f MB on disk, %.0f MB of memory, %.0f of it for the "
              "paper\n",
              crew ? "crew pack" : "proposal", sizes[i], whole.seconds - bare.seconds, whole.size,
              whole.megabytes, grown);
      *times = (whole.seconds - bare.seconds) / before;
      before = whole.seconds - bare.seconds;
      least = i == 0 ? whole.megabytes : least;
      most = whole.megabytes;
    }
  return most / least;
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
  double best = INFINITY, floor_best = INFINITY, growth, crew_growth, times, crew_times;

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
  growth = measure_growth (FALSE, &times);
  crew_growth = measure_growth (TRUE, &crew_times);
  printf ("memory for 5,000 plants over that for 50: proposal %.2f, crew pack %.2f\n", growth,
          crew_growth);
  bench_row ("proposal as PDF, three pictures", best * 1000, floor_best * 1000, best * 1000 * times,
             "growth: the time for 5,000 over that for 500 plants in another design; floor: as many plain "
             "pages with the photo");
  return size_of (path) <= MOST_BYTES && atoi (pages) >= 12 && growth <= MOST_GROWTH
                 && crew_growth <= MOST_GROWTH
             ? 0 : 1;
}
