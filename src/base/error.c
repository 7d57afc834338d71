/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one error domain of the computing library. */
#include "base/error.h"

G_DEFINE_QUARK (bl-error-quark, bl_error)
