/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The design sheet: round trips, every refusal with its place, and its JSON Schema. */
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <unistd.h>

#include "yard.h"

static BlDesign *
draft (const char *json,
       const char *folder,
       GError    **error)
{
  return bl_sheet_draft (json, -1, folder, yard_library (), NULL, error);
}

/* Writing, drafting and writing again gives the same text; and the same design. */
static void
check_round_trip (BlDesign   *design,
                  const char *folder,
                  BlLibrary  *library)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *first = bl_sheet_write_with (design, library, &error);
  g_autofree char *second = NULL, *before = NULL, *after = NULL;
  g_autoptr(BlDesign) again = NULL;

  g_assert_no_error (error);
  again = draft (first, folder, &error);
  g_assert_no_error (error);
  second = bl_sheet_write_with (again, library, &error);
  g_assert_cmpstr (first, ==, second);
  before = bl_model_dump (bl_design_get_model (design), FALSE);
  after = bl_model_dump (bl_design_get_model (again), FALSE);
  if (library == NULL)
    g_assert_cmpstr (before, ==, after);
}

static void
test_filled (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = bl_design_create (NULL, &error);

  check_round_trip (design, NULL, NULL);
  yard_fill (design);
  check_round_trip (design, NULL, NULL);
  check_round_trip (design, NULL, yard_library ());
  yard_begin (design, "In metres");
  g_assert_true (bl_design_put_text (design, "units", "m", &error));
  g_assert_true (bl_design_put_text (design, "currency", "JPY", &error));
  yard_commit (design);
  check_round_trip (design, NULL, NULL);
}

/* A sheet that uses every key. */
static char *whole_sheet;

static void
test_whole (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = draft (whole_sheet, NULL, &error);
  const BlModel *model;
  const BlBed *bed;

  g_assert_no_error (error);
  model = bl_design_get_model (design);
  bed = bl_model_bed_named (model, "Strip");
  g_assert_cmpfloat (bed->mulch_depth, ==, 0.0762);
  g_assert_cmpfloat (bl_points_at (bed->outline->points, 1).x, ==, 3.6576);
  g_assert_cmpfloat (((BlKnown *) g_ptr_array_index (model->knowns, 0))->size[1], ==, 3.1);
  g_assert_cmpfloat_with_epsilon (model->photo.slope_direction, 33.3 * G_PI / 180, 1e-15);
  g_assert_true (((BlFeature *) g_ptr_array_index (model->features, 0))->outline->open);
  g_assert_false (((BlFeature *) g_ptr_array_index (model->features, 2))->outline->open);
  g_assert_true (((BlFeature *) g_ptr_array_index (model->features, 4))->outline->open);
  g_assert_cmpint (bl_price_book_find (model->prices, "mulch-bulk")->price, ==, 6125);
  g_assert_false (bl_price_book_find (model->prices, "mulch-bulk")->invented);
  g_assert_nonnull (bl_price_book_find (model->prices, "compost-bulk"));
  g_assert_cmpint (model->prices->rules.labour_rate, ==, 6100);
  g_assert_cmpint (model->prices->rules.tax_base, ==, BL_TAX_PLANTS);
  yard_assert_sound (design);
  check_round_trip (design, NULL, NULL);
  check_round_trip (design, NULL, yard_library ());
}

/* Numbers as drawn with a mouse are no round feet; they too come back as the very same ones. */
static void
test_random_numbers (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(BlDesign) design = bl_design_create (NULL, &error);
  BlRng rng = bl_rng (42);
  gint64 bed, a;

  yard_begin (design, "Many numbers");
  yard_put_plants (design);
  bed = yard_put_bed (design, "Strip", 0.1, 0.3, bl_rng_range (&rng, 3, 9));
  a = yard_put_alternative (design, "A");
  for (int i = 0; i < 1000; i++)
    yard_put_specimen (design, a, bed, yard_slugs[i % YARD_PLANTS], bl_rng_normal (&rng),
                       bl_rng_range (&rng, -1e4, 1e4));
  yard_commit (design);
  check_round_trip (design, NULL, yard_library ());
}

/* ---- the photo ---- */

static void
write_picture (const char *path)
{
  g_autoptr(GdkPixbuf) pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 64, 48);
  g_autoptr(GError) error = NULL;

  gdk_pixbuf_fill (pixbuf, 0x406080ff);
  gdk_pixbuf_save (pixbuf, path, "jpeg", &error, NULL);
  g_assert_no_error (error);
}

