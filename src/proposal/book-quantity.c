/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities of goods as the papers write them. */
#include <math.h>

#include "proposal/book.h"
#include "takeoff/shown.h"

char *
bl_book_quantity (const BlBook *book, double quantity, const char *unit, const char **shown)
{
  double si;

  *shown = bl_say (book->language, bl_unit_shown (unit, book->model->units, &si));
  quantity /= si;
  if (fabs (quantity - round (quantity)) < 5e-4)
    return bl_fixed_format (quantity, 0);
  return bl_fixed_format (quantity, 2);
}
