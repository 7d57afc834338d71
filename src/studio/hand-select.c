/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hand that selects and moves: click, shift-click, rubber band, drag. */

#include "config.h"

#include "studio/hold.h"
#include "studio/spot.h"

#include <glib/gi18n.h>

typedef enum
{
  DOING_NOTHING,
  DOING_BAND,
  DOING_MOVE,
  DOING_KNOWN,
  DOING_OVER /* what was held is gone; the button is still down */
} Doing;

typedef struct
{
  BlHand hand;
  Doing doing;
  gboolean on_selected; /* the press was on something selected */
  gboolean found;
  BlPick pick;          /* what the press or the hover is on */
  gboolean hover_found;
  BlPick hover;
  BlHold hold;          /* a known's point, where knowns are looked at */
} SelectHand;

static gboolean
pick_at (BlHand *hand, BlPoint at, BlPick *pick)
{
  BlScene *scene = bl_board_get_scene (hand->board);
  const BlSceneItem *item;

  if (scene == NULL || scene->view != bl_board_get_view (hand->board))
    return FALSE;
  item = bl_scene_pick (scene, at, hand->slack);
  if (item == NULL)
    return FALSE;
  pick->id = item->id;
  switch (item->kind)
    {
    case BL_ITEM_PLANT:
    case BL_ITEM_SHADOW:
      pick->kind = BL_PICK_PLANTING;
      break;
    case BL_ITEM_GROUND:
      pick->kind = BL_PICK_BED;
      break;
    case BL_ITEM_FEATURE:
    case BL_ITEM_FRONT:
    default:
      pick->kind = BL_PICK_FEATURE;
      break;
    }
  return TRUE;
}

static void
press (BlHand *hand, const BlHandEvent *event)
{
  SelectHand *self = (SelectHand *) hand;

  self->doing = DOING_NOTHING;
  bl_hold_keep (&self->hold, hand);
  if (bl_board_get_stage (hand->board) == BL_STAGE_KNOWN
      && bl_board_get_view (hand->board) == BL_VIEW_PHOTO
      && bl_hold_find (&self->hold, hand, FALSE))
    {
      self->doing = DOING_KNOWN;
      bl_board_select (hand->board, BL_PICK_KNOWN, self->hold.id, FALSE);
      return;
    }
  self->hold.id = 0;
  self->found = pick_at (hand, event->at, &self->pick);
  self->on_selected = self->found
                      && bl_board_is_selected (hand->board, self->pick.kind, self->pick.id);
  if (self->found && !self->on_selected && self->pick.kind != BL_PICK_BED)
    bl_board_select (hand->board, self->pick.kind, self->pick.id,
                     (event->mods & BL_MOD_SHIFT) != 0);
}

static gboolean
shift_on_ground (BlHand *hand, BlPoint *by)
{
  BlPoint from, to;

  if (!bl_board_to_plan (hand->board, hand->press_at, &from)
      || !bl_board_to_plan (hand->board, hand->at, &to))
    return FALSE;
  *by = bl_sub (to, from);
  return TRUE;
}

/* The one specimen that is being moved, or NULL. */
static const BlPlanting *
lone_specimen (BlHand *hand)
{
  const GArray *selection = bl_board_get_selection (hand->board);
  const BlPlanting *planting;
  BlPick pick;

  if (selection->len != 1)
    return NULL;
  pick = g_array_index (selection, BlPick, 0);
  planting = pick.kind == BL_PICK_PLANTING
               ? bl_model_planting (bl_board_get_model (hand->board), pick.id) : NULL;
  return planting != NULL && planting->form == BL_PLANTING_SPECIMEN && planting->shape != NULL
           ? planting : NULL;
}

static BlPoint
snapped (BlHand *hand, BlPoint by)
{
  const BlPlanting *planting = lone_specimen (hand);
  BlPlant *plant;
  BlPoint at, to;

  if (planting == NULL || (hand->mods & BL_MOD_CTRL) != 0)
    return by;
  plant = bl_model_plant (bl_board_get_model (hand->board), planting->slug);
  at = bl_points_at (planting->shape->points, 0);
  if (plant == NULL)
    return by;
  to = bl_spot_snap (hand->board, plant, bl_add (at, by),
                      bl_spot_slack (hand->board, hand->at, bl_add (at, by), hand->slack),
                      planting->id);
  return bl_sub (to, at);
}

