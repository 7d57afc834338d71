/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text and size holds on any paper; lines measure what the stated scale says. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "papers.h"
#include "proposal/scale.h"

/* Ink of different things must not meet; italics and marks may touch by less than this. */
#define TOUCH 1.3

static char *
any_words (BlRng *rng, guint most)
{
  static const char *const pieces[] = {
    "strip", "Ñandú",    "árbol",
    "🌻",     "×",        "Donaudampfschifffahrtsgesellschaftskapitaensmuetze",
    "—",     "½",        "a & b <i>",
    "the",   "walk",     "日本語",
    "of",    "“quoted”", "12′ 6″",
    "x",     "library",  "Łódź",
    "fünf",
  };
  GString *text = g_string_new ("w");
  guint n = bl_rng_int (rng, most) + 1;

  for (guint i = 0; i < n; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? " " : "",
                            pieces[bl_rng_int (rng, G_N_ELEMENTS (pieces))]);
  return g_string_free (text, FALSE);
}

static gboolean
meet (BlRect a, BlRect b)
{
  return a.x0 + TOUCH < b.x1 && b.x0 + TOUCH < a.x1 && a.y0 + TOUCH < b.y1 && b.y0 + TOUCH < a.y1;
}

/* The margins of press.c: punched on the left, or on top where the page lies on its side; a picture may
 * run from edge to edge of the sheet. */
static void
check_place (const BlPressBox *box)
{
  gboolean turned = box->width > box->height;
  gboolean bleeds = box->ink.x0 == 0 && fabs (box->ink.x1 - box->width) < 0.01;

  g_assert_cmpfloat (box->ink.x0, >=, box->box.x0 - 4);
  g_assert_cmpfloat (box->ink.x1, <=, box->box.x1 + 4);
  g_assert_cmpfloat (box->ink.y0, >=, box->box.y0 - 2);
  g_assert_cmpfloat (box->ink.y1, <=, box->box.y1 + 4);
  g_assert_cmpfloat (box->ink.y1, <=, box->height - 28);
  if (bleeds)
    return;
  g_assert_cmpfloat (box->ink.x0, >=, (turned ? 44 : 72) - 4);
  g_assert_cmpfloat (box->ink.y0, >=, 28);
  g_assert_cmpfloat (box->ink.x1, <=, box->width - (turned ? 44 : 50) + 4);
}

/* Ink lies on the page within its margins and in its own box, and on no other ink. */
static void
check_boxes (const GArray *boxes)
{
  g_assert_cmpuint (boxes->len, >, 5);
  for (guint i = 0; i < boxes->len; i++)
    {
      const BlPressBox *box = &g_array_index (boxes, BlPressBox, i);

      check_place (box);
      for (guint k = i + 1; k < boxes->len; k++)
        {
          const BlPressBox *other = &g_array_index (boxes, BlPressBox, k);

          if (other->page == box->page && meet (box->ink, other->ink))
            g_error ("page %d: ink %.1f,%.1f–%.1f,%.1f meets %.1f,%.1f–%.1f,%.1f", box->page,
                     box->ink.x0, box->ink.y0, box->ink.x1, box->ink.y1, other->ink.x0,
                     other->ink.y0, other->ink.x1, other->ink.y1);
        }
    }
}

/* What is known of a page from what was set on it. */
static gboolean
find_page (const GArray *boxes, int page, double *width, double *height, gboolean *bleeds)
{
  *width = *height = 0;
  *bleeds = FALSE;
  for (guint i = 0; i < boxes->len; i++)
    {
      const BlPressBox *box = &g_array_index (boxes, BlPressBox, i);

      if (box->page != page)
        continue;
      *width = box->width;
      *height = box->height;
      *bleeds |= box->ink.x0 == 0;
    }
  return *width > 0;
}

/* The pages as poppler paints them: whatever was drawn, told of or not, no dark point lies in the
 * margins. */
static void
check_margins (const char *path, const GArray *boxes)
{
  double width, height;
  gboolean bleeds;

  for (int page = 1; find_page (boxes, page, &width, &height, &bleeds); page++)
    {
      gboolean turned = width > height;
      double left = (turned ? 44 : 72) - 5, right = width - (turned ? 44 : 50) + 5;
      PapersRaster raster = papers_raster (path, page, 50);
      double k = raster.width / width;
      guint dark = 0;

      g_assert_cmpfloat (fabs (raster.height / k - height), <, 3);
      for (int y = 0; y < raster.height && !bleeds; y++)
        for (int x = 0; x < raster.width; x++)
          {
            gboolean outside
                = x < left * k || x > right * k || y < 27 * k || y > (height - 27) * k;

            dark += papers_dark (&raster, x, y);
            if (outside && papers_dark (&raster, x, y))
              g_error ("page %d of %s: ink in the margin at %.0f, %.0f points", page, path, x / k,
                       y / k);
          }
      g_assert_true (bleeds || dark > 50);
      g_free (raster.data);
    }
}

