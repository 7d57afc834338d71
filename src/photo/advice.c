/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ranks further measurements by what they would do for a bed's area. */
#include "config.h"

#include "photo/advice.h"

#include "geometry/polygon.h"
#include "photo/measure-private.h"
#include "photo/model-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define EXTRA 4         /* clicks that a candidate may add */
#define STAFF 2.0       /* metres */

/* Camera, the outline's clicks and some more clicks together, with their covariance. */
typedef struct
{
  const BlCamera *camera;
  const BlOutline *outline;
  BlPoints *ground;     /* of the outline */
  double click_px;
  guint n;              /* outline points */
  guint size;           /* of the state */
  double *cov;          /* size × size */
  double *area;         /* the area's gradient */
  double value;
  guint i_long[2], i_wide[2], i_diagonal[2];
} State;

static void
clear_advice (gpointer data)
{
  g_free (((BlAdvice *) data)->sentence);
}

void
bl_advice_list_free (BlAdviceList *list)
{
  if (list == NULL)
    return;
  g_clear_pointer (&list->items, g_array_unref);
  g_free (list->enclosure);
  g_free (list);
}

/* One observation with gradient @h and variance @noise, taken into the covariance. */
static void
observe (double       *cov,
         guint         size,
         const double *h,
         double        noise)
{
  g_autofree double *ph = g_new0 (double, size);
  double s = noise;

  for (guint i = 0; i < size; i++)
    for (guint k = 0; k < size; k++)
      ph[i] += cov[(gsize) i * size + k] * h[k];
  for (guint i = 0; i < size; i++)
    s += h[i] * ph[i];
  for (guint i = 0; i < size; i++)
    for (guint k = 0; k < size; k++)
      cov[(gsize) i * size + k] -= ph[i] * ph[k] / s;
}

static double
relative_sd (const State  *state,
             const double *cov)
{
  double variance = 0.0;

  for (guint i = 0; i < state->size; i++)
    for (guint k = 0; k < state->size; k++)
      variance += state->area[i] * cov[(gsize) i * state->size + k] * state->area[k];
  return sqrt (MAX (variance, 0.0)) / state->value;
}

/* Observes a quantity of two clicks, which are numbers @at of the state's clicks. */
static gboolean
observe_pair (const State *state,
              double      *cov,
              BlQuantity   quantity,
              BlPoint      a,
              BlPoint      b,
              guint        at_a,
              guint        at_b)
{
  g_autoptr (BlPoints) px = bl_points_new ();
  g_autofree double *h = g_new0 (double, state->size);
  double clicks[4], value, sd;

  bl_points_add (px, a);
  bl_points_add (px, b);
  if (!quantity (state->camera, px, NULL, &value)
      || !bl_gradient_camera (state->camera, quantity, px, NULL, h)
      || !bl_gradient_clicks (state->camera, quantity, px, NULL, clicks))
    return FALSE;
  memcpy (h + BL_CAM_N + 2 * at_a, clicks, 2 * sizeof *clicks);
  memcpy (h + BL_CAM_N + 2 * at_b, clicks + 2, 2 * sizeof *clicks);
  sd = MIN (value / 200.0, 0.01 + value / 1000.0);
  observe (cov, state->size, h, sd * sd);
  return TRUE;
}

static gboolean
in_photo (const BlCamera *camera,
          BlPoint         px)
{
  return px.x >= 0.0 && px.y >= 0.0 && px.x <= camera->width && px.y <= camera->height;
}

/* Farthest pair whose direction lies within @spread of @direction. */
static gboolean
farthest (const BlPoints *ground,
          double          direction,
          double          spread,
          guint          *pair)
{
  double best = 0.0;

  for (guint i = 0; i < ground->len; i++)
    for (guint j = 0; j < i; j++)
      {
        BlPoint d = bl_sub (bl_points_at (ground, i), bl_points_at (ground, j));
        double off = fabs (remainder (atan2 (d.y, d.x) - direction, G_PI));

        if (off <= spread && bl_norm (d) > best)
          {
            best = bl_norm (d);
            pair[0] = j;
            pair[1] = i;
          }
      }
  return best > 0.0;
}

