/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plants together: room at maturity, the bed line, lines of sight, supports, spring companions. */
#include <math.h>
#include <stdlib.h>

#include "fit/fit-private.h"
#include "geometry/polygon.h"

/* Crowns may meet by this share of their mean spread; closer, one loses (common practice: centres
 * at 0.75 to 1.0 of the spread, 0.6 for ground cover). */
#define CLOSE_SHARE 0.7
#define CLOSE_SHARE_SAME 0.6
/* Reach of a support from the stem (common practice). */
#define SUPPORT_REACH 0.6
/* How far behind the taller plant a lower one can still be hidden by it. */
#define HIDE_DEPTH 2.5
#define HIDE_SHARE 0.4 /* of its spread, to either side */
/* Months are judged when the planting has filled in. */
#define GROWN 4.0
#define STRIP 1.0 /* metres across the plan that are looked through together */

typedef struct
{
  BlPoint at;
  const BlFitSubject *subject;
  guint index; /* of the subject */
  gint64 planting_id;
  double spread, height;
} Standing;

/* Those who stand in a rectangle. */
typedef struct
{
  const GArray *all;
  double x0, x1;
  int strip, last;
  guint next;
} Near;

typedef struct
{
  guint first, second; /* subjects */
  double least, needed;
  guint count;
  gint64 planting_id; /* where they stand nearest */
} Crowd;

static int
strip_of (double y)
{
  return (int) floor (y / STRIP);
}

/* By strips across the plan, and along each by x. */
static int
compare_places (gconstpointer pa, gconstpointer pb)
{
  const Standing *a = pa, *b = pb;
  int from = strip_of (a->at.y), to = strip_of (b->at.y);

  return from != to ? (from > to) - (from < to) : (a->at.x > b->at.x) - (a->at.x < b->at.x);
}

static GArray *
standing_of (const BlFitContext *context)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (Standing));
  guint i = 0, k = 0;

  for (i = 0; i < context->subjects->len; i++)
    {
      const BlFitSubject *s = &g_array_index (context->subjects, BlFitSubject, i);

      for (k = 0; k < s->n_points; k++)
        {
          Standing one = { s->points[k], s, i, s->ids[k], s->plant->spread, s->plant->height };

          g_array_append_val (all, one);
        }
    }
  g_array_sort (all, compare_places);
  return all;
}

