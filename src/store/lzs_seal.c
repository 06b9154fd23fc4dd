// SPDX-License-Identifier: GPL-3.0-or-later
// Sealing a file in blocks: see lzs_seal.h. The header is part of what is authenticated, the last
// block is marked as the last, so a shortened file is refused like a changed one.
#include "lzs_seal.h"

#include "lzs_fail.h"
#include "lzs_file.h"

#include <sodium.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define MAGIC     "LZRTSEAL"
#define LAYOUT    1
#define BLOCK     65536
#define MOST_OPS  16
#define MOST_MEM  (UINT64_C(1) << 30) // a stranger's file may not ask for more
#define HEAD_SIZE (8 + 1 + 8 + 8 + crypto_pwhash_SALTBYTES)

typedef crypto_secretstream_xchacha20poly1305_state stream;
#define STREAM_HEAD crypto_secretstream_xchacha20poly1305_HEADERBYTES
#define EXTRA       crypto_secretstream_xchacha20poly1305_ABYTES
#define FINAL       crypto_secretstream_xchacha20poly1305_TAG_FINAL

typedef struct {
  FILE *in, *out;
  const char *path;
  char *temp;
  uint8_t head[HEAD_SIZE];
  uint8_t key[crypto_secretstream_xchacha20poly1305_KEYBYTES];
  uint8_t plain[BLOCK], sealed[BLOCK + EXTRA];
} job;

static void
put_number(uint8_t *to, uint64_t value)
{
  for (int i = 0; i < 8; i++)
    to[i] = (uint8_t)(value >> (56 - 8 * i));
}

static uint64_t
get_number(const uint8_t *from)
{
  uint64_t value = 0;
  for (int i = 0; i < 8; i++)
    value = value << 8 | from[i];
  return value;
}

static lzs_status
make_key(job *j, const char *passphrase, lzs_error *error)
{
  uint64_t ops = get_number(j->head + 9), mem = get_number(j->head + 17);
  if (ops < 1 || ops > MOST_OPS || mem < crypto_pwhash_MEMLIMIT_MIN || mem > MOST_MEM)
    return lzs_fail(error, LZS_REFUSED, "file", j->path,
                    "its key would cost more than is accepted");
  if (crypto_pwhash(j->key, sizeof j->key, passphrase, strlen(passphrase), j->head + 25, ops,
                    (size_t)mem, crypto_pwhash_ALG_ARGON2ID13) != 0)
    return lzs_fail(error, LZS_NO_MEMORY, "file", j->path, "Argon2id");
  return LZS_OK;
}

static lzs_status
write_out(job *j, const void *bytes, size_t n, lzs_error *error)
{
  return fwrite(bytes, 1, n, j->out) == n ? LZS_OK : lzs_fail_errno(error, errno, j->temp, "write");
}

static lzs_status
seal_blocks(job *j, lzs_error *error)
{
  stream s;
  uint8_t head[STREAM_HEAD];
  crypto_secretstream_xchacha20poly1305_init_push(&s, head, j->key);
  lzs_status status = write_out(j, j->head, sizeof j->head, error);
  if (status == LZS_OK)
    status = write_out(j, head, sizeof head, error);
  for (bool first = true, last = false; status == LZS_OK && !last; first = false) {
    size_t n = fread(j->plain, 1, BLOCK, j->in);
    if (ferror(j->in))
      return lzs_fail_errno(error, errno, j->path, "read");
    int next = n == BLOCK ? fgetc(j->in) : EOF;
    last = next == EOF;
    if (!last)
      ungetc(next, j->in);
    unsigned long long made = 0;
    crypto_secretstream_xchacha20poly1305_push(&s, j->sealed, &made, j->plain, n,
                                               first ? j->head : NULL, first ? HEAD_SIZE : 0,
                                               last ? FINAL : 0);
    status = write_out(j, j->sealed, (size_t)made, error);
  }
  return status;
}