static void
test_photo (void)
{
  g_autoptr(GError) error = NULL;
  char *folder = yard_folder ();
  g_autofree char *inside = yard_path (folder, "sheet"),
                  *picture = g_build_filename (inside, "walk.jpg", NULL);
  g_autofree char *outside = yard_path (folder, "secret.jpg"),
                  *link = g_build_filename (inside, "link.jpg", NULL);
  static const char *const leaving[]
      = { "../secret.jpg", "/etc/passwd", "link.jpg", "a/../../secret.jpg", ".", "", "none.jpg" };
  g_autoptr(BlDesign) design = NULL;
  g_autoptr(GBytes) bytes = NULL;

  g_assert_cmpint (g_mkdir (inside, 0700), ==, 0);
  write_picture (picture);
  write_picture (outside);
  g_assert_cmpint (symlink (outside, link), ==, 0);
  design
      = draft ("{ \"design_sheet\": 1, \"photo\": { \"file\": \"walk.jpg\", \"focal_35mm\": 26 } }",
               inside, &error);
  g_assert_no_error (error);
  g_assert_cmpint (bl_design_get_model (design)->photo.width, ==, 64);
  g_assert_cmpstr (bl_design_get_model (design)->photo.name, ==, "walk.jpg");
  bytes = bl_design_photo_bytes (design, &error);
  g_assert_nonnull (bytes);
  check_round_trip (design, inside, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (leaving); i++)
    {
      g_autofree char *json = g_strdup_printf (
          "{ \"design_sheet\": 1, \"photo\": { \"file\": \"%s\" } }", leaving[i]);

      g_assert_null (draft (json, inside, &error));
      yard_assert_error (&error, BL_ERROR_INPUT, "photo.file");
    }
  g_assert_null (
      draft ("{ \"design_sheet\": 1, \"photo\": { \"file\": \"walk.jpg\", \"width\": 65 } }",
             inside, &error));
  yard_assert_error (&error, BL_ERROR_INPUT, "64 × 48");
  yard_remove_folder (folder);
}

/* ---- refusals ---- */

#define HEAD "{ \"design_sheet\": 1, "
#define BED "\"beds\": [ { \"name\": \"S\", \"outline\": [[0,0],[9,0],[9,9],[0,9]] } ]"
#define PLANTING(p)                                                                                \
  HEAD BED ", \"alternatives\": [ { \"name\": \"A\", \"plantings\": [ " p " ] } ] }"
#define CAMERA "\"photo\": { \"width\": 4032, \"height\": 3024, \"focal_35mm\": 26 }, "

