/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rules of a price book as named texts, for storing and for editing. */
#include "config.h"

#include "design/pricebook.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/units.h"

typedef enum
{
  RULE_NUMBER,
  RULE_MONEY,
  RULE_COUNT,
  RULE_SWITCH,
  RULE_OVERHEAD,
  RULE_TAX_BASE,
  RULE_TEXT
} RuleType;

typedef struct
{
  const char *name;
  RuleType type;
  gsize offset;
  double low, high; /* of numbers */
} Rule;

#define RULE(field, type, low, high)                                                               \
  {                                                                                                \
#field, type, G_STRUCT_OFFSET(BlPriceRules, field), low, high                                  \
  }
#define MOST_MONEY 1e12

static const Rule rules_table[] = {
  RULE (labour_rate, RULE_MONEY, 0, MOST_MONEY),
  RULE (overhead_method, RULE_OVERHEAD, 0, 0),
  RULE (overhead, RULE_NUMBER, 0, 1e9),
  RULE (use_margin, RULE_SWITCH, 0, 0),
  RULE (profit, RULE_NUMBER, 0, 10),
  RULE (contingency, RULE_NUMBER, 0, 10),
  RULE (discount, RULE_NUMBER, 0, 1),
  RULE (warranty, RULE_NUMBER, 0, 1),
  RULE (minimum, RULE_MONEY, 0, MOST_MONEY),
  RULE (tax_rate, RULE_NUMBER, 0, 1),
  RULE (tax_base, RULE_TAX_BASE, 0, 0),
  RULE (tax_name, RULE_TEXT, 0, 0),
  RULE (deposit, RULE_NUMBER, 0, 1),
  RULE (deposit_cap, RULE_MONEY, 0, MOST_MONEY),
  RULE (reserve, RULE_NUMBER, 0, 1),
  RULE (edging_waste, RULE_NUMBER, 0, 1),
  RULE (mulch_settle, RULE_NUMBER, 0, 1),
  RULE (soil_settle, RULE_NUMBER, 0, 1),
  RULE (soil_density, RULE_NUMBER, 0, 10000),
  RULE (mulch_density, RULE_NUMBER, 0, 10000),
  RULE (collar, RULE_NUMBER, 0, 2),
  RULE (strip_depth, RULE_NUMBER, 0, 2),
  RULE (bulking, RULE_NUMBER, 0, 1),
  RULE (hole_mix, RULE_NUMBER, 0, 1),
  RULE (fertiliser_dose, RULE_NUMBER, 0, 10),
  RULE (lay_fabric, RULE_SWITCH, 0, 0),
  RULE (fabric_overlap, RULE_NUMBER, 0, 1),
  RULE (prefer_bags, RULE_SWITCH, 0, 0),
  RULE (valid_days, RULE_COUNT, 0, 3660),
};

static const char *const rule_names[] = {
  "labour_rate", "overhead_method", "overhead", "use_margin", "profit", "contingency", "discount",
  "warranty", "minimum", "tax_rate", "tax_base", "tax_name", "deposit", "deposit_cap", "reserve",
  "edging_waste", "mulch_settle", "soil_settle", "soil_density", "mulch_density", "collar",
  "strip_depth", "bulking", "hole_mix", "fertiliser_dose", "lay_fabric",
  "fabric_overlap", "prefer_bags", "valid_days", NULL,
};
G_STATIC_ASSERT (G_N_ELEMENTS (rule_names) == G_N_ELEMENTS (rules_table) + 1);

static const char *const overhead_words[] = { "none", "on_labour", "on_all", "per_hour", NULL };
static const char *const tax_words[] = { "none", "materials", "plants", "everything", NULL };

const char *const *
bl_price_rule_names (void)
{
  return rule_names;
}

static const Rule *
find_rule (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (rules_table); i++)
    if (g_strcmp0 (rules_table[i].name, name) == 0)
      return &rules_table[i];
  return NULL;
}

static int
word_index (const char *const *words,
            const char        *word)
{
  for (int i = 0; words[i] != NULL; i++)
    if (strcmp (words[i], word) == 0)
      return i;
  return -1;
}

char *
bl_price_rule_get (const BlPriceRules *rules,
                   const char         *name)
{
  const Rule *rule = find_rule (name);

  g_return_val_if_fail (rule != NULL, NULL);
  switch (rule->type)
    {
    case RULE_NUMBER:
      return bl_double_format (G_STRUCT_MEMBER (double, rules, rule->offset));
    case RULE_MONEY:
      return g_strdup_printf ("%" G_GINT64_FORMAT, G_STRUCT_MEMBER (gint64, rules, rule->offset));
    case RULE_COUNT:
      return g_strdup_printf ("%d", G_STRUCT_MEMBER (int, rules, rule->offset));
    case RULE_SWITCH:
      return g_strdup (G_STRUCT_MEMBER (gboolean, rules, rule->offset) ? "yes" : "no");
    case RULE_OVERHEAD:
      return g_strdup (overhead_words[G_STRUCT_MEMBER (BlOverheadMethod, rules, rule->offset)]);
    case RULE_TAX_BASE:
      return g_strdup (tax_words[G_STRUCT_MEMBER (BlTaxBase, rules, rule->offset)]);
    case RULE_TEXT:
    default:
      return g_strdup (G_STRUCT_MEMBER (char *, rules, rule->offset));
    }
}

