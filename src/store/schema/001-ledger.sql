-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 1: the ledger itself. A released file of this folder is never changed: what comes later is
-- a new number. Files of one number are one step, in one transaction.

-- Which PCs have written. The number is this file's, the uid is the PC's own.
CREATE TABLE pc (
  id INTEGER PRIMARY KEY,
  uid BLOB NOT NULL UNIQUE CHECK (length(uid) = 16)
) STRICT;

-- One row per entry, whatever its kind; the values of the kind are in the table of its name, in
-- the row of the same id. NULL stands for none. A person may sign the entry that makes the person,
-- so who and witness are looked at when the transaction ends.
CREATE TABLE entry (
  id INTEGER PRIMARY KEY,
  kind TEXT NOT NULL,
  happened_min INTEGER NOT NULL,
  offset_min INTEGER NOT NULL,
  recorded_ms INTEGER NOT NULL,
  who INTEGER REFERENCES person (id) DEFERRABLE INITIALLY DEFERRED,
  witness INTEGER REFERENCES person (id) DEFERRABLE INITIALLY DEFERRED,
  reason TEXT,
  pc INTEGER NOT NULL REFERENCES pc (id),
  pc_seq INTEGER NOT NULL CHECK (pc_seq > 0),
  corrects INTEGER REFERENCES entry (id),
  voided INTEGER NOT NULL CHECK (voided IN (0, 1)),
  entity INTEGER REFERENCES entry (id),
  hash BLOB NOT NULL CHECK (length(hash) = 32),
  UNIQUE (pc, pc_seq)
) STRICT;

-- Where the chain of a salvaged file goes on behind what was lost: the hash before the entry of that
-- number (NULL: lost too, so that entry is not proven), or an entry kept although its hash does not
-- fit, because others rest on it. `sum` as below.
CREATE TABLE salvaged (
  pc INTEGER NOT NULL REFERENCES pc (id),
  pc_seq INTEGER NOT NULL,
  before BLOB CHECK (length(before) = 32),
  doubtful INTEGER NOT NULL CHECK (doubtful IN (0, 1)),
  sum BLOB NOT NULL,
  PRIMARY KEY (pc, pc_seq)
) STRICT, WITHOUT ROWID;

-- Outside the chain, because they may change or go: names of people and how to reach them, PINs
-- (Argon2id), half-typed input, and what can be worked out again. `sum` is over the row's other
-- columns (lzs_sum.h): it finds a damaged row, it does not keep anybody from changing one.
CREATE TABLE identity (
  person INTEGER PRIMARY KEY REFERENCES person (id),
  name TEXT NOT NULL,
  initials TEXT,
  contact TEXT,
  sum BLOB NOT NULL
) STRICT;

CREATE TABLE pin (
  person INTEGER PRIMARY KEY REFERENCES person (id),
  hash TEXT NOT NULL,
  sum BLOB NOT NULL
) STRICT;

CREATE TABLE draft (
  key TEXT PRIMARY KEY,
  value TEXT NOT NULL,
  at_ms INTEGER NOT NULL,
  sum BLOB NOT NULL
) STRICT, WITHOUT ROWID;

-- Photographs, under the BLAKE2b-256 of their bytes. An entry holds that hash as a value, so the chain
-- covers what the picture shows.
CREATE TABLE picture (
  hash BLOB PRIMARY KEY CHECK (length(hash) = 32),
  bytes BLOB NOT NULL
) STRICT;

CREATE TABLE cache (
  key TEXT PRIMARY KEY,
  entry INTEGER NOT NULL,
  value BLOB NOT NULL,
  sum BLOB NOT NULL
) STRICT;
