/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The papers read back: sound files, fonts in them, text to be searched, numbers of the engine. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "../draw/small-disk.h"
#include "base/error.h"
#include "care/care.h"
#include "draw/key.h"
#include "papers.h"
#include "proposal/scale.h"
#include "proposal/setout.h"
#include "proposal/months.h"
#include "takeoff/estimate.h"

static const char *source_root;
static BlDesign *demo;
static GBytes *demo_photo;

static char *
write_demo (const char *kind, const BlProposalOptions *options)
{
  char *path = papers_file (kind);
  BlModel *model = bl_design_get_model (demo);
  g_autoptr (GError) error = NULL;
  gboolean done = g_str_has_prefix (kind, "crew")
                      ? bl_crew_write (model, demo_photo, path, options, &error)
                  : g_str_has_prefix (kind, "care")
                      ? bl_care_sheet_write (model, path, options, &error)
                      : bl_proposal_write (model, demo_photo, path, options, &error);

  g_assert_no_error (error);
  g_assert_true (done);
  return path;
}

static void
check_sound (const char *path)
{
  const char *qpdf[] = { "qpdf", "--check", path, NULL };
  const char *fonts[] = { "pdffonts", path, NULL };
  int status;
  g_autofree char *said = papers_run (qpdf, &status);
  g_auto (GStrv) lines = NULL;
  g_autofree char *listed = NULL;

  /* qpdf ends with 0 when there is neither error nor warning, 3 for warnings. */
  g_assert_cmpint (status, ==, 0);
  g_assert_null (strstr (said, "WARNING"));
  listed = papers_run (fonts, &status);
  lines = g_strsplit (g_strchomp (listed), "\n", -1);
  g_assert_cmpuint (g_strv_length (lines), >=, 4);
  /* "ABCDEF+Lato-Regular  TrueType  WinAnsi  yes yes yes": six letters before + mark a subset
   * (PDF 32000-1, 9.6.4); then embedded, subset, with a table to Unicode. A Type 3 font (emoji of
   * colour) has no name and is in the file by its nature. */
  for (guint i = 2; lines[i] != NULL; i++)
    {
      if (strstr (lines[i], "Type 3") != NULL)
        continue;
      g_assert_true (g_regex_match_simple ("^[A-Z]{6}\\+\\S+", lines[i], 0, 0));
      g_assert_true (g_regex_match_simple ("yes +yes +yes", lines[i], 0, 0));
    }
}

static void
assert_has (const char *text, const char *wanted)
{
  if (strstr (text, wanted) == NULL)
    g_error ("“%s” is not on the paper", wanted);
}

static void
assert_matches (const char *text, const char *pattern)
{
  if (!g_regex_match_simple (pattern, text, G_REGEX_MULTILINE, 0))
    g_error ("nothing on the paper looks like %s", pattern);
}

static void
test_sound_files (void)
{
  static const char *const kinds[] = { "proposal.pdf", "crew.pdf", "care.pdf" };

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    for (int spanish = 0; spanish < 2; spanish++)
      {
        BlProposalOptions options = papers_options ();
        g_autofree char *path = NULL;
        g_autofree char *tagged = NULL;

        options.language = spanish ? "es" : "en";
        options.detailed = TRUE;
        path = write_demo (kinds[i], &options);
        check_sound (path);
        tagged = papers_info (path, "Tagged");
        g_assert_cmpstr (tagged, ==, "yes");
      }
}

static void
test_metadata (void)
{
  BlProposalOptions options = papers_options ();
  g_autofree char *path = write_demo ("proposal.pdf", &options);
  BlModel *model = bl_design_get_model (demo);
  g_autofree char *title = papers_info (path, "Title");
  g_autofree char *author = papers_info (path, "Author");
  g_autofree char *created = papers_info (path, "CreationDate");

  assert_has (title, model->title);
  g_assert_cmpstr (author, ==, model->designer);
  assert_has (created, "May 12");
}

