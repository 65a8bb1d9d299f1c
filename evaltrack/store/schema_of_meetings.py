"""The tables for meetings with the families, in SQL. Reading this loads nothing."""

# Meetings. They only grow, as plans do: what is changed of an evening is a row of its own with all that
# belongs to it, and of those with one key the last one is in force.
MEETINGS = """
CREATE TABLE meeting_evening (
    nth         INTEGER NOT NULL,       -- from 1 in the file; a later one has a higher number
    tablet      TEXT NOT NULL,
    evening     TEXT NOT NULL,          -- the key, the same through all changes
    day         TEXT NOT NULL,
    start       TEXT NOT NULL,          -- such as 18:00, by the clock on the wall
    minutes     INTEGER NOT NULL CHECK (minutes BETWEEN 1 AND 600),
    tables      INTEGER NOT NULL CHECK (tables BETWEEN 1 AND 100),
    breaks      TEXT NOT NULL,          -- such as 19:00-19:10, separated by blanks
    until       TEXT NOT NULL,          -- empty for as long as it takes
    place       TEXT NOT NULL,
    at          INTEGER NOT NULL,
    PRIMARY KEY (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE meeting_wish (
    nth         INTEGER NOT NULL,
    tablet      TEXT NOT NULL,
    place       INTEGER NOT NULL,       -- from 0: of wishes that cannot all be met the later ones give way
    kind        TEXT NOT NULL CHECK (kind IN
                ('not before', 'not after', 'at', 'table', 'sibling', 'not with', 'not coming')),
    player      BLOB NOT NULL REFERENCES player (id),
    other       BLOB REFERENCES player (id),
    value       TEXT NOT NULL,          -- a time or a table; empty where there is none
    PRIMARY KEY (nth, tablet, place),
    FOREIGN KEY (nth, tablet) REFERENCES meeting_evening (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE meeting_slot (
    nth         INTEGER NOT NULL,
    tablet      TEXT NOT NULL,
    player      BLOB NOT NULL REFERENCES player (id),
    start       TEXT NOT NULL,
    at_table    INTEGER NOT NULL,       -- from 1
    locked      INTEGER NOT NULL CHECK (locked IN (0, 1)),
    uid         TEXT NOT NULL,          -- of the entry in calendars, made by chance, always the same
    PRIMARY KEY (nth, tablet, player),
    FOREIGN KEY (nth, tablet) REFERENCES meeting_evening (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE meeting_came (             -- who came: of each family and evening the last word is in force
    nth         INTEGER NOT NULL,       -- from 1 in the file
    tablet      TEXT NOT NULL,
    evening     TEXT NOT NULL,
    player      BLOB NOT NULL REFERENCES player (id),
    came        INTEGER NOT NULL CHECK (came IN (0, 1)),
    at          INTEGER NOT NULL,
    PRIMARY KEY (nth, tablet)
) STRICT, WITHOUT ROWID;
"""
