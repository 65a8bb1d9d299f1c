"""What a season file knows of its own life, in SQL. Reading this loads nothing."""

# What is said of the season as a whole. It only grows: of each field the last fact is in force.
SEASON_FACTS = """
CREATE TABLE season_fact (
    nth         INTEGER NOT NULL,       -- a later one has a higher number
    tablet      TEXT NOT NULL,
    field       TEXT NOT NULL CHECK (field IN ('keep_until', 'closed')),
    value       TEXT NOT NULL,          -- a day
    at          INTEGER NOT NULL,
    PRIMARY KEY (nth, tablet)
) STRICT, WITHOUT ROWID;
"""

# ... and what the staff wrote of a player, such as the standing at the end of the season before. It only
# grows: of each player the last words are in force, and empty ones take them away.
PLAYER_COMMENTS = """
CREATE TABLE player_comment (
    nth         INTEGER NOT NULL,       -- a later one has a higher number
    tablet      TEXT NOT NULL,
    player      BLOB NOT NULL REFERENCES player (id),
    words       TEXT NOT NULL,
    at          INTEGER NOT NULL,
    PRIMARY KEY (nth, tablet)
) STRICT, WITHOUT ROWID;
"""
