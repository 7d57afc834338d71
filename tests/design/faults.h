/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A file system that fails: an SQLite VFS over the usual one, in which the n-th call goes wrong. */
#pragma once

#include <glib.h>

typedef enum
{
  FAULT_IO,   /* the call fails with an I/O error */
  FAULT_FULL, /* writes fail with "disk full"; other calls with an I/O error */
  FAULT_TORN, /* a write stores its first half, then fails */
  FAULT_READ, /* a read fails, and nothing else */
  FAULT_LOCK  /* a lock is refused, as in a network folder without them, and nothing else */
} FaultKind;

/* Makes it the file system of every connection opened from now on. */
void faults_install (void);
/* The @nth write, sync, truncate, delete or open of a journal (or the @nth read, or lock) from now on
 * fails; with @lasting every later one too. 0 = none. */
void faults_arm (guint nth, FaultKind kind, gboolean lasting);
/* Calls seen since it was armed; ends the failing. */
guint faults_disarm (void);