/* ISO 216 and ANSI/ASME Y14.1, in points of 1/72 in. */
static void
test_page_sizes (void)
{
  static const struct { BlPaperSize paper; double width, height;
  } sizes[] = {
    { BL_PAPER_LETTER, 8.5 * 72, 11 * 72 },
    { BL_PAPER_TABLOID, 11 * 72, 17 * 72 },
    { BL_PAPER_A4, 210 / 25.4 * 72, 297 / 25.4 * 72 },
    { BL_PAPER_A3, 297 / 25.4 * 72, 420 / 25.4 * 72 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      BlProposalOptions options = papers_options ();
      g_autofree char *path = NULL;
      g_autofree char *size = NULL;
      double width, height;

      options.paper = sizes[i].paper;
      options.pages = BL_PAGE_PLACE | BL_PAGE_SCHEDULE;
      path = write_demo ("proposal.pdf", &options);
      size = papers_info (path, "Page size");
      g_assert_cmpint (sscanf (size, "%lf x %lf", &width, &height), ==, 2);
      g_assert_cmpfloat_with_epsilon (width, sizes[i].width, 0.02);
      g_assert_cmpfloat_with_epsilon (height, sizes[i].height, 0.02);
    }
}

/* The outline and the links of the contents, as qpdf lays the file open. */
static void
test_bookmarks_and_links (void)
{
  BlProposalOptions options = papers_options ();
  g_autofree char *path = write_demo ("proposal.pdf", &options);
  g_autofree char *open = papers_file ("open.pdf");
  const char *argv[] = { "qpdf", "--qdf", "--object-streams=disable", path, open, NULL };
  g_autofree char *bytes = NULL;
  g_autofree char *said = NULL;
  gsize length;
  guint outlines = 0, links = 0;
  int status;

  said = papers_run (argv, &status);
  g_assert_cmpint (status, ==, 0);
  g_assert_true (g_file_get_contents (open, &bytes, &length, NULL));
  for (const char *p = bytes; (p = memmem (p, length - (gsize)(p - bytes), "/Title", 6)) != NULL;
       p += 6)
    outlines++;
  for (const char *p = bytes;
       (p = memmem (p, length - (gsize)(p - bytes), "/Subtype /Link", 14)) != NULL; p += 14)
    links++;
  /* One of the titles is the document's own. */
  g_assert_cmpuint (outlines, >=, 12);
  g_assert_cmpuint (links, >=, 10);
}

static void
check_money_is_there (const char *text, const BlModel *model, const BlEstimate *estimate)
{
  for (int s = 0; s < BL_SECTION_N; s++)
    {
      g_autofree char *money = bl_money_format (estimate->section_total[s], model->currency);

      if (estimate->section_total[s] != 0)
        assert_has (text, money);
    }
  {
    gint64 sums[]
        = { estimate->total, estimate->total_low, estimate->total_high, estimate->deposit };

    for (guint i = 0; i < G_N_ELEMENTS (sums); i++)
      {
        g_autofree char *money = bl_money_format (sums[i], model->currency);

        assert_has (text, money);
      }
  }
  for (guint i = 0; i < estimate->lines->len; i++)
    {
      g_autofree char *money = bl_money_format (
          g_array_index (estimate->lines, BlEstimateLine, i).amount, model->currency);

      assert_has (text, money);
    }
}

/* "EP  19  Echinacea" in the schedule: key, count over all beds and sizes, genus. */
static void
check_counts_are_there (const char *text, const BlLayout *layout)
{
  for (guint i = 0; i < layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, i);
      g_autofree char *key = bl_layout_key (layout, placed->plant->slug);
      g_autofree char *pattern = NULL;
      guint n = 0;

      for (guint k = 0; k < layout->placed->len; k++)
        {
          const BlPlaced *other = &g_array_index (layout->placed, BlPlaced, k);

          n += other->plant == placed->plant && g_strcmp0 (other->size, placed->size) == 0;
        }
      pattern = g_strdup_printf ("^ *%s +%u +%s", key, n, placed->plant->genus);
      assert_matches (text, pattern);
    }
}

