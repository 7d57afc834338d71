/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plants by bed, kind and size: counted positions beside the area formula. */
#include <math.h>
#include <string.h>

#include "takeoff/takeoff-private.h"

typedef struct
{
  BlPlantCount count;
  guint bed_index;
  char *name;        /* botanical, for sorting */
  guint spread_out;  /* plants of rows, drifts and fills: they get a reserve */
  gboolean by_area;
  GString *rule;
} Group;

static void
group_free (gpointer data)
{
  Group *group = data;

  g_free (group->name);
  g_string_free (group->rule, TRUE);
  g_free (group);
}

static guint
bed_index (const BlModel *model, gint64 id)
{
  for (guint i = 0; i < model->beds->len; i++)
    if (((const BlBed *) model->beds->pdata[i])->id == id)
      return i;
  return G_MAXUINT;
}

static const char *
size_of (const BlPlanting *planting, const BlPlant *plant)
{
  if (planting->size != NULL && planting->size[0] != '\0')
    return planting->size;
  return plant->n_sizes > 0 ? plant->sizes[0].name : "";
}

static Group *
group_for (GPtrArray *groups, const BlModel *model, const BlPlanting *planting, BlPlant *plant)
{
  const char *size = size_of (planting, plant);
  Group *group;

  for (guint i = 0; i < groups->len; i++)
    {
      group = groups->pdata[i];
      if (group->count.bed_id == planting->bed_id && group->count.plant == plant
          && strcmp (group->count.size, size) == 0)
        return group;
    }
  group = g_new0 (Group, 1);
  group->count.bed_id = planting->bed_id;
  group->count.plant = plant;
  group->count.size = size;
  group->bed_index = bed_index (model, planting->bed_id);
  group->name = bl_plant_name (plant);
  group->rule = g_string_new (NULL);
  g_ptr_array_add (groups, group);
  return group;
}

static void
add_part (Group *group, const BlPlanting *planting, const BlLayoutPart *part, const char *language)
{
  g_autofree char *words
    = g_strdup_printf ("%s: %s", bl_say (language, bl_planting_form_name (planting->form)), part->rule);

  group->count.count += part->count;
  if (planting->form != BL_PLANTING_SPECIMEN)
    {
      group->spread_out += part->count;
      if (group->count.spacing == 0)
        group->count.spacing = part->spacing;
    }
  if (planting->form == BL_PLANTING_DRIFT || planting->form == BL_PLANTING_FILL)
    {
      group->by_area = TRUE;
      group->count.formula_count
        += bl_lattice_formula_count (part->area, part->spacing, part->kind);
    }
  else
    group->count.formula_count += part->count;
  if (strstr (group->rule->str, words) == NULL)
    g_string_append_printf (group->rule, "%s%s", group->rule->len > 0 ? "; " : "", words);
}

static int
compare_groups (const void *a, const void *b)
{
  const Group *p = *(Group *const *) a, *q = *(Group *const *) b;
  int names;

  if (p->bed_index != q->bed_index)
    return p->bed_index < q->bed_index ? -1 : 1;
  names = strcmp (p->name, q->name);
  return names != 0 ? names : strcmp (p->count.size, q->count.size);
}

/* How many come in a pack: the amount of the firm's own price for the plant, when above one. */
static guint
pack_of (const BlPriceBook *book, const BlPlantCount *count)
{
  g_autofree char *key = g_strdup_printf ("%s|%s", count->plant->slug, count->size);
  const BlPriceItem *item = bl_price_book_find (book, key);

  return item != NULL && item->amount >= 2 && item->amount <= 10000 ? (guint) item->amount : 1;
}

/* Whole plants bed by bed, then whole packs over the job: what a pack holds too many goes to the
 * last bed of the kind. */
static void
add_orders (GPtrArray *groups, const BlPriceBook *book, const char *language)
{
  for (guint i = 0; i < groups->len; i++)
    {
      Group *group = groups->pdata[i];
      double reserve = ceil (group->spread_out * book->rules.reserve - 1e-9);
      g_autofree char *percent = bl_figure (100 * book->rules.reserve);

      group->count.reserve = (guint) MAX (reserve, 0);
      group->count.order = group->count.count + group->count.reserve;
      if (group->count.reserve > 0)
        g_string_append_printf (group->rule,
                                bl_say (language, "; %u in reserve (%s %%, whole plants)"),
                                group->count.reserve, percent);
    }
  for (guint i = 0; i < groups->len; i++)
    {
      Group *last = groups->pdata[i];
      guint pack = pack_of (book, &last->count), sum = 0, over;
      gboolean first = TRUE;

      for (guint k = 0; k < groups->len; k++)
        {
          Group *other = groups->pdata[k];

          if (other->count.plant != last->count.plant
              || strcmp (other->count.size, last->count.size) != 0)
            continue;
          first &= k >= i;
          sum += other->count.count + other->count.reserve;
          last = other;
        }
      over = (pack - sum % pack) % pack;
      if (!first || over == 0)
        continue;
      last->count.order += over;
      g_string_append_printf (last->rule, bl_say (language, "; %u more to whole packs of %u"), over,
                              pack);
    }
}

void
bl_takeoff_count_plants (BlTakeoff *takeoff)
{
  const BlLayout *layout = takeoff->layout;
  g_autoptr (GPtrArray) groups = g_ptr_array_new_with_free_func (group_free);
  g_autoptr (GHashTable) kinds = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < layout->parts->len; i++)
    {
      const BlLayoutPart *part = &g_array_index (layout->parts, BlLayoutPart, i);
      const BlPlanting *planting = bl_model_planting (layout->model, part->planting_id);
      BlPlant *plant = bl_model_plant (layout->model, planting->slug);

      if (part->count == 0)
        continue;
      add_part (group_for (groups, layout->model, planting, plant), planting, part,
                takeoff->language);
      g_hash_table_add (kinds, plant);
    }
  g_ptr_array_sort (groups, compare_groups);
  add_orders (groups, bl_takeoff_book (takeoff), takeoff->language);
  for (guint i = 0; i < groups->len; i++)
    {
      Group *group = groups->pdata[i];

      if (!group->by_area)
        group->count.formula_count = NAN;
      group->count.rule = g_strdup (group->rule->str);
      g_array_append_val (takeoff->counts, group->count);
    }
  takeoff->n_plants = layout->placed->len;
  takeoff->n_kinds = g_hash_table_size (kinds);
}
