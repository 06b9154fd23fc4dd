// SPDX-License-Identifier: GPL-3.0-or-later
// A PC is a random 128-bit number in its user's data folder: it names the chain to which this PC
// adds. After a restore it must be a new one: entries written since the copy would otherwise share
// their running numbers with those that follow. Beside it stands a key that never leaves the PC:
// the id is in every file, so it proves nothing.
#include "lzs_pc.h"

#include "lzs_file.h"

#include <sodium.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define PC_FILE  "/pc-id"
#define KEY_FILE "/pc-key"
#define PC_SIZE  16
#define MOST     LZS_PC_KEY // bytes of the longer of the two

// A random number of `size` bytes, kept as hexadecimal digits.
static lzs_status
read_number(const char *path, uint8_t *number, size_t size, lzs_error *error)
{
  char text[2 * MOST + 2] = "";
  size_t n = 0, made = 0;
  lzs_status status = lzs_file_read(path, text, 2 * size + 1, &n, error);
  if (status != LZS_OK)
    return status;
  if (sodium_hex2bin(number, size, text, 2 * size <= n ? 2 * size : n, NULL, &made, NULL) != 0 ||
      made != size)
    return lzs_fail(error, LZS_CORRUPT, "pc_folder", path,
                    size == PC_SIZE ? "not a PC's id: 32 hexadecimal digits"
                                    : "not a PC's key: 64 hexadecimal digits");
  return LZS_OK;
}

static lzs_status
write_number(const char *path, bool replace, uint8_t *number, size_t size, lzs_error *error)
{
  char text[2 * MOST + 2];
  randombytes_buf(number, size);
  sodium_bin2hex(text, sizeof text, number, size);
  text[2 * size] = '\n';
  return lzs_file_write(path, text, 2 * size + 1, replace, error);
}

// Read, or made where there is none yet.
static lzs_status
have_number(const char *path, uint8_t *number, size_t size, lzs_error *error)
{
  lzs_error first = {0};
  lzs_status status = read_number(path, number, size, &first);
  if (status != LZS_OK && status != LZS_NOT_FOUND && error != NULL)
    *error = first;
  if (status == LZS_NOT_FOUND) {
    status = write_number(path, false, number, size, error);
    if (status == LZS_EXISTS) // another program of this user was first
      status = read_number(path, number, size, error);
  }
  return status;
}

static lzs_status
path_of(const lzs_store *store, const char *name, char **out, lzs_error *error)
{
  *out = NULL;
  if (store->pc_folder == NULL)
    return lzs_fail(error, LZS_BAD_INPUT, "pc_folder", NULL, "needed to write");
  if (mkdir(store->pc_folder, 0700) != 0 && errno != EEXIST)
    return lzs_fail_errno(error, errno, store->pc_folder, "make the PC's folder");
  *out = lzs_file_beside(store->pc_folder, name);
  return *out != NULL ? LZS_OK : lzs_fail(error, LZS_NO_MEMORY, "pc_folder", NULL, NULL);
}

lzs_status
lzs_pc_ensure(lzs_store *store, lzs_error *error)
{
  if (store->have_pc)
    return LZS_OK;
  char *path;
  lzs_status status = path_of(store, PC_FILE, &path, error);
  if (status != LZS_OK)
    return status;
  status = have_number(path, store->pc, PC_SIZE, error);
  store->have_pc = status == LZS_OK;
  free(path);
  return status;
}

lzs_status
lzs_pc_renew(lzs_store *store, lzs_error *error)
{
  char *path;
  lzs_status status = path_of(store, PC_FILE, &path, error);
  if (status != LZS_OK)
    return status;
  uint8_t pc[PC_SIZE];
  status = write_number(path, true, pc, PC_SIZE, error);
  if (status == LZS_OK) {
    memcpy(store->pc, pc, sizeof pc);
    store->have_pc = true;
  }
  free(path);
  return status;
}

lzs_status
lzs_pc_key(const lzs_store *store, bool make, uint8_t key[LZS_PC_KEY], lzs_error *error)
{
  char *path;
  if (!make && store->pc_folder == NULL)
    return lzs_fail(error, LZS_NOT_FOUND, "pc_folder", NULL, "no folder, so no key");
  lzs_status status = make ? path_of(store, KEY_FILE, &path, error) : LZS_OK;
  if (status != LZS_OK)
    return status;
  if (!make)
    path = lzs_file_beside(store->pc_folder, KEY_FILE);
  if (path == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, "pc_folder", NULL, NULL);
  status =
      make ? have_number(path, key, LZS_PC_KEY, error) : read_number(path, key, LZS_PC_KEY, error);
  free(path);
  return status;
}
