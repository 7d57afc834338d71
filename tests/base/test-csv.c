/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Comma-separated values against the rules of RFC 4180, section 2. */
#include "base/csv.h"

#include <string.h>

#include "base/error.h"
#include "base/rng.h"

static GPtrArray *
parse (const char *text)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *records = bl_csv_parse (text, strlen (text), &error);

  g_assert_no_error (error);
  return records;
}

static const char *
cell (GPtrArray *records, guint r, guint c)
{
  return ((GStrv) records->pdata[r])[c];
}

/* RFC 4180 section 2, the examples of rules 1, 2, 5, 6 and 7. */
static void
test_rfc_examples (void)
{
  g_autoptr (GPtrArray) one = parse ("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n");
  g_autoptr (GPtrArray) two = parse ("aaa,bbb,ccc\r\nzzz,yyy,xxx");
  g_autoptr (GPtrArray) five = parse ("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx");
  g_autoptr (GPtrArray) six = parse ("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx");
  g_autoptr (GPtrArray) seven = parse ("\"aaa\",\"b\"\"bb\",\"ccc\"");

  g_assert_cmpuint (one->len, ==, 2);
  g_assert_cmpuint (two->len, ==, 2);
  g_assert_cmpstr (cell (two, 1, 2), ==, "xxx");
  g_assert_cmpstr (cell (five, 0, 1), ==, "bbb");
  g_assert_cmpstr (cell (six, 0, 1), ==, "b\r\nbb");
  g_assert_cmpstr (cell (seven, 0, 1), ==, "b\"bb");
}

static void
test_lenient (void)
{
  g_autoptr (GPtrArray) mark = parse ("\xEF\xBB\xBF" "a,b\nc,\n");
  g_autoptr (GPtrArray) none = parse ("");

  g_assert_cmpuint (mark->len, ==, 2);
  g_assert_cmpstr (cell (mark, 0, 0), ==, "a");
  g_assert_cmpstr (cell (mark, 1, 1), ==, "");
  g_assert_cmpuint (none->len, ==, 0);
}