/* A plain four-cornered bed is taped along its sides; any other along and across. */
static void
choose_pairs (State *state)
{
  const BlPoints *g = state->ground;
  guint *l = state->i_long, *w = state->i_wide, *d = state->i_diagonal;
  BlPoint along;
  double direction;

  if (g->len == 4 && state->outline->straight)
    {
      double best = 0.0;

      for (guint i = 0; i < 4; i++)
        if (bl_dist (bl_points_at (g, i), bl_points_at (g, (i + 1) % 4)) > best)
          {
            best = bl_dist (bl_points_at (g, i), bl_points_at (g, (i + 1) % 4));
            l[0] = i;
          }
      l[1] = w[0] = (l[0] + 1) % 4;
      w[1] = (l[0] + 2) % 4;
      d[0] = l[0];
      d[1] = w[1];
      return;
    }
  farthest (g, 0.0, G_PI, l);
  along = bl_sub (bl_points_at (g, l[1]), bl_points_at (g, l[0]));
  direction = atan2 (along.y, along.x);
  if (!farthest (g, direction + G_PI_2, 0.26, w))
    memcpy (w, l, sizeof state->i_wide);
  if (!farthest (g, direction + G_PI_4, 0.3, d))
    memcpy (d, l, sizeof state->i_diagonal);
}

