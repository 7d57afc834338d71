/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a design that was accepted must bear: being laid out, counted and written. */
#pragma once

#include "design/design.h"

/* Lays out and counts every alternative. */
void whole_job_run (BlDesign *design);
