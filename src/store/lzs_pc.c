// SPDX-License-Identifier: GPL-3.0-or-later
// A PC is a random 128-bit number in its user's data folder: it names the chain to which this PC
// adds. After a restore it must be a new one: entries written since the copy would otherwise share
// their running numbers with those that follow.
#include "lzs_pc.h"

#include "lzs_file.h"

#include <sodium.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#define PC_FILE "/pc-id"
#define PC_HEX  32

static lzs_status
read_id(const char *path, uint8_t pc[16], lzs_error *error)
{
  char text[PC_HEX + 2] = "";
  size_t n = 0, made = 0;
  lzs_status status = lzs_file_read(path, text, sizeof text - 1, &n, error);
  if (status != LZS_OK)
    return status;
  if (sodium_hex2bin(pc, 16, text, PC_HEX <= n ? PC_HEX : n, NULL, &made, NULL) != 0 || made != 16)
    return lzs_fail(error, LZS_CORRUPT, "pc_folder", path, "not a PC's id: 32 hexadecimal digits");
  return LZS_OK;
}

static lzs_status
write_id(const char *path, bool replace, uint8_t pc[16], lzs_error *error)
{
  char text[PC_HEX + 2];
  randombytes_buf(pc, 16);
  sodium_bin2hex(text, sizeof text, pc, 16);
  text[PC_HEX] = '\n';
  return lzs_file_write(path, text, PC_HEX + 1, replace, error);
}

static lzs_status
id_path(const lzs_store *store, char **out, lzs_error *error)
{
  *out = NULL;
  if (store->pc_folder == NULL)
    return lzs_fail(error, LZS_BAD_INPUT, "pc_folder", NULL, "needed to write");
  if (mkdir(store->pc_folder, 0700) != 0 && errno != EEXIST)
    return lzs_fail_errno(error, errno, store->pc_folder, "make the PC's folder");
  *out = lzs_file_beside(store->pc_folder, PC_FILE);
  return *out != NULL ? LZS_OK : lzs_fail(error, LZS_NO_MEMORY, "pc_folder", NULL, NULL);
}

lzs_status
lzs_pc_ensure(lzs_store *store, lzs_error *error)
{
  if (store->have_pc)
    return LZS_OK;
  char *path;
  lzs_status status = id_path(store, &path, error);
  if (status != LZS_OK)
    return status;
  lzs_error first = {0};
  status = read_id(path, store->pc, &first);
  if (status != LZS_OK && status != LZS_NOT_FOUND && error != NULL)
    *error = first;
  if (status == LZS_NOT_FOUND) {
    status = write_id(path, false, store->pc, error);
    if (status == LZS_EXISTS) // another program of this user was first
      status = read_id(path, store->pc, error);
  }
  store->have_pc = status == LZS_OK;
  free(path);
  return status;
}

lzs_status
lzs_pc_renew(lzs_store *store, lzs_error *error)
{
  char *path;
  lzs_status status = id_path(store, &path, error);
  if (status != LZS_OK)
    return status;
  uint8_t pc[16];
  status = write_id(path, true, pc, error);
  if (status == LZS_OK) {
    memcpy(store->pc, pc, sizeof pc);
    store->have_pc = true;
  }
  free(path);
  return status;
}