static void
test_numbers_are_the_engines (void)
{
  BlProposalOptions options = papers_options ();
  BlModel *model = bl_design_get_model (demo);
  g_autofree char *path = NULL;
  g_autofree char *text = NULL;
  g_autofree char *area = NULL;
  const BlBed *bed = model->beds->pdata[0];

  options.detailed = TRUE;
  path = write_demo ("proposal.pdf", &options);
  text = papers_text (path, 0, 0);
  area = bl_area_format_interval (bed->area.value, bed->area.sd, model->units, NULL);
  assert_has (text, area);
  /* Spaced capitals must stay one word to whoever searches. */
  assert_has (text, "BOTANICAL NAME");
  assert_has (text, "PREPARED FOR");
  for (guint i = 0; i < model->alternatives->len && i < 3; i++)
    {
      const BlAlternative *alternative = model->alternatives->pdata[i];
      g_autoptr (BlLayout) layout = bl_layout_compute (model, alternative->id);
      g_autoptr (BlTakeoff) takeoff = bl_takeoff_compute (layout, NULL);
      g_autoptr (BlEstimate) estimate = bl_estimate_compute (takeoff);
      g_autoptr (BlCare) care = bl_care_compute (layout, options.today, NULL);
      g_autofree char *hours = g_strdup_printf ("%.0f hours", care->hours_first_year);
      g_autofree char *figures
          = g_strdup_printf ("^ *%u +%u +", takeoff->n_plants, takeoff->n_kinds);

      check_money_is_there (text, model, estimate);
      check_counts_are_there (text, layout);
      assert_has (text, hours);
      assert_matches (text, figures);
    }
}

/* Feet, inches and quarters from the tape's unit, by the test's own hand. */
static char *
tape (double metres)
{
  static const char *const quarters[] = { "", "¼", "½", "¾" };
  int n = (int) lround (metres / 0.0254 * 4);

  return g_strdup_printf ("%d′ %d%s″", n / 48, n / 4 % 12, quarters[n % 4]);
}

static void
test_crew_tapes (void)
{
  BlProposalOptions options = papers_options ();
  BlModel *model = bl_design_get_model (demo);
  g_autofree char *path = write_demo ("crew.pdf", &options);
  g_autofree char *text = papers_text (path, 0, 0);
  g_autoptr (BlLayout) layout
      = bl_layout_compute (model, ((const BlAlternative *) model->alternatives->pdata[0])->id);
  g_autoptr (GError) error = NULL;
  g_autoptr (BlSetout) setout = bl_setout_compute (layout, model->units, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < setout->rows->len; i++)
    {
      const BlSetoutRow *row = &g_array_index (setout->rows, BlSetoutRow, i);
      BlPoint at = g_array_index (layout->placed, BlPlaced, row->placed).at;
      double a = bl_dist (at, g_array_index (setout->fixed, BlFixedPoint, row->a).at);
      double b = bl_dist (at, g_array_index (setout->fixed, BlFixedPoint, row->b).at);
      g_autofree char *from_a = tape (a);
      g_autofree char *from_b = tape (b);
      g_autofree char *key = bl_layout_key (
          layout, g_array_index (layout->placed, BlPlaced, row->placed).plant->slug);
      g_autofree char *pattern = g_strdup_printf ("%s [0-9]+ +%s +%s +%s", key, from_a, from_b,
                                                  row->left ? "left" : "right");

      assert_matches (text, pattern);
    }
  /* Materials are told in the person's units. */
  assert_has (text, "cu yd");
  assert_has (text, " lb");
  g_assert_false (g_regex_match_simple ("[0-9] +m3?\\s", text, 0, 0));
}

