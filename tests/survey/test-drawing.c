/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Base drawings: seen from above and scaled, measured with their interval; SVGs drawn or refused. */
#include "survey/drawing.h"

#include "base/error.h"
#include "base/rng.h"
#include "geometry/polygon.h"
#include "photo/image.h"
#include "photo/solve.h"
#include "survey/svg-dashes.h"

#include <string.h>

#define FOOT 0.3048

/* A plot at 1 inch to 20 feet, an engineer's scale, scanned at 300 dots an inch: 15 pixels a foot. */
static BlDrawing
scanned (void)
{
  return (BlDrawing) { .width = 12000, .height = 3000, .place = { NAN, NAN },
                       .ends = { { 300, 2700 }, { 300 + 15 * 100, 2700 } }, .length = 100 * FOOT };
}

static BlOutline *
rectangle (double x,
           double y,
           double w,
           double h)
{
  BlOutline *outline = bl_outline_new ();
  const BlPoint corners[] = { { x, y }, { x + w, y }, { x + w, y + h }, { x, y + h } };

  for (int i = 0; i < 4; i++)
    bl_points_add (outline->points, corners[i]);
  outline->straight = TRUE;
  return outline;
}

/* An acre is a furlong by a chain, 660 by 66 feet (its statute definition). */
static void
test_acre (void)
{
  const BlDrawing drawing = scanned ();
  g_autoptr (GError) error = NULL;
  g_autoptr (BlOutline) acre = rectangle (1000, 1000, 660 * 15, 66 * 15);
  BlMeasured area, perimeter;
  BlCamera camera;

  g_assert_true (bl_drawing_camera (&drawing, &camera, &error));
  g_assert_true (camera.solved && camera.scaled);
  g_assert_true (bl_measure_outline (&camera, acre, bl_drawing_click (&drawing), &area, &perimeter,
                                     &error));
  g_assert_no_error (error);
  /* An international acre, 4046.8564224 m². */
  g_assert_cmpfloat_with_epsilon (area.value, 4046.8564224, 1e-6);
  g_assert_cmpfloat_with_epsilon (perimeter.value, 1452 * FOOT, 1e-8);
}

