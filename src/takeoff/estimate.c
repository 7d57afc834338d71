/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The estimate: its life, the one way a line is made, the range. */
#include "takeoff/estimate.h"

#include <math.h>
#include <string.h>

#include "takeoff/estimate-private.h"
#include "takeoff/shown.h"
#include "takeoff/takeoff-private.h"

#define NORMAL_95 1.96

const char *
bl_section_name (BlSection section, const char *language)
{
  static const char *const names[] = { BL_SAID ("Plants"), BL_SAID ("Materials"), BL_SAID ("Labour"),
                                       BL_SAID ("Delivery, equipment and disposal"),
                                       BL_SAID ("Overhead, profit and allowances"), BL_SAID ("Tax") };

  g_return_val_if_fail (section < BL_SECTION_N, "");
  return bl_say (language, names[section]);
}

static void
line_clear (gpointer data)
{
  BlEstimateLine *line = data;

  g_free (line->key);
  g_free (line->name);
  g_free (line->unit);
  g_free (line->how);
}

static void
option_clear (gpointer data)
{
  BlEstimateOption *option = data;

  g_free (option->name);
  g_array_unref (option->lines);
}

static GArray *
lines_new (void)
{
  GArray *lines = g_array_new (FALSE, TRUE, sizeof (BlEstimateLine));

  g_array_set_clear_func (lines, line_clear);
  return lines;
}

static BlEstimate *
estimate_new (const BlTakeoff *takeoff)
{
  BlEstimate *estimate = g_new0 (BlEstimate, 1);

  g_atomic_ref_count_init (&estimate->refs);
  estimate->lines = lines_new ();
  estimate->options = g_array_new (FALSE, TRUE, sizeof (BlEstimateOption));
  g_array_set_clear_func (estimate->options, option_clear);
  estimate->currency = g_strdup (takeoff->layout->model->currency);
  return estimate;
}

BlEstimate *
bl_estimate_ref (BlEstimate *estimate)
{
  g_return_val_if_fail (estimate != NULL, NULL);
  g_atomic_ref_count_inc (&estimate->refs);
  return estimate;
}

void
bl_estimate_unref (BlEstimate *estimate)
{
  if (estimate == NULL || !g_atomic_ref_count_dec (&estimate->refs))
    return;
  g_array_unref (estimate->lines);
  g_array_unref (estimate->options);
  g_free (estimate->currency);
  g_free (estimate);
}

/* ---- factors of the range ---- */

double
bl_sheet_area_factor (const BlSheet *sheet)
{
  BlMeasured area = sheet->takeoff->area;

  return area.value > 0 ? MAX (1 + sheet->shift * area.sd / area.value, 0) : 1;
}

double
bl_sheet_length_factor (const BlSheet *sheet)
{
  double length = 0, sd = 0;

  for (guint i = 0; i < sheet->model->beds->len; i++)
    {
      const BlBed *bed = sheet->model->beds->pdata[i];

      length += bed->ring != NULL ? bed->perimeter.value : 0;
      sd += bed->ring != NULL ? bed->perimeter.sd : 0;
    }
  return length > 0 ? MAX (1 + sheet->shift * sd / length, 0) : 1;
}

double
bl_sheet_count_factor (const BlSheet *sheet)
{
  return 1 + sheet->planting_share * (bl_sheet_area_factor (sheet) - 1);
}

static double
planting_share (const BlTakeoff *takeoff)
{
  const GArray *placed = takeoff->layout->placed;
  guint n = 0;

  for (guint i = 0; i < placed->len; i++)
    {
      BlPlantingForm form = g_array_index (placed, BlPlaced, i).form;

      n += form == BL_PLANTING_DRIFT || form == BL_PLANTING_FILL;
    }
  return placed->len > 0 ? (double) n / placed->len : 0;
}

/* ---- lines ---- */

const BlOverride *
bl_sheet_override (const BlSheet *sheet, const char *key, const char *field)
{
  const BlOverride *found = NULL;

  for (guint i = 0; i < sheet->model->overrides->len; i++)
    {
      const BlOverride *override = sheet->model->overrides->pdata[i];

      if (override->alternative_id == sheet->takeoff->layout->alternative_id
          && g_strcmp0 (override->line, key) == 0 && g_strcmp0 (override->field, field) == 0
          && isfinite (override->value))
        found = override;
    }
  return found;
}

