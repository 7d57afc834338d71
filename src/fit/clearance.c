/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Room that things of the place need: drivers' sight, hydrants, boxes, lines, walls, pavement. */
#include <math.h>

#include "fit/fit-private.h"

#define INCH 0.0254
#define FOOT 0.3048
/* Plants in a sight triangle: codes say 24 to 36 in; most of those read say 30. */
#define SIGHT_LIMIT (30 * INCH)
#define SIGHT_STRICT (24 * INCH)
/* Clear all round: NFPA 1 and the International Fire Code, 36 in. */
#define HYDRANT_CLEAR (36 * INCH)
#define HYDRANT_TREE (10 * FOOT)
/* Before the doors 10 to 12 ft by utility, at the sides 2 to 6 ft: the largest when not stated. */
#define TRANSFORMER_CLEAR (12 * FOOT)
#define TRANSFORMER_SIDE (3 * FOOT)
#define BOX_CLEAR (36 * INCH)
/* Tolerance zones are 18 or 24 in each side by state: the wider. */
#define LINE_CLEAR (24 * INCH)
#define LINE_TREE (10 * FOOT)
#define WALL_CLEAR (1 * FOOT)
#define HEADROOM (80 * INCH)
/* Clear ground before a door: the depth on the pull side of a door approached from the front. */
#define DOOR_CLEAR (60 * INCH)

static double
radius (const BlFitSubject *s)
{
  return 0.5 * s->plant->spread;
}

static double
clear_of (const BlFitFeature *feature, double usual)
{
  return feature->feature->tolerance > 0 ? feature->feature->tolerance : usual;
}

static gboolean
is_tree (const BlPlant *p)
{
  return p->type == BL_TYPE_TREE
         || (p->height > 4.0 && bl_plant_is_woody (p) && p->type != BL_TYPE_VINE);
}

static void
check_sight (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("Local codes limit planting in sight triangles to 24 to 36 in; 30 "
                               "in is the usual figure: ask the road authority");
  const BlFitFeature *triangle = NULL;
  double d = bl_fit_nearest (context, s, BL_FEATURE_SIGHT_TRIANGLE, &triangle);
  double limit = 0;
  g_autofree char *height = bl_fit_length (context, s->plant->height);
  g_autofree char *most = bl_fit_length (context, s->plant->height_high);
  g_autofree char *allowed = NULL;

  if (d > radius (s))
    return;
  limit = triangle->feature->height > 0 ? triangle->feature->height : SIGHT_LIMIT;
  allowed = bl_fit_length (context, limit);
  if (s->plant->height > limit)
    bl_fit_add (context, s, "sight-triangle", BL_SEVERITY_DO_NOT, source,
                "Grows to %s at maturity and stands in %s, where plants stay under %s.", height,
                bl_fit_feature_name (context, triangle), allowed);
  else if (s->plant->height_high > limit)
    bl_fit_add (context, s, "sight-triangle", BL_SEVERITY_CAUTION, source,
                "Can grow to %s and stands in %s, where plants stay under %s: it may need cutting.",
                most, bl_fit_feature_name (context, triangle), allowed);
  else if (s->plant->height > SIGHT_STRICT && triangle->feature->height <= 0)
    bl_fit_add (context, s, "sight-triangle", BL_SEVERITY_CAUTION, source,
                "Grows to %s in %s; some codes stop at 24 in (60 cm).", height,
                bl_fit_feature_name (context, triangle));
}

static void
check_hydrant (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("NFPA 1 and the International Fire Code: 36 in clear all round; "
                               "trees 10 to 15 ft by local rule");
  const BlFitFeature *hydrant = NULL;
  double d = bl_fit_nearest (context, s, BL_FEATURE_HYDRANT, &hydrant);
  double gap = d - radius (s);
  g_autofree char *away = bl_fit_length (context, MAX (gap, 0.0));
  g_autofree char *from_stem = NULL;

  if (!isfinite (d))
    return;
  from_stem = bl_fit_length (context, d);
  if (gap < clear_of (hydrant, HYDRANT_CLEAR))
    bl_fit_add (context, s, "hydrant", BL_SEVERITY_DO_NOT, source,
                "At mature spread it ends %s from %s, which needs 36 in (91 cm) clear all round.",
                away, bl_fit_feature_name (context, hydrant));
  else if (is_tree (s->plant) && d < HYDRANT_TREE)
    bl_fit_add (context, s, "hydrant", BL_SEVERITY_CAUTION, source,
                "A tree %s from %s; many places ask for 10 to 15 ft.", from_stem,
                bl_fit_feature_name (context, hydrant));
}