static void
drag (BlHand *hand, const BlHandEvent *event)
{
  SelectHand *self = (SelectHand *) hand;
  const GArray *selection = bl_board_get_selection (hand->board);
  BlPoint by;

  if (self->doing == DOING_KNOWN)
    bl_hold_drag (&self->hold, hand, bl_hand_aim_sd (hand));
  if (self->doing == DOING_NOTHING)
    self->doing = self->found && (self->pick.kind == BL_PICK_PLANTING || self->on_selected)
                    ? DOING_MOVE : DOING_BAND;
  if (self->doing != DOING_MOVE || !shift_on_ground (hand, &by))
    return;
  by = snapped (hand, by);
  if (selection->len == 1 && g_array_index (selection, BlPick, 0).kind == BL_PICK_PLANTING)
    bl_board_lift (hand->board, g_array_index (selection, BlPick, 0).id, by);
}

static BlRect
band (const BlHand *hand)
{
  return (BlRect) { MIN (hand->press_at.x, hand->at.x), MIN (hand->press_at.y, hand->at.y),
                    MAX (hand->press_at.x, hand->at.x), MAX (hand->press_at.y, hand->at.y) };
}

static void
select_in_band (BlHand *hand)
{
  BlScene *scene = bl_board_get_scene (hand->board);
  g_autoptr (GArray) picks = g_array_new (FALSE, FALSE, sizeof (BlPick));
  const GArray *before = bl_board_get_selection (hand->board);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  BlRect rect = band (hand);

  if ((hand->mods & BL_MOD_SHIFT) != 0)
    g_array_append_vals (picks, before->data, before->len);
  for (guint i = 0; scene != NULL && i < scene->items->len; i++)
    {
      const BlSceneItem *item = &g_array_index (scene->items, BlSceneItem, i);
      BlPick pick = { BL_PICK_PLANTING, item->id };

      if (item->kind != BL_ITEM_PLANT || item->base.x < rect.x0 || item->base.x > rect.x1
          || item->base.y < rect.y0 || item->base.y > rect.y1
          || !g_hash_table_add (seen, g_memdup2 (&item->id, sizeof item->id)))
        continue;
      g_array_append_val (picks, pick);
    }
  bl_board_set_selection (hand->board, picks);
}

static void
release (BlHand *hand, const BlHandEvent *event)
{
  SelectHand *self = (SelectHand *) hand;
  Doing doing = self->doing;
  BlPoint by;

  self->doing = DOING_NOTHING;
  if (doing == DOING_OVER)
    return;
  if (doing == DOING_KNOWN)
    {
      bl_hold_keep (&self->hold, hand);
      return;
    }
  if (doing == DOING_BAND)
    {
      select_in_band (hand);
      return;
    }
  if (doing == DOING_MOVE)
    {
      if (shift_on_ground (hand, &by))
        bl_board_move_selection (hand->board, snapped (hand, by));
      bl_board_lift (hand->board, 0, BL_POINT (0, 0));
      return;
    }
  if (!self->found)
    bl_board_clear_selection (hand->board);
  else if ((event->mods & BL_MOD_SHIFT) != 0)
    {
      if (self->on_selected)
        bl_board_toggle (hand->board, self->pick.kind, self->pick.id);
    }
  else
    bl_board_select (hand->board, self->pick.kind, self->pick.id, FALSE);
}

static void
hover (BlHand *hand, const BlHandEvent *event)
{
  SelectHand *self = (SelectHand *) hand;

  self->hover_found
      = pick_at (hand, event->at, &self->hover) && self->hover.kind == BL_PICK_PLANTING;
}

static void
cancel (BlHand *hand)
{
  SelectHand *self = (SelectHand *) hand;

  bl_hold_drop (&self->hold, hand);
  if (self->doing != DOING_NOTHING)
    bl_board_lift (hand->board, 0, BL_POINT (0, 0));
  self->doing = DOING_NOTHING;
}

static void
clear (BlHand *hand)
{
  g_clear_pointer (&((SelectHand *) hand)->hold.moved, bl_known_free);
}

static gboolean
aims (BlHand *hand)
{
  return ((SelectHand *) hand)->doing == DOING_KNOWN;
}

/* The known's point that was pressed last, as long as its known is what is selected. */
static gboolean
nudge (BlHand *hand, BlPoint by)
{
  SelectHand *self = (SelectHand *) hand;

  return self->hold.id != 0 && bl_board_get_view (hand->board) == BL_VIEW_PHOTO
         && bl_board_is_selected (hand->board, BL_PICK_KNOWN, self->hold.id)
         && bl_hold_nudge (&self->hold, hand, by);
}

