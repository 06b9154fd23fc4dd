-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 1: set-up kinds. Columns and their order are those of lzs_kind_setup.c (a test compares).
-- What is needed and which words and numbers are accepted is checked before the row is written; a
-- row that voids another may be empty.

CREATE TABLE "station" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "name" TEXT,
  "zone" TEXT,
  "slots" TEXT,
  "last_in" INTEGER CHECK ("last_in" IN (0, 1)),
  "trust_unchecked" INTEGER CHECK ("trust_unchecked" IN (0, 1)),
  "double_check" INTEGER CHECK ("double_check" IN (0, 1)),
  "accept_max_min" INTEGER,
  "contact_days" INTEGER,
  "idle_min" INTEGER,
  "paper" TEXT,
  "address" TEXT,
  "pins" INTEGER CHECK ("pins" IN (0, 1)),
  "late_entry_days" INTEGER,
  "retention_years" INTEGER,
  "registration" TEXT,
  "settle_h" INTEGER,
  "doubtful_pairs" TEXT,
  "unseen_exit" REAL,
  "pressure_hpa" REAL,
  "altitude_m" REAL
) STRICT;

CREATE TABLE "person" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "role" TEXT,
  "active" INTEGER CHECK ("active" IN (0, 1))
) STRICT;

CREATE TABLE "system" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "name" TEXT,
  "volume_l" REAL,
  "role" TEXT,
  "walk" INTEGER,
  "mixing_min" INTEGER,
  "max_change_day" REAL,
  "source_salinity" REAL,
  "nets" TEXT,
  "near" TEXT,
  "max_heads" INTEGER,
  "max_g_per_l" REAL
) STRICT;

CREATE TABLE "tank" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "system" INTEGER REFERENCES "system" (id),
  "number" INTEGER,
  "volume_l" REAL
) STRICT;

CREATE TABLE "supplier" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "name" TEXT,
  "country" TEXT,
  "address" TEXT,
  "registration" TEXT
) STRICT;

CREATE TABLE "instrument" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "name" TEXT,
  "method" TEXT,
  "sees" TEXT,
  "error_abs" REAL,
  "error_rel" REAL,
  "resolution" REAL,
  "scale" TEXT,
  "check_days" INTEGER,
  "standards" TEXT,
  "reagent_batch" TEXT,
  "reagent_expiry" TEXT
) STRICT;

CREATE TABLE "bottle" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "name" TEXT,
  "analyte" TEXT,
  "form" TEXT,
  "strength" REAL,
  "strength_as" TEXT,
  "batch" TEXT,
  "expiry" TEXT,
  "volume_ml" REAL,
  "prescription" TEXT,
  "reorder_ml" REAL,
  "prescriber" INTEGER REFERENCES "person" (id),
  "supplier" INTEGER REFERENCES "supplier" (id),
  "receipt" TEXT,
  "withdrawal_days" INTEGER,
  "limit_level" REAL
) STRICT;

CREATE TABLE "species" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "name" TEXT,
  "common" TEXT,
  "family" TEXT,
  "copper" TEXT,
  "low_salinity" TEXT,
  "formalin" TEXT,
  "chloroquine" TEXT,
  "invertebrate" INTEGER CHECK ("invertebrate" IN (0, 1)),
  "cartilaginous" INTEGER CHECK ("cartilaginous" IN (0, 1)),
  "source" TEXT,
  "length_cm" REAL
) STRICT;

CREATE TABLE "customer" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "reference" TEXT,
  "country" TEXT,
  "place" TEXT,
  "registration" TEXT
) STRICT;

CREATE TABLE "protocol" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "name" TEXT,
  "version" INTEGER,
  "source" TEXT,
  "caution" TEXT,
  "signed_off" INTEGER CHECK ("signed_off" IN (0, 1))
) STRICT;

CREATE TABLE "phase" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "protocol" INTEGER REFERENCES "protocol" (id),
  "position" INTEGER,
  "name" TEXT,
  "kind" TEXT,
  "place" TEXT,
  "role" TEXT,
  "reach" INTEGER CHECK ("reach" IN (0, 1)),
  "min_elapsed_min" INTEGER,
  "min_credit_min" INTEGER,
  "quiet_min" INTEGER,
  "eating_days" INTEGER,
  "eaten_share" REAL,
  "sign" TEXT,
  "lapse_min" INTEGER,
  "lapse" TEXT,
  "sighting_to" INTEGER,
  "rise_per_day" REAL,
  "rise_steps" INTEGER,
  "step_gap_min" INTEGER,
  "salinity_fall_day" REAL,
  "salinity_rise_day" REAL,
  "salinity_step" REAL,
  "late_tolerance_min" INTEGER,
  "tol_copper" REAL,
  "tol_salinity" REAL,
  "tol_temperature" REAL,
  "tol_ph" REAL,
  "copper_free" INTEGER CHECK ("copper_free" IN (0, 1)),
  "medicine" TEXT,
  "dose_level" REAL,
  "bath_min" INTEGER,
  "gear_on" TEXT,
  "gear_off" TEXT,
  "early" INTEGER CHECK ("early" IN (0, 1)),
  "warm_from" REAL,
  "warm_to" REAL
) STRICT;

CREATE TABLE "band" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "phase" INTEGER REFERENCES "phase" (id),
  "analyte" TEXT,
  "form" TEXT,
  "side" TEXT,
  "works" REAL,
  "works_high" REAL,
  "target" REAL,
  "plan" REAL,
  "harm" REAL,
  "gap_min" INTEGER,
  "error_inside" INTEGER CHECK ("error_inside" IN (0, 1))
) STRICT;

CREATE TABLE "shipment" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "code" TEXT,
  "supplier" INTEGER REFERENCES "supplier" (id),
  "due" TEXT,
  "expected_heads" INTEGER,
  "country" TEXT,
  "certificate" TEXT,
  "waybill" TEXT,
  "transporter" TEXT,
  "boxes" INTEGER,
  "origin" TEXT,
  "origin_registration" TEXT,
  "packed" TEXT
) STRICT;

CREATE TABLE "lot" (
  id INTEGER PRIMARY KEY REFERENCES entry (id),
  "code" TEXT,
  "species" INTEGER REFERENCES "species" (id),
  "shipment" INTEGER REFERENCES "shipment" (id),
  "tank" INTEGER REFERENCES "tank" (id),
  "heads" INTEGER,
  "invoiced" INTEGER,
  "dead_on_arrival" INTEGER,
  "weak" INTEGER,
  "mean_mass_g" REAL,
  "bag_temperature" REAL,
  "bag_salinity" REAL,
  "bag_ph" REAL,
  "bag_ammonia" REAL,
  "box" TEXT,
  "acclimation" TEXT
) STRICT;