static const struct
{
  const char *json, *said;
} refusals[] = {
  { "", "the sheet: must be a group of keys" },
  { "{", "the sheet: is not JSON" },
  { "[1]", "must be a group of keys" },
  { "{}", "design_sheet: is missing" },
  { "{ \"design_sheet\": 2 }", "design_sheet: is 2" },
  { "{ \"design_sheet\": \"1\" }", "design_sheet: must be a number" },
  { HEAD "\"colour\": 1 }", "colour: is not a key that can stand here" },
  { HEAD "\"units\": \"yard\" }", "units: " },
  { HEAD "\"currency\": \"$\" }", "currency: " },
  { HEAD "\"planting_day\": \"2026-02-30\" }", "planting_day: " },
  { HEAD "\"title\": 5 }", "title: must be a text" },
  { HEAD "\"site\": [] }", "site: must be a group of keys" },
  { HEAD "\"site\": { \"latitude\": 91 } }", "site: the latitude must lie between" },
  { HEAD "\"site\": { \"zone\": \"x\" } }", "site.zone: " },
  { HEAD "\"site\": { \"soil\": \"mud\" } }", "site.soil: must be sand" },
  { HEAD "\"site\": { \"latitude\": 1e999 } }", "site.latitude: " },
  { HEAD "\"photo\": {} }", "photo: needs a file" },
  { HEAD CAMERA "\"known\": [ { \"kind\": \"circle\" } ] }", "known[0].kind: must be rectangle" },
  { HEAD CAMERA "\"known\": [ { \"kind\": \"length\", \"px\": [[1,2],[3,4]], \"width\": 3 } ] }",
    "known[0].width: is not a key" },
  { HEAD CAMERA "\"known\": [ { \"kind\": \"length\", \"px\": [[1,2],[3,4]] } ] }",
    "known[0]: the length needs a size" },
  { HEAD CAMERA "\"known\": [ { \"kind\": \"length\", \"px\": [[1,2],[3]], \"value\": 3 } ] }",
    "known[0].px[1]: must be a point" },
  { HEAD CAMERA
    "\"known\": [ { \"kind\": \"length\", \"px\": [[1,2],[3,\"x\"]], \"value\": 3 } ] }",
    "known[0].px[1][1]: must be a number" },
  { HEAD "\"tape\": { \"points\": [\"A\",\"A\"] } }", "tape.points[1]: “A” stands twice" },
  { HEAD "\"tape\": { \"points\": [\"A\",\"B\"], \"fixed\": { \"C\": [0,0] } } }",
    "tape.fixed.C: is not one of" },
  { HEAD "\"tape\": { \"points\": [\"A\",\"B\"], \"distances\": [[\"A\",\"B\",-1]] } }",
    "tape.distances[0]: must be a distance" },
  { HEAD "\"tape\": { \"points\": [\"A\",\"B\"], \"distances\": [[\"A\",\"X\",1]] } }",
    "tape.distances[0][1]: “X”" },
  { HEAD "\"features\": [ { \"kind\": \"moat\", \"outline\": [[0,0]] } ] }",
    "features[0].kind: “moat”" },
  { HEAD "\"features\": [ { \"kind\": \"wall\" } ] }", "features[0].outline: is missing" },
  { HEAD "\"beds\": [ { \"name\": \"S\" } ] }", "beds[0]: needs one of" },
  { HEAD "\"beds\": [ { \"outline\": [[0,0],[1,0],[1,1]] } ] }", "beds[0].name: is missing" },
  { HEAD "\"beds\": [ { \"name\": \"S\", \"outline\": [[0,0],[1,1]] } ] }",
    "beds[0].outline: the line has 2 points" },
  { HEAD "\"beds\": [ { \"name\": \"S\", \"outline\": [[0,0],[9,9],[9,0],[0,9]], \"straight\": "
         "true } ] }",
    "beds[0].outline: the line between points 1 and 2 crosses itself" },
  { HEAD "\"beds\": [ { \"name\": \"S\", \"outline\": [[0,0],[0,0],[1,1],[1,2]] } ] }",
    "beds[0].outline: points 1 and 2 are at the same place" },
  { HEAD "\"beds\": [ { \"name\": \"S\", \"outline\": [[0,0],[1,0],[1,1]], \"corners\": [3] } ] }",
    "beds[0].corners[0]: must be the index" },
  { HEAD "\"beds\": [ { \"name\": \"S\", \"outline\": [[0,0],[1,0],[1,1]], \"depth_mulch\": "
         "\"deep\" } ] }",
    "beds[0].depth_mulch: " },
  { HEAD
    "\"beds\": [ { \"name\": \"S\", \"outline\": [[0,0],[1,0],[1,1]], \"edging\": \"hedge\" } ] }",
    "beds[0].edging: “hedge” is not in the price book" },
  { HEAD "\"beds\": [ { \"name\": \"S\", \"outline\": [[0,0],[1,0],[1,1]] }, { \"name\": \"S\", "
         "\"outline\": [[0,0],[1,0],[1,1]] } ] }",
    "beds[1].name: another bed" },
  { HEAD "\"beds\": [ { \"name\": \"S\", \"outline_points\": [\"A\",\"B\",\"C\"] } ] }",
    "beds[0].outline_points[0]: “A” is not one" },
  { PLANTING ("{ \"form\": \"fill\", \"plant\": \"echinacea-purpurae\" }"),
    "alternatives[0].plantings[0].plant: " },
  { PLANTING ("{ \"form\": \"heap\", \"plant\": \"echinacea-purpurea\" }"),
    "alternatives[0].plantings[0].form: must be specimen" },
  { PLANTING ("{ \"form\": \"specimen\", \"plant\": \"echinacea-purpurea\" }"),
    "alternatives[0].plantings[0].at: must be a point" },
  { PLANTING ("{ \"form\": \"fill\", \"plant\": \"echinacea-purpurea\", \"at\": [1,1] }"),
    "alternatives[0].plantings[0].at: is not a key" },
  { PLANTING ("{ \"form\": \"fill\", \"plant\": \"echinacea-purpurea\", \"bed\": \"X\" }"),
    "alternatives[0].plantings[0].bed: there is no bed “X”" },
  { PLANTING ("{ \"form\": \"fill\", \"plant\": \"echinacea-purpurea\", \"size\": \"#99\" }"),
    "alternatives[0].plantings[0].size: “#99” is not a size" },
  { PLANTING ("{ \"form\": \"fill\", \"plant\": \"echinacea-purpurea\", \"spacing\": 0.001 }"),
    "alternatives[0].plantings[0]: the spacing must lie" },
  { PLANTING ("{ \"form\": \"fill\", \"plant\": \"echinacea-purpurea\", \"locked\": 1 }"),
    "alternatives[0].plantings[0].locked: must be true or false" },
  { PLANTING ("7"), "alternatives[0].plantings[0]: must be a group of keys" },
  { HEAD "\"plants\": { \"mine\": [\"genus=Nope\"] } }", "plants.mine: " },
  { HEAD "\"prices\": { \"items\": [ { \"key\": \"x\", \"kind\": \"gift\" } ] } }",
    "prices.items[0].kind: must be plant" },
  { HEAD "\"prices\": { \"items\": [ { \"key\": \"mulch-bulk\", \"price\": 1.234 } ] } }",
    "prices.items[0].price: must be an amount" },
  { HEAD "\"prices\": { \"rules\": { \"tip\": 1 } } }",
    "prices.rules.tip: there is no price rule" },
  { HEAD "\"care_marks\": [ { \"done\": \"2026-01-01\" } ] }", "care_marks[0].task: is missing" },
  { HEAD "\"own_tasks\": [ { \"title\": \"x\" } ] }", "own_tasks[0]: the task “x” has no day" },
};

