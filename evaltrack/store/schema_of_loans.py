"""The table by which a season file is known as a loan, in SQL. Reading this loads nothing."""

# It has no row in a season file of one's own. It stays with the file wherever that is copied or opened, and
# goes into no pack.
LOANS = """
CREATE TABLE loan (
    one         INTEGER PRIMARY KEY CHECK (one = 1),
    id          BLOB NOT NULL CHECK (length(id) = 16),
    lent_at     INTEGER NOT NULL,       -- moment, by the clock of the tablet that lent it
    last_day    TEXT NOT NULL,          -- on which it takes tallies
    names       TEXT NOT NULL CHECK (names IN ('first', 'none')),
    latest      INTEGER NOT NULL        -- moment: the latest that any clock has said here
) STRICT;
"""
