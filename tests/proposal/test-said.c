/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All that the engines say of the demo design in Spanish: nothing of it is English.
 *
 * usage: test-said SOURCE ES.mo
 *
 * Two looks at each text. Said in English and in Spanish it must differ, unless nothing is in it but
 * names, numbers and units. And once the names of the design and of its plants are taken out, none of
 * the commonest English words may be left. (The hundred commonest words of English, those that no
 * Spanish word is spelt like; common knowledge.) */
#include "config.h"

#include "base/say.h"
#include "care/care.h"
#include "fit/fit.h"
#include "papers.h"
#include "photo/advice.h"
#include "takeoff/estimate.h"

#include <libintl.h>
#include <locale.h>
#include <string.h>
#include <unistd.h>

/* Written the same in both: units, and what is counted in letters. */
static const char *const neutral[]
    = { "min", "lb", "ft", "cm", "gal", "specimen", "kg", "L", "h", "in", "pH", NULL };

static const char *const english_words[] = {
  "the",   "be",    "and",   "of",    "that",  "have",  "it",    "for",   "not",   "on",
  "with",  "as",    "you",   "at",    "this",  "but",   "his",   "by",    "from",  "they",
  "we",    "say",   "her",   "she",   "or",    "will",  "my",    "all",   "would", "there",
  "their", "what",  "out",   "if",    "about", "who",   "get",   "which", "when",  "make",
  "can",   "like",  "just",  "him",   "know",  "take",  "into",  "your",  "some",  "could",
  "them",  "than",  "then",  "now",   "only",  "its",   "after", "use",   "two",   "how",
  "our",   "first", "well",  "way",   "new",   "want",  "any",   "these", "give",  "day",
  "most",  "is",    "are",   "was",   "cut",   "back",  "plant", "water", "grows", "stands",
  "soil",  "light", "each",  "while", "before", NULL
};

typedef struct
{
  GPtrArray *names;  /* utf8, of plants, beds, features and the design's own words; longest first */
  GPtrArray *faults;
  guint n;           /* texts looked at */
} Ear;

static void
add_name (Ear *ear, const char *name)
{
  if (name != NULL && strlen (name) > 2)
    g_ptr_array_add (ear->names, g_strdup (name));
}

static int
longest_first (gconstpointer a, gconstpointer b)
{
  gsize n = strlen (*(char *const *) a), m = strlen (*(char *const *) b);

  return (n < m) - (n > m);
}

static void
learn_names (Ear *ear, const BlModel *model)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) plants
      = bl_library_find (papers_library (), &(BlPlantQuery) { .limit = 10000 }, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < plants->len; i++)
    {
      const BlPlant *plant = plants->pdata[i];

      g_ptr_array_add (ear->names, bl_plant_name (plant));
      add_name (ear, plant->common);
      add_name (ear, plant->common_es);
    }
  for (guint i = 0; i < model->beds->len; i++)
    add_name (ear, ((const BlBed *) model->beds->pdata[i])->name);
  for (guint i = 0; i < model->features->len; i++)
    add_name (ear, ((const BlFeature *) model->features->pdata[i])->name);
  for (guint i = 0; i < model->knowns->len; i++)
    add_name (ear, ((const BlKnown *) model->knowns->pdata[i])->name);
  for (guint i = 0; i < model->alternatives->len; i++)
    add_name (ear, ((const BlAlternative *) model->alternatives->pdata[i])->colors);
  for (guint i = 0; i < model->overrides->len; i++)
    add_name (ear, ((const BlOverride *) model->overrides->pdata[i])->note);
  for (guint i = 0; i < model->own_tasks->len; i++)
    add_name (ear, ((const BlOwnTask *) model->own_tasks->pdata[i])->title);
  g_ptr_array_sort (ear->names, longest_first);
}

/* Publications keep their names; these are said in sources. */
static const char *const publications[] = {
  "Landscape plants rated by deer resistance", "USDA Plant Hardiness Zone Map", "University of Minnesota Extension",
  "University of Florida IFAS", "Common Ground Alliance", "International Fire Code", "Ohio State University",
  "ADA Accessibility Guidelines", "ADA Standards", "Morton Arboretum", "Plant Toolbox", NULL
};