static void
rest (BlHand *hand)
{
  if (!hand->pressed)
    bl_hold_keep (&((SelectHand *) hand)->hold, hand);
}

/* A key took away what the button still holds: the rest of the drag is nothing. */
static void
drop (BlHand *hand)
{
  cancel (hand);
  if (hand->pressed)
    ((SelectHand *) hand)->doing = DOING_OVER;
}

static gboolean
key (BlHand *hand, BlHandKey which)
{
  switch (which)
    {
    case BL_KEY_ESCAPE:
      /* What is selected stays when another hand is taken; only the person lets go of it. */
      if (((SelectHand *) hand)->doing == DOING_NOTHING)
        bl_board_clear_selection (hand->board);
      drop (hand);
      return TRUE;
    case BL_KEY_DELETE:
    case BL_KEY_BACKSPACE:
      drop (hand);
      bl_board_delete_selection (hand->board);
      return TRUE;
    case BL_KEY_ENTER:
    case BL_KEY_SMALLER:
    case BL_KEY_LARGER:
    case BL_KEY_SHARP:
    default:
      return FALSE;
    }
}

static void
mark_moved (BlHand *hand, BlMarks *marks)
{
  const BlPlanting *lone = lone_specimen (hand);
  BlLayout *layout = bl_board_get_layout (hand->board);
  BlPoint by;

  if (!shift_on_ground (hand, &by))
    return;
  by = snapped (hand, by);
  for (guint i = 0; layout != NULL && i < layout->placed->len; i++)
    {
      const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, i);

      if (!bl_board_is_selected (hand->board, BL_PICK_PLANTING, placed->planting_id))
        continue;
      if (lone != NULL)
        bl_spot_marks (hand->board, marks, placed->plant, bl_add (placed->at, by), lone->id, FALSE);
      else
        bl_marks_add (marks, BL_MARK_RING, BL_INK_ACTIVE, FALSE,
                      bl_board_ring_seen (hand->board, bl_add (placed->at, by),
                                          placed->plant->spread / 2));
    }
}

static void
mark (BlHand *hand, BlMarks *marks)
{
  SelectHand *self = (SelectHand *) hand;
  BlLayout *layout = bl_board_get_layout (hand->board);

  bl_hold_marks (&self->hold, hand, marks);
  if (self->doing == DOING_BAND)
    {
      BlRect r = band (hand);
      BlPoints *ring = bl_points_new ();

      bl_points_add (ring, BL_POINT (r.x0, r.y0));
      bl_points_add (ring, BL_POINT (r.x1, r.y0));
      bl_points_add (ring, BL_POINT (r.x1, r.y1));
      bl_points_add (ring, BL_POINT (r.x0, r.y1));
      bl_marks_add_filled (marks, BL_INK_SELECTED, ring);
    }
  else if (self->doing == DOING_MOVE)
    mark_moved (hand, marks);
  else if (self->hover_found && hand->inside
           && !bl_board_is_selected (hand->board, self->hover.kind, self->hover.id))
    for (guint i = 0; layout != NULL && i < layout->placed->len; i++)
      {
        const BlPlaced *placed = &g_array_index (layout->placed, BlPlaced, i);

        if (placed->planting_id == self->hover.id)
          bl_marks_add (marks, BL_MARK_RING, BL_INK_HOVER, FALSE,
                        bl_board_ring_seen (hand->board, placed->at, placed->plant->spread / 2));
      }
}

static char *
hint (BlHand *hand)
{
  guint n = bl_board_get_selection (hand->board)->len;

  if (((SelectHand *) hand)->hold.id != 0)
    return g_strdup (_("Drag the point; arrow keys move it by a tenth of a pixel, Shift by one"));
  if (n == 0 && bl_board_get_stage (hand->board) == BL_STAGE_KNOWN
      && bl_board_get_view (hand->board) == BL_VIEW_PHOTO)
    return g_strdup (_("Drag a known's point to move it, or choose on the left what else is known"));
  if (n == 0)
    return g_strdup (
        _ ("Click a plant to select it, drag over several, or walk through them with Tab"));
  return g_strdup (_("Drag or use the arrow keys to move; Delete removes; Ctrl+D copies"));
}

const BlHandClass bl_hand_select = {
  .name = "select", .cursor = "default", .size = sizeof (SelectHand), .press = press, .drag = drag,
  .release = release, .hover = hover, .cancel = cancel, .key = key, .marks = mark, .hint = hint,
  .clear = clear, .aims = aims, .nudge = nudge, .rest = rest
};