static void
append_line (BlSheet *sheet, BlEstimateLine line)
{
  BlEstimate *estimate = sheet->estimate;

  estimate->section_total[line.section] += line.amount;
  estimate->total += line.amount;
  estimate->any_invented |= line.invented;
  g_array_append_val (estimate->lines, line);
}

/* The line goes to the option of its mark's name. */
static void
append_option (BlSheet *sheet, const char *name, BlEstimateLine line)
{
  GArray *options = sheet->estimate->options;
  BlEstimateOption option;

  for (guint i = 0; i < options->len; i++)
    {
      BlEstimateOption *old = &g_array_index (options, BlEstimateOption, i);

      if (strcmp (old->name, name) == 0)
        {
          g_array_append_val (old->lines, line);
          return;
        }
    }
  option = (BlEstimateOption) { .name = g_strdup (name), .lines = lines_new () };
  g_array_append_val (option.lines, line);
  g_array_append_val (options, option);
}

static const char *
option_of (const BlSheet *sheet, const BlEstimateLine *line)
{
  const BlOverride *mark = bl_sheet_override (sheet, line->key, "optional");

  if (mark == NULL || mark->value == 0)
    return NULL;
  return mark->note != NULL && mark->note[0] != '\0' ? mark->note : line->name;
}

/* Takes @words. */
static void
note_override (GString *how, char *words, const BlOverride *override)
{
  g_string_append_printf (how, "%s%s", how->len > 0 ? "; " : "", words);
  if (override->note != NULL && override->note[0] != '\0')
    g_string_append_printf (how, " (%s)", override->note);
  g_free (words);
}

/* What is shown is what is multiplied: two decimals of the quantity, whole minor units of the
 * rate. */
void
bl_sheet_add (BlSheet *sheet, BlDraft draft)
{
  const BlOverride *quantity = bl_sheet_override (sheet, draft.key, "quantity");
  const BlOverride *rate = bl_sheet_override (sheet, draft.key, "rate");
  g_autoptr (GString) how = g_string_new (draft.how != NULL ? draft.how : "");
  BlEstimateLine line = { .key = draft.key, .section = draft.section };
  int digits = bl_money_digits (sheet->estimate->currency);
  const char *option;

  line.unit
    = g_strdup (bl_sheet_say (sheet, bl_unit_shown (draft.unit, sheet->model->units, &line.si)));
  if (quantity != NULL)
    {
      g_autofree char *was = bl_figure (draft.quantity / line.si);

      note_override (how, g_strdup_printf (bl_sheet_say (sheet, "quantity set by hand, worked out as %s"),
                                           was), quantity);
    }
  if (rate != NULL)
    {
      g_autofree char *was = bl_figure (draft.rate * line.si / pow (10, digits));

      note_override (how, g_strdup_printf (bl_sheet_say (sheet, "rate set by hand, worked out as %s"),
                                           was), rate);
    }
  line.quantity = (quantity != NULL ? quantity->value : draft.quantity) / line.si;
  line.quantity = round (CLAMP (line.quantity, -1e9, 1e9) * 100) / 100;
  line.rate = llround (CLAMP ((rate != NULL ? rate->value : draft.rate) * line.si, -1e14, 1e14));
  line.amount = bl_money_scale (line.rate, line.quantity);
  line.name = g_strdup (bl_sheet_say (sheet, draft.name));
  line.how = g_strdup (how->str);
  line.overridden = quantity != NULL || rate != NULL;
  line.invented = draft.invented && rate == NULL;
  g_free (draft.how);
  option = option_of (sheet, &line);
  if (option == NULL || g_strcmp0 (option, sheet->taken) == 0)
    append_line (sheet, line);
  else
    append_option (sheet, option, line);
}