static void
state_clear (State *state)
{
  g_clear_pointer (&state->ground, g_array_unref);
  g_free (state->cov);
  g_free (state->area);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (State, state_clear)

static gboolean
state_init (State           *state,
            const BlCamera  *camera,
            const BlOutline *outline,
            double           click_px,
            GError         **error)
{
  g_autoptr (BlOutline) ground = NULL;
  BlMeasured area, perimeter;

  if (!bl_measure_outline (camera, outline, click_px, &area, &perimeter, error))
    return FALSE;
  ground = bl_outline_to_ground (camera, outline, error);
  if (ground == NULL)
    return FALSE;
  state->camera = camera;
  state->outline = outline;
  state->click_px = click_px;
  state->ground = bl_points_copy (ground->points);
  state->n = outline->points->len;
  state->size = BL_CAM_N + 2 * (state->n + EXTRA);
  state->value = area.value;
  state->area = g_new0 (double, state->size);
  state->cov = g_new0 (double, (gsize) state->size * state->size);
  bl_gradient_camera (camera, bl_area_quantity, outline->points, outline, state->area);
  bl_gradient_area (camera, outline, state->area + BL_CAM_N);
  for (int i = 0; i < BL_CAM_N; i++)
    for (int k = 0; k < BL_CAM_N; k++)
      state->cov[(gsize) i * state->size + k] = camera->cov[i * BL_CAM_N + k];
  for (guint i = BL_CAM_N; i < state->size; i++)
    state->cov[(gsize) i * state->size + i] = click_px * click_px;
  choose_pairs (state);
  return TRUE;
}

/* Four stakes 0.3 m outside the bed, along its long side. */
static gboolean
place_stakes (const State *state,
              BlPoint     *px,
              BlPoint     *plan)
{
  BlPoint u = bl_sub (bl_points_at (state->ground, state->i_long[1]),
                      bl_points_at (state->ground, state->i_long[0]));
  double lo[2] = { INFINITY, INFINITY }, hi[2] = { -INFINITY, -INFINITY };
  BlPoint v;

  u = bl_mul (u, 1.0 / bl_norm (u));
  v = BL_POINT (-u.y, u.x);
  for (guint i = 0; i < state->n; i++)
    {
      BlPoint p = bl_points_at (state->ground, i);
      double c[2] = { bl_dot (p, u), bl_dot (p, v) };

      for (int k = 0; k < 2; k++)
        {
          lo[k] = MIN (lo[k], c[k] - 0.3);
          hi[k] = MAX (hi[k], c[k] + 0.3);
        }
    }
  for (int i = 0; i < 4; i++)
    {
      double a = i == 1 || i == 2 ? hi[0] : lo[0], b = i >= 2 ? hi[1] : lo[1];

      plan[i] = bl_add (bl_mul (u, a), bl_mul (v, b));
      if (!bl_camera_project (state->camera, plan[i].x, plan[i].y, 0.0, &px[i])
          || !in_photo (state->camera, px[i]))
        return FALSE;
    }
  return TRUE;
}

static gboolean
observe_outline (const State *state,
                 double      *cov,
                 const guint *pair,
                 BlAdvice    *advice)
{
  advice->px[0] = bl_points_at (state->outline->points, pair[0]);
  advice->px[1] = bl_points_at (state->outline->points, pair[1]);
  advice->n_px = 2;
  return observe_pair (state, cov, bl_length_quantity, advice->px[0], advice->px[1], pair[0], pair[1]);
}

/* A staff at the farthest point of the bed. */
static gboolean
observe_staff (const State *state,
               double      *cov,
               BlAdvice    *advice)
{
  BlPoint far = bl_points_at (state->ground, 0);

  for (guint i = 1; i < state->n; i++)
    {
      BlPoint g = bl_points_at (state->ground, i);

      if (bl_camera_metres_per_pixel (state->camera, g)
          > bl_camera_metres_per_pixel (state->camera, far))
        far = g;
    }
  if (!bl_camera_project (state->camera, far.x, far.y, 0.0, &advice->px[0])
      || !bl_camera_project (state->camera, far.x, far.y, STAFF, &advice->px[1])
      || !in_photo (state->camera, advice->px[1]))
    return FALSE;
  advice->n_px = 2;
  return observe_pair (state, cov, bl_height_quantity, advice->px[0], advice->px[1], state->n, state->n + 1);
}

static gboolean
observe_stakes (const State *state,
                double      *cov,
                BlAdvice    *advice)
{
  BlPoint plan[4];

  if (!place_stakes (state, advice->px, plan))
    return FALSE;
  advice->n_px = 4;
  for (guint i = 0; i < 4; i++)
    for (guint j = 0; j < i; j++)
      if (!observe_pair (state, cov, bl_length_quantity, advice->px[j], advice->px[i], state->n + j,
                         state->n + i))
        return FALSE;
  return TRUE;
}

/* Takes a candidate into @cov; FALSE when it cannot be had. */
static gboolean
observe_candidate (const State *state,
                   double      *cov,
                   BlAdvice    *advice)
{
  g_autofree double *h = NULL;
  int p = advice->kind == BL_ADVICE_EYE ? BL_CAM_HEIGHT : BL_CAM_FOCAL;
  double sd;

  switch (advice->kind)
    {
    case BL_ADVICE_LENGTH:
      return observe_outline (state, cov, state->i_long, advice);
    case BL_ADVICE_WIDTH:
      return observe_outline (state, cov, state->i_wide, advice);
    case BL_ADVICE_DIAGONAL:
      return observe_outline (state, cov, state->i_diagonal, advice);
    case BL_ADVICE_HEIGHT:
      return observe_staff (state, cov, advice);
    case BL_ADVICE_STAKES:
      return observe_stakes (state, cov, advice);
    case BL_ADVICE_EYE:
    case BL_ADVICE_FOCAL:
    default:
      break;
    }
  /* The lens's height to 2 cm; a focal length from metadata to 2 %. */
  sd = advice->kind == BL_ADVICE_EYE ? 0.02 / state->camera->eye : 0.02;
  if (state->camera->cov[p * BL_CAM_N + p] <= sd * sd)
    return FALSE;
  h = g_new0 (double, state->size);
  h[p] = 1.0;
  observe (cov, state->size, h, sd * sd);
  return TRUE;
}

static char *
sentence_for (BlAdviceKind kind,
              double       before,
              double       after)
{
  static const char *const what[] = {
    [BL_ADVICE_LENGTH] = N_("Tape the bed's long side"),
    [BL_ADVICE_WIDTH] = N_("Tape straight across the bed"),
    [BL_ADVICE_DIAGONAL] = N_("Tape the bed's diagonal"),
    [BL_ADVICE_HEIGHT] = N_("Mark a thing of known height, such as a 2 m staff, at the bed's far edge"),
    [BL_ADVICE_EYE] = N_("Measure how high the lens was above the ground"),
    [BL_ADVICE_STAKES] = N_("Set four stakes round the bed and tape their sides and diagonals"),
    [BL_ADVICE_FOCAL] = N_("Use the original photo, whose metadata state the focal length"),
  };

  return g_strdup_printf (_("%s: ± %.2g %% becomes ± %.2g %%."), _(what[kind]), 196.0 * before,
                          196.0 * after);
}

static double
turn (BlPoint a,
      BlPoint b,
      BlPoint c)
{
  return bl_cross (bl_sub (b, a), bl_sub (c, a));
}

static int
compare_points (gconstpointer a,
                gconstpointer b)
{
  const BlPoint *p = a, *q = b;

  return p->x != q->x ? (p->x < q->x ? -1 : 1) : (p->y > q->y) - (p->y < q->y);
}

/* Andrew's monotone chain. */
static BlPoints *
hull_of (BlPoints *points)
{
  BlPoints *hull = bl_points_new ();

  g_array_sort (points, compare_points);
  for (int pass = 0; pass < 2; pass++)
    {
      guint base = hull->len;

      for (guint k = 0; k < points->len; k++)
        {
          BlPoint p = bl_points_at (points, pass == 0 ? k : points->len - 1 - k);

          while (hull->len >= base + 2
                 && turn (bl_points_at (hull, hull->len - 2), bl_points_at (hull, hull->len - 1), p)
                    <= 0.0)
            g_array_set_size (hull, hull->len - 1);
          bl_points_add (hull, p);
        }
      g_array_set_size (hull, MAX (hull->len, 1) - 1);
    }
  return hull;
}

/* Part of the bed that lies outside the ground the knowns span. */
static double
part_outside (const State     *state,
              const GPtrArray *knowns)
{
  g_autoptr (BlPoints) points = bl_points_new ();
  g_autoptr (BlPoints) hull = NULL;
  g_autoptr (BlOutline) bed = bl_outline_copy (state->outline);
  g_autoptr (BlPoints) ring = NULL;
  g_autoptr (BlRegion) a = NULL, b = NULL, common = NULL;

  for (guint k = 0; k < knowns->len; k++)
    {
      const BlKnown *known = g_ptr_array_index (knowns, k);
      BlPoint g;

      for (guint i = 0; i < bl_known_ground_clicks (known) && known->kind != BL_KNOWN_CHECK; i++)
        if (bl_camera_to_ground (state->camera, bl_points_at (known->px, i), &g))
          bl_points_add (points, g);
    }
  if (points->len < 3)
    return 1.0;
  hull = hull_of (points);
  g_array_set_size (bed->points, 0);
  g_array_append_vals (bed->points, state->ground->data, state->ground->len);
  ring = bl_outline_flatten (bed, 0.01);
  if (hull->len < 3 || (a = bl_region_new (ring, NULL)) == NULL
      || (b = bl_region_new (hull, NULL)) == NULL
      || (common = bl_region_intersection (a, b, NULL)) == NULL)
    return 1.0;
  return 1.0 - bl_region_area (common) / bl_region_area (a);
}

static int
compare_after (gconstpointer a,
               gconstpointer b)
{
  double d = ((const BlAdvice *) a)->after - ((const BlAdvice *) b)->after;

  return d < 0.0 ? -1 : d > 0.0;
}

BlAdviceList *
bl_advise (const BlCamera  *camera,
           const GPtrArray *knowns,
           const BlOutline *outline_px,
           double           click_px,
           GError         **error)
{
  g_autoptr (BlAdviceList) list = g_new0 (BlAdviceList, 1);
  g_auto (State) state = { 0 };

  list->items = g_array_new (FALSE, TRUE, sizeof (BlAdvice));
  g_array_set_clear_func (list->items, clear_advice);
  if (!state_init (&state, camera, outline_px, click_px, error))
    return NULL;
  list->before = relative_sd (&state, state.cov);
  for (int kind = BL_ADVICE_LENGTH; kind <= BL_ADVICE_FOCAL; kind++)
    {
      gsize bytes = sizeof (double) * state.size * state.size;
      g_autofree double *cov = g_memdup2 (state.cov, bytes);
      BlAdvice advice = { .kind = kind };

      if (!observe_candidate (&state, cov, &advice))
        continue;
      advice.after = relative_sd (&state, cov);
      if (advice.after > 0.9 * list->before)
        continue;
      advice.sentence = sentence_for (kind, list->before, advice.after);
      g_array_append_val (list->items, advice);
    }
  g_array_sort (list->items, compare_after);
  list->outside = part_outside (&state, knowns);
  if (list->outside > 0.3)
    list->enclosure = g_strdup_printf (_("%.0f %% of the bed lies outside what the knowns enclose, where "
                                       "errors grow fastest; a known on its other side helps most."),
                                       100.0 * list->outside);
  return g_steal_pointer (&list);
}
