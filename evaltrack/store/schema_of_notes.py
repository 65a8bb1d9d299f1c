"""The tables for families' pages, in SQL. Reading this loads nothing."""

# What was done to the families' pages. They only grow: of each field the last fact that is in
# force holds, so that every change can be seen and taken back. A page is named by its player and the day up
# to which it counts. Sentences and skills are named by their keys, and may be gone by now.
FAMILY_NOTES = """
CREATE TABLE note_fact (
    nth         INTEGER NOT NULL,       -- from 1 in the file; a later one has a higher number
    tablet      TEXT NOT NULL,
    player      BLOB NOT NULL REFERENCES player (id),
    as_of       TEXT NOT NULL,          -- the day up to which the page counts
    field       TEXT NOT NULL,
    about       TEXT NOT NULL,          -- of which sentence, or thing that was agreed; empty for the page
    value       TEXT,                   -- NULL puts back what was drafted
    at          INTEGER NOT NULL,
    PRIMARY KEY (nth, tablet)
) STRICT, WITHOUT ROWID;

CREATE TABLE note_force (               -- the last word on a fact, which is in force without any
    nth         INTEGER NOT NULL,       -- from 1 in the file
    tablet      TEXT NOT NULL,
    fact        INTEGER NOT NULL,
    made_on     TEXT NOT NULL,          -- the tablet of the fact
    in_force    INTEGER NOT NULL CHECK (in_force IN (0, 1)),
    at          INTEGER NOT NULL,
    PRIMARY KEY (nth, tablet),
    FOREIGN KEY (fact, made_on) REFERENCES note_fact (nth, tablet)
) STRICT, WITHOUT ROWID;
"""
