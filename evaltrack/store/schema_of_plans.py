"""The tables for plans of practices, in SQL. Reading this loads nothing."""

# Version 7: plans of practices. They only grow: what is changed of a plan is a plan of its own, and the last
# one is in force. Steps and skills are named by their keys, and may be gone from the catalogue by now.
PRACTICE_PLANS = """
CREATE TABLE practice_plan (
    nth         INTEGER NOT NULL,       -- from 1 in the file; a later one has a higher number
    tablet      TEXT NOT NULL,
    day         TEXT NOT NULL,          -- for which it is meant
    ice_time    TEXT NOT NULL,          -- the uid of the one that it is for; empty for none
    practice    TEXT NOT NULL,          -- the key of the one that was started from it; empty before that
    minutes     INTEGER NOT NULL CHECK (minutes BETWEEN 1 AND 600),
    stations    INTEGER NOT NULL,
    coaches     INTEGER NOT NULL,
    surface     TEXT NOT NULL CHECK (surface IN ('full', 'half', 'cross')),
    grouping    TEXT NOT NULL CHECK (grouping IN ('need', 'mixed', 'alike')),
    band_low    INTEGER NOT NULL,       -- percent of tries that are to come off in a step
    band_high   INTEGER NOT NULL,
    at          INTEGER NOT NULL,
    PRIMARY KEY (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_block (
    nth         INTEGER NOT NULL,
    tablet      TEXT NOT NULL,
    place       INTEGER NOT NULL,       -- from 0, in order of time
    part        TEXT NOT NULL CHECK (part IN
                ('warm_up', 'board', 'station', 'own', 'changeover', 'together')),
    minutes     INTEGER NOT NULL,
    drill       TEXT NOT NULL,          -- empty where there is none
    step        TEXT NOT NULL,
    skills      TEXT NOT NULL,          -- keys, separated by blanks
    watch       TEXT NOT NULL,          -- the skill for the observer; empty for none
    why         TEXT NOT NULL,
    pace        TEXT NOT NULL,
    fewest      REAL NOT NULL,          -- tries that each player can expect
    most        REAL NOT NULL,
    locked      INTEGER NOT NULL CHECK (locked IN (0, 1)),
    PRIMARY KEY (nth, tablet, place),
    FOREIGN KEY (nth, tablet) REFERENCES practice_plan (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_station (
    nth         INTEGER NOT NULL,
    tablet      TEXT NOT NULL,
    station     INTEGER NOT NULL,       -- from 0
    drill       TEXT NOT NULL,
    step        TEXT NOT NULL,
    PRIMARY KEY (nth, tablet, station),
    FOREIGN KEY (nth, tablet) REFERENCES practice_plan (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_place (
    nth         INTEGER NOT NULL,
    tablet      TEXT NOT NULL,
    player      BLOB NOT NULL REFERENCES player (id),
    station     INTEGER NOT NULL,       -- from 0: where the player begins
    locked      INTEGER NOT NULL CHECK (locked IN (0, 1)),
    PRIMARY KEY (nth, tablet, player),
    FOREIGN KEY (nth, tablet) REFERENCES practice_plan (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_look (
    nth         INTEGER NOT NULL,
    tablet      TEXT NOT NULL,
    place       INTEGER NOT NULL,       -- the order in which to look
    block       INTEGER NOT NULL,
    player      BLOB NOT NULL REFERENCES player (id),
    why         TEXT NOT NULL,
    PRIMARY KEY (nth, tablet, place),
    FOREIGN KEY (nth, tablet) REFERENCES practice_plan (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE ice_time (                 -- of the calendar: of each uid the last word is in force
    nth         INTEGER NOT NULL,       -- from 1 in the file
    tablet      TEXT NOT NULL,
    uid         TEXT NOT NULL,
    day         TEXT NOT NULL,
    start       TEXT NOT NULL,          -- such as 18:30, where the rink is; empty when it is not known
    minutes     INTEGER NOT NULL,
    surface     TEXT NOT NULL CHECK (surface IN ('full', 'half', 'cross')),
    place       TEXT NOT NULL,
    dropped     INTEGER NOT NULL CHECK (dropped IN (0, 1)),
    at          INTEGER NOT NULL,
    PRIMARY KEY (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_reason (              -- a skill to train and why; without a skill a remark on the whole
    nth         INTEGER NOT NULL,
    tablet      TEXT NOT NULL,
    place       INTEGER NOT NULL,
    skill       TEXT NOT NULL,
    words       TEXT NOT NULL,
    PRIMARY KEY (nth, tablet, place),
    FOREIGN KEY (nth, tablet) REFERENCES practice_plan (nth, tablet)
) STRICT, WITHOUT ROWID;
"""
