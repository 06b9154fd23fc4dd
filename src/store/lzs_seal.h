// SPDX-License-Identifier: GPL-3.0-or-later
// A file sealed with a passphrase, for sending: XChaCha20-Poly1305 in a stream (libsodium's
// secretstream) under a key from Argon2id. docs/store/sealed.md gives the layout. Works in blocks,
// so that a file of any size needs no more memory than a small one.
#ifndef LZS_SEAL_H
#define LZS_SEAL_H

#include "lzs_status.h"

#define LZS_SEAL_LEAST 8 // bytes of a passphrase

// Whole or not at all; LZS_EXISTS if there is a file at to_path, LZS_BAD_INPUT for a passphrase
// that is too short.
lzs_status lzs_seal(const char *path, const char *to_path, const char *passphrase,
                    lzs_error *error);
// LZS_REFUSED: the passphrase is another one, or bytes were changed; LZS_NOT_STATION: not a sealed
// file; LZS_TOO_NEW: of a newer layout.
lzs_status lzs_unseal(const char *path, const char *to_path, const char *passphrase,
                      lzs_error *error);

#endif
