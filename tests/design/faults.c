/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A file system that fails: an SQLite VFS over the usual one, in which the n-th call goes wrong. */
#include "faults.h"

#include <sqlite3.h>
#include <string.h>

typedef struct
{
  sqlite3_file base;
  sqlite3_file *real; /* lies right behind this struct */
} FaultFile;

static struct
{
  sqlite3_vfs vfs;
  sqlite3_vfs *real;
  guint count, nth;
  FaultKind kind;
  gboolean lasting;
} faults;

/* Reads, locks and everything else are tried apart, so that each kind fails at every one of its calls. */
static gboolean
fails (FaultKind call)
{
  FaultKind kind = faults.kind == FAULT_READ || faults.kind == FAULT_LOCK ? faults.kind : FAULT_IO;

  if (kind != call)
    return FALSE;
  faults.count++;
  if (faults.nth == 0)
    return FALSE;
  return faults.count == faults.nth || (faults.lasting && faults.count > faults.nth);
}

#define REAL(file) (((FaultFile *) (file))->real)

static int
fault_close (sqlite3_file *file)
{
  return REAL (file)->pMethods->xClose (REAL (file));
}

static int
fault_read (sqlite3_file *file, void *data, int n, sqlite3_int64 at)
{
  return fails (FAULT_READ) ? SQLITE_IOERR_READ
                      : REAL (file)->pMethods->xRead (REAL (file), data, n, at);
}

static int
fault_write (sqlite3_file *file, const void *data, int n, sqlite3_int64 at)
{
  if (!fails (FAULT_IO))
    return REAL (file)->pMethods->xWrite (REAL (file), data, n, at);
  if (faults.kind == FAULT_TORN)
    REAL (file)->pMethods->xWrite (REAL (file), data, n / 2, at);
  return faults.kind == FAULT_FULL ? SQLITE_FULL : SQLITE_IOERR_WRITE;
}

static int
fault_truncate (sqlite3_file *file, sqlite3_int64 size)
{
  return fails (FAULT_IO) ? SQLITE_IOERR_TRUNCATE
                       : REAL (file)->pMethods->xTruncate (REAL (file), size);
}

/* No power fails while the tests run: what is written need not reach the disk. */
static int
fault_sync (sqlite3_file *file, int flags)
{
  return fails (FAULT_IO) ? SQLITE_IOERR_FSYNC : SQLITE_OK;
}

static int
fault_file_size (sqlite3_file *file, sqlite3_int64 *size)
{
  return REAL (file)->pMethods->xFileSize (REAL (file), size);
}

static int
fault_lock (sqlite3_file *file, int level)
{
  return fails (FAULT_LOCK) ? SQLITE_IOERR_LOCK : REAL (file)->pMethods->xLock (REAL (file), level);
}

static int
fault_unlock (sqlite3_file *file, int level)
{
  return REAL (file)->pMethods->xUnlock (REAL (file), level);
}

static int
fault_check_reserved (sqlite3_file *file, int *reserved)
{
  return REAL (file)->pMethods->xCheckReservedLock (REAL (file), reserved);
}

static int
fault_control (sqlite3_file *file, int op, void *data)
{
  return REAL (file)->pMethods->xFileControl (REAL (file), op, data);
}

static int
fault_sector_size (sqlite3_file *file)
{
  return REAL (file)->pMethods->xSectorSize (REAL (file));
}

static int
fault_characteristics (sqlite3_file *file)
{
  return REAL (file)->pMethods->xDeviceCharacteristics (REAL (file));
}

static const sqlite3_io_methods methods = {
  .iVersion = 1,
  .xClose = fault_close,
  .xRead = fault_read,
  .xWrite = fault_write,
  .xTruncate = fault_truncate,
  .xSync = fault_sync,
  .xFileSize = fault_file_size,
  .xLock = fault_lock,
  .xUnlock = fault_unlock,
  .xCheckReservedLock = fault_check_reserved,
  .xFileControl = fault_control,
  .xSectorSize = fault_sector_size,
  .xDeviceCharacteristics = fault_characteristics,
};

static int
fault_open (sqlite3_vfs *vfs, const char *name, sqlite3_file *file, int flags, int *out_flags)
{
  FaultFile *mine = (FaultFile *) file;
  int rc;

  memset (mine, 0, sizeof *mine);
  if ((flags & SQLITE_OPEN_MAIN_JOURNAL) != 0 && fails (FAULT_IO))
    return SQLITE_CANTOPEN;
  mine->real = (sqlite3_file *) (mine + 1);
  rc = faults.real->xOpen (faults.real, name, mine->real, flags, out_flags);
  if (rc == SQLITE_OK)
    mine->base.pMethods = &methods;
  return rc;
}

static int
fault_delete (sqlite3_vfs *vfs, const char *name, int sync_folder)
{
  return fails (FAULT_IO) ? SQLITE_IOERR_DELETE
                       : faults.real->xDelete (faults.real, name, FALSE);
}

static int
fault_access (sqlite3_vfs *vfs, const char *name, int flags, int *result)
{
  return faults.real->xAccess (faults.real, name, flags, result);
}

static int
fault_full_path (sqlite3_vfs *vfs, const char *name, int n, char *out)
{
  return faults.real->xFullPathname (faults.real, name, n, out);
}

static int
fault_randomness (sqlite3_vfs *vfs, int n, char *out)
{
  return faults.real->xRandomness (faults.real, n, out);
}

static int
fault_sleep (sqlite3_vfs *vfs, int micros)
{
  return faults.real->xSleep (faults.real, micros);
}

static int
fault_current_time (sqlite3_vfs *vfs, double *time)
{
  return faults.real->xCurrentTime (faults.real, time);
}

static int
fault_last_error (sqlite3_vfs *vfs, int n, char *out)
{
  return faults.real->xGetLastError (faults.real, n, out);
}

void
faults_install (void)
{
  faults.real = sqlite3_vfs_find (NULL);
  faults.vfs = (sqlite3_vfs){
    .iVersion = 1,
    .szOsFile = (int) sizeof (FaultFile) + faults.real->szOsFile,
    .mxPathname = faults.real->mxPathname,
    .zName = "faults",
    .xOpen = fault_open,
    .xDelete = fault_delete,
    .xAccess = fault_access,
    .xFullPathname = fault_full_path,
    .xRandomness = fault_randomness,
    .xSleep = fault_sleep,
    .xCurrentTime = fault_current_time,
    .xGetLastError = fault_last_error,
  };
  g_assert_cmpint (sqlite3_vfs_register (&faults.vfs, 1), ==, SQLITE_OK);
}

void
faults_arm (guint     nth,
            FaultKind kind,
            gboolean  lasting)
{
  faults.count = 0;
  faults.nth = nth;
  faults.kind = kind;
  faults.lasting = lasting;
}

guint
faults_disarm (void)
{
  guint count = faults.count;

  faults.nth = 0;
  return count;
}