static void
test_refusals (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(BlDesign) design = draft (refusals[i].json, NULL, &error);

      if (design != NULL)
        g_error ("not refused: %s", refusals[i].json);
      yard_assert_error (&error, BL_ERROR_INPUT, refusals[i].said);
    }
}

/* Nothing is written, and nothing that is there is changed, when a sheet is refused. */
static void
test_no_file (void)
{
  g_autoptr(GError) error = NULL;
  char *folder = yard_folder ();
  g_autofree char *path = yard_path (folder, "new.bedline");
  g_autoptr(BlDesign) design = NULL;

  g_assert_null (
      bl_sheet_draft ("{ \"design_sheet\": 1, \"x\": 1 }", -1, folder, NULL, path, &error));
  g_clear_error (&error);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  design = bl_sheet_draft ("{ \"design_sheet\": 1, \"title\": \"first\" }", -1, folder, NULL, path,
                           &error);
  g_assert_no_error (error);
  g_assert_cmpstr (bl_design_get_path (design), ==, path);
  g_assert_null (bl_sheet_draft ("{ \"design_sheet\": 1, \"title\": \"second\" }", -1, folder, NULL,
                                 path, &error));
  yard_assert_error (&error, BL_ERROR_FILE, "exists already");
  g_clear_object (&design);
  design = bl_design_open (path, &error);
  g_assert_cmpstr (bl_design_get_model (design)->title, ==, "first");
  yard_remove_folder (folder);
}

/* Brackets without end, text without end, bytes that are no text: one sentence each. */
static void
test_strange_text (void)
{
  g_autoptr(GString) deep = g_string_new (NULL);
  g_autoptr(GError) error = NULL;
  BlRng rng = bl_rng (7);

  for (int i = 0; i < 500000; i++)
    g_string_append_c (deep, '[');
  g_assert_null (draft (deep->str, NULL, &error));
  yard_assert_error (&error, BL_ERROR_INPUT, "brackets within brackets");
  g_assert_null (bl_sheet_draft ("{ \"\xff\" }", -1, NULL, NULL, NULL, &error));
  yard_assert_error (&error, BL_ERROR_INPUT, "UTF-8");
  g_assert_null (bl_sheet_draft ("{}\0{}", 5, NULL, NULL, NULL, &error));
  yard_assert_error (&error, BL_ERROR_INPUT, "UTF-8");
  /* Single bytes changed or cut off: drafted or refused, never worse. */
  for (int i = 0; i < 400; i++)
    {
      g_autofree char *text = g_strdup (whole_sheet);
      gsize length = strlen (text);
      g_autoptr(GError) said = NULL;
      g_autoptr(BlDesign) design = NULL;

      if (i % 2 == 0)
        text[bl_rng_int (&rng, (guint) length)] = (char) (32 + bl_rng_int (&rng, 95));
      else
        length = bl_rng_int (&rng, (guint) length);
      design = bl_sheet_draft (text, (gssize) length, NULL, yard_library (), NULL, &said);
      g_assert_true ((design == NULL) == (said != NULL));
    }
}

