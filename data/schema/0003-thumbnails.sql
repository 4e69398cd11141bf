-- Small pictures of designs, and two rules that the first form left to the
-- program.

-- What a list shows of a design: a picture (PNG) of it as it was in that version
-- (design_head.version). It is made again from the design at any time, so it is
-- in no revision, no undo step and no exchange.
CREATE TABLE design_thumbnail (
  design  INTEGER NOT NULL PRIMARY KEY REFERENCES design (id) DEFERRABLE INITIALLY DEFERRED,
  version INTEGER NOT NULL CHECK (version >= 1),
  bytes   BLOB    NOT NULL CHECK (length (bytes) BETWEEN 1 AND 262144)
) STRICT;

CREATE TRIGGER yarn_fibre_still_adds_up AFTER UPDATE ON yarn_fibre
WHEN (SELECT sum (percent) FROM yarn_fibre WHERE yarn = NEW.yarn) > 100.0001
BEGIN
  SELECT raise (ABORT, 'the fibres of a yarn add up to more than 100 %');
END;

-- A dye lot is one of the swatch's own yarn.
CREATE TRIGGER swatch_lot_of_its_yarn BEFORE INSERT ON swatch
WHEN NEW.lot IS NOT NULL AND NEW.yarn IS NOT (SELECT yarn FROM yarn_lot WHERE id = NEW.lot)
BEGIN
  SELECT raise (ABORT, 'the lot is of another yarn');
END;
CREATE TRIGGER swatch_lot_still_of_its_yarn BEFORE UPDATE OF yarn, lot ON swatch
WHEN NEW.lot IS NOT NULL AND NEW.yarn IS NOT (SELECT yarn FROM yarn_lot WHERE id = NEW.lot)
BEGIN
  SELECT raise (ABORT, 'the lot is of another yarn');
END;
