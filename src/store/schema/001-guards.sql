-- SPDX-License-Identifier: GPL-3.0-or-later
-- Schema 1: nothing is ever changed or taken away. UPDATE and UPSERT meet the first trigger,
-- DELETE and (with recursive_triggers on) REPLACE the second.

CREATE TRIGGER pc_update BEFORE UPDATE ON "pc"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER pc_delete BEFORE DELETE ON "pc"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER entry_update BEFORE UPDATE ON "entry"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER entry_delete BEFORE DELETE ON "entry"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER picture_update BEFORE UPDATE ON "picture"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER picture_delete BEFORE DELETE ON "picture"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER station_update BEFORE UPDATE ON "station"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER station_delete BEFORE DELETE ON "station"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER person_update BEFORE UPDATE ON "person"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER person_delete BEFORE DELETE ON "person"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER system_update BEFORE UPDATE ON "system"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER system_delete BEFORE DELETE ON "system"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER tank_update BEFORE UPDATE ON "tank"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER tank_delete BEFORE DELETE ON "tank"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER instrument_update BEFORE UPDATE ON "instrument"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER instrument_delete BEFORE DELETE ON "instrument"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER bottle_update BEFORE UPDATE ON "bottle"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER bottle_delete BEFORE DELETE ON "bottle"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER species_update BEFORE UPDATE ON "species"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER species_delete BEFORE DELETE ON "species"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER supplier_update BEFORE UPDATE ON "supplier"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER supplier_delete BEFORE DELETE ON "supplier"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER customer_update BEFORE UPDATE ON "customer"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER customer_delete BEFORE DELETE ON "customer"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER protocol_update BEFORE UPDATE ON "protocol"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER protocol_delete BEFORE DELETE ON "protocol"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER phase_update BEFORE UPDATE ON "phase"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER phase_delete BEFORE DELETE ON "phase"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER band_update BEFORE UPDATE ON "band"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER band_delete BEFORE DELETE ON "band"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER shipment_update BEFORE UPDATE ON "shipment"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER shipment_delete BEFORE DELETE ON "shipment"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER lot_update BEFORE UPDATE ON "lot"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER lot_delete BEFORE DELETE ON "lot"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER volume_update BEFORE UPDATE ON "volume"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER volume_delete BEFORE DELETE ON "volume"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER state_update BEFORE UPDATE ON "state"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER state_delete BEFORE DELETE ON "state"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER check_update BEFORE UPDATE ON "check"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER check_delete BEFORE DELETE ON "check"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER reading_update BEFORE UPDATE ON "reading"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER reading_delete BEFORE DELETE ON "reading"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER change_update BEFORE UPDATE ON "change"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER change_delete BEFORE DELETE ON "change"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER topup_update BEFORE UPDATE ON "topup"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER topup_delete BEFORE DELETE ON "topup"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER dose_update BEFORE UPDATE ON "dose"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER dose_delete BEFORE DELETE ON "dose"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER gear_update BEFORE UPDATE ON "gear"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER gear_delete BEFORE DELETE ON "gear"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER sighting_update BEFORE UPDATE ON "sighting"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER sighting_delete BEFORE DELETE ON "sighting"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER scrape_update BEFORE UPDATE ON "scrape"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER scrape_delete BEFORE DELETE ON "scrape"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER count_update BEFORE UPDATE ON "count"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER count_delete BEFORE DELETE ON "count"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER death_update BEFORE UPDATE ON "death"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER death_delete BEFORE DELETE ON "death"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER feed_update BEFORE UPDATE ON "feed"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER feed_delete BEFORE DELETE ON "feed"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER sign_update BEFORE UPDATE ON "sign"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER sign_delete BEFORE DELETE ON "sign"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER accept_update BEFORE UPDATE ON "accept"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER accept_delete BEFORE DELETE ON "accept"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER accept_open_update BEFORE UPDATE ON "accept_open"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER accept_open_delete BEFORE DELETE ON "accept_open"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER split_update BEFORE UPDATE ON "split"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER split_delete BEFORE DELETE ON "split"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER move_update BEFORE UPDATE ON "move"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER move_delete BEFORE DELETE ON "move"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER merge_update BEFORE UPDATE ON "merge"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER merge_delete BEFORE DELETE ON "merge"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER stop_update BEFORE UPDATE ON "stop"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER stop_delete BEFORE DELETE ON "stop"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER course_update BEFORE UPDATE ON "course"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER course_delete BEFORE DELETE ON "course"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER release_update BEFORE UPDATE ON "release"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER release_delete BEFORE DELETE ON "release"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER note_update BEFORE UPDATE ON "note"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER note_delete BEFORE DELETE ON "note"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER skip_update BEFORE UPDATE ON "skip"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER skip_delete BEFORE DELETE ON "skip"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER handover_update BEFORE UPDATE ON "handover"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER handover_delete BEFORE DELETE ON "handover"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER stock_update BEFORE UPDATE ON "stock"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER stock_delete BEFORE DELETE ON "stock"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER practice_update BEFORE UPDATE ON "practice"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER practice_delete BEFORE DELETE ON "practice"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER bath_update BEFORE UPDATE ON "bath"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER bath_delete BEFORE DELETE ON "bath"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;

CREATE TRIGGER visit_update BEFORE UPDATE ON "visit"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
CREATE TRIGGER visit_delete BEFORE DELETE ON "visit"
  BEGIN SELECT RAISE(ABORT, 'append only'); END;