/* ---- the camera ---- */

/* Pixels of ground points by the pinhole of photo/camera.h, stated here again by hand: camera over
 * (0, 0), lens 1.6 m up, pitched 20 degrees down, focal length 2900 px of a 4032 × 3024 picture. */
static void
put_px (GString *out,
        double   x,
        double   y,
        double   z)
{
  const double f = 2900, pitch = 20 * G_PI / 180;
  double ahead = y * cos (pitch) + (1.6 - z) * sin (pitch);
  double down = (1.6 - z) * cos (pitch) - y * sin (pitch);

  g_string_append_printf (out, "[%.3f, %.3f]", 2016 + f * x / ahead, 1512 + f * down / ahead);
}

static char *
camera_sheet (double      wrong_length,
              const char *bed_px)
{
  GString *out
      = g_string_new ("{ \"design_sheet\": 1, \"units\": \"m\", \"photo\": { \"width\": 4032, "
                      "\"height\": 3024, \"focal_35mm\": 25.893, \"click_px\": 1 }, \"known\": [");
  const double lines[][4]
      = { { -1, 3, 1, 3 }, { -2, 5, 2, 5.5 }, { 1, 4, 1.5, 7 }, { -1, 4, -1.2, 8 } };

  g_string_append (out, "{ \"kind\": \"rectangle\", \"px\": [");
  put_px (out, -1, 4, 0);
  g_string_append (out, ",");
  put_px (out, 1, 4, 0);
  g_string_append (out, ",");
  put_px (out, 1, 7, 0);
  g_string_append (out, ",");
  put_px (out, -1, 7, 0);
  g_string_append (out, "], \"width\": 2, \"depth\": 3 }");
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      const double *l = lines[i];
      double length = hypot (l[2] - l[0], l[3] - l[1]);

      g_string_append (out, ", { \"kind\": \"length\", \"px\": [");
      put_px (out, l[0], l[1], 0);
      g_string_append (out, ",");
      put_px (out, l[2], l[3], 0);
      g_string_append_printf (out, "], \"value\": %.6f, \"sd\": 0.01 }",
                              i == 1 ? length + wrong_length : length);
    }
  g_string_append (out, "], \"beds\": [ { \"name\": \"S\", \"straight\": true, \"outline_px\": [");
  if (bed_px != NULL)
    g_string_append (out, bed_px);
  else
    for (int i = 0; i < 4; i++)
      {
        g_string_append (out, i > 0 ? "," : "");
        put_px (out, i == 1 || i == 2 ? 1.5 : -0.5, i < 2 ? 4.0 : 6.5, 0);
      }
  g_string_append (out, "] } ] }");
  return g_string_free (out, FALSE);
}

static void
test_camera (void)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *good = camera_sheet (0, NULL), *wrong = camera_sheet (0.35, NULL);
  g_autofree char *absurd = camera_sheet (6, NULL);
  g_autofree char *sky = camera_sheet (0, "[2000,1600],[2400,1600],[2200,40]");
  g_autoptr(BlDesign) design = draft (good, NULL, &error);
  const BlBed *bed;

  g_assert_no_error (error);
  bed = g_ptr_array_index (bl_design_get_model (design)->beds, 0);
  /* The bed is 2 m by 2.5 m; its plan's own turn does not change its size. */
  g_assert_null (bed->problem);
  g_assert_cmpfloat_with_epsilon (bed->area.value, 5.0, 0.02);
  g_assert_cmpfloat_with_epsilon (bed->perimeter.value, 9.0, 0.02);
  g_assert_cmpfloat (bed->area.sd, >, 0.001);
  g_assert_cmpfloat (bed->area.sd, <, 0.2);
  check_round_trip (design, NULL, NULL);
  g_assert_null (draft (wrong, NULL, &error));
  yard_assert_error (&error, BL_ERROR_INPUT, "known[2]: contradicts the other knowns");
  /* So much that no camera fits at all: still the one that stands against the others is named. */
  g_assert_null (draft (absurd, NULL, &error));
  yard_assert_error (&error, BL_ERROR_INPUT, "known[2]: ");
  g_assert_null (draft (sky, NULL, &error));
  yard_assert_error (&error, BL_ERROR_INPUT, "beds[0].outline_px: ");
}

