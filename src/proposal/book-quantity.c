/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities of goods as the papers write them. */
#include <math.h>

#include "proposal/book.h"
#include "takeoff/shown.h"

char *
bl_book_number (double value, int digits)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE + 32], format[8];

  g_snprintf (format, sizeof format, "%%.%df", CLAMP (digits, 0, 9));
  return g_strdup (g_ascii_formatd (text, sizeof text, format, value));
}

char *
bl_book_quantity (const BlBook *book, double quantity, const char *unit, const char **shown)
{
  double si;

  *shown = bl_say (book->language, bl_unit_shown (unit, book->model->units, &si));
  quantity /= si;
  if (fabs (quantity - round (quantity)) < 5e-4)
    return bl_book_number (quantity, 0);
  return bl_book_number (quantity, 2);
}
