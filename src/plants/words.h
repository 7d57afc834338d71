/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words that a record uses for types, forms, shapes, grades and care groups. */
#pragma once

#include <glib.h>

/* @names ends with NULL; the index of a name is the value of the enumeration. */
extern const char *const bl_type_words[];
extern const char *const bl_form_words[];
extern const char *const bl_leaf_words[];
extern const char *const bl_flower_words[];
extern const char *const bl_grade_words[];
extern const char *const bl_growth_words[];
extern const char *const bl_harm_words[];
extern const char *const bl_browse_words[];
extern const char *const bl_leaves_words[];
extern const char *const bl_care_words[];

/* The index of @name in @words; -1 when it is none of them. */
int bl_word_index (const char *const *words, const char *name);
/* All words, for a message: "low, medium, high". */
char *bl_words_join (const char *const *words);
