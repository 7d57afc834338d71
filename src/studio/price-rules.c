/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rules of the price book: rates, overhead, profit, tax, deposit, reserves, in the person's words
 * and units. */

#include "config.h"

#include "studio/cost-line.h"
#include "studio/form.h"
#include "studio/price-book.h"
#include "studio/sheets.h"

#include <glib/gi18n.h>

#define POUNDS_A_THOUSAND (1000 * BL_M2_PER_SQUARE_FOOT / BL_KG_PER_POUND) /* sq ft; of kg/m² */
#define POUNDS_A_YARD (BL_M3_PER_CUBIC_YARD / BL_KG_PER_POUND) /* of kg/m³ */

typedef enum
{
  SORT_MONEY,
  SORT_SHARE,   /* stored 0..1, shown in per cent */
  SORT_OVERHEAD, /* a share or money an hour, as the method says */
  SORT_LENGTH,
  SORT_DENSITY,
  SORT_DOSE,    /* stored kg/m², shown in g/m² or lb a 1000 sq ft */
  SORT_CHOICE,
  SORT_TEXT,
  SORT_COUNT
} Sort;

typedef struct
{
  const char *name, *label;
  Sort sort;
  const char *values[5], *words[5]; /* of a choice */
} RuleWords;

#define HEADING(text) { NULL, text, SORT_TEXT, { NULL }, { NULL } }

static const RuleWords table[] = {
  HEADING (N_("Work and overhead")),
  { "labour_rate", N_("Work, an hour"), SORT_MONEY, { NULL }, { NULL } },
  { "overhead_method", N_("Overhead is recovered"), SORT_CHOICE,
    { "none", "on_labour", "on_all", "per_hour", NULL },
    { N_("not at all"), N_("on labour"), N_("on all cost"), N_("by the hour"), NULL } },
  { "overhead", N_("Overhead"), SORT_OVERHEAD, { NULL }, { NULL } },
  HEADING (N_("Profit")),
  { "use_margin", N_("Profit is stated as"), SORT_CHOICE, { "no", "yes", NULL },
    { N_("a markup on cost"), N_("a margin of the price"), NULL } },
  { "profit", N_("Profit, %"), SORT_SHARE, { NULL }, { NULL } },
  { "contingency", N_("Contingency, % of cost"), SORT_SHARE, { NULL }, { NULL } },
  { "warranty", N_("Warranty reserve, % of plants and planting"), SORT_SHARE, { NULL }, { NULL } },
  { "discount", N_("Discount, % of price"), SORT_SHARE, { NULL }, { NULL } },
  { "minimum", N_("Minimum charge (0: none)"), SORT_MONEY, { NULL }, { NULL } },
  HEADING (N_("Tax and deposit")),
  { "tax_name", N_("Name of the tax"), SORT_TEXT, { NULL }, { NULL } },
  { "tax_base", N_("Tax is on"), SORT_CHOICE,
    { "none", "materials", "plants", "everything", NULL },
    { N_("nothing"), N_("plants and materials, at cost"), N_("plants, at selling price"),
      N_("the whole price"), NULL } },
  { "tax_rate", N_("Tax, %"), SORT_SHARE, { NULL }, { NULL } },
  { "deposit", N_("Deposit, % of the total"), SORT_SHARE, { NULL }, { NULL } },
  { "deposit_cap", N_("Deposit at most (0: no cap)"), SORT_MONEY, { NULL }, { NULL } },
  { "valid_days", N_("A proposal is good for, days"), SORT_COUNT, { NULL }, { NULL } },
  HEADING (N_("Plants and materials")),
  { "reserve", N_("Plants in reserve, %"), SORT_SHARE, { NULL }, { NULL } },
  { "prefer_bags", N_("Mulch and soil"), SORT_CHOICE, { "no", "yes", NULL },
    { N_("loose or bagged, the cheaper"), N_("in bags"), NULL } },
  { "edging_waste", N_("Waste of edging, %"), SORT_SHARE, { NULL }, { NULL } },
  { "mulch_settle", N_("Mulch settles by, %"), SORT_SHARE, { NULL }, { NULL } },
  { "soil_settle", N_("Soil settles by, %"), SORT_SHARE, { NULL }, { NULL } },
  { "collar", N_("Bare collar round each crown"), SORT_LENGTH, { NULL }, { NULL } },
  { "strip_depth", N_("Sod taken off, deep (0: none)"), SORT_LENGTH, { NULL }, { NULL } },
  { "bulking", N_("Dug soil swells by, %"), SORT_SHARE, { NULL }, { NULL } },
  { "hole_mix", N_("Mix in planting holes, %"), SORT_SHARE, { NULL }, { NULL } },
  { "fertiliser_dose", N_("Fertiliser at planting (0: none)"), SORT_DOSE, { NULL }, { NULL } },
  { "lay_fabric", N_("Landscape fabric"), SORT_CHOICE, { "no", "yes", NULL },
    { N_("none, unless added"), N_("under the mulch of every bed"), NULL } },
  { "fabric_overlap", N_("Fabric lies double, %"), SORT_SHARE, { NULL }, { NULL } },
  { "mulch_density", N_("Weight of mulch"), SORT_DENSITY, { NULL }, { NULL } },
  { "soil_density", N_("Weight of soil"), SORT_DENSITY, { NULL }, { NULL } },
};