static void
check_transformer (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("Utilities ask for 10 to 12 ft before the doors and 2 to 6 ft at "
                               "the sides; the largest is taken: ask the utility");
  const BlFitFeature *box = NULL;
  double gap = bl_fit_nearest (context, s, BL_FEATURE_TRANSFORMER, &box) - radius (s);
  g_autofree char *away = bl_fit_length (context, MAX (gap, 0.0));
  gboolean near = FALSE;

  if (!isfinite (gap) || gap >= clear_of (box, TRANSFORMER_CLEAR))
    return;
  near = gap < TRANSFORMER_SIDE || s->plant->thorns || s->plant->form == BL_FORM_CLIMBER;
  bl_fit_add (
    context, s, "transformer", near ? BL_SEVERITY_DO_NOT : BL_SEVERITY_CAUTION, source,
    "At mature spread it ends %s from %s%s; before its doors 10 to 12 ft stay clear, at its sides 2"
    " to 6 ft.",
    away, bl_fit_feature_name (context, box),
    s->plant->thorns                    ? bl_fit_say (context, " and is thorny")
    : s->plant->form == BL_FORM_CLIMBER ? bl_fit_say (context, " and climbs")
                                        : "");
}

static void
check_box (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[]
    = BL_SAID ("Common practice: 36 in before the doors of a utility box; ask its owner");
  const BlFitFeature *box = NULL;
  double gap = bl_fit_nearest (context, s, BL_FEATURE_UTILITY_BOX, &box) - radius (s);
  g_autofree char *away = bl_fit_length (context, MAX (gap, 0.0));

  if (isfinite (gap) && gap < clear_of (box, BOX_CLEAR) && s->plant->height > 0.3)
    bl_fit_add (context, s, "utility-box", BL_SEVERITY_CAUTION, source,
                "At mature spread it ends %s from %s, which people must reach.", away,
                bl_fit_feature_name (context, box));
}

static void
check_line (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("Common Ground Alliance, tolerance zone 18 in or more each side, 24 "
                               "in in half the states; call before you dig (811)");
  const BlFitFeature *line = NULL;
  double d = bl_fit_nearest (context, s, BL_FEATURE_BURIED_LINE, &line);
  g_autofree char *away = NULL;

  if (!isfinite (d))
    return;
  away = bl_fit_length (context, d);
  if (is_tree (s->plant) && d < LINE_TREE)
    bl_fit_add (context, s, "buried-line", BL_SEVERITY_DO_NOT, source,
                "A tree %s from %s: roots and repairs will meet.", away,
                bl_fit_feature_name (context, line));
  else if (d < clear_of (line, LINE_CLEAR))
    bl_fit_add (
      context, s, "buried-line",
      bl_plant_is_woody (s->plant) ? BL_SEVERITY_UNLIKELY : BL_SEVERITY_CAUTION, source,
      "Its hole is %s from %s, within the zone that is dug by hand after the line has been marked;"
      " repairs will lift it.",
      away, bl_fit_feature_name (context, line));
}

static void
check_wall (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("Common practice: a foot of air between a mature shrub and a wall");
  static const BlFeatureKind kinds[] = { BL_FEATURE_WALL, BL_FEATURE_FENCE };
  guint i = 0;

  for (i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      const BlFitFeature *wall = NULL;
      double d = bl_fit_nearest (context, s, kinds[i], &wall);
      double gap = d - radius (s);
      g_autofree char *away = isfinite (d) ? bl_fit_length (context, d) : NULL;
      g_autofree char *spread = bl_fit_length (context, s->plant->spread);

      if (away == NULL || !bl_plant_is_woody (s->plant) || s->plant->form == BL_FORM_CLIMBER
          || s->plant->type == BL_TYPE_VINE || gap >= WALL_CLEAR || s->plant->height < 0.6)
        continue;
      bl_fit_add (context, s, "wall",
                  gap < -0.25 * s->plant->spread ? BL_SEVERITY_UNLIKELY : BL_SEVERITY_CAUTION,
                  source, "Grows %s wide and stands %s from %s: it will press against it.", spread,
                  away, bl_fit_feature_name (context, wall));
    }
}

