-- +goose Up

-- What the file is, so that another program's database is never taken for ours:
-- 0x45564E46 spells EVNF. The version lets an older program refuse a newer file.
PRAGMA application_id = 1163284038;
PRAGMA user_version = 1;

-- The plan as it now stands: one document, rewritten whole by every step.
CREATE TABLE plans (
  id      TEXT    PRIMARY KEY,
  rev     INTEGER NOT NULL CHECK (rev >= 1), -- counts every step, undo and redo
  pos     INTEGER NOT NULL CHECK (pos >= 0), -- number of the last step in force
  name    TEXT    NOT NULL,                  -- the document's name, for the list
  doc     BLOB    NOT NULL,                  -- canonical JSON
  sha256  TEXT    NOT NULL,                  -- of doc
  changed TEXT    NOT NULL                   -- UTC, RFC 3339
) STRICT;

-- The history, one line: number 0 is the making of the plan; numbers above
-- plans.pos were undone and can be done again until a new step drops them.
CREATE TABLE steps (
  plan    TEXT    NOT NULL REFERENCES plans (id) ON DELETE CASCADE,
  pos     INTEGER NOT NULL CHECK (pos >= 0),
  rev     INTEGER NOT NULL,
  patch   BLOB    NOT NULL, -- RFC 7396, from the step before to this
  inverse BLOB    NOT NULL, -- RFC 7396, from this back to the step before
  label   TEXT    NOT NULL,
  sha256  TEXT    NOT NULL, -- of the document after the step
  at      TEXT    NOT NULL, -- UTC, RFC 3339
  PRIMARY KEY (plan, pos)
) STRICT, WITHOUT ROWID;

-- Larger things a plan refers to by checksum, such as a photograph to trace.
CREATE TABLE blobs (
  sha256 TEXT PRIMARY KEY,
  type   TEXT NOT NULL,
  bytes  BLOB NOT NULL
) STRICT;

CREATE TABLE meta (
  key   TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