/* ---- the schema ---- */

static void
test_schema (void)
{
  static const char script[] =
    "import json, sys\n"
    "try:\n"
    "    import jsonschema\n"
    "except ImportError:\n"
    "    sys.exit(77)\n"
    "schema = json.load(open(sys.argv[1]))\n"
    "validator = jsonschema.Draft202012Validator(schema)\n"
    "validator.check_schema(schema)\n"
    "rules = schema['properties']['prices']['properties']['rules']['properties']\n"
    "if list(rules) != sys.argv[2].split(','):\n"
    "    sys.exit('the price rules of the schema are not those of the program')\n"
    "kinds = schema['properties']['features']['items']['properties']['kind']['enum']\n"
    "if kinds != sys.argv[3].split(','):\n"
    "    sys.exit('the kinds of feature of the schema are not those of the program')\n"
    "for name in sys.argv[4:]:\n"
    "    bad = name.endswith('.bad')\n"
    "    errors = list(validator.iter_errors(json.load(open(name))))\n"
    "    if bool(errors) != bad:\n"
    "        sys.exit(name + ': ' + (errors[0].message if errors else 'is not refused'))\n";
  g_autoptr(GError) error = NULL;
  g_autofree char *root = g_path_get_dirname (g_getenv ("G_TEST_SRCDIR")), *said = NULL;
  g_autofree char *schema = g_build_filename (root, "data", "design-sheet.schema.json", NULL);
  g_autofree char *demo = g_build_filename (root, "data", "demo", "harbour-lane.sheet.json", NULL);
  char *folder = yard_folder ();
  g_autofree char *whole = yard_path (folder, "whole.json"),
                  *written = yard_path (folder, "written.json");
  g_autofree char *bad = yard_path (folder, "key.bad"), *text = NULL;
  g_autofree char *rules = g_strjoinv (",", (char **) bl_price_rule_names ());
  g_autoptr(GString) kinds = g_string_new (NULL);
  g_autoptr(BlDesign) design = draft (whole_sheet, NULL, &error);
  int status = 0;

  g_assert_no_error (error);
  for (int i = 0; i < BL_FEATURE_N; i++)
    g_string_append_printf (kinds, "%s%s", i > 0 ? "," : "",
                            bl_feature_kind_name ((BlFeatureKind)i));
  text = bl_sheet_write (design, &error);
  g_assert_true (g_file_set_contents (whole, whole_sheet, -1, NULL));
  g_assert_true (g_file_set_contents (written, text, -1, NULL));
  g_assert_true (g_file_set_contents (
      bad, "{ \"design_sheet\": 1, \"beds\": [ { \"name\": \"x\", \"hue\": 1 } ] }", -1, NULL));
  {
    const char *argv[] = { "python3", "-c", script, schema, rules, kinds->str, whole, written, bad,
                           g_file_test (demo, G_FILE_TEST_EXISTS) ? demo : whole, NULL };
    gboolean ran = g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL,
                                 &said, &status, NULL);

    if (!ran || g_spawn_check_wait_status (status, &error))
      {
        if (!ran)
          g_test_skip ("python3 is not here");
      }
    else if (g_error_matches (error, G_SPAWN_EXIT_ERROR, 77))
      g_test_skip ("the Python module jsonschema is not here");
    else
      g_error ("%s", said);
  }
  yard_remove_folder (folder);
}

int
main (int    argc,
      char **argv)
{
  g_autofree char *path = NULL;
  int result;

  g_setenv ("BEDLINE_CHECK", "1", TRUE);
  g_test_init (&argc, &argv, NULL);
  path = g_test_build_filename (G_TEST_DIST, "design", "every-key.sheet.json", NULL);
  g_assert_true (g_file_get_contents (path, &whole_sheet, NULL, NULL));
  g_test_add_func ("/sheet/filled", test_filled);
  g_test_add_func ("/sheet/whole", test_whole);
  g_test_add_func ("/sheet/random-numbers", test_random_numbers);
  g_test_add_func ("/sheet/photo", test_photo);
  g_test_add_func ("/sheet/refusals", test_refusals);
  g_test_add_func ("/sheet/no-file", test_no_file);
  g_test_add_func ("/sheet/strange-text", test_strange_text);
  g_test_add_func ("/sheet/camera", test_camera);
  g_test_add_func ("/sheet/schema", test_schema);
  result = g_test_run ();
  g_free (whole_sheet);
  yard_end ();
  return result;
}