/* The corner, the sides and the turn of where it comes to lie. */
static void
test_place (void)
{
  BlDrawing drawing = scanned ();
  BlPoint corners[4], p;
  BlCamera camera;

  g_assert_true (bl_drawing_camera (&drawing, &camera, NULL));
  bl_drawing_corners (&camera, corners);
  g_assert_cmpfloat_with_epsilon (bl_norm (corners[3]), 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (corners[1].x, 800 * FOOT, 1e-8);
  g_assert_cmpfloat_with_epsilon (corners[1].y, 200 * FOOT, 1e-8);
  g_assert_true (bl_camera_project (&camera, 100 * FOOT, 50 * FOOT, 0, &p));
  g_assert_cmpfloat_with_epsilon (p.x, 1500, 1e-6);
  g_assert_cmpfloat_with_epsilon (p.y, 3000 - 750, 1e-6);

  drawing.place = BL_POINT (7, -2);
  drawing.turn = G_PI_2;
  g_assert_true (bl_drawing_camera (&drawing, &camera, NULL));
  g_assert_true (bl_camera_to_ground (&camera, drawing.ends[0], &p));
  g_assert_cmpfloat_with_epsilon (bl_dist (p, BL_POINT (7, -2)), 0, 1e-9);
  /* Turned counter-clockwise, what ran right runs up. */
  g_assert_true (bl_camera_to_ground (&camera, drawing.ends[1], &p));
  g_assert_cmpfloat_with_epsilon (bl_dist (p, BL_POINT (7, -2 + 100 * FOOT)), 0, 1e-9);
}

static void
test_unscaled (void)
{
  BlDrawing drawing = scanned ();
  g_autoptr (GError) error = NULL;
  BlCamera camera;
  BlPoint corners[4];

  drawing.length = 0;
  g_assert_true (bl_drawing_camera (&drawing, &camera, &error));
  g_assert_true (camera.solved);
  g_assert_false (camera.scaled);
  bl_drawing_corners (&camera, corners);
  g_assert_cmpfloat_with_epsilon (corners[1].x, BL_DRAWING_LOOSE, 1e-9);
  drawing.width = drawing.height = 0;
  g_assert_false (bl_drawing_camera (&drawing, &camera, &error));
  g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
}

static double
area_of (const BlDrawing *drawing,
         const BlOutline *outline)
{
  g_autoptr (BlOutline) ground = NULL;
  BlCamera camera;

  g_assert_true (bl_drawing_camera (drawing, &camera, NULL));
  ground = bl_outline_to_ground (&camera, outline, NULL);
  return bl_polygon_area (ground->points);
}

/* The stated interval against what a thousand hands would have got: length and clicks drawn anew. */
static void
test_interval (void)
{
  BlDrawing drawing = scanned ();
  g_autoptr (BlOutline) bed = rectangle (2000, 1200, 300, 180);
  const int n = 4000;
  double sum = 0, squares = 0, click = 4;
  int inside = 0;
  BlRng rng = bl_rng (20261129);
  BlMeasured area, perimeter;
  BlCamera camera;

  drawing.click_px = click;
  drawing.sd = 0.15;
  g_assert_true (bl_drawing_camera (&drawing, &camera, NULL));
  g_assert_true (bl_measure_outline (&camera, bed, click, &area, &perimeter, NULL));
  for (int k = 0; k < n; k++)
    {
      BlDrawing drawn = drawing;
      g_autoptr (BlOutline) traced = bl_outline_copy (bed);
      double a;

      drawn.length += drawing.sd * bl_rng_normal (&rng);
      for (int i = 0; i < 2; i++)
        drawn.ends[i] = bl_add (drawn.ends[i], BL_POINT (click * bl_rng_normal (&rng),
                                                         click * bl_rng_normal (&rng)));
      for (guint i = 0; i < traced->points->len; i++)
        bl_points_at (traced->points, i)
          = bl_add (bl_points_at (traced->points, i),
                    BL_POINT (click * bl_rng_normal (&rng), click * bl_rng_normal (&rng)));
      a = area_of (&drawn, traced);
      sum += a - area.value;
      squares += (a - area.value) * (a - area.value);
      inside += fabs (a - area.value) <= 1.96 * area.sd;
    }
  g_test_message ("stated sd %.4f m², drawn %.4f m², %.1f %% inside", area.sd, sqrt (squares / n),
                  100.0 * inside / n);
  g_assert_cmpfloat_with_epsilon (sqrt (squares / n) / area.sd, 1, 0.05);
  g_assert_cmpfloat (fabs (sum / n), <, 0.1 * area.sd);
  g_assert_cmpint (inside, >=, n * 93 / 100);
  g_assert_cmpint (inside, <=, n * 97 / 100);
}

static void
test_out_of_order (void)
{
  static const struct { double x2, length, sd, turn; const char *says; } bad[] = {
    { 300.2, 30, 0, 0, "same spot" },     { 1800, 2e5, 0, 0, "between 1 mm and 100 km" },
    { 1800, NAN, 0, 0, "between 1 mm" },  { 1e9, 30, 0, 0, "far outside" },
    { 1800, 30, -1, 0, "must be a length" }, { 1800, 30, 0, 9, "whole turn" },
    { NAN, 30, 0, 0, "far outside" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      BlDrawing drawing = scanned ();
      g_autoptr (GError) error = NULL;

      drawing.ends[1].x = bad[i].x2;
      drawing.length = bad[i].length;
      drawing.sd = bad[i].sd;
      drawing.turn = bad[i].turn;
      g_assert_false (bl_drawing_check (&drawing, &error));
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
      if (strstr (error->message, bad[i].says) == NULL)
        g_error ("%u: %s", i, error->message);
    }
}

/* ---- pictures ---- */

#define SVG "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink' "

static GBytes *
picture (const char *text,
         GError    **error)
{
  g_autoptr (GBytes) bytes = g_bytes_new_static (text, strlen (text));

  return bl_drawing_picture (bytes, NULL, error);
}

/* A black square of 10 mm at a quarter of a sheet of 100 mm by 50 mm. */
static void
test_svg (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) png
      = picture ("<?xml version='1.0'?><!-- a plan -->" SVG "width='100mm' height='50mm' "
                 "viewBox='0 0 100 50' xmlns:ink='urn:x'><ink:view zoom='1'/><style>.w{fill:#000}</style>"
                 "<defs><g id='tree'><circle r='1'/></g></defs><use xlink:href='#tree' x='80' y='40'/>"
                 "<rect class='w' x='25' y='12.5' width='10' height='10'/></svg>", &error);
  g_autoptr (GBytes) again = NULL;
  g_autoptr (BlImage) image = NULL;
  const BlPixels *level;
  guint32 inside, outside;

  g_assert_no_error (error);
  image = bl_image_decode (png, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (image->width, ==, BL_DRAWING_SIDE);
  g_assert_cmpint (image->height, ==, BL_DRAWING_SIDE / 2);
  level = &image->levels[0];
  inside = *(guint32 *) (void *) (level->data + 600 * level->stride + 4 * 1100);
  outside = *(guint32 *) (void *) (level->data + 600 * level->stride + 4 * 900);
  g_assert_cmphex (inside, ==, 0xff000000);
  /* The paper shows through. */
  g_assert_cmphex (outside, ==, 0);
  /* Once a picture it stays the picture it is. */
  again = bl_drawing_picture (png, NULL, &error);
  g_assert_true (again == png);
}

static void
test_refused (void)
{
  static const struct { const char *text, *says; } bad[] = {
    { SVG "width='9' height='9'><script>1</script></svg>", "runs (script)" },
    { SVG "width='9' height='9' onload='x()'></svg>", "runs (onload)" },
    { SVG "width='9' height='9'><g><image href='file:///etc/passwd'/></g></svg>", "picture inside" },
    { SVG "width='9' height='9'><use xlink:href='http://x.example/a.svg#b'/></svg>",
      "outside itself (http://x.example/a.svg#b)" },
    { SVG "width='9' height='9'><rect fill='url( \"../p.svg#g\")'/></svg>", "outside itself (../p.svg" },
    { SVG "width='9' height='9'><style>@import 'x.css';</style></svg>", "style of the SVG" },
    { SVG "width='9' height='9'><style><![CDATA[a{fill:u\\72l(x)}]]></style></svg>", "style of the SVG" },
    { SVG "width='9' height='9' xml:base='/etc/'/>", "outside itself (/etc/)" },
    { SVG "width='9' height='9'><filter id='f'/></svg>", "not drawn here (filter)" },
    { SVG "width='9' height='9'><foreignObject/></svg>", "runs (foreignObject)" },
    { SVG "width='9' height='9'><g id='a'><use href='#a'/></g></svg>", "would not end" },
    { "<!DOCTYPE svg [<!ENTITY a 'b'>]>" SVG "width='9' height='9'/>", "declares entities" },
    { "<?xml version='1.0'?><?a <svg>?>", "nothing in it" },
    { "<?xml-stylesheet href='x.css'?>" SVG "width='9' height='9'/>", "style sheets" },
    /* What another parser than ours would see as other elements. */
    { "<?xml version='1.0' encoding='UTF-7'?>" SVG "width='9' height='9'>+ADw-script/+AD4-</svg>", "an encoding" },
    { SVG "width='9' height='9'><!-- \xd9 --></svg>", "an encoding" },
    { "<!DOCTYPE svg [<!ENTITY a SYSTEM 'file://;/etc/p\xe8'>]>" SVG "width='9' height='9'>&a;</svg>", "an encoding" },
    { "<!DOCTYPE svg [<!ATTLIST use href CDATA 'x.svg#a'>]>" SVG "width='9' height='9'/>", "entities" },
    { "<!DOCTYPE svg SYSTEM '<'><svg width='9' height='9'><script/></svg><!-- > " SVG "/> -->", "entities" },
    { "<!--> " SVG "width='9' height='9'> <?x --><svg><script/><!-- ?></svg> -->", "entities" },
    { SVG "width='9' height='9' xmlns:q='http://www.w3.org/2000/svg'><q:image href='x.png'/></svg>", "(xmlns:q)" },
    { SVG "width='9' height='9' xmlns:xi='http://www.w3.org/2001/XInclude'><xi:include href='x.svg'/></svg>",
      "(xi:include)" },
    { SVG "width='9' height='9'><style>a{fill:u<!-- -->rl(x)}</style></svg>", "style of the SVG" },
    { SVG "width='9' height='9'><style>a{fill:u<g/>rl(x)}</style></svg>", "style of the SVG" },
    { SVG "width='9' height='9'><g filter='blur(9) blur(9)'/></svg>", "not drawn here (filter)" },
    { SVG "width='9' height='9'><g style='fill:red; Filter : blur(9)'/></svg>", "not drawn here (filter)" },
    { SVG "width='9' height='9'><g style='f\\69lter:blur(9)'/></svg>", "not drawn here (filter)" },
    /* Capitals and escapes spell the same reference. */
    { SVG "width='9' height='9'><rect fill='URL(\"../p.svg#g\")'/></svg>", "outside itself (../p.svg" },
    { SVG "width='9' height='9'><rect fill='u\\72l(#g)'/></svg>", "not drawn here (filter)" },
    { SVG "width='9' height='9'><rect fill='url/**/(#g)'/></svg>", "not drawn here (filter)" },
    { SVG "width='9' height='9'><g id='a'><path id='b' marker-mid='Url(#a)' d='M0 0'/></g></svg>", "would not end" },
    { SVG "/>", "how large it is" },
    { SVG "width='9' height='9000'/>", "more than 64 times" },
    { SVG "width='9' height='9'><g></svg>", "cannot be read" },
    { "<html><svg/></html>", "begins with html" },
    { "not a picture at all", "JPEG" },
    { "", "empty" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) png = picture (bad[i].text, &error);

      if (png != NULL)
        g_error ("%s: taken", bad[i].text);
      g_assert_true (error->domain == BL_ERROR);
      if (strstr (error->message, bad[i].says) == NULL)
        g_error ("%s: %s", bad[i].text, error->message);
    }
}

/* Grey of the middle row of a line of 90 units, drawn. */
static guint
ink_of (const char *inside)
{
  g_autofree char *text = g_strdup_printf (SVG "width='90' height='60'>%s</svg>", inside);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) png = picture (text, &error);
  g_autoptr (BlImage) image = NULL;
  guint ink = 0;

  g_assert_no_error (error);
  image = bl_image_decode (png, NULL, &error);
  g_assert_no_error (error);
  for (int x = 0; x < image->width; x++)
    ink += image->levels[0].data[image->height / 2 * image->levels[0].stride + 4 * x + 3] > 127;
  return ink * 90 / (guint) image->width;
}

/* Dashes are drawn, unless they would be more than a million: then the line is. */
static void
test_dashes (void)
{
#define LINE "<path d='M0 30H90' stroke='#000' stroke-width='2' "

  g_assert_cmpuint (ink_of (LINE "/>"), ==, 90);
  g_assert_cmpuint (ink_of (LINE "stroke-dasharray='5'/>"), ==, 45);
  g_assert_cmpuint (ink_of (LINE "style='stroke-dasharray: 3,6'/>"), ==, 30);
  /* In sight, and out of it. */
  g_assert_cmpuint (ink_of (LINE "stroke-dasharray='.00001'/>"), ==, 90);
  g_assert_cmpuint (ink_of ("<path d='M0 30H90H9e6v9H-9e6' stroke='#000' stroke-dasharray='5'/>"), ==, 90);
  g_assert_cmpuint (ink_of ("<g stroke-dasharray='5'><circle r='1' style='r:9e9'/>" LINE "/></g>"), ==, 90);
  g_assert_cmpuint (ink_of ("<style>*{stroke-dasharray:5}circle{r:9e9px}</style>" LINE "/>"), ==, 90);
  g_assert_cmpuint (ink_of (LINE "stroke-dasharray='5' vector-effect='non-scaling-stroke'/>"), ==, 90);
  /* Used again and again. */
  g_assert_cmpuint (ink_of ("<defs><path id='a' d='m0-900h4e5h-4e5h4e5' stroke='#000'/>"
                            "<g id='b'><use href='#a'/><use href='#a'/><use href='#a'/></g></defs>"
                            "<g stroke-dasharray='5'><use href='#b'/>" LINE "/></g>"), ==, 90);
  g_assert_cmpuint (ink_of ("<defs><path id='a' d='m0-900h4e5h-4e5h4e5' stroke='#000'/></defs>"
                            "<g stroke-dasharray='5'><use href='#a'/>" LINE "/></g>"), ==, 45);
}

/* An outline is as long as it is drawn (SVG 1.1, 8.3). */
static void
test_outlines (void)
{
  static const struct { const char *element, *name, *value; double least, most; } known[] = {
    { "path", "d", "M0 0H3V4z", 12, 12 },
    { "path", "d", "m1-1.5.5.5l3,4", 5 + M_SQRT1_2 - 1e-9, 5 + M_SQRT1_2 + 1e-9 },
    { "path", "d", "M0 0 3 4 0 0", 10, 10 },
    { "path", "d", "M0 0h1zh1zh1z", 6, 6 },
    { "path", "d", "M0 0C0 1 1 1 1 0S2-1 2 0", 6, 6 },
    { "path", "d", "M0 0Q1 0 1 1T0 2", 4, 6 },
    { "path", "d", "M0 0a1 1 0 01 2 0", M_PI, 99 },
    { "path", "d", "M0 0H9 inf", 9, 9 },
    { "path", "d", "M0 0H0x1p9", 0, 0 },
    { "path", "d", "H9", 9, 9 },
    { "polygon", "points", "0,0 3,0 3,4", 12, 99 },
    { "circle", "r", "1", 2 * M_PI - 1e-9, 7 },
    { "circle", "r", "1in", 2 * M_PI * 96 - 1e-9, 700 },
    { "rect", "width", "50%", INFINITY, INFINITY },
    { "text", "width", "50%", 0, 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (known); i++)
    {
      const char *names[] = { known[i].name, NULL }, *values[] = { known[i].value, NULL };
      BlSvgDashes dashes = { 0 };
      double length = bl_svg_dashes_take (&dashes, known[i].element, names, values);

      if (!(length >= known[i].least && length <= known[i].most))
        g_error ("%s: %g", known[i].value, length);
    }
}

/* Of two of one name the first is used, so the second hides nothing. */
static void
test_named_twice (void)
{
  g_autoptr (GString) text = g_string_new (SVG "width='9' height='9'><circle id='l0' r='1'/>");
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) png = NULL;

  for (int i = 1; i <= 9; i++)
    {
      g_string_append_printf (text, "<g id='l%d'>", i);
      for (int k = 0; k < 10; k++)
        g_string_append_printf (text, "<use href='#l%d'/>", i - 1);
      g_string_append (text, "</g>");
    }
  for (int i = 0; i <= 9; i++)
    g_string_append_printf (text, "<g id='l%d'/>", i);
  g_string_append (text, "</svg>");
  png = picture (text->str, &error);
  g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
  g_assert_nonnull (strstr (error->message, "would not end"));
}

/* A thousand pictures laid over one another would take minutes; a part that is not translucent is none. */
static void
test_layers (void)
{
  for (int pass = 0; pass < 2; pass++)
    {
      g_autoptr (GString) text = g_string_new (SVG "width='90' height='60'>");
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) png = NULL;

      for (int i = 0; i < 1000; i++)
        g_string_append (text, pass == 0 ? "<g opacity='1' style='fill-opacity:.5;opacity:1'/>"
                         : i % 2 == 0 ? "<g opacity='.5'/>" : "<g style='fill:red; OPACITY : .5'/>");
      g_string_append (text, "</svg>");
      png = picture (text->str, &error);
      g_assert_true ((png != NULL) == (pass == 0));
      if (pass == 1)
        g_assert_nonnull (strstr (error->message, "would not end"));
    }
}