gint64
bl_sheet_add_sum (BlSheet *sheet, const char *key, BlSection section, const char *name,
                  gint64 amount, char *how)
{
  const BlOverride *set = bl_sheet_override (sheet, key, "rate");
  BlEstimateLine line = { .key = g_strdup (key), .section = section,
                          .name = g_strdup (bl_sheet_say (sheet, name)),
                          .unit = g_strdup (""), .si = 1, .quantity = 1, .amount = amount };
  g_autoptr (GString) words = g_string_new (how);

  g_free (how);
  if (set != NULL)
    {
      g_autofree char *was
        = bl_figure ((double) amount / pow (10, bl_money_digits (sheet->estimate->currency)));

      note_override (words, g_strdup_printf (bl_sheet_say (sheet, "amount set by hand, worked out as %s"),
                                             was), set);
      line.amount = llround (CLAMP (set->value, -1e14, 1e14));
      line.overridden = TRUE;
    }
  line.how = g_strdup (words->str);
  amount = line.amount;
  if (amount == 0 && set == NULL)
    line_clear (&line);
  else
    append_line (sheet, line);
  return amount;
}

/* ---- the whole ---- */

static BlEstimate *
compute_at (const BlTakeoff *takeoff, double shift, const char *taken)
{
  BlSheet sheet = { .takeoff = takeoff, .model = takeoff->layout->model,
                    .book = takeoff->layout->model->prices, .shift = shift, .taken = taken,
                    .planting_share = planting_share (takeoff) };
  BlEstimate *estimate = sheet.estimate = estimate_new (takeoff);
  const BlPriceRules *rules = &sheet.book->rules;

  bl_sheet_goods (&sheet);
  bl_sheet_labour (&sheet);
  bl_sheet_delivery (&sheet);
  bl_sheet_extras (&sheet);
  estimate->cost = estimate->total;
  bl_sheet_adjust (&sheet);
  estimate->tax = estimate->section_total[BL_SECTION_TAX];
  estimate->price = estimate->total - estimate->tax;
  estimate->total_low = estimate->total_high = estimate->total;
  estimate->deposit = bl_money_scale (MAX (estimate->total, 0), rules->deposit);
  if (rules->deposit_cap > 0)
    estimate->deposit = MIN (estimate->deposit, rules->deposit_cap);
  return estimate;
}

gint64
bl_estimate_total (const BlTakeoff *takeoff)
{
  g_autoptr (BlEstimate) estimate = compute_at (takeoff, 0, NULL);

  return estimate->total;
}

static int
compare_lines (gconstpointer a, gconstpointer b)
{
  const BlEstimateLine *p = a, *q = b;

  return (int) p->section - (int) q->section;
}

/* Lines made late (extras) go to their sections; within a section the order stays. */
static void
sort_lines (GArray *lines)
{
  for (guint i = 1; i < lines->len; i++)
    {
      BlEstimateLine line = g_array_index (lines, BlEstimateLine, i);
      guint j = i;

      for (; j > 0 && compare_lines (&g_array_index (lines, BlEstimateLine, j - 1), &line) > 0; j--)
        g_array_index (lines, BlEstimateLine, j) = g_array_index (lines, BlEstimateLine, j - 1);
      g_array_index (lines, BlEstimateLine, j) = line;
    }
}

static void
price_options (const BlTakeoff *takeoff, BlEstimate *estimate)
{
  for (guint i = 0; i < estimate->options->len; i++)
    {
      BlEstimateOption *option = &g_array_index (estimate->options, BlEstimateOption, i);
      g_autoptr (BlEstimate) with = compute_at (takeoff, 0, option->name);

      option->price = with->total - estimate->total;
    }
}

BlEstimate *
bl_estimate_compute (const BlTakeoff *takeoff)
{
  BlEstimate *estimate;
  g_autoptr (BlEstimate) low = NULL, high = NULL;

  g_return_val_if_fail (takeoff != NULL, NULL);
  estimate = compute_at (takeoff, 0, NULL);
  price_options (takeoff, estimate);
  sort_lines (estimate->lines);
  if (takeoff->area.sd > 0)
    {
      low = compute_at (takeoff, -NORMAL_95, NULL);
      high = compute_at (takeoff, NORMAL_95, NULL);
      estimate->total_low = MIN (low->total, estimate->total);
      estimate->total_high = MAX (high->total, estimate->total);
    }
  return estimate;
}
