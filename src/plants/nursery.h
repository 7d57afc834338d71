/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the person's nursery offers: prices and stock of plants by size. */
#pragma once

#include "base/date.h"

typedef struct
{
  char *slug, *size; /* of a plant's record */
  gint64 price;      /* minor units; -1 = not said */
  int stock;         /* plants; -1 = not said */
  BlDay from;        /* not to be had before; 0 = not said */
} BlOffer;

typedef struct
{
  char *nursery;     /* its name */
  char *currency;    /* ISO 4217, of the prices */
  GPtrArray *offers; /* BlOffer */
  GHashTable *by_key; /* "slug|size" → BlOffer */
} BlStock;

BlStock *bl_stock_new (const char *nursery, const char *currency);
void bl_stock_free (BlStock *stock);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlStock, bl_stock_free)
/* Adds a copy; one of the same plant and size is replaced. */
void bl_stock_put (BlStock *stock, const BlOffer *offer);
/* NULL when @stock is NULL or has no such offer. */
const BlOffer *bl_stock_find (const BlStock *stock, const char *slug, const char *size);
/* Plants in stock over all sizes of @slug; -1 when the list says nothing of it. */
int bl_stock_of (const BlStock *stock, const char *slug);
