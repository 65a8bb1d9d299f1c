"""The tables for what changes in mid-season, in SQL: roster and catalogue. Reading this loads nothing."""

# Version 5: a roster that changes in mid-season. Who leaves stays in the file, and their number is free for
# another player. `player` has what is in force, `roster_change` every change of it; it only grows. Other
# tables name players, who are missing while this one is made anew.
ROSTER_CHANGES = """
PRAGMA defer_foreign_keys = ON;
CREATE TEMP TABLE known AS SELECT id, number, name, position, birth_year, status FROM player;
DROP TABLE player;
CREATE TABLE player (
    id          BLOB PRIMARY KEY,
    number      TEXT NOT NULL CHECK (number <> '' AND number NOT GLOB '*[^0-9]*'),
    name        TEXT NOT NULL,
    position    TEXT NOT NULL CHECK (position IN ('D', 'F', 'G')),
    birth_year  INTEGER,
    status      TEXT NOT NULL CHECK (status IN ('full', 'limited', 'away', 'left'))
) STRICT, WITHOUT ROWID;
INSERT INTO player SELECT * FROM known;
DROP TABLE known;
CREATE UNIQUE INDEX player_number ON player (number) WHERE status <> 'left';

CREATE TABLE roster_change (
    tablet      TEXT NOT NULL,
    nth         INTEGER NOT NULL,       -- one more than the last one that the file has
    player      BLOB NOT NULL REFERENCES player (id),
    field       TEXT NOT NULL CHECK (field IN ('number', 'name', 'position', 'birth_year', 'status')),
    was         TEXT NOT NULL,          -- empty for none, as the status of one who joins
    becomes     TEXT NOT NULL,
    day         TEXT NOT NULL,          -- from which it holds
    at          INTEGER NOT NULL,
    PRIMARY KEY (tablet, nth)
) STRICT, WITHOUT ROWID;
"""

# ... and a catalogue that changes in mid-season: what is not in use any more keeps its history. The files
# from which skills and drills came are kept for their comments.
CATALOGUE_CHANGES = """
ALTER TABLE skill ADD COLUMN retired INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1));
ALTER TABLE drill ADD COLUMN retired INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1));
ALTER TABLE step ADD COLUMN retired INTEGER NOT NULL DEFAULT 0 CHECK (retired IN (0, 1));

CREATE TABLE catalogue_change (
    tablet      TEXT NOT NULL,
    nth         INTEGER NOT NULL,       -- one more than the last one that the file has
    kind        TEXT NOT NULL CHECK (kind IN ('skill', 'drill')),
    key         TEXT NOT NULL,          -- empty for the order of all
    field       TEXT NOT NULL,
    was         TEXT NOT NULL,
    becomes     TEXT NOT NULL,
    at          INTEGER NOT NULL,
    PRIMARY KEY (tablet, nth)
) STRICT, WITHOUT ROWID;

CREATE TABLE catalogue_text (
    kind        TEXT PRIMARY KEY CHECK (kind IN ('skills', 'drills')),
    text        TEXT NOT NULL
) STRICT, WITHOUT ROWID;
"""

# Version 6: plans of the ice. A step is planned on a surface, a slot may have its own place there: percent of
# the way up from the first goal, and percent across.
PLANS = """
ALTER TABLE step ADD COLUMN surface TEXT NOT NULL DEFAULT 'half' CHECK (surface IN ('full', 'half', 'cross'));
ALTER TABLE slot ADD COLUMN along INTEGER CHECK (along BETWEEN 0 AND 100);
ALTER TABLE slot ADD COLUMN across INTEGER CHECK (across BETWEEN 0 AND 100);
"""

# Version 6: until when a player is away; NULL when that is not known, or they are not away.
AWAY_UNTIL = """
ALTER TABLE player ADD COLUMN away_until TEXT;
"""

# Version 7: the second position group of a player who plays both defence and forward; NULL of all others.
PLAYS_BOTH = """
ALTER TABLE player ADD COLUMN also TEXT CHECK (also IN ('D', 'F'));
"""