#define BL_TYPE_PRICE_RULES (bl_price_rules_get_type ())
G_DECLARE_FINAL_TYPE (BlPriceRulesForm, bl_price_rules, BL, PRICE_RULES, BlPart)

struct _BlPriceRulesForm
{
  BlPart parent_instance;

  GtkWidget *fields[G_N_ELEMENTS (table)]; /* entry or drop-down; NULL at a heading */
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (BlPriceRulesForm, bl_price_rules, BL_TYPE_PART)

/* A rule as a number in the person's units, and back: shown = stored × this. */
static double
factor_of (const RuleWords *rule, const BlModel *model)
{
  if (rule->sort == SORT_SHARE
      || (rule->sort == SORT_OVERHEAD
          && model->prices->rules.overhead_method != BL_OVERHEAD_PER_HOUR))
    return 100;
  if (rule->sort == SORT_MONEY || rule->sort == SORT_OVERHEAD)
    return pow (10, -bl_money_digits (model->currency));
  if (rule->sort == SORT_DENSITY && model->units == BL_UNITS_FEET)
    return POUNDS_A_YARD;
  if (rule->sort == SORT_DOSE)
    return model->units == BL_UNITS_FEET ? POUNDS_A_THOUSAND : 1000;
  return 1;
}

static char *
shown (const RuleWords *rule, const BlModel *model)
{
  g_autofree char *stored = bl_price_rule_get (&model->prices->rules, rule->name);
  double value;

  if (rule->sort == SORT_TEXT)
    return g_steal_pointer (&stored);
  value = g_ascii_strtod (stored, NULL);
  if (rule->sort == SORT_LENGTH)
    return bl_spacing_format (value, model->units);
  if (rule->sort == SORT_MONEY
      || (rule->sort == SORT_OVERHEAD
          && model->prices->rules.overhead_method == BL_OVERHEAD_PER_HOUR))
    return bl_money_plain (llround (value), model->currency);
  return g_strdup_printf (rule->sort == SORT_DENSITY ? "%.0f" : "%.10g",
                          value * factor_of (rule, model));
}

static gboolean
set_rule (BlPriceRulesForm *self, const RuleWords *rule, const char *value)
{
  BlBoard *board = bl_part_get_board (BL_PART (self));
  g_autoptr (BlPriceBook) book = bl_price_book_copy (bl_board_get_model (board)->prices);
  g_autoptr (GError) error = NULL;
  g_autofree char *label = NULL;

  if (!bl_price_rule_set (&book->rules, rule->name, value, &error))
    {
      g_autofree char *sentence
          = g_strdup_printf (_("%s: this does not fit; look at its sign and its size"),
                             _(rule->label));

      bl_board_say (board, sentence);
      return FALSE;
    }
  label = g_strdup_printf (_("Change a rule: %s"), _(rule->label));
  return bl_board_put_prices (board, label, book);
}

static void
given_cb (GtkWidget *entry, gpointer data)
{
  BlPriceRulesForm *self = data;
  BlBoard *board = bl_part_get_board (BL_PART (self));
  const RuleWords *rule = g_object_get_data (G_OBJECT (entry), "rule");
  const BlModel *model = bl_board_get_model (board);
  g_autofree char *value = NULL;
  double number;

  if (self->updating)
    return;
  if (rule->sort == SORT_TEXT)
    value = g_strstrip (g_strdup (bl_form_get_text (entry)));
  else
    {
      if (rule->sort == SORT_LENGTH ? !bl_sheet_read_length (board, entry, 0, &number)
                                    : !bl_sheet_read_number (board, entry, 0, &number))
        return;
      number /= rule->sort == SORT_LENGTH ? 1 : factor_of (rule, model);
      /* A share typed as 7.25 % is kept as 0.0725, not as its nearest neighbour. */
      number = rule->sort == SORT_MONEY ? round (number) : round (number * 1e10) / 1e10;
      value = bl_double_format (number);
    }
  bl_form_set_wrong (entry, !set_rule (self, rule, value));
}

static void
chosen_cb (GtkDropDown *choice, GParamSpec *pspec, BlPriceRulesForm *self)
{
  const RuleWords *rule = g_object_get_data (G_OBJECT (choice), "rule");
  BlBoard *board = bl_part_get_board (BL_PART (self));
  g_autoptr (BlPriceBook) book = NULL;
  g_autofree char *label = NULL;

  if (self->updating || board == NULL)
    return;
  if (!g_str_equal (rule->name, "overhead_method"))
    {
      set_rule (self, rule, rule->values[gtk_drop_down_get_selected (choice)]);
      return;
    }
  /* A share is no sum an hour: the figure starts again when its meaning changes. */
  book = bl_price_book_copy (bl_board_get_model (board)->prices);
  {
    gboolean hourly = book->rules.overhead_method == BL_OVERHEAD_PER_HOUR;

    bl_price_rule_set (&book->rules, rule->name,
                       rule->values[gtk_drop_down_get_selected (choice)], NULL);
    if (hourly != (book->rules.overhead_method == BL_OVERHEAD_PER_HOUR))
      book->rules.overhead = 0;
  }
  label = g_strdup_printf (_("Change a rule: %s"), _(rule->label));
  bl_board_put_prices (board, label, book);
}

static char *
label_of (const RuleWords *rule, const BlModel *model)
{
  if (rule->sort == SORT_MONEY)
    return g_strdup_printf ("%s, %s", _(rule->label), model->currency);
  if (rule->sort == SORT_OVERHEAD)
    return model->prices->rules.overhead_method == BL_OVERHEAD_PER_HOUR
               ? g_strdup_printf (_("Overhead, %s an hour"), model->currency)
               : g_strdup (_("Overhead, %"));
  if (rule->sort == SORT_DENSITY)
    return g_strdup_printf ("%s, %s", _(rule->label),
                            model->units == BL_UNITS_FEET ? _("lb a cu yd") : _("kg a m³"));
  return g_strdup (_(rule->label));
}

static void
update (BlPart *part, guint what)
{
  BlPriceRulesForm *self = BL_PRICE_RULES (part);
  const BlModel *model = bl_board_get_model (bl_part_get_board (part));

  if ((what & BL_BOARD_MODEL) == 0)
    return;
  self->updating = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    {
      g_autofree char *text = NULL, *label = NULL;
      GtkWidget *field = self->fields[i];

      if (field == NULL)
        continue;
      label = label_of (&table[i], model);
      gtk_label_set_text (GTK_LABEL (gtk_widget_get_prev_sibling (field)), label);
      bl_form_call (field, label);
      if (table[i].sort != SORT_CHOICE)
        {
          text = shown (&table[i], model);
          bl_form_set_text (field, text);
          continue;
        }
      text = bl_price_rule_get (&model->prices->rules, table[i].name);
      for (guint k = 0; table[i].values[k] != NULL; k++)
        if (g_str_equal (table[i].values[k], text))
          gtk_drop_down_set_selected (GTK_DROP_DOWN (field), k);
    }
  self->updating = FALSE;
}

static void
bl_price_rules_class_init (BlPriceRulesFormClass *klass)
{
  BL_PART_CLASS (klass)->update = update;
}

static GtkWidget *
make_field (BlPriceRulesForm *self, const RuleWords *rule)
{
  const char *words[G_N_ELEMENTS (rule->words)] = { NULL };
  GtkWidget *field;

  for (guint k = 0; rule->words[k] != NULL; k++)
    words[k] = _(rule->words[k]);
  field = rule->sort == SORT_CHOICE ? bl_form_choice (words) : bl_form_entry (NULL);
  g_object_set_data (G_OBJECT (field), "rule", (gpointer)rule);
  if (rule->sort == SORT_CHOICE)
    g_signal_connect (field, "notify::selected", G_CALLBACK (chosen_cb), self);
  else
    bl_form_on_commit (field, given_cb, self);
  return field;
}

static void
bl_price_rules_init (BlPriceRulesForm *self)
{
  gtk_box_set_spacing (GTK_BOX (self), 8);
  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    {
      if (table[i].name == NULL)
        {
          gtk_box_append (GTK_BOX (self), bl_form_heading (_(table[i].label)));
          continue;
        }
      self->fields[i] = make_field (self, &table[i]);
      gtk_box_append (GTK_BOX (self), bl_form_field (_(table[i].label), self->fields[i]));
    }
}

GtkWidget *
bl_price_rules_new (void)
{
  return g_object_new (BL_TYPE_PRICE_RULES, NULL);
}
