/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything a design has decided as one plain text: two designs are the same when theirs is. */
#pragma once

#include "design/model.h"

/* Nothing derived stands in it. With @ids the rows' numbers too, without them only the content. */
char *bl_model_dump (const BlModel *model, gboolean ids);