static void
write_all (const PapersWish *wish, BlPaperSize paper, const char *language, gboolean detailed)
{
  g_autoptr (BlDesign) design = papers_design (wish);
  BlModel *model = bl_design_get_model (design);

  for (int kind = 0; kind < 3; kind++)
    {
      BlProposalOptions options = papers_options ();
      g_autoptr (GArray) boxes = g_array_new (FALSE, FALSE, sizeof (BlPressBox));
      g_autoptr (GError) error = NULL;
      g_autofree char *path = papers_file ("holds.pdf");
      gboolean done;

      options.paper = paper;
      options.language = language;
      options.detailed = detailed;
      options.boxes = boxes;
      if (kind == 1 && wish->n_kinds == 0)
        continue;
      done = kind == 0   ? bl_proposal_write (model, NULL, path, &options, &error)
             : kind == 1 ? bl_crew_write (model, NULL, path, &options, &error)
                         : bl_care_sheet_write (model, path, &options, &error);
      g_assert_no_error (error);
      g_assert_true (done);
      check_boxes (boxes);
      if (paper == BL_PAPER_LETTER || kind > 0)
        check_margins (path, boxes);
      if (kind == 2)
        {
          g_autofree char *pages = papers_info (path, "Pages");

          g_assert_cmpstr (pages, ==, "1");
        }
    }
}

static const PapersWish plain = {
  .title = "A bed",
  .client = "A client",
  .place = "A place",
  .designer = "A designer",
  .notes = "",
  .idea = "An idea.",
  .alternative_prefix = "",
  .units = BL_UNITS_FEET,
  .n_alternatives = 1,
  .n_kinds = 3,
  .length = 8,
  .depth = 3,
  .features = TRUE,
};

static void
test_few_and_many (void)
{
  PapersWish wish = plain;

  wish.n_kinds = 1;
  write_all (&wish, BL_PAPER_LETTER, "en", TRUE);
  wish.n_kinds = 40;
  wish.length = 60;
  wish.n_alternatives = 3;
  write_all (&wish, BL_PAPER_A4, "es", TRUE);
  write_all (&wish, BL_PAPER_TABLOID, "en", FALSE);
}

static void
test_empty_alternative (void)
{
  PapersWish wish = plain;

  wish.n_kinds = 0;
  wish.features = FALSE;
  wish.client = wish.place = wish.designer = wish.idea = "";
  write_all (&wish, BL_PAPER_LETTER, "en", FALSE);
}

static void
test_for_nothing (void)
{
  PapersWish wish = plain;

  wish.free_of_charge = TRUE;
  wish.units = BL_UNITS_METRES;
  write_all (&wish, BL_PAPER_A4, "en", TRUE);
}

static void
test_any_words (void)
{
  BlRng rng = bl_rng (8);

  for (int trial = 0; trial < 8; trial++)
    {
      g_autofree char *title = any_words (&rng, 16);
      g_autofree char *client = any_words (&rng, 12);
      g_autofree char *place = any_words (&rng, 9);
      g_autofree char *designer = any_words (&rng, 20);
      g_autofree char *notes = any_words (&rng, 120);
      g_autofree char *idea = any_words (&rng, 90);
      g_autofree char *prefix = any_words (&rng, 6);
      PapersWish wish = { title, client, place, designer, notes, idea, prefix };

      wish.units = trial % 2 == 0 ? BL_UNITS_FEET : BL_UNITS_METRES;
      wish.n_alternatives = 1 + bl_rng_int (&rng, 3);
      wish.n_kinds = 1 + bl_rng_int (&rng, 18);
      wish.length = bl_rng_range (&rng, 2, 30);
      wish.depth = bl_rng_range (&rng, 1, 12);
      wish.features = trial % 3 != 0;
      write_all (&wish, (BlPaperSize)(trial % BL_PAPER_N), trial % 4 < 2 ? "en" : "es",
                 trial % 2 == 0);
    }
}

