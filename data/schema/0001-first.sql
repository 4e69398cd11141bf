-- The first form of the library. Lengths in mm, masses in g, yarn in m, times
-- in seconds since 1970 (UTC), as everywhere inside the program.
--
-- Every table is STRICT and has a primary key that is never NULL, so that
-- SQLite's session extension can record it. What hangs on a design is keyed by
-- (design, place), place counting from 0 in the design's own order; foreign
-- keys among these are deferred and never cascade, so that a recorded change
-- can be undone row by row in any order.

---- yarns -----------------------------------------------------------------

CREATE TABLE yarn (
  id              INTEGER NOT NULL PRIMARY KEY,
  uuid            TEXT    NOT NULL UNIQUE,
  name            TEXT    NOT NULL UNIQUE CHECK (trim (name) <> '' AND instr (name, ' / ') = 0),
  maker           TEXT    NOT NULL DEFAULT '',
  weight_class    INTEGER CHECK (weight_class BETWEEN 0 AND 7),  -- NULL = not known
  uk_name         TEXT    NOT NULL DEFAULT '',
  metres_per_ball REAL    NOT NULL DEFAULT 0 CHECK (metres_per_ball >= 0),
  grams_per_ball  REAL    NOT NULL DEFAULT 0 CHECK (grams_per_ball >= 0),
  price_per_ball  REAL    NOT NULL DEFAULT 0 CHECK (price_per_ball >= 0),
  currency        TEXT    NOT NULL DEFAULT '',
  care            TEXT    NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE yarn_fibre (
  yarn    INTEGER NOT NULL REFERENCES yarn (id) ON DELETE CASCADE,
  place   INTEGER NOT NULL CHECK (place >= 0),
  fibre   TEXT    NOT NULL CHECK (trim (fibre) <> ''),
  percent REAL    NOT NULL CHECK (percent > 0 AND percent <= 100),
  PRIMARY KEY (yarn, place)
) STRICT, WITHOUT ROWID;

-- That a mix adds up to exactly 100 is kept by the program, a mix being several
-- rows; that it never goes beyond is kept here.
CREATE TRIGGER yarn_fibre_adds_up AFTER INSERT ON yarn_fibre
WHEN (SELECT sum (percent) FROM yarn_fibre WHERE yarn = NEW.yarn) > 100.0001
BEGIN
  SELECT raise (ABORT, 'the fibres of a yarn add up to more than 100 %');
END;

CREATE TABLE yarn_lot (
  id     INTEGER NOT NULL PRIMARY KEY,
  yarn   INTEGER NOT NULL REFERENCES yarn (id) ON DELETE CASCADE,
  lot    TEXT    NOT NULL CHECK (trim (lot) <> ''),
  colour TEXT    NOT NULL DEFAULT '',
  balls  REAL    NOT NULL DEFAULT 0 CHECK (balls >= 0),
  UNIQUE (yarn, lot)
) STRICT;

---- swatches --------------------------------------------------------------

CREATE TABLE swatch (
  id             INTEGER NOT NULL PRIMARY KEY,
  uuid           TEXT    NOT NULL UNIQUE,
  yarn           INTEGER NOT NULL REFERENCES yarn (id),
  lot            INTEGER REFERENCES yarn_lot (id) ON DELETE SET NULL,
  hook_mm        REAL    NOT NULL CHECK (hook_mm >= 0 AND hook_mm <= 50),
  fabric         TEXT    NOT NULL CHECK (fabric <> '' AND instr (fabric, ' / ') = 0),
  worked         TEXT    NOT NULL DEFAULT 'rounds' CHECK (worked IN ('rows', 'turned-rounds', 'rounds')),
  worked_by      TEXT    NOT NULL DEFAULT '',
  made_on        TEXT    NOT NULL DEFAULT '' CHECK (made_on = '' OR date (made_on, '+0 days') IS made_on),
  note           TEXT    NOT NULL DEFAULT '',
  grams          REAL    NOT NULL DEFAULT 0 CHECK (grams >= 0),
  piece_stitches INTEGER NOT NULL DEFAULT 0 CHECK (piece_stitches >= 0),
  piece_rounds   INTEGER NOT NULL DEFAULT 0 CHECK (piece_rounds >= 0)
) STRICT;

CREATE INDEX swatch_by_set ON swatch (yarn, hook_mm, fabric);
CREATE INDEX swatch_by_lot ON swatch (lot);

CREATE TABLE swatch_photo (
  swatch INTEGER NOT NULL PRIMARY KEY REFERENCES swatch (id) ON DELETE CASCADE,
  path   TEXT CHECK (path <> '' AND path NOT LIKE '/%' AND ('/' || path || '/') NOT LIKE '%/../%'),
  bytes  BLOB CHECK (length (bytes) <= 4194304),
  CHECK ((path IS NULL) <> (bytes IS NULL))
) STRICT;

CREATE TABLE reading (
  swatch    INTEGER NOT NULL REFERENCES swatch (id) ON DELETE CASCADE,
  number    INTEGER NOT NULL CHECK (number >= 1),
  direction TEXT    NOT NULL CHECK (direction IN ('stitches', 'rounds')),
  count     REAL    NOT NULL CHECK (count > 0),
  span_mm   REAL    NOT NULL CHECK (span_mm > 0),
  place     TEXT    NOT NULL DEFAULT '',
  washed    INTEGER NOT NULL DEFAULT 0 CHECK (washed IN (0, 1)),
  laid      TEXT    NOT NULL DEFAULT 'relaxed' CHECK (laid IN ('relaxed', 'gently', 'fully')),
  PRIMARY KEY (swatch, number)
) STRICT, WITHOUT ROWID;

---- size tables of the user's own (ours are compiled in) ------------------

CREATE TABLE size_table (
  id     TEXT NOT NULL PRIMARY KEY CHECK (trim (id) <> ''),
  name   TEXT NOT NULL,
  source TEXT NOT NULL DEFAULT '',
  status TEXT NOT NULL DEFAULT 'unsaid' CHECK (status IN ('unsaid', 'read', 'secondary', 'derived', 'memory'))
) STRICT;

CREATE TABLE size_table_size (
  size_table  TEXT    NOT NULL REFERENCES size_table (id) ON DELETE CASCADE,
  place       INTEGER NOT NULL CHECK (place >= 0),
  size        TEXT    NOT NULL CHECK (trim (size) <> ''),
  name        TEXT    NOT NULL,
  head_mm     REAL    NOT NULL CHECK (head_mm > 0),
  depth_mm    REAL    NOT NULL CHECK (depth_mm >= 0),
  months_from INTEGER NOT NULL DEFAULT -1 CHECK (months_from >= -1),
  source      TEXT,
  status      TEXT    NOT NULL DEFAULT 'unsaid' CHECK (status IN ('unsaid', 'read', 'secondary', 'derived', 'memory')),
  PRIMARY KEY (size_table, place),
  UNIQUE (size_table, size)
) STRICT, WITHOUT ROWID;

---- designs ---------------------------------------------------------------

CREATE TABLE design (
  id                   INTEGER NOT NULL PRIMARY KEY,
  name                 TEXT    NOT NULL,
  code                 TEXT    NOT NULL,
  designer             TEXT    NOT NULL,
  summary              TEXT    NOT NULL,
  notes                TEXT    NOT NULL,
  terms                TEXT    NOT NULL CHECK (terms IN ('uk', 'us')),
  units                TEXT    NOT NULL CHECK (units IN ('cm', 'inch')),
  mm_per_inch          REAL    NOT NULL CHECK (mm_per_inch > 0),
  spiral               INTEGER NOT NULL CHECK (spiral IN (0, 1)),
  chain_counts         INTEGER NOT NULL CHECK (chain_counts IN (0, 1)),
  yarn_name            TEXT    NOT NULL,
  yarn_weight_class    INTEGER NOT NULL CHECK (yarn_weight_class BETWEEN -1 AND 7),
  yarn_metres_per_ball REAL    NOT NULL CHECK (yarn_metres_per_ball >= 0),
  yarn_grams_per_ball  REAL    NOT NULL CHECK (yarn_grams_per_ball >= 0),
  yarn_price_per_ball  REAL    NOT NULL CHECK (yarn_price_per_ball >= 0),
  yarn_currency        TEXT    NOT NULL,
  yarn_margin          REAL    NOT NULL CHECK (yarn_margin >= 0),
  stitches_per_minute  REAL    NOT NULL CHECK (stitches_per_minute >= 0),
  body_swatch          TEXT    NOT NULL,
  body_fabric          TEXT    NOT NULL,
  body_ease_fraction   REAL    NOT NULL,
  body_ease_mm         REAL    NOT NULL,
  brim_ease_fraction   REAL    NOT NULL,
  brim_ease_mm         REAL    NOT NULL,
  size_table           TEXT    NOT NULL,
  brim_kind            TEXT    NOT NULL CHECK (brim_kind IN ('none', 'slip-rib', 'low-rib', 'post-rib', 'rolled')),
  brim_folded          INTEGER NOT NULL CHECK (brim_folded IN (0, 1)),
  brim_height_mm       REAL    NOT NULL CHECK (brim_height_mm >= 0),
  brim_pick_up         TEXT    NOT NULL CHECK (brim_pick_up IN ('computed', 'per-row')),
  brim_per_row         REAL    NOT NULL CHECK (brim_per_row >= 0),
  brim_colour          INTEGER NOT NULL CHECK (brim_colour BETWEEN 0 AND 255),
  brim_swatch          TEXT    NOT NULL,
  crown_profile        TEXT    NOT NULL CHECK (crown_profile IN ('flat', 'round', 'tapered', 'pointed', 'gathered', 'own')),
  crown_fabric         TEXT    NOT NULL,
  crown_swatch         TEXT    NOT NULL,
  crown_length_mm      REAL    NOT NULL CHECK (crown_length_mm >= 0),
  crown_of_radius      REAL    NOT NULL CHECK (crown_of_radius >= 0),
  crown_staggered      INTEGER NOT NULL CHECK (crown_staggered IN (0, 1)),
  crown_close_at       INTEGER NOT NULL CHECK (crown_close_at >= 0),
  crown_multiple_on_body INTEGER NOT NULL CHECK (crown_multiple_on_body IN (0, 1)),
  pompom_mm            REAL    NOT NULL CHECK (pompom_mm >= 0),
  pompom_grams         REAL    NOT NULL CHECK (pompom_grams >= 0),
  pompom_colour        INTEGER NOT NULL CHECK (pompom_colour BETWEEN 0 AND 255),
  tail_mm              REAL    NOT NULL CHECK (tail_mm >= 0),
  carry_rounds         INTEGER NOT NULL CHECK (carry_rounds >= 0),
  carry_mm             REAL    NOT NULL CHECK (carry_mm >= 0),
  cords                INTEGER NOT NULL CHECK (cords IN (0, 1)),
  buttons              INTEGER NOT NULL CHECK (buttons IN (0, 1)),
  girth_tolerance_mm   REAL    NOT NULL,
  girth_limit_mm       REAL    NOT NULL,
  brim_tolerance_mm    REAL    NOT NULL,
  brim_limit_mm        REAL    NOT NULL,
  depth_tolerance_mm   REAL    NOT NULL,
  adjust_weight        REAL    NOT NULL,
  pick_up_weight       REAL    NOT NULL,
  least_step           INTEGER NOT NULL CHECK (least_step >= 0),
  rounding             TEXT    NOT NULL CHECK (rounding IN ('nearest', 'down', 'up'))
) STRICT;

CREATE INDEX design_by_name ON design (name COLLATE NOCASE, id);

-- What the program knows of a design that is no decision of the designer's,
-- and so is not undone with them. The version grows by one with every change
-- and tells a program that saves whether it saw the last one.
CREATE TABLE design_head (
  design     INTEGER NOT NULL PRIMARY KEY REFERENCES design (id) DEFERRABLE INITIALLY DEFERRED,
  uuid       TEXT    NOT NULL UNIQUE,
  version    INTEGER NOT NULL DEFAULT 1 CHECK (version >= 1),
  created_at INTEGER NOT NULL,
  changed_at INTEGER NOT NULL
) STRICT;

CREATE INDEX design_head_by_change ON design_head (changed_at DESC, design);

CREATE TABLE design_tag (
  design INTEGER NOT NULL REFERENCES design (id) DEFERRABLE INITIALLY DEFERRED,
  tag    TEXT    NOT NULL CHECK (trim (tag) <> ''),
  PRIMARY KEY (design, tag)
) STRICT, WITHOUT ROWID;

CREATE INDEX design_tag_by_tag ON design_tag (tag);

CREATE TABLE design_colour (
  design INTEGER NOT NULL REFERENCES design (id) DEFERRABLE INITIALLY DEFERRED,
  place  INTEGER NOT NULL CHECK (place >= 0),
  name   TEXT    NOT NULL,
  rgb    INTEGER NOT NULL CHECK (rgb BETWEEN 0 AND 0xffffffff),
  PRIMARY KEY (design, place)
) STRICT, WITHOUT ROWID;

-- Further colourways: the same design with other colours in the same places.
CREATE TABLE design_colourway (
  design INTEGER NOT NULL REFERENCES design (id) DEFERRABLE INITIALLY DEFERRED,
  name   TEXT    NOT NULL CHECK (trim (name) <> ''),
  PRIMARY KEY (design, name)
) STRICT, WITHOUT ROWID;

CREATE TABLE design_colourway_colour (
  design    INTEGER NOT NULL,
  colourway TEXT    NOT NULL,
  place     INTEGER NOT NULL CHECK (place >= 0),
  name      TEXT    NOT NULL,
  rgb       INTEGER NOT NULL CHECK (rgb BETWEEN 0 AND 0xffffffff),
  PRIMARY KEY (design, colourway, place),
  FOREIGN KEY (design, colourway) REFERENCES design_colourway (design, name)
    DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE design_swatch (
  design           INTEGER NOT NULL REFERENCES design (id) DEFERRABLE INITIALLY DEFERRED,
  place            INTEGER NOT NULL CHECK (place >= 0),
  id               TEXT    NOT NULL,
  fabric           TEXT    NOT NULL,
  from_set         TEXT    NOT NULL,  -- 'YARN / HOOK / PATTERN'; empty = the readings below
  hook_mm          REAL    NOT NULL CHECK (hook_mm >= 0),
  tape_division_mm REAL    NOT NULL CHECK (tape_division_mm >= 0),
  edge_stitches    REAL    NOT NULL CHECK (edge_stitches >= 0),
  stretch          REAL    NOT NULL,
  height_loss      REAL    NOT NULL,
  grams            REAL    NOT NULL CHECK (grams >= 0),
  piece_stitches   INTEGER NOT NULL CHECK (piece_stitches >= 0),
  piece_rounds     INTEGER NOT NULL CHECK (piece_rounds >= 0),
  PRIMARY KEY (design, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE design_reading (
  design    INTEGER NOT NULL,
  swatch    INTEGER NOT NULL,
  place     INTEGER NOT NULL CHECK (place >= 0),
  direction TEXT    NOT NULL CHECK (direction IN ('stitches', 'rounds')),
  count     REAL    NOT NULL CHECK (count > 0),
  span_mm   REAL    NOT NULL CHECK (span_mm > 0),
  washed    INTEGER NOT NULL CHECK (washed IN (0, 1)),
  laid      TEXT    NOT NULL CHECK (laid IN ('relaxed', 'gently', 'fully')),
  PRIMARY KEY (design, swatch, place),
  FOREIGN KEY (design, swatch) REFERENCES design_swatch (design, place) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE design_size (
  design             INTEGER NOT NULL REFERENCES design (id) DEFERRABLE INITIALLY DEFERRED,
  place              INTEGER NOT NULL CHECK (place >= 0),
  id                 TEXT    NOT NULL,
  name               TEXT,
  head_mm            REAL    NOT NULL CHECK (head_mm >= 0),
  depth_mm           REAL    NOT NULL CHECK (depth_mm >= 0),
  months_from        INTEGER NOT NULL,
  source             TEXT,
  status             TEXT    NOT NULL DEFAULT 'unsaid' CHECK (status IN ('unsaid', 'read', 'secondary', 'derived', 'memory')),
  own_body_ease      INTEGER NOT NULL CHECK (own_body_ease IN (0, 1)),
  body_ease_fraction REAL    NOT NULL,
  body_ease_mm       REAL    NOT NULL,
  own_brim_ease      INTEGER NOT NULL CHECK (own_brim_ease IN (0, 1)),
  brim_ease_fraction REAL    NOT NULL,
  brim_ease_mm       REAL    NOT NULL,
  PRIMARY KEY (design, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE design_crown_count (
  design INTEGER NOT NULL,
  size   INTEGER NOT NULL,
  place  INTEGER NOT NULL CHECK (place >= 0),
  count  INTEGER NOT NULL CHECK (count >= 0),
  PRIMARY KEY (design, size, place),
  FOREIGN KEY (design, size) REFERENCES design_size (design, place) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE design_band (
  design INTEGER NOT NULL REFERENCES design (id) DEFERRABLE INITIALLY DEFERRED,
  place  INTEGER NOT NULL CHECK (place >= 0),
  name   TEXT    NOT NULL,
  fabric TEXT    NOT NULL,
  swatch TEXT    NOT NULL,
  mode   TEXT    NOT NULL CHECK (mode IN ('rounds', 'repeats', 'fill')),
  amount INTEGER NOT NULL CHECK (amount >= 0),
  PRIMARY KEY (design, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE design_stripe (
  design INTEGER NOT NULL,
  band   INTEGER NOT NULL,
  place  INTEGER NOT NULL CHECK (place >= 0),
  colour INTEGER NOT NULL CHECK (colour BETWEEN 0 AND 255),
  rounds INTEGER NOT NULL CHECK (rounds BETWEEN 0 AND 65535),
  PRIMARY KEY (design, band, place),
  FOREIGN KEY (design, band) REFERENCES design_band (design, place) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE design_crown_stripe (
  design INTEGER NOT NULL REFERENCES design (id) DEFERRABLE INITIALLY DEFERRED,
  place  INTEGER NOT NULL CHECK (place >= 0),
  colour INTEGER NOT NULL CHECK (colour BETWEEN 0 AND 255),
  rounds INTEGER NOT NULL CHECK (rounds BETWEEN 0 AND 65535),
  PRIMARY KEY (design, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE design_wedge (
  design INTEGER NOT NULL REFERENCES design (id) DEFERRABLE INITIALLY DEFERRED,
  place  INTEGER NOT NULL CHECK (place >= 0),
  wedges INTEGER NOT NULL CHECK (wedges >= 0),
  PRIMARY KEY (design, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE design_pin (
  design INTEGER NOT NULL REFERENCES design (id) DEFERRABLE INITIALLY DEFERRED,
  place  INTEGER NOT NULL CHECK (place >= 0),
  size   TEXT    NOT NULL,
  kind   TEXT    NOT NULL CHECK (kind IN ('body-stitches', 'brim-count', 'brim-height', 'crown-start', 'fill-repeats')),
  value  INTEGER NOT NULL CHECK (value >= 0),
  PRIMARY KEY (design, place)
) STRICT, WITHOUT ROWID;

---- revisions -------------------------------------------------------------
-- What was given away is never altered. A revision is written from its rounds
-- up to its own row, and once that row is there nothing of it can be added,
-- changed or taken away.

CREATE TABLE revision (
  id          INTEGER NOT NULL PRIMARY KEY,
  uuid        TEXT    NOT NULL UNIQUE,
  design      INTEGER NOT NULL REFERENCES design (id),
  number      INTEGER NOT NULL CHECK (number >= 1),
  made_at     INTEGER NOT NULL,
  note        TEXT    NOT NULL,
  name        TEXT    NOT NULL,
  design_text TEXT    NOT NULL CHECK (design_text <> ''),
  UNIQUE (design, number)
) STRICT;

CREATE TABLE revision_size (
  revision      INTEGER NOT NULL REFERENCES revision (id) DEFERRABLE INITIALLY DEFERRED,
  place         INTEGER NOT NULL CHECK (place >= 0),
  size          TEXT    NOT NULL,
  name          TEXT    NOT NULL,
  head_mm       REAL    NOT NULL,
  girth_mm      REAL    NOT NULL,
  depth_mm      REAL    NOT NULL,
  brim_mm       REAL    NOT NULL,
  brim_rows     INTEGER NOT NULL CHECK (brim_rows >= 0),
  brim_stitches INTEGER NOT NULL CHECK (brim_stitches >= 0),
  body_stitches INTEGER NOT NULL CHECK (body_stitches >= 0),
  yarn_m        REAL    NOT NULL,
  PRIMARY KEY (revision, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE revision_round (
  revision     INTEGER NOT NULL,
  size         INTEGER NOT NULL,
  place        INTEGER NOT NULL CHECK (place >= 0),
  section      TEXT    NOT NULL,
  is_row       INTEGER NOT NULL CHECK (is_row IN (0, 1)),
  number       INTEGER NOT NULL CHECK (number >= 0),
  colour       INTEGER NOT NULL CHECK (colour BETWEEN 0 AND 255),
  instruction  TEXT    NOT NULL,
  stitches_in  INTEGER NOT NULL CHECK (stitches_in >= 0),
  stitches_out INTEGER NOT NULL CHECK (stitches_out >= 0),
  height_mm    REAL    NOT NULL,
  yarn_m       REAL    NOT NULL,
  PRIMARY KEY (revision, size, place),
  FOREIGN KEY (revision, size) REFERENCES revision_size (revision, place) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TRIGGER revision_no_change BEFORE UPDATE ON revision
BEGIN SELECT raise (ABORT, 'a revision is never altered'); END;
CREATE TRIGGER revision_no_delete BEFORE DELETE ON revision
BEGIN SELECT raise (ABORT, 'a revision is never altered'); END;
-- INSERT OR REPLACE deletes without asking the trigger above
CREATE TRIGGER revision_no_replace BEFORE INSERT ON revision
WHEN EXISTS (SELECT 1 FROM revision WHERE id = NEW.id OR uuid = NEW.uuid
                                       OR (design = NEW.design AND number = NEW.number))
BEGIN SELECT raise (ABORT, 'a revision is never altered'); END;

CREATE TRIGGER revision_size_no_change BEFORE UPDATE ON revision_size
BEGIN SELECT raise (ABORT, 'a revision is never altered'); END;
CREATE TRIGGER revision_size_no_delete BEFORE DELETE ON revision_size
BEGIN SELECT raise (ABORT, 'a revision is never altered'); END;
CREATE TRIGGER revision_size_no_more BEFORE INSERT ON revision_size
WHEN EXISTS (SELECT 1 FROM revision WHERE id = NEW.revision)
BEGIN SELECT raise (ABORT, 'a revision is never altered'); END;

CREATE TRIGGER revision_round_no_change BEFORE UPDATE ON revision_round
BEGIN SELECT raise (ABORT, 'a revision is never altered'); END;
CREATE TRIGGER revision_round_no_delete BEFORE DELETE ON revision_round
BEGIN SELECT raise (ABORT, 'a revision is never altered'); END;
CREATE TRIGGER revision_round_no_more BEFORE INSERT ON revision_round
WHEN EXISTS (SELECT 1 FROM revision WHERE id = NEW.revision)
BEGIN SELECT raise (ABORT, 'a revision is never altered'); END;

---- finding ---------------------------------------------------------------

CREATE VIRTUAL TABLE design_search USING fts5 (
  name, tags, notes, yarn, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3 4');

CREATE TRIGGER design_search_add AFTER INSERT ON design
BEGIN
  INSERT INTO design_search (rowid, name, tags, notes, yarn)
  VALUES (NEW.id, NEW.name || ' ' || NEW.code || ' ' || NEW.designer, '',
          NEW.summary || ' ' || NEW.notes, NEW.yarn_name);
END;
CREATE TRIGGER design_search_change
AFTER UPDATE OF name, code, designer, summary, notes, yarn_name ON design
WHEN (OLD.name, OLD.code, OLD.designer, OLD.summary, OLD.notes, OLD.yarn_name)
     IS NOT (NEW.name, NEW.code, NEW.designer, NEW.summary, NEW.notes, NEW.yarn_name)
BEGIN
  UPDATE design_search
     SET name = NEW.name || ' ' || NEW.code || ' ' || NEW.designer,
         notes = NEW.summary || ' ' || NEW.notes, yarn = NEW.yarn_name
   WHERE rowid = NEW.id;
END;
CREATE TRIGGER design_search_remove AFTER DELETE ON design
BEGIN
  DELETE FROM design_search WHERE rowid = OLD.id;
END;
CREATE TRIGGER design_search_tag AFTER INSERT ON design_tag
BEGIN
  UPDATE design_search
     SET tags = (SELECT group_concat (tag, ' ') FROM design_tag WHERE design = NEW.design)
   WHERE rowid = NEW.design;
END;
CREATE TRIGGER design_search_untag AFTER DELETE ON design_tag
BEGIN
  UPDATE design_search
     SET tags = ifnull ((SELECT group_concat (tag, ' ') FROM design_tag WHERE design = OLD.design), '')
   WHERE rowid = OLD.design;
END;

CREATE VIRTUAL TABLE yarn_search USING fts5 (
  name, maker, fibres, notes, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3 4');

CREATE TRIGGER yarn_search_add AFTER INSERT ON yarn
BEGIN
  INSERT INTO yarn_search (rowid, name, maker, fibres, notes)
  VALUES (NEW.id, NEW.name, NEW.maker, '', NEW.uk_name || ' ' || NEW.care);
END;
CREATE TRIGGER yarn_search_change AFTER UPDATE OF name, maker, uk_name, care ON yarn
BEGIN
  UPDATE yarn_search
     SET name = NEW.name, maker = NEW.maker, notes = NEW.uk_name || ' ' || NEW.care
   WHERE rowid = NEW.id;
END;
CREATE TRIGGER yarn_search_remove AFTER DELETE ON yarn
BEGIN
  DELETE FROM yarn_search WHERE rowid = OLD.id;
END;
CREATE TRIGGER yarn_search_fibre AFTER INSERT ON yarn_fibre
BEGIN
  UPDATE yarn_search
     SET fibres = (SELECT group_concat (fibre, ' ') FROM yarn_fibre WHERE yarn = NEW.yarn)
   WHERE rowid = NEW.yarn;
END;
CREATE TRIGGER yarn_search_unfibre AFTER DELETE ON yarn_fibre
BEGIN
  UPDATE yarn_search
     SET fibres = ifnull ((SELECT group_concat (fibre, ' ') FROM yarn_fibre WHERE yarn = OLD.yarn), '')
   WHERE rowid = OLD.yarn;
END;