/* Ten uses in each of nine layers are a thousand million circles in a kilobyte. */
static void
test_multiplied (void)
{
  g_autoptr (GString) text = g_string_new (SVG "width='9' height='9'><circle id='l0' r='1'/>");
  g_autoptr (GBytes) png = NULL;
  g_autoptr (GError) error = NULL;

  for (int layer = 1; layer <= 9; layer++)
    {
      g_string_append_printf (text, "<g id='l%d'>", layer);
      for (int k = 0; k < 10; k++)
        g_string_append_printf (text, "<use href='#l%d'/>", layer - 1);
      g_string_append (text, "</g>");
    }
  g_string_append (text, "</svg>");
  png = picture (text->str, &error);
  g_assert_error (error, BL_ERROR, BL_ERROR_FILE);
  g_assert_null (png);
  g_assert_nonnull (strstr (error->message, "would not end"));
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/survey/drawing/acre", test_acre);
  g_test_add_func ("/survey/drawing/place", test_place);
  g_test_add_func ("/survey/drawing/unscaled", test_unscaled);
  g_test_add_func ("/survey/drawing/interval", test_interval);
  g_test_add_func ("/survey/drawing/out-of-order", test_out_of_order);
  g_test_add_func ("/survey/drawing/svg", test_svg);
  g_test_add_func ("/survey/drawing/refused", test_refused);
  g_test_add_func ("/survey/drawing/multiplied", test_multiplied);
  g_test_add_func ("/survey/drawing/named-twice", test_named_twice);
  g_test_add_func ("/survey/drawing/layers", test_layers);
  g_test_add_func ("/survey/drawing/dashes", test_dashes);
  g_test_add_func ("/survey/drawing/outlines", test_outlines);
  return g_test_run ();
}
