/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Real photographs of a chessboard: the plane map of four corners, and the lens from one edge. */
#include "photo/homography.h"
#include "photo/solve.h"
#include "shared-fixture.h"

#include <stdlib.h>

#define COLUMNS 9
#define ROWS 6

typedef struct
{
  int width, height;
  BlPoint px[ROWS][COLUMNS]; /* corner based pixels */
  double median_corners;     /* what a vision library's plane map reaches, squares */
} Board;

static gboolean
load_board (int    number,
            Board *board)
{
  g_autofree char *name = g_strdup_printf ("planar/left%02d.json", number);
  g_autoptr (JsonParser) parser = NULL;
  JsonObject *root = shared_json (name, &parser), *reference;
  JsonArray *points;

  if (root == NULL)
    return FALSE;
  board->width = (int) json_object_get_int_member (root, "width");
  board->height = (int) json_object_get_int_member (root, "height");
  points = json_object_get_array_member (root, "points");
  for (guint i = 0; i < json_array_get_length (points); i++)
    {
      JsonObject *point = json_array_get_object_element (points, i);
      BlPoint at = shared_pair (point, "board");

      /* The file's pixels have their zero at the centre of the first pixel. */
      board->px[(int) at.y][(int) at.x] = bl_add (shared_pair (point, "px"), BL_POINT (0.5, 0.5));
    }
  reference = json_object_get_object_member (root, "reference_accuracy_opencv_findHomography");
  reference = json_object_get_object_member (reference, "A_four_outer_corners");
  reference = json_object_get_object_member (reference, "point_err_squares");
  board->median_corners = json_object_get_double_member (reference, "median");
  return TRUE;
}

/* The board lies "on the ground"; squares are metres. */
static BlSolution *
solve_corners (const Board *board,
               gboolean     positions,
               int          edge)
{
  g_autoptr (GPtrArray) knowns = g_ptr_array_new_with_free_func ((GDestroyNotify) bl_known_free);
  g_autoptr (GError) error = NULL;
  static const int corner[4][2] = { { 0, 0 }, { 8, 0 }, { 8, 5 }, { 0, 5 } };
  BlPhotoPrior prior = { .width = board->width, .height = board->height, .click_px = 0.1,
                         .no_lens = edge < 0 };
  BlSolution *solution;

  for (int i = 0; i < 4 && positions; i++)
    {
      BlKnown *known = bl_known_new (BL_KNOWN_POSITION);

      bl_points_add (known->px, board->px[corner[i][1]][corner[i][0]]);
      known->size[0] = corner[i][0];
      known->size[1] = -corner[i][1];
      known->sd = 1e-3;
      g_ptr_array_add (knowns, known);
    }
  if (!positions)
    {
      BlKnown *known = bl_known_new (BL_KNOWN_RECTANGLE);

      for (int i = 0; i < 4; i++)
        bl_points_add (known->px, board->px[corner[i][1]][corner[i][0]]);
      known->size[0] = 8.0;
      known->size[1] = 5.0;
      known->sd = 1e-3;
      g_ptr_array_add (knowns, known);
    }
  if (edge >= 0)
    {
      BlKnown *known = bl_known_new (BL_KNOWN_STRAIGHT);

      for (int i = 0; i < (edge < 2 ? COLUMNS : ROWS); i++)
        bl_points_add (known->px, edge < 2 ? board->px[edge * (ROWS - 1)][i]
                                           : board->px[i][(edge - 2) * (COLUMNS - 1)]);
      g_ptr_array_add (knowns, known);
    }
  solution = bl_solve_camera (&prior, knowns, &error);
  g_assert_no_error (error);
  return solution;
}

