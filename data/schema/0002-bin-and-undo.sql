-- A bin for designs, and their undo history.

-- NULL = on the shelf; otherwise when it was put into the bin.
ALTER TABLE design_head ADD COLUMN binned_at INTEGER;

-- How many of the design's undo steps are applied: those numbered up to it can
-- be undone, those above it redone.
ALTER TABLE design_head ADD COLUMN undo_step INTEGER NOT NULL DEFAULT 0 CHECK (undo_step >= 0);

CREATE INDEX design_head_by_bin ON design_head (binned_at) WHERE binned_at IS NOT NULL;

-- One saved edit: the changeset (session extension) of the design's rows that
-- it made. Undoing applies its inverse.
CREATE TABLE undo_step (
  design    INTEGER NOT NULL REFERENCES design (id) DEFERRABLE INITIALLY DEFERRED,
  step      INTEGER NOT NULL CHECK (step >= 1),
  made_at   INTEGER NOT NULL,
  label     TEXT    NOT NULL,
  changeset BLOB    NOT NULL,
  PRIMARY KEY (design, step)
) STRICT, WITHOUT ROWID;

-- A revision still is never altered, but goes with its whole design when that
-- is thrown out of the bin.
DROP TRIGGER revision_no_delete;
CREATE TRIGGER revision_no_delete BEFORE DELETE ON revision
WHEN NOT EXISTS (SELECT 1 FROM design_head WHERE design = OLD.design AND binned_at IS NOT NULL)
BEGIN SELECT raise (ABORT, 'a revision is never altered'); END;

DROP TRIGGER revision_size_no_delete;
CREATE TRIGGER revision_size_no_delete BEFORE DELETE ON revision_size
WHEN NOT EXISTS (SELECT 1 FROM revision JOIN design_head USING (design)
                  WHERE revision.id = OLD.revision AND binned_at IS NOT NULL)
BEGIN SELECT raise (ABORT, 'a revision is never altered'); END;

DROP TRIGGER revision_round_no_delete;
CREATE TRIGGER revision_round_no_delete BEFORE DELETE ON revision_round
WHEN NOT EXISTS (SELECT 1 FROM revision JOIN design_head USING (design)
                  WHERE revision.id = OLD.revision AND binned_at IS NOT NULL)
BEGIN SELECT raise (ABORT, 'a revision is never altered'); END;