static gboolean
refuse (GError    **error,
        const char *name,
        const char *value,
        const char *wanted)
{
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT, _("%s cannot be “%s”: it must be %s"), name, value,
               wanted);
  return FALSE;
}

static gboolean
set_number (BlPriceRules *rules,
            const Rule   *rule,
            const char   *value,
            GError      **error)
{
  g_autofree char *wanted = NULL;
  char *end = NULL;
  double number = g_ascii_strtod (value, &end);
  gboolean whole = rule->type != RULE_NUMBER;

  if (end == value || *end != '\0' || !isfinite (number) || number < rule->low
      || number > rule->high || (whole && number != floor (number)))
    {
      wanted = g_strdup_printf (whole ? _("a whole number from %g to %g") : _("a number from %g to %g"),
                                rule->low, rule->high);
      return refuse (error, rule->name, value, wanted);
    }
  if (rule->type == RULE_NUMBER)
    G_STRUCT_MEMBER (double, rules, rule->offset) = number;
  else if (rule->type == RULE_MONEY)
    G_STRUCT_MEMBER (gint64, rules, rule->offset) = (gint64) number;
  else
    G_STRUCT_MEMBER (int, rules, rule->offset) = (int) number;
  return TRUE;
}

static gboolean
set_word (int               *field,
          const Rule        *rule,
          const char *const *words,
          const char        *value,
          GError           **error)
{
  g_autofree char *list = NULL;
  int at = word_index (words, value);

  if (at >= 0)
    {
      *field = at;
      return TRUE;
    }
  list = g_strjoinv (", ", (char **) words);
  return refuse (error, rule->name, value, list);
}

static gboolean
set_text (char      **field,
          const Rule *rule,
          const char *value,
          GError    **error)
{
  if (strlen (value) > 200 || !g_utf8_validate (value, -1, NULL))
    return refuse (error, rule->name, "this text", _("at most 200 characters of text"));
  g_free (*field);
  *field = g_strdup (value);
  return TRUE;
}

gboolean
bl_price_rule_set (BlPriceRules *rules,
                   const char   *name,
                   const char   *value,
                   GError      **error)
{
  static const char *const switch_words[] = { "no", "yes", NULL };
  const Rule *rule = find_rule (name);
  gboolean ok;
  int index = 0;

  g_return_val_if_fail (rules != NULL && value != NULL, FALSE);
  if (rule == NULL)
    {
      g_set_error (error, BL_ERROR, BL_ERROR_INPUT, _("there is no price rule called “%s”"), name);
      return FALSE;
    }
  switch (rule->type)
    {
    case RULE_SWITCH:
      ok = set_word (&index, rule, switch_words, value, error);
      if (ok)
        G_STRUCT_MEMBER (gboolean, rules, rule->offset) = index;
      return ok;
    case RULE_OVERHEAD:
      ok = set_word (&index, rule, overhead_words, value, error);
      if (ok)
        G_STRUCT_MEMBER (BlOverheadMethod, rules, rule->offset) = (BlOverheadMethod) index;
      return ok;
    case RULE_TAX_BASE:
      ok = set_word (&index, rule, tax_words, value, error);
      if (ok)
        G_STRUCT_MEMBER (BlTaxBase, rules, rule->offset) = (BlTaxBase) index;
      return ok;
    case RULE_TEXT:
      return set_text (&G_STRUCT_MEMBER (char *, rules, rule->offset), rule, value, error);
    case RULE_NUMBER:
    case RULE_MONEY:
    case RULE_COUNT:
    default:
      return set_number (rules, rule, value, error);
    }
}

gboolean
bl_price_rules_check (const BlPriceRules *rules,
                      GError            **error)
{
  BlPriceRules copy = { 0 };
  gboolean ok = (guint) rules->overhead_method <= BL_OVERHEAD_PER_HOUR
                && (guint) rules->tax_base <= BL_TAX_EVERYTHING && rules->tax_name != NULL;

  if (!ok)
    g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
                 _("the price rules name no overhead method or tax base"));
  for (const char *const *name = rule_names; ok && *name != NULL; name++)
    {
      g_autofree char *value = bl_price_rule_get (rules, *name);

      ok = bl_price_rule_set (&copy, *name, value, error);
    }
  if (ok && copy.use_margin && copy.profit >= 1)
    ok = refuse (error, "profit", "that", _("under 1 when it is a margin of the price"));
  bl_price_rules_clear (&copy);
  return ok;
}

void
bl_price_rules_clear (BlPriceRules *rules)
{
  g_clear_pointer (&rules->tax_name, g_free);
}