static lzs_status
unseal_blocks(job *j, lzs_error *error)
{
  static const char wrong[] = "another passphrase, or the file was changed";
  stream s;
  uint8_t head[STREAM_HEAD], tag = 0;
  lzs_status status = LZS_OK;
  if (fread(head, 1, sizeof head, j->in) != sizeof head ||
      crypto_secretstream_xchacha20poly1305_init_pull(&s, head, j->key) != 0)
    return lzs_fail(error, LZS_REFUSED, "file", j->path, wrong);
  for (bool first = true; status == LZS_OK && tag != FINAL; first = false) {
    unsigned long long made = 0;
    size_t n = fread(j->sealed, 1, sizeof j->sealed, j->in);
    if (n < EXTRA || crypto_secretstream_xchacha20poly1305_pull(
                         &s, j->plain, &made, &tag, j->sealed, n, first ? j->head : NULL,
                         first ? HEAD_SIZE : 0) != 0)
      return lzs_fail(error, LZS_REFUSED, "file", j->path, wrong);
    status = write_out(j, j->plain, (size_t)made, error);
  }
  if (status == LZS_OK && fgetc(j->in) != EOF)
    return lzs_fail(error, LZS_REFUSED, "file", j->path, wrong);
  return status;
}

static lzs_status
begin(job *j, const char *path, const char *to_path, const char *passphrase, lzs_error *error)
{
  if (sodium_init() < 0)
    return lzs_fail(error, LZS_INTERNAL, NULL, NULL, "libsodium does not start");
  if (strlen(passphrase) < LZS_SEAL_LEAST)
    return lzs_fail(error, LZS_BAD_INPUT, "passphrase", NULL, "accepted: 8 bytes or more");
  if (access(to_path, F_OK) == 0)
    return lzs_fail(error, LZS_EXISTS, "file", to_path, NULL);
  j->path = path;
  j->temp = lzs_file_beside(to_path, ".XXXXXX");
  if (j->temp == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, "file", to_path, NULL);
  j->in = fopen(path, "rbe");
  if (j->in == NULL)
    return lzs_fail_errno(error, errno, path, "open");
  int fd = mkstemp(j->temp); // mode 0600
  j->out = fd >= 0 ? fdopen(fd, "wb") : NULL;
  return j->out != NULL ? LZS_OK : lzs_fail_errno(error, errno, to_path, "make a file beside it");
}

static lzs_status
end(job *j, const char *to_path, lzs_status status, lzs_error *error)
{
  if (j->out != NULL && fclose(j->out) != 0 && status == LZS_OK)
    status = lzs_fail_errno(error, errno, to_path, "write");
  if (j->in != NULL)
    fclose(j->in);
  if (status == LZS_OK)
    status = lzs_file_publish(j->temp, to_path, false, error);
  if (status != LZS_OK && j->out != NULL)
    unlink(j->temp);
  free(j->temp);
  sodium_memzero(j, sizeof *j);
  free(j);
  return status;
}

lzs_status
lzs_seal(const char *path, const char *to_path, const char *passphrase, lzs_error *error)
{
  job *j = calloc(1, sizeof *j);
  if (j == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, "file", path, NULL);
  lzs_status status = begin(j, path, to_path, passphrase, error);
  if (status == LZS_OK) {
    memcpy(j->head, MAGIC, 8); // NOLINT(bugprone-not-null-terminated-result): bytes, no string
    j->head[8] = LAYOUT;
    put_number(j->head + 9, crypto_pwhash_OPSLIMIT_MODERATE);
    put_number(j->head + 17, crypto_pwhash_MEMLIMIT_MODERATE);
    randombytes_buf(j->head + 25, crypto_pwhash_SALTBYTES);
    status = make_key(j, passphrase, error);
  }
  if (status == LZS_OK)
    status = seal_blocks(j, error);
  return end(j, to_path, status, error);
}

static lzs_status
read_head(job *j, lzs_error *error)
{
  if (fread(j->head, 1, HEAD_SIZE, j->in) != HEAD_SIZE || memcmp(j->head, MAGIC, 8) != 0)
    return lzs_fail(error, LZS_NOT_STATION, "file", j->path, "not a sealed file");
  if (j->head[8] != LAYOUT)
    return lzs_fail_int(error, LZS_TOO_NEW, "layout", j->head[8], "sealed by a newer program");
  return LZS_OK;
}

lzs_status
lzs_unseal(const char *path, const char *to_path, const char *passphrase, lzs_error *error)
{
  job *j = calloc(1, sizeof *j);
  if (j == NULL)
    return lzs_fail(error, LZS_NO_MEMORY, "file", path, NULL);
  lzs_status status = begin(j, path, to_path, passphrase, error);
  if (status == LZS_OK)
    status = read_head(j, error);
  if (status == LZS_OK)
    status = make_key(j, passphrase, error);
  if (status == LZS_OK)
    status = unseal_blocks(j, error);
  return end(j, to_path, status, error);
}