static void
test_mistakes (void)
{
  static const struct
  {
    const char *text, *says;
  } rows[] = {
    { "a,b\r\nc,\"d", "Line 2, column 2" },  { "a,b\r\nc,d\"e\r\n", "Line 2, column 2" },
    { "a,\"b\"c\r\n", "Line 1, column 2" },  { "a\r\nb\xff\r\n", "Line 2" },
    { "a,\"b\r\n\r\nc", "Line 1, column 2" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (bl_csv_parse (rows[i].text, strlen (rows[i].text), &error));
      g_assert_error (error, BL_ERROR, BL_ERROR_INPUT);
      g_assert_nonnull (strstr (error->message, rows[i].says));
    }
}

static void
test_formulas (void)
{
  static const struct
  {
    const char *cell, *written;
  } rows[] = {
    { "=1+1", "'=1+1\r\n" },   { "+SUM(A1)", "'+SUM(A1)\r\n" }, { "-2+3", "'-2+3\r\n" },
    { "@x", "'@x\r\n" },       { "\tx", "'\tx\r\n" },           { "-12.5", "-12.5\r\n" },
    { "+3", "+3\r\n" },        { "-1e-3", "-1e-3\r\n" },        { "-", "'-\r\n" },
    { "a=b", "a=b\r\n" },      { "=a,b", "\"'=a,b\"\r\n" },
    { "say \"x\"", "\"say \"\"x\"\"\"\r\n" },
    { " lead", "\" lead\"\r\n" }, { "", "\r\n" },
    /* Split at the semicolon, tab or line end, the second piece would run. */
    { "a;=cmd|' /C calc'!A0;b", "a;'=cmd|' /C calc'!A0;b\r\n" },
    { "a\t@x", "a\t'@x\r\n" },
    { "a\n+x", "\"a\n'+x\"\r\n" },
    { "a\r\n-x", "\"a\r\n'-x\"\r\n" },
    { "a;\t=x", "a;'\t'=x\r\n" },
    { "a;-5", "a;'-5\r\n" },
    { "a;\"=x\"", "\"a;'\"\"=x\"\"\"\r\n" },
    { "a; =b;c=d", "a; =b;c=d\r\n" },
    /* What looks guarded is guarded once more, so that it comes back. */
    { "'=x", "''=x\r\n" },   { "a;'=x", "a;''=x\r\n" },     { "'x", "'x\r\n" },
    { "'-5", "''-5\r\n" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GString) out = g_string_new (NULL);

      bl_csv_append_list (out, rows[i].cell, NULL);
      g_assert_cmpstr (out->str, ==, rows[i].written);
    }
}

/* What is pasted into a table: none of its cells runs, none breaks the table, numbers stay numbers. */
static void
test_tabbed (void)
{
  g_autofree char *line = bl_csv_tabbed ("=1+1", "", "-12.50", "a\t=b\r\n@c", "a;+d", NULL);
  g_autofree char *one = bl_csv_tabbed ("\t=x", NULL);

  g_assert_cmpstr (line, ==, "'=1+1\t\t-12.50\ta '=b  '@c\ta;'+d");
  g_assert_cmpstr (one, ==, "' '=x");
}

/* @text as a program reads it that splits it at @separator, takes quotation marks only where a piece
 * begins and passes over them otherwise; none of the pieces runs. */
static void
check_pieces (const char *text, char separator)
{
  for (const char *p = text; *p != '\0';)
    {
      gboolean quoted = *p == '"', first = TRUE;

      if (quoted)
        p++;
      for (; *p != '\0' && (quoted || (*p != separator && *p != '\r' && *p != '\n')); p++)
        {
          if (quoted && *p == '"' && p[1] != '"')
            {
              quoted = FALSE;
              continue;
            }
          if (quoted && *p == '"')
            p++;
          g_assert_false (first && strchr ("=+-@", *p) != NULL && !g_ascii_isdigit (p[1]));
          first = FALSE;
        }
      if (*p != '\0')
        p++;
    }
}

/* However the list separator of the one who opens it stands. */
static void
test_other_separators (void)
{
  static const char *const bits[] = { "\"", ",", ";", "\t", "\r", "\n", "=x", "+x", "-x", "@x", "'", "a" };
  BlRng rng = bl_rng (2);

  for (int round = 0; round < 5000; round++)
    {
      g_autoptr (GString) out = g_string_new (NULL), text = g_string_new (NULL);

      for (guint k = bl_rng_int (&rng, 8); k > 0; k--)
        g_string_append (text, bits[bl_rng_int (&rng, G_N_ELEMENTS (bits))]);
      bl_csv_append_list (out, "Name", text->str, NULL);
      check_pieces (out->str, ';');
      check_pieces (out->str, '\t');
      check_pieces (out->str, ',');
    }
}

/* What is written reads back, for cells made of the awkward characters. */
static void
test_round_trip (void)
{
  static const char *const bits[] = { "\"", ",", "\r", "\n", "a", "é", " ", "7",
                                      ";",  "=", "'",  "-",  "+", "@", "\t" };
  BlRng rng = bl_rng (1);

  for (int round = 0; round < 2000; round++)
    {
      g_autoptr (GString) out = g_string_new (NULL);
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
      g_autoptr (GPtrArray) back = NULL;
      guint n = 1 + bl_rng_int (&rng, 4);

      for (guint c = 0; c < n; c++)
        {
          GString *text = g_string_new (NULL);

          for (guint k = bl_rng_int (&rng, 8); k > 0; k--)
            g_string_append (text, bits[bl_rng_int (&rng, G_N_ELEMENTS (bits))]);
          g_ptr_array_add (cells, g_string_free (text, FALSE));
        }
      g_ptr_array_add (cells, NULL);
      bl_csv_append (out, (const char *const *) cells->pdata);
      back = parse (out->str);
      g_assert_cmpuint (back->len, ==, 1);
      g_assert_cmpstrv ((GStrv) back->pdata[0], (GStrv) cells->pdata);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/csv/rfc-4180", test_rfc_examples);
  g_test_add_func ("/csv/lenient", test_lenient);
  g_test_add_func ("/csv/mistakes", test_mistakes);
  g_test_add_func ("/csv/formulas", test_formulas);
  g_test_add_func ("/csv/other-separators", test_other_separators);
  g_test_add_func ("/csv/tabbed", test_tabbed);
  g_test_add_func ("/csv/round-trip", test_round_trip);
  return g_test_run ();
}
