-- A season file of version 1, as evaltrack wrote it until November 2026. Frozen: the files are out there.
CREATE TABLE season (
    one         INTEGER PRIMARY KEY CHECK (one = 1),
    id          BLOB NOT NULL,
    team        TEXT NOT NULL,
    age_class   TEXT NOT NULL,
    created_at  INTEGER NOT NULL
) STRICT;

CREATE TABLE player (
    id          BLOB PRIMARY KEY,
    number      TEXT NOT NULL UNIQUE CHECK (number <> '' AND number NOT GLOB '*[^0-9]*'),
    name        TEXT NOT NULL,
    position    TEXT NOT NULL CHECK (position IN ('D', 'F', 'G')),
    birth_year  INTEGER,
    status      TEXT NOT NULL CHECK (status IN ('full', 'limited', 'away'))
) STRICT, WITHOUT ROWID;

CREATE TABLE observer (
    name        TEXT PRIMARY KEY
) STRICT, WITHOUT ROWID;

CREATE TABLE skill (
    key         TEXT PRIMARY KEY,
    place       INTEGER NOT NULL,       -- order in the catalogue
    name        TEXT NOT NULL,
    positions   TEXT NOT NULL,          -- letters of the position groups, such as 'DF'
    caption     TEXT NOT NULL,
    looks_like  TEXT NOT NULL,
    at_home     TEXT NOT NULL,          -- one suggestion a line
    target      REAL NOT NULL CHECK (target > 0 AND target < 1),
    version     INTEGER NOT NULL        -- of the definition in force
) STRICT, WITHOUT ROWID;

CREATE TABLE definition (
    skill       TEXT NOT NULL REFERENCES skill (key),
    version     INTEGER NOT NULL,
    starts      TEXT NOT NULL,
    done        TEXT NOT NULL,
    missed      TEXT NOT NULL,
    not_counted TEXT NOT NULL,
    since       INTEGER NOT NULL,       -- moment
    PRIMARY KEY (skill, version)
) STRICT, WITHOUT ROWID;

CREATE TABLE drill (
    key         TEXT PRIMARY KEY,
    place       INTEGER NOT NULL,
    name        TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE step (
    drill       TEXT NOT NULL REFERENCES drill (key),
    key         TEXT NOT NULL,
    place       INTEGER NOT NULL,       -- easy to hard
    name        TEXT NOT NULL,
    PRIMARY KEY (drill, key)
) STRICT, WITHOUT ROWID;

CREATE TABLE slot (
    drill       TEXT NOT NULL,
    step        TEXT NOT NULL,
    key         TEXT NOT NULL,
    place       INTEGER NOT NULL,
    name        TEXT NOT NULL,
    position    TEXT NOT NULL,
    next        TEXT,                   -- the slot its player goes to, NULL for out
    skills      TEXT NOT NULL,          -- keys of the skills worth watching, separated by blanks
    PRIMARY KEY (drill, step, key),
    FOREIGN KEY (drill, step) REFERENCES step (drill, key)
) STRICT, WITHOUT ROWID;

CREATE TABLE practice (
    key         TEXT PRIMARY KEY,       -- the date, or the date and '.2'
    held_on     TEXT NOT NULL,
    surface     TEXT NOT NULL CHECK (surface IN ('full', 'half', 'cross')),
    started_at  INTEGER,
    ended_at    INTEGER                 -- NULL while it runs, and for practices that were loaded
) STRICT, WITHOUT ROWID;

CREATE TABLE attendance (
    practice    TEXT NOT NULL REFERENCES practice (key),
    player      BLOB NOT NULL REFERENCES player (id),
    here        INTEGER NOT NULL CHECK (here IN (0, 1)),
    place       INTEGER NOT NULL,       -- of his tile on the board
    at          INTEGER NOT NULL,
    PRIMARY KEY (practice, player)
) STRICT, WITHOUT ROWID;

CREATE TABLE station (                  -- what a tablet watches from a moment on
    practice    TEXT NOT NULL REFERENCES practice (key),
    tablet      TEXT NOT NULL,
    at          INTEGER NOT NULL,
    drill       TEXT NOT NULL,
    step        TEXT NOT NULL,
    skill       TEXT NOT NULL REFERENCES skill (key),
    observer    TEXT NOT NULL REFERENCES observer (name),
    pressure    INTEGER NOT NULL CHECK (pressure IN (0, 1)),
    FOREIGN KEY (drill, step) REFERENCES step (drill, key)
) STRICT;
CREATE INDEX station_latest ON station (practice, tablet, at);

CREATE TABLE rep (
    id          BLOB PRIMARY KEY,
    practice    TEXT NOT NULL REFERENCES practice (key),
    drill       TEXT NOT NULL,
    step        TEXT NOT NULL,
    at          INTEGER NOT NULL,
    FOREIGN KEY (drill, step) REFERENCES step (drill, key)
) STRICT, WITHOUT ROWID;

CREATE TABLE rep_slot (
    rep         BLOB NOT NULL REFERENCES rep (id),
    slot        TEXT NOT NULL,
    player      BLOB NOT NULL REFERENCES player (id),
    PRIMARY KEY (rep, slot),
    UNIQUE (rep, player)
) STRICT, WITHOUT ROWID;

CREATE TABLE tally (
    id            BLOB PRIMARY KEY,
    practice      TEXT NOT NULL REFERENCES practice (key),
    player        BLOB NOT NULL REFERENCES player (id),
    skill         TEXT NOT NULL,
    skill_version INTEGER NOT NULL,
    outcome       TEXT NOT NULL CHECK (outcome IN ('done', 'missed', 'unseen')),
    pressure      INTEGER CHECK (pressure IN (0, 1)),
    drill         TEXT NOT NULL,
    step          TEXT NOT NULL,
    observer      TEXT NOT NULL REFERENCES observer (name),
    rep           BLOB REFERENCES rep (id),
    tablet        TEXT NOT NULL,
    at            INTEGER NOT NULL,
    FOREIGN KEY (skill, skill_version) REFERENCES definition (skill, version),
    FOREIGN KEY (drill, step) REFERENCES step (drill, key)
) STRICT, WITHOUT ROWID;
CREATE INDEX tally_cell ON tally
    (skill, skill_version, player, practice, drill, step, pressure, observer, outcome);
CREATE INDEX tally_practice ON tally (practice, tablet);

CREATE TABLE withdrawal (               -- of a tally that may still be on its way from another tablet
    tally       BLOB PRIMARY KEY,
    tablet      TEXT NOT NULL,
    at          INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
);
CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");
INSERT INTO "_sqlite_migrations"
    VALUES (1, 'evaltrack', 'create_season_tables', '2026-11-25 14:31:30.393714+00:00');
PRAGMA application_id = 0x45565431;
PRAGMA user_version = 1;
