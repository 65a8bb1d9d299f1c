"""The tables by which several tablets share one season, in SQL. Reading this loads nothing."""

# Version 9: what is put right of players, the catalogue and practices on several tablets. The tables of these
# have what is in force; `edit` has every value that a field ever had, with the clock by which the last one
# is found (see `store/edits.py`), and only grows. Definitions are told apart by clock and tablet: two tablets
# may both begin the second series of a skill. What a season sets out from has the version as its clock.
PACKS = """
CREATE TABLE edit (
    kind        TEXT NOT NULL,          -- the table that has what is in force
    key         TEXT NOT NULL,          -- of the row there, as a JSON list
    field       TEXT NOT NULL,
    clock       INTEGER NOT NULL,       -- ms; later than that of every value that was known when it was made
    tablet      TEXT NOT NULL,
    value       TEXT NOT NULL,          -- the columns of the field, as a JSON list
    PRIMARY KEY (kind, key, field, clock, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE lost_edit (                -- what a join has found outdone by somebody who did not know of it
    kind        TEXT NOT NULL,
    key         TEXT NOT NULL,
    field       TEXT NOT NULL,
    clock       INTEGER NOT NULL,
    tablet      TEXT NOT NULL,
    value       TEXT NOT NULL,
    PRIMARY KEY (kind, key, field, clock, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE begun (                    -- a practice that a tablet began, without knowing of another one
    clock       INTEGER NOT NULL,
    tablet      TEXT NOT NULL,
    prefers     TEXT NOT NULL,          -- the key that it had there
    at          INTEGER,                -- moment, by the clock of the tablet; NULL when it is not known
    practice    TEXT NOT NULL REFERENCES practice (key),    -- which it is, of all that are known
    PRIMARY KEY (clock, tablet, prefers)
) STRICT, WITHOUT ROWID;
CREATE INDEX begun_practice ON begun (practice);

CREATE TABLE erased (                   -- players who are never to come back; it only grows
    player      BLOB PRIMARY KEY CHECK (length(player) = 16)
) STRICT, WITHOUT ROWID;

CREATE TABLE foreign_fact (             -- of a newer evaltrack: kept as it came, and passed on
    line        TEXT PRIMARY KEY
) STRICT, WITHOUT ROWID;

ALTER TABLE definition ADD COLUMN clock INTEGER NOT NULL DEFAULT 0;
ALTER TABLE definition ADD COLUMN tablet TEXT NOT NULL DEFAULT '';
UPDATE definition SET clock = version;
"""