static int
compare_double (const void *a,
                const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

/* Where a corner lies on the board by the camera, by the plane coordinates of the four outer
 * corners so that nothing but the map is compared. */
static double
median_error (const Board    *board,
              const BlCamera *camera,
              double         *against_map)
{
  BlPoint corners[4] = { board->px[0][0], board->px[0][8], board->px[5][8], board->px[5][0] };
  BlPoint plane[4] = { { 0, 0 }, { 8, 0 }, { 8, -5 }, { 0, -5 } };
  BlPoint ground[4], origin, u, v;
  double errors[ROWS * COLUMNS], h[9];
  guint n = 0;

  g_assert_true (bl_homography_from_points (corners, plane, 4, h));
  for (int i = 0; i < 4; i++)
    g_assert_true (bl_camera_to_ground (camera, corners[i], &ground[i]));
  origin = ground[0];
  u = bl_mul (bl_sub (ground[1], ground[0]), 1.0 / bl_dist (ground[1], ground[0]));
  v = BL_POINT (-u.y, u.x);
  if (bl_dot (bl_sub (ground[3], ground[0]), v) > 0.0)
    v = bl_mul (v, -1.0);
  *against_map = 0.0;
  for (int r = 0; r < ROWS; r++)
    for (int c = 0; c < COLUMNS; c++)
      {
        BlPoint g, by_map = bl_homography_apply (h, board->px[r][c]), at;

        g_assert_true (bl_camera_to_ground (camera, board->px[r][c], &g));
        g = bl_sub (g, origin);
        at = BL_POINT (bl_dot (g, u), bl_dot (g, v));
        /* The four given corners are not counted: they cannot err. */
        if (!((r == 0 || r == ROWS - 1) && (c == 0 || c == COLUMNS - 1)))
          errors[n++] = bl_dist (at, BL_POINT (c, -r));
        *against_map = MAX (*against_map, bl_dist (at, by_map));
      }
  qsort (errors, n, sizeof *errors, compare_double);
  return 0.5 * (errors[n / 2] + errors[(n - 1) / 2]);
}

/* Without a lens term the camera of four corners is their plane map. */
static void
test_four_corners (void)
{
  for (int number = 1; number <= 7; number++)
    for (int positions = 0; positions <= 1; positions++)
      {
        g_autoptr (BlSolution) solution = NULL;
        double median, off;
        Board board;

        if (!load_board (number, &board))
          return;
        solution = solve_corners (&board, positions != 0, -1);
        median = median_error (&board, &solution->camera, &off);
        g_test_message ("left%02d %s: map %.5f squares, median %.4f (library %.4f), f %.0f pitch %.1f "
                        "roll %.1f", number, positions ? "positions" : "rectangle", off, median,
                        board.median_corners, solution->camera.focal,
                        solution->camera.pitch * 180 / G_PI, solution->camera.roll * 180 / G_PI);
        g_assert_cmpfloat (off, <, 1e-3);
        g_assert_cmpfloat_with_epsilon (median, board.median_corners, 1e-3);
      }
}

/* Of the board's long edges the one that passes farthest from the picture's centre: a line through
 * the centre is seen straight by any lens. */
static int
outer_edge (const Board *board)
{
  BlPoint centre = BL_POINT (board->width / 2.0, board->height / 2.0);
  double top = bl_segment_distance (centre, board->px[0][0], board->px[0][8], NULL);
  double bottom = bl_segment_distance (centre, board->px[5][0], board->px[5][8], NULL);

  return top > bottom ? 0 : 1;
}

/* One straight edge gives the lens. */
static void
test_lens (void)
{
  double all[7];

  for (int number = 1; number <= 7; number++)
    {
      g_autoptr (BlSolution) solution = NULL;
      double off;
      Board board;

      if (!load_board (number, &board))
        return;
      solution = solve_corners (&board, FALSE, outer_edge (&board));
      all[number - 1] = median_error (&board, &solution->camera, &off);
      g_test_message ("left%02d: median %.4f squares, k1 %.3f, f %.0f, %s", number, all[number - 1],
                      solution->camera.k1, solution->camera.focal,
                      solution->message != NULL ? solution->message : "");
    }
  for (int i = 0; i < 7; i++)
    g_assert_cmpfloat (all[i], <=, 0.02);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/board/four-corners", test_four_corners);
  g_test_add_func ("/photo/board/lens-from-one-edge", test_lens);
  return g_test_run ();
}
