// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/catalog/book/faulty_store.h"

#include <sqlite3.h>

#include <cstring>
#include <stdexcept>

namespace seamwright::book {

namespace {

struct State {
  sqlite3_vfs* real = nullptr;
  int calls = 0, at = 0;
  bool on = false, failed = false;
  FaultyStore::Kind kind = FaultyStore::Kind::full;
} state;

struct File {
  sqlite3_file base;
  sqlite3_file* real;  // behind this struct in memory
};
sqlite3_file* real_of(sqlite3_file* f) { return reinterpret_cast<File*>(f)->real; }

// This call is to answer so in place of being done; SQLITE_OK to do it.
int fault(int io) {
  ++state.calls;
  if (state.at == 0 || state.calls < state.at || (state.calls > state.at && !state.on)) return SQLITE_OK;
  state.failed = true;
  return state.kind == FaultyStore::Kind::full ? SQLITE_FULL : io;
}

int close(sqlite3_file* f) {
  return real_of(f)->pMethods ? real_of(f)->pMethods->xClose(real_of(f)) : SQLITE_OK;
}
int read(sqlite3_file* f, void* to, int n, sqlite3_int64 at) {
  return real_of(f)->pMethods->xRead(real_of(f), to, n, at);
}
int write(sqlite3_file* f, const void* from, int n, sqlite3_int64 at) {
  const int code = fault(SQLITE_IOERR_WRITE);
  if (code == SQLITE_OK) return real_of(f)->pMethods->xWrite(real_of(f), from, n, at);
  real_of(f)->pMethods->xWrite(real_of(f), from, n / 2, at);  // half of it went out
  return code;
}
int truncate(sqlite3_file* f, sqlite3_int64 size) {
  const int code = fault(SQLITE_IOERR_TRUNCATE);
  return code != SQLITE_OK ? code : real_of(f)->pMethods->xTruncate(real_of(f), size);
}
int sync(sqlite3_file* f, int flags) {
  const int code = fault(SQLITE_IOERR_FSYNC);
  return code != SQLITE_OK ? SQLITE_IOERR_FSYNC : real_of(f)->pMethods->xSync(real_of(f), flags);
}
int size(sqlite3_file* f, sqlite3_int64* out) { return real_of(f)->pMethods->xFileSize(real_of(f), out); }
int lock(sqlite3_file* f, int l) { return real_of(f)->pMethods->xLock(real_of(f), l); }
int unlock(sqlite3_file* f, int l) { return real_of(f)->pMethods->xUnlock(real_of(f), l); }
int reserved(sqlite3_file* f, int* out) { return real_of(f)->pMethods->xCheckReservedLock(real_of(f), out); }
int control(sqlite3_file* f, int op, void* arg) {
  return real_of(f)->pMethods->xFileControl(real_of(f), op, arg);
}
int sector(sqlite3_file* f) { return real_of(f)->pMethods->xSectorSize(real_of(f)); }
int characteristics(sqlite3_file* f) { return real_of(f)->pMethods->xDeviceCharacteristics(real_of(f)); }
int shm_map(sqlite3_file* f, int page, int n, int extend, void volatile** out) {
  const int code = extend ? fault(SQLITE_IOERR_SHMMAP) : SQLITE_OK;
  return code != SQLITE_OK ? code : real_of(f)->pMethods->xShmMap(real_of(f), page, n, extend, out);
}
int shm_lock(sqlite3_file* f, int offset, int n, int flags) {
  return real_of(f)->pMethods->xShmLock(real_of(f), offset, n, flags);
}
void shm_barrier(sqlite3_file* f) { real_of(f)->pMethods->xShmBarrier(real_of(f)); }
int shm_unmap(sqlite3_file* f, int remove) { return real_of(f)->pMethods->xShmUnmap(real_of(f), remove); }

const sqlite3_io_methods methods{
    2,         close,    read,    write,  truncate,        sync,    size,     lock,
    unlock,    reserved, control, sector, characteristics, shm_map, shm_lock, shm_barrier,
    shm_unmap, nullptr,  nullptr};

int open(sqlite3_vfs*, const char* name, sqlite3_file* f, int flags, int* out) {
  auto* file = reinterpret_cast<File*>(f);
  file->real = reinterpret_cast<sqlite3_file*>(file + 1);
  file->base.pMethods = nullptr;
  if (flags & SQLITE_OPEN_CREATE)
    if (const int code = fault(SQLITE_CANTOPEN); code != SQLITE_OK) return code;
  const int code = state.real->xOpen(state.real, name, file->real, flags, out);
  if (code == SQLITE_OK) file->base.pMethods = &methods;
  return code;
}

sqlite3_vfs faulty{};

}  // namespace

FaultyStore::FaultyStore() {
  state = {};
  state.real = sqlite3_vfs_find(nullptr);
  faulty = *state.real;
  faulty.zName = "seamwright-faulty";
  faulty.szOsFile = static_cast<int>(sizeof(File)) + state.real->szOsFile;
  faulty.pNext = nullptr;
  faulty.xOpen = open;
  if (sqlite3_vfs_register(&faulty, 1) != SQLITE_OK) throw std::runtime_error("cannot register");
}

FaultyStore::~FaultyStore() {
  sqlite3_vfs_register(state.real, 1);
  sqlite3_vfs_unregister(&faulty);
}

void FaultyStore::fail_at(int n, bool on, Kind kind) {
  state.calls = 0;
  state.at = n;
  state.on = on;
  state.kind = kind;
  state.failed = false;
}

int FaultyStore::calls() const { return state.calls; }
bool FaultyStore::has_failed() const { return state.failed; }

}  // namespace seamwright::book