/* Thorns at doors are told by the rule on thorns. */
static void
check_door (BlFitContext *context, const BlFitSubject *s)
{
  static const char source[] = BL_SAID ("2010 ADA Standards 404.2.4: 60 in clear on the pull side of a door "
                               "approached from the front; local codes may ask for more");
  const BlFitFeature *door = NULL;
  double d = bl_fit_nearest (context, s, BL_FEATURE_DOOR, &door);
  double gap = d - radius (s);
  g_autofree char *away = isfinite (d) ? bl_fit_length (context, MAX (gap, 0.0)) : NULL;
  g_autofree char *clear = NULL;

  if (away == NULL || gap >= clear_of (door, DOOR_CLEAR) || s->plant->height < 0.15
      || (is_tree (s->plant) && s->plant->height > 2 * HEADROOM && d > LINE_CLEAR))
    return;
  clear = bl_fit_length (context, clear_of (door, DOOR_CLEAR));
  bl_fit_add (context, s, "door", d < radius (s) ? BL_SEVERITY_DO_NOT : BL_SEVERITY_CAUTION, source,
              "At mature spread it ends %s from %s; %s stay clear where people come and go.", away,
              bl_fit_feature_name (context, door), clear);
}

static void
check_pavement (BlFitContext *context, const BlFitSubject *s)
{
  static const char root_source[]
    = BL_SAID ("Common practice: trees that lift pavement stand 8 ft from it, none within 3 ft");
  static const char pass_source[]
    = BL_SAID ("Common practice; headroom over walks 80 in (1991 ADA Accessibility Guidelines 4.4)");
  static const BlFeatureKind kinds[] = { BL_FEATURE_KERB, BL_FEATURE_WALK, BL_FEATURE_DRIVE };
  const BlPlant *p = s->plant;
  guint i = 0;

  for (i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      const BlFitFeature *pavement = NULL;
      double d = bl_fit_nearest (context, s, kinds[i], &pavement);
      double over = radius (s) - d;
      g_autofree char *away = isfinite (d) ? bl_fit_length (context, d) : NULL;
      g_autofree char *overhang = bl_fit_length (context, MAX (over, 0.0));

      if (away == NULL)
        continue;
      if (p->root_risk == BL_GRADE_HIGH && d < 8 * FOOT)
        bl_fit_add (context, s, "roots", d < 3 * FOOT ? BL_SEVERITY_DO_NOT : BL_SEVERITY_CAUTION,
                    root_source, "Its roots lift pavement, and it stands %s from %s.", away,
                    bl_fit_feature_name (context, pavement));
      else if (p->root_risk == BL_GRADE_MEDIUM && is_tree (p) && d < 4 * FOOT)
        bl_fit_add (context, s, "roots", BL_SEVERITY_CAUTION, root_source,
                    "A tree whose roots may lift pavement, %s from %s.", away,
                    bl_fit_feature_name (context, pavement));
      if (kinds[i] != BL_FEATURE_KERB && bl_plant_is_woody (p) && p->height > 0.45 && over > 0.15
          && !(is_tree (p) && p->height > 2 * HEADROOM))
        bl_fit_add (context, s, "overhang", BL_SEVERITY_CAUTION, pass_source,
                    "At mature spread it reaches %s over %s.", overhang,
                    bl_fit_feature_name (context, pavement));
    }
}

void
bl_fit_clearance (BlFitContext *context, const BlFitSubject *subject)
{
  check_sight (context, subject);
  check_hydrant (context, subject);
  check_transformer (context, subject);
  check_box (context, subject);
  check_line (context, subject);
  check_wall (context, subject);
  check_door (context, subject);
  check_pavement (context, subject);
}