/* OR is a state. */
static gboolean
is_state (const char *word)
{
  return strlen (word) == 2 && g_ascii_isupper (word[0]) && g_ascii_isupper (word[1]);
}

/* @text without names, in small letters. */
static char **
bare_words (const Ear *ear, const char *text)
{
  g_autoptr (GString) bare = g_string_new (text);
  char **words;

  for (guint i = 0; i < ear->names->len; i++)
    g_string_replace (bare, ear->names->pdata[i], " ", 0);
  for (guint i = 0; publications[i] != NULL; i++)
    g_string_replace (bare, publications[i], " ", 0);
  words = g_strsplit_set (bare->str, " ,;:.()[]%+=/#-0123456789\"'\n", -1);
  for (guint i = 0; words[i] != NULL; i++)
    {
      char *lower = is_state (words[i]) ? g_strdup ("") : g_utf8_strdown (words[i], -1);

      g_free (words[i]);
      words[i] = lower;
    }
  return words;
}

static void
fault (Ear *ear, const char *what, const char *text)
{
  g_ptr_array_add (ear->faults, g_strdup_printf ("%s: “%s”", what, text));
}

static gboolean
has_words (char **words)
{
  for (guint i = 0; words[i] != NULL; i++)
    if (strlen (words[i]) > 1 && g_ascii_isalpha (words[i][0])
        && !g_strv_contains (neutral, words[i]))
      return TRUE;
  return FALSE;
}

static void
hear (Ear *ear, const char *what, const char *english, const char *spanish)
{
  g_auto (GStrv) words = bare_words (ear, spanish);

  ear->n++;
  if (g_strcmp0 (english, spanish) == 0 && has_words (words))
    fault (ear, what, spanish);
  for (guint i = 0; words[i] != NULL; i++)
    if (g_strv_contains (english_words, words[i]))
      {
        g_autofree char *word = g_strdup_printf ("%s, “%s”", what, words[i]);

        fault (ear, word, spanish);
        break;
      }
}

static void
hear_takeoff (Ear *ear, const BlTakeoff *en, const BlTakeoff *es)
{
  g_assert_cmpuint (en->materials->len, ==, es->materials->len);
  g_assert_cmpuint (en->work->len, ==, es->work->len);
  g_assert_cmpuint (en->notes->len, ==, es->notes->len);
  for (guint i = 0; i < en->counts->len; i++)
    hear (ear, "count", "", g_array_index (es->counts, BlPlantCount, i).rule);
  for (guint i = 0; i < en->materials->len; i++)
    {
      const BlMaterial *a = &g_array_index (en->materials, BlMaterial, i);
      const BlMaterial *b = &g_array_index (es->materials, BlMaterial, i);

      hear (ear, "material", a->name, b->name);
      hear (ear, "material's arithmetic", a->how, b->how);
      g_assert_cmpfloat (a->order, ==, b->order);
    }
  for (guint i = 0; i < en->work->len; i++)
    hear (ear, "work", g_array_index (en->work, BlWork, i).name,
          g_array_index (es->work, BlWork, i).name);
  for (guint i = 0; i < en->notes->len; i++)
    hear (ear, "note", en->notes->pdata[i], es->notes->pdata[i]);
}

static void
hear_estimate (Ear *ear, const BlEstimate *en, const BlEstimate *es)
{
  g_assert_cmpuint (en->lines->len, ==, es->lines->len);
  g_assert_cmpint (en->total, ==, es->total);
  for (guint i = 0; i < en->lines->len; i++)
    {
      const BlEstimateLine *a = &g_array_index (en->lines, BlEstimateLine, i);
      const BlEstimateLine *b = &g_array_index (es->lines, BlEstimateLine, i);

      hear (ear, "line", a->name, b->name);
      hear (ear, "line's unit", a->unit, b->unit);
      hear (ear, "line's arithmetic", a->how, b->how);
      g_assert_cmpint (a->amount, ==, b->amount);
    }
  for (guint i = 0; i < en->options->len; i++)
    hear (ear, "option", g_array_index (en->options, BlEstimateOption, i).name,
          g_array_index (es->options, BlEstimateOption, i).name);
  for (int i = 0; i < BL_SECTION_N; i++)
    hear (ear, "section", bl_section_name ((BlSection) i, NULL),
          bl_section_name ((BlSection) i, "es"));
}