/* The first that stands in @strip and not left of @x, or in a later strip. */
static guint
first_from (const GArray *all, int strip, double x)
{
  guint low = 0, high = all->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;
      BlPoint at = g_array_index (all, Standing, middle).at;
      int its = strip_of (at.y);

      if (its < strip || (its == strip && at.x < x))
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

static Near
near_of (const GArray *all, BlPoint p, double aside, double before, double behind)
{
  Near near = { all, p.x - aside, p.x + aside, strip_of (p.y - before), strip_of (p.y + behind), 0 };

  near.next = first_from (all, near.strip, near.x0);
  return near;
}

/* The next of those in the rectangle of @near, and a little before and behind it; NULL after the last. */
static const Standing *
near_next (Near *near)
{
  while (near->next < near->all->len)
    {
      const Standing *one = &g_array_index (near->all, Standing, near->next);
      int strip = strip_of (one->at.y);

      if (strip == near->strip && one->at.x <= near->x1)
        {
          near->next++;
          return one;
        }
      near->strip = MAX (strip, near->strip + (strip == near->strip));
      if (near->strip > near->last)
        break;
      near->next = first_from (near->all, near->strip, near->x0);
    }
  return NULL;
}

static double
widest_of (const GArray *all)
{
  double widest = 0;

  for (guint i = 0; i < all->len; i++)
    widest = MAX (widest, g_array_index (all, Standing, i).spread);
  return widest;
}

/* Kinds that share ground with others by nature: bulbs under perennials, climbers on their wall,
 * low plants under trees. */
static gboolean
may_share (const BlPlant *a, const BlPlant *b)
{
  const BlPlant *tall = a->height >= b->height ? a : b;
  const BlPlant *low = tall == a ? b : a;

  if (a->spring_only || b->spring_only || a->type == BL_TYPE_BULB || b->type == BL_TYPE_BULB
      || a->type == BL_TYPE_VINE || b->type == BL_TYPE_VINE)
    return TRUE;
  return bl_plant_is_woody (tall) && tall->height > 2.5 * low->height
         && (tall->type == BL_TYPE_TREE || low->height < 0.4);
}

static void
note_crowd (GArray *crowds, const Standing *a, const Standing *b, double d, double needed)
{
  guint first = MIN (a->index, b->index), second = MAX (a->index, b->index), i = 0;
  Crowd fresh
    = { first, second, d, needed, 1, first == a->index ? a->planting_id : b->planting_id };

  for (i = 0; i < crowds->len; i++)
    {
      Crowd *c = &g_array_index (crowds, Crowd, i);

      if (c->first != first || c->second != second)
        continue;
      c->count++;
      if (d < c->least)
        c->planting_id = fresh.planting_id;
      c->least = MIN (c->least, d);
      return;
    }
  g_array_append_val (crowds, fresh);
}

static void
tell_crowd (BlFitContext *context, const Crowd *c)
{
  static const char source[]
    = BL_SAID ("Common practice: centres at three quarters of the mature spread or more");
  const BlFitSubject *a = &g_array_index (context->subjects, BlFitSubject, c->first);
  const BlFitSubject *b = &g_array_index (context->subjects, BlFitSubject, c->second);
  g_autofree char *apart = bl_fit_length (context, c->least);
  g_autofree char *needed = bl_fit_length (context, c->needed);
  g_autofree char *other = bl_plant_name (b->plant);
  BlSeverity severity = c->least < 0.4 * c->needed ? BL_SEVERITY_UNLIKELY : BL_SEVERITY_CAUTION;

  context->speaking = c->planting_id;
  if (c->first == c->second)
    bl_fit_add (context, a, "too-close", severity, source,
                "Planted %s apart; at maturity each is %s wide.", apart, needed);
  else
    bl_fit_add (
      context, a, "too-close", severity, source,
      "Stands as near as %s to %s%s; at maturity the two need about %s from centre to centre.",
      apart, other, c->count > 1 ? bl_fit_say (context, " (in several places)") : "", needed);
}

static void
check_room (BlFitContext *context, const GArray *all)
{
  g_autoptr (GArray) crowds = g_array_new (FALSE, FALSE, sizeof (Crowd));
  double widest = widest_of (all);
  guint i = 0;

  for (i = 0; i < all->len; i++)
    {
      const Standing *a = &g_array_index (all, Standing, i), *b = NULL;
      double reach = MAX (CLOSE_SHARE, CLOSE_SHARE_SAME) * 0.5 * (a->spread + widest);
      Near near = near_of (all, a->at, reach, reach, reach);

      while ((b = near_next (&near)) != NULL)
        {
          double needed = 0.5 * (a->spread + b->spread);
          double share = a->index == b->index ? CLOSE_SHARE_SAME : CLOSE_SHARE;
          double d = 0;

          if (b <= a)
            continue;
          d = bl_dist (a->at, b->at);
          if (d < share * needed - 0.005 && !may_share (a->subject->plant, b->subject->plant))
            note_crowd (crowds, a, b, d, needed);
        }
    }
  for (i = 0; i < crowds->len; i++)
    tell_crowd (context, &g_array_index (crowds, Crowd, i));
}

static void
check_bed_line (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("Mature spread from the plant's record, measured to the bed line");
  double most = 0, allowed = bl_plant_is_woody (s->plant) ? 0.15 : 0.30;
  g_autofree char *over = NULL;
  g_autofree char *who = NULL;
  guint count = 0, i = 0;

  if (s->bed == NULL || s->bed->ring == NULL || s->plant->type == BL_TYPE_TREE)
    return;
  for (i = 0; i < s->n_points; i++)
    {
      double reach
        = 0.5 * s->plant->spread - bl_polygon_inside_distance (s->bed->ring, s->points[i]);

      count += reach > allowed;
      most = MAX (most, reach);
    }
  if (count == 0)
    return;
  over = bl_fit_length (context, most);
  who = s->n_points == 1
          ? g_strdup (bl_fit_say (context, "it reaches"))
          : g_strdup_printf (bl_fit_say (context, "%u of %u reach"), count, s->n_points);
  bl_fit_add (context, s, "over-bed-line", BL_SEVERITY_CAUTION, source,
              "At maturity %s over the bed line, by up to %s.", who, over);
}

/* Is @p behind a standing plant that rises over @s? The plan's y runs away from the viewer. @reach: as
 * far to the side as any plant hides another. */
static gboolean
is_hidden (const GArray *all, const BlFitSubject *s, BlPoint p, double reach, const BlPlant **by)
{
  double height = s->plant->height;
  Near near = near_of (all, p, reach, HIDE_DEPTH, 0.0);
  const Standing *o = NULL;

  while ((o = near_next (&near)) != NULL)
    {
      double depth = p.y - o->at.y;

      if (o->subject == s || depth < 0.5 * o->spread || depth > HIDE_DEPTH
          || fabs (p.x - o->at.x) > HIDE_SHARE * o->spread
          || o->subject->plant->foliage_height < height + 0.15 || o->subject->plant->spring_only
          || o->subject->plant->type == BL_TYPE_VINE)
        continue;
      *by = o->subject->plant;
      return TRUE;
    }
  return FALSE;
}

static void
check_hidden (BlFitContext *context, const GArray *all, const BlFitSubject *s)
{
  const BlPlant *by = NULL;
  double reach = HIDE_SHARE * widest_of (all);
  guint hidden = 0, i = 0;
  g_autofree char *who = NULL;
  g_autofree char *name = NULL;
  g_autofree char *height = NULL;
  g_autofree char *other = NULL;

  if (s->plant->spring_only || s->plant->type == BL_TYPE_BULB || s->plant->type == BL_TYPE_TREE)
    return;
  for (i = 0; i < s->n_points; i++)
    hidden += is_hidden (all, s, s->points[i], reach, &by);
  if (hidden == 0 || hidden * 10 < s->n_points * 6)
    return;
  name = bl_plant_name (by);
  who = s->n_points == 1
          ? g_strdup (bl_fit_say (context, "it stands"))
          : g_strdup_printf (bl_fit_say (context, "%u of %u stand"), hidden, s->n_points);
  height = bl_fit_length (context, s->plant->height);
  other = bl_fit_length (context, by->foliage_height);
  bl_fit_add (context, s, "hidden", BL_SEVERITY_CAUTION,
              BL_SAID ("Common practice: lower plants before taller ones"),
              "%s tall, and as the photo or plan is looked at %s behind %s (%s).", height, who,
              name, other);
}

static gboolean
has_support (const BlFitContext *context, BlPoint p)
{
  guint i = 0;

  for (i = 0; i < context->features->len; i++)
    {
      const BlFitFeature *f = &g_array_index (context->features, BlFitFeature, i);
      BlFeatureKind kind = f->feature->kind;

      if ((kind == BL_FEATURE_WALL || kind == BL_FEATURE_FENCE || kind == BL_FEATURE_POST
           || kind == BL_FEATURE_TREE)
          && bl_fit_distance (f, p) <= SUPPORT_REACH)
        return TRUE;
    }
  return FALSE;
}

static void
check_support (BlFitContext *context, const BlFitSubject *s)
{
  guint without = 0, i = 0;
  gboolean climbs
    = s->plant->form == BL_FORM_CLIMBER || g_strcmp0 (s->plant->support, "trellis") == 0;
  g_autofree char *reach = bl_fit_length (context, SUPPORT_REACH);
  g_autofree char *height = bl_fit_length (context, s->plant->height);

  for (i = 0; climbs && i < s->n_points; i++)
    without += !has_support (context, s->points[i]);
  if (without > 0)
    bl_fit_add (
      context, s, "no-support", BL_SEVERITY_CAUTION,
      BL_SAID ("Common practice: a climber is planted within two feet of what it climbs"),
      "Climbs to %s, and no wall, fence, post or tree stands within %s (%u without): give it a"
      " trellis or another place.",
      height, reach, without);
}

/* What covers the ground in the middle of May. */
static double
leaf_in_may (const BlFitContext *context, const BlPlant *p)
{
  double month = bl_season_month (context->season, 5.5);

  return bl_plant_look (p, NULL, context->season, (BlMoment){ month, GROWN }).leaf;
}

static gboolean
has_spring_companion (const GArray *all, const BlFitSubject *s, BlPoint p)
{
  double reach = MAX (s->plant->spread, 0.6);
  Near near = near_of (all, p, reach, reach, reach);
  const Standing *o = NULL;

  while ((o = near_next (&near)) != NULL)
    {
      const BlPlant *other = o->subject->plant;
      gboolean early = other->spring_only || (other->flower_from >= 2 && other->flower_from <= 5)
                       || (other->leaves == BL_LEAVES_EVERGREEN && !bl_plant_is_woody (other));

      if (o->subject != s && early && bl_dist (o->at, p) <= reach)
        return TRUE;
    }
  return FALSE;
}

static void
check_late (BlFitContext *context, const GArray *all, const BlFitSubject *s)
{
  g_autofree char *who = NULL;
  guint alone = 0, i = 0;

  /* Warm-season grasses keep their straw until then and are no gap. */
  if (bl_plant_is_woody (s->plant) || s->plant->leaves != BL_LEAVES_DECIDUOUS
      || s->plant->spring_only || s->plant->type == BL_TYPE_ANNUAL
      || s->plant->type == BL_TYPE_GRASS || s->plant->emerges < 5
      || leaf_in_may (context, s->plant) > 0.3)
    return;
  for (i = 0; i < s->n_points; i++)
    alone += !has_spring_companion (all, s, s->points[i]);
  if (alone == 0)
    return;
  who = s->n_points == 1
          ? g_strdup (bl_fit_say (context, "it has"))
          : g_strdup_printf (bl_fit_say (context, "%u of %u have"), alone, s->n_points);
  bl_fit_add (
    context, s, "late-emerger", BL_SEVERITY_CAUTION,
    BL_SAID (
      "Common practice: spring bulbs between late risers, whose leaves then hide the bulbs' own"),
    "Comes up late (%s in zone 6) and leaves a gap in spring: %s no bulb or other early plant"
    " near by.",
    bl_fit_month (context, s->plant->emerges), who);
}

/* Slugs and genera that @p should not stand beside, as its record says. */
static gboolean
shuns (const BlPlant *p, const BlPlant *other)
{
  guint i = 0;

  for (i = 0; p->avoid != NULL && p->avoid[i] != NULL; i++)
    if (g_ascii_strcasecmp (p->avoid[i], other->genus) == 0
        || g_strcmp0 (p->avoid[i], other->slug) == 0)
      return TRUE;
  return FALSE;
}

static double
least_apart (const BlFitSubject *a, const BlFitSubject *b, gint64 *planting_id)
{
  double least = INFINITY;
  guint i = 0, k = 0;

  for (i = 0; i < a->n_points; i++)
    for (k = 0; k < b->n_points; k++)
      if (bl_dist (a->points[i], b->points[k]) < least)
        {
          least = bl_dist (a->points[i], b->points[k]);
          *planting_id = a->ids[i];
        }
  return least;
}

/* Told once a pair, about the one whose record says so. */
static void
check_neighbours (BlFitContext *context)
{
  static const char source[] = BL_SAID ("The plant's record; cedar-apple, cedar-hawthorn and cedar-quince "
                               "rust pass between junipers and apple kin (extension services)");
  guint i = 0, k = 0;

  for (i = 0; i < context->subjects->len; i++)
    for (k = 0; k < context->subjects->len; k++)
      {
        const BlFitSubject *a = &g_array_index (context->subjects, BlFitSubject, i);
        const BlFitSubject *b = &g_array_index (context->subjects, BlFitSubject, k);
        g_autofree char *apart = NULL;
        g_autofree char *other = NULL;
        gint64 planting_id = 0;

        if (i == k || !shuns (a->plant, b->plant) || (k < i && shuns (b->plant, a->plant)))
          continue;
        apart = bl_fit_length (context, least_apart (a, b, &planting_id));
        other = bl_plant_name (b->plant);
        context->speaking = planting_id;
        bl_fit_add (context, a, "neighbour", BL_SEVERITY_CAUTION, source,
                    "Should not stand beside %s, which is planted %s away: trouble passes between the"
                    " two.",
                    other, apart);
      }
  context->speaking = 0;
}

void
bl_fit_composition (BlFitContext *context)
{
  g_autoptr (GArray) all = standing_of (context);
  guint i = 0;

  check_room (context, all);
  check_neighbours (context);
  context->speaking = 0;
  for (i = 0; i < context->subjects->len; i++)
    {
      const BlFitSubject *s = &g_array_index (context->subjects, BlFitSubject, i);

      check_bed_line (context, s);
      check_hidden (context, all, s);
      check_support (context, s);
      check_late (context, all, s);
    }
}
