/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Test data beside the source tree; tests that need it are skipped where it is absent. */
#pragma once

#include <json-glib/json-glib.h>

#include "geometry/point.h"

/* The path of a file of the data folder beside the source, or NULL after g_test_skip(). */
char *shared_path (const char *name);
JsonObject *shared_json (const char *name, JsonParser **parser);
BlPoint shared_pair (JsonObject *object, const char *member);
