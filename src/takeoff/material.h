/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rounding of quantities to what a supplier sells. */
#pragma once

#include "design/pricebook.h"

/* @quantity up to a multiple of @step; as it is when there is no step. */
double bl_whole_steps (double quantity, double step);
/* The quantity of a price book item to order, in the item's unit. */
double bl_material_order (const BlPriceBook *book, const char *key, const char *unit,
                          double quantity);
