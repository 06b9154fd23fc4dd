-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 1: fact kinds. Columns and their order are those of lzs_kind_facts.c (a test compares).
-- A lot is named by its receipt or by the split that made it: hence entry (id) for lots.

CREATE TABLE "volume" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "system" INTEGER REFERENCES "system" (id),
  "volume_l" REAL,
  "method" TEXT
) STRICT;

CREATE TABLE "state" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "system" INTEGER REFERENCES "system" (id),
  "state" TEXT,
  "agent" TEXT,
  "agent_mg_l" REAL,
  "contact_min" INTEGER
) STRICT;

CREATE TABLE "check" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "instrument" INTEGER REFERENCES "instrument" (id),
  "ok" INTEGER CHECK ("ok" IN (0, 1)),
  "standard" TEXT,
  "expected" REAL,
  "found" REAL,
  "expected_2" REAL,
  "found_2" REAL,
  "adjusted" INTEGER CHECK ("adjusted" IN (0, 1))
) STRICT;

CREATE TABLE "reading" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "system" INTEGER REFERENCES "system" (id),
  "analyte" TEXT,
  "value" REAL,
  "typed" TEXT,
  "unit" TEXT,
  "instrument" INTEGER REFERENCES "instrument" (id),
  "error" REAL,
  "suspect" INTEGER CHECK ("suspect" IN (0, 1)),
  "confirms" INTEGER REFERENCES "reading" (id),
  "tank" INTEGER REFERENCES "tank" (id),
  "read_temperature" REAL
) STRICT;

CREATE TABLE "change" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "system" INTEGER REFERENCES "system" (id),
  "litres" REAL,
  "new_copper" REAL,
  "new_salinity" REAL,
  "drip" INTEGER CHECK ("drip" IN (0, 1)),
  "disposal" TEXT,
  "new_temperature" REAL
) STRICT;

CREATE TABLE "topup" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "system" INTEGER REFERENCES "system" (id),
  "litres" REAL,
  "new_salinity" REAL
) STRICT;

CREATE TABLE "dose" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "system" INTEGER REFERENCES "system" (id),
  "bottle" INTEGER REFERENCES "bottle" (id),
  "analyte" TEXT,
  "form" TEXT,
  "amount_ml" REAL,
  "amount_mg" REAL,
  "typed" TEXT,
  "computed_ml" REAL,
  "in_new_water" INTEGER CHECK ("in_new_water" IN (0, 1)),
  "salt_kg" REAL,
  "check_ml" REAL,
  "lifted" TEXT,
  "given_in_error" INTEGER CHECK ("given_in_error" IN (0, 1))
) STRICT;

CREATE TABLE "gear" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "system" INTEGER REFERENCES "system" (id),
  "gear" TEXT,
  "on" INTEGER CHECK ("on" IN (0, 1))
) STRICT;

CREATE TABLE "sighting" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "system" INTEGER REFERENCES "system" (id),
  "tank" INTEGER REFERENCES "tank" (id),
  "lot" INTEGER REFERENCES entry (id),
  "sign" TEXT,
  "heads" INTEGER,
  "words" TEXT,
  "photo" TEXT
) STRICT;

CREATE TABLE "scrape" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "tank" INTEGER REFERENCES "tank" (id),
  "finding" TEXT,
  "words" TEXT,
  "document" TEXT,
  "photo" TEXT
) STRICT;

CREATE TABLE "count" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "heads" INTEGER
) STRICT;

CREATE TABLE "death" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "heads" INTEGER,
  "tank" INTEGER REFERENCES "tank" (id),
  "cause" TEXT,
  "disposal" TEXT,
  "document" TEXT,
  "post_mortem" TEXT
) STRICT;

CREATE TABLE "feed" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "food" TEXT,
  "grams" REAL,
  "eaten_share" REAL,
  "bottle" INTEGER REFERENCES "bottle" (id),
  "medicine_mg" REAL
) STRICT;

CREATE TABLE "sign" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "phase" INTEGER,
  "vet" INTEGER CHECK ("vet" IN (0, 1))
) STRICT;

CREATE TABLE "accept" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "phase" INTEGER,
  "minutes" INTEGER
) STRICT;

CREATE TABLE "accept_open" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id)
) STRICT;

CREATE TABLE "split" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "code" TEXT,
  "heads" INTEGER,
  "tank" INTEGER REFERENCES "tank" (id)
) STRICT;

CREATE TABLE "move" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "tank" INTEGER REFERENCES "tank" (id)
) STRICT;

CREATE TABLE "merge" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "into" INTEGER REFERENCES entry (id)
) STRICT;

CREATE TABLE "stop" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "why" TEXT
) STRICT;

CREATE TABLE "course" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "protocol" INTEGER REFERENCES "protocol" (id),
  "phase" INTEGER,
  "keep" INTEGER CHECK ("keep" IN (0, 1)),
  "prescriber" INTEGER REFERENCES "person" (id),
  "diagnosis" TEXT
) STRICT;

CREATE TABLE "release" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "customer" INTEGER REFERENCES "customer" (id),
  "document" TEXT,
  "transporter" TEXT
) STRICT;

CREATE TABLE "note" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "system" INTEGER REFERENCES "system" (id),
  "lot" INTEGER REFERENCES entry (id),
  "words" TEXT
) STRICT;

CREATE TABLE "skip" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "system" INTEGER REFERENCES "system" (id),
  "lot" INTEGER REFERENCES entry (id),
  "task" TEXT,
  "analyte" TEXT
) STRICT;

CREATE TABLE "handover" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "to" INTEGER REFERENCES "person" (id),
  "sheet" INTEGER
) STRICT;

CREATE TABLE "stock" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "bottle" INTEGER REFERENCES "bottle" (id),
  "change_ml" REAL,
  "why" TEXT,
  "words" TEXT
) STRICT;

CREATE TABLE "practice" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "words" TEXT
) STRICT;

CREATE TABLE "bath" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "lot" INTEGER REFERENCES entry (id),
  "bath" TEXT,
  "bottle" INTEGER REFERENCES "bottle" (id),
  "litres" REAL,
  "amount_ml" REAL,
  "amount_mg" REAL,
  "computed_ml" REAL,
  "check_ml" REAL,
  "minutes" INTEGER,
  "temperature" REAL,
  "air" INTEGER CHECK ("air" IN (0, 1)),
  "stopped" INTEGER CHECK ("stopped" IN (0, 1)),
  "heads" INTEGER,
  "words" TEXT
) STRICT;

CREATE TABLE "visit" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "what" TEXT,
  "by" INTEGER REFERENCES "person" (id),
  "system" INTEGER REFERENCES "system" (id),
  "lot" INTEGER REFERENCES entry (id),
  "words" TEXT,
  "document" TEXT
) STRICT;
