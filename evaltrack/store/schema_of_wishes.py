"""The table for wishes about groups, and whether a step has contact, in SQL. Reading this loads nothing."""

# What was wished of two players when a plan was made, and whether that asked for anything on its
# day. A step may say that it has contact, or none; NULL is as its slots meet.
WISHES_AND_CONTACT = """
CREATE TABLE plan_wish (
    nth         INTEGER NOT NULL,
    tablet      TEXT NOT NULL,
    place       INTEGER NOT NULL,
    kind        TEXT NOT NULL CHECK (kind IN ('together', 'apart', 'not_again')),
    player      BLOB NOT NULL REFERENCES player (id),
    other       BLOB NOT NULL REFERENCES player (id),
    binds       INTEGER NOT NULL CHECK (binds IN (0, 1)),
    why         TEXT NOT NULL,          -- it could not be met; empty for one that is
    PRIMARY KEY (nth, tablet, place),
    FOREIGN KEY (nth, tablet) REFERENCES practice_plan (nth, tablet)
) STRICT, WITHOUT ROWID;

ALTER TABLE step ADD COLUMN contact INTEGER CHECK (contact IN (0, 1));
"""
