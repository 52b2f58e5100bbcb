-- +goose Up

PRAGMA user_version = 2;

-- Plans can be put away; and what the list of plans says is counted when a plan
-- is written, so that a list of a thousand reads no document. A count that is
-- NULL has not been made yet: the program makes it when it next starts.
ALTER TABLE plans ADD COLUMN archived TEXT;    -- UTC, RFC 3339, when put away; NULL is in use
ALTER TABLE plans ADD COLUMN show     TEXT;    -- units the plan is shown in
ALTER TABLE plans ADD COLUMN areas    INTEGER;
ALTER TABLE plans ADD COLUMN heads    INTEGER;
ALTER TABLE plans ADD COLUMN zones    INTEGER;
ALTER TABLE plans ADD COLUMN lot_ft2  REAL;    -- ground within the property line; 0 is none drawn

-- A list reads this and not the table, where a row's documents lie in its way.
CREATE INDEX plans_listed ON plans
  (changed DESC, id, name, rev, sha256, archived, show, areas, heads, zones, lot_ft2);

-- Whole documents of earlier states: what a user names to come back to, what
-- the program keeps unasked, and the frames that a damaged plan is rebuilt
-- from by its patches.
CREATE TABLE points (
  id     INTEGER PRIMARY KEY,
  plan   TEXT    NOT NULL REFERENCES plans (id) ON DELETE CASCADE,
  pos    INTEGER NOT NULL CHECK (pos >= 0), -- number of the step the document is of
  rev    INTEGER NOT NULL,                  -- revision it was kept at
  kind   TEXT    NOT NULL CHECK (kind IN ('named', 'hour', 'dropped', 'before', 'frame')),
  name   TEXT    NOT NULL,
  doc    BLOB    NOT NULL,
  sha256 TEXT    NOT NULL,                  -- of doc
  at     TEXT    NOT NULL                   -- UTC, RFC 3339, when that state came to be
) STRICT;

CREATE INDEX points_of_plan ON points (plan, pos);

-- The patches of version 1 lead from nowhere, as step 0 has none: from here on
-- every plan has at least one whole document beside its own.
INSERT INTO points (plan, pos, rev, kind, name, doc, sha256, at)
SELECT id, pos, rev, 'frame', '', doc, sha256, changed FROM plans;
