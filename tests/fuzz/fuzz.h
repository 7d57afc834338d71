/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every fuzz target has: one function that takes bytes, and a few helpers.
 *
 * Built by gcc, corpus-main.c runs the kept inputs once each as a unit test. Built by clang,
 * libFuzzer calls the same function with inputs of its own making. */
#pragma once

#include <stddef.h>
#include <stdint.h>

#include "plants/library.h"

/* Takes @size bytes from anywhere. Whatever they are, it returns: a crash, a sanitizer's report, a
 * GLib warning or a broken promise (g_assert) is a finding. */
int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);
/* Called once before the first input. */
int LLVMFuzzerInitialize (int *argc, char ***argv);

/* The bytes as text with a NUL at its end, cut at the first NUL. */
char *fuzz_text (const uint8_t *data, size_t size);
/* Asserts that @error is set, is one sentence of ours, and is text that can be shown. */
void fuzz_check_error (const GError *error);
/* The library of the build tree; opened once. */
BlLibrary *fuzz_library (void);
/* A folder for this process, taken away when it ends. */
const char *fuzz_folder (void);

/* Reads numbers off the front of an input; zeros when it is used up. */
typedef struct
{
  const uint8_t *data;
  size_t left;
} FuzzReader;

guint fuzz_byte (FuzzReader *reader);
guint fuzz_pair (FuzzReader *reader);
/* Mostly small plain numbers; now and then any double at all. */
double fuzz_number (FuzzReader *reader);