static void
hear_care (Ear *ear, const BlCare *en, const BlCare *es)
{
  g_assert_cmpuint (en->tasks->len, ==, es->tasks->len);
  for (guint i = 0; i < en->tasks->len; i++)
    {
      const BlTask *a = &g_array_index (en->tasks, BlTask, i);
      const BlTask *b = &g_array_index (es->tasks, BlTask, i);

      /* The calendar knows a task again in any language. */
      g_assert_cmpstr (a->uid, ==, b->uid);
      hear (ear, "task", a->title, b->title);
      hear (ear, "task's work", a->work, b->work);
      hear (ear, "task's note", a->what, b->what);
    }
}

static void
hear_fit (Ear *ear, const BlFit *en, const BlFit *es)
{
  g_assert_cmpuint (en->findings->len, ==, es->findings->len);
  for (guint i = 0; i < en->findings->len; i++)
    {
      const BlFinding *a = &g_array_index (en->findings, BlFinding, i);
      const BlFinding *b = &g_array_index (es->findings, BlFinding, i);

      hear (ear, "finding", a->sentence, b->sentence);
      hear (ear, "source", a->source, b->source);
      hear (ear, "severity", bl_severity_name (a->severity),
            bl_say ("es", bl_severity_name (b->severity)));
      for (guint k = 0; a->substitutes != NULL && k < a->substitutes->len; k++)
        hear (ear, "substitute", g_array_index (a->substitutes, BlSubstitute, k).change,
              g_array_index (b->substitutes, BlSubstitute, k).change);
    }
}

static void
check (const Ear *ear, guint least)
{
  for (guint i = 0; i < ear->faults->len; i++)
    g_test_message ("%s", (const char *) ear->faults->pdata[i]);
  g_test_message ("%u texts", ear->n);
  g_assert_cmpuint (ear->n, >=, least);
  g_assert_cmpuint (ear->faults->len, ==, 0);
}

static Ear
ear_of (const BlModel *model)
{
  Ear ear = { g_ptr_array_new_with_free_func (g_free), g_ptr_array_new_with_free_func (g_free), 0 };

  learn_names (&ear, model);
  return ear;
}

static void
ear_clear (Ear *ear)
{
  g_ptr_array_unref (ear->names);
  g_ptr_array_unref (ear->faults);
}

static const char *source_root;

static void
test_demo (void)
{
  g_autoptr (BlDesign) design = papers_demo (source_root);
  BlModel *model = bl_design_get_model (design);
  Ear ear = ear_of (model);

  g_assert_cmpstr (bl_say_window (), ==, "es");
  for (guint i = 0; i < model->alternatives->len; i++)
    {
      const BlAlternative *alternative = model->alternatives->pdata[i];
      g_autoptr (GError) error = NULL;
      g_autoptr (BlLayout) layout = bl_layout_compute (model, alternative->id);
      g_autoptr (BlTakeoff) takeoff_en = bl_takeoff_compute (layout, NULL);
      g_autoptr (BlTakeoff) takeoff_es = bl_takeoff_compute (layout, "es");
      g_autoptr (BlEstimate) estimate_en = bl_estimate_compute (takeoff_en);
      g_autoptr (BlEstimate) estimate_es = bl_estimate_compute (takeoff_es);
      g_autoptr (BlCare) care_en = bl_care_compute (layout, bl_day (2026, 3, 1), NULL);
      g_autoptr (BlCare) care_es = bl_care_compute (layout, bl_day (2026, 3, 1), "es");
      g_autoptr (BlFit) fit_en = bl_fit_check (layout, papers_library (), NULL, &error);
      g_autoptr (BlFit) fit_es = bl_fit_check (layout, papers_library (), "es", &error);

      g_assert_no_error (error);
      hear_takeoff (&ear, takeoff_en, takeoff_es);
      hear_estimate (&ear, estimate_en, estimate_es);
      hear_care (&ear, care_en, care_es);
      hear_fit (&ear, fit_en, fit_es);
      for (guint k = 0; k < layout->messages->len; k++)
        hear (&ear, "message", "", layout->messages->pdata[k]);
    }
  check (&ear, 500);
  ear_clear (&ear);
}

