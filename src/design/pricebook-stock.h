/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A nursery's prices in a price book. */
#pragma once

#include "design/pricebook.h"
#include "plants/library.h"

/* Puts every price of @stock into @book, the nursery as supplier and the plants by their names in
 * @library (may be NULL); how many there were. The two must be in one currency. */
guint bl_price_book_take_stock (BlPriceBook *book, const BlStock *stock, BlLibrary *library);
