/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the person knows about the photo: copies, names and the checks of a single known. */
#include "config.h"

#include "photo/known.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"

static const struct
{
  const char *name; /* the sheet's word */
  guint n_px;
  int n_sizes;
} kinds[BL_KNOWN_N] = {
  [BL_KNOWN_RECTANGLE] = { "rectangle", 4, 2 },
  [BL_KNOWN_LENGTH] = { "length", 2, 1 },
  [BL_KNOWN_HEIGHT] = { "height", 2, 1 },
  [BL_KNOWN_RIGHT_ANGLE] = { "right_angle", 3, 0 },
  [BL_KNOWN_PARALLEL] = { "parallel", 4, 0 },
  [BL_KNOWN_EQUAL_LENGTHS] = { "equal_lengths", 4, 0 },
  [BL_KNOWN_POSITION] = { "position", 1, 0 },
  [BL_KNOWN_HORIZON] = { "horizon", 2, 0 },
  [BL_KNOWN_STRAIGHT] = { "straight", 3, 0 },
  [BL_KNOWN_EYE] = { "eye", 0, 1 },
  [BL_KNOWN_CHECK] = { "check", 2, 0 },
};

BlKnown *
bl_known_new (BlKnownKind kind)
{
  BlKnown *known = g_new0 (BlKnown, 1);

  g_return_val_if_fail (kind < BL_KNOWN_N, known);
  known->kind = kind;
  known->px = bl_points_new ();
  return known;
}

BlKnown *
bl_known_copy (const BlKnown *known)
{
  BlKnown *copy = g_memdup2 (known, sizeof *known);

  copy->px = bl_points_copy (known->px);
  copy->name = g_strdup (known->name);
  return copy;
}

void
bl_known_free (BlKnown *known)
{
  if (known == NULL)
    return;
  g_clear_pointer (&known->px, g_array_unref);
  g_free (known->name);
  g_free (known);
}

const char *
bl_known_kind_name (BlKnownKind kind)
{
  g_return_val_if_fail (kind < BL_KNOWN_N, NULL);
  return kinds[kind].name;
}

gboolean
bl_known_kind_from_name (const char  *name,
                         BlKnownKind *kind)
{
  for (int i = 0; i < BL_KNOWN_N; i++)
    if (g_strcmp0 (name, kinds[i].name) == 0)
      {
        *kind = i;
        return TRUE;
      }
  return FALSE;
}

guint
bl_known_n_px (BlKnownKind kind)
{
  g_return_val_if_fail (kind < BL_KNOWN_N, 0);
  return kinds[kind].n_px;
}

char *
bl_known_describe (const BlKnown *known)
{
  static const char *const words[BL_KNOWN_N] = {
    N_("the rectangle"), N_("the length"), N_("the height"), N_("the right angle"),
    N_("the pair of parallel lines"), N_("the pair of equal lengths"), N_("the surveyed point"),
    N_("the horizon"), N_("the straight line"), N_("the height of the lens"), N_("the check line"),
  };

  if (known->name != NULL && known->name[0] != '\0')
    return g_strdup_printf ("%s \"%s\"", _(words[known->kind]), known->name);
  return g_strdup (_(words[known->kind]));
}

static gboolean
refuse (const BlKnown *known,
        const char    *what,
        GError       **error)
{
  g_autofree char *who = bl_known_describe (known);

  who[0] = g_ascii_toupper (who[0]);
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT, "%s %s.", who, what);
  return FALSE;
}

static gboolean
check_sizes (const BlKnown *known,
             GError       **error)
{
  for (int i = 0; i < kinds[known->kind].n_sizes; i++)
    {
      if (!isfinite (known->size[i]) || known->size[i] <= 0.0)
        return refuse (known, known->kind == BL_KNOWN_RECTANGLE
                                ? _("needs a width and a depth greater than nothing")
                                : _("needs a size greater than nothing"), error);
      if (known->size[i] > 10000.0)
        return refuse (known, _("is stated as longer than 10 km; check its unit"), error);
    }
  if (known->kind == BL_KNOWN_POSITION
      && !(fabs (known->size[0]) <= 1e7 && fabs (known->size[1]) <= 1e7))
    return refuse (known, _("needs two plan coordinates within 10,000 km"), error);
  if (!(known->sd >= 0.0 && isfinite (known->sd)))
    return refuse (known, _("has a standard deviation that is not a number or is negative"), error);
  if (!(known->click_px >= 0.0 && isfinite (known->click_px)))
    return refuse (known, _("has a click error that is not a number or is negative"), error);
  return TRUE;
}

gboolean
bl_known_check (const BlKnown *known,
                GError       **error)
{
  guint need;

  g_return_val_if_fail (known != NULL && known->kind < BL_KNOWN_N, FALSE);
  need = kinds[known->kind].n_px;
  if (known->px->len < need || (known->px->len > need && known->kind != BL_KNOWN_STRAIGHT))
    {
      g_autofree char *what
          = known->kind == BL_KNOWN_STRAIGHT
                ? g_strdup_printf (_("needs at least %u points in the photo, but has %u"), need,
                                   known->px->len)
                : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "needs %u point in the photo, but has %u",
                                                "needs %u points in the photo, but has %u", need),
                                   need, known->px->len);

      return refuse (known, what, error);
    }
  for (guint i = 0; i < known->px->len; i++)
    {
      BlPoint p = bl_points_at (known->px, i);

      /* Far outside any photo is a slip of the sheet, not a click. */
      if (!(fabs (p.x) <= 1e6 && fabs (p.y) <= 1e6))
        return refuse (known, _("has a pixel that is not a number or lies far outside any photo"),
                       error);
    }
  return check_sizes (known, error);
}

double
bl_known_sd (const BlKnown *known,
             int            which)
{
  double size = fabs (known->size[which]);

  if (known->sd > 0.0)
    return known->sd;
  switch (known->kind)
    {
    case BL_KNOWN_RECTANGLE:
    case BL_KNOWN_LENGTH:
    case BL_KNOWN_HEIGHT:
      return MIN (size / 200.0, 0.01 + size / 1000.0);
    case BL_KNOWN_POSITION:
    case BL_KNOWN_EYE:
      return known->kind == BL_KNOWN_EYE ? 0.05 : 0.02;
    case BL_KNOWN_RIGHT_ANGLE:
    case BL_KNOWN_PARALLEL:
      return 0.1 * G_PI / 180.0;
    case BL_KNOWN_EQUAL_LENGTHS:
      return 0.002;
    case BL_KNOWN_HORIZON:
    case BL_KNOWN_STRAIGHT:
    case BL_KNOWN_CHECK:
    case BL_KNOWN_N:
    default:
      return 0.0;
    }
}