/* Every plant of the library in the demo's bed: the sentences that the demo's own plants do not ask
 * for. */
static void
test_every_plant (void)
{
  g_autoptr (BlDesign) design = papers_demo (source_root);
  BlModel *model = bl_design_get_model (design);
  const BlBed *bed = model->beds->pdata[0];
  Ear ear = ear_of (model);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) plants
      = bl_library_find (papers_library (), &(BlPlantQuery) { .limit = 10000 }, &error);

  for (guint i = 0; i < plants->len; i++)
    {
      g_autoptr (BlFit) en = bl_fit_plant (model, plants->pdata[i], bed->id, NULL, &error);
      g_autoptr (BlFit) es = bl_fit_plant (model, plants->pdata[i], bed->id, "es", &error);

      g_assert_no_error (error);
      hear_fit (&ear, en, es);
    }
  check (&ear, 300);
  ear_clear (&ear);
}

static void
test_photo (void)
{
  g_autoptr (BlDesign) design = papers_demo (source_root);
  BlModel *model = bl_design_get_model (design);
  const BlBed *bed = model->beds->pdata[0];
  Ear ear = ear_of (model);
  g_autoptr (GError) error = NULL;
  g_autoptr (BlAdviceList) list
      = bl_advise (&model->solution->camera, model->knowns, bed->outline, 1.5, &error);
  g_autoptr (GPtrArray) none = g_ptr_array_new ();
  g_autoptr (BlSolution) unsolved = NULL;

  g_assert_no_error (error);
  for (guint i = 0; i < list->items->len; i++)
    hear (&ear, "advice", "", g_array_index (list->items, BlAdvice, i).sentence);
  if (list->enclosure != NULL)
    hear (&ear, "enclosure", "", list->enclosure);
  if (model->solution->message != NULL)
    hear (&ear, "solution", "", model->solution->message);
  unsolved = bl_solve_camera (&(BlPhotoPrior) { .width = 4000, .height = 3000 }, none, &error);
  g_assert_null (unsolved);
  hear (&ear, "solver", "", error->message);
  check (&ear, 2);
  ear_clear (&ear);
}

/* The catalogue where gettext looks for it. */
static void
put_catalogue (const char *catalogue)
{
  g_autofree char *folder = g_dir_make_tmp ("bedline-said-XXXXXX", NULL);
  g_autofree char *messages = g_build_filename (folder, "es", "LC_MESSAGES", NULL);
  g_autofree char *path = g_build_filename (messages, GETTEXT_PACKAGE ".mo", NULL);
  g_autofree char *whole = g_canonicalize_filename (catalogue, NULL);
  g_autofree char *language = g_build_filename (folder, "es", NULL);

  g_assert_cmpint (g_mkdir_with_parents (messages, 0700), ==, 0);
  g_assert_cmpint (symlink (whole, path), ==, 0);
  bindtextdomain (GETTEXT_PACKAGE, folder);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  g_assert_cmpstr (gettext ("Plants"), ==, "Plantas");
  unlink (path);
  rmdir (messages);
  rmdir (language);
  rmdir (folder);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_cmpint (argc, ==, 3);
  source_root = argv[1];
  g_setenv ("LANGUAGE", "es", TRUE);
  setlocale (LC_ALL, "");
  put_catalogue (argv[2]);
  g_test_add_func ("/said/demo", test_demo);
  g_test_add_func ("/said/every-plant", test_every_plant);
  g_test_add_func ("/said/photo", test_photo);
  return g_test_run ();
}