/* The first dark run in row @y from @x on; FALSE at the page's end. */
static gboolean
next_run (const PapersRaster *raster, int y, int *x, int *end)
{
  while (*x < raster->width && !papers_dark (raster, *x, y))
    (*x)++;
  *end = *x;
  while (*end < raster->width && papers_dark (raster, *end, y))
    (*end)++;
  return *x < raster->width;
}

/* A row through the scale bar's middle: black, white, black, white, each as long as the first. */
static gboolean
bar_at (const PapersRaster *raster, int y, int *from, int *third)
{
  int x = 0, end, second, second_end;

  if (!next_run (raster, y, &x, &end) || end - x < 100)
    return FALSE;
  *from = x;
  second = end;
  if (!next_run (raster, y, &second, &second_end) || abs ((second_end - second) - (end - x)) > 6)
    return FALSE;
  *third = second;
  return abs ((second - x) - 2 * (end - x)) <= 12;
}

/* A design whose bed is 10 ft (3 m) wide, on the crew's plan: the bar and the bed's very edges must
 * measure that at the stated scale. 0.2 mm is the figure asked for; at 600 dots an inch a dot is
 * 0.042 mm. */
static void
measure (BlUnits units, double feet_or_metres, const char *stated, double ratio)
{
  const int dpi = 600;
  double metres = units == BL_UNITS_FEET ? feet_or_metres * 0.3048 : feet_or_metres;
  double wanted = metres / ratio / 0.0254 * dpi, slack = 0.2 / 25.4 * dpi;
  PapersWish wish = plain;
  BlProposalOptions options = papers_options ();
  g_autoptr (BlDesign) design = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = papers_file ("scale.pdf");
  g_autofree char *text = NULL;
  PapersRaster raster;
  int from = 0, third = 0, y, found = 0;

  wish.units = units;
  wish.length = metres;
  wish.depth = metres * 0.5;
  wish.n_kinds = 1;
  wish.features = FALSE;
  design = papers_design (&wish);
  g_assert_true (bl_crew_write (bl_design_get_model (design), NULL, path, &options, &error));
  g_assert_no_error (error);
  text = papers_text (path, 1, 1);
  if (strstr (text, stated) == NULL)
    g_error ("the plan does not state %s:\n%s", stated, text);
  raster = papers_raster (path, 1, dpi);
  for (y = raster.height - 1; y > 0 && !bar_at (&raster, y, &from, &third); y--)
    ;
  g_assert_cmpint (y, >, 0);
  {
    /* How many of its units a block stands for is the figure below the block's end. */
    double block = (third - from) / 2.0, unit = units == BL_UNITS_FEET ? 0.3048 : 1;
    double blocks = metres / (block / dpi * 0.0254 * ratio);
    double step = block / dpi * 0.0254 * ratio / unit;

    g_assert_cmpfloat (fabs (block * blocks - wanted), <, slack);
    /* The step is a round number, or the bar would say something else than its figures. */
    g_assert_cmpfloat (fabs (step - round (step * 10) / 10), <, 0.02);
  }
  /* The bed's left and right edges: the outermost strokes in rows across its upper part. */
  for (y = 0; y < raster.height && found < 20; y++)
    {
      int x = 0, end, first = -1, last = -1, last_end = -1;

      while (next_run (&raster, y, &x, &end))
        {
          if (end - x <= 16 && end - x >= 2)
            {
              first = first < 0 ? x : first;
              last = x;
              last_end = end;
            }
          x = end;
        }
      if (first >= 0 && fabs ((last + last_end) / 2.0 - first - 3 - wanted) < slack + 4)
        found++;
    }
  g_assert_cmpint (found, ==, 20);
  g_free (raster.data);
}

static void
test_true_scale (void)
{
  measure (BL_UNITS_FEET, 10, "1/2″ = 1′-0″", 24);
  measure (BL_UNITS_FEET, 30, "1/4″ = 1′-0″", 48);
  measure (BL_UNITS_METRES, 10, "1:50", 50);
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/proposal/holds/few-and-many", test_few_and_many);
  g_test_add_func ("/proposal/holds/empty", test_empty_alternative);
  g_test_add_func ("/proposal/holds/for-nothing", test_for_nothing);
  g_test_add_func ("/proposal/holds/any-words", test_any_words);
  g_test_add_func ("/proposal/holds/true-scale", test_true_scale);
  status = g_test_run ();
  bl_library_free (papers_library ());
  return status;
}