static void
test_spanish_is_spanish (void)
{
  BlProposalOptions options = papers_options ();
  g_autofree char *crew = NULL;
  g_autofree char *care = NULL;
  g_autofree char *crew_text = NULL;
  g_autofree char *care_text = NULL;

  options.language = "es";
  crew = write_demo ("crew.pdf", &options);
  care = write_demo ("care.pdf", &options);
  crew_text = papers_text (crew, 0, 0);
  care_text = papers_text (care, 0, 0);
  assert_has (crew_text, "Tabla de replanteo");
  assert_has (crew_text, "izquierda");
  assert_has (care_text, "Cortar a ras");
  assert_has (care_text, "Regar");
  /* English words that the calendar, the price book or the sheet would leave behind. */
  for (const char *const *word
       = (const char *const[]){ "Weed ", "Cut back", "Water ", "each", "mulch", "Steel", "edging",
                                "bag", "From", "quart", NULL };
       *word != NULL; word++)
    {
      g_assert_null (strstr (crew_text, *word));
      g_assert_null (strstr (care_text, *word));
    }
}

/* Every text that a page asks for by BL_W() has its Spanish: the sources themselves are read. */
static void
check_source (const char *path)
{
  g_autoptr (GRegex) call
      = g_regex_new ("BL_W \\(book,\\s*((?:\"(?:[^\"\\\\]|\\\\.)*\"\\s*)+)\\)", 0, 0, NULL);
  g_autoptr (GRegex) seam = g_regex_new ("\"\\s*\"", 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  g_autofree char *text = NULL;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_regex_match (call, text, 0, &match);
  for (; g_match_info_matches (match); g_match_info_next (match, NULL))
    {
      g_autofree char *literal = g_strstrip (g_match_info_fetch (match, 1));
      g_autofree char *joined = g_regex_replace_literal (seam, literal, -1, 0, "", 0, NULL);
      g_autofree char *inner = g_strndup (joined + 1, strlen (joined) - 2);
      g_autofree char *words = g_strcompress (inner);

      /* The same letters in both languages are no oversight, but there are none so far. */
      if (strcmp (bl_say ("es", words), words) == 0 && strcmp (words, "Total") != 0)
        g_error ("“%s” has no Spanish", words);
    }
}

static void
test_every_word_is_translated (void)
{
  g_autofree char *folder = g_build_filename (source_root, "src", "proposal", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      if (g_str_has_suffix (name, ".c"))
        check_source (path);
    }
}

/* Every sentence that a rule of fit writes, read from its source, is told in Spanish. Returns how many
 * there were. */
static guint
check_rule_source (const char *path)
{
  g_autoptr (GRegex) literal = g_regex_new ("((?:\"(?:[^\"\\\\\n]|\\\\.)*\"\\s*)+)", 0, 0, NULL);
  g_autoptr (GRegex) seam = g_regex_new ("\"\\s*\"", 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  g_autofree char *text = NULL;
  guint n = 0;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_regex_match (literal, text, 0, &match);
  for (; g_match_info_matches (match); g_match_info_next (match, NULL))
    {
      g_autofree char *quoted = g_strstrip (g_match_info_fetch (match, 1));
      g_autofree char *joined = g_regex_replace_literal (seam, quoted, -1, 0, "", 0, NULL);
      g_autofree char *words = g_strndup (joined + 1, MAX (strlen (joined), 2) - 2);
      gboolean sentence = strlen (words) > 15
                          && (g_str_has_suffix (words, ".") || g_str_has_suffix (words, ". %s"));

      if (!sentence)
        continue;
      n++;
      if (bl_say ("es", words) == words)
        g_error ("“%s” has no Spanish", words);
    }
  return n;
}

static void
test_every_finding_is_translated (void)
{
  static const char *const files[]
      = { "clearance.c", "climate.c", "composition.c", "exposure.c", "harm.c", "look.c" };

  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autofree char *path = g_build_filename (source_root, "src", "fit", files[i], NULL);

      g_assert_cmpuint (check_rule_source (path), >=, 4);
    }
}

/* The findings of the demo that stand alone keep their figures in Spanish. */
static void
test_findings_keep_their_numbers (void)
{
  BlProposalOptions options = papers_options ();
  g_autofree char *path = NULL;
  g_autofree char *text = NULL;

  options.language = "es";
  options.pages = BL_PAGE_CAUTIONS;
  path = write_demo ("proposal.pdf", &options);
  text = papers_text (path, 0, 0);
  assert_matches (text, "Está a [0-9]+′ [0-9½]+″ del borde salado");
  assert_has (text, "Mide 10 pulg, y según");
  assert_matches (text, "pH de 5.5 a 7.0");
  assert_has (text, "Nada florece en mayo");
}

/* What is asked for that can't be: one sentence each, and no file. */
static void
test_refusals (void)
{
  BlProposalOptions options = papers_options ();
  gint64 missing = 4711;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = papers_file ("x.pdf");
  g_autofree char *picture = papers_file ("x.gif");

  options.alternatives = &missing;
  options.n_alternatives = 1;
  g_assert_false (
      bl_proposal_write (bl_design_get_model (demo), demo_photo, path, &options, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_NOT_FOUND);
  g_clear_error (&error);
  options = papers_options ();
  g_assert_false (bl_proposal_write (bl_design_get_model (demo), demo_photo,
                                     "/no/such/folder/x.pdf", &options, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_FAILED);
  g_clear_error (&error);
  g_assert_false (bl_before_after_write (bl_design_get_model (demo), demo_photo, picture, 800,
                                         &options, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
  g_clear_error (&error);
  g_assert_false (
      bl_before_after_write (bl_design_get_model (demo), NULL, path, 800, &options, &error));
  g_assert_nonnull (error);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
}

static void
test_before_and_after (void)
{
  BlProposalOptions options = papers_options ();
  g_autoptr (GError) error = NULL;
  g_autofree char *path = papers_file ("both.jpg");
  g_autofree char *bytes = NULL;
  g_autoptr (GBytes) data = NULL;
  g_autoptr (BlImage) image = NULL;
  gsize length;

  g_assert_true (
      bl_before_after_write (bl_design_get_model (demo), demo_photo, path, 1200, &options, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  data = g_bytes_new_take (g_steal_pointer (&bytes), length);
  image = bl_image_decode (data, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (image->width, ==, 1200);
}

static void
test_before_and_after_on_full_disk (void)
{
  static const char *const names[] = { "both.jpg", "both.png" };
  BlProposalOptions options = papers_options ();

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *path = papers_file (names[i]);
      struct rlimit usual;
      gboolean ok;

      g_assert_true (g_file_set_contents (path, "old", 3, NULL));
      usual = small_disk (5000);
      ok = bl_before_after_write (bl_design_get_model (demo), demo_photo, path, 800, &options,
                                  &error);
      usual_disk (usual);
      g_assert_false (ok);
      g_assert_nonnull (error);
      assert_stands (path, "old", 3, 1);
    }
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  int status;

  g_test_init (&argc, &argv, NULL);
  source_root = argc > 1 ? argv[1] : ".";
  demo = papers_demo (source_root);
  demo_photo = bl_design_photo_bytes (demo, &error);
  g_assert_no_error (error);
  g_test_add_func ("/proposal/papers/sound", test_sound_files);
  g_test_add_func ("/proposal/papers/metadata", test_metadata);
  g_test_add_func ("/proposal/papers/page-sizes", test_page_sizes);
  g_test_add_func ("/proposal/papers/bookmarks", test_bookmarks_and_links);
  g_test_add_func ("/proposal/papers/numbers", test_numbers_are_the_engines);
  g_test_add_func ("/proposal/papers/tapes", test_crew_tapes);
  g_test_add_func ("/proposal/papers/spanish", test_spanish_is_spanish);
  g_test_add_func ("/proposal/papers/every-word", test_every_word_is_translated);
  g_test_add_func ("/proposal/papers/every-finding", test_every_finding_is_translated);
  g_test_add_func ("/proposal/papers/findings-numbers", test_findings_keep_their_numbers);
  g_test_add_func ("/proposal/papers/refusals", test_refusals);
  g_test_add_func ("/proposal/papers/before-after", test_before_and_after);
  g_test_add_func ("/proposal/papers/before-after-full", test_before_and_after_on_full_disk);
  status = g_test_run ();
  g_bytes_unref (demo_photo);
  g_object_unref (demo);
  bl_library_free (papers_library ());
  return status;
}
