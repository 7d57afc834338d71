/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A design sheet: refused with the place of its mistake, or drafted, written, and drafted as the same. */
#include "fuzz.h"

#include "design/sheet.h"
#include "whole-job.h"

static void
check_round_trip (BlDesign *design)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *first = bl_sheet_write_with (design, fuzz_library (), &error);
  g_autofree char *second = NULL;
  g_autoptr (BlDesign) again = NULL;

  g_assert_no_error (error);
  again = bl_sheet_draft (first, -1, NULL, fuzz_library (), NULL, &error);
  g_assert_no_error (error);
  second = bl_sheet_write_with (again, fuzz_library (), &error);
  g_assert_cmpstr (first, ==, second);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data,
                        size_t         size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BlDesign) design
    = bl_sheet_draft (size > 0 ? (const char *) data : "", (gssize) size, NULL, fuzz_library (), NULL,
                      &error);

  if (design == NULL)
    {
      fuzz_check_error (error);
      return 0;
    }
  check_round_trip (design);
  /* Laying out is slow; one in eight is enough. */
  if (size % 8 == 0)
    whole_job_run (design);
  return 0;
}
