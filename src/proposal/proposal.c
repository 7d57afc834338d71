/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The client's proposal: its pages in order. */
#include "proposal/book.h"

typedef struct
{
  BlProposalPages page;
  void (*set) (BlBook *book);
} Step;

BlProposalPages
bl_proposal_page_named (const char *name)
{
  static const char *const names[] = { "cover", "place", "alternatives", "seasons", "compare",
                                       "schedule", "estimate", "care", "cautions" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_ascii_strcasecmp (names[i], name) == 0)
      return (BlProposalPages) (1u << i);
  return 0;
}

static void
set_alternatives (BlBook *book)
{
  for (guint i = 0; i < book->parts->len; i++)
    bl_page_alternative (book, bl_book_part (book, i));
}

static void
set_care (BlBook *book)
{
  bl_page_care (book, bl_book_part (book, 0));
}

static void
set_compare (BlBook *book)
{
  if (book->parts->len > 1)
    bl_page_compare (book);
}

static gboolean
set_pages (BlBook *book, GError **error)
{
  static const Step steps[] = {
    { BL_PAGE_COVER, bl_page_cover }, { BL_PAGE_PLACE, bl_page_place },
    { BL_PAGE_ALTERNATIVES, set_alternatives }, { BL_PAGE_SEASONS, bl_page_seasons },
    { BL_PAGE_COMPARE, set_compare }, { BL_PAGE_SCHEDULE, bl_page_schedule },
    { BL_PAGE_ESTIMATE, bl_page_estimate }, { BL_PAGE_CARE, set_care },
    { BL_PAGE_CAUTIONS, bl_page_cautions },
  };
  BlProposalPages pages = book->options->pages != 0 ? book->options->pages : BL_PAGE_ALL;

  for (guint i = 0, n = G_N_ELEMENTS (steps); i < n; i++)
    {
      if (!bl_press_go_on (book->press, (double) i / n, error))
        return FALSE;
      if (pages & steps[i].page)
        steps[i].set (book);
    }
  return TRUE;
}

gboolean
bl_proposal_write (BlModel *model, GBytes *photo, const char *path,
                   const BlProposalOptions *options, GError **error)
{
  g_autoptr (BlBook) book = bl_book_new (model, photo, options, error);

  return book != NULL
         && bl_book_print (book, path, bl_say (book->language, "Planting proposal"), set_pages,
                           error);
}
